"""What a simulated day says: its end, waiting, fairness, what is left undone, helpers, material."""

from collections.abc import Sequence
from datetime import date, datetime, time, timedelta

from nearmark.contest.day_flow.bands import Band
from nearmark.contest.day_flow.room import Overrun
from nearmark.contest.day_flow.summary import DayBands
from nearmark.words.numbers import percent, plural
from nearmark.words.translation import say, say_count

_UNFAIR_MIN = 1.0
"""Below this the first and the last of a heat are as good as alike."""

_TOO_BUSY = 0.85
"""Share of the time from which on a helper has no break (invented default)."""


def minutes_text(minutes: float) -> str:
    """Minutes to the nearest whole one.

    >>> minutes_text(0.6), minutes_text(6.7)
    ('1 minute', '7 minutes')
    """
    return plural(round(minutes), "minute")


def band_text(band: Band) -> str:
    """A figure in minutes with its band; one number where eight days of ten show the same.

    >>> band_text(Band(6.2, 7.1, 9.4)), band_text(Band(6.8, 7.1, 7.4))
    ('7 minutes (6 to 9)', '7 minutes')
    """
    low, high = round(band.low), round(band.high)
    usual = minutes_text(band.usual)
    return (
        usual if low == high else say("{usual} ({low} to {high})", usual=usual, low=low, high=high)
    )


def kilograms_text(band: Band) -> str:
    """A mass with its band.

    >>> kilograms_text(Band(8.11, 8.46, 8.97)), kilograms_text(Band(0.2, 0.2, 0.2))
    ('8.5 kg (8.1 to 9.0)', '0.2 kg')
    """
    low, usual, high = (f"{value:.1f}" for value in (band.low, band.usual, band.high))
    if low == high:
        return say("{usual} kg", usual=usual)
    return say("{usual} kg ({low} to {high})", usual=usual, low=low, high=high)


def clock_text(start: time, minutes: float) -> str:
    """The time of day, minutes after a start.

    >>> clock_text(time(9), 184.6)
    '12:05'
    """
    any_day = datetime.combine(date(2000, 1, 1), start)
    return f"{any_day + timedelta(minutes=round(minutes)):%H:%M}"


def flow_words(bands: DayBands, start: time | None) -> tuple[str, ...]:
    """The figures of a plan as sentences, the most important first."""
    figures = bands.figures
    return (
        end_words(figures.end_min, start),
        overrun_words(bands),
        wait_words(bands),
        worst_words(bands),
        fair_words(bands),
        helper_words(bands),
        material_words(bands),
    )


def end_words(end_min: Band, start: time | None) -> str:
    """True of a plan: when its last pair leaves; by the clock, if the first start is known.

    >>> end_words(Band(190.1, 202.2, 215.4), time(9)), end_words(Band(150, 150, 150), None)
    ('The day ends between 12:10 and 12:35.', 'The day ends 2 h 30 min after the first start.')
    """
    low, high = (
        clock_text(start, each) if start is not None else _hours_text(each)
        for each in (end_min.low, end_min.high)
    )
    if start is None and low == high:
        return say("The day ends {low} after the first start.", low=low)
    if start is None:
        return say("The day ends {low} to {high} after the first start.", low=low, high=high)
    if low == high:
        return say("The day ends at {low}.", low=low)
    return say("The day ends between {low} and {high}.", low=low, high=high)


def _hours_text(minutes: float) -> str:
    hours, rest = divmod(round(minutes), 60)
    return say("{hours} h {rest:02d} min", hours=hours, rest=rest)


def overrun_words(bands: DayBands) -> str:
    """True of a plan: what becomes of pairs that are not ready: left undone, or a later start."""
    is_in_time = bands.overrun is Overrun.UNDONE
    return done_words(bands) if is_in_time else late_start_words(bands)


def done_words(bands: DayBands) -> str:
    """True of a plan that ends in time: how many come to everything within their minutes."""
    late = bands.figures.late_pairs.usual
    if late < 0.005:
        return say("Every pair comes to every container and box.")
    return say(
        "{late} of the pairs do not come to everything; {share} of the estimates are not made.",
        late=percent(late),
        share=percent(bands.figures.unfinished.usual),
    )


def late_start_words(bands: DayBands) -> str:
    """True of a plan whose heats run over: by how much the next ones start late."""
    late = bands.figures.late_start_min
    if round(late.high) < 1:
        return say("Every pair comes to everything, and every heat starts in time.")
    return say(
        "Every pair comes to everything, but heats run over: one starts {late} late.",
        late=band_text(late),
    )


