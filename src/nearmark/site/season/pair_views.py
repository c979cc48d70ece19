"""A pair: who decides at each station, and how probable it is that this is right."""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final

import numpy as np
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404

from nearmark.coaching import (
    Assignment,
    Mode,
    PairReading,
    attempts_in,
    joint_plan,
    may_change,
    progress_of,
    read_pair,
)
from nearmark.site.common.responses import done, post_only, show
from nearmark.site.door.visitor import visitor_of
from nearmark.site.season.club_actions import part_pair, set_trained
from nearmark.site.season.forms import TrainedForm
from nearmark.site.season.habits_cache import contest_items, habits_of
from nearmark.site.season.models import Club, PracticePair
from nearmark.site.season.progress_page import ProgressView, progress_view
from nearmark.station import Station
from nearmark.words.coaching_pairs import mode_words, pair_words
from nearmark.words.sides import kind_words

SEED: Final = 1
"""Of the draws behind an advice: the same log gives the same words, as with ``nearmark pairs``."""


@dataclass(frozen=True, slots=True)
class AdviceCard:
    """The advice for one kind of thing."""

    kind: str
    station: Station
    reading: PairReading
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


@dataclass(frozen=True, slots=True)
class PairView:
    """Who decides at each station."""

    title: str
    pair: PracticePair
    club: Club
    cards: list[AdviceCard]
    plan: Assignment | None
    plan_lines: list[PlanLine]
    progress: ProgressView | None
    n_clear: int  # lines of the plan that are sure
    form: TrainedForm


def practice_pair(request: HttpRequest, pair_id: int) -> HttpResponse:
    """The page of a pair."""
    return show(request, "season/pair", _view(pair_of(pair_id)))


def pair_of(pair_id: int) -> PracticePair:
    """A pair by number, or the page that says there is none."""
    pairs = PracticePair.objects.select_related("club", "first", "second")
    return get_object_or_404(pairs, pk=pair_id)


def _view(pair: PracticePair, form: TrainedForm | None = None) -> PairView:
    cards = list(_cards(pair))
    items = {station: max(1, int(n)) for station, n in contest_items().items()}
    plan = joint_plan(((card.station, card.reading.advice) for card in cards), items)
    lines = _plan_lines(plan, pair, cards)
    return PairView(
        title=f"Pair {pair.code}",
        pair=pair,
        club=pair.club,
        cards=cards,
        plan=plan,
        plan_lines=lines,
        progress=_progress(pair),
        n_clear=sum(line.is_clear for line in lines),
        form=form or TrainedForm(pair.first.name, pair.second.name, initial=pair.trained),
    )


def _progress(pair: PracticePair) -> ProgressView | None:
    habits = habits_of(pair.club)
    names = (pair.first.name, pair.second.name)
    return progress_view(progress_of({name: attempts_in(habits.get(name, ())) for name in names}))


def _cards(pair: PracticePair) -> Iterable[AdviceCard]:
    habits = habits_of(pair.club)
    first, second = habits.get(pair.first.name, ()), habits.get(pair.second.name, ())
    for reading in read_pair(first, second, np.random.default_rng(SEED)):
        one, other, advice = reading.first, reading.second, reading.advice
        trained = _trained(pair, one.station)
        yield AdviceCard(
            kind_words(one.station, one.size),
            one.station,
            reading,
            pair_words(reading),
            [(_who(o.mode, pair), o.score, o.p_near) for o in advice.options],
            (one.n, other.n),
            "" if trained is None else _who(trained, pair),
            _change(reading, trained),
        )


def _trained(pair: PracticePair, station: Station) -> Mode | None:
    """What the pair has trained; ``None``: nothing, or a way that is no longer offered."""
    kept = pair.trained.get(station.value, "")
    return Mode(kept) if kept in set(Mode) else None


def _change(reading: PairReading, trained: Mode | None) -> str:
    """What the cautious rule says of a way that has been trained."""
    if trained is None:
        return ""
    if reading.advice.mode is trained:
        return "That is what the pair has trained: keep it."
    if may_change(reading.advice, trained, reading.first, reading.second):
        return "Change to it: enough attempts say so."
    return "Keep what the pair has trained: the difference is not clear enough for a change."


def _who(mode: Mode, pair: PracticePair) -> str:
    return mode_words(mode, pair.first.name, pair.second.name)


def _plan_lines(
    plan: Assignment | None, pair: PracticePair, cards: Iterable[AdviceCard]
) -> list[PlanLine]:
    """The plan; a station is clear when the advice is, in every size class."""
    modes = plan.modes if plan else {}
    early = {card.station for card in cards if not card.reading.is_clear}
    return [
        PlanLine(station.value, _who(mode, pair), is_clear=station not in early)
        for station, mode in modes.items()
    ]


@post_only
def pair_trained(request: HttpRequest, pair_id: int) -> HttpResponse:
    """Say who decides today."""
    pair = pair_of(pair_id)
    form = TrainedForm(pair.first.name, pair.second.name, request.POST)
    if not form.is_valid():
        return show(request, "season/pair", _view(pair, form), status=422)
    modes = {Station(name): Mode(mode) for name, mode in form.cleaned_data.items() if mode}
    set_trained(pair, modes, by=visitor_of(request).name)
    return done(request, "Saved.", "season-pair", pair.pk)


@post_only
def pair_end(request: HttpRequest, pair_id: int) -> HttpResponse:
    """End a pair."""
    pair = pair_of(pair_id)
    part_pair(pair, by=visitor_of(request).name)
    said = "The pair is ended; the attempts stay with the pupils."
    return done(request, said, "season-club", pair.club_id)
