"""What a room is shown: its middle, its spread, its points and its games, by number of seat."""

from collections.abc import Sequence
from typing import Final

from nearmark.coaching.room import MiddleResult, Spread, middle_of
from nearmark.coaching.room_games import Relay
from nearmark.words.deviations import error_words
from nearmark.words.numbers import both
from nearmark.words.translation import say, say_count

MAX_SEATS_NAMED: Final = 8
"""More seats than these in one line are only counted."""

FEW: Final = 4
"""Fewer guesses of one person are no habit."""


def seats_words(seats: Sequence[int]) -> str:
    """Some seats by their numbers.

    >>> seats_words([4]), seats_words([1, 7, 9])
    ('seat 4', 'seats 1, 7 and 9')
    """
    if len(seats) == 1:
        return say("seat {number}", number=seats[0])
    if len(seats) > MAX_SEATS_NAMED:
        return say("{n} seats", n=len(seats))
    return say("seats {numbers}", numbers=both([str(seat) for seat in seats]))


def seat_title(number: int) -> str:
    """A seat of the room, as a headline."""
    return say("Seat {number}", number=number)


def guessed_words(n: int, n_here: int) -> str:
    """How many of the room have guessed.

    >>> guessed_words(7, 12)
    '7 of 12 have guessed'
    """
    return say("{n} of {all} have guessed", n=n, all=n_here)


def joined_words(n: int) -> str:
    """How many have joined."""
    return say_count("{n} has joined", "{n} have joined", n)


def spread_words(spread: Spread, low: str, middle: str, high: str) -> str:
    """Where the guesses lie, once nobody can guess any more.

    ``low``, ``middle``, ``high``: the lowest guess, the middle and the highest guess, with their
    unit.

    >>> spread_words(Spread(12, 200, 350, 402, 480, 900), "200", "402", "900")
    'The middle of 12 guesses is 402. The lowest is 200, the highest 900.'
    >>> spread_words(Spread(1, 402, 402, 402, 402, 402), "402", "402", "402")
    'One guess: 402.'
    """
    if spread.n == 1:
        return say("One guess: {guess}.", guess=middle)
    return say(
        "The middle of {n} guesses is {middle}. The lowest is {low}, the highest {high}.",
        n=spread.n,
        middle=middle,
        low=low,
        high=high,
    )


def half_words(spread: Spread, true: float) -> str:
    """Between what the middle half of a room lies; empty for a room that is too small.

    >>> half_words(Spread(12, 200, 350, 402, 480, 900), 420)
    'Half of the room lies from 17 % low to 14 % high.'
    """
    if spread.n < 4:
        return ""
    return say(
        "Half of the room lies from {low} to {high}.",
        low=error_words(spread.quarter / true),
        high=error_words(spread.three_quarters / true),
    )


def middle_words(found: MiddleResult) -> str:
    """How good the middle of a room is.

    Examples
    --------
    >>> middle_words(MiddleResult(0.957, 95.7, 12, 9, 71.2))
    'The middle of the room: 4 % low, 96 points. It is closer than 9 of 12 guesses; one guess \
brings 71 points on average.'
    >>> middle_words(MiddleResult(0.957, 95.7, 1, 0, 95.7))
    'One guess: 4 % low, 96 points.'
    """
    off, points = error_words(found.ratio), f"{found.points:.0f}"
    if found.n == 1:
        return say("One guess: {off}, {points} points.", off=off, points=points)
    return say(
        "The middle of the room: {off}, {points} points. It is closer than {n} of {all} guesses; "
        "one guess brings {mean} points on average.",
        off=off,
        points=points,
        n=found.n_beaten,
        all=found.n,
        mean=f"{found.mean_points:.0f}",
    )


def total_words(points: float, most: float) -> str:
    """What a room has together.

    >>> total_words(934.2, 1200)
    'Together: 934 of 1200 points.'
    """
    return say("Together: {points} of {most} points.", points=f"{points:.0f}", most=f"{most:.0f}")


def bests_words(seats: Sequence[int]) -> str:
    """Who is better than ever before; empty for nobody.

    >>> bests_words([3, 7]), bests_words([])
    ('A personal best: seats 3 and 7.', '')
    """
    if not seats:
        return ""
    return say("A personal best: {seats}.", seats=seats_words(seats))


