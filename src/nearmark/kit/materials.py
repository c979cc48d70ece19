"""The catalogue of materials: package data, checked when it is read."""

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import cache
from typing import Any, Final

from nearmark.errors import InputError
from nearmark.kit.catalogue_files import Table, nearest, read_catalogue
from nearmark.kit.figures import Figure, figure, own_figure, sourced
from nearmark.kit.never import refuse_forbidden_material

SHAPES: Final = (
    *("sphere", "bean", "rice", "oblate", "coin", "short tube", "twist", "hex nut", "cube"),
)
TAGS: Final = ("food", "raw pulse", "glass", "dust", "heavy")
ALLERGENS: Final = (
    *("milk", "egg", "fish", "crustacean shellfish", "tree nuts", "peanuts", "wheat"),
    *("soybeans", "sesame"),
)
"""The nine major food allergens of US law: FALCPA 2004 and FASTER Act 2021 (sources.toml)."""

FIELDS: Final = (
    *("code", "name", "shape", "piece_mass_g", "piece_cv", "size_mm", "bulk_density_g_cm3"),
    *("packing_fraction", "particle_density_g_cm3", "allergens", "tags", "note"),
)


@dataclass(frozen=True, slots=True)
class CatalogueMaterial:
    """A dry material."""

    code: str
    name: str
    shape: str
    piece_mass: Figure  # Figure, in g
    spread: Figure  # coefficient of variation from piece to piece (Figure, relative)
    size_mm: tuple[float, float, float]  # mm, longest first
    size_source: str
    bulk_density: Figure  # Figure, in g/cm3
    particle_density: Figure | None = None  # Figure, in g/cm3, or None
    allergens: tuple[str, ...] = ()
    tags: tuple[str, ...] = ()
    note: str = ""  # what to mind when this material is weighed; empty if nothing

    @property
    def plain_name(self) -> str:
        """The name as it is within a sentence."""
        return self.name[:1].lower() + self.name[1:]

    @property
    def mean_size_mm(self) -> float:
        """Geometric mean of the three sizes, in mm."""
        return math.prod(self.size_mm) ** (1 / 3)

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

    def with_own(
        self,
        *,
        piece_mass_g: float | None = None,
        piece_mass_u: float = 0.01,
        bulk_density_g_cm3: float | None = None,
        bulk_density_u: float = 0.03,
    ) -> "CatalogueMaterial":
        """The same material with what was measured on your own lot.

        >>> material("chickpea").with_own(piece_mass_g=0.41).piece_mass.relative_u
        0.01

        Parameters
        ----------
        piece_mass_g : g, > 0, or None; ``None`` keeps the catalogue's
        piece_mass_u : relative; standard uncertainty; 1 % is what three samples of a hundred give
        bulk_density_g_cm3 : g/cm3, > 0, or None
            Net mass of a filled measure divided by its volume; ``None`` keeps the catalogue's.
        bulk_density_u : relative; standard uncertainty; two fillings rarely agree better than 3 %

        Raises
        ------
        InputError : if a number is impossible
        """
        own = self
        if piece_mass_g is not None:
            mass = own_figure(piece_mass_g, piece_mass_u, where="mass of a piece")
            own = replace(own, piece_mass=mass)
        if bulk_density_g_cm3 is not None:
            bulk = own_figure(bulk_density_g_cm3, bulk_density_u, where="bulk density")
            own = replace(own, bulk_density=bulk)
        return own


def materials() -> tuple[CatalogueMaterial, ...]:
    """Every material of the catalogue.

    >>> len(materials()) >= 30
    True
    """
    return tuple(_materials().values())


def material(code: str) -> CatalogueMaterial:
    """One material by its code.

    >>> material("coin-five-cents").piece_mass_g
    5.0

    Raises
    ------
    RuleError : if it must never be used, such as lead shot; the message says why
    InputError : if there is none; the message names the nearest
    """
    refuse_forbidden_material(code)
    found = _materials().get(code)
    if found is None:
        raise InputError(
            "is not in the catalogue",
            where="material",
            value=code,
            mend=nearest(code, _materials()),
        )
    return found


def material_from(entry: Mapping[str, Any]) -> CatalogueMaterial:
    """Build one material from its table, after checking every field.

    >>> try:
    ...     material_from({"code": "pea"})
    ... except InputError as error:
    ...     print(error.where)
    material pea, name

    Raises
    ------
    RuleError : if it must never be used
    InputError : if a field is missing, unknown or impossible; the message names material and field
    """
    table = Table("material", entry)
    table.refuse_unknown(FIELDS)
    code, name = table.text("code"), table.text("name")
    refuse_forbidden_material(code, name)
    size_source, size_mm = _sizes(table)
    density = _optional(table, "particle_density_g_cm3", 25)
    return CatalogueMaterial(
        code,
        name,
        table.one_of("shape", SHAPES),
        figure(table, "piece_mass_g", 0.001, 1000),
        figure(table, "piece_cv", 0.001, 1),
        size_mm,
        size_source,
        _bulk_density(table, density),
        density,
        table.all_of("allergens", ALLERGENS),
        table.all_of("tags", TAGS),
        table.text("note") if "note" in entry else "",
    )


@cache
def _materials() -> dict[str, CatalogueMaterial]:
    found: dict[str, CatalogueMaterial] = {}
    for entry in read_catalogue("materials")["material"]:
        built = material_from(entry)
        if built.code in found:
            raise Table("material", entry).refuse("code", "is there twice", built.code)
        found[built.code] = built
    return found


def _sizes(table: Table) -> tuple[str, tuple[float, float, float]]:
    source, values, _ = sourced(table, "size_mm")
    longest, middle, shortest = table.numbers("size_mm", values, 3, 200)
    if not longest >= middle >= shortest:
        raise table.refuse("size_mm", "must run from longest to shortest", values)
    return source, (longest, middle, shortest)


def _optional(table: Table, field: str, high: float) -> Figure | None:
    return figure(table, field, 0.01, high) if field in table.entry else None


def _bulk_density(table: Table, particle_density: Figure | None) -> Figure:
    """As measured, or packing fraction times particle density (relative variances add)."""
    given = _optional(table, "bulk_density_g_cm3", 20)
    packing = _optional(table, "packing_fraction", 1)
    if (given is None) == (packing is None):
        what = "give exactly one of bulk_density_g_cm3 and packing_fraction"
        raise table.refuse("bulk_density_g_cm3", what)
    if given is not None:
        return given
    if packing is None or particle_density is None:
        raise table.refuse("packing_fraction", "needs particle_density_g_cm3 beside it")
    u = math.hypot(packing.relative_u, particle_density.relative_u)
    return Figure(packing.value * particle_density.value, packing.source, u)
