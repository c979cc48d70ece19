"""``nearmark sheets``: the paper of the day, from an event folder."""

import json
from pathlib import Path

import pypdf
import pytest

from nearmark.cli import main

FILES = [
    "answer-sheets.pdf",
    "answer-sheet-spare.pdf",
    "labels.pdf",
    "cup-numbers.pdf",
    "station-rules.pdf",
    "check-in.pdf",
    "tally-forms.pdf",
    "merging-sheet.pdf",
]


def told(capsys, *words):
    main([*map(str, words), "--json"])
    return [Path(page) for page in json.loads(capsys.readouterr().out)["pages"]]


def text_of(path: Path) -> str:
    return " ".join(page.extract_text() for page in pypdf.PdfReader(path).pages)


def test_everything_is_written_beside_the_event(capsys, folder):
    sheets = told(capsys, "sheets", folder)

    assert [path.name for path in sheets] == FILES
    assert {path.parent for path in sheets} == {folder / "sheets"}


def test_a_person_is_told_where_they_are(capsys, folder, tmp_path):
    main(["sheets", str(folder), "--to", str(tmp_path / "paper")])

    said = capsys.readouterr().out
    assert "8 PDF files" in said
    assert "answer-sheets.pdf" in said


def test_letter_paper_and_names_when_asked(capsys, folder):
    sheets = {p.name: p for p in told(capsys, "sheets", folder, "--letter", "--names")}
    width = pypdf.PdfReader(sheets["labels.pdf"]).pages[0].mediabox.width

    assert width == pytest.approx(8.5 * 72)  # 8.5 in (common practice, no source)
    assert "Ada and Bo" in text_of(sheets["answer-sheets.pdf"])
    assert "Ada and Bo" in text_of(sheets["check-in.pdf"])


def test_without_names_nobody_is_named(capsys, folder):
    for path in told(capsys, "sheets", folder):
        assert "Ada and Bo" not in text_of(path)


def test_an_event_without_cups_gets_no_cup_numbers(capsys, folder):
    for file in ("cups.csv", "answers.csv", "adjudications.csv"):
        (folder / file).unlink()

    assert [p.name for p in told(capsys, "sheets", folder)] == [
        name for name in FILES if name != "cup-numbers.pdf"
    ]


def test_a_code_that_cannot_be_checked_is_refused_and_nothing_is_written(capsys, folder):
    for file in ("answers.csv", "adjudications.csv"):
        (folder / file).unlink()
    pairs = folder / "pairs.csv"
    pairs.write_text(pairs.read_text(encoding="utf-8").replace("P1,", "P§1,"), encoding="utf-8")

    with pytest.raises(SystemExit) as end:
        main(["sheets", str(folder), "--json"])

    captured = capsys.readouterr()
    assert end.value.code == 2
    assert json.loads(captured.out)["error"]["value"] == repr("P§1")
    assert "letters A to Z and digits" in captured.err
    assert not (folder / "sheets").exists()


def test_the_docs_say_what_each_file_is_for():
    docs = (Path(__file__).parents[2] / "docs" / "use" / "paper.md").read_text(encoding="utf-8")

    assert [name for name in FILES if f"| `{name}` |" not in docs] == []
