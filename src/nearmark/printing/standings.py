"""The standings: places, scores, totals, and how sure the places are."""

from dataclasses import dataclass

from nearmark.contest.division_results import by_division, division_place
from nearmark.contest.rank_confidence import RankConfidence
from nearmark.contest.rank_tally import PODIUM
from nearmark.contest.results import PairResult, Results
from nearmark.contest.school_totals import school_rankings, school_totals, short_schools
from nearmark.printing.typesetting import typeset
from nearmark.printing.words import day_text, members_text, wrappable
from nearmark.words.divisions import division_place_words
from nearmark.words.feedback_page import not_placed, place_of, shared_place_of, status_of_pair
from nearmark.words.numbers import capital, ordinal, points_words, probability_text
from nearmark.words.open_points import point_sentence
from nearmark.words.replies import release_status
from nearmark.words.rules import rules_words
from nearmark.words.school_totals import few_pairs, school_rule
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
    division: str  # these are the places of this division; empty: of all pairs
    is_ranked: bool  # false: the divisions cannot be compared, and only they have places
    divisions: tuple["StandingsView", ...]  # each by itself, behind the places of all
    schools: tuple["SchoolsPart", ...]
    school_rule: str


@dataclass(frozen=True, slots=True)
class SchoolsPart:
    """Schools that are ranked among themselves: place, school, total and the pairs that count."""

    division: str  # empty: of all pairs
    lines: tuple[tuple[str, str, str, str], ...]
    few: str


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
        division=wrappable(outcome.division, 60),
        is_ranked=outcome.is_comparable,
        divisions=_divisions(outcome, confidence, names=names),
        schools=_schools(outcome) if not outcome.division else (),
        school_rule=school_rule(rule) if (rule := event.rules.school_total) else "",
    )


def _divisions(
    outcome: Results, confidence: RankConfidence, *, names: bool
) -> tuple[StandingsView, ...]:
    if outcome.division:
        return ()
    return tuple(
        standings_view(cut, sure, names=names)
        for cut in by_division(outcome)
        if (sure := confidence.of_division(cut.division))
    )


def _schools(outcome: Results) -> tuple[SchoolsPart, ...]:
    rule = outcome.event.rules.school_total
    if rule is None:
        return ()
    parts = []
    for ranking in school_rankings(outcome):
        found = school_totals(ranking)
        short = short_schools(found, rule)
        lines = tuple(
            (
                str(one.place or "–"),  # noqa: RUF001 - a dash
                wrappable(one.school),
                points_words(one.total, outcome.event.rules.decimals),
                ", ".join(one.counted),
            )
            for one in found
        )
        few = wrappable(few_pairs(short, rule), 600) if short else ""
        parts.append(SchoolsPart(wrappable(ranking.division, 60), lines, few))
    return tuple(parts)


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
    if line.is_placed:
        return "–"  # noqa: RUF001 - a dash: it has a place in its division
    return status_of_pair(line.pair.status)


def place_sentence(line: PairResult, outcome: Results, *, last_place: int | None = None) -> str:
    """A pair's place in words: among all pairs, and in its division.

    ``last_place``: places behind it are not said; ``None``: all are. Returns: empty when there is
    a place, and none that may be said.
    """
    if not line.is_placed:
        return not_placed(line.pair.status)
    said = []
    if line.place is not None and (last_place is None or line.place <= last_place):
        n_placed = sum(other.place is not None for other in outcome.pairs)
        shared = sum(other.place == line.place for other in outcome.pairs) > 1
        say_place = shared_place_of if shared else place_of
        said.append(say_place(ordinal(line.place), n_placed))
    held = division_place(line, outcome)
    if held is not None and (last_place is None or held.place <= last_place):
        said.append(division_place_words(held))
    return ", ".join(said)
