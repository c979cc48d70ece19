"""Who is asking: the account, the device and the role of one request."""

import threading
from dataclasses import dataclass
from typing import Final

from django.http import HttpRequest

from nearmark.site.door.access import JOB_PAGES, Job, Role
from nearmark.site.door.models import Account, Device
from nearmark.site.door.session_query import SessionState
from nearmark.site.event.snapshot import EventSnapshot, snapshot_at, snapshot_now

DEVICE_IN_SESSION: Final = "device"
"""Key of the device's number in the session."""


@dataclass(frozen=True, slots=True)
class Visitor:
    """Who sent a request."""

    role: Role = Role.PUBLIC  # ``PUBLIC`` for somebody who is not signed in
    # Shared with the other requests of this person, so never changed.
    account: Account | None = None
    device: Device | None = None
    # Whether the device waits for the PIN or password; then the role is ``PUBLIC``.
    locked: bool = False

    @property
    def name(self) -> str:
        """What is in the history."""
        return self.account.name if self.account else "somebody not signed in"

    @property
    def is_lead(self) -> bool:
        """Whether everything is open to them."""
        return self.role is Role.LEAD

    @property
    def job_pages(self) -> tuple[str, ...]:
        """Names of the pages of this helper's job; empty: all that the role opens."""
        job = self.account.job if self.account is not None and self.role is Role.SCORER else ""
        return JOB_PAGES[Job(job)] if job else ()

    @property
    def coach(self) -> Account | None:
        """The account to whom a club made now belongs; the lead needs none."""
        return self.account if self.role is Role.COACH else None


def visitor_of(request: HttpRequest) -> Visitor:
    """Who sent a request, as the middleware found out."""
    found = getattr(request, "visitor", None)
    return found if isinstance(found, Visitor) else Visitor()


def snapshot_of(request: HttpRequest) -> EventSnapshot:
    """The event as it was when a request came in; an act looks again before it changes anything."""
    sight = getattr(request, "sight", None)
    return snapshot_at(sight.event) if isinstance(sight, SessionState) else snapshot_now()


class KnownDevices:
    """The devices that were let in, until any device or account changes.

    Sessions are signed: equal content is the same device.  Whether it may still come in depends on
    the clock too, which whoever asks looks at.
    """

    def __init__(self) -> None:
        self._lock = threading.Lock()
        self._doors: str | None = None
        self._devices: dict[str, Device] = {}

    def find(self, sight: SessionState) -> Device | None:
        """The device of a session, if it was let in before and nothing has changed."""
        with self._lock:
            if sight.doors is None or sight.session is None or sight.doors != self._doors:
                return None
            return self._devices.get(sight.session)

    def keep(self, sight: SessionState, device: Device) -> None:
        """Remember a device, with its account; ``sight`` is from before it was looked up."""
        if sight.doors is None or sight.session is None:
            return
        with self._lock:
            if sight.doors != self._doors:
                self._doors, self._devices = sight.doors, {}
            self._devices[sight.session] = device


KNOWN_DEVICES: Final = KnownDevices()
