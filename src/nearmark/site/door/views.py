"""Coming in and going out."""

from collections.abc import Callable
from dataclasses import dataclass

from django.contrib import messages
from django.contrib.auth import login, logout
from django.http import HttpRequest, HttpResponse, HttpResponseRedirect
from django.shortcuts import redirect
from django.urls import reverse
from django.utils.http import url_has_allowed_host_and_scheme
from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _

from nearmark.site.common.forms import BaseForm
from nearmark.site.common.responses import post_only, refusals_on, show
from nearmark.site.door import actions as doors
from nearmark.site.door.access import Role
from nearmark.site.door.forms import FirstRunForm, JoinForm, SignInForm, UnlockForm
from nearmark.site.door.models import Account
from nearmark.site.door.visitor import DEVICE_IN_SESSION, visitor_of
from nearmark.site.event.load import current_event

_HOMES = {
    Role.LEAD: "overview",
    Role.SCORER: "entry",
    Role.COACH: "season",
    Role.PUBLIC: "public-results",
}


@dataclass(frozen=True, slots=True)
class DoorView:
    """A page with one form, by which somebody comes in."""

    title: str
    form: BaseForm
    next: str = ""  # address to go to then; empty: the first page of whoever comes


def home(request: HttpRequest) -> HttpResponse:
    """To the first page of whoever asks."""
    role = visitor_of(request).role
    event = current_event()
    if role is Role.PUBLIC and (event is None or event.released_at is None):
        return redirect("sign-in")
    pages = visitor_of(request).job_pages
    return redirect(pages[0] if pages else _HOMES[role])


def first_run(request: HttpRequest) -> HttpResponse:
    """Make the lead's account; only while there is none."""
    if not doors.needs_first_run():
        return redirect("sign-in")

    def act(form: BaseForm) -> Account:
        given = form.cleaned_data
        return doors.make_first_lead(given["name"], given["password"])

    return _come_in(request, "door/first_run", FirstRunForm(request.POST or None), act)


def sign_in(request: HttpRequest) -> HttpResponse:
    """Name and password."""

    def act(form: BaseForm) -> Account:
        given = form.cleaned_data
        return doors.sign_in(given["name"], given["password"], address=_address(request))

    return _come_in(request, "door/sign_in", SignInForm(request.POST or None), act)


def join(request: HttpRequest) -> HttpResponse:
    """A one-time code; only a post uses it up."""

    def act(form: BaseForm) -> Account:
        given = form.cleaned_data
        return doors.join(given["code"], given["name"], given["pin"], address=_address(request))

    initial = {"code": request.GET.get("code", "")[:20], "name": request.GET.get("name", "")[:60]}
    return _come_in(request, "door/join", JoinForm(request.POST or None, initial=initial), act)


_TITLES = {
    "door/first_run": _("Welcome"),
    "door/sign_in": _("Sign in"),
    "door/join": _("Join with a code"),
}


def _come_in(
    request: HttpRequest, template: str, form: BaseForm, act: Callable[[BaseForm], Account]
) -> HttpResponse:
    if request.method == "POST" and form.is_valid():
        with refusals_on(form):
            return _enter(request, act(form))
    view = DoorView(str(_TITLES[template]), form, request.GET.get("next", ""))
    return show(request, template, view, status=form.http_status)


def _enter(request: HttpRequest, account: Account) -> HttpResponse:
    about = request.headers.get("User-Agent", "unknown browser")
    device = doors.open_device(account, _short(about), address=_address(request))
    login(request, account, backend="django.contrib.auth.backends.ModelBackend")
    request.session[DEVICE_IN_SESSION] = device.pk
    return HttpResponseRedirect(_asked_for(request))


def _asked_for(request: HttpRequest) -> str:
    """The page of this site that was asked for before the door; else the first page."""
    address = request.POST.get("next", "")
    is_ours = url_has_allowed_host_and_scheme(address, {request.get_host()})
    return address if is_ours else reverse("home")


def _short(agent: str) -> str:
    """What a browser says it is, in two words that help to tell devices apart."""
    system = next(
        (s for s in ("iPad", "iPhone", "Android", "Windows", "Macintosh", "Linux") if s in agent),
        "device",
    )
    browser = next((b for b in ("Firefox", "Edg", "Chrome", "Safari") if b in agent), "browser")
    return f"{browser} on {system}"


def _address(request: HttpRequest) -> str:
    return str(request.META.get("REMOTE_ADDR", ""))


@post_only
def sign_out(request: HttpRequest) -> HttpResponse:
    """End the session and the device with it."""
    visitor = visitor_of(request)
    if visitor.device is not None:
        doors.revoke(visitor.device, by=visitor.name)
    logout(request)
    return redirect("home")


@post_only
def lock(request: HttpRequest) -> HttpResponse:
    """Lock this device now."""
    device = visitor_of(request).device
    if device is not None:
        doors.lock(device)
    return redirect("unlock")


def unlock(request: HttpRequest) -> HttpResponse:
    """Open this device again."""
    visitor = visitor_of(request)
    if visitor.device is None or not visitor.locked:
        return redirect("home")
    form = UnlockForm(request.POST or None)
    if request.method == "POST" and form.is_valid():
        with refusals_on(form):
            doors.unlock(visitor.device, form.cleaned_data["secret"], address=_address(request))
            messages.success(request, gettext("Open again."))
            return HttpResponseRedirect(_asked_for(request))
    view = DoorView(gettext("Locked"), form, request.GET.get("next", ""))
    return show(request, "door/unlock", view, status=form.http_status)
