"""The catalogue's TOML files, and their tables read with an error that names the place."""

import tomllib
from collections.abc import Collection, Mapping
from dataclasses import dataclass
from difflib import get_close_matches
from functools import cache
from importlib import resources
from typing import Any

from nearmark.errors import InputError


@cache
def read_catalogue(name: str) -> dict[str, Any]:
    """One file of the catalogue, as TOML gives it.

    >>> len(read_catalogue("cups")["cup"])
    10

    Parameters
    ----------
    name : ``materials``, ``cups``, ``vessels``, ``cautions`` or ``sources``
    """
    file = resources.files("nearmark.kit") / "catalogue" / f"{name}.toml"
    return tomllib.loads(file.read_text(encoding="utf-8"))


def nearest(code: str, known: Collection[str]) -> str:
    """A mend that names what was probably meant, or everything there is.

    >>> nearest("chikpea", ["chickpea", "rice"])
    'Did you mean chickpea?'
    """
    near = get_close_matches(code, known, n=1, cutoff=0.5)
    return f"Did you mean {near[0]}?" if near else "Known: " + ", ".join(known)


@dataclass(frozen=True, slots=True)
class Table:
    """One entry of the catalogue, read field by field."""

    kind: str  # what the entry is, for the messages: ``material``, ``cup``, ``vessel``
    entry: Mapping[str, Any]  # as TOML gives it (value by field)

    @property
    def where(self) -> str:
        """The entry by its code, for the messages."""
        return f"{self.kind} {self.entry.get('code', '(no code)')}"

    def refuse(self, field: str, what: str, value: object = None) -> InputError:
        """The error to raise for a field."""
        mend = "See docs/reference/catalogue.md for what the field means"
        return InputError(what, where=f"{self.where}, {field}", value=value, mend=mend)

    def refuse_unknown(self, known: Collection[str]) -> None:
        """Refuse a field that means nothing: it is most likely a misspelt one."""
        for field in self.entry:
            if field not in known:
                what = f"is not a field. {nearest(field, known)}"
                raise self.refuse(field, what)

    def get(self, field: str) -> Any:  # noqa: ANN401 - TOML may hold anything
        """The value of a field that must be there."""
        if field not in self.entry:
            raise self.refuse(field, "is missing")
        return self.entry[field]

    def text(self, field: str) -> str:
        """A field that must be text."""
        value = self.get(field)
        if not isinstance(value, str) or not value.strip():
            raise self.refuse(field, "must be text", value)
        return value

    def one_of(self, field: str, allowed: Collection[str]) -> str:
        """A field that must be one of some words."""
        value = self.text(field)
        if value not in allowed:
            raise self.refuse(field, f"must be one of {', '.join(allowed)}", value)
        return value

    def all_of(self, field: str, allowed: Collection[str]) -> tuple[str, ...]:
        """A field that lists some of the allowed words; empty when left out."""
        values = self.entry.get(field, [])
        if not isinstance(values, list):
            raise self.refuse(field, "must be a list of words in brackets", values)
        for value in values:
            if value not in allowed:
                raise self.refuse(field, f"must be among {', '.join(allowed)}", value)
        return tuple(values)

    def number(self, field: str, low: float, high: float) -> float:
        """A plain number between two ends."""
        return self.checked(field, self.get(field), low, high)

    def numbers(self, field: str, values: object, n: int, high: float) -> tuple[float, ...]:
        """Exactly n sizes, each from a tenth to ``high``."""
        if not isinstance(values, list) or len(values) != n:
            raise self.refuse(field, f"must be {n} numbers in brackets", values)
        return tuple(self.checked(field, v, 0.1, high) for v in values)

    def checked(self, field: str, value: object, low: float, high: float) -> float:
        """The value as a float, if it is a number between two ends."""
        if isinstance(value, bool) or not isinstance(value, int | float):
            raise self.refuse(field, "must be a number", value)
        if not low <= value <= high:  # also refuses NaN, which compares false
            raise self.refuse(field, f"must be between {low:g} and {high:g}", value)
        return float(value)
