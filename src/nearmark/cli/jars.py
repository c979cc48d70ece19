"""``nearmark jars``: make a library of simulated jars, in pieces if need be."""

import os
from pathlib import Path
from typing import Final

import click

from nearmark.cli.examples import examples
from nearmark.cli.jar_library import JarLibrary
from nearmark.cli.jar_workers import in_processes, on_scheduler
from nearmark.cli.present import console, json_option, print_json
from nearmark.cli.progress import progress_bar
from nearmark.errors import InputError
from nearmark.kit import BANDS, random_pour
from nearmark.packing import SHAPES, LibraryPlan, PackingRequest, library_request
from nearmark.packing.settle import ENGINE_VERSION

MAX_JARS: Final = 10_000


@click.group(
    "jars", help="A library of simulated jars.", epilog="Every command takes --json as well."
)
def command() -> None:
    """Hold the commands on a library."""


@command.command(
    "make",
    help="Make a library of jars; run again to go on where it stopped.",
    epilog=examples(
        "nearmark jars make --count 2 --shape sphere --out our-jars",
    ),
)
@click.option("--count", default=20, type=click.IntRange(1, MAX_JARS), help="Jars.")
@click.option("--band", default="small", type=click.Choice(list(BANDS)), help="Size of counts.")
@click.option(
    "--shape", "shapes", multiple=True, type=click.Choice(list(SHAPES)), help="All if none."
)
@click.option("--seed", default=0, type=click.IntRange(0, 2**31), help="Same seed, same library.")
@click.option(
    "--out",
    required=True,
    type=click.Path(file_okay=False, path_type=Path),
    help="Folder of the library.",
)
@click.option(
    "--workers", default=0, type=click.IntRange(0, 256), help="Processes; all cores if 0."
)
@click.option("--scheduler", metavar="ADDRESS", help="Dask scheduler to use instead.")
@json_option
def make(  # noqa: PLR0913 - one argument an option
    *,
    count: int,
    band: str,
    shapes: tuple[str, ...],
    seed: int,
    out: Path,
    workers: int,
    scheduler: str | None,
    as_json: bool,
) -> None:
    """Settle what is not there yet; whatever was done before stays."""
    plan = LibraryPlan(count, tuple(sorted(set(shapes))) or tuple(SHAPES), seed)
    library = JarLibrary(
        out,
        {
            "count": count,
            "band": band,
            "shapes": list(plan.shapes),
            "seed": seed,
            "engine": ENGINE_VERSION,
        },
    )
    wanted = _wanted(plan, band)
    left = {name: ask for name, ask in wanted.items() if not library.has(name, ask)}
    library.list_all()
    made = _make(library, left, workers, scheduler, quiet=as_json)
    if as_json:
        print_json({"jars": count, "made": made, "kept": count - len(left), "folder": str(out)})
    else:
        console().print(
            f"\n{count:,} jars in {out}: {made:,} made, {count - len(left):,} were there.\n"
            "jars.csv lists them; jars-key.csv holds the counts: keep it from the players.\n"
        )


def _wanted(plan: LibraryPlan, band: str) -> dict[str, PackingRequest]:
    digits = max(3, len(str(plan.n_jars)))
    return {
        f"jar-{k + 1:0{digits}d}.jar": library_request(
            plan, k, lambda rng: random_pour(BANDS[band], rng)
        )
        for k in range(plan.n_jars)
    }


def _make(
    library: JarLibrary,
    left: dict[str, PackingRequest],
    workers: int,
    scheduler: str | None,
    *,
    quiet: bool,
) -> int:
    if not left:
        return 0
    if scheduler:
        coming = on_scheduler(left, scheduler)
    else:
        coming = in_processes(left, min(workers or os.cpu_count() or 1, len(left)))
    made = 0
    with progress_bar(quiet=quiet) as bar:
        task = bar.add_task("Settling jars", total=len(left))
        try:
            for name, content, found in coming:
                library.add(name, left[name], content, found)
                made += 1
                bar.update(task, advance=1)
        except KeyboardInterrupt:
            raise InputError(
                f"stopped; {made} jars of this run are kept",
                where="jars make",
                mend="Run the same command again to go on",
            ) from None
    return made
