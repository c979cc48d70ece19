"""``nearmark pairs-import``: look first, then add, whole or not at all."""

import io
import json
import re
from pathlib import Path

import pytest

from nearmark.cli import main
from nearmark.event_folder import read_event
from nearmark.event_folder.pair_headings import HEADINGS

GOOD = "school;child 1;child 2\nAsh;Gil;Hal\nAsh;Ira;\n"
DOC = (Path(__file__).parents[2] / "docs" / "use" / "pairs-import.md").read_text(encoding="utf-8")


@pytest.fixture
def listed(tmp_path):
    def write(text):
        path = tmp_path / "list.csv"
        path.write_text(text, encoding="utf-8")
        return str(path)

    return write


def refused(*words):
    with pytest.raises(SystemExit) as stopped:
        main([*map(str, words)])
    return stopped.value.code


def test_a_good_list_is_shown_and_not_written(capsys, folder, listed):
    before = read_event(folder)

    main(["pairs-import", listed(GOOD), str(folder)])

    shown = capsys.readouterr().out
    assert "P4 (new)" in shown
    assert "2 rows, 1 with one child alone, 0 to correct" in shown
    assert "add --write" in shown
    assert read_event(folder) == before


def test_with_write_the_pairs_are_added_after_those_there(capsys, folder, listed):
    before = read_event(folder).pairs

    main(["pairs-import", listed(GOOD), str(folder), "--write", "--json"])

    told = json.loads(capsys.readouterr().out)
    after = read_event(folder).pairs
    assert told["written"]
    assert after[: len(before)] == before
    assert [(p.code, p.members) for p in after[len(before) :]] == [
        ("P4", ("Gil", "Hal")),
        ("P5", ("Ira",)),
    ]


def test_a_second_import_of_the_same_list_adds_nobody(capsys, folder, listed):
    main(["pairs-import", listed(GOOD), str(folder), "--write"])
    before = read_event(folder)

    assert refused("pairs-import", listed(GOOD), folder, "--write") == 2
    assert "stand already under P4 in the event" in capsys.readouterr().err
    assert read_event(folder) == before


def test_two_bad_rows_are_both_named_and_nothing_is_written(capsys, folder, listed):
    before = read_event(folder)
    text = GOOD + ";Jo;Kit\nAsh;;\n"

    assert refused("pairs-import", listed(text), folder, "--write") == 2

    captured = capsys.readouterr()
    assert captured.out.count("FIX") == 2
    assert "list.csv, row 4, column school: is empty" in captured.err
    assert "list.csv, row 5, column child 1: is empty" in captured.err
    assert read_event(folder) == before


def test_problems_are_json_too(capsys, folder, listed):
    assert refused("pairs-import", listed("school\nAsh\n"), folder, "--json") == 2

    (problem,) = json.loads(capsys.readouterr().out)["error"]["problems"]
    assert (problem["file"], problem["column"]) == ("list.csv", "first child")


def test_a_list_comes_on_standard_input(capsys, folder, monkeypatch):
    monkeypatch.setattr("sys.stdin", io.TextIOWrapper(io.BytesIO(GOOD.encode())))

    main(["pairs-import", "-", str(folder), "--json"])

    assert len(json.loads(capsys.readouterr().out)["pairs"]) == 2


def test_a_file_that_is_not_there_is_refused(capsys, folder):
    assert refused("pairs-import", "nowhere.csv", folder) == 2
    assert "FILE: cannot be read" in capsys.readouterr().err


def test_a_name_cannot_steer_the_terminal(capsys, folder, listed):
    refused("pairs-import", listed("school,child\nAsh,\x1b[2Jx [bold]y[/bold]\n"), folder)

    captured = capsys.readouterr()
    assert "\x1b" not in captured.out + captured.err
    assert "[bold]y[/bold]" in captured.out


def test_the_documented_headings_are_the_real_ones():
    rows = re.findall(r"^\| [\w ]+ \| [\w ]*\|? ?((?:`[\w ]+`(?:, )?)+)", DOC, re.MULTILINE)
    documented = {heading for row in rows for heading in re.findall(r"`([\w ]+)`", row)}

    assert documented == {
        heading for meaning, known in HEADINGS.items() if meaning != "member_3" for heading in known
    }
