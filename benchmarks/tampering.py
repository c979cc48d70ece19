"""Every change of a single byte in a released folder is named, or reads the same.

``python benchmarks/tampering.py [N]`` releases the invented event, changes N single bytes (6,000 if
not said), one at a time, and counts what ``verify`` says; then it saves the tables anew as a
spreadsheet would and looks for false alarms.  It ends with status 1 when a change passed unseen.
"""

import csv
import io
import json
import sys
import tempfile
import time
from collections import Counter
from pathlib import Path

import numpy as np

from nearmark.contest.proof.history_chain import history_line
from nearmark.contest.proof.release import Seal
from nearmark.contest.proof.sealed_keys import commitment, key_file, sealed_keys
from nearmark.contest.rank_confidence import rank_confidence
from nearmark.contest.results import results
from nearmark.demo import larkspur_valley
from nearmark.errors import NearmarkError
from nearmark.event_folder import read_event, write_event
from nearmark.event_folder.releasing import proof_of
from nearmark.event_folder.verify import verify_folder

SALT = "0f" * 32


def released(folder):
    """The invented event with its proof; the confidence drawn 100 times, to keep a check short."""
    event = larkspur_valley()
    outcome = results(event)
    text = key_file(event.name, event.day.isoformat(), sealed_keys(outcome.keys.values()), SALT)
    details = [{"who": "Juniper", "what": f"act {n}", "why": ""} for n in range(200)]
    proof = proof_of(
        outcome,
        rank_confidence(outcome, n_draws=100, seed=event.seed),
        at="2027-05-08T15:00:00Z",
        seals=(Seal("1", "2027-05-08T07:00:00Z", commitment(text)),),
        key_files={"sealed-keys-1.txt": text},
        history=[history_line("2027-05-08T09:00:00Z", d, SALT) for d in details],
        leaf_salt=SALT,
        people_salt=SALT,
    )
    write_event(event, folder)
    for name, content in proof.files().items():
        (folder / name).write_bytes(content)
    return event, proof.release.head


def says_the_same(path, content, event):
    """Whether a file that was changed still means what it meant."""
    if path.name == "proof.json":
        return json.loads(path.read_text()) == json.loads(content)
    if path.suffix == ".txt":
        return commitment(path.read_bytes().decode()) == commitment(content.decode())
    return read_event(path.parent) == event


def change_bytes(folder, event, head, n):
    """Outcomes of n changes, by file."""
    rng = np.random.default_rng(1)
    files = sorted(p for p in folder.iterdir() if p.is_file())
    outcomes: Counter[tuple[str, str]] = Counter()
    # Half by size, half by file: a short file is looked at as often as a long one.
    sizes = np.array([p.stat().st_size for p in files], float)
    for by in (sizes / sizes.sum(), np.full(len(files), 1 / len(files))):
        for path in rng.choice(np.array(files), n // 2, p=by):
            content = path.read_bytes()
            place, byte = int(rng.integers(len(content))), int(rng.integers(1, 256))
            changed = bytes([content[place] ^ byte])
            path.write_bytes(content[:place] + changed + content[place + 1 :])
            if not verify_folder(folder, printed_head=head).holds:
                outcomes[path.name, "named"] += 1
            elif says_the_same(path, content, event):
                outcomes[path.name, "reads the same"] += 1
            else:
                outcomes[path.name, "UNSEEN"] += 1
            path.write_bytes(content)
    return outcomes


def saved_anew(folder):
    """Tables as another program would write them: CRLF, semicolons, quotes, a byte order mark."""
    for path in folder.glob("*.csv"):
        rows = list(csv.reader(io.StringIO(path.read_text())))
        out = io.StringIO()
        csv.writer(out, delimiter=";", quoting=csv.QUOTE_ALL, lineterminator="\r\n").writerows(rows)
        path.write_bytes(("\ufeff" + out.getvalue()).encode())


def main():
    n = int(sys.argv[1]) if len(sys.argv) > 1 else 6_000
    with tempfile.TemporaryDirectory() as place:
        folder = Path(place) / "event"
        event, head = released(folder)
        started = time.perf_counter()
        assert verify_folder(folder, printed_head=head).holds
        print(f"one check: {time.perf_counter() - started:.2f} s")
        outcomes = change_bytes(folder, event, head, n)
        for name in sorted({name for name, _ in outcomes}):
            row = {kind: count for (file, kind), count in sorted(outcomes.items()) if file == name}
            print(f"{name:24}", "  ".join(f"{kind} {count}" for kind, count in row.items()))
        unseen = sum(count for (_, kind), count in outcomes.items() if kind == "UNSEEN")
        named = sum(count for (_, kind), count in outcomes.items() if kind == "named")
        print(f"{n} single bytes changed: {named} named, {unseen} unseen")
        saved_anew(folder)
        try:
            found = verify_folder(folder, printed_head=head)
        except NearmarkError as refusal:
            print(f"saved anew: refused, {refusal}")
            sys.exit(1)
        print(f"saved anew by another program: {len(found.differences)} false alarms")
    sys.exit(1 if unseen or found.differences else 0)


if __name__ == "__main__":
    main()
