"""The catalogue's TOML files, and their fields read with an error that names the place."""

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from difflib import get_close_matches
from functools import cache
from importlib import resources
from typing import Any

from nearmark.errors import InputError


@cache
def read_catalogue(name: str) -> dict[str, Any]:
    """One file of the catalogue, as TOML gives it.

    Parameters
    ----------
    name : str
        ``materials``, ``cups``, ``vessels``, ``cautions`` or ``sources``.

    Examples
    --------
    >>> len(read_catalogue("cups")["cup"])
    10
    """
    file = resources.files("nearmark.kit") / "catalogue" / f"{name}.toml"
    return tomllib.loads(file.read_text(encoding="utf-8"))


def nearest(code: str, known: Mapping[str, object]) -> str:
    """A mend that names what was probably meant, or everything there is.

    Parameters
    ----------
    code : str
    known : mapping with the known codes as keys

    Examples
    --------
    >>> nearest("chikpea", {"chickpea": 1, "rice": 2})
    'Did you mean chickpea?'
    """
    near = get_close_matches(code, known, n=1, cutoff=0.5)
    return f"Did you mean {near[0]}?" if near else "Known: " + ", ".join(known)


@dataclass(frozen=True, slots=True)
class Fields:
    """The fields of one material's table, read with an error that names the place.

    Attributes
    ----------
    code : str
    table : mapping field -> value
    known_sources : set of str
    """

    code: str
    table: Mapping[str, Any]
    known_sources: frozenset[str]

    def refuse(self, field: str, what: str, value: object = None) -> InputError:
        """The error to raise for a field."""
        mend = "See docs/catalogue.md for what the field means"
        return InputError(what, where=f"material {self.code}, {field}", value=value, mend=mend)

    def get(self, field: str) -> Any:  # noqa: ANN401 - TOML may hold anything
        """The value of a field that must be there."""
        if field not in self.table:
            raise self.refuse(field, "is missing")
        return self.table[field]

    def text(self, field: str) -> str:
        """A field that must be text."""
        value = self.get(field)
        if not isinstance(value, str) or not value.strip():
            raise self.refuse(field, "must be text", value)
        return value

    def one_of(self, field: str, allowed: tuple[str, ...]) -> str:
        """A field that must be one of some words."""
        value = self.text(field)
        if value not in allowed:
            raise self.refuse(field, f"must be one of {', '.join(allowed)}", value)
        return value

    def all_of(self, field: str, allowed: tuple[str, ...]) -> tuple[str, ...]:
        """A field that lists some of the allowed words; empty when left out."""
        values = self.table.get(field, [])
        for value in values:
            if value not in allowed:
                raise self.refuse(field, f"must be among {', '.join(allowed)}", value)
        return tuple(values)

    def source(self, field: str) -> str:
        """The source a value names."""
        value = self.get(field)
        named = value.get("source") if isinstance(value, Mapping) else None
        if named not in self.known_sources:
            raise self.refuse(field, "names no known source", named)
        return str(named)

    def number(self, field: str, low: float, high: float) -> float:
        """A value between two ends."""
        self.source(field)
        return self._number(field, self.get(field).get("value"), low, high)

    def sizes(self) -> list[float]:
        """Three sizes in mm, longest first."""
        self.text("name")
        self.source("size_mm")
        values = self.get("size_mm").get("value")
        if not isinstance(values, list) or len(values) != 3:
            raise self.refuse("size_mm", "must be three sizes", values)
        sizes = [self._number("size_mm", v, 0.1, 200) for v in values]
        if sizes != sorted(sizes, reverse=True):
            raise self.refuse("size_mm", "must run from longest to shortest", values)
        return sizes

    def _number(self, field: str, value: object, low: float, high: float) -> float:
        if isinstance(value, bool) or not isinstance(value, int | float):
            raise self.refuse(field, "must be a number", value)
        if not low <= value <= high:
            raise self.refuse(field, f"must be between {low:g} and {high:g}", value)
        return float(value)
