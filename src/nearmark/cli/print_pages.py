"""``nearmark print``: the pages of an event as PDF."""

from collections.abc import Callable, Iterable, Sequence
from functools import partial
from pathlib import Path

import click

from nearmark.cli.examples import examples
from nearmark.cli.folder import folder_argument
from nearmark.cli.language import language_option
from nearmark.cli.present import console, json_option, print_json
from nearmark.cli.progress import draws_with_progress, progress_bar
from nearmark.contest import RankConfidence, Results, results
from nearmark.event_folder import read_event
from nearmark.printing import (
    event_certificate_pdf,
    feedback_pdf,
    standings_pdf,
)
from nearmark.printing.after_paper import AFTER_PAPERS, sealed_papers
from nearmark.printing.fonts_in_use import fonts_from
from nearmark.printing.missing_signs import MissingSigns, missing_signs
from nearmark.printing.wishes import Wishes
from nearmark.words.missing_signs import what_to_do
from nearmark.words.translation import ENGLISH, Language, spoken_in

fonts_option = click.option(
    "--fonts",
    type=click.Path(path_type=Path),
    help="A folder of fonts, for names in scripts that ours lacks.",
)
"""Beside the fonts that ship."""


@click.command(
    "print",
    help="Certificates, key sheet, standings and feedback as PDF.",
    epilog=examples(
        "nearmark print larkspur-valley --to pages",
    ),
)
@folder_argument
@click.option("--to", type=click.Path(path_type=Path), help="Where to write (FOLDER/pages).")
@click.option("--letter", is_flag=True, help="US letter paper instead of A4.")
@click.option("--names", is_flag=True, help="Print children's names beside the codes.")
@language_option
@fonts_option
@json_option
def command(  # noqa: PLR0913 - one argument an option
    folder: Path,
    *,
    to: Path | None,
    letter: bool,
    names: bool,
    spoken: Language,
    fonts: Path | None,
    as_json: bool,
) -> None:
    """Write every page; feedback and certificates are in the language of the children."""
    outcome = results(read_event(folder))
    with fonts_from(fonts):
        confidence = draws_with_progress(outcome, 10_000, quiet=as_json)
        pages = write_pages(
            outcome,
            confidence,
            to or folder / "pages",
            quiet=as_json,
            letter=letter,
            names=names,
            spoken=spoken,
        )
        missing = missing_signs(outcome.event, names=names)
    if as_json:
        print_json({"pages": [str(page) for page in pages], "not_printed": missing_json(missing)})
    else:
        show_written(pages)
        show_missing(missing)


def write_pages(  # noqa: PLR0913 - one argument an option
    outcome: Results,
    confidence: RankConfidence,
    folder: Path,
    *,
    quiet: bool = False,
    letter: bool = False,
    names: bool = False,
    spoken: Language = ENGLISH,
) -> tuple[Path, ...]:
    """Write every page of an event, one file each.

    ``folder``: made if missing. ``quiet``: no progress bar. ``letter``: US letter paper instead of
    A4. ``names``: print children's names beside the codes. ``spoken``: language of feedback and
    certificates.
    Returns: the files written.
    """
    folder.mkdir(parents=True, exist_ok=True)
    paper = "us-letter" if letter else "a4"

    def feedback() -> bytes:
        with spoken_in(spoken):
            return feedback_pdf(outcome, paper=paper, names=names)

    jobs: list[tuple[str, Callable[[], bytes]]] = [
        (
            f"certificate-{key.item.code}.pdf",
            lambda key=key: event_certificate_pdf(outcome, key, paper=paper),  # type: ignore[misc]
        )
        for key in outcome.keys.values()
        if key.assigned is not None
    ]
    wishes = Wishes(paper=paper, names=names, language=spoken.code)
    jobs += [
        (f"{page.name}.pdf", partial(page.made, outcome, wishes)) for page in sealed_papers(outcome)
    ]
    jobs += [
        ("standings.pdf", lambda: standings_pdf(outcome, confidence, paper=paper, names=names)),
        ("feedback.pdf", feedback),
    ]
    jobs += [(f"{page.name}.pdf", partial(page.made, outcome, wishes)) for page in AFTER_PAPERS]
    return tuple(_written(jobs, folder, quiet=quiet))


def _written(
    jobs: list[tuple[str, Callable[[], bytes]]], folder: Path, *, quiet: bool
) -> Iterable[Path]:
    with progress_bar(quiet=quiet) as bar:
        task = bar.add_task("Setting the pages", total=len(jobs))
        for name, build in jobs:
            path = folder / name
            path.write_bytes(build())
            bar.advance(task)
            yield path


def show_written(pages: tuple[Path, ...]) -> None:
    """Say which pages were written."""
    if pages:
        files = "PDF file" if len(pages) == 1 else "PDF files"
        console().print(f"{len(pages)} {files} in {pages[0].parent}:")
        console().print("  " + ", ".join(page.name for page in pages))


def show_missing(missing: Sequence[MissingSigns]) -> None:
    """Say which names do not print, and what to do."""
    if not missing:
        return
    console().print()
    for one in missing:
        console().print(f"  {one.words}", markup=False)
    console().print(what_to_do(), markup=False)


def missing_json(missing: Sequence[MissingSigns]) -> list[dict[str, str]]:
    """The same as plain data: ``what``, ``name``, ``signs``."""
    return [{"what": m.what.value, "name": m.name, "signs": m.signs} for m in missing]
