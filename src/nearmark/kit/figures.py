"""Values of the catalogue with where they come from and how sure they are for a lot of your own."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType
from typing import Final

from nearmark.errors import InputError
from nearmark.kit.catalogue_files import Table, read_catalogue

TYPICAL: Final = "typical"
"""Source mark of a value that nobody published: measure your own."""

OWN: Final = "own"
"""Source mark of a value measured on the lot in hand."""

DEFAULT_U: Final = {TYPICAL: 0.15, "lot": 0.08, "specification": 0.01}
"""Relative standard uncertainty for *your* lot, unless the value states its own: varieties and
moisture differ; what makers must keep to is far better known (common practice, no source)."""

KINDS: Final = ("lot", "specification", "safety")


@dataclass(frozen=True, slots=True)
class Source:
    """Where values were read."""

    name: str
    title: str
    kind: str  # ``lot``, ``specification`` or ``safety``
    opened: bool  # whether the source itself was read
    seen: str  # exactly what of it was seen; ``from memory`` if nothing


@dataclass(frozen=True, slots=True)
class Figure:
    """One value with where it comes from."""

    value: float  # unit of the field
    source: str  # ``typical``, ``own``, or an entry of ``sources.toml``
    # Standard uncertainty of the value for a lot of your own, divided by the value (relative).
    relative_u: float

    @property
    def is_published(self) -> bool:
        """Whether somebody published it."""
        return self.source not in {TYPICAL, OWN}


@cache
def sources() -> Mapping[str, Source]:
    """Every source of the catalogue, by the name the values give.

    >>> sources()["us-mint"].title
    'United States Mint, Coin specifications'

    Raises
    ------
    InputError : if an entry of ``sources.toml`` lacks a field
    """
    found = {}
    for name, entry in read_catalogue("sources").items():
        table = Table("source", {"code": name, **entry})
        if not isinstance(table.get("opened"), bool):
            raise table.refuse("opened", "must be true or false", entry["opened"])
        found[name] = Source(
            name,
            table.text("title"),
            table.one_of("kind", KINDS),
            entry["opened"],
            table.text("seen"),
        )
    return MappingProxyType(found)


def figure(table: Table, field: str, low: float, high: float) -> Figure:
    """A field that holds a value with its source, and perhaps its own uncertainty.

    >>> pea = Table("material", {"code": "pea", "mass": {"value": 0.2, "source": "typical"}})
    >>> figure(pea, "mass", 0.001, 1)
    Figure(value=0.2, source='typical', relative_u=0.15)

    Parameters
    ----------
    low, high : unit of the field; ends of what is possible

    Raises
    ------
    InputError : if the field is missing, names no known source, or its value is impossible
    """
    source, value, u = sourced(table, field)
    return Figure(table.checked(field, value, low, high), source, u)


def sourced(table: Table, field: str) -> tuple[str, object, float]:
    """Source, raw value and relative standard uncertainty of a field.

    >>> sourced(Table("material", {"size": {"value": [7, 6], "source": "typical"}}), "size")
    ('typical', [7, 6], 0.15)

    Raises
    ------
    InputError : if the field is no such value, or names no known source
    """
    given = table.get(field)
    if not isinstance(given, dict) or not given.keys() <= {"value", "source", "u"}:
        raise table.refuse(field, 'must read like { value = 0.2, source = "typical" }', given)
    source = given.get("source")
    if not isinstance(source, str) or source not in {TYPICAL, *sources()}:
        raise table.refuse(field, "names no known source", source)
    default = DEFAULT_U[TYPICAL] if source == TYPICAL else DEFAULT_U.get(sources()[source].kind)
    if default is None:
        raise table.refuse(field, "names a source of cautions, not of values", source)
    u = given.get("u", default)
    return source, given.get("value"), table.checked(f"{field}, u", u, 0.0001, 1)


def own_figure(value: float, relative_u: float, *, where: str) -> Figure:
    """A value measured on the lot in hand.

    >>> own_figure(0.358, 0.01, where="mass of a piece").source
    'own'

    Parameters
    ----------
    value : unit of the field, > 0
    relative_u : relative, 0 to 1; standard uncertainty divided by the value
    where : which value, for the message

    Raises
    ------
    InputError : if a number is impossible
    """
    if not 0 < value < float("inf"):
        raise InputError("must be above zero", where=where, value=value, mend="Check its unit")
    if not 0 <= relative_u <= 1:
        raise InputError(
            "must be between 0 and 1",
            where=f"{where}, relative uncertainty",
            value=relative_u,
            mend="One percent is 0.01",
        )
    return Figure(float(value), OWN, float(relative_u))
