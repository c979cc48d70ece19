"""What an answer tells of is on the disk: on every connection, and before the answer begins."""

import sqlite3
import threading
import uuid
from concurrent.futures import ThreadPoolExecutor

import pytest
from django.core.wsgi import get_wsgi_application
from django.db import connection, connections, transaction
from django.test import Client

from nearmark.site.door.access import Role
from nearmark.site.models import Account

N_THREADS = 16
PASSWORD = "four quiet otters swim"
FULL = 2
"""SQLite, PRAGMA synchronous: 2 is FULL (sqlite.org/pragma.html)."""


def in_force() -> tuple[str, int, int]:
    with connection.cursor() as cursor:
        journal, synchronous, foreign = (
            cursor.execute(f"PRAGMA {name}").fetchone()[0]
            for name in ("journal_mode", "synchronous", "foreign_keys")
        )
    return journal, synchronous, foreign


def test_every_thread_s_connection_is_durable_also_after_a_reconnect(transactional_db):
    gate = threading.Barrier(N_THREADS)

    def open_twice(_: int) -> list[tuple[str, int, int]]:
        gate.wait()
        try:
            told = [in_force()]
            connection.close()
            return [*told, in_force()]
        finally:
            connections.close_all()

    with ThreadPoolExecutor(N_THREADS) as threads:
        told = [each for pair in threads.map(open_twice, range(N_THREADS)) for each in pair]

    assert told == [("wal", FULL, 1)] * (2 * N_THREADS)


def test_a_write_begins_by_taking_the_lock_not_by_finding_it_taken(transactional_db):
    said: list[str] = []
    connection.ensure_connection()
    connection.connection.set_trace_callback(said.append)
    try:
        Account.objects.make("Sorrel", Role.SCORER, PASSWORD)
        with transaction.atomic():
            Account.objects.filter(name="Sorrel").update(is_active=False)
    finally:
        connection.connection.set_trace_callback(None)

    begun = [sql for sql in said if sql.upper().startswith("BEGIN")]
    assert begun
    assert set(begun) == {"BEGIN IMMEDIATE"}


@pytest.fixture
def scorer(committed_event) -> Client:
    if not Account.objects.filter(name="Ash").exists():
        Account.objects.make("Ash", Role.SCORER, PASSWORD)
    client = Client()
    assert client.post("/sign-in/", {"name": "Ash", "password": PASSWORD}).status_code == 302
    return client


def test_when_the_answer_begins_another_program_finds_the_entry_in_the_file(
    committed_event, scorer, entry_environ
):
    key, sent = one_entry(committed_event, scorer, "P01")

    assert post_and_look(get_wsgi_application(), entry_environ(scorer, sent), key) == ("200", 1)


def one_entry(event, scorer: Client, code: str) -> tuple[uuid.UUID, dict[str, str]]:
    """An entry's key and its fields."""
    key = uuid.uuid4()
    pair, item = event.pairs.get(code=code), event.items.get(code="C2")
    sent = {f"v-{pair.pk}-{item.pk}": "2870", f"k-{pair.pk}-{item.pk}": str(key), "heat": ""}
    return key, sent | {"reader": scorer.session["_auth_user_id"]}


def post_and_look(site, environ, key: uuid.UUID) -> tuple[str, int]:
    """Status of an entry, and how often it is in the file when its answer begins."""
    file = connection.settings_dict["NAME"]
    found: list[tuple[str, int]] = []

    def begin_answer(status: str, headers: object, exc_info: object = None) -> None:
        with sqlite3.connect(file) as other:
            rows = other.execute("SELECT count(*) FROM site_answerentry WHERE key = ?", (key.hex,))
            found.append((status[:3], rows.fetchone()[0]))
        other.close()

    answer = site(environ, begin_answer)
    told = b"".join(answer)
    if hasattr(answer, "close"):
        answer.close()
    assert len(found) == 1, told[:300]
    return found[0]
