"""The site looks after itself: snapshots, a rehearsed restore, the doctor, a log without names."""

import json
import logging
import sqlite3
from contextlib import closing
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from django.utils import timezone

from nearmark.cli import main
from nearmark.site.copies import snapshots
from nearmark.site.copies.backups import restore
from nearmark.site.copies.database_check import DATABASE_FILE
from nearmark.site.copies.snapshots import care_of, note_care, snapshots_of, take_snapshot
from nearmark.site.models import EventRecord
from nearmark.site.server import doctor
from nearmark.site.server.log_file import FixedWordsFormatter

NOW = datetime(2027, 5, 8, 10, 0, tzinfo=UTC)
DUMP = Path(__file__).parents[2] / "data" / "site-0003.sql"


@pytest.fixture
def data(tmp_path) -> Path:
    """A data folder with a small event, as an old version left it."""
    folder = tmp_path / "data"
    folder.mkdir()
    with closing(sqlite3.connect(folder / DATABASE_FILE)) as database:
        database.executescript(DUMP.read_text(encoding="utf-8"))
    return folder


def test_a_snapshot_comes_back_like_any_backup(data, tmp_path):
    file = take_snapshot(data, NOW)

    restore(tmp_path / "other", file)

    assert file.stat().st_mode & 0o077 == 0
    assert (tmp_path / "other" / DATABASE_FILE).exists()


def test_snapshots_are_thinned_by_age(tmp_path):
    times = [NOW - timedelta(minutes=10 * n) for n in range(6 * 24 * 20)]
    pairs = [(at, tmp_path / str(n)) for n, at in enumerate(times)]

    old = {at for at, _ in snapshots.no_more_needed(pairs, NOW)}
    kept = [at for at in times if at not in old]

    ages = [NOW - at for at in kept]
    assert sum(age <= timedelta(hours=2) for age in ages) == 13
    assert 22 <= sum(timedelta(hours=2) < age <= timedelta(hours=24) for age in ages) <= 24
    assert 13 <= sum(age > timedelta(hours=24) for age in ages) <= 15
    assert max(ages) <= snapshots.KEEP_DAILY


def test_old_snapshots_are_thrown_away_here_and_in_the_second_folder(data, tmp_path):
    second = tmp_path / "stick"
    second.mkdir()
    note_care(data, second=str(second))
    for days in (40, 20, 0):
        take_snapshot(data, NOW - timedelta(days=days))

    assert len(snapshots_of(data)) == 1
    assert [file.name for file in second.iterdir()] == [snapshots_of(data)[0][1].name]


def test_a_lost_stick_is_told_and_the_snapshot_is_made_all_the_same(data, tmp_path):
    note_care(data, second=str(tmp_path / "stick"))

    assert take_snapshot(data, NOW) is not None

    (told,) = snapshots.troubles(data)
    assert "Put the stick back" in told
    (tmp_path / "stick").mkdir()
    take_snapshot(data, NOW + timedelta(minutes=10))
    assert snapshots.troubles(data) == []
    assert len([*(tmp_path / "stick").glob("*.backup")]) == 1


def test_a_snapshot_that_cannot_be_written_is_told(data):
    (data / DATABASE_FILE).write_bytes(b"noise" * 900)

    assert take_snapshot(data, NOW) is None
    assert "not written" in snapshots.troubles(data)[0]


def test_a_restore_is_rehearsed_on_a_copy_and_leaves_nothing(data):
    before = (data / DATABASE_FILE).read_bytes()

    assert snapshots.rehearse(data, NOW) == ""

    assert (data / DATABASE_FILE).read_bytes() == before
    assert care_of(data).rehearsed_at == NOW.isoformat()
    assert not snapshots.is_rehearsal_due(data, NOW + timedelta(hours=23))
    assert snapshots.is_rehearsal_due(data, NOW + timedelta(hours=24))
    note_care(data, rehearsed_by="0.0.0")  # after an update
    assert snapshots.is_rehearsal_due(data, NOW)


