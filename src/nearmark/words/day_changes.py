"""What a cheap change of a plan saves, or that it saves nothing."""

from collections.abc import Callable, Sequence
from typing import Final

from nearmark.contest.day_flow.changes import Change, ChangeKind
from nearmark.words.day_flow import minutes_text
from nearmark.words.numbers import both, percent
from nearmark.words.translation import say, say_count

_SHOWN_MIN = 5
"""A change of the end of the day that is worth a word, in minutes."""


def changes_head(changes: Sequence[Change]) -> str:
    """True of all changes that were tried: what to do first, or that nothing helps.

    >>> changes_head(())
    'No cheap change saves a pair a minute: keep the plan.'
    """
    if not changes or not changes[0].is_worth_it:
        return say("No cheap change saves a pair a minute: keep the plan.")
    return say("What helps most, in this order; each was tried after those above it.")


def change_words(change: Change) -> str:
    """A change that was tried: what it saves, or that it saves nothing worth it."""
    what = _CHANGED[change.kind](round(change.amount))
    if not change.is_worth_it:
        return _not_worth_it(change, what)
    saved = _saved(change, what)
    if change.later_min >= _SHOWN_MIN:
        saved = say(
            "{saved}; the day ends {n} later", saved=saved, n=minutes_text(change.later_min)
        )
    if change.later_min <= -_SHOWN_MIN:
        saved = say(
            "{saved}; the day ends {n} earlier", saved=saved, n=minutes_text(-change.later_min)
        )
    return say("{saved}.", saved=saved)


def _not_worth_it(change: Change, what: str) -> str:
    is_unclear = change.gain_min >= 1
    return (
        say("{what}: too few days to say what it saves.", what=what)
        if is_unclear
        else say("{what}: saves nothing worth it.", what=what)
    )


def _saved(change: Change, what: str) -> str:
    more = percent(change.more_done)
    if not change.saves_time:
        return say("{what}: {p} more of the estimates are made", what=what, p=more)
    n = minutes_text(change.gain_min)
    saved = say("{what}: saves the pairs that wait longest {n}", what=what, n=n)
    if change.heats:
        heats = _heats(change.heats)
        saved = say("{saved}, most of it in {heats}", saved=saved, heats=heats)
    if change.gets_done:
        saved = say("{saved}, and {p} more of the estimates are made", saved=saved, p=more)
    return saved


def _heats(numbers: Sequence[int]) -> str:
    if len(numbers) > 2 and numbers[-1] - numbers[0] == len(numbers) - 1:
        return say("heats {first} to {last}", first=numbers[0], last=numbers[-1])
    names = both([str(number) for number in numbers])
    return say_count("heat {numbers}", "heats {numbers}", len(numbers), numbers=names)


_CHANGED: Final[dict[ChangeKind, Callable[[int], str]]] = {
    ChangeKind.HELPER: lambda n: say_count(
        "{n} helper at the scales", "{n} helpers at the scales", n
    ),
    ChangeKind.SCALE: lambda n: say_count(
        "{n} scale, and a helper more with it", "{n} scales, and a helper more with it", n
    ),
    ChangeKind.COUNT: lambda n: say_count(
        "Room for {n} pair at each container", "Room for {n} pairs at each container", n
    ),
    ChangeKind.VOLUME: lambda n: say_count(
        "Room for {n} pair at each box", "Room for {n} pairs at each box", n
    ),
    ChangeKind.SHORTEST: lambda _: say("A helper sends each pair to the shortest queue"),
    ChangeKind.MINUTES: lambda n: say("{n} minutes for each pair", n=n),
    ChangeKind.INTERVAL: lambda n: say("{n} minutes from one start to the next", n=n),
}
