"""Many people at once: every acknowledged entry is there once, nothing else is."""

import threading
import uuid
from collections import Counter
from concurrent.futures import ThreadPoolExecutor
from decimal import Decimal

import pytest
from django.db import connections

from nearmark.contest.event import AnswerStatus
from nearmark.errors import NearmarkError
from nearmark.site.door import actions as doors
from nearmark.site.door.access import Role
from nearmark.site.door.rate_limit import MAX_PER_SUBJECT
from nearmark.site.event_day.answers.actions import PaperAnswer, record_answer
from nearmark.site.event_day.pairs.actions import add_pair
from nearmark.site.models import Account, AnswerEntry, PairRecord

N_THREADS = 12


def at_once(act, arguments):
    """Run an act in many threads that start together; refusals are returned."""
    gate = threading.Barrier(len(arguments))

    def run(argument):
        gate.wait()
        try:
            return act(*argument)
        except NearmarkError as refusal:
            return refusal
        finally:
            connections.close_all()

    with ThreadPoolExecutor(len(arguments)) as pool:
        return list(pool.map(run, arguments))


def read(key, pair, item, written, by):
    return record_answer(key, pair, item, written, by=by)


def answered(value: int) -> PaperAnswer:
    return PaperAnswer(AnswerStatus.ANSWERED, Decimal(value))


def test_every_acknowledged_entry_is_kept_once(committed_event):
    items = ["C1", "C2", "C3", "B1", "B2"]
    pairs = list(committed_event.pairs.filter(status="entered").values_list("code", flat=True))[:8]
    posts = [
        (uuid.uuid4(), pair, item, answered(100 + n), f"reader {n}")
        for n in range(2)
        for pair in pairs
        for item in items
    ]
    batches = [posts[i::N_THREADS] for i in range(N_THREADS)]

    def send(batch):
        # Each is posted twice, as after a lost link.
        return [read(*post).key for post in batch for _ in range(2)]

    acknowledged = [key for keys in at_once(send, [(b,) for b in batches]) for key in keys]

    kept = Counter(AnswerEntry.objects.values_list("key", flat=True))
    assert set(kept) == set(acknowledged) == {post[0] for post in posts}
    assert set(kept.values()) == {1}


def test_one_cell_takes_two_of_many_readers_and_refuses_the_others(committed_event):
    posts = [(uuid.uuid4(), "P01", "C2", answered(n + 1), f"reader {n}") for n in range(N_THREADS)]

    told = at_once(read, posts)

    kept = AnswerEntry.objects.filter(pair__code="P01", item__code="C2")
    assert sorted(kept.values_list("reading", flat=True)) == [1, 2]
    assert sum(isinstance(t, NearmarkError) for t in told) == N_THREADS - 2
    assert {t.key for t in told if isinstance(t, AnswerEntry)} == {e.key for e in kept}


def test_one_key_posted_by_many_threads_counts_once(committed_event):
    key = uuid.uuid4()

    told = at_once(read, [(key, "P01", "C2", answered(5), "Ash")] * N_THREADS)

    assert {t.pk for t in told} == {AnswerEntry.objects.get(key=key).pk}


@pytest.mark.slow
def test_pairs_added_at_once_get_different_codes(committed_event):
    def add(n):
        return add_pair("", "Quillbank", (f"child {n}",), "", by="Juniper")

    at_once(add, [(n,) for n in range(N_THREADS)])

    codes = list(PairRecord.objects.values_list("code", flat=True))
    assert len(codes) == len(set(codes)) == 49 + N_THREADS


def test_one_code_lets_one_of_many_in(committed_event):
    code, _ = doors.make_code(Role.SCORER, "Juniper")

    def come(n):
        return doors.join(code, f"child {n}", "4711", address=f"10.0.0.{n}")

    told = at_once(come, [(n,) for n in range(N_THREADS)])

    assert sum(isinstance(t, Account) for t in told) == 1
    assert Account.objects.filter(joined_by_code=True).count() == 1


def test_of_many_guesses_at_once_no_more_are_looked_at_than_are_allowed(
    committed_event, monkeypatch
):
    looked_at = []
    monkeypatch.setattr(Account, "check_password", lambda _, raw: looked_at.append(raw) or False)

    def guess(n):
        return doors.sign_in("Juniper", f"guess {n}", address="10.0.0.66")

    at_once(guess, [(n,) for n in range(40)])

    assert len(looked_at) == MAX_PER_SUBJECT
