"""``nearmark bags``: take-home bags of 100 g, who has which when, and labels to print."""

from collections.abc import Sequence
from datetime import UTC, datetime
from pathlib import Path

import click

from nearmark.cli.examples import examples
from nearmark.cli.language import language_option
from nearmark.cli.numbers import number
from nearmark.cli.present import console, json_option, print_json
from nearmark.coaching.take_home import Bag, rotation, take_home_bag
from nearmark.errors import InputError
from nearmark.event_folder.practice_log import read_practice_log
from nearmark.kit import material
from nearmark.printing import bag_labels_pdf
from nearmark.printing.bag_labels import pieces_text
from nearmark.words.season_papers import pieces_within
from nearmark.words.translation import Language, spoken_in


@click.command(
    "bags",
    help="Take-home bags: pieces, who has which when, labels.",
    epilog=examples(
        "nearmark bags rice chickpea --pupil Ada --pupil Bo --labels labels.pdf",
    ),
)
@click.argument("codes", nargs=-1, required=True, metavar="MATERIAL...")
@click.option("--grams", default="100", show_default=True, metavar="G", help="In each bag.")
@click.option("--piece-mass", multiple=True, metavar="MATERIAL=G", help="Of your own lot, g.")
@click.option("--resolution", default="0.1", show_default=True, metavar="G", help="Scale step, g.")
@click.option("--pupil", "pupils", multiple=True, metavar="NAME", help="First name or code.")
@click.option("--log", type=click.Path(path_type=Path), help="Practice log to take pupils from.")
@click.option(
    "--sessions",
    default=8,
    show_default=True,
    type=click.IntRange(1, 200),
    help="Practices of the season.",
)
@click.option("--labels", type=click.Path(path_type=Path), metavar="PDF", help="Write labels here.")
@click.option("--letter", is_flag=True, help="US letter paper instead of A4.")
@language_option
@json_option
def command(  # noqa: PLR0917, PLR0913 - one argument an option
    codes: tuple[str, ...],
    grams: str,
    piece_mass: tuple[str, ...],
    resolution: str,
    pupils: tuple[str, ...],
    log: Path | None,
    sessions: int,
    labels: Path | None,
    *,
    letter: bool,
    spoken: Language,
    as_json: bool,
) -> None:
    """Print the bags of every MATERIAL (nearmark pour --list shows the codes)."""
    own, step = _own_masses(piece_mass, codes), number(resolution, "--resolution", "g")
    mass = number(grams, "--grams", "g")
    bags = [
        take_home_bag(material(code), mass_g=mass, piece_mass_g=own.get(code), scale_step_g=step)
        for code in codes
    ]
    names = (*pupils, *(sorted({each.pupil for each in read_practice_log(log)}) if log else ()))
    turns = rotation(names, codes, sessions) if names else ()
    if labels is not None:
        with spoken_in(spoken):
            _write_labels(bags, labels, letter=letter)
    if as_json:
        print_json(_as_json(bags, turns) | {"labels": None if labels is None else str(labels)})
        return
    _show(bags, turns)
    if labels is not None:
        console().print(f"Labels: {labels}", markup=False)


def _own_masses(texts: Sequence[str], codes: Sequence[str]) -> dict[str, float]:
    masses = {}
    for text in texts:
        code, equals, mass = text.partition("=")
        if not equals or code not in codes:
            raise InputError(
                "is not one of the materials with its mass of a piece",
                where="--piece-mass",
                value=text,
                mend=f"Write it like {codes[0]}=0.41",
            )
        masses[code] = number(mass, "--piece-mass", "g")
    return masses


def _write_labels(bags: Sequence[Bag], path: Path, *, letter: bool) -> None:
    today = datetime.now(UTC).astimezone().date()  # noqa: TID251 - the day on the paper
    document = bag_labels_pdf(bags, day=today, paper="us-letter" if letter else "a4")
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_bytes(document)


def _as_json(bags: Sequence[Bag], turns: Sequence[dict[str, str]]) -> dict[str, object]:
    return {
        "bags": [
            {
                "material": bag.material.code,
                "name": bag.material.name,
                "mass_g": bag.mass_g,
                "pieces": bag.pieces,
                "relative_expanded_uncertainty": bag.relative_expanded_u,
                "volume_cm3": bag.volume_cm3,
                "cautions": list(bag.cautions),
            }
            for bag in bags
        ],
        "rotation": [
            {
                "session": session,
                "bags": [{"pupil": pupil, "material": code} for pupil, code in turn.items()],
            }
            for session, turn in enumerate(turns, 1)
        ],
    }


def _show(bags: Sequence[Bag], turns: Sequence[dict[str, str]]) -> None:
    out = console()
    for bag in bags:
        out.print(
            f"\n{bag.material.name}: {bag.mass_g:g} g, "
            f"{pieces_within(pieces_text(bag), bag.relative_expanded_u)}, "
            f"about {bag.volume_cm3:.0f} cm3",
            markup=False,
        )
        for line in bag.cautions:
            out.print(f"  Care: {line}", markup=False)
    if turns:
        out.print("\nWho takes which bag home, practice by practice:")
    for session, turn in enumerate(turns, 1):
        told = ", ".join(f"{pupil} {code}" for pupil, code in turn.items())
        out.print(f"  {session:>2}: {told}", markup=False)
    out.print()
