"""Who is asking: the account, the device and the role of one request."""

from dataclasses import dataclass
from typing import Final

from django.http import HttpRequest

from nearmark.site.models import Account, Device
from nearmark.site.roles import Role

DEVICE_IN_SESSION: Final = "device"
"""Key of the device's number in the session."""


@dataclass(frozen=True, slots=True)
class Visitor:
    """Who sent a request.

    Attributes
    ----------
    role : Role
        ``PUBLIC`` for somebody who is not signed in.
    account, device : or None
    locked : bool
        Whether the device waits for the PIN or password; then the role is ``PUBLIC``.
    """

    role: Role = Role.PUBLIC
    account: Account | None = None
    device: Device | None = None
    locked: bool = False

    @property
    def name(self) -> str:
        """What stands in the history."""
        return self.account.name if self.account else "somebody not signed in"


def visitor_of(request: HttpRequest) -> Visitor:
    """Who sent a request, as the middleware found out.

    Parameters
    ----------
    request : HttpRequest
    """
    found = getattr(request, "visitor", None)
    return found if isinstance(found, Visitor) else Visitor()
