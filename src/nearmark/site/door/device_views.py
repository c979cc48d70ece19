"""Devices: who is in, a code for another one, out with one."""

import io
from urllib.parse import urlencode

import segno
from django.conf import settings
from django.http import HttpRequest, HttpResponse
from django.urls import reverse

from nearmark.errors import InputError
from nearmark.site.common import clock
from nearmark.site.common.responses import done, post_only, show
from nearmark.site.door import actions as doors
from nearmark.site.door.access import Job, Role
from nearmark.site.door.forms import CodeForm
from nearmark.site.door.models import Device, JoinCode
from nearmark.site.door.rate_limit import guessers
from nearmark.site.door.visitor import visitor_of


def devices(request: HttpRequest) -> HttpResponse:
    """Every device that may come in now."""
    return show(request, "door/devices", _context(request))


def _context(request: HttpRequest) -> dict[str, object]:
    now = clock.now()
    rows = Device.objects.select_related("account").filter(revoked_at=None, expires_at__gt=now)
    return {
        "title": "Devices",
        "devices": rows.order_by("-joined_at"),
        "guessers": guessers(),
        "own": visitor_of(request).device,
        "form": CodeForm(),
        "jobs": list(Job),
    }


@post_only
def device_code(request: HttpRequest) -> HttpResponse:
    """Show a new one-time code, once."""
    form = CodeForm(request.POST)
    if not form.is_valid():
        return show(request, "door/devices", _context(request) | {"form": form}, status=422)
    again = form.cleaned_data["again"]
    role = Role(form.cleaned_data["role"] if again is None else again.role)
    job = form.cleaned_data["job"]
    code, record = doors.make_code(role, visitor_of(request).name, again=again, job=job)
    query = {"code": code} | ({} if again is None else {"name": again.name})
    # The lead may sit at this computer: its own name for itself leads other devices nowhere.
    address = (getattr(settings, "NEARMARK_URL", "") or request.build_absolute_uri("/")).rstrip("/")
    address += reverse("join")
    context = {
        "title": "A code for one device",
        "code": f"{code[:4]} {code[4:]}",
        "role": role,
        "minutes": int(doors.CODE_LIFE.total_seconds() // 60),
        "record": record,
        "again": again,
        "address": address,
        "picture": qr_svg(f"{address}?{urlencode(query)}"),
    }
    return show(request, "door/device_code", context | _joined(record))


def device_joined(request: HttpRequest, code_id: int) -> HttpResponse:
    """Whether the helper is in; the page of the code asks for it again and again."""
    record = JoinCode.objects.select_related("account").filter(pk=code_id).first()
    if record is None:
        raise InputError("is not known", where="code", mend="Make a new one")
    context = {"title": "Is the helper in?", "record": record, "role": record.role}
    return show(request, "door/device_joined", context | _joined(record))


def _joined(record: JoinCode) -> dict[str, object]:
    is_in = record.used_at is not None and record.account is not None
    device = record.account.devices.order_by("-pk").first() if is_in and record.account else None
    is_over = not is_in and clock.now() >= record.expires_at
    return {"joined": record.account if is_in else None, "device": device, "is_over": is_over}


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
    return done(request, words, reverse("devices"))
