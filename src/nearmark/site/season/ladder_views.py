"""The scoop ladder of a pupil: a try in one line, the next cup and mass proposed.

No other pupil is named on this page.
"""

import uuid
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from django.http import HttpRequest, HttpResponse

from nearmark.coaching import Attempt, Scoop, attempts_in, points
from nearmark.coaching.scoop_ladder import NextRung, Rung, cup_comparison, next_rung, read_rung
from nearmark.errors import RuleError
from nearmark.site.common.local_time import today
from nearmark.site.common.responses import done, post_only, refusals_on, show
from nearmark.site.door.visitor import visitor_of
from nearmark.site.season.attempt_actions import keep_attempt
from nearmark.site.season.forms import LadderForm
from nearmark.site.season.habits_cache import habits_of
from nearmark.site.season.models import Club, Pupil, Source, Thing
from nearmark.site.season.pupil_views import pupil_of
from nearmark.station import Station
from nearmark.words.coaching_ladder import comparison_words, rung_words, try_words, why_words

LAST_SHOWN: Final = 8


@dataclass(frozen=True, slots=True)
class LadderView:
    """The page of the ladder."""

    title: str
    pupil: Pupil
    club: Club
    cups: list[Thing]  # numbered from 1, the lightest first
    next: str  # what to scoop; empty without a cup
    why: str
    tries: list[tuple[Attempt, str]]  # the last ones, newest first
    comparison: str  # empty unless the cup misleads
    form: LadderForm


def ladder(request: HttpRequest, pupil_id: int) -> HttpResponse:
    """What to scoop next, and one line to write how it went."""
    return show(request, "season/ladder", _view(pupil_of(pupil_id)))


@post_only
def ladder_add(request: HttpRequest, pupil_id: int) -> HttpResponse:
    """Keep one try."""
    pupil, form = pupil_of(pupil_id), LadderForm(request.POST)
    with refusals_on(form):
        given, cups = form.checked(), _cups(pupil.club)
        if given["cups"] != _numbers(cups):
            raise RuleError(
                "the list of cups has changed since the page was loaded",
                mend="Look at the numbers of the cups again, then save once more",
            )
        proposed = Rung(given["cup"], given["target"])
        rung, net_g = read_rung(given["line"], len(cups), proposed)
        attempt = _attempt(pupil, cups[rung.cup], rung.target_g, net_g)
        keep_attempt(
            given["key"],
            club=pupil.club,
            pupil=pupil,
            attempt=attempt,
            source=Source.ROUND,
            by=visitor_of(request).name,
        )
        said = try_words(rung.target_g, net_g, points(attempt))
        return done(request, said, "season-ladder", pupil.pk)
    return show(request, "season/ladder", _view(pupil, form), status=form.http_status)


def _view(pupil: Pupil, form: LadderForm | None = None) -> LadderView:
    cups, scoops = _cups(pupil.club), _scoops(pupil)
    known = [_scoop(cup) for cup in cups]
    found = next_rung(known, scoops) if cups else None
    compared = cup_comparison(known, scoops)
    return LadderView(
        title=f"Scoop ladder of {pupil.name}",
        pupil=pupil,
        club=pupil.club,
        cups=cups,
        next="" if found is None else _next(found, cups),
        why="" if found is None else why_words(found),
        tries=[
            (each, try_words(each.true, each.estimate, points(each)))
            for each in scoops[: -LAST_SHOWN - 1 : -1]
        ],
        comparison=comparison_words(
            f"cup {compared.light + 1}", f"cup {compared.heavy + 1}", compared.poured_g
        )
        if compared
        else "",
        form=_proposing(form, found, cups),
    )


def _proposing(
    form: LadderForm | None, found: NextRung | None, cups: Sequence[Thing]
) -> LadderForm:
    """The form with what is proposed now; what was typed before stays in it."""
    now = {"key": uuid.uuid4(), "cups": _numbers(cups)}
    if found is not None:
        now |= {"cup": found.rung.cup, "target": found.rung.target_g}
    if form is None:
        return LadderForm(initial=now)
    form.data = dict(form.data.items()) | {name: str(value) for name, value in now.items()}
    return form


def _next(found: NextRung, cups: Sequence[Thing]) -> str:
    cup = cups[found.rung.cup]
    return rung_words(found.rung.cup + 1, cup.name, found.rung.target_g)


def _cups(club: Club) -> list[Thing]:
    """What can be scooped with: things of the mass station whose cup and material are known."""
    things = club.things.filter(station=Station.MASS.value, retired_at=None)
    known = [each for each in things if each.cup_g and each.density_g_cm3]
    return sorted(known, key=lambda each: (each.cup_g or 0.0, each.name))


def _numbers(cups: Sequence[Thing]) -> str:
    return ",".join(str(cup.pk) for cup in cups)


def _scoop(cup: Thing) -> Scoop:
    return Scoop(cup.cup_g or 0.0, cup.density_g_cm3 or 0.0)


def _scoops(pupil: Pupil) -> list[Attempt]:
    """The pupil's scoops with their cup, oldest first."""
    own = attempts_in(habits_of(pupil.club).get(pupil.name, ()))
    return [each for each in own if isinstance(each.parts, Scoop)]


def _attempt(pupil: Pupil, cup: Thing, target_g: float, net_g: float) -> Attempt:
    return Attempt(
        today(), pupil.name, Station.MASS, cup.name, net_g, target_g, cup.size, _scoop(cup)
    )
