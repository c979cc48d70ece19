"""The purchase list: what to take to the shop, and what to be careful of."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from decimal import Decimal

from nearmark.contest.event import Event
from nearmark.kit import Purchase, carried_mass, cautions, cup_fill, cup_sizes
from nearmark.kit.purchase import costs
from nearmark.printing.typesetting import typeset
from nearmark.printing.words import day_text, number_text, wrappable
from nearmark.words.kit_plans import cup_warnings, place_load
from nearmark.words.material import refills_words
from nearmark.words.numbers import capital

USUAL_CUP_FL_OZ = 12


@dataclass(frozen=True, slots=True)
class PurchaseLine:
    """One material as list, page and table show it."""

    name: str
    needed: str  # with its unit, reserve and spillage included
    # Plain numbers.
    needed_g: str
    packages: str
    places: str
    each_place_g: str
    each_place: str  # what each place needs in all, with its unit; empty if none does
    refills: str  # how often its bucket is filled again; empty: never
    cost: str  # of all packages; empty without a price
    notes: tuple[str, ...]  # what to mind in the usual cup and when it is carried
    cautions: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class PurchaseView:
    """The list, ready to be set."""

    event: str
    day: str
    lines: tuple[PurchaseLine, ...]
    has_costs: bool
    extras: tuple[str, ...]  # cups, costs and boxes for the car


def purchase_lines(
    purchases: Iterable[Purchase], prices: Mapping[str, Decimal]
) -> tuple[PurchaseLine, ...]:
    """What is bought, as text.

    ``prices`` (code -> price of a package): of the materials that have one.
    """
    purchases = tuple(purchases)
    by_code = costs(purchases, prices).by_code
    return tuple(_line(bought, by_code.get(bought.material.code)) for bought in purchases)


def _line(bought: Purchase, cost: Decimal | None) -> PurchaseLine:
    cup = next(size for size in cup_sizes() if size.us_fl_oz == USUAL_CUP_FL_OZ)
    notes: list[str] = []
    if bought.places:
        notes = [capital(f"{warning}.") for warning in cup_warnings(cup_fill(bought.material, cup))]
        notes.append(place_load(carried_mass(bought.per_place_g, 0)))
    return PurchaseLine(
        name=wrappable(bought.material.name, 60),
        needed=_mass_text(bought.mass_g),
        needed_g=f"{bought.mass_g:.0f}",
        packages=str(bought.packages),
        places=str(bought.places),
        each_place_g=f"{bought.per_place_g:.0f}",
        each_place=_mass_text(bought.per_place_g) if bought.places else "",
        refills=refills_words(bought.refills),
        cost="" if cost is None else f"{cost:.2f}",
        notes=tuple(notes),
        cautions=cautions(bought.material),
    )


def _mass_text(mass_g: float) -> str:
    if mass_g < 1000:
        return f"{number_text(Decimal(round(mass_g)))} g"
    return f"{mass_g / 1000:.1f} kg"


def purchase_list_pdf(
    event: Event,
    lines: tuple[PurchaseLine, ...],
    *,
    extras: tuple[str, ...] = (),
    paper: str = "a4",
) -> bytes:
    """Set the purchase list.

    ``extras``: sentences on cups, costs and boxes. ``paper``: ``a4`` or ``us-letter``.
    """
    view = PurchaseView(
        event=wrappable(event.name, 120),
        day=day_text(event.day),
        lines=lines,
        has_costs=any(line.cost for line in lines),
        extras=extras,
    )
    return typeset("purchase_list", view, day=event.day, paper=paper)
