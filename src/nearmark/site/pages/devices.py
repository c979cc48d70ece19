"""Devices: who is in, a code for another one, out with one."""

import io
from urllib.parse import urlencode

import segno
from django.conf import settings
from django.http import HttpRequest, HttpResponse
from django.urls import reverse

from nearmark.site import clock
from nearmark.site.acts import doors
from nearmark.site.acts.guesses import guessers
from nearmark.site.forms import CodeForm
from nearmark.site.models import Device
from nearmark.site.pages.asking import done, post_only, show
from nearmark.site.roles import Role
from nearmark.site.visitor import visitor_of


def devices(request: HttpRequest) -> HttpResponse:
    """Every device that may come in now."""
    return show(request, "devices", _context(request))


def _context(request: HttpRequest) -> dict[str, object]:
    now = clock.now()
    rows = Device.objects.select_related("account").filter(revoked_at=None, expires_at__gt=now)
    return {
        "title": "Devices",
        "devices": rows.order_by("-joined_at"),
        "guessers": guessers(),
        "own": visitor_of(request).device,
        "form": CodeForm(),
    }


@post_only
def device_code(request: HttpRequest) -> HttpResponse:
    """Show a new one-time code, once."""
    form = CodeForm(request.POST)
    if not form.is_valid():
        return show(request, "devices", _context(request) | {"form": form}, status=422)
    again = form.cleaned_data["again"]
    role = Role(form.cleaned_data["role"] if again is None else again.role)
    code, record = doors.make_code(role, visitor_of(request).name, again=again)
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
    return show(request, "device_code", context)


def qr_svg(text: str) -> str:
    """A QR code as one SVG element.

    Parameters
    ----------
    text : str
    """
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
    if device is not None:
        doors.revoke(device, by=visitor_of(request).name)
    return done(request, "That device is out.", reverse("devices"))
