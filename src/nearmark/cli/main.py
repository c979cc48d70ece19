"""The ``nearmark`` command: a table of subcommands, each imported only when it is asked for."""

import importlib
import io
import json
import sys
from collections.abc import Sequence
from typing import Final

import click

from nearmark import __version__
from nearmark.errors import FilesError, InputError, NearmarkError, visible

SECTIONS: Final[dict[str, dict[str, tuple[str, str]]]] = {
    "Begin": {
        "demo": (
            "nearmark.cli.demo",
            "Write the invented event, run the whole job, open it in the browser.",
        ),
        "serve": ("nearmark.cli.serve", "Run the event in the browser, for this network."),
        "doctor": (
            "nearmark.cli.doctor",
            "Look whether everything is ready, and say what to do.",
        ),
        "backup": (
            "nearmark.cli.backup",
            "Copy the site's database into one file, also while it serves.",
        ),
        "restore": (
            "nearmark.cli.restore",
            "Bring a backup back, after a copy of what is there now.",
        ),
        "handbook": (
            "nearmark.cli.handbook",
            "The handbook of a lead as PDF, or the two pages for coaches.",
        ),
    },
    "Kit": {
        "plan": ("nearmark.cli.plan", "How many pieces to count, in how many samples."),
        "count": ("nearmark.cli.count", "Number of pieces in a container, by weighing."),
        "volume": ("nearmark.cli.volume", "Volume of a box from readings of its sides."),
        "net": ("nearmark.cli.net", "Net mass in a cup: gross minus tare."),
        "pour": ("nearmark.cli.pour", "How much to pour for a wanted or a random count."),
        "jar": ("nearmark.cli.jar", "Pour a simulated jar whose count is known exactly."),
        "cards": ("nearmark.cli.cards", "Practice jars and boxes on paper, answers apart."),
        "jars": ("nearmark.cli.jars", "A library of simulated jars."),
        "buy": ("nearmark.cli.buy", "What to buy for the places and the containers."),
    },
    "Event day (FOLDER holds the event)": {
        "pairs-import": (
            "nearmark.cli.pairs_import",
            "Preview a list of pairs, then add it to an event folder.",
        ),
        "day-plan": ("nearmark.cli.day_plan", "How a day flows: waits, and which change helps."),
        "heats": ("nearmark.cli.heats", "Who goes when: heats with schools kept together."),
        "sheets": (
            "nearmark.cli.sheets",
            "Paper for the day: answer sheets, labels, rules, lists.",
        ),
        "key": ("nearmark.cli.key", "Assigned values of an event folder."),
        "score": (
            "nearmark.cli.score",
            "Scores, places and how sure they are, of an event folder.",
        ),
        "check": ("nearmark.cli.check", "What to look at before the results go out."),
        "print": (
            "nearmark.cli.print_pages",
            "Certificates, key sheet, standings and feedback as PDF.",
        ),
        "verify": (
            "nearmark.cli.verify",
            "Is a released folder, or one pair's result, what was released?",
        ),
        "points": ("nearmark.cli.points", "Score of one estimate."),
    },
    "Season": {
        "pupil": ("nearmark.cli.pupil", "Who guesses low or high, and what to practise next."),
        "pairs": ("nearmark.cli.pairs", "Who of each pair should decide, and how sure that is."),
        "meeting": ("nearmark.cli.meeting", "The next meeting by the minute, for who is here."),
        "bags": ("nearmark.cli.bags", "Take-home bags: pieces, who has which when, labels."),
        "measure-plan": ("nearmark.cli.measure_plan", "How to take a length with the hand."),
        "lean": ("nearmark.cli.lean", "How much lower to answer when unsure."),
        "expected": ("nearmark.cli.expected", "Expected score of a bias and a scatter."),
    },
}
"""Heading -> name -> (module, one line of help).  The line is here so that ``--help`` imports
nothing."""

COMMANDS: Final = {name: row for rows in SECTIONS.values() for name, row in rows.items()}

EXIT_REFUSED: Final = 2
"""Bad input or readings that cannot bear the result: the message says what to do."""


class _LazyGroup(click.Group):
    """A group that imports a subcommand's module when the subcommand is run."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        del ctx
        return list(COMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        del ctx
        if cmd_name not in COMMANDS:
            return None
        command = importlib.import_module(COMMANDS[cmd_name][0]).command
        if not isinstance(command, click.Command):
            raise TypeError(cmd_name)
        return command

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        del ctx
        for heading, rows in SECTIONS.items():
            with formatter.section(heading):
                formatter.write_dl([(name, line) for name, (_, line) in rows.items()])


@click.group(cls=_LazyGroup, context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(__version__, prog_name="nearmark")
def cli() -> None:
    """True values one can defend, scores and places for school estimation contests.

    Masses are in g, lengths in cm, volumes in cm3.  Every command takes --json and -h.
    """


def main(args: Sequence[str] | None = None) -> None:
    """Run the command line and exit: 0 done, 2 refused with a mend, 130 interrupted.

    ``args``: the words after ``nearmark``; the process's own by default.
    """
    words = list(sys.argv[1:] if args is None else args)
    try:
        cli.main(args=words, prog_name="nearmark", standalone_mode=False)
    except NearmarkError as refusal:
        _refuse(refusal, as_json="--json" in words)
    except click.ClickException as misuse:
        if "--json" in words:
            print(json.dumps({"error": {"what": visible(misuse.format_message())}}))
        said = io.StringIO()
        misuse.show(said)
        click.echo(visible(said.getvalue()), nl=False, err=True)
        sys.exit(misuse.exit_code)
    except (click.Abort, KeyboardInterrupt):
        click.echo("Stopped.", err=True)
        sys.exit(130)
    except BrokenPipeError:
        # The reader (head, less) has gone: not our error, and nothing more can be said to it.
        sys.stderr.close()
        sys.exit(0)
    except OSError as error:
        # A name too long, a folder nobody may enter: what no command expects of a path.
        _refuse(
            InputError(
                f"cannot be used ({error.strerror or error})",
                where="file or folder",
                value=error.filename,
                mend="Check the name, the room on the disk and who may read and write there",
            ),
            as_json="--json" in words,
        )


def _refuse(refusal: NearmarkError, *, as_json: bool) -> None:
    if as_json:
        print(json.dumps({"error": error_as_json(refusal)}, ensure_ascii=False))
    click.echo(f"nearmark: {refusal}", err=True)
    sys.exit(EXIT_REFUSED)


def error_as_json(refusal: NearmarkError) -> dict[str, object]:
    """The keys of ``error`` that ``--json`` prints on a refusal.

    Returns: ``what``, ``where``, ``value`` (text or null), ``mend``; ``problems`` for files.

    >>> error_as_json(NearmarkError("must be above zero", where="--tare", value=-1))["where"]
    '--tare'
    """
    facts: dict[str, object] = {
        "what": refusal.what,
        "where": refusal.where,
        "value": None if refusal.value is None else str(refusal.value),
        "mend": refusal.mend,
    }
    if isinstance(refusal, FilesError):
        facts["problems"] = [
            {
                "file": p.file,
                "row": p.row,
                "column": p.column,
                "value": p.value,
                "what": p.what,
                "mend": p.mend,
            }
            for p in refusal.problems
        ]
    return facts
