"""A released folder is what was released, or what differs is named."""

import json
from dataclasses import replace
from decimal import Decimal

import numpy as np
import pytest

from nearmark.cli import main
from nearmark.contest.event import KeyDecision
from nearmark.contest.proof.history_chain import history_line
from nearmark.contest.proof.release import Seal, pair_leaves, pair_proof
from nearmark.contest.proof.sealed_keys import commitment, key_file, sealed_keys
from nearmark.contest.rank_confidence import rank_confidence
from nearmark.contest.results import results
from nearmark.event_folder import read_event, write_event
from nearmark.event_folder.proof_rows import PEOPLE, event_rows, without_names
from nearmark.event_folder.releasing import proof_of
from nearmark.event_folder.tables import TABLES
from nearmark.event_folder.verify import verify_folder
from nearmark.event_folder.writer import contents_of

KEY_SALT, LEAF_SALT, PEOPLE_SALT = "11" * 32, "22" * 32, "33" * 32
N_CHANGES = 600
"""Of single bytes; ``benchmarks/tampering.py`` makes 5,000 and more."""


def released(event, *, earlier=()):
    """The event and its proof."""
    outcome = results(event)
    text = key_file(event.name, event.day.isoformat(), sealed_keys(outcome.keys.values()), KEY_SALT)
    seal = Seal("1", "2027-05-08T07:00:00Z", commitment(text))
    history = [
        history_line(f"2027-05-08T0{n}:00:00Z", {"who": "Juniper", "what": f"act {n}"}, PEOPLE_SALT)
        for n in range(1, 8)
    ]
    return proof_of(
        outcome,
        rank_confidence(outcome, n_draws=200, seed=event.seed),
        at="2027-05-08T15:00:00Z",
        earlier=earlier,
        seals=(seal,),
        key_files={"sealed-keys-1.txt": text},
        history=history,
        leaf_salt=LEAF_SALT,
        people_salt=PEOPLE_SALT,
    )


def released_with(sealed, event):
    """Another event, released with the seal of this proof."""
    outcome = results(event)
    return proof_of(
        outcome,
        rank_confidence(outcome, n_draws=200, seed=1),
        at="2027-05-08T15:00:00Z",
        seals=sealed.release.seals,
        key_files=dict(sealed.key_files),
        leaf_salt=LEAF_SALT,
        people_salt=PEOPLE_SALT,
    )


def write(folder, event, proof):
    write_event(event, folder)
    for name, content in proof.files().items():
        (folder / name).write_bytes(content)
    return folder


@pytest.fixture
def proof(small_event):
    return released(small_event)


@pytest.fixture
def folder(tmp_path, small_event, proof):
    return write(tmp_path / "event", small_event, proof)


def test_an_unchanged_folder_holds(folder, proof):
    found = verify_folder(folder, printed_head=proof.release.head)

    assert found.differences == ()
    assert found.head == proof.release.head
    assert found.facts[0].startswith("3 of 3 keys are those sealed")


def test_a_spreadsheet_that_says_the_same_is_no_alarm(folder, proof):
    """Line ends, quotes, a byte order mark, semicolons, the order of columns, trailing zeros."""
    answers = (folder / "answers.csv").read_text()
    heading, *rows = answers.splitlines()
    columns = heading.split(",")
    order = [columns.index(name) for name in sorted(columns)]
    again = [";".join(f'"{row.split(",")[i]}"' for i in order) for row in [heading, *rows]]
    (folder / "answers.csv").write_bytes("\ufeff".encode() + "\r\n".join(again).encode())
    samples = (folder / "counted_samples.csv").read_text()
    (folder / "counted_samples.csv").write_text(samples.replace("61.2,", "61.20,"))

    assert verify_folder(folder, printed_head=proof.release.head).differences == ()


@pytest.mark.parametrize(
    ("file", "old", "new", "named"),
    [
        ("answers.csv", "440", "450", "answers.csv, row"),
        ("answers.csv", "clerk Ash", "clerk Asp", "answers.csv, row"),
        ("adjudications.csv", "371", "372", "adjudications.csv, row 2"),
        ("rules.toml", "full_score = ", "full_score = 1", "rules.toml"),
        ("event.toml", "seed = 2", "seed = 3", "event.toml"),
        ("sealed-keys-1.txt", "100 g", "101 g", "sealed-keys-1.txt"),
        ("proof.json", "act 3", "act 4", "history line 3"),
        ("proof.json", "T03:00", "T03:01", "history until release 1"),
    ],
)
def test_what_was_changed_is_named(folder, file, old, new, named):
    text = (folder / file).read_text()
    assert old in text
    (folder / file).write_text(text.replace(old, new, 1))

    assert any(named in line for line in verify_folder(folder).differences)


def says_the_same(path, content, event):
    """Whether a file that was changed still means what it meant."""
    if path.name == "proof.json":
        return json.loads(path.read_text()) == json.loads(content)
    if path.suffix == ".txt":
        return commitment(path.read_bytes().decode()) == commitment(content.decode())
    return read_event(path.parent) == event


