"""Lines kept in English words are said again; their patterns are still in the source."""

import ast
import re
from fractions import Fraction
from pathlib import Path

import pytest

from nearmark.contest.place_changes import PlaceChange, Standing
from nearmark.words import kept_lines, refusals
from nearmark.words.kept_lines import KEPT, said_again
from nearmark.words.languages import language
from nearmark.words.place_changes import change_words
from nearmark.words.refusals import refusal_words
from nearmark.words.translation import spoken_in

SOURCE = Path(kept_lines.__file__).parents[1]
WHERE_THEY_ARE_REPEATED = {"words/kept_lines.py", "words/refusals.py"}


def literals() -> set[str]:
    """Each text of the source, with a mark where something is filled in."""
    found: set[str] = set()
    for file in SOURCE.rglob("*.py"):
        if str(file.relative_to(SOURCE)) in WHERE_THEY_ARE_REPEATED:
            continue
        for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Constant) and isinstance(node.value, str):
                found.add(re.sub(r"\{\w+\}", "\0", node.value))
            if isinstance(node, ast.JoinedStr):
                parts = (p.value if isinstance(p, ast.Constant) else "\0" for p in node.values)
                found.add("".join(map(str, parts)))
    return found


@pytest.mark.slow
def test_every_kept_line_and_refusal_is_still_in_the_source():
    """Those that begin or end by a fact may be put together there; the rest is one text."""
    known = literals()
    whole = "\n".join(known)

    gone = [
        text
        for text in (*refusals.TRANSLATED, *refusals.PATTERNS, *KEPT)
        if re.sub(r"\{\w+\}|^1(?= pair)", "\0", text) not in known
        and not all(part in whole for part in re.split(r"\{\w+\}", text))
    ]

    assert gone == []


@pytest.mark.parametrize(
    ("before", "after"),
    [
        (Standing("P07", "North", 4, Fraction(250)), Standing("P07", "North", 2, Fraction(270))),
        (Standing("P07", "North", 4, Fraction(250)), Standing("P07", "North", 4, Fraction(250))),
        (None, Standing("P07", "North", 2, Fraction(270))),
        (Standing("P07", "North", 4, Fraction(250)), None),
    ],
)
def test_a_change_of_places_is_said_again_as_if_it_were_made_now(before, after):
    change = PlaceChange("P07", before, after)
    kept = change_words(change, 1)

    with spoken_in(language("es")):
        assert said_again(kept) == change_words(change, 1)
    assert said_again(kept) == kept


def test_facts_and_unknown_lines_stay():
    with spoken_in(language("es")):
        assert said_again("The answer of P07 on C2") == "La respuesta de P07 en C2"
        assert said_again("380 pieces") == "380 piezas"
        assert said_again("61.20 g") == "61,20 g"
        assert said_again("the seven was read as a one") == "the seven was read as a one"
        assert refusal_words("At most 30 characters") == "Como máximo 30 caracteres"
