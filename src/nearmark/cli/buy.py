"""``nearmark buy``: what to buy for the scooping places and the containers."""

import click

from nearmark.cli.numbers import number
from nearmark.cli.present import console, json_option, plain_table, print_json
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
from nearmark.words.kit_plans import cup_warnings, place_load

USUAL_CUP_FL_OZ = 12


@click.command("buy", help="What to buy for the places and the containers.")
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
@click.option("--places", required=True, type=click.IntRange(1, 500))
@click.option("--pairs", required=True, type=click.IntRange(1, 5000))
@click.option("--kept", is_flag=True, help="Scooped material does not go back into the bucket.")
@json_option
def command(
    scooped: tuple[str, ...],
    containers: tuple[str, ...],
    places: int,
    pairs: int,
    *,
    kept: bool,
    as_json: bool,
) -> None:
    """Print a purchase list with what to be careful of."""
    packages = [_coded(text, "--scoop") for text in scooped]
    lines = purchase_list(
        [material for material, _ in packages],
        Scooping(places, pairs, returned=not kept),
        package_g={material.code: mass_g for material, mass_g in packages},
        poured=[_coded(text, "--container") for text in containers],
    )
    if as_json:
        print_json({"purchases": [_as_json(line) for line in lines]})
    else:
        _show(lines)


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


def _as_json(line: Purchase) -> dict[str, object]:
    return {
        "material": line.material.code,
        "mass_g": line.mass_g,
        "packages": line.packages,
        "places": line.places,
        "per_place_g": line.per_place_g,
        "cautions": list(cautions(line.material)),
    }


def _show(lines: tuple[Purchase, ...]) -> None:
    out = console()
    table = plain_table()
    table.add_column("material")
    for heading in ("buy", "packages", "places", "each starts with"):
        table.add_column(heading, justify="right")
    for line in lines:
        table.add_row(
            line.material.name,
            f"{line.mass_g / 1000:.1f} kg",
            str(line.packages),
            str(line.places),
            f"{line.per_place_g / 1000:.1f} kg",
        )
    out.print()
    out.print(table)
    cup = next(size for size in cup_sizes() if size.us_fl_oz == USUAL_CUP_FL_OZ)
    for line in lines:
        out.print(f"\n{line.material.name}:")
        for warning in cup_warnings(cup_fill(line.material, cup)):
            out.print(f"  Look: {warning}")
        out.print(f"  {place_load(carried_mass(line.per_place_g, 0))}")
        for sentence in cautions(line.material):
            out.print(f"  Care: {sentence}")
    out.print()
