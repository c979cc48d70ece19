"""What breaks on a contest day: wrong files, huge files, a crash or a full disk in mid-save."""

import errno
import os
import time
from dataclasses import replace
from pathlib import Path

import pytest

from nearmark.errors import FilesError, InputError
from nearmark.event_folder import read_event, saving, write_event
from nearmark.event_folder.loading import MAX_FILE_BYTES
from nearmark.event_folder.sheet import MAX_CELL_CHARACTERS, MAX_ROWS

EARLY_S = 2.0
"""Refused before the file is read, with room for a slow, shared machine."""


def only_problem(folder):
    with pytest.raises(FilesError) as refused:
        read_event(folder)
    (problem,) = refused.value.problems
    return problem


def test_a_folder_that_is_not_there_is_one_problem(tmp_path):
    problem = only_problem(tmp_path / "evnt")

    assert (problem.file, problem.what) == ("evnt", "is not there")


def test_a_file_in_place_of_the_folder_is_one_problem(folder):
    assert "is not a folder" in only_problem(folder / "cups.csv").what


@pytest.mark.parametrize("path", ["a\0b", "x" * 5000])
def test_a_path_no_system_can_open_is_one_problem(path):
    assert "cannot be opened" in only_problem(path).what


def test_an_empty_folder_misses_the_three_required_files(tmp_path):
    with pytest.raises(FilesError) as refused:
        read_event(tmp_path)

    assert [p.file for p in refused.value.problems] == ["event.toml", "items.csv", "pairs.csv"]


def test_a_folder_in_place_of_a_file_is_refused(folder):
    (folder / "cups.csv").unlink()
    (folder / "cups.csv").mkdir()

    assert "not a file" in only_problem(folder).what


def test_a_link_in_place_of_a_file_is_refused(folder):
    (folder / "cups.csv").rename(folder / "elsewhere")
    (folder / "cups.csv").symlink_to(folder / "elsewhere")

    assert "link" in only_problem(folder).what


def test_an_endless_device_in_place_of_a_file_is_refused(folder):
    (folder / "cups.csv").unlink()
    os.mkfifo(folder / "cups.csv")

    assert "device" in only_problem(folder).what


def test_a_file_nobody_may_read_is_refused(folder, monkeypatch):
    def refuse(path, *_args, **_options):
        raise PermissionError(errno.EACCES, "Permission denied", str(path))

    monkeypatch.setattr("pathlib.Path.open", refuse)

    with pytest.raises(FilesError) as refused:
        read_event(folder)

    assert {p.what for p in refused.value.problems} == {"cannot be read: Permission denied"}


def test_a_file_of_a_thousand_million_rows_is_refused_by_its_size(folder):
    # Sparse: it takes no room on the disk, and reading it all would take minutes.
    with (folder / "answers.csv").open("ab") as file:
        file.truncate(4 * 10**9)
    start = time.monotonic()

    problem = only_problem(folder)

    assert time.monotonic() - start < EARLY_S
    assert (problem.file, problem.row) == ("answers.csv", 0)
    assert "4,000 MB" in problem.what


def test_a_file_that_grows_while_it_is_read_is_refused(folder, monkeypatch):
    (folder / "cups.csv").write_bytes(b"x" * (MAX_FILE_BYTES + 10))
    real = Path.lstat

    def small(path):
        seen = real(path)
        return os.stat_result((*seen[:6], 10, *seen[7:10])) if path.name == "cups.csv" else seen

    monkeypatch.setattr(Path, "lstat", small)

    assert "grew over the limit of 20 MB" in only_problem(folder).what


def test_a_row_too_many_is_refused_without_reading_on(folder):
    rows = "C1,1,Rowan\n" * (MAX_ROWS + 1)
    (folder / "hand_counts.csv").write_text(f"item,pieces,counter\n{rows}x", encoding="utf-8")

    problem = only_problem(folder)

    assert problem.row == MAX_ROWS + 2
    assert "200,000" in problem.what


