"""``nearmark pour``: how much to pour for a wanted or a random count."""

import re

import click
import numpy as np

from nearmark.cli.examples import examples
from nearmark.cli.numbers import number, whole_number
from nearmark.cli.present import console, json_option, print_json
from nearmark.cli.progress import progress_bar
from nearmark.errors import InputError
from nearmark.kit import (
    BANDS,
    CatalogueMaterial,
    Pour,
    TrialPour,
    Vessel,
    carried_mass,
    cautions,
    grams_to_pour,
    material,
    materials,
    predicted_count,
    random_pour,
    trial_pour,
    vessel,
)
from nearmark.words.kit_plans import count_within, load_words, pour_warning, trial_words


@click.command(
    "pour",
    help="How much to pour for a wanted or a random count.",
    epilog=examples(
        "nearmark pour --list",
        "nearmark pour --material chickpea --count 500",
    ),
)
@click.option("--material", "code", metavar="CODE", help="From the catalogue.")
@click.option("--list", "list_all", is_flag=True, help="List the materials and stop.")
@click.option("--count", metavar="PIECES", help="The count you want.")
@click.option("--band", metavar="BAND", help="small, medium, large, or LOW-HIGH: drawn by lot.")
@click.option("--seed", type=click.IntRange(0), help="For a draw that can be repeated.")
@click.option("--piece-mass", metavar="G", help="Mass of one piece of your own lot, g.")
@click.option("--resolution", default="0.1", metavar="G", show_default=True, help="Scale step, g.")
@click.option("--vessel", "vessel_code", metavar="CODE", help="Where it should fit.")
@click.option("--try", "is_tried", is_flag=True, help="Pour it on the computer first.")
@json_option
def command(  # noqa: PLR0913 - one argument an option
    code: str | None,
    count: str | None,
    band: str | None,
    seed: int | None,
    piece_mass: str | None,
    *,
    resolution: str,
    vessel_code: str | None,
    list_all: bool,
    is_tried: bool,
    as_json: bool,
) -> None:
    """Print the grams to weigh out, and what to be careful of."""
    if list_all:
        _list(as_json=as_json)
        return
    if code is None:
        raise InputError(
            "say what to pour", where="--material", mend="Give a code; --list shows them all"
        )
    chosen = material(code)
    into = vessel(vessel_code) if vessel_code else None
    own_g = number(piece_mass, "--piece-mass", "g") if piece_mass else None
    pour = grams_to_pour(
        _pieces(count, band, seed),
        chosen,
        scale_step_g=number(resolution, "--resolution", "g"),
        piece_mass_g=own_g,
        vessel=into,
    )
    lot = chosen.with_own(piece_mass_g=own_g)
    tried = _try(lot, pour, into, seed or 0, quiet=as_json) if is_tried else None
    if as_json:
        print_json(_as_json(chosen, pour) | ({"trial": _trial_json(tried)} if tried else {}))
    else:
        _show(chosen, pour, tried)


def _pieces(count: str | None, band: str | None, seed: int | None) -> int:
    if (count is None) == (band is None):
        raise InputError(
            "give one of the two",
            where="--count / --band",
            mend="A count you want, or a band to draw one from",
        )
    if count is not None:
        return whole_number(count, "--count")
    return random_pour(_band(band or ""), np.random.default_rng(seed))


def _band(text: str) -> tuple[int, int]:
    if text in BANDS:
        return BANDS[text]
    ends = re.fullmatch(r"(\d{1,7})-(\d{1,7})", text)
    if ends is None:
        raise InputError(
            "is no band", where="--band", value=text, mend=f"Use {', '.join(BANDS)} or 1000-5000"
        )
    return int(ends[1]), int(ends[2])


def _as_json(chosen: CatalogueMaterial, pour: Pour) -> dict[str, object]:
    return {
        "material": chosen.code,
        "pieces": pour.pieces,
        "mass_g": float(pour.mass_g),
        "relative_standard_uncertainty": pour.relative_u,
        "volume_cm3": pour.volume_cm3,
        "fill": pour.fill,
        "height_cm": pour.height_cm,
        "warnings": [pour_warning(each) for each in pour.warnings],
        "cautions": list(cautions(chosen)),
        "sources": sorted(chosen.sources),
    }


def _try(
    chosen: CatalogueMaterial, pour: Pour, into: Vessel | None, seed: int, *, quiet: bool
) -> tuple[TrialPour, int]:
    """The trial, and the count to the brim."""
    if into is None:
        raise InputError(
            "needs a container", where="--try", mend="Say where it goes: --vessel CODE"
        )
    with progress_bar(quiet=quiet) as bar:
        task = bar.add_task("Pouring", total=1.0)
        seen = trial_pour(
            pour.pieces, chosen, into, seed=seed, progress=lambda d: bar.update(task, completed=d)
        )
    return seen, predicted_count(chosen, into.volume_cm3, walls=seen.walls).pieces


def _trial_json(tried: tuple[TrialPour, int]) -> dict[str, object]:
    seen, brim = tried
    return {
        "pours": len(seen.jars),
        "height_cm": seen.height_cm,
        "surface_pieces": seen.surface_pieces,
        "layers": seen.layers,
        "product": seen.product,
        "grade": seen.grade,
        "walls_share": seen.walls.share,
        "walls_relative_standard_uncertainty": seen.walls.relative_u,
        "brim_pieces": brim,
    }


def _show(chosen: CatalogueMaterial, pour: Pour, tried: tuple[TrialPour, int] | None) -> None:
    out = console()
    out.print(f"\nPour {pour.mass_g:f} g of {chosen.plain_name}: about {pour.pieces} pieces.")
    out.print(
        f"  {count_within(pour)} About {pour.volume_cm3:.0f} cm3. "
        "Weigh it for the key: nearmark count."
    )
    out.print(f"  To carry: {load_words(carried_mass(float(pour.mass_g), 0))}")
    if tried:
        seen, brim = tried
        out.print(f"  {trial_words(seen)}")
        out.print(
            f"  Seen from above {seen.surface_pieces:.0f}, layers {seen.layers:.1f}, product "
            f"{seen.product:,.0f}. To the cm3 {100 * seen.walls.share:.0f} % of what a wide heap "
            f"holds; to the brim about {brim:,} pieces."
        )
    for warning in pour.warnings:
        out.print(f"  Look: {pour_warning(warning)}")
    for line in cautions(chosen):
        out.print(f"  Care: {line}")
    out.print()


def _list(*, as_json: bool) -> None:
    if as_json:
        print_json({"materials": [{"code": m.code, "name": m.name} for m in materials()]})
        return
    for each in materials():
        published = "published" if each.piece_mass.is_published else "typical, measure your own"
        console().print(
            f"{each.code:18} {each.name:34} {each.piece_mass_g:>7g} g a piece ({published})"
        )
