"""``nearmark plan``: how many pieces to count, in how many samples, before starting."""

import click

from nearmark.cli.examples import examples
from nearmark.cli.instruments import instrument_options
from nearmark.cli.numbers import number, percent, whole_number
from nearmark.cli.present import console, json_option, print_json
from nearmark.cli.table import Column, show_table
from nearmark.errors import InputError
from nearmark.kit import CountOptions, PlanRow, material, plan_samples
from nearmark.kit.assigned_value import percent_text
from nearmark.measurement.instruments import Instrument
from nearmark.words.numbers import plural

SHOWN = 6


@click.command(
    "plan",
    help="How many pieces to count, in how many samples.",
    epilog=examples(
        "nearmark plan --count 6000 --material chickpea --resolution 0.1",
    ),
)
@click.option("--count", "expected", required=True, metavar="PIECES", help="Roughly expected.")
@click.option("--material", "code", metavar="CODE", help="Take mass and spread from the catalogue.")
@click.option("--piece-mass", metavar="G", help="Mass of one piece, g (a pinch of ten will do).")
@click.option("--piece-cv", metavar="PERCENT", help="Spread from piece to piece, percent.")
@instrument_options("g")
@json_option
def command(  # noqa: PLR0913 - one argument an option
    expected: str,
    code: str | None,
    piece_mass: str | None,
    piece_cv: str | None,
    *,
    instrument: Instrument,
    limit: str,
    as_json: bool,
) -> None:
    """Print the plans that reach the limit, least work first."""
    mass_g, cv = _piece(code, piece_mass, piece_cv)
    options = CountOptions(piece_cv=cv, u_limit=percent(limit, "--limit"))
    plans = plan_samples(
        whole_number(expected, "--count"),
        mass_g,
        instrument,
        options=options,
    )
    if as_json:
        print_json({"u_limit": options.u_limit, "plans": [_as_json(plan) for plan in plans]})
        return
    out = console()
    best = plans[0]
    out.print(
        f"\nCount {best.n_samples} samples of {best.pieces_per_sample} "
        f"({best.total_pieces} pieces, about {plural(best.minutes, 'minute')}): "
        f"U about {percent_text(best.relative_u)}.\n"
    )
    show_table(out, _COLUMNS, [_row(plan) for plan in plans[:SHOWN]])
    out.print("\nAfter each sample, nearmark count says what the next one would bring.\n")


def _piece(code: str | None, piece_mass: str | None, piece_cv: str | None) -> tuple[float, float]:
    """Mass in g and relative spread of one piece: as given, else from the catalogue."""
    listed = material(code) if code else None
    mass_g = number(piece_mass, "--piece-mass", "g") if piece_mass else None
    cv = percent(piece_cv, "--piece-cv") if piece_cv else None
    if listed is not None:
        mass_g = listed.piece_mass_g if mass_g is None else mass_g
        cv = listed.piece_cv if cv is None else cv
    if mass_g is None or cv is None:
        raise InputError(
            "mass and spread of one piece are needed",
            where="--piece-mass / --piece-cv",
            mend="Give both, or a --material of the catalogue",
        )
    return mass_g, cv


def _as_json(plan: PlanRow) -> dict[str, object]:
    return {
        "pieces_per_sample": plan.pieces_per_sample,
        "n_samples": plan.n_samples,
        "total_pieces": plan.total_pieces,
        "minutes": plan.minutes,
        "relative_expanded_uncertainty": plan.relative_u,
    }


_COLUMNS = tuple(
    Column(heading, right=True)
    for heading in ("samples", "of pieces", "counted in all", "minutes", "U about")
)


def _row(plan: PlanRow) -> tuple[str, ...]:
    return (
        str(plan.n_samples),
        str(plan.pieces_per_sample),
        str(plan.total_pieces),
        str(plan.minutes),
        percent_text(plan.relative_u),
    )
