"""A pupil: what to practise next and why, how they read, where the points go, their own hand.

No other pupil is named on this page: it may be shown to the one it is about.
"""

from dataclasses import dataclass
from itertools import groupby
from math import exp
from typing import Final

from django.db.models import Q, QuerySet
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404
from django.urls import reverse

from nearmark.charts import Mark, MarkKind, Session, strip_svg, trend_svg
from nearmark.coaching import (
    Attempt,
    PupilHabit,
    attempts_in,
    kinds_of,
    pupil_advice,
    slips_among,
    what_next,
)
from nearmark.site.common.local_time import today
from nearmark.site.common.responses import done, post_only, refusals_on, show
from nearmark.site.door.visitor import visitor_of
from nearmark.site.season import retention_actions as season_keeping
from nearmark.site.season.forms import BodyReadingForm, LengthForm, RenameForm, SureForm
from nearmark.site.season.habits_cache import habits_of
from nearmark.site.season.hand_page import HandLine, hand_lines, length_words, teach_words
from nearmark.site.season.models import BodyReading, Club, PracticePair, Pupil
from nearmark.site.season.progress_page import ProgressView, pupil_progress
from nearmark.site.season.pupil_actions import add_body_readings, drop_body_reading, rename_pupil
from nearmark.words.coaching_advice import no_advice_words, trial_words
from nearmark.words.coaching_habits import habit_words, reason_words
from nearmark.words.coaching_steps import slip_words
from nearmark.words.replies import pupil_deleted
from nearmark.words.sides import kind_words

LAST_SHOWN: Final = 8
"""Attempts on the strip."""

TREND_PX: Final = 400
STRIP_PX: Final = 360
"""A phone shows them nearly at this size, so that their words stay readable."""


@dataclass(frozen=True, slots=True)
class StationCard:
    """How a pupil reads one kind of thing."""

    kind: str
    habit: PupilHabit
    trend: str
    strip: str
    words: str
    slips: list[tuple[Attempt, str]]
    n_shown: int
    has_parts: bool


@dataclass(frozen=True, slots=True)
class PupilView:
    """The page of a pupil."""

    title: str
    pupil: Pupil
    club: Club
    advice: list[tuple[str, str, bool]]  # station, words, and whether it is sure
    no_advice: str  # why there is none
    first: tuple[str, str]  # what to practise next, and why
    then: list[tuple[str, str]]
    progress: ProgressView | None
    cards: list[StationCard]
    pairs: QuerySet[PracticePair]
    hand: list[HandLine]
    teach: str
    length_form: LengthForm
    length_plan: str  # empty where none was asked for, or none can be given
    form: BodyReadingForm
    rename_form: RenameForm


def pupil_of(pupil_id: int) -> Pupil:
    """A pupil by number, or the page that says there is none."""
    return get_object_or_404(Pupil.objects.select_related("club"), pk=pupil_id)


def pupil(request: HttpRequest, pupil_id: int) -> HttpResponse:
    """The page of a pupil; with a length asked for, how to take it with their own hand."""
    record = pupil_of(pupil_id)
    form = LengthForm(request.GET if "length" in request.GET else None)
    view = _view(record, length_form=form)
    return show(request, "season/pupil", view, status=422 if form.errors else 200)


def _view(
    record: Pupil,
    *,
    form: BodyReadingForm | None = None,
    length_form: LengthForm | None = None,
    rename_form: RenameForm | None = None,
) -> PupilView:
    habits = habits_of(record.club)
    own = habits.get(record.name, ())
    attempts = attempts_in(own)
    plan = [
        (kind_words(item.station, item.size), reason_words(item))
        for item in what_next(own, kinds_of(habits))
    ]
    hand = hand_lines(record)
    length_form = length_form or LengthForm()
    return PupilView(
        title=record.name,
        pupil=record,
        club=record.club,
        advice=[
            (str(trial.station), trial_words(trial), trial.sureness == "sure")
            for trial in pupil_advice(attempts)
        ],
        no_advice=no_advice_words(attempts),
        first=plan[0],
        then=plan[1:],
        progress=pupil_progress(attempts),
        cards=[_card(habit) for habit in own],
        pairs=record.club.pairs.filter(Q(first=record) | Q(second=record)),
        hand=hand,
        teach=teach_words(hand),
        length_form=length_form,
        length_plan=length_words(length_form, hand),
        form=form or BodyReadingForm(initial={"day": today()}),
        rename_form=rename_form or RenameForm(initial={"name": record.name}),
    )


def _card(habit: PupilHabit) -> StationCard:
    kind = kind_words(habit.station, habit.size)
    last = habit.attempts[-LAST_SHOWN:]
    return StationCard(
        kind,
        habit,
        trend_svg(
            _sessions(habit),
            band=(exp(habit.band[0]), exp(habit.band[1])),
            width_px=TREND_PX,
            title=f"From session to session, {kind}",
        ),
        strip_svg(
            [
                *(Mark(exp(each.log_ratio)) for each in last[:-1]),
                Mark(exp(last[-1].log_ratio), "last", MarkKind.THIS),
            ],
            width_px=STRIP_PX,
            title=f"The last attempts, {kind}",
        ),
        habit_words(habit),
        [(each, slip_words(slip)) for each, slip in slips_among(habit.attempts)],
        len(last),
        any(each.parts is not None for each in habit.attempts),
    )


def _sessions(habit: PupilHabit) -> list[Session]:
    weighed = zip(habit.attempts, habit.posterior.p_blunder, strict=True)
    return [
        Session(
            f"{day.day} {day:%b}",
            tuple(exp(attempt.log_ratio) for attempt, _ in own),
            tuple(p > 0.5 for _, p in own),
        )
        for day, own in ((d, list(g)) for d, g in groupby(weighed, key=lambda each: each[0].day))
    ]


@post_only
def body_reading_add(request: HttpRequest, pupil_id: int) -> HttpResponse:
    """Keep readings of the hand."""
    record, form = pupil_of(pupil_id), BodyReadingForm(request.POST)
    with refusals_on(form):
        given = form.checked()
        add_body_readings(record, given["reference"], given["readings"], given["day"])
        address = reverse("season-pupil", args=[record.pk])
        return done(request, "The readings are saved.", f"{address}#hand")
    return show(request, "season/pupil", _view(record, form=form), status=form.http_status)


@post_only
def body_reading_drop(request: HttpRequest, reading_id: int) -> HttpResponse:
    """Take a wrong reading of the hand away."""
    reading = get_object_or_404(BodyReading, pk=reading_id)
    drop_body_reading(reading)
    address = reverse("season-pupil", args=[reading.pupil_id])
    return done(request, "The reading is gone.", f"{address}#hand")


@post_only
def pupil_rename(request: HttpRequest, pupil_id: int) -> HttpResponse:
    """Give a pupil another name."""
    record, form = pupil_of(pupil_id), RenameForm(request.POST)
    with refusals_on(form):
        rename_pupil(record, form.checked()["name"], by=visitor_of(request).name)
        said = "Renamed. To undo it, rename back."
        return done(request, said, "season-pupil", record.pk)
    return show(request, "season/pupil", _view(record, rename_form=form), status=form.http_status)


@post_only
def pupil_delete(request: HttpRequest, pupil_id: int) -> HttpResponse:
    """Delete a pupil with everything that is known of them."""
    record, form = pupil_of(pupil_id), SureForm(request.POST)
    is_sure = form.is_valid() and form.cleaned_data["is_sure"]
    n = season_keeping.delete_pupil(record, is_sure=is_sure, by=visitor_of(request).name)
    return done(request, pupil_deleted(n), "season-club", record.club_id)
