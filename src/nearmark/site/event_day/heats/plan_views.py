"""The plan of the heats: the day, the wishes, a better plan, and who goes when on paper."""

from django.http import HttpRequest, HttpResponse
from django.urls import reverse

from nearmark.contest.heat_wish import HeatWish
from nearmark.errors import InputError
from nearmark.site.common.responses import done, post_only, refusals_on, show
from nearmark.site.door.visitor import visitor_of
from nearmark.site.event.current import required_event
from nearmark.site.event_day.heats import draft_actions as drafts
from nearmark.site.event_day.heats import wish_actions as wishes
from nearmark.site.event_day.heats.forms import HeatDayForm, HeatWishForm, PlanAskForm
from nearmark.site.event_day.heats.plan_page import PLAN_KIND, PlanView, plan_view
from nearmark.site.jobs import actions as jobs
from nearmark.words.heat_plans import wish_words
from nearmark.words.heats import plan_saved, plan_taken_back


def heat_plan(request: HttpRequest) -> HttpResponse:
    """Times, wishes, the plan in force and one to look at."""
    return _page(request, plan_view(required_event()))


def _page(request: HttpRequest, view: PlanView, status: int = 200) -> HttpResponse:
    return show(request, "event_day/heats/plan", view, status=status)


@post_only
def heat_day(request: HttpRequest) -> HttpResponse:
    """Say when the heats are."""
    event = required_event()
    has_divisions = event.divisions.exists()
    form = HeatDayForm(request.POST, has_divisions=has_divisions, auto_id="day_%s")
    with refusals_on(form):
        wishes.set_day(form.checked(), by=visitor_of(request).name)
        return done(request, "The times are saved.", "heat-plan")
    return _page(request, plan_view(event, day_form=form), form.http_status)


@post_only
def heat_wish_add(request: HttpRequest) -> HttpResponse:
    """Keep a wish."""
    event = required_event()
    rooms = list(event.rooms.values_list("name", flat=True))
    form = HeatWishForm(request.POST, rooms=rooms, auto_id="wish_%s")
    with refusals_on(form):
        wish = HeatWish(**form.checked())
        wishes.add_wish(wish, by=visitor_of(request).name)
        words = f"Saved: {wish.who}, {wish_words(wish)}."
        return done(request, words, reverse("heat-plan") + "#wishes")
    return _page(request, plan_view(event, wish_form=form), form.http_status)


@post_only
def heat_wish_remove(request: HttpRequest, wish_id: int) -> HttpResponse:
    """Take a wish away."""
    wish = wishes.remove_wish(wish_id, by=visitor_of(request).name)
    words = f"Removed: {wish.who}, {wish_words(wish)}."
    return done(request, words, reverse("heat-plan") + "#wishes")


@post_only
def heat_plan_ask(request: HttpRequest) -> HttpResponse:
    """Look for a better plan, in the background."""
    form = PlanAskForm(request.POST)
    if not form.is_valid():
        raise InputError("is no way to plan", where="how", mend="Choose from the list")
    jobs.ask(PLAN_KIND, form.cleaned_data["how"], by=visitor_of(request).name)
    words = "The plan is being looked for; nothing changes before you save it."
    return done(request, words, reverse("heat-plan") + "#jobs")


@post_only
def heat_draft_quick(request: HttpRequest) -> HttpResponse:
    """Look at the plan made at once."""
    drafts.draft_at_once(by=visitor_of(request).name)
    words = "Look at it below; nothing changes before you save it."
    return done(request, words, reverse("heat-plan") + "#draft")


@post_only
def heat_draft_save(request: HttpRequest, draft_id: int) -> HttpResponse:
    """Put a plan in force."""
    n = drafts.save_draft(draft_id, by=visitor_of(request).name)
    return done(request, plan_saved(n), "heat-plan")


@post_only
def heat_draft_leave(request: HttpRequest, draft_id: int) -> HttpResponse:
    """Forget a plan that was never in force."""
    drafts.leave_draft(draft_id)
    return done(request, "The plan is left; nothing has changed.", "heat-plan")


@post_only
def heat_plan_undo(request: HttpRequest, draft_id: int) -> HttpResponse:
    """Put the plan before in force again."""
    n = drafts.take_back(draft_id, by=visitor_of(request).name)
    return done(request, plan_taken_back(n), "heat-plan")