@pytest.mark.slow
def test_any_single_byte_is_named(folder, proof, small_event):
    """Sampled with a fixed seed over all files; what is not named must read the same."""
    rng = np.random.default_rng(20270508)
    files = sorted(p for p in folder.iterdir() if p.is_file())
    sizes = np.array([p.stat().st_size for p in files])
    n_same = 0
    for path in rng.choice(np.array(files), N_CHANGES, p=sizes / sizes.sum()):
        content = path.read_bytes()
        place, byte = int(rng.integers(len(content))), int(rng.integers(1, 256))
        changed = bytes([content[place] ^ byte])
        path.write_bytes(content[:place] + changed + content[place + 1 :])
        if verify_folder(folder, printed_head=proof.release.head).holds:
            n_same += 1
            assert says_the_same(path, content, small_event), (path.name, place, changed)
        path.write_bytes(content)
    assert n_same < N_CHANGES / 20


def test_a_folder_changed_as_a_whole_is_seen_by_the_printed_head(tmp_path, small_event, proof):
    other = replace(small_event, pairs=small_event.pairs[::-1])
    folder = write(tmp_path / "other", other, released(other))

    assert verify_folder(folder).holds
    found = verify_folder(folder, printed_head=proof.release.head)
    assert "is not the printed one" in found.differences[0]


def test_a_second_release_follows_from_the_first(tmp_path, small_event, proof):
    second = released(small_event, earlier=proof.releases)
    folder = write(tmp_path / "second", small_event, second)

    assert verify_folder(folder, printed_head=second.release.head).holds
    found = verify_folder(folder, printed_head=proof.release.head)
    assert "that of release 1" in found.differences[0]


def test_a_key_decided_after_sealing_is_told_with_its_reason(tmp_path, small_event):
    sealed = released(small_event)
    decision = KeyDecision("C1", Decimal(432), "Juniper", "counted twice by hand")
    decided = replace(small_event, key_decisions=(decision,))
    after = released_with(sealed, decided)
    found = verify_folder(write(tmp_path / "decided", decided, after))

    assert found.holds
    assert "decided by Juniper. Reason: counted twice by hand" in found.facts[1]


def test_a_key_that_moved_without_a_decision_is_a_difference(tmp_path, small_event):
    sealed = released(small_event)
    heavier = tuple(replace(row, mass_g=row.mass_g + 3) for row in small_event.samples)
    other = replace(small_event, samples=heavier)
    after = released_with(sealed, other)
    found = verify_folder(write(tmp_path / "moved", other, after))

    assert any("no decision says why" in line for line in found.differences)


def test_the_folder_for_everybody_holds_and_names_nobody(tmp_path, small_event, proof):
    folder = tmp_path / "open"
    folder.mkdir()
    files = without_names(contents_of(small_event), PEOPLE_SALT) | proof.for_everybody().files()
    for name, content in files.items():
        (folder / name).write_bytes(content)

    assert verify_folder(folder, printed_head=proof.release.head).differences == ()
    everything = b"".join(files.values()).decode()
    people = {a.clerk for a in small_event.answers} | {
        m for p in small_event.pairs for m in p.members
    }
    assert not [name for name in people if f",{name}," in everything or f'"{name}"' in everything]
    assert PEOPLE_SALT not in everything
    assert "Juniper" not in json.dumps(json.loads(files["proof.json"])["history"])


def test_every_column_that_names_a_person_is_hidden():
    naming = {"clerk", "counter", "by", "member_1", "member_2"}
    found = {t.file: tuple(c.name for c in t.columns if c.name in naming) for t in TABLES}

    assert dict(PEOPLE) == {file: columns for file, columns in found.items() if columns}


def test_numbers_are_compared_by_what_they_say(small_event):
    contents = contents_of(small_event)
    longer = {name: content.replace(b",61.2,", b",61.200,") for name, content in contents.items()}

    assert event_rows(longer, PEOPLE_SALT) == event_rows(contents, PEOPLE_SALT)


def test_a_folder_without_a_proof_says_what_to_do(tmp_path, small_event):
    write_event(small_event, tmp_path / "event")

    assert "after the results are released" in verify_folder(tmp_path / "event").differences[0]


def test_the_command_says_what_holds(capsys, folder, proof):
    main(["verify", str(folder), "--head", proof.release.head, "--json"])
    told = json.loads(capsys.readouterr().out)

    assert told["holds"] is True
    assert told["differences"] == []


def test_the_command_ends_with_1_when_something_differs(capsys, folder):
    (folder / "proof.json").write_text("{}")

    with pytest.raises(SystemExit) as end:
        main(["verify", str(folder)])
    assert end.value.code == 1
    assert "Not as it was released" in capsys.readouterr().out


def test_the_command_checks_one_pair(capsys, tmp_path, small_event, proof):
    leaves = pair_leaves(results(small_event).pairs, LEAF_SALT)
    path = tmp_path / "p2.txt"
    path.write_text(pair_proof(leaves, "P2", proof.release).text)
    main(["verify", "--pair-proof", str(path), "--head", proof.release.head])
    assert "Pair P2: place 2, total 219.79 points. This result is in release 1." in (
        capsys.readouterr().out
    )

    with pytest.raises(SystemExit) as end:
        main(["verify", "--pair-proof", str(path), "--head", "0" * 64])
    assert end.value.code == 1
