"""After the contest: certificates of award and participation, what is read out, a line for papers.

Names of children only by choice; a code is enough everywhere.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from nearmark.contest.awards import Award, DivisionAwards, awards
from nearmark.contest.event import Pair
from nearmark.contest.results import PairResult, Results
from nearmark.contest.scoring import points_text
from nearmark.printing.typesetting import typeset
from nearmark.printing.words import day_text, members_text, number_text, wrappable
from nearmark.station import Station
from nearmark.words.award_papers import (
    AwardText,
    announced_place,
    award_text,
    award_texts,
    best_total,
    children_from,
    draft_words,
    left_out_places,
    nearest_answer,
    no_answers_yet,
    pair_from,
    pair_of,
    points_of,
    press_lines,
    took_part,
    what_was_done,
    won_place,
)

MAX_NAME: Final = 60


@dataclass(frozen=True, slots=True)
class CertificateLine:
    """One certificate."""

    name: str  # of the child, or of the pair where no names are wanted
    school: str
    what: str


@dataclass(frozen=True, slots=True)
class CertificatesView:
    """All certificates of one kind, ready to be set."""

    event: str
    day: str
    venue: str
    words: dict[str, str]
    title: str
    foot: str
    lines: tuple[CertificateLine, ...]
    draft: str  # empty: nothing is open


@dataclass(frozen=True, slots=True)
class Announced:
    """One place as it is read out."""

    call: str
    who: tuple[str, ...]
    points: str
    note: str  # a place that is left out; empty: none is


@dataclass(frozen=True, slots=True)
class AnnouncerView:
    """The announcer's list, ready to be set."""

    event: str
    day: str
    words: dict[str, str]
    places: tuple[Announced, ...]
    draft: str


@dataclass(frozen=True, slots=True)
class PressView:
    """The line for the press, ready to be set."""

    event: str
    day: str
    words: dict[str, str]
    lines: tuple[str, ...]
    draft: str


def award_certificates_pdf(outcome: Results, *, paper: str = "a4", names: bool = False) -> bytes:
    """Set a certificate for each pair that gets an award; with names, one for each child.

    ``paper``: ``a4`` or ``us-letter``. Returns: a PDF; while points are open each page says so.
    """
    lines = tuple(
        CertificateLine(
            name,
            wrappable(pair.school, MAX_NAME),
            won_place(award.place, wrappable(found.division.name, 40), len(award.pairs) - 1),
        )
        for found in awards(outcome)
        for award in found.awards
        for pair in award.pairs
        for name in _names(pair, names=names)
    )
    return _certificates(outcome, AwardText.AWARD, AwardText.FOOT_AWARD, lines, paper)


def participation_pdf(outcome: Results, *, paper: str = "a4", names: bool = False) -> bytes:
    """Set a certificate for each pair of whom an answer is known; with names, one for each child.

    ``paper``: ``a4`` or ``us-letter``.
    """
    lines = tuple(
        CertificateLine(name, wrappable(line.pair.school, MAX_NAME), took_part(n))
        for line in sorted(outcome.pairs, key=lambda line: line.pair.code)
        if (n := _n_estimates(line))
        for name in _names(line.pair, names=names)
    )
    return _certificates(
        outcome, AwardText.PARTICIPATION, AwardText.FOOT_PARTICIPATION, lines, paper
    )


def _certificates(
    outcome: Results,
    title: AwardText,
    foot: AwardText,
    lines: tuple[CertificateLine, ...],
    paper: str,
) -> bytes:
    event = outcome.event
    is_award = title is AwardText.AWARD
    view = CertificatesView(
        event=wrappable(event.name, 120),
        day=day_text(event.day),
        venue=wrappable(event.venue, 120),
        words=award_texts(),
        title=award_text(title),
        foot=award_text(foot),
        lines=lines,
        draft=_draft(outcome) if is_award else "",
    )
    template = "award_certificates" if is_award else "participation"
    return typeset(template, view, day=event.day, paper=paper)


def _n_estimates(line: PairResult) -> int:
    return sum(score.estimate is not None for score in line.items)


def _names(pair: Pair, *, names: bool) -> tuple[str, ...]:
    if names and any(pair.members):
        return tuple(wrappable(name, MAX_NAME) for name in pair.members)
    return (pair_of(wrappable(pair.code, 24)),)


