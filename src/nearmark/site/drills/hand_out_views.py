"""What a coach hands out for a drill: a slip with a code for each child, a page for the wall."""

from dataclasses import dataclass

from django.http import HttpRequest, HttpResponse

from nearmark.errors import RuleError
from nearmark.printing.seat_slips import seat_slip, seat_slips_pdf
from nearmark.site.common import clock
from nearmark.site.common.local_time import today
from nearmark.site.common.responses import file_answer, paper_size, show
from nearmark.site.door.device_views import qr_svg
from nearmark.site.drills.models import Drill
from nearmark.site.drills.seat_actions import code_of
from nearmark.site.drills.views import drill_of, join_address


@dataclass(frozen=True, slots=True)
class DoorPage:
    """Where pupils join, to be projected: no name and no code."""

    title: str
    drill: Drill
    address: str
    picture: str  # the same to be scanned


def drill_door(request: HttpRequest, drill_id: int) -> HttpResponse:
    """The address and its QR code, for the wall."""
    drill, address = drill_of(drill_id), join_address(request)
    return show(request, "drills/door", DoorPage(drill.title, drill, address, qr_svg(address)))


def drill_slips(request: HttpRequest, drill_id: int) -> HttpResponse:
    """A slip for each seat, as PDF."""
    drill, address = drill_of(drill_id), join_address(request)
    if not drill.is_open(clock.now()):
        raise RuleError(
            "it is closed: its codes open nothing", where=drill.title, mend="Open a new drill"
        )
    seats = drill.seats.select_related("pupil", "pair")
    slips = [seat_slip(seat.called, code_of(seat), address) for seat in seats]
    document = seat_slips_pdf(drill.title, slips, day=today(), paper=paper_size(request))
    return file_answer(document, "codes.pdf")
