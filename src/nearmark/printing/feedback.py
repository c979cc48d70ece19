"""Feedback for the children: one page a pair, each answer on the strip among everybody's."""

from collections.abc import Sequence
from dataclasses import dataclass

from nearmark.charts import Mark, MarkKind, strip_svg
from nearmark.contest.division import items_of
from nearmark.contest.keys import ItemKey
from nearmark.contest.results import ItemScore, PairResult, Results
from nearmark.errors import InputError
from nearmark.printing.standings import place_sentence
from nearmark.printing.typesetting import typeset
from nearmark.printing.words import (
    day_text,
    members_text,
    number_text,
    wrappable,
)
from nearmark.words.answer_advice import answer_advice
from nearmark.words.deviations import error_words
from nearmark.words.feedback_page import (
    FeedbackWords,
    feedback_words,
    no_estimate,
    out_of,
    own_mark,
)
from nearmark.words.numbers import points_words
from nearmark.words.public import closest_words, pair_title
from nearmark.words.replies import release_status
from nearmark.words.rules import rules_words
from nearmark.words.sides import unit_text
from nearmark.words.standings import missing_word

ROOMY = 6
"""Items of one page whose strips run over its whole width."""


@dataclass(frozen=True, slots=True)
class FeedbackItem:
    """One answer as the page shows it."""

    code: str
    name: str
    estimate: str
    estimate_unit: str
    key: str
    unit: str
    score: str
    strip: str
    told: str
    advice: str


@dataclass(frozen=True, slots=True)
class FeedbackPage:
    """One pair's page."""

    code: str
    title: str
    school: str
    names: str
    total: str
    of_points: str
    place: str
    best: str
    compact: bool
    items: tuple[FeedbackItem, ...]


@dataclass(frozen=True, slots=True)
class FeedbackView:
    """All pages of one printing, ready to be set."""

    event: str
    day: str
    rules: str
    highest: str
    status: str
    words: FeedbackWords
    pages: tuple[FeedbackPage, ...]


def feedback_pdf(
    outcome: Results,
    pair_codes: Sequence[str] | None = None,
    *,
    paper: str = "a4",
    names: bool = False,
    release: int | None = None,
    last_place: int | None = None,
) -> bytes:
    """Set the feedback pages.

    ``pair_codes``: which pairs, in this order; ``None``: all that have answers, by code. ``paper``:
    ``a4`` or ``us-letter``. ``names``: whether the children's names stand beside the codes.
    ``release``: number of the release that is out; 0: none is; ``None``: unknown. ``last_place``:
    places behind it are not said; ``None``: all are. Raises InputError if a code is not a pair of
    the event, or nobody has answers.
    """
    view = feedback_view(outcome, pair_codes, names=names, release=release, last_place=last_place)
    return typeset("feedback", view, day=outcome.event.day, paper=paper)


def feedback_view(
    outcome: Results,
    pair_codes: Sequence[str] | None = None,
    *,
    names: bool = False,
    release: int | None = None,
    last_place: int | None = None,
) -> FeedbackView:
    """What the feedback pages say, as text.

    ``last_place``: places behind it are not said; ``None``: all are.
    """
    event = outcome.event
    name, rules = wrappable(event.name, 120), wrappable(rules_words(event.rules))
    ratios = {
        (line.pair.code, score.item): ratio
        for line in outcome.pairs
        for score in line.items
        if (ratio := _ratio(score, outcome.keys[score.item])) is not None
    }
    chosen = _chosen(outcome, pair_codes)
    pages = [_page(outcome, line, ratios, names=names, last_place=last_place) for line in chosen]
    return FeedbackView(
        event=name,
        day=day_text(event.day),
        rules=rules,
        highest=points_words(outcome.highest_total, 0),
        status=release_status(release, 0 if release else len(outcome.open_points)),
        words=feedback_words(name, rules),
        pages=tuple(pages),
    )


def _chosen(outcome: Results, codes: Sequence[str] | None) -> list[PairResult]:
    lines = {line.pair.code: line for line in outcome.pairs if line.items}
    wanted = sorted(lines) if codes is None else codes
    unknown = [code for code in wanted if code not in lines]
    if unknown or not lines:
        raise InputError(
            "has no answers in this event",
            where="feedback, pair",
            value=", ".join(unknown) or "none",
            mend=f"Choose among {', '.join(sorted(lines)[:8])} ..." if lines else "Enter answers",
        )
    return [lines[code] for code in wanted]


def _ratio(score: ItemScore, key: ItemKey) -> float | None:
    if score.estimate is None or not key.key:
        return None
    return max(float(score.estimate / key.key), 0.0)


def _page(
    outcome: Results,
    line: PairResult,
    ratios: dict[tuple[str, str], float],
    *,
    names: bool,
    last_place: int | None,
) -> FeedbackPage:
    pair = line.pair
    code, items = wrappable(pair.code, 24), items_of(pair, outcome.event)
    return FeedbackPage(
        code=code,
        title=pair_title(code),
        school=wrappable(pair.school),
        names=members_text(pair) if names else "",
        total=points_words(line.total, outcome.event.rules.decimals),
        of_points=out_of(points_words(outcome.highest_total_of(items), 0)),
        place=place_sentence(line, outcome, last_place=last_place),
        best=_best(outcome, line, ratios),
        compact=_is_compact(line),
        items=tuple(_item(outcome, line, score, ratios) for score in line.items),
    )


def _is_compact(line: PairResult) -> bool:
    """Whether each strip is beside its words: below them there is room for six a page."""
    return len(line.items) > ROOMY


def _best(outcome: Results, line: PairResult, ratios: dict[tuple[str, str], float]) -> str:
    """The pair's closest answer, said first."""
    close = [s for s in line.items if s.score > 0 and (line.pair.code, s.item) in ratios]
    if not close:
        return ""
    best = max(close, key=lambda s: s.score)
    name = outcome.keys[best.item].item.name
    return closest_words(wrappable(name), error_words(ratios[line.pair.code, best.item]))


def _item(
    outcome: Results,
    line: PairResult,
    score: ItemScore,
    ratios: dict[tuple[str, str], float],
) -> FeedbackItem:
    key = outcome.keys[score.item]
    own = ratios.get((line.pair.code, score.item))
    marks = [
        Mark(ratio)
        for (code, item), ratio in ratios.items()
        if item == score.item and code != line.pair.code
    ]
    if own is not None:
        marks.append(Mark(own, own_mark(), MarkKind.THIS))
    strip = strip_svg(
        marks,
        interval=_interval(key),
        width_px=300 if _is_compact(line) else 560,
        title=f"{key.item.code} {key.item.name}",
    )
    return FeedbackItem(
        code=wrappable(key.item.code, 24),
        name=wrappable(key.item.name),
        estimate=missing_word(score) if score.estimate is None else number_text(score.estimate),
        estimate_unit="" if score.estimate is None else unit_text(key.unit),
        key="" if key.key is None else number_text(key.key),
        unit=unit_text(key.unit),
        score=points_words(score.score, outcome.event.rules.decimals),
        strip=strip,
        told=no_estimate() if own is None else error_words(own),
        advice=answer_advice(key.item.station, score, own),
    )


def _interval(key: ItemKey) -> tuple[float, float] | None:
    """95 % interval of the key over the key, as long as the key is the measured value."""
    if key.assigned is None or not key.key or key.key != key.assigned.key:
        return None
    low, high = key.assigned.interval
    return (low / float(key.key), high / float(key.key))
