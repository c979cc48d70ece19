"""Kinds of cell: how each is read and how it is written, defined together."""

import re
from collections.abc import Callable
from dataclasses import dataclass
from datetime import time
from enum import StrEnum
from typing import Any

from nearmark.errors import InputError
from nearmark.event_folder.guard import guarded, unguarded
from nearmark.event_folder.numbers import NumberStyle, shown
from nearmark.event_folder.problems import nearest


@dataclass(frozen=True, slots=True)
class Kind:
    """One kind of cell."""

    # Of a trimmed cell that is not empty; raises ``InputError`` (callable (cell, style) -> value).
    read: Callable[[str, NumberStyle], Any]
    show: Callable[[Any], str]  # callable value -> cell


def _text(cell: str, _style: NumberStyle) -> str:
    return unguarded(cell)


def _name(cell: str, _style: NumberStyle) -> str:
    name = unguarded(cell)
    if not name.strip():
        raise InputError("is blank", mend="Write a name")
    return name


TEXT = Kind(_text, guarded)
NAME = Kind(_name, guarded)
"""Text that must say something."""


def measure(*, zero_allowed: bool = False) -> Kind:
    """A decimal number of zero or more, or above zero."""

    def read(cell: str, style: NumberStyle) -> Any:  # noqa: ANN401 - a Decimal; kinds differ
        value = style.decimal(cell)
        if not value and not zero_allowed:
            raise InputError("must be above zero", mend="Check the reading")
        return value

    return Kind(read, shown)


def whole(lowest: int, highest: int | None = None, *, above: str = "Check the number") -> Kind:
    """A whole number within limits.

    ``lowest``, ``highest`` (any unit): ``None``: no limit but the one of every number. ``above``:
    what to do about a number above the highest.
    """

    def read(cell: str, style: NumberStyle) -> int:
        value = style.whole(cell)
        if value < lowest or (highest is not None and value > highest):
            limits = f"{lowest} or more" if highest is None else f"{lowest} to {highest}"
            mend = "Check the number" if value < lowest else above
            raise InputError(f"must be {limits}", mend=mend)
        return value

    return Kind(read, shown)


def choice(options: type[StrEnum]) -> Kind:
    """One word of a fixed list; capitals do not matter."""
    by_word = {option.value: option for option in options}

    def read(cell: str, _style: NumberStyle) -> StrEnum:
        option = by_word.get(cell) or by_word.get(cell.casefold())
        if option is None:
            raise InputError(f"must be one of {', '.join(by_word)}", mend=nearest(cell, by_word))
        return option

    return Kind(read, lambda option: "" if option is None else str(option))


def _time(cell: str, _style: NumberStyle) -> time:
    match = re.fullmatch(r"(\d{1,2}):(\d{2})", cell, re.ASCII)
    if match is None or int(match[1]) > 23 or int(match[2]) > 59:
        raise InputError("is no time of the day", mend="Write it as 09:20")
    return time(int(match[1]), int(match[2]))


TIME = Kind(_time, lambda moment: "" if moment is None else f"{moment:%H:%M}")
"""A time of the day, to the minute."""


def _yes(cell: str, _style: NumberStyle) -> bool:
    if cell.casefold() != "yes":
        raise InputError("must be yes or empty", mend="Write yes, or empty the cell")
    return True


YES = Kind(_yes, lambda is_so: "yes" if is_so else "")
"""Yes, or empty for no."""


_PART = re.compile(r"(?:\\[\\|]|[^|])+")


def _texts(cell: str, _style: NumberStyle) -> tuple[str, ...]:
    parts = (part.strip() for part in _PART.findall(cell))
    return tuple(unguarded(re.sub(r"\\([\\|])", r"\1", part)) for part in parts if part)


def _show_texts(texts: tuple[str, ...]) -> str:
    return " | ".join(re.sub(r"([\\|])", r"\\\1", guarded(text)) for text in texts)


TEXTS = Kind(_texts, _show_texts)
"""Several texts in one cell, with a bar between them."""
