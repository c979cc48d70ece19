"""``nearmark jar``: pour a simulated jar whose count is known exactly."""

from dataclasses import asdict
from pathlib import Path

import click

from nearmark.cli.examples import examples
from nearmark.cli.numbers import number, percent, whole_number
from nearmark.cli.present import console, json_option, print_json
from nearmark.cli.progress import compiling_said, progress_bar
from nearmark.errors import InputError
from nearmark.packing import (
    SHAPES,
    Census,
    Jar,
    JarVessel,
    PackingRequest,
    box,
    census,
    cup,
    cylinder,
    grain_shape,
    jar_bytes,
    rounded_jar,
    settle,
)

FORMS = {"cylinder": (cylinder, 2), "box": (box, 3), "cup": (cup, 3), "jar": (rounded_jar, 3)}
VESSEL_HELP = (
    "Inside measures in cm: cylinder:DIAMETERxHEIGHT, box:WIDTHxDEPTHxHEIGHT, "
    "cup:FLOORxRIMxHEIGHT or jar:DIAMETERxHEIGHTxEDGE."
)


@click.command(
    "jar",
    help="Pour a simulated jar whose count is known exactly.",
    epilog=examples(
        "nearmark jar sphere --count 60 --width 16 --vessel cylinder:8x10 --out m.jar",
    ),
)
@click.argument("shape", type=click.Choice(list(SHAPES)))
@click.option("--count", required=True, metavar="N", help="Pieces, at most 20,000.")
@click.option("--width", required=True, metavar="MM", help="Mean width of a piece, mm.")
@click.option("--vessel", required=True, metavar="FORM:CM", help=VESSEL_HELP)
@click.option("--seed", default=0, type=click.IntRange(0, 2**63 - 1), help="Same seed, same jar.")
@click.option("--spread", default="2", metavar="PERCENT", help="Spread of the width, percent.")
@click.option("--friction", default="0.3", help="Coefficient between pieces.")
@click.option("--taps", default=0, type=int, help="Taps of the filled vessel on the table.")
@click.option("--out", type=click.Path(dir_okay=False, path_type=Path), help="Write the jar file.")
@json_option
def command(  # noqa: PLR0913 - one argument an option
    shape: str,
    count: str,
    width: str,
    vessel: str,
    *,
    seed: int,
    spread: str,
    friction: str,
    taps: int,
    out: Path | None,
    as_json: bool,
) -> None:
    """Settle one jar, say what is in it and what the eye sees, write it if asked."""
    request = PackingRequest(
        shape=grain_shape(shape),
        n_grains=whole_number(count, "--count"),
        width_mm=number(width, "--width", "mm"),
        vessel=vessel_from(vessel),
        seed=seed,
        size_cv=percent(spread, "--spread"),
        friction=number(friction, "--friction"),
        taps=taps,
    )
    with progress_bar(quiet=as_json) as bar, compiling_said(bar) as begun:
        task = bar.add_task("Pouring", total=1.0)

        def poured(share: float) -> None:
            begun()
            bar.update(task, completed=share)

        jar = settle(request, progress=poured)
    found = census(jar)
    if out is not None:
        _write(out, jar_bytes(jar))
    if as_json:
        print_json({"census": asdict(found), "rest": asdict(jar.rest), "engine": jar.version})
    else:
        _show(jar, found, out)


def vessel_from(text: str) -> JarVessel:
    """Read ``FORM:CMxCM``.

    ``text``: for example ``cylinder:8x12``. Raises InputError if the form is unknown or the number
    of measures does not fit it.

    >>> vessel_from("cylinder:8x12").height_cm
    12.0
    """
    form, _, measures = text.partition(":")
    if form not in FORMS:
        raise InputError(
            "no such form", where="--vessel", value=repr(text), mend=f"One of: {', '.join(FORMS)}"
        )
    make, n_measures = FORMS[form]
    values = [number(part, "--vessel", "cm") for part in measures.split("x")]
    if len(values) != n_measures:
        raise InputError(
            f"a {form} takes {n_measures} measures",
            where="--vessel",
            value=repr(text),
            mend=VESSEL_HELP,
        )
    return make(*values)  # type: ignore[operator, no-any-return]


def _write(out: Path, content: bytes) -> None:
    try:
        out.write_bytes(content)
    except OSError as problem:
        raise InputError(
            f"cannot be written ({problem.strerror})",
            where="--out",
            value=str(out),
            mend="Name a file in a folder that exists and may be written",
        ) from problem


def _show(jar: Jar, found: Census, out: Path | None) -> None:
    say = console().print
    bulk = "too small a bed" if found.bulk_fraction is None else f"{found.bulk_fraction:.3f}"
    say(f"\n{found.count:,} pieces ({jar.request.shape.name}), seed {jar.request.seed}\n")
    say(f"  fill height        {found.fill_height_cm:.2f} cm")
    say(f"  packing fraction   {found.fraction:.3f} (bulk {bulk})")
    say(f"  seen from above    {found.surface_pieces} pieces")
    say(f"  seen at the side   {found.wall_pieces} pieces in {found.layers:.1f} layers")
    say(
        f"  surface x layers   {found.product:,.0f}: "
        f"{100 * (found.product / found.count - 1):+.0f} % off ({found.grade})"
    )
    say(
        f"  at rest            kinetic energy {jar.rest.kinetic:.1e} m g w per piece, "
        f"overlap at most {100 * jar.rest.overlap_max:.2f} % of a width"
    )
    if out is not None:
        say(f"  written            {out} ({out.stat().st_size:,} bytes)")
    say("")
