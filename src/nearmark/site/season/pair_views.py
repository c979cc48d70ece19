"""A pair: who decides at each station, and how probable it is that this is right."""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final

import numpy as np
from django.http import Http404, HttpRequest, HttpResponse
from django.urls import reverse

from nearmark.coaching import (
    Advice,
    Assignment,
    Mode,
    PupilHabit,
    Question,
    Station,
    advise,
    joint_correlation,
    joint_plan,
    may_change,
)
from nearmark.site.common.responses import done, post_only, show
from nearmark.site.door.visitor import visitor_of
from nearmark.site.season.club_actions import part_pair, set_trained
from nearmark.site.season.forms import TrainedForm
from nearmark.site.season.habits_cache import contest_items, habits_of, kind_words
from nearmark.site.season.models import PracticePair

SEED: Final = 1
"""Of the draws behind an advice: the same log gives the same words, as with ``nearmark pairs``."""


@dataclass(frozen=True, slots=True)
class AdviceCard:
    """The advice for one kind of thing."""

    kind: str
    station: Station
    advice: Advice
    words: str
    options: list[tuple[str, float, float]]
    n: tuple[int, int]
    trained: str
    change: str


@dataclass(frozen=True, slots=True)
class PlanLine:
    """Who decides at one station, all size classes together."""

    station: str
    who: str
    is_clear: bool


def practice_pair(request: HttpRequest, pair_id: int) -> HttpResponse:
    """The page of a pair."""
    return show(request, "season/pair", _context(pair_of(pair_id)))


def pair_of(pair_id: int) -> PracticePair:
    """A pair by number, or the page that says there is none."""
    pair = PracticePair.objects.filter(pk=pair_id).select_related("club", "first", "second").first()
    if pair is None:
        raise Http404
    return pair


def _context(pair: PracticePair) -> dict[str, object]:
    cards = list(_cards(pair))
    items = {station: max(1, int(n)) for station, n in contest_items().items()}
    plan = joint_plan(((card.station, card.advice) for card in cards), items)
    lines = _plan_lines(plan, pair, cards)
    return {
        "title": f"Pair {pair.code}",
        "pair": pair,
        "club": pair.club,
        "cards": cards,
        "plan": plan,
        "plan_lines": lines,
        "n_clear": sum(line.is_clear for line in lines),
        "form": TrainedForm(list(Station), initial=pair.trained),
    }


def _cards(pair: PracticePair) -> Iterable[AdviceCard]:
    habits = habits_of(pair.club)
    others = {(h.station, h.size): h for h in habits.get(pair.second.name, ())}
    rng = np.random.default_rng(SEED)
    for one in habits.get(pair.first.name, ()):
        other = others.get((one.station, one.size))
        if other is not None:
            yield _card(pair, one, other, rng)


def _card(
    pair: PracticePair, one: PupilHabit, other: PupilHabit, rng: np.random.Generator
) -> AdviceCard:
    question = Question(correlation=joint_correlation(one, other))
    advice = advise(one.posterior, other.posterior, rng, question=question)
    trained = pair.trained.get(one.station.value, "")
    return AdviceCard(
        kind_words(one.station, one.size),
        one.station,
        advice,
        advice.words(pair.first.name, pair.second.name),
        [(_who(o.mode, pair), o.score, o.p_best) for o in advice.options],
        (one.n, other.n),
        _who(Mode(trained), pair) if trained else "",
        _change(advice, trained, one, other),
    )


def _change(advice: Advice, trained: str, one: PupilHabit, other: PupilHabit) -> str:
    """What the cautious rule says of a way that has been trained."""
    if not trained:
        return ""
    if advice.mode == trained:
        return "That is what the pair has trained: keep it."
    if may_change(advice, Mode(trained), one, other):
        return "Change to it: enough attempts say so."
    return "Keep what the pair has trained: the difference is not clear enough for a change."


def _who(mode: Mode, pair: PracticePair) -> str:
    return {
        Mode.FIRST: pair.first.name,
        Mode.SECOND: pair.second.name,
        Mode.AVERAGE: "the average of both",
        Mode.WEIGHTED: "the weighted average",
    }[mode]


def _plan_lines(
    plan: Assignment | None, pair: PracticePair, cards: Iterable[AdviceCard]
) -> list[PlanLine]:
    """The plan; a station is clear when the advice is, in every size class."""
    modes = plan.modes if plan else {}
    early = {card.station for card in cards if not card.advice.is_clear}
    return [
        PlanLine(station.value, _who(mode, pair), is_clear=station not in early)
        for station, mode in modes.items()
    ]


@post_only
def pair_trained(request: HttpRequest, pair_id: int) -> HttpResponse:
    """Say who decides today."""
    pair = pair_of(pair_id)
    form = TrainedForm(list(Station), request.POST)
    if not form.is_valid():
        context = _context(pair) | {"form": form}
        return show(request, "season/pair", context, status=422)
    modes = {Station(name): Mode(mode) for name, mode in form.cleaned_data.items() if mode}
    set_trained(pair, modes, by=visitor_of(request).name)
    return done(request, "Saved.", reverse("season-pair", args=[pair.pk]))


@post_only
def pair_end(request: HttpRequest, pair_id: int) -> HttpResponse:
    """End a pair."""
    pair = pair_of(pair_id)
    part_pair(pair, by=visitor_of(request).name)
    said = "The pair is ended; the attempts stay with the pupils."
    return done(request, said, reverse("season-club", args=[pair.club_id]))
