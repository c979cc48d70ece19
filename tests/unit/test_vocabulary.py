"""Words with a better term are refused in code, pages and docs: docs/reference/glossary.md."""

import re
from pathlib import Path

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


def texts() -> dict[Path, str]:
    files = [*ROOT.glob("src/**/*.py"), *ROOT.glob("src/**/*.typ"), *ROOT.glob("docs/**/*.md")]
    files += [ROOT / "README.md", ROOT / "CONTRIBUTING.md"]
    return {f: f.read_text(encoding="utf-8") for f in files if f != GLOSSARY}


def test_the_glossary_refuses_something():
    assert len(refused_words()) >= 8


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
