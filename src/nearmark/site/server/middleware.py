"""Around every request: who asks, whether they may, what the answer's headers say."""

import logging
from collections.abc import Callable
from contextlib import suppress
from copy import copy
from datetime import datetime, timedelta
from typing import Any, Final
from urllib.parse import urlencode

from django.contrib.auth import logout
from django.db import DatabaseError
from django.http import HttpRequest, HttpResponse, HttpResponseRedirect
from django.shortcuts import redirect
from django.urls import reverse

from nearmark.errors import NearmarkError
from nearmark.site.common import clock
from nearmark.site.common.refusals import (
    HoldReason,
    asks_json,
    held,
    not_saved,
    refused,
    refused_club,
    refused_role,
    wrong_method,
)
from nearmark.site.common.writing import writing
from nearmark.site.door.access import HELP, Role, may_open
from nearmark.site.door.actions import lock, needs_first_run
from nearmark.site.door.models import Device
from nearmark.site.door.session_query import SessionState, read_session_state
from nearmark.site.door.visitor import (
    DEVICE_IN_SESSION,
    KNOWN_DEVICES,
    Visitor,
    snapshot_of,
    visitor_of,
)
from nearmark.site.season.club_access import is_of_others

GetResponse = Callable[[HttpRequest], HttpResponse]

IDLE: Final = timedelta(minutes=20)
"""After this long without a request a device locks itself."""

SEEN_EVERY: Final = timedelta(minutes=1)
"""How often the last sight of a device is written down: not at every request."""

CONTENT_SECURITY_POLICY: Final = (
    "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self'; font-src 'self'; "
    "connect-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'"
)
"""Nothing inline, nothing from anywhere else."""

_HEADERS: Final = {
    "Content-Security-Policy": CONTENT_SECURITY_POLICY,
    "Permissions-Policy": "camera=(), geolocation=(), microphone=(), payment=(), usb=()",
    "Cross-Origin-Resource-Policy": "same-origin",
}

_BEFORE_FIRST_RUN: Final = HELP | {"first-run"}

_OPEN_WHILE_LOCKED: Final = HELP | {
    *("unlock", "sign-out", "public-results", "clock", "clock-now"),
    # A seat on a coach's tablet: it was locked when the code was typed in.
    *("seat-join", "seat", "seat-item", "seat-hand-in", "seat-leave", "calculator"),
    "jar-part",  # of a jar the seat is asked; it asks for its signed pass
}


def headers(get_response: GetResponse) -> GetResponse:
    """Set the headers that every answer has, files too."""

    def respond(request: HttpRequest) -> HttpResponse:
        response = get_response(request)
        for name, value in _HEADERS.items():
            response.setdefault(name, value)
        # A shared tablet must not show the last person's pages on "back".
        if not response.has_header("Cache-Control"):
            response["Cache-Control"] = "no-store"
        return response

    return respond


class VisitorMiddleware:
    """Finds out who asks, and opens only what the table of roles opens."""

    def __init__(self, get_response: GetResponse) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        """Set ``request.visitor`` and go on."""
        now = clock.now()
        sight = read_session_state(request.session.session_key, now)
        request.sight = sight  # type: ignore[attr-defined]  # read by snapshot_of
        request.visitor = _visitor(request, sight, now)  # type: ignore[attr-defined]  # read by visitor_of
        return self.get_response(request)

    def process_view(
        self, request: HttpRequest, _view: Callable[..., Any], _args: object, kwargs: dict[str, Any]
    ) -> HttpResponse | None:
        """Refuse unless the table lets this role in, and the club is the visitor's."""
        name = (request.resolver_match and request.resolver_match.url_name) or ""
        visitor = visitor_of(request)
        if visitor.account is None and name not in _BEFORE_FIRST_RUN and needs_first_run():
            return redirect("first-run")
        if visitor.locked and name not in _OPEN_WHILE_LOCKED:
            return held(HoldReason.LOCKED) if asks_json(request) else _door(request, "unlock")
        released = snapshot_of(request).is_released
        role = Role(visitor.account.role) if visitor.account else Role.PUBLIC
        job = visitor.account.job if visitor.account else ""
        if may_open(name, role, released=released, job=job):
            return refused_club(request) if is_of_others(name, visitor, kwargs) else None
        if role is Role.PUBLIC and asks_json(request):
            return held(HoldReason.OUT)
        if role is Role.PUBLIC and request.method == "GET":
            return _door(request, "sign-in")
        return refused_role(request)


def _door(request: HttpRequest, name: str) -> HttpResponseRedirect:
    """To a door, from which one comes back to the page that was asked for."""
    address = reverse(name)
    if request.method != "GET":
        return HttpResponseRedirect(address)
    return HttpResponseRedirect(f"{address}?{urlencode({'next': request.path})}")


def _visitor(request: HttpRequest, sight: SessionState, now: datetime) -> Visitor:
    device = KNOWN_DEVICES.find(sight) or _looked_up(request)
    if device is None:
        return Visitor()
    if not device.is_open(now):
        logout(request)
        return Visitor()
    # Seen in the future: the clock was set back, and nobody knows for how long it was idle.
    unseen = abs(now - device.seen_at)
    if device.locked or unseen > IDLE:
        if not device.locked:
            with suppress(DatabaseError):  # on a full disk it is asked for at every request
                lock(device)
        return Visitor(Role.PUBLIC, device.account, device, locked=True)
    KNOWN_DEVICES.keep(sight, device)
    # The clock and an open drill ask by themselves: that is nobody using the device.
    asks_by_itself = request.path == reverse("clock-now") or request.path.endswith("/state/")
    if unseen > SEEN_EVERY and not asks_by_itself:
        with suppress(DatabaseError):  # a full disk keeps nobody from reading
            KNOWN_DEVICES.keep(sight, _seen(device, now))
    return Visitor(Role(device.account.role), device.account, device)


def _looked_up(request: HttpRequest) -> Device | None:
    """The device of a session, with everything about the session checked."""
    device_id = request.session.get(DEVICE_IN_SESSION)
    if device_id is None or not request.user.is_authenticated:
        return None
    device = Device.objects.select_related("account").filter(pk=device_id).first()
    if device is None or device.account_id != request.user.pk:
        logout(request)
        return None
    return device


def _seen(device: Device, now: datetime) -> Device:
    """The device with its new sight on the disk."""
    with writing():
        Device.objects.filter(pk=device.pk).update(seen_at=now)
    seen = copy(device)
    seen.seen_at = now
    return seen


class RefusalMiddleware:
    """Turns what Nearmark refuses on purpose into a page; the rest is our fault and is logged."""

    def __init__(self, get_response: GetResponse) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        """Go on."""
        response = self.get_response(request)
        if response.status_code == 405:
            return wrong_method(request, response["Allow"])
        return response

    def process_exception(self, request: HttpRequest, error: Exception) -> HttpResponse | None:
        """Answer a refusal, or a database that could not save."""
        if isinstance(error, NearmarkError):
            return refused(request, error)
        if isinstance(error, DatabaseError):
            logging.getLogger(__name__).error("not saved: %s", error)
            return not_saved(request)
        return None
