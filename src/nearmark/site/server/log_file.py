"""A log that a helper can send to somebody: no name, no key, no value in it.

Only the fixed words of a message are written, never what was filled in, and of an error its kind
and the places in the code, never its text.
"""

import logging
import traceback
from pathlib import Path
from typing import Final

LOG_FILE: Final = "nearmark.log"
MAX_BYTES: Final = 1_000_000


class FixedWordsFormatter(logging.Formatter):
    """Writes what the code says, and nothing that anybody typed."""

    def format(self, record: logging.LogRecord) -> str:
        """One line, and one more for each place in the code that an error came through."""
        lines = [f"{self.formatTime(record)} {record.levelname} {record.name}: {record.msg}"]
        if record.exc_info and record.exc_info[0] is not None:
            lines.append(f"  {record.exc_info[0].__name__}")
            for frame in traceback.extract_tb(record.exc_info[2]):
                place = "/".join(Path(frame.filename).parts[-3:])
                lines.append(f"  {place}:{frame.lineno} in {frame.name}")
        return "\n".join(lines)


def begin_log(data: Path) -> None:
    """Put a long log aside, for the owner only; one before it is kept."""
    file = data / LOG_FILE
    if file.exists() and file.stat().st_size > MAX_BYTES:
        file.replace(file.with_name(f"{LOG_FILE}.1"))
    file.touch(mode=0o600)
