"""Templates that one can review: what the formatter does not look at."""

from pathlib import Path

import nearmark.site

TEMPLATES = Path(nearmark.site.__file__).parent / "templates"
MAX_LINE = 120


def test_no_line_is_too_long_to_be_read():
    lines = [
        f"{file.relative_to(TEMPLATES)}:{number}: {len(line)} signs"
        for file in sorted(TEMPLATES.rglob("*.html"))
        for number, line in enumerate(file.read_text(encoding="utf-8").splitlines(), 1)
        if len(line) > MAX_LINE
    ]

    assert lines == []
