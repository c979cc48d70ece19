"""``nearmark serve`` whose clock stands still, so that a page is the same on every day.

python still_server.py FILE serve ...    as ``tools/missing_names.py``
"""

import os
import runpy
from datetime import UTC, datetime
from pathlib import Path

from django.utils import timezone

NOW = datetime(2027, 5, 8, 9, 12, tzinfo=UTC)
"""The morning of the invented event."""


def stand_still() -> None:
    """Before anything else asks the time."""
    os.environ["TZ"] = "Etc/UTC"
    timezone.now = lambda: NOW
    from nearmark.site.common import clock  # noqa: PLC0415 - it reads the clock when it is loaded

    clock.steady_now = lambda: NOW  # type: ignore[assignment]  # it would run on beside a clock that stands


if __name__ == "__main__":
    stand_still()
    tool = Path(__file__).parents[2] / "tools" / "missing_names.py"
    runpy.run_path(str(tool), run_name="__main__")
