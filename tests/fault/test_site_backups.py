"""Backups: whole under load, refused when wrong, never silently older."""

import contextlib
import json
import shutil
import sqlite3
import subprocess
import sys
import threading
from contextlib import closing
from pathlib import Path

import numpy as np
import pytest

from nearmark.cli import main
from nearmark.errors import InputError
from nearmark.site.copies import folder_lock
from nearmark.site.copies.backups import back_up, keep_before, restore
from nearmark.site.copies.database_check import DATABASE_FILE, look_at

N_COPIES = 12
"""Fifty were made once: ``docs/develop/reliability.md``."""

INSERT = (
    "INSERT INTO site_change (event_id, at, who, what, old, new, why)"
    " VALUES (NULL, ?, 'Juniper', 'wrote', '', '', '')"
)


@pytest.fixture(scope="session")
def migrated(tmp_path_factory) -> Path:
    """An empty site, made in a process of its own by the command that makes it for a person."""
    data = tmp_path_factory.mktemp("migrated") / "data"
    code = (
        "import sys; from pathlib import Path;"
        "from nearmark.site.server.serving import Served, prepare;"
        "prepare(Served(Path(sys.argv[1]), 0, '127.0.0.1', is_local=True))"
    )
    subprocess.run([sys.executable, "-c", code, str(data)], check=True)
    return data


@pytest.fixture
def data(migrated, tmp_path) -> Path:
    return Path(shutil.copytree(migrated, tmp_path / "data"))


def write(data: Path, n: int, *, at: str = "2027-05-08 10:00:00") -> None:
    """So many lines of the history, each on the disk before the next."""
    with closing(sqlite3.connect(data / DATABASE_FILE, timeout=20)) as database:
        for _ in range(n):
            database.execute(INSERT, (at,))
            database.commit()


def n_changes(file: Path) -> int:
    with closing(sqlite3.connect(file)) as database:
        return int(database.execute("SELECT count(*) FROM site_change").fetchone()[0])


NOTE_OF_RETURN = 1
"""The line that a restore itself writes."""


def refusal(act, *arguments) -> str:
    with pytest.raises(InputError) as refused:
        act(*arguments)
    assert refused.value.mend
    return str(refused.value)


def test_copies_made_while_somebody_writes_are_whole(data, tmp_path):
    stop = threading.Event()

    def keep_writing():
        while not stop.is_set():
            write(data, 20)

    writer = threading.Thread(target=keep_writing)
    writer.start()
    try:
        for n in range(N_COPIES):
            back_up(data, tmp_path / f"{n}.backup")
    finally:
        stop.set()
        writer.join()

    counts = []
    for n in range(N_COPIES):
        with closing(sqlite3.connect(tmp_path / f"{n}.backup")) as copy:
            assert copy.execute("PRAGMA integrity_check").fetchone()[0] == "ok"
        counts.append(n_changes(tmp_path / f"{n}.backup"))
    assert counts == sorted(counts)
    assert counts[0] < counts[-1] <= n_changes(data / DATABASE_FILE)


def test_a_copy_is_one_file_for_the_owner_only(data, tmp_path):
    back_up(data, tmp_path / "day.backup")

    assert sorted(p.name for p in tmp_path.iterdir()) == ["data", "day.backup"]
    assert (tmp_path / "day.backup").stat().st_mode & 0o077 == 0


def test_a_backup_never_takes_the_place_of_another_file(data, tmp_path):
    (tmp_path / "day.backup").write_text("yesterday")

    assert "is there already" in refusal(back_up, data, tmp_path / "day.backup")
    assert (tmp_path / "day.backup").read_text() == "yesterday"


def test_a_folder_without_a_database_is_refused(tmp_path):
    assert "holds no database" in refusal(back_up, tmp_path, tmp_path / "day.backup")


def test_a_backup_to_nowhere_is_refused_and_leaves_nothing(data, tmp_path):
    assert "cannot be written" in refusal(back_up, data, tmp_path / "none" / "day.backup")


@pytest.fixture
def copy(data, tmp_path) -> Path:
    write(data, 3)
    back_up(data, tmp_path / "day.backup")
    return tmp_path / "day.backup"


def test_what_was_written_since_is_kept_when_an_older_state_comes_back(data, copy):
    write(data, 4, at="2027-05-08 12:00:00")

    kept = restore(data, copy)

    assert n_changes(data / DATABASE_FILE) == 3 + NOTE_OF_RETURN
    assert kept is not None
    assert n_changes(kept) == 7
    assert look_at(kept).newest > look_at(copy).newest


def test_the_history_tells_that_a_backup_came_back(data, copy):
    restore(data, copy)

    with closing(sqlite3.connect(data / DATABASE_FILE)) as database:
        lines = database.execute("SELECT who, what, new FROM site_change ORDER BY id").fetchall()
    who, what, new = lines[-1]
    assert (who, what) == ("nearmark restore", "brought a backup back")
    assert new.startswith("newest entry ")


