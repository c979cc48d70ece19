"""What people and spreadsheets write is read to the same event."""

from dataclasses import replace
from decimal import Decimal

import pytest

from nearmark.contest.event import Side
from nearmark.contest.rules import RuleSet
from nearmark.event_folder import read_event, write_event
from nearmark.event_folder.sheet import SEPARATORS

CSV = "*.csv"


def rewrite(folder, change, pattern=CSV):
    """Every table as another program would save it: text in, bytes out."""
    for path in folder.glob(pattern):
        path.write_bytes(change(path.read_text(encoding="utf-8")))


def separated_by(separator, text, decimal_mark="."):
    """The text with another separator; the small event has no comma inside a cell."""
    rows = [line.split(",") for line in text.splitlines()]
    numbers = [[c.replace(".", decimal_mark) if c[:1].isdigit() else c for c in r] for r in rows]
    return "".join(separator.join(r) + "\r\n" for r in numbers)


def test_an_event_read_is_the_event_written(folder, small_event):
    assert read_event(folder) == small_event


def test_a_number_keeps_the_digits_on_the_paper(folder, edit):
    edit("cups.csv", "8.6", "8.60")

    assert str(read_event(folder).cups[0].tare_g) == "8.60"


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16"])
def test_every_unicode_a_spreadsheet_saves_is_read(folder, edit, encoding):
    edit("pairs.csv", "Fernhollow", "Fernhöllow Škola")
    rewrite(folder, lambda text: text.encode(encoding), "*.*")

    assert read_event(folder).pairs[0].school == "Fernhöllow Škola"


@pytest.mark.parametrize("separator", SEPARATORS)
def test_the_separator_is_found_in_the_heading(folder, small_event, separator):
    rewrite(folder, lambda text: separated_by(separator, text).encode())

    assert read_event(folder) == small_event


@pytest.mark.parametrize("separator", [";", "\t"])
def test_a_decimal_comma_is_read_where_the_comma_does_not_separate(folder, small_event, separator):
    rewrite(folder, lambda text: separated_by(separator, text, decimal_mark=",").encode())

    assert read_event(folder) == small_event


@pytest.mark.parametrize("line_end", ["\r\n", "\r", "\n"])
def test_line_ends_of_every_system_are_read(folder, small_event, line_end):
    rewrite(folder, lambda text: text.replace("\n", line_end).encode())

    assert read_event(folder) == small_event


def test_empty_rows_and_columns_of_a_spreadsheet_are_passed_over(folder, small_event):
    def padded(text):
        rows = [line + ",," for line in text.splitlines()]
        return "\n".join([*rows, "," * 8, "", "," * 8, ""]).encode()

    rewrite(folder, padded)

    assert read_event(folder) == small_event


def test_a_row_may_end_where_its_last_filled_cell_ends(folder, small_event):
    def cut(text):
        return "\n".join(line.rstrip(",") for line in text.splitlines()).encode()

    rewrite(folder, cut)

    assert read_event(folder) == small_event


def test_spaces_capitals_and_quotes_do_not_matter(folder, small_event):
    def loose(text):
        heading, *rows = text.splitlines()
        cells = [[f'  "{cell}"' for cell in row.split(",")] for row in rows]
        heading = " , ".join(name.replace("_", " ").upper() for name in heading.split(","))
        return "\n".join([heading, *map(",".join, cells)]).encode()

    rewrite(folder, loose)

    assert read_event(folder) == small_event


def test_columns_may_stand_in_any_order(folder, small_event):
    def turned(text):
        return "\n".join(",".join(row.split(",")[::-1]) for row in text.splitlines()).encode()

    rewrite(folder, turned)

    assert read_event(folder) == small_event


def test_a_column_that_may_be_empty_may_be_left_out(folder):
    (folder / "pairs.csv").write_text(
        "code,school,member_1,member_2\nP1,Fernhollow,Ada,Bo\n"
        "P2,Quillbank,Cleo,Dov\nP3,Quillbank,Esi,\n",
        encoding="utf-8",
    )

    pairs = read_event(folder).pairs

    assert [(pair.status.value, pair.heat) for pair in pairs] == [("entered", "")] * 3
    assert pairs[2].is_solo


def test_a_line_break_in_a_quoted_cell_does_not_shift_the_rows(folder, edit):
    edit("key_decisions.csv", "no fourth sample in time", '"no fourth\nsample, in ""time"""')

    assert read_event(folder).key_decisions[0].reason == 'no fourth\nsample, in "time"'


def test_a_missing_optional_file_is_an_empty_one(folder, small_event):
    optional = {
        "materials.csv": "materials",
        "counted_samples.csv": "samples",
        "container_weighings.csv": "containers",
        "hand_counts.csv": "hand_counts",
        "box_readings.csv": "box_readings",
        "answers.csv": "answers",
        "cups.csv": "cups",
        "adjudications.csv": "adjudications",
        "key_decisions.csv": "key_decisions",
    }
    for file in (*optional, "rules.toml"):
        (folder / file).unlink()
    (folder / "items.csv").write_text("code,station,name\nB1,volume,tea box\n", encoding="utf-8")

    event = read_event(folder)

    assert all(getattr(event, field) == () for field in optional.values())
    assert event.rules == RuleSet()
    assert event.pairs == small_event.pairs


def test_an_event_without_any_row_is_an_event(tmp_path, small_event):
    event = type(small_event)(small_event.name, small_event.day)

    write_event(event, tmp_path)

    assert read_event(tmp_path) == event


def test_the_rule_set_of_the_folder_is_in_force(folder, small_event):
    rules = replace(small_event.rules, name="half marks", zero_at=small_event.rules.zero_at / 2)

    write_event(replace(small_event, rules=rules), folder)

    assert read_event(folder).rules == rules


def test_choices_may_be_written_in_capitals(folder, edit):
    edit("box_readings.csv", "length", "LENGTH")

    assert read_event(folder).box_readings[0].side is Side.LENGTH


def test_other_files_in_the_folder_do_not_matter(folder, small_event):
    (folder / "notes.txt").write_text("bring tape", encoding="utf-8")
    (folder / "answers old.csv").write_text("x", encoding="utf-8")
    (folder / ".~lock.answers.csv#").write_text("x", encoding="utf-8")
    (folder / "pages").mkdir()

    assert read_event(folder) == small_event


def test_a_whole_value_and_a_cautions_list_survive(folder, small_event):
    cautions = ("allergen: wheat | gluten", "back\\slash", "-never taste ")
    material = replace(small_event.materials[0], cautions=cautions, moisture_u=Decimal("1E-3"))

    write_event(replace(small_event, materials=(material, small_event.materials[1])), folder)

    assert read_event(folder).materials[0] == material


def test_the_day_may_be_written_in_quotes(folder, small_event, edit):
    edit("event.toml", "2027-05-08", '"2027-05-08"')

    assert read_event(folder).day == small_event.day


def test_a_path_may_be_given_as_text(folder, small_event):
    assert read_event(str(folder)) == small_event
