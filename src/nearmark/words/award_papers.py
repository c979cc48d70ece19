"""Certificates, the announcer's list and the line for the press."""

from collections.abc import Sequence
from enum import StrEnum
from typing import Final

from nearmark.station import Station
from nearmark.words.numbers import both, capital, either, percent, plural
from nearmark.words.standings import place_name
from nearmark.words.translation import message, say, say_count


class AwardText(StrEnum):
    """One text of the papers after the contest."""

    AWARD = "award"
    PARTICIPATION = "participation"
    ANNOUNCER = "announcer"
    PRESS = "press"
    FOOT_AWARD = "foot_award"
    FOOT_PARTICIPATION = "foot_participation"
    FOOT_ANNOUNCER = "foot_announcer"
    FOOT_PRESS = "foot_press"
    SIGN = "sign"
    DATE = "date"
    READ_OUT = "read_out"
    SAY_IT = "say_it"
    PRESS_RULE = "press_rule"
    NOBODY = "nobody"


_LEAST: Final = 0.001
"""Nearer than this no figure is said."""

_TEXTS: Final = {
    AwardText.AWARD: message("Certificate"),
    AwardText.PARTICIPATION: message("Certificate of participation"),
    AwardText.ANNOUNCER: message("To read out"),
    AwardText.PRESS: message("For the press"),
    AwardText.FOOT_AWARD: message("certificates of award"),
    AwardText.FOOT_PARTICIPATION: message("certificates of participation"),
    AwardText.FOOT_ANNOUNCER: message("announcer's list; keep it face down until it is read"),
    AwardText.FOOT_PRESS: message("for the press; without names"),
    AwardText.SIGN: message("Lead of the day"),
    AwardText.DATE: message("Date"),
    AwardText.READ_OUT: message(
        "Read slowly, from the top. Wait for the applause before the next one. The first place "
        "comes last."
    ),
    AwardText.SAY_IT: message("Ask each pair how its name is said, and write it here:"),
    AwardText.PRESS_RULE: message(
        "No child, pair or school is named. Name one only when family and school have agreed in "
        "writing. Follow your local rules."
    ),
    AwardText.NOBODY: message("Nobody has a place yet."),
}


def award_text(part: AwardText) -> str:
    """A heading or an instruction of the papers after the contest."""
    return say(_TEXTS[part])


def award_texts() -> dict[str, str]:
    """All of them by name, as the templates ask for them.

    >>> award_texts()["award"]
    'Certificate'
    """
    return {part.value: award_text(part) for part in AwardText}


def pair_of(code: str) -> str:
    """A pair on a certificate that names no child.

    >>> pair_of("P07")
    'Pair P07'
    """
    return say("Pair {code}", code=code)


def won_place(place: int, division: str, n_others: int) -> str:
    """What a certificate of award is for.

    >>> won_place(1, "", 0), won_place(2, "grade 3", 1)
    ('First place', 'Second place in grade 3, shared with 1 other pair')
    """
    held = capital(place_name(place))
    if division:
        held = say("{place} in {division}", place=held, division=division)
    if not n_others:
        return held
    return say_count(
        "{held}, shared with {n} other pair",
        "{held}, shared with {n} other pairs",
        n_others,
        held=held,
    )


def took_part(n_estimates: int) -> str:
    """What a certificate of participation is for.

    >>> took_part(6)
    'took part and made 6 estimates by eye, hand and thought'
    """
    return say(
        "took part and made {estimates} by eye, hand and thought",
        estimates=plural(n_estimates, "estimate"),
    )


def draft_words(n_open: int) -> str:
    """True of results with open points: what is printed from them may change."""
    return say_count(
        "Draft: {n} question is still open, the places may change.",
        "Draft: {n} questions are still open, the places may change.",
        n_open,
    )