def wait_words(bands: DayBands) -> str:
    """True of a plan: how long a pair waits, and where."""
    found = bands.figures
    if round(found.wait_min.usual) < 1:
        return say("Pairs hardly wait.")
    if round(found.scoop_wait_min.usual) >= 1:
        return say(
            "A pair waits {all}: {places} for a place, {scale} at the scale, {stops} at containers "
            "and boxes.",
            all=band_text(found.wait_min),
            places=minutes_text(found.scoop_wait_min.usual),
            scale=minutes_text(found.scale_wait_min.usual),
            stops=minutes_text(found.stop_wait_min.usual),
        )
    return say(
        "A pair waits {all}: {scale} at the scale, {stops} at containers and boxes.",
        all=band_text(found.wait_min),
        scale=minutes_text(found.scale_wait_min.usual),
        stops=minutes_text(found.stop_wait_min.usual),
    )


def worst_words(bands: DayBands) -> str:
    """True of a plan: how long those wait who wait longest."""
    worst = band_text(bands.figures.worst_wait_min)
    return say("One pair in twenty waits {worst} or more.", worst=worst)


def fair_words(bands: DayBands) -> str:
    """True of a plan: whether the last of a heat lose more than the first."""
    more = bands.figures.unfair_min.usual
    if more < _UNFAIR_MIN:
        return say("The first and the last of a heat wait alike.")
    return say(
        "Who hands in the cup late in a heat waits {more} longer than who hands it in early.",
        more=minutes_text(more),
    )


def helper_words(bands: DayBands) -> str:
    """True of a plan: how busy the helpers at the scales are."""
    busy = bands.figures.helper_busy.usual
    if busy >= _TOO_BUSY:
        return say(
            "Helpers at the scales are busy {share} of the day: they have no break.",
            share=percent(busy),
        )
    return say("Helpers at the scales are busy {share} of the day.", share=percent(busy))


def material_words(bands: DayBands) -> str:
    """True of a plan: how many cups and kilograms it needs."""
    found = bands.figures
    n, most = round(found.cups.high), kilograms_text(found.place_kg)
    total = kilograms_text(found.scooped_kg)
    if bands.is_returned:
        return say_count(
            "With scoops put back, {n} cup is enough, and {out} is out of the buckets at one time; "
            "all scoops together are {total}.",
            "With scoops put back, {n} cups are enough, and {out} is out of the buckets at one "
            "time; all scoops together are {total}.",
            n,
            out=kilograms_text(found.out_kg),
            total=total,
        )
    return say_count(
        "Scoops are not put back: {n} cup, and {total} are taken; one place gives up to {most}.",
        "Scoops are not put back: {n} cups, and {total} are taken; one place gives up to {most}.",
        n,
        total=total,
        most=most,
    )


def order_words(waits_min: Sequence[Band]) -> tuple[str, ...]:
    """The wait of who hands in the cup first, in the middle and last of a heat.

    >>> order_words([Band(1, 2, 3), Band(3, 4, 5), Band(7, 8, 9)])
    ('First: 2 minutes (1 to 3).', 'Middle: 4 minutes (3 to 5).', 'Last: 8 minutes (7 to 9).')
    """
    middle = waits_min[len(waits_min) // 2]
    return (
        say("First: {wait}.", wait=band_text(waits_min[0])),
        say("Middle: {wait}.", wait=band_text(middle)),
        say("Last: {wait}.", wait=band_text(waits_min[-1])),
    )


def plan_words(minutes: int, gap: int, start: time) -> str:
    """The times of the heats as they are planned.

    >>> plan_words(30, 5, time(9)), plan_words(30, 0, time(9))
    ('heats of 30 minutes, 5 between them, from 09:00', 'heats of 30 minutes, from 09:00')
    """
    first = f"{start:%H:%M}"
    if gap < 0:
        return say(
            "heats of {n} minutes, each {gap} before the end of the last one, from {start}",
            n=minutes,
            gap=-gap,
            start=first,
        )
    if gap:
        return say(
            "heats of {n} minutes, {gap} between them, from {start}",
            n=minutes,
            gap=gap,
            start=first,
        )
    return say("heats of {n} minutes, from {start}", n=minutes, start=first)


def assumed_words() -> str:
    """What every simulated day rests on."""
    return say(
        "Simulated, with the times of a pair that were given. The usual ones are common practice, "
        "no source: your pairs may be quicker or slower, so type your own where you know them."
    )
