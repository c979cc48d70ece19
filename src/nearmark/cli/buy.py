"""``nearmark buy``: what to buy for the scooping places and the containers."""

from decimal import Decimal

import click

from nearmark.cli.examples import examples
from nearmark.cli.numbers import decimal_number, number
from nearmark.cli.present import console, json_option, print_json
from nearmark.cli.table import Column, show_table
from nearmark.errors import InputError
from nearmark.kit import (
    CatalogueMaterial,
    Purchase,
    Scooping,
    carried_mass,
    cautions,
    cup_fill,
    cup_sizes,
    material,
    purchase_list,
)
from nearmark.kit.purchase import Costs, costs, cups_needed
from nearmark.kit.transport import (
    USUAL_LIMIT_KG,
    USUAL_TARE_KG,
    CarBox,
    FilledThing,
    filled_buckets,
    packed_boxes,
)
from nearmark.words.kit_plans import cup_warnings, place_load
from nearmark.words.material import (
    box_words,
    cost_words,
    cups_words,
    refills_words,
    transport_words,
)

USUAL_CUP_FL_OZ = 12


@click.command(
    "buy",
    help="What to buy for the places and the containers.",
    epilog=examples(
        "nearmark buy --places 12 --pairs 80 --scoop split-pea:500",
    ),
)
@click.option(
    "--scoop",
    "scooped",
    multiple=True,
    required=True,
    metavar="CODE:PACKAGE_G",
    help="A material of the scooping places and the net mass of its package in g; repeat it.",
)
@click.option(
    "--container",
    "containers",
    multiple=True,
    metavar="CODE:GRAMS",
    help="What a container takes (nearmark pour); its material must be among --scoop packages.",
)
@click.option("--places", required=True, type=click.IntRange(1, 500), help="Places to scoop at.")
@click.option("--pairs", required=True, type=click.IntRange(1, 5000), help="Pairs of the day.")
@click.option(
    "--price",
    "prices",
    multiple=True,
    metavar="CODE:PRICE",
    help="What one package of a material costs; repeat it.",
)
@click.option("--currency", default="", metavar="TEXT", help="Shown behind every sum.")
@click.option(
    "--heavy",
    default=0,
    type=click.IntRange(0, 100),
    metavar="PERCENT",
    help="Pairs that take twice as much as others; 0 is usual.",
)
@click.option("--bucket", "bucket_l", default="0", metavar="L", help="What a bucket holds, in L.")
@click.option(
    "--carry",
    "limit_kg",
    default=f"{USUAL_LIMIT_KG:g}",
    metavar="KG",
    help="What one filled box for the car may weigh.",
)
@click.option("--kept", is_flag=True, help="Scooped material does not go back into the bucket.")
@json_option
def command(  # noqa: PLR0917, PLR0913 - one argument an option
    scooped: tuple[str, ...],
    containers: tuple[str, ...],
    places: int,
    pairs: int,
    prices: tuple[str, ...],
    currency: str,
    heavy: int,
    bucket_l: str,
    limit_kg: str,
    *,
    kept: bool,
    as_json: bool,
) -> None:
    """Print a purchase list with what to be careful of, what it costs and how it is carried."""
    packages = [_coded(text, "--scoop") for text in scooped]
    poured = [_coded(text, "--container") for text in containers]
    bought = {material.code for material, _ in packages}
    for filled, _ in poured:
        if filled.code not in bought:
            raise InputError(
                "has no package",
                where="--container",
                value=filled.code,
                mend=f"Add --scoop {filled.code}:GRAMS with what one package holds",
            )
    scooping = Scooping(
        places,
        pairs,
        returned=not kept,
        heavy_share=heavy / 100,
        bucket_l=number(bucket_l, "--bucket", "L"),
    )
    lines = purchase_list(
        [material for material, _ in packages],
        scooping,
        package_g={material.code: mass_g for material, mass_g in packages},
        poured=poured,
    )
    jars = [FilledThing(each.name, mass_g / 1000 + USUAL_TARE_KG) for each, mass_g in poured]
    plan = packed_boxes(
        [*filled_buckets(lines, scooping), *jars], limit_kg=number(limit_kg, "--carry", "kg")
    )
    spent = costs(lines, dict(map(_price, prices)))
    cups = cups_needed(pairs)
    if as_json:
        print_json(
            {
                "purchases": [_as_json(line, spent) for line in lines],
                "total": str(spent.total) if prices else None,
                "cups": cups.total,
                "boxes": [_box_as_json(box) for box in plan.boxes],
            }
        )
        return
    _show(lines)
    out = console()
    out.print(cups_words(cups))
    if prices:
        out.print(cost_words(spent, currency))
    for sentence in (*transport_words(plan), *map(box_words, plan.boxes)):
        out.print(sentence)
    out.print()


def _price(text: str) -> tuple[str, Decimal]:
    code, colon, price = text.partition(":")
    if not colon:
        raise InputError(
            "a code and a price with a colon between are needed",
            where="--price",
            value=repr(text),
            mend="Write it like split-pea:1.10",
        )
    return material(code.strip()).code, decimal_number(price, f"--price {text}")


def _box_as_json(box: CarBox) -> dict[str, object]:
    return {"mass_kg": box.mass_kg, "things": [thing.name for thing in box.things]}


def _coded(text: str, where: str) -> tuple[CatalogueMaterial, float]:
    code, colon, mass = text.partition(":")
    if not colon:
        raise InputError(
            "a code and grams with a colon between are needed",
            where=where,
            value=repr(text),
            mend="Write it like split-pea:900",
        )
    return material(code.strip()), number(mass, f"{where} {text}", "g")


def _as_json(line: Purchase, spent: Costs) -> dict[str, object]:
    cost = spent.by_code.get(line.material.code)
    return {
        "material": line.material.code,
        "mass_g": line.mass_g,
        "packages": line.packages,
        "places": line.places,
        "per_place_g": line.per_place_g,
        "refills": line.refills,
        "cost": None if cost is None else str(cost),
        "cautions": list(cautions(line.material)),
    }


def _show(lines: tuple[Purchase, ...]) -> None:
    out = console()
    headings = ("buy", "packages", "places", "each starts with")
    columns = (Column("material", wraps=True), *(Column(each, right=True) for each in headings))
    rows = [
        (
            line.material.name,
            f"{line.mass_g / 1000:.1f} kg",
            str(line.packages),
            str(line.places),
            f"{line.per_place_g / 1000:.1f} kg",
        )
        for line in lines
    ]
    out.print()
    show_table(out, columns, rows)
    cup = next(size for size in cup_sizes() if size.us_fl_oz == USUAL_CUP_FL_OZ)
    for line in lines:
        out.print(f"\n{line.material.name}:")
        for warning in cup_warnings(cup_fill(line.material, cup)):
            out.print(f"  Look: {warning}")
        if line.refills:
            out.print(f"  Each place: {refills_words(line.refills)}.")
        out.print(f"  {place_load(carried_mass(line.per_place_g, 0))}")
        for sentence in cautions(line.material):
            out.print(f"  Care: {sentence}")
    out.print()
