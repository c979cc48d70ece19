"""The catalogue of materials: package data, checked when it is read."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from typing import Any, Final

from nearmark.errors import InputError, RuleError
from nearmark.kit.catalogue_files import Fields, nearest, read_catalogue

TYPICAL: Final = "typical"
"""Source mark of a value that nobody published: measure your own."""

SHAPES: Final = (
    *("sphere", "bean", "rice", "oblate", "coin", "short tube", "twist", "hex nut", "cube"),
)
TAGS: Final = ("food", "raw pulse", "glass", "dust", "heavy")
ALLERGENS: Final = (
    *("milk", "egg", "fish", "crustacean shellfish", "tree nuts", "peanuts", "wheat"),
    *("soybeans", "sesame"),
)
"""The nine major food allergens of US law (FALCPA 2004 and FASTER Act 2021, from memory)."""

TYPICAL_U: Final = 0.15
PUBLISHED_U: Final = 0.08
"""Relative standard uncertainty of a catalogue value for *your* lot: varieties and moisture differ
(common practice, no source); a specification such as a coin's mass is far better known."""

SPECIFIED: Final = frozenset({"us-mint", "din-934"})
SPECIFIED_U: Final = 0.01


@dataclass(frozen=True, slots=True)
class Figure:
    """One value of the catalogue with where it comes from.

    Attributes
    ----------
    value : unit of the field
    source : str
        ``typical``, or an entry of ``sources.toml``.
    """

    value: float
    source: str

    @property
    def is_published(self) -> bool:
        """Whether somebody published it."""
        return self.source != TYPICAL

    @property
    def relative_u(self) -> float:
        """Relative standard uncertainty of the value for a lot of your own."""
        if self.source in SPECIFIED:
            return SPECIFIED_U
        return PUBLISHED_U if self.is_published else TYPICAL_U


@dataclass(frozen=True, slots=True)
class CatalogueMaterial:
    """A dry material.

    Attributes
    ----------
    code, name, shape : str
    piece_mass : Figure, in g
    spread : Figure, relative
        Coefficient of variation from piece to piece.
    size_mm : mm, shape (3,), longest first
    size_source : str
    bulk_density : Figure, in g/cm3
    particle_density : Figure, in g/cm3, or None
    allergens, tags : tuple of str
    """

    code: str
    name: str
    shape: str
    piece_mass: Figure
    spread: Figure
    size_mm: tuple[float, float, float]
    size_source: str
    bulk_density: Figure
    particle_density: Figure | None = None
    allergens: tuple[str, ...] = ()
    tags: tuple[str, ...] = ()

    @property
    def piece_mass_g(self) -> float:
        """Mass of one piece, in g."""
        return self.piece_mass.value

    @property
    def piece_cv(self) -> float:
        """Coefficient of variation of the mass of a piece, relative."""
        return self.spread.value

    @property
    def packing_fraction(self) -> float | None:
        """Share of the bulk that is solid; ``None`` without a particle density."""
        if self.particle_density is None:
            return None
        return self.bulk_density.value / self.particle_density.value

    @property
    def sources(self) -> frozenset[str]:
        """Every source the values name, ``typical`` included."""
        figures = [self.piece_mass, self.spread, self.bulk_density]
        if self.particle_density is not None:
            figures.append(self.particle_density)
        return frozenset({self.size_source, *(f.source for f in figures)})


def materials() -> tuple[CatalogueMaterial, ...]:
    """Every material of the catalogue.

    Returns
    -------
    tuple of CatalogueMaterial

    Examples
    --------
    >>> len(materials()) >= 30
    True
    """
    return tuple(_materials().values())


def material(code: str) -> CatalogueMaterial:
    """One material by its code.

    Parameters
    ----------
    code : str
        For example ``chickpea``.

    Returns
    -------
    CatalogueMaterial

    Raises
    ------
    RuleError
        If it must never be used, such as lead shot; the message says why.
    InputError
        If there is none; the message names the nearest.

    Examples
    --------
    >>> material("coin-five-cents").piece_mass_g
    5.0
    """
    never = read_catalogue("cautions")["never"]
    if code in never:
        raise RuleError(never[code], where="material", value=code, mend="Choose another material")
    found = _materials().get(code)
    if found is None:
        raise InputError(
            "is not in the catalogue",
            where="material",
            value=code,
            mend=nearest(code, _materials()),
        )
    return found


def sources() -> dict[str, str]:
    """Titles of the published sources, by the name the values give.

    Returns
    -------
    dict name -> title

    Examples
    --------
    >>> sources()["us-mint"]
    'United States Mint, Coin specifications'
    """
    return {name: entry["title"] for name, entry in read_catalogue("sources").items()}


@cache
def _materials() -> dict[str, CatalogueMaterial]:
    known = frozenset({TYPICAL, *read_catalogue("sources")})
    return {t["code"]: material_from(t, known) for t in read_catalogue("materials")["material"]}


def material_from(table: Mapping[str, Any], known_sources: frozenset[str]) -> CatalogueMaterial:
    """Build one material from its table, after checking every field.

    Parameters
    ----------
    table : mapping field -> value
        As TOML gives it.
    known_sources : set of str

    Returns
    -------
    CatalogueMaterial

    Raises
    ------
    InputError
        If a field is missing, unknown or impossible; the message names material and field.

    Examples
    --------
    >>> try:
    ...     material_from({"code": "pea"}, frozenset())
    ... except InputError as error:
    ...     print(error.where)
    material pea, name
    """
    code = str(table.get("code", "(no code)"))
    fields = Fields(code, table, known_sources)
    longest, middle, shortest = fields.sizes()
    return CatalogueMaterial(
        code,
        fields.text("name"),
        fields.one_of("shape", SHAPES),
        _figure(fields, "piece_mass_g", 0.001, 1000),
        _figure(fields, "piece_cv", 0.001, 1),
        (longest, middle, shortest),
        fields.source("size_mm"),
        _figure(fields, "bulk_density_g_cm3", 0.01, 20),
        _figure(fields, "particle_density_g_cm3", 0.01, 25)
        if "particle_density_g_cm3" in table
        else None,
        fields.all_of("allergens", ALLERGENS),
        fields.all_of("tags", TAGS),
    )


def _figure(fields: Fields, field: str, low: float, high: float) -> Figure:
    return Figure(fields.number(field, low, high), fields.source(field))
