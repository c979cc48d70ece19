"""``nearmark sheets``: the paper of the day, from an event folder."""

import io
import json
import shutil
from contextlib import redirect_stdout
from pathlib import Path

import pypdf
import pytest

from nearmark.cli import main

FILES = [
    "01-if-the-screens-die.pdf",
    "02-run-sheet.pdf",
    "03-role-sheets.pdf",
    "04-who-goes-when.pdf",
    "05-check-in.pdf",
    "06-answer-sheets.pdf",
    "07-answer-sheet-spare.pdf",
    "08-station-rules.pdf",
    "09-labels.pdf",
    "10-cup-numbers.pdf",
    "11-place-cards.pdf",
    "12-helper-badges.pdf",
    "13-tally-forms.pdf",
    "14-merging-sheet.pdf",
    "15-letter-schools.pdf",
    "16-letter-families.pdf",
    "all-in-one.pdf",
]
SEALED = ["1-key-sheet.pdf", "2-score-tables.pdf"]

pytestmark = pytest.mark.slow


def told(capsys, *words):
    main([*map(str, words), "--json"])
    return [Path(page) for page in json.loads(capsys.readouterr().out)["pages"]]


def text_of(path: Path) -> str:
    return " ".join(page.extract_text() for page in pypdf.PdfReader(path).pages)


@pytest.fixture(scope="module")
def plain(tmp_path_factory, written):
    """The answer of ``sheets EVENT --json``, asked once: the event, pages and sealed pages."""
    event = Path(shutil.copytree(written, tmp_path_factory.mktemp("plain") / "event"))
    with redirect_stdout(io.StringIO()) as said:
        main(["sheets", str(event), "--json"])
    answer = json.loads(said.getvalue())
    return event, [Path(page) for page in answer["pages"]], [Path(p) for p in answer["sealed"]]


def test_everything_is_written_beside_the_event(plain):
    event, sheets, _ = plain

    assert [path.name for path in sheets] == FILES
    assert {path.parent for path in sheets} == {event / "sheets"}


def test_what_shows_a_key_is_in_a_folder_of_its_own(plain):
    event, _, sealed = plain

    assert [path.name for path in sealed] == SEALED
    assert {path.parent for path in sealed} == {event / "sheets" / "sealed"}


def test_planned_times_are_on_every_list(capsys, folder):
    sheets = {p.name: p for p in told(capsys, "sheets", folder, "--start", "09:00")}

    for name in ("02-run-sheet", "03-role-sheets", "04-who-goes-when", "05-check-in"):
        assert "09:00 to 09:30" in text_of(sheets[f"{name}.pdf"]), name


def test_labels_come_on_a_grid_of_ones_own_measures(capsys, folder):
    main(["sheets", str(folder), "--labels", "7x2:15.1,4.7,2.5", "--json"])
    assert json.loads(capsys.readouterr().out)["pages"]

    with pytest.raises(SystemExit) as end:
        main(["sheets", str(folder), "--labels", "sticky", "--json"])
    assert end.value.code == 2
    assert json.loads(capsys.readouterr().out)["error"]["where"] == "label grid"


def test_a_person_is_told_where_they_are(capsys, folder, tmp_path):
    main(["sheets", str(folder), "--to", str(tmp_path / "paper")])

    said = capsys.readouterr().out
    assert "17 PDF files" in said
    assert "answer-sheets.pdf" in said


def test_letter_paper_and_names_when_asked(capsys, folder):
    sheets = {p.name: p for p in told(capsys, "sheets", folder, "--letter", "--names")}
    width = pypdf.PdfReader(sheets["09-labels.pdf"]).pages[0].mediabox.width

    assert width == pytest.approx(8.5 * 72)  # 8.5 in (common practice, no source)
    assert "Ada and Bo" in text_of(sheets["06-answer-sheets.pdf"])
    assert "Ada and Bo" in text_of(sheets["05-check-in.pdf"])


def test_without_names_nobody_is_named(plain):
    _, sheets, _ = plain
    for path in sheets:
        assert "Ada and Bo" not in text_of(path)


def test_an_event_without_cups_gets_no_cup_numbers(capsys, folder):
    for file in ("cups.csv", "answers.csv", "adjudications.csv"):
        (folder / file).unlink()

    written = [p.name.partition("-")[2] for p in told(capsys, "sheets", folder)]
    wanted = [name.partition("-")[2] for name in FILES if name != "10-cup-numbers.pdf"]
    assert written == wanted


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

    named = [name.removesuffix(".pdf").lstrip("0123456789-") for name in (*FILES[:-1], *SEALED)]
    assert [name for name in named if f"| `{name}` |" not in docs] == []
    assert f"`{FILES[-1]}`" in docs