def test_a_rehearsal_that_fails_is_told(data):
    file = take_snapshot(data, NOW)
    file.write_bytes(file.read_bytes()[:-300])

    assert "checksum" in snapshots.rehearse(data, NOW)
    assert "Make a backup now" in snapshots.troubles(data)[0]


def test_snapshots_are_made_every_ten_minutes_while_the_event_is_open(data, demo, monkeypatch):
    monkeypatch.setattr(snapshots, "rehearse", lambda *_: "")
    for minutes in (0, 3, 9, 10, 15):
        snapshots.look_after_once(data, NOW + timedelta(minutes=minutes))
    assert len(snapshots_of(data)) == 2

    EventRecord.objects.update(released_at=NOW)
    snapshots.look_after_once(data, NOW + timedelta(minutes=40))
    assert len(snapshots_of(data)) == 2


def seen(data, now=NOW):
    found = doctor.checks(data, port=9, address="192.168.1.5", url="http://192.168.1.5/", now=now)
    return {check.name: check for check in found}


def test_the_doctor_says_what_is_wrong_and_what_to_do(data, monkeypatch):
    monkeypatch.setattr(doctor, "MIN_FREE_MB", 10**9)
    (data / DATABASE_FILE).write_bytes(b"SQLite format 3\x00" + b"\xff" * 5000)

    found = seen(data)

    for name in ("database", "disk", "backup"):
        assert not found[name].is_good
        assert found[name].mend
    assert "nearmark restore" in found["database"].mend


def test_the_doctor_finds_nothing_where_nothing_is_wrong(data):
    note_care(data, backed_up_at=(NOW - timedelta(minutes=30)).isoformat())
    take_snapshot(data, NOW - timedelta(minutes=4))

    found = seen(data, NOW)

    assert [check.name for check in found.values() if not check.is_good] == []
    assert "30 minutes" in found["backup"].words
    assert "4 minutes" in found["snapshots"].words


def test_a_clock_before_the_newest_entry_is_told(data):
    assert "Set the clock" in seen(data, datetime(2020, 1, 1, tzinfo=UTC))["clock"].mend


def test_a_computer_without_a_network_is_told(data):
    found = doctor.checks(data, port=9, address="127.0.0.1", url="", now=NOW)

    assert "Join the Wi-Fi" in next(c for c in found if c.name == "address").mend


def test_the_command_prints_the_same_and_works_without_a_folder(data, tmp_path, capsys):
    main(["doctor", "--data", str(data), "--json"])
    told = json.loads(capsys.readouterr().out)
    main(["doctor", "--data", str(tmp_path / "nothing")])

    assert {check["name"] for check in told["checks"]} >= {"database", "disk", "clock", "devices"}
    assert "to look at" in capsys.readouterr().out


def test_a_backup_is_remembered_by_the_doctor(data, tmp_path):
    main(["backup", str(tmp_path / "day.backup"), "--data", str(data), "--json"])

    assert "0 minutes" in seen(data, timezone.now())["backup"].words


def test_the_page_is_the_lead_s_and_shows_the_checks(lead, data, settings):
    settings.NEARMARK_DATA = str(data)

    page = lead.get("/doctor/").content.decode()

    assert "installation" in page
    assert "free" in page


def test_the_overview_shows_the_loss_of_the_second_folder(lead, data, settings):
    settings.NEARMARK_DATA = str(data)
    note_care(data, second="stick", second_trouble="the folder is not there")

    assert "No copy reaches the second folder" in lead.get("/event/").content.decode()


def test_the_log_holds_no_name_no_key_and_no_value():
    def fail(secret):
        raise ValueError(secret)

    record = logging.LogRecord("nearmark.site", 40, "x.py", 1, "not saved: %s", ("Wren",), None)
    try:
        fail("Wren of Quillbank, key 2870")
    except ValueError as error:
        record.exc_info = (type(error), error, error.__traceback__)

    line = FixedWordsFormatter().format(record)

    assert "not saved" in line
    assert "ValueError" in line
    assert "test_looked_after.py" in line
    assert not any(secret in line for secret in ("Wren", "Quillbank", "2870"))