def test_a_restored_folder_keeps_no_leftovers_of_the_other_state(data, copy):
    # A reader that is still open keeps the side files of the old state in the folder.
    with closing(sqlite3.connect(data / DATABASE_FILE)) as reader:
        write(data, 4)
        reader.execute("SELECT count(*) FROM site_change").fetchone()
        assert (data / f"{DATABASE_FILE}-wal").exists()
        kept = restore(data, copy)

    assert n_changes(data / DATABASE_FILE) == 3 + NOTE_OF_RETURN
    assert n_changes(kept) == 7


def test_a_damaged_database_is_kept_byte_by_byte(data, copy):
    file = data / DATABASE_FILE
    file.write_bytes(b"SQLite format 3\x00" + b"\xff" * 5000)
    before = file.read_bytes()

    kept = restore(data, copy)

    assert kept.read_bytes() == before
    assert n_changes(file) == 3 + NOTE_OF_RETURN


def test_a_folder_in_use_is_refused_and_unchanged(data, copy):
    write(data, 1)
    with folder_lock.hold_folder(data):
        assert "in use by a running Nearmark" in refusal(restore, data, copy)

    assert n_changes(data / DATABASE_FILE) == 4


def half(copy: Path) -> bytes:
    return copy.read_bytes()[: copy.stat().st_size // 2]


def flipped(copy: Path) -> bytes:
    content = bytearray(copy.read_bytes())
    content[8192:40960] = b"\xa5" * (40960 - 8192)
    return bytes(content)


def of_another_program(copy: Path) -> bytes:
    other = copy.with_name("other")
    with closing(sqlite3.connect(other)) as database:
        database.execute("CREATE TABLE songs (title)")
    return other.read_bytes()


def of_a_newer_nearmark(copy: Path) -> bytes:
    newer = copy.with_name("newer")
    with closing(sqlite3.connect(copy)) as old, closing(sqlite3.connect(newer)) as database:
        old.backup(database)
        database.execute("PRAGMA application_id=0")
        database.execute(
            "INSERT INTO django_migrations (app, name, applied)"
            " VALUES ('site', '9999_later', '2027-01-01')"
        )
        database.commit()
    return newer.read_bytes()


@pytest.mark.parametrize(
    ("spoil", "said"),
    [
        (lambda _: b"", "no backup of Nearmark"),
        (lambda _: b"PK\x03\x04 a photo", "no backup of Nearmark"),
        (half, "is damaged"),
        (flipped, "is damaged"),
        (of_another_program, "no backup of Nearmark"),
        (of_a_newer_nearmark, "newer Nearmark"),
    ],
    ids=["empty", "photo", "half", "flipped", "another program", "newer"],
)
def test_a_wrong_file_is_refused_and_nothing_is_changed(data, copy, spoil, said):
    wrong = copy.with_name("wrong.backup")
    wrong.write_bytes(spoil(copy))
    write(data, 1)
    before = sorted(p.name for p in data.iterdir())

    assert said in refusal(restore, data, wrong)

    assert n_changes(data / DATABASE_FILE) == 4
    assert sorted(p.name for p in data.iterdir()) == before


def test_the_command_shows_both_states_and_changes_nothing_without_a_yes(data, copy, capsys):
    write(data, 2, at="2027-05-08 12:00:00")

    with pytest.raises(SystemExit) as ended:
        main(["restore", str(copy), "--data", str(data)])

    told = capsys.readouterr()
    assert ended.value.code == 2
    assert "OLDER" in told.out
    assert "In the backup" in told.out
    assert "--yes" in told.err
    assert n_changes(data / DATABASE_FILE) == 5


def test_the_commands_say_what_they_did(data, tmp_path, capsys):
    write(data, 2)
    file = tmp_path / "day.backup"
    main(["backup", str(file), "--data", str(data), "--json"])
    saved = json.loads(capsys.readouterr().out)
    write(data, 1)

    main(["restore", str(file), "--data", str(data), "--yes", "--json"])

    told = json.loads(capsys.readouterr().out)
    assert saved["file"] == str(file)
    assert set(saved["holds"]) == {"event", "newest", "counts"}
    assert n_changes(Path(told["kept"])) == 3
    assert n_changes(data / DATABASE_FILE) == 2 + NOTE_OF_RETURN


def with_a_byte_changed(copy: Path, at: int) -> bytes:
    content = bytearray(copy.read_bytes())
    content[at] ^= 0x01
    return bytes(content)


def test_every_changed_byte_of_a_backup_is_noticed(copy, tmp_path):
    size = copy.stat().st_size
    wrong = tmp_path / "wrong.backup"
    # The whole head and seal, and a stride through the rest that hits every page.
    for at in (*range(100), *range(100, size - 200, 4001), *range(size - 200, size)):
        wrong.write_bytes(with_a_byte_changed(copy, at))
        with pytest.raises(InputError):
            look_at(wrong)


def test_a_backup_that_lost_its_end_is_refused_and_says_so(data, copy):
    wrong = copy.with_name("wrong.backup")
    wrong.write_bytes(copy.read_bytes()[:-1])

    assert "end with the checksum is missing" in refusal(restore, data, wrong)


def hollow(copy: Path) -> bytes:
    file = copy.with_name("hollow")
    with closing(sqlite3.connect(copy)) as old, closing(sqlite3.connect(file)) as new:
        for (name,) in old.execute("SELECT name FROM sqlite_schema WHERE type = 'table'"):
            if not name.startswith("sqlite_"):
                new.execute(f"CREATE TABLE {name} (id, app, name)")
    return file.read_bytes()


def without_its_revision(copy: Path) -> bytes:
    file = copy.with_name("no-revision")
    with closing(sqlite3.connect(copy)) as old, closing(sqlite3.connect(file)) as new:
        old.backup(new)
        new.execute("PRAGMA application_id=0")
        new.execute("DELETE FROM site_revisionrow")
        new.commit()
    return file.read_bytes()


@pytest.mark.parametrize(
    ("spoil", "said"),
    [(hollow, "django_session"), (without_its_revision, "its revision is missing")],
)
def test_a_hollow_backup_is_refused_and_says_what_is_missing(data, copy, spoil, said):
    wrong = copy.with_name("wrong.backup")
    wrong.write_bytes(spoil(copy))

    assert said in refusal(restore, data, wrong)
    assert n_changes(data / DATABASE_FILE) == 3


def test_a_plain_copy_without_a_checksum_is_taken_and_said_to_have_none(data, copy, capsys):
    plain = copy.with_name("plain.sqlite3")
    with closing(sqlite3.connect(copy)) as old, closing(sqlite3.connect(plain)) as new:
        old.backup(new)
        new.execute("PRAGMA application_id=0")

    main(["restore", str(plain), "--data", str(data), "--yes"])

    assert "no checksum" in capsys.readouterr().out


N_NOISY = 24


@pytest.mark.parametrize("seed", range(N_NOISY))
def test_noise_is_refused_in_words_and_a_good_backup_comes_back_over_it(data, copy, seed, capsys):
    rng = np.random.default_rng(seed)
    file = data / DATABASE_FILE
    content = bytearray(file.read_bytes())
    begin = int(rng.integers(0 if seed % 2 else 100, len(content) - 4096))
    content[begin : begin + 4096] = rng.bytes(4096)
    file.write_bytes(content)
    for ending in ("-wal", "-shm"):
        file.with_name(file.name + ending).unlink(missing_ok=True)
    noisy = copy.with_name("noisy.backup")
    noisy.write_bytes(content)

    for command in (
        ["backup", str(copy.with_name("next.backup"))],
        ["restore", str(noisy), "--yes"],
    ):
        with contextlib.suppress(SystemExit):  # a refusal; anything else fails the test
            main([*command, "--data", str(data)])
    main(["restore", str(copy), "--data", str(data), "--yes"])

    assert n_changes(file) == 3 + NOTE_OF_RETURN
    assert "Traceback" not in capsys.readouterr().err


def test_a_server_does_not_start_on_noise_and_says_what_to_do(data):
    file = data / DATABASE_FILE
    content = bytearray(file.read_bytes())
    content[4096:40960] = b"\xff\xfe\x80 noise" * 4096
    file.write_bytes(content)

    command = [sys.executable, "-m", "nearmark.cli", "serve", "--local", "--data", str(data)]
    said = subprocess.run(command, check=False, capture_output=True, text=True, timeout=100)

    assert said.returncode == 2
    assert "is damaged" in said.stderr
    assert "Traceback" not in said.stderr


def test_two_copies_of_what_was_there_within_a_second_have_two_names(data):
    kept = {keep_before("restore", data / DATABASE_FILE) for _ in range(3)}

    assert len(kept) == 3


def test_nobody_else_on_the_computer_reads_the_folder(data):
    modes = {file.name: file.stat().st_mode & 0o777 for file in data.iterdir()}

    assert data.stat().st_mode & 0o777 == 0o700
    assert set(modes.values()) == {0o600}, modes


def test_what_was_open_to_others_is_closed_at_the_next_start(data):
    data.chmod(0o755)
    (data / DATABASE_FILE).chmod(0o644)

    folder_lock.own_folder(data)

    assert data.stat().st_mode & 0o777 == 0o700
    assert (data / DATABASE_FILE).stat().st_mode & 0o777 == 0o600
