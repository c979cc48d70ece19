"""Words with a better term are refused in code, pages and docs; the glossary has them.

Its first table holds the terms of the field.  Its second one, "Words of the code", holds old words
with plain ones."""

import re
from functools import cache
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
GLOSSARY = ROOT / "docs" / "reference" / "glossary.md"


def refused_words() -> dict[str, str]:
    """Refused word -> the term to use, from the last column of the glossary's table."""
    refused: dict[str, str] = {}
    for line in GLOSSARY.read_text(encoding="utf-8").splitlines():
        cells = [cell.strip() for cell in line.strip("|").split("|")]
        if len(cells) == 3 and cells[2] not in {"not", ""} and not cells[2].startswith("-"):
            refused |= {word.strip(): cells[0] for word in cells[2].split(",")}
    return refused


def words_of_the_code() -> dict[str, str]:
    """Old word -> plain word, from the second table; an identifier stands in back quotes."""
    _, _, part = GLOSSARY.read_text(encoding="utf-8").partition("## Words of the code")
    rows = [[cell.strip() for cell in line.strip("|").split("|")] for line in part.splitlines()]
    return {row[0]: row[1] for row in rows if len(row) == 2 and row[0] not in {"old", "---"}}


@cache
def texts() -> dict[Path, str]:
    files = [
        file
        for ending in ("py", "html", "js", "typ")
        for file in ROOT.glob(f"src/**/*.{ending}")
        if not {"vendor", "migrations"} & set(file.parts)  # a landed migration never changes
    ]
    files += [*ROOT.glob("docs/**/*.md"), ROOT / "README.md", ROOT / "CONTRIBUTING.md"]
    return {f: f.read_text(encoding="utf-8") for f in files if f != GLOSSARY}


@cache
def old_words() -> dict[str, list[str]]:
    """Each old word that is still in the tree, with its places: an identifier as it is written."""
    words = {old.strip("`"): old for old in words_of_the_code()}
    found: dict[str, list[str]] = {}
    for flags, is_code in ((0, True), (re.IGNORECASE, False)):
        ends = ((w, "" if w.endswith("_") else r"\b") for w, old in words.items())
        chosen = [f"{re.escape(w)}{end}" for w, end in ends if ("`" in words[w]) is is_code]
        pattern = re.compile(rf"\b(?:{'|'.join(chosen)})", flags)
        for path, text in texts().items():
            for match in pattern.finditer(text):
                old = words[match[0] if is_code else match[0].lower()]
                found.setdefault(old, []).append(f"{path.relative_to(ROOT)}: {match[0]}")
    return found


def test_the_glossary_refuses_something():
    assert len(refused_words()) >= 8


@pytest.mark.slow
def test_no_word_has_a_better_term():
    found = [
        f"{path.relative_to(ROOT)}: {match[0]!r} -> {term!r}"
        for path, text in texts().items()
        for word, term in refused_words().items()
        for match in re.finditer(rf"\b{re.escape(word)}\b", text, re.IGNORECASE)
    ]

    assert found == []


def test_no_machine_path_and_no_host_of_a_registry_is_named():
    pattern = re.compile(r"/(root|work|home)/|(pypi|pythonhosted|npmjs)\.(org|com)")
    found = [str(p.relative_to(ROOT)) for p, text in texts().items() if pattern.search(text)]

    assert found == []


def test_no_old_word_comes_back():
    plain = words_of_the_code()
    found = {f"{old} -> {plain[old]}": places for old, places in old_words().items()}

    assert found == {}