def test_a_million_empty_rows_of_a_spreadsheet_are_no_rows(folder, small_event):
    with (folder / "hand_counts.csv").open("a", encoding="utf-8") as file:
        file.write(",,\n" * 1_048_576)

    assert read_event(folder) == small_event


def test_a_cell_too_long_is_refused(folder, edit):
    edit("pairs.csv", "Ada", "A" * (MAX_CELL_CHARACTERS + 1))

    problem = only_problem(folder)

    assert (problem.file, problem.row) == ("pairs.csv", 2)
    assert "1,000 characters" in problem.what


def test_thousands_of_wrong_names_are_refused_quickly(folder):
    pairs = "".join(f"P{n},Fernhollow,Ada,Bo\n" for n in range(4_000))
    answers = "".join(f"Q{n},B1,1,Ash,blank,\n" for n in range(20_000))
    (folder / "pairs.csv").write_text(f"code,school,member_1,member_2\n{pairs}", encoding="utf-8")
    (folder / "answers.csv").write_text(
        f"pair,item,reading,clerk,status,value\n{answers}", encoding="utf-8"
    )
    start = time.process_time()

    with pytest.raises(FilesError, match=r"more problems"):
        read_event(folder)

    assert time.process_time() - start < 2 * EARLY_S  # alone under 0.5 s


