"""Devices: who is in, a code for another one, out with one."""

import io
from dataclasses import dataclass
from urllib.parse import urlencode

import segno
from django.db.models import QuerySet
from django.http import HttpRequest, HttpResponse
from django.urls import reverse

from nearmark.errors import InputError
from nearmark.site.common import clock
from nearmark.site.common.responses import done, post_only, show, site_address
from nearmark.site.door import actions as doors
from nearmark.site.door.access import Job, Role
from nearmark.site.door.forms import CodeForm
from nearmark.site.door.models import Account, Device, JoinCode
from nearmark.site.door.rate_limit import Guesser, guessers
from nearmark.site.door.visitor import visitor_of


@dataclass(frozen=True, slots=True)
class DevicesView:
    """Every device that may come in now."""

    title: str
    devices: QuerySet[Device]
    guessers: list[Guesser]
    own: Device | None  # the one that looks
    form: CodeForm
    jobs: list[Job]


@dataclass(frozen=True, slots=True)
class CodeState:
    """What became of a code."""

    record: JoinCode
    joined: Account | None  # who came in by it
    again: Account | None  # who was here before and may come in again
    device: Device | None
    is_over: bool


@dataclass(frozen=True, slots=True)
class CodeView:
    """The page of a code; all but its state is empty where it is shown no more."""

    title: str
    state: CodeState
    code: str = ""
    minutes: int = 0
    address: str = ""
    picture: str = ""


def devices(request: HttpRequest) -> HttpResponse:
    """Every device that may come in now."""
    return show(request, "door/devices", _devices(request, CodeForm()))


def _devices(request: HttpRequest, form: CodeForm) -> DevicesView:
    now = clock.now()
    rows = Device.objects.select_related("account").filter(revoked_at=None, expires_at__gt=now)
    return DevicesView(
        title="Devices",
        devices=rows.order_by("-joined_at"),
        guessers=guessers(),
        own=visitor_of(request).device,
        form=form,
        jobs=list(Job),
    )


@post_only
def device_code(request: HttpRequest) -> HttpResponse:
    """Show a new one-time code, once."""
    form = CodeForm(request.POST)
    if not form.is_valid():
        return show(request, "door/devices", _devices(request, form), status=422)
    again = form.cleaned_data["again"]
    role = Role(form.cleaned_data["role"] if again is None else again.role)
    job = form.cleaned_data["job"]
    code, record = doors.make_code(role, visitor_of(request).name, again=again, job=job)
    query = {"code": code} | ({} if again is None else {"name": again.name})
    address = site_address(request) + reverse("join")
    view = CodeView(
        title="A code for one device",
        state=_state(record),
        code=f"{code[:4]} {code[4:]}",
        minutes=int(doors.CODE_LIFE.total_seconds() // 60),
        address=address,
        picture=qr_svg(f"{address}?{urlencode(query)}"),
    )
    return show(request, "door/device_code", view)


def device_joined(request: HttpRequest, code_id: int) -> HttpResponse:
    """Whether the helper is in; the page of the code asks for it again and again."""
    record = JoinCode.objects.select_related("account").filter(pk=code_id).first()
    if record is None:
        raise InputError("is not known", where="code", mend="Make a new one")
    return show(request, "door/device_joined", CodeView("Is the helper in?", _state(record)))


def _state(record: JoinCode) -> CodeState:
    # Before the code is used its account is who may come in again, afterwards who came in.
    joined, again = record.account, None
    if record.used_at is None:
        joined, again = None, record.account
    return CodeState(
        record=record,
        joined=joined,
        again=again,
        device=joined.devices.order_by("-pk").first() if joined else None,
        is_over=joined is None and clock.now() >= record.expires_at,
    )


def qr_svg(text: str) -> str:
    """A QR code as one SVG element."""
    out = io.BytesIO()
    # Black on white in both colour modes: some cameras do not read the reverse.
    segno.make(text, error="m").save(
        out,
        kind="svg",
        scale=6,
        border=4,
        dark="#000",
        light="#fff",
        omitsize=True,
        xmldecl=False,
        title="Code to scan with the device that joins",
    )
    return out.getvalue().decode("utf-8")


@post_only
def device_revoke(request: HttpRequest, device_id: int) -> HttpResponse:
    """Shut a device out."""
    device = Device.objects.select_related("account").filter(pk=device_id).first()
    if device is None:
        raise InputError("is not known", where="device", mend="Load the page again")
    doors.revoke(device, by=visitor_of(request).name)
    words = f"The device of {device.account.name} is out. A new code lets it in again."
    return done(request, words, "devices")
