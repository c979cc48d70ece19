"""``nearmark cards``: practice jars and boxes on paper, their answers on pages of their own."""

from collections.abc import Sequence
from datetime import UTC, date, datetime
from pathlib import Path

import click

from nearmark.cli.examples import examples
from nearmark.cli.present import json_option, print_json
from nearmark.cli.print_pages import show_written
from nearmark.cli.progress import progress_bar
from nearmark.errors import InputError
from nearmark.printing.box_page import box_key_pdf, box_page_pdf, drawn_boxes
from nearmark.printing.jar_cards import JarCard, jar_cards_key_pdf, jar_cards_pdf

MAX_BYTES = 500_000


@click.command(
    "cards",
    help="Practice jars and boxes on paper, answers apart.",
    epilog=examples(
        "nearmark cards jar-1.jar --boxes 6 --to cards",
    ),
)
@click.argument("jar_files", nargs=-1, type=click.Path(dir_okay=False, path_type=Path))
@click.option(
    "--to",
    type=click.Path(path_type=Path),
    default=Path("cards"),
    show_default=True,
    help="Folder for the pages.",
)
@click.option("--boxes", default=0, type=click.IntRange(0, 60), help="Also a page of boxes.")
@click.option("--seed", default=1, type=click.IntRange(0, 999_999), help="Same seed, same boxes.")
@click.option("--letter", is_flag=True, help="US letter paper instead of A4.")
@json_option
def command(
    jar_files: tuple[Path, ...], *, to: Path, boxes: int, seed: int, letter: bool, as_json: bool
) -> None:
    """Write the cards of jar files made by ``nearmark jar``, and a page of boxes if asked."""
    if not jar_files and not boxes:
        raise InputError(
            "nothing to print", where="JAR_FILES", mend="Name jar files, or ask for --boxes 6"
        )
    paper, day = "us-letter" if letter else "a4", _today()
    made: dict[str, bytes] = {}
    if jar_files:
        cards = _cards(jar_files, quiet=as_json)
        made["jar-cards.pdf"] = jar_cards_pdf(cards, day=day, paper=paper)
        made["jar-cards-key.pdf"] = jar_cards_key_pdf(cards, day=day, paper=paper)
    if boxes:
        drawn = drawn_boxes(seed, boxes)
        made["boxes.pdf"] = box_page_pdf(drawn, day=day, paper=paper)
        made["boxes-key.pdf"] = box_key_pdf(drawn, day=day, paper=paper)
    written = _written(made, to)
    if as_json:
        print_json({"pages": [str(path) for path in written]})
    else:
        show_written(written)


def _today() -> date:
    return datetime.now(UTC).astimezone().date()  # noqa: TID251 - the command line is the clock


def _cards(files: Sequence[Path], *, quiet: bool) -> list[JarCard]:
    from nearmark.charts.jar_exhibit import jar_name, jar_pictures  # noqa: PLC0415 - slow to load
    from nearmark.packing import census, jar_from_bytes  # noqa: PLC0415

    jars = [(file, jar_from_bytes(_content(file))) for file in files]
    cards = []
    with progress_bar(quiet=quiet) as bar:
        task = bar.add_task("Drawing the jars", total=len(jars))
        for number, (_, jar) in enumerate(jars, start=1):
            seen = census(jar)
            cards.append(
                JarCard(
                    code=f"J{number:02d}",
                    what=jar_name(jar),
                    count=seen.count,
                    layer=seen.surface_pieces,
                    layers=seen.layers,
                    pictures=jar_pictures(jar),
                )
            )
            bar.advance(task)
    return cards


def _content(file: Path) -> bytes:
    try:
        if file.stat().st_size > MAX_BYTES:
            raise InputError(
                "is larger than 500 kB",
                where="JAR_FILES",
                value=file,
                mend="Name a file that nearmark jar has written",
            )
        return file.read_bytes()
    except OSError as problem:
        raise InputError(
            f"cannot be read ({problem.strerror})",
            where="JAR_FILES",
            value=file,
            mend="Name a file written by nearmark jar",
        ) from problem


def _written(made: dict[str, bytes], folder: Path) -> tuple[Path, ...]:
    try:
        folder.mkdir(parents=True, exist_ok=True)
        paths = tuple(folder / name for name in made)
        for path in paths:
            path.write_bytes(made[path.name])
    except OSError as problem:
        raise InputError(
            f"cannot be written ({problem.strerror})",
            where="--to",
            value=folder,
            mend="Name a folder that may be written",
        ) from problem
    return paths