@pytest.mark.parametrize(
    ("content", "row", "what"),
    [
        (b"number,tare_g,instrument\n1,8.6,bench \xff\xe4scale\n", 2, "not text"),
        (b"number,tare_g,instrument\n1,8.6,bench\0scale\n", 2, "NUL"),
        (b"\xff\xfe\n\0u", 2, "not text"),
        (b"\xff\xfe\0\0n\0\0\0", 1, "NUL"),
        (b"\xff\xfen\0u\0m", 1, "not text"),
        (b"PK\x03\x04\x14\0\x06\0\x08\0", 1, "NUL"),
        (b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1", 1, "not text"),
        (b"\n\n\n", 1, "heading"),
        (b'"', 1, "quotation mark"),
    ],
    ids=[
        "latin-1",
        "nul",
        "cut utf-16",
        "utf-32",
        "odd utf-16",
        "zip",
        "old sheet",
        "blank",
        "quote",
    ],
)
def test_bytes_that_are_no_table_are_refused_with_their_row(folder, content, row, what):
    (folder / "cups.csv").write_bytes(content)

    with pytest.raises(FilesError) as refused:
        read_event(folder)

    first = refused.value.problems[0]
    assert (first.file, first.row) == ("cups.csv", row)
    assert what in first.what


@pytest.mark.parametrize(
    "line",
    [
        "x = " + "[" * 5_000,
        "x = " + "[" * 50 + "]" * 50,
        "x = " + "9" * 5_000,
        "x = 0x" + "f" * 5_000,
        "x = 1979-13-99",
        'x = "\\ud800"',
        "# a\rb",
        "x." * 40_000 + "x = 1",
        "x." * 50 + "x = 1",
        "#" * 100_000,
    ],
    ids="deep closed digits hex day surrogate return dotted levels long".split(),
)
@pytest.mark.parametrize("file", ["event.toml", "rules.toml"])
def test_hostile_toml_is_refused(folder, file, line):
    with (folder / file).open("a", encoding="utf-8", newline="") as opened:
        opened.write(f"\n{line}\n")

    with pytest.raises(FilesError) as refused:
        read_event(folder)

    assert {p.file for p in refused.value.problems} == {file}


@pytest.mark.parametrize("value", ['"1e999999999"', "1e308", "inf", "9" * 4000, f'"{"9" * 5000}"'])
def test_a_rule_that_would_take_the_arithmetic_hours_is_refused(folder, edit, value):
    edit("rules.toml", "zero_at = 1", f"zero_at = {value}")

    assert only_problem(folder).file == "rules.toml"


class Killed(BaseException):
    """Means the process ending here: nothing of Nearmark catches it."""


STEPS = ("mkdir", "fsync", "rename", "replace", "unlink", "rmdir")
"""Calls to the system by which a save changes the disk, besides writing a file."""


def count_and_kill(patch, nth):
    """End the process in place of the nth step, a file in mid-write; gives the steps so far."""
    seen: list[str] = []

    def stepped(name, real, half_done=lambda *_: None):
        def call(*args, **options):
            if len(seen) == nth:
                half_done(*args)
                raise Killed(name)
            seen.append(name)
            return real(*args, **options)

        return call

    def half_written(path, content):
        path.write_bytes(content[: len(content) // 2])

    for name in STEPS:
        patch.setattr(os, name, stepped(name, getattr(os, name)))
    write = saving._write_through
    patch.setattr(saving, "_write_through", stepped("write", write, half_written))
    return seen


def save_killed_at(monkeypatch, nth, event, folder):
    with monkeypatch.context() as patch:
        count_and_kill(patch, nth)
        with pytest.raises(Killed):
            write_event(event, folder)


@pytest.fixture
def n_steps(monkeypatch, folder, small_event):
    """Steps of one save over an event; a kill loses nothing the system has: no need to sync."""
    monkeypatch.setattr(os, "fsync", lambda _descriptor: None)
    with monkeypatch.context() as patch:
        seen = count_and_kill(patch, None)
        write_event(small_event, folder)
    assert {"mkdir", "write", "fsync", "rename", "replace", "unlink", "rmdir"} == set(seen)
    return len(seen)


def test_a_save_killed_at_any_step_leaves_the_old_event_or_the_new_one(
    folder, small_event, monkeypatch, n_steps
):
    newer = replace(small_event, name="Larkspur Valley, second day", answers=())
    found = []

    for nth in range(n_steps):
        write_event(small_event, folder)
        save_killed_at(monkeypatch, nth, newer, folder)
        found.append(read_event(folder))

    turn = found.index(newer)
    assert 0 < turn < n_steps
    assert found == [small_event] * turn + [newer] * (n_steps - turn)


def test_a_first_save_killed_at_any_step_leaves_nothing_or_the_event(
    tmp_path, small_event, monkeypatch, n_steps
):
    n_read = 0

    for nth in range(n_steps):
        folder = tmp_path / str(nth)
        save_killed_at(monkeypatch, nth, small_event, folder)
        shown = folder.exists() and any(not p.name.startswith(".") for p in folder.iterdir())

        if shown or (folder / ".saved").exists():
            assert read_event(folder) == small_event
            n_read += 1

    assert n_steps // 3 < n_read < n_steps


def test_the_next_save_after_a_kill_clears_up(folder, small_event, monkeypatch, n_steps):
    newest = replace(small_event, name="Larkspur Valley, third day")

    for nth in range(n_steps):
        save_killed_at(monkeypatch, nth, small_event, folder)
        write_event(newest, folder)

        assert read_event(folder) == newest
        assert [p.name for p in folder.iterdir() if p.name.startswith(".")] == []


def test_an_edit_after_an_interrupted_save_is_not_passed_over(
    folder, small_event, edit, monkeypatch
):
    def interrupted(_folder):
        raise Killed

    monkeypatch.setattr(saving, "_put_in_place", interrupted)
    with pytest.raises(Killed):
        write_event(replace(small_event, venue="elsewhere"), folder)
    edit("pairs.csv", "Ada", "Adah")
    later = time.time() + 60
    os.utime(folder / "pairs.csv", (later, later))

    problem = only_problem(folder)

    assert (problem.file, problem.value) == ("pairs.csv", ".saved")


@pytest.mark.parametrize("step", ["mkdir", "fsync", "rename", "replace"])
def test_a_full_disk_is_refused_and_the_old_event_stays(folder, small_event, monkeypatch, step):
    def full(*_args, **_options):
        raise OSError(errno.ENOSPC, "No space left on device")

    with monkeypatch.context() as patch:
        patch.setattr(os, step, full)
        with pytest.raises(InputError, match="No space left on device"):
            write_event(replace(small_event, venue="elsewhere"), folder)

    assert read_event(folder).venue in {small_event.venue, "elsewhere"}
    assert (read_event(folder) == small_event) == (step != "replace")
