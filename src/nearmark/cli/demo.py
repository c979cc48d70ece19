"""``nearmark demo``: write the invented event, run the whole job on it, open it in the browser."""

import sys
from pathlib import Path

import click
from rich.text import Text

from nearmark.cli.examples import examples
from nearmark.cli.present import console, json_option, print_json
from nearmark.cli.print_pages import show_written, write_pages
from nearmark.cli.progress import draws_with_progress
from nearmark.cli.score import score_as_json, show_standings
from nearmark.contest import results
from nearmark.demo import SEED, larkspur_valley
from nearmark.demo_season import practice_season
from nearmark.errors import InputError
from nearmark.event_folder import read_event, write_event
from nearmark.event_folder.practice_log_writer import practice_log_text

DEFAULT_FOLDER = Path("larkspur-valley")
SEASON_FILE = "season.csv"


@click.command(
    "demo",
    help="Write the invented event, run the whole job, open it in the browser.",
    epilog=examples(
        "nearmark demo",
        "nearmark demo larkspur-valley --no-pages --no-site",
    ),
)
@click.argument("folder", type=click.Path(path_type=Path), default=DEFAULT_FOLDER)
@click.option(
    "--seed",
    default=SEED,
    show_default=True,
    type=click.IntRange(0, 2**32 - 1),
    help="Another number makes another event.",
)
@click.option("--no-pages", is_flag=True, help="Leave the PDF pages out.")
@click.option(
    "--site/--no-site",
    default=None,
    help="Open it in the browser afterwards, until Ctrl+C. Usual when a person is at the terminal.",
)
@click.option(
    "--port",
    type=click.IntRange(1, 65535),
    default=8000,
    show_default=True,
    help="Where the browser finds it on this computer.",
)
@json_option
def command(
    folder: Path, *, seed: int, no_pages: bool, site: bool | None, port: int, as_json: bool
) -> None:
    """Write the event folder, read it back, score it, write the pages, serve the site."""
    _refuse_a_foreign_folder(folder)
    write_event(larkspur_valley(seed), folder)
    season = folder / SEASON_FILE
    season.write_text(practice_log_text(practice_season(seed)), encoding="utf-8", newline="")
    # Read back what was written: the demo goes the same way as anybody's own event.
    outcome = results(read_event(folder))
    confidence = draws_with_progress(outcome, 10_000, quiet=as_json)
    pages = () if no_pages else write_pages(outcome, confidence, folder / "pages", quiet=as_json)
    if as_json:
        print_json(
            {"folder": str(folder), "season": str(season), "pages": [str(page) for page in pages]}
            | score_as_json(outcome, confidence)
        )
        return
    show_standings(outcome, confidence)
    out = console()
    out.print(Text("An invented event: nothing in it was measured, nobody in it exists.", "dim"))
    out.print(f"Event folder (open it in a spreadsheet): {folder}")
    show_written(pages)
    out.print(f"Season before it, ten practices of six pupils: {season}")
    out.print(f"Next: nearmark key {folder} --budgets   nearmark check {folder}")
    out.print(f"      nearmark pupil {season}   nearmark pairs {season}")
    if site is None:
        # A program that runs the demo waits for its end.
        site = sys.stdin.isatty() and sys.stdout.isatty()
    if site:
        _serve(folder, seed, port)
    else:
        out.print("In the browser: nearmark demo --site")


def _serve(folder: Path, seed: int, port: int) -> None:
    """The same event on the site, for this computer only."""
    # Only here: Django costs a quarter of a second that no other way of the demo needs.
    from nearmark.site.server.serving import Served, prepare, run  # noqa: PLC0415

    served = Served(data=folder / "site", port=port, address="127.0.0.1", is_local=True)
    prepare(served)
    from django.utils import timezone  # noqa: PLC0415

    from nearmark.site.event_day.demo import seed_demo  # noqa: PLC0415 - its tables need a prepared site

    seed_demo(larkspur_valley(seed), today=timezone.localdate())
    click.echo(f"\nOpen {served.url} - the first visitor becomes the lead. Stop with Ctrl+C.\n")
    run(served)


def _refuse_a_foreign_folder(folder: Path) -> None:
    """Write only into an empty or missing folder, or over an earlier demo."""
    if not folder.exists():
        return
    if not folder.is_dir():
        raise InputError("is not a folder", where="FOLDER", value=folder, mend="Name another one")
    own = (folder / "event.toml").is_file() and "Larkspur Valley Estimation Day" in (
        folder / "event.toml"
    ).read_text(encoding="utf-8", errors="replace")
    if any(folder.iterdir()) and not own:
        raise InputError(
            "holds other files",
            where="FOLDER",
            value=folder,
            mend="Name an empty or a new folder, so that nothing of yours is overwritten",
        )