def _draft(outcome: Results) -> str:
    n_open = len(outcome.open_points)
    return draft_words(n_open) if n_open else ""


def announcer_pdf(outcome: Results, *, paper: str = "a4", names: bool = False) -> bytes:
    """Set what is read out, the first place last.

    ``paper``: ``a4`` or ``us-letter``. ``names``: the children's names in place of the number.
    """
    view = announcer_view(outcome, names=names)
    return typeset("announcer", view, day=outcome.event.day, paper=paper)


def announcer_view(outcome: Results, *, names: bool = False) -> AnnouncerView:
    """What is read out, as text."""
    return AnnouncerView(
        event=wrappable(outcome.event.name, 120),
        day=day_text(outcome.event.day),
        words=award_texts(),
        places=tuple(
            place for found in awards(outcome) for place in _announced(outcome, found, names=names)
        ),
        draft=_draft(outcome),
    )


def _announced(outcome: Results, found: DivisionAwards, *, names: bool) -> Iterable[Announced]:
    division = wrappable(found.division.name, 40)
    lines = {line.pair.code: line for line in outcome.pairs}
    for award in found.announced:
        line = lines[award.pairs[0].code]
        # Whole points: nobody listens to decimals.
        total = points_text(line.total, 0)
        highest = points_text(_highest(outcome, line), 0)
        yield Announced(
            announced_place(award.place, len(award.pairs), division),
            tuple(_who(pair, names=names) for pair in award.pairs),
            points_of(total, highest),
            _left_out(award, found),
        )


def _highest(outcome: Results, line: PairResult) -> Fraction:
    asked = {score.item for score in line.items}
    return outcome.highest_total_of([i for i in outcome.event.items if i.code in asked])


def _left_out(award: Award, found: DivisionAwards) -> str:
    last = found.division.awarded_places
    gone = range(award.place + 1, min(award.place + len(award.pairs) - 1, last) + 1)
    return left_out_places(list(gone)) if gone else ""


def _who(pair: Pair, *, names: bool) -> str:
    school = wrappable(pair.school, MAX_NAME)
    if names and any(pair.members):
        return children_from(members_text(pair), school)
    number = pair.code.lstrip("ABCDEFGHIJKLMNOPQRSTUVWXYZ").lstrip("0")
    return pair_from(number if number.isdigit() else wrappable(pair.code, 24), school)


def press_pdf(outcome: Results, *, paper: str = "a4") -> bytes:
    """Set what may be told of the day without a name.

    ``paper``: ``a4`` or ``us-letter``.
    """
    view = press_view(outcome)
    return typeset("press", view, day=outcome.event.day, paper=paper)


def press_view(outcome: Results) -> PressView:
    """What may be told, as text."""
    event = outcome.event
    came = [line for line in outcome.pairs if _n_estimates(line)]
    present = [s for s in Station if any(item.station is s for item in event.items)]
    best = max((line for line in came if line.is_placed), key=lambda x: x.total, default=None)
    errors = [
        abs(score.estimate - key) / key
        for line in came
        for score in line.items
        if score.estimate is not None and (key := outcome.keys[score.item].key) is not None
    ]
    if not came:
        return _press(outcome, (no_answers_yet(),))
    said = press_lines(
        wrappable(event.name, 120),
        day_text(event.day),
        wrappable(event.venue, 120),
        (
            len(came),
            len({line.pair.school for line in came}),
            sum(len(line.pair.members) for line in came),
        ),
        what_was_done(present, number_text(float(event.rules.target_mass_g), 0)),
    )
    decimals = event.rules.decimals
    return _press(
        outcome,
        (
            *said,
            *(
                (
                    best_total(
                        points_text(best.total, decimals),
                        points_text(_highest(outcome, best), decimals),
                    ),
                )
                if best is not None and outcome.is_comparable
                else ()
            ),
            *((nearest_answer(float(min(errors))),) if errors else ()),
        ),
    )


def _press(outcome: Results, lines: tuple[str, ...]) -> PressView:
    return PressView(
        event=wrappable(outcome.event.name, 120),
        day=day_text(outcome.event.day),
        words=award_texts(),
        lines=lines,
        draft=_draft(outcome),
    )
