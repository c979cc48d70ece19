"""What a piece of long work is: its limits, its work and its result; each feature adds its own."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

from nearmark.errors import InputError
from nearmark.site.event.models import EventRecord

TRIAL: Final = "trial"

Step = Callable[[int, int], None]
"""Called with the steps done and all steps; raises when the work was cancelled."""


@dataclass(frozen=True, slots=True)
class JobResult:
    """What came of a piece of work."""

    told: str
    name: str
    content_type: str
    content: bytes
    keep: Callable[[str], object] | None = None
    """Called with the name of who asked, in the transaction that saves the file."""


@dataclass(frozen=True, slots=True)
class Kind:
    """One kind of long work."""

    title: str
    work: Callable[[EventRecord | None, int, Step], JobResult]  # (event, size, step) -> JobResult
    size_label: str = ""  # empty where there is nothing to choose
    # Sizes that may be asked for.
    least: int = 0
    usual: int = 0
    most: int = 0
    asked_elsewhere: bool = False  # a page of its own asks for it
    needs_event: bool = True

    def check(self, size: int) -> None:
        """Refuse an absurd size before anything is begun."""
        if not self.least <= size <= self.most:
            raise InputError(
                f"must be {self.least} to {self.most}",
                where=self.size_label or "size",
                value=size,
                mend=f"Ask for {self.usual}",
            )


KINDS: Final[dict[str, Kind]] = {}
"""Every kind by its name; filled when the site starts."""
