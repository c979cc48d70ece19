"""``nearmark measure-plan``: how to take a length with the pupil's own hand."""

from pathlib import Path

import click

from nearmark.cli.examples import examples
from nearmark.cli.numbers import number
from nearmark.cli.present import console, json_option, print_json
from nearmark.coaching.body_reference import BodyReference, remeasure_by
from nearmark.coaching.measure_plan import (
    MeasurePlan,
    MeasuringRoutine,
    best_set,
    measure_plan,
    measuring_routine,
)
from nearmark.event_folder.reference_file import read_references
from nearmark.measurement.instruments import Instrument
from nearmark.words.measuring import mark_nothing, measure_again, plan_words, routine_words


@click.command(
    "measure-plan",
    help="How to take a length with the hand.",
    epilog=examples(
        "nearmark measure-plan 31 --references hands.csv",
    ),
)
@click.argument("length")
@click.option(
    "--references",
    "file",
    required=True,
    type=click.Path(path_type=Path),
    metavar="FILE",
    help="CSV: reference, reading_cm, day; one row a reading.",
)
@click.option("--resolution", default="0.1", show_default=True, metavar="CM", help="Ruler step.")
@click.option(
    "--teach",
    default=2,
    show_default=True,
    type=click.IntRange(1, 3),
    help="How many references to teach.",
)
@json_option
def command(length: str, file: Path, resolution: str, teach: int, *, as_json: bool) -> None:
    """Print the plan with the least error for about LENGTH cm."""
    ruler = Instrument("ruler", "cm", number(resolution, "--resolution", "cm"))
    references, first_day = read_references(file, ruler)
    plan = measure_plan(number(length, "LENGTH", "cm"), references)
    again = None if first_day is None else remeasure_by(first_day)
    taught, rms, worst = best_set(references, min(teach, len(references)))
    routine = measuring_routine(references)
    if as_json:
        print_json(
            _as_json(plan, references)
            | {
                "teach": [each.name for each in taught],
                "teach_rms": rms,
                "teach_worst": worst,
                "routine": _routine_as_json(routine),
                "remeasure_by": None if again is None else again.isoformat(),
            }
        )
        return
    console().print(f"About {plan.length_cm:g} cm: {plan_words(plan)}", markup=False)
    names = " and ".join(each.name for each in taught)
    console().print(
        f"  References worth knowing best: {names} (3 to 25 cm within about "
        f"{100 * rms:.1f} %, at worst {100 * worst:.1f} %).",
        markup=False,
    )
    if routine is not None:
        console().print(f"  {routine_words(routine)}", markup=False)
    if again is not None:
        console().print(f"  {measure_again(again.isoformat())}")
    console().print(f"  {mark_nothing()}")


def _routine_as_json(routine: MeasuringRoutine | None) -> dict[str, object] | None:
    if routine is None:
        return None
    return {
        "longer": routine.longer.name,
        "shorter": routine.shorter.name,
        "rms": routine.rms,
        "worst": routine.worst,
        "words": routine_words(routine),
    }


def _as_json(plan: MeasurePlan, references: tuple[BodyReference, ...]) -> dict[str, object]:
    return {
        "length_cm": plan.length_cm,
        "steps": [{"reference": r.name, "placements": times} for r, times in plan.steps],
        "fraction": plan.fraction,
        "sd_cm": plan.sd_cm,
        "relative_sd": plan.relative_sd,
        "words": plan_words(plan),
        "references": [
            {
                "reference": each.name,
                "mean_cm": each.length_cm,
                "standard_uncertainty_cm": each.u_cm,
                "repeat_cm": each.repeat_cm,
            }
            for each in references
        ],
    }
