"""Sealing the keys: what it does, when it was done, and the hash that everybody may see."""

from dataclasses import dataclass

from django.http import HttpRequest, HttpResponse

from nearmark.contest.proof.canonical import in_groups
from nearmark.site.common.responses import done, show
from nearmark.site.door.visitor import visitor_of
from nearmark.site.event.current import required_event
from nearmark.site.kit import seal_actions as sealing
from nearmark.site.kit.models import KeySeal


@dataclass(frozen=True, slots=True)
class SealView:
    """The page of the seals, each with its hash in groups of signs."""

    title: str
    seals: list[tuple[KeySeal, str]]
    is_changed: bool


def seal(request: HttpRequest) -> HttpResponse:
    """Show the seals; seal the keys as they are now."""
    if request.method == "POST":
        made = sealing.seal_keys(by=visitor_of(request).name)
        return done(request, f"The keys are sealed, seal {made.number}.", "seal")
    record = required_event()
    seals = [(row, in_groups(row.commitment)) for row in record.seals.all()]
    is_changed = bool(seals) and sealing.is_changed_since_sealing(record)
    return show(request, "kit/seal", SealView("Sealed keys", seals, is_changed))