def announced_place(place: int, n_pairs: int, division: str) -> str:
    """How a place is announced, before who holds it.

    >>> announced_place(3, 1, ""), announced_place(2, 2, "grade 3")
    ('Third place goes to:', 'In grade 3: second place is shared by 2 pairs:')
    """
    name = place_name(place)
    if n_pairs == 1:
        if division:
            return say("In {division}: {place} goes to:", division=division, place=name)
        return say("{place} goes to:", place=capital(name))
    pairs = plural(n_pairs, "pair")
    if division:
        return say(
            "In {division}: {place} is shared by {pairs}:",
            division=division,
            place=name,
            pairs=pairs,
        )
    return say("{place} is shared by {pairs}:", place=capital(name), pairs=pairs)


def pair_from(number: str, school: str) -> str:
    """Who holds a place, by the number of the code and the school.

    >>> pair_from("7", "Otterbrook Mill")
    'pair 7 from Otterbrook Mill'
    """
    return say("pair {number} from {school}", number=number, school=school)


def children_from(names: str, school: str) -> str:
    """Who holds a place, by name, where names were asked for.

    >>> children_from("Ada and Bo", "Otterbrook Mill")
    'Ada and Bo from Otterbrook Mill'
    """
    return say("{names} from {school}", names=names, school=school)


def points_of(total: str, highest: str) -> str:
    """The points of a place, as they are read out.

    >>> points_of("573", "600")
    '573 of 600 points'
    """
    return say("{total} of {highest} points", total=total, highest=highest)


def left_out_places(places: Sequence[int]) -> str:
    """True of places that nobody holds, because a better one is shared.

    >>> left_out_places([2]), left_out_places([2, 3])
    ('There is no second place.', 'There is no second place or third place.')
    """
    return say("There is no {places}.", places=either([place_name(p) for p in places]))


_DONE: Final = {
    Station.MASS: message("scooped {target} g by feel"),
    Station.COUNT: message("estimated how many pieces are in closed containers"),
    Station.VOLUME: message("judged how large boxes are"),
}


def what_was_done(stations: Sequence[Station], target_g: str) -> str:
    """What children did on the day, by the stations that were there.

    >>> what_was_done([Station.MASS, Station.VOLUME], "100")
    'scooped 100 g by feel and judged how large boxes are'
    """
    return both([say(_DONE[station], target=target_g) for station in stations])


def press_lines(
    event: str, day: str, venue: str, came: tuple[int, int, int], done: str
) -> tuple[str, ...]:
    """What may be told of the day, without a name.

    ``came``: pairs, schools and children who took part. ``done``: what they did.
    """
    n_pairs, n_schools, n_children = came
    facts = {
        "event": event,
        "day": day,
        "pairs": plural(n_pairs, "pair"),
        "schools": plural(n_schools, "school"),
        "children": plural(n_children, "child"),
    }
    if venue:
        first = say(
            "{children} in {pairs} from {schools} met at the {event} on {day}, {venue}.",
            venue=venue,
            **facts,
        )
    else:
        first = say("{children} in {pairs} from {schools} met at the {event} on {day}.", **facts)
    return first, say("They {done}: no ruler, no scale, no telephone.", done=done)


def no_answers_yet() -> str:
    """True while nobody's answer is typed in: nothing can be told of the day."""
    return say("No answer is typed in yet: print this after the contest.")


def best_total(total: str, highest: str) -> str:
    """True of the pair with the highest total."""
    return say("The best pair reached {total} of {highest} points.", total=total, highest=highest)


def nearest_answer(share: float) -> str:
    """True of the answer that was least off, as a share of the true value.

    >>> nearest_answer(0), nearest_answer(0.0002)
    ('The nearest estimate of all was exactly right.', \
'The nearest estimate of all was less than 0.1 % off.')
    >>> nearest_answer(0.0123)
    'The nearest estimate of all was 1.2 % off.'
    """
    if not share:
        return say("The nearest estimate of all was exactly right.")
    if share < _LEAST:
        return say(
            "The nearest estimate of all was less than {percent} off.", percent=percent(_LEAST, 1)
        )
    return say("The nearest estimate of all was {percent} off.", percent=percent(share, 1))