def closest_words(table: int, seats: Sequence[int]) -> str:
    """Who is closest at a table, or in the room.

    >>> closest_words(2, [5]), closest_words(0, [5, 6])
    ('Closest at table 2: seat 5.', 'Closest in the room: seats 5 and 6.')
    """
    if table:
        return say("Closest at table {table}: {seats}.", table=table, seats=seats_words(seats))
    return say("Closest in the room: {seats}.", seats=seats_words(seats))


def relay_words(relays: Sequence[Relay], place: int) -> str:
    """The pair that alone leads the relay after so many things; empty while none does.

    ``relays``: the one with most points first.

    >>> relay_words([Relay((3, 8), 181.0), Relay((1, 2), 160.0)], 2)
    'Relay of pairs, ahead: seats 3 and 8, 181 of 200 points.'
    >>> relay_words([Relay((3, 8), 0.0), Relay((1, 2), 0.0)], 1)
    ''
    """
    first, others = relays[:1], relays[1:2]
    if not first or first[0].points <= (others[0].points if others else 0):
        return ""
    return say(
        "Relay of pairs, ahead: {seats}, {points} of {most} points.",
        seats=seats_words(first[0].seats),
        points=f"{first[0].points:.0f}",
        most=100 * place,
    )


def turn_words(partner: int, counts: int) -> str:
    """Whose guess counts in the relay of pairs, said to one of the two.

    ``partner``, ``counts``: seat of the other one, and seat whose guess counts.

    >>> turn_words(8, 3)
    'Relay with seat 8: your guess counts for both now.'
    >>> turn_words(8, 8)
    'Relay with seat 8: the guess of seat 8 counts for both now.'
    """
    if counts != partner:
        return say("Relay with seat {seat}: your guess counts for both now.", seat=partner)
    return say(
        "Relay with seat {seat}: the guess of seat {seat} counts for both now.", seat=partner
    )


def layer_off_words(number: int, n_layers: int, n_pieces: int, n_so_far: int) -> str:
    """What the layer that was just taken off holds.

    >>> layer_off_words(3, 11, 28, 83)
    'Layer 3 of 11: 28 pieces. So far 83.'
    """
    return say(
        "Layer {number} of {all}: {pieces} pieces. So far {sum}.",
        number=number,
        all=n_layers,
        pieces=n_pieces,
        sum=n_so_far,
    )


def one_layer_words(n_pieces: str) -> str:
    """What one layer holds, of a jar on the table."""
    return say("One layer: {pieces} pieces.", pieces=n_pieces)


def layers_words(n_layers: str) -> str:
    """How many layers there are, of a jar on the table."""
    return say("{layers} layers.", layers=n_layers)


def side_revealed_words(number: int, cm: str) -> str:
    """One side of a box; first, second, third."""
    return say("Side {number}: {cm} cm.", number=number, cm=cm)


def truth_words(true: str) -> str:
    """The true value, at the end of a reveal."""
    return say("The true value: {true}.", true=true)


def asked_mass_words(grams: str) -> str:
    """What was to be scooped."""
    return say("Asked for: {grams}.", grams=grams)


def own_words(ratios: Sequence[float]) -> str:
    """How one person read, said to this person at the end.

    ``ratios``: guess / true value, one a thing; one or more.

    >>> own_words([0.8, 0.92, 1.1])
    'Low: 2 of your 3 guesses. Their middle is 8 % low. Few guesses: a first hint, no habit yet.'
    >>> own_words([0.8, 0.9, 1.2, 1.3])
    'Low: 2 of your 4 guesses, high: 2. Their middle is 4 % high.'
    """
    n, off = len(ratios), error_words(middle_of(ratios))
    n_low = sum(ratio < 1 for ratio in ratios)
    n_high = sum(ratio > 1 for ratio in ratios)
    if n == 1:
        said = say("Your one guess is {off}.", off=off)
    elif n_low > n_high:
        said = say(
            "Low: {n_low} of your {n} guesses. Their middle is {off}.", n_low=n_low, n=n, off=off
        )
    elif n_high > n_low:
        said = say(
            "High: {n_high} of your {n} guesses. Their middle is {off}.",
            n_high=n_high,
            n=n,
            off=off,
        )
    else:
        said = say(
            "Low: {n_low} of your {n} guesses, high: {n_high}. Their middle is {off}.",
            n_low=n_low,
            n_high=n_high,
            n=n,
            off=off,
        )
    return f"{said} {_few_words()}" if n < FEW else said


def _few_words() -> str:
    return say("Few guesses: a first hint, no habit yet.")
