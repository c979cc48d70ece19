"""``nearmark verify``: whether a released folder, or the result of one pair, is what it says."""

import sys
from pathlib import Path
from typing import Final

import click
from rich.text import Text

from nearmark.cli.examples import examples
from nearmark.cli.present import console, json_option, print_json
from nearmark.contest.proof.canonical import in_groups, typed_hash
from nearmark.contest.proof.release import PairProof
from nearmark.errors import InputError
from nearmark.event_folder.verify import Verification, verify_folder
from nearmark.words.proofs import proof_words

EXIT_DIFFERS: Final = 1
"""Read without a problem, and not what was released."""


@click.command(
    "verify",
    help="Is a released folder, or one pair's result, what was released?",
    epilog=examples("nearmark verify released", "nearmark verify --pair-proof proof.txt"),
)
@click.argument("folder", required=False, type=click.Path(path_type=Path))
@click.option("--head", default="", help="The 64 characters printed with the standings.")
@click.option(
    "--pair-proof",
    type=click.Path(path_type=Path),
    help="Check one pair's result instead: the file with the text of its proof.",
)
@json_option
def command(folder: Path | None, *, head: str, pair_proof: Path | None, as_json: bool) -> None:
    """Say what holds and what differs."""
    if (folder is None) == (pair_proof is None):
        raise InputError("is needed", where="FOLDER", mend="Give a folder, or --pair-proof FILE")
    holds = (
        _show_folder(verify_folder(folder, printed_head=head), head, as_json=as_json)
        if folder is not None
        else _show_pair(_read(pair_proof or Path()), head, as_json=as_json)
    )
    if not holds:
        sys.exit(EXIT_DIFFERS)


def _show_folder(found: Verification, head: str, *, as_json: bool) -> bool:
    if as_json:
        print_json(
            {
                "holds": found.holds,
                "release": found.number,
                "head": found.head,
                "head_given": bool(typed_hash(head)),
                "differences": list(found.differences),
                "facts": list(found.facts),
            }
        )
        return found.holds
    out = console()
    if found.holds:
        out.print(Text(f"\nThis folder is release {found.number}, unchanged.", "bold green"))
    else:
        out.print(Text(f"\nNot as it was released ({len(found.differences)}):", "bold red"))
    for line in found.differences:
        out.print(Text(f"  - {line}"))
    for line in found.facts:
        out.print(Text(f"  {line}"))
    if found.head:
        out.print(f"\nIts head: {in_groups(found.head)}")
    if found.head and not typed_hash(head):
        out.print(
            "Compare it with the head on the printed standings, or give that one with --head:\n"
            "without it, somebody who changed the whole folder would not be seen."
        )
    out.print()
    return found.holds


def _show_pair(proof: PairProof, head: str, *, as_json: bool) -> bool:
    typed = typed_hash(head)
    is_head = not typed or typed == proof.release.head
    holds = proof.holds and is_head
    if as_json:
        print_json(
            {
                "holds": holds,
                "release": proof.release.number,
                "head": proof.release.head,
                "head_given": bool(typed),
                "result": proof.leaf,
            }
        )
        return holds
    out = console()
    out.print(Text(f"\n{proof_words(proof, typed)}", "bold green" if holds else "bold red"))
    out.print(f"Head of the release: {in_groups(proof.release.head)}\n")
    return holds


def _read(path: Path) -> PairProof:
    try:
        text = path.read_bytes()[:100_000].decode("utf-8-sig")
    except OSError as error:
        raise InputError(
            f"cannot be read ({error.strerror})",
            where="--pair-proof",
            value=path,
            mend="Name the file that the page of the pair gave",
        ) from error
    except UnicodeDecodeError as error:
        raise InputError(
            "is not text in UTF-8",
            where="--pair-proof",
            value=path,
            mend="Take the file from the page of the pair again",
        ) from error
    return PairProof.from_text(text)
