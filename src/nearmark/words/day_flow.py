"""What a simulated day says: waiting, fairness, what is left undone, and which change helps."""

from nearmark.contest.day_flow import Band, Change, ChangeKind, DayBands
from nearmark.contest.day_flow.changes import MIN_GAIN_MINUTES
from nearmark.words.numbers import percent, plural
from nearmark.words.translation import say, say_count

_UNFAIR_MIN = 1.0
"""Below this the first and the last of a heat are as good as alike."""


def minutes_text(minutes: float) -> str:
    """Minutes to the nearest whole one.

    >>> minutes_text(0.6), minutes_text(6.7)
    ('1 minute', '7 minutes')
    """
    return plural(round(minutes), "minute")


def band_text(band: Band) -> str:
    """A figure in minutes with its band; one number where nine days of ten show the same.

    >>> band_text(Band(6.2, 7.1, 9.4)), band_text(Band(6.8, 7.1, 7.4))
    ('7 minutes (6 to 9)', '7 minutes')
    """
    low, high = round(band.low), round(band.high)
    usual = minutes_text(band.usual)
    return (
        usual if low == high else say("{usual} ({low} to {high})", usual=usual, low=low, high=high)
    )


def flow_words(bands: DayBands) -> tuple[str, ...]:
    """The figures of a plan as sentences, the most important first."""
    return wait_words(bands), worst_words(bands), done_words(bands), fair_words(bands)


def wait_words(bands: DayBands) -> str:
    """True of a plan: how long a pair waits, and where."""
    found = bands.figures
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


def done_words(bands: DayBands) -> str:
    """True of a plan: how many come to everything within their minutes."""
    late = bands.figures.late_pairs.usual
    if late < 0.005:
        return say("Every pair comes to every container and box.")
    return say(
        "{late} of the pairs do not come to everything; {share} of the estimates are not made.",
        late=percent(late),
        share=percent(bands.figures.unfinished.usual),
    )


def fair_words(bands: DayBands) -> str:
    """True of a plan: whether the last of a heat lose more than the first."""
    more = bands.figures.unfair_min.usual
    if more < _UNFAIR_MIN:
        return say("The first and the last of a heat wait alike.")
    return say(
        "Who hands in the cup late in a heat waits {more} longer than who hands it in early.",
        more=minutes_text(more),
    )


def change_words(change: Change) -> str:
    """A change that was tried: what it saves, or that it saves nothing worth it."""
    what = _change(change)
    if change.gain_min < MIN_GAIN_MINUTES:
        return say("{what}: saves less than a minute.", what=what)
    if not change.is_worth_it:
        return say("{what}: too few days to say what it saves.", what=what)
    saved = say(
        "{what}: saves the pairs that wait longest {n}", what=what, n=minutes_text(change.gain_min)
    )
    if change.more_done >= 0.01:
        saved = say(
            "{saved}, and {p} more of the estimates are made",
            saved=saved,
            p=percent(change.more_done),
        )
    if change.later_min >= 1:
        saved = say(
            "{saved}; the day ends {n} later", saved=saved, n=minutes_text(change.later_min)
        )
    return say("{saved}.", saved=saved)


def _change(change: Change) -> str:
    n = round(change.amount)
    match change.kind:
        case ChangeKind.SCALE:
            return say_count("{n} scale", "{n} scales", n)
        case ChangeKind.COUNT:
            return say_count(
                "Room for {n} pair at each container", "Room for {n} pairs at each container", n
            )
        case ChangeKind.VOLUME:
            return say_count("Room for {n} pair at each box", "Room for {n} pairs at each box", n)
        case ChangeKind.INTERVAL:
            return say("{n} minutes from one start to the next", n=n)
        case ChangeKind.SHORTEST:
            return say("A helper sends each pair to the shortest queue")


def assumed_words() -> str:
    """What every simulated day rests on."""
    return say(
        "Simulated with usual times (2 to 5 minutes to scoop, 3 to 7 at a container, 2 to 6 at a "
        "box). Your pairs may be quicker or slower: type your own times where you know them."
    )
