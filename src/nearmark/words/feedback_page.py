"""What stands on the page of a pair beside its numbers."""

from dataclasses import dataclass
from typing import Final

from nearmark.contest.event import PairStatus
from nearmark.words.translation import message, say

_STATUS: Final = {
    PairStatus.ENTERED: message("alone"),
    PairStatus.ABSENT: message("absent"),
    PairStatus.GUEST: message("guest"),
    PairStatus.WITHDRAWN: message("withdrawn"),
}


@dataclass(frozen=True, slots=True)
class FeedbackWords:
    """The fixed words of the printed feedback pages."""

    title: str
    footer: str
    you: str  # in front of what the pair wrote
    key: str  # in front of the true value
    legend: str  # under the strips


def feedback_words(event: str, rules: str) -> FeedbackWords:
    """On every page of printed feedback."""
    return FeedbackWords(
        title=say("Feedback, {event}", event=event),
        footer=say("{event} · feedback · rule set {rules}", event=event, rules=rules),
        you=say("you"),
        key=say("key"),
        legend=say(
            "On each ruler: the diamond is you, the short strokes are the other pairs, the tint is "
            "90 % to 110 % of the key, an arrow means less than half or more than double."
        ),
    )


def out_of(highest: str) -> str:
    """Behind the points of a pair: the most that there are."""
    return say("of {highest} points", highest=highest)


def with_points(points: str) -> str:
    """The points of one answer."""
    return say("{points} points", points=points)


def no_estimate() -> str:
    """True of an answer without a number that counts."""
    return say("no estimate")


def own_mark() -> str:
    """Beside the mark of the reader on a strip."""
    return say("you")


def place_of(place: str, n_placed: int) -> str:
    """True of a pair that holds a place alone."""
    return say("{place} of {n}", place=place, n=n_placed)


def shared_place_of(place: str, n_placed: int) -> str:
    """True of a pair that shares its place."""
    return say("shared {place} of {n}", place=place, n=n_placed)


def not_placed(status: PairStatus) -> str:
    """True of a pair that takes no place."""
    return say("{status}, not placed", status=status_of_pair(status))


def status_of_pair(status: PairStatus) -> str:
    """What a pair is that takes no place; the second child of one that entered is missing."""
    return say(_STATUS[status])


def page_of_pages() -> str:
    """At the foot of a printed page; the numbers are filled in as the page is set."""
    return say("page {page} of {pages}", page="{page}", pages="{pages}")
