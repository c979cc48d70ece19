"""The standings: places, scores, totals, and how sure the places are."""

from dataclasses import dataclass

from nearmark.contest.rank_confidence import RankConfidence
from nearmark.contest.rank_tally import PODIUM
from nearmark.contest.results import PairResult, Results
from nearmark.printing.typesetting import typeset
from nearmark.printing.words import day_text, members_text, probability_text, wrappable
from nearmark.words.feedback_page import not_placed, place_of, shared_place_of, status_of_pair
from nearmark.words.numbers import capital, ordinal, points_words
from nearmark.words.open_points import point_sentence
from nearmark.words.replies import release_status
from nearmark.words.rules import rules_words
from nearmark.words.standings import score_text, standing_words

MAX_ON_PODIUM = 6
"""With more pairs sharing the first three places, the table alone shows them."""


@dataclass(frozen=True, slots=True)
class StandingLine:
    """One pair as the table shows it."""

    place: str
    code: str
    school: str
    names: str
    scores: tuple[str, ...]
    total: str
    sure: str
    on_podium: bool


@dataclass(frozen=True, slots=True)
class StandingsView:
    """Everything the standings show, ready to be set."""

    event: str
    day: str
    venue: str
    rules: str
    items: tuple[str, ...]
    item_names: tuple[str, ...]
    highest: str
    podium: tuple[StandingLine, ...]
    lines: tuple[StandingLine, ...]
    names: bool
    ties: tuple[str, ...]
    headline: str
    details: tuple[str, ...]
    is_sure_said: bool
    open_points: tuple[str, ...]
    head: str
    status: str


def standings_pdf(
    outcome: Results,
    confidence: RankConfidence,
    *,
    paper: str = "a4",
    names: bool = False,
    head: str = "",
    release: int | None = None,
) -> bytes:
    """Set the standings.

    ``confidence``: of the same results. ``paper``: ``a4`` or ``us-letter``. ``names``: whether the
    children's names stand beside the codes. ``head``: of the release, as it is printed; empty: not
    released. ``release``: number of the release that is out; 0: none is; ``None``: unknown.
    Returns: a PDF; the heading of the table is on every page.
    """
    view = standings_view(outcome, confidence, names=names, head=head, release=release)
    return typeset("standings", view, day=outcome.event.day, paper=paper)


def standings_view(
    outcome: Results,
    confidence: RankConfidence,
    *,
    names: bool = False,
    head: str = "",
    release: int | None = None,
) -> StandingsView:
    """What the standings say, as text."""
    event = outcome.event
    words = standing_words(outcome, confidence)
    said = confidence if words.share else None
    lines = tuple(_line(outcome, line, said, names=names) for line in outcome.pairs)
    podium = tuple(line for line in lines if line.on_podium)
    items = tuple(key.item for key in outcome.keys.values())
    return StandingsView(
        event=wrappable(event.name, 120),
        day=day_text(event.day),
        venue=wrappable(event.venue, 120),
        rules=wrappable(rules_words(event.rules)),
        items=tuple(wrappable(item.code, 12) for item in items),
        item_names=tuple(f"{wrappable(i.code, 12)} {wrappable(i.name, 60)}" for i in items),
        highest=points_words(outcome.highest_total, event.rules.decimals),
        podium=podium if len(podium) <= MAX_ON_PODIUM else (),
        lines=lines,
        names=names,
        ties=tuple(wrappable(tie, 300) for tie in words.ties),
        headline=words.headline,
        details=words.details,
        is_sure_said=said is not None,
        open_points=tuple(
            capital(wrappable(point_sentence(point), 600)) for point in outcome.open_points
        ),
        head=head,
        status=release_status(release, len(outcome.open_points)),
    )


def _line(
    outcome: Results, line: PairResult, confidence: RankConfidence | None, *, names: bool
) -> StandingLine:
    decimals = outcome.event.rules.decimals
    scores = {s.item: score_text(s, decimals) for s in line.items}
    pair = line.pair
    held = None if confidence is None else confidence.place_stands(pair.code)
    return StandingLine(
        place=_place(line),
        code=wrappable(pair.code, 24),
        school=wrappable(pair.school),
        names=members_text(pair) if names else "",
        scores=tuple(scores.get(code, "–") for code in outcome.keys),  # noqa: RUF001 - a dash
        total=points_words(line.total, decimals) if line.items else "–",  # noqa: RUF001 - a dash
        sure="" if held is None else probability_text(held),
        on_podium=line.place is not None and line.place <= PODIUM,
    )


def _place(line: PairResult) -> str:
    if line.place is not None:
        return str(line.place)
    return status_of_pair(line.pair.status)


def place_sentence(line: PairResult, outcome: Results) -> str:
    """A pair's place in words."""
    if line.place is None:
        return not_placed(line.pair.status)
    n_placed = sum(other.place is not None for other in outcome.pairs)
    shared = sum(other.place == line.place for other in outcome.pairs) > 1
    say_place = shared_place_of if shared else place_of
    return say_place(ordinal(line.place), n_placed)
