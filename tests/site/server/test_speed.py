"""Little is asked of the database for an entry, and nothing is worked out twice."""

import threading
import uuid
from collections.abc import Sequence
from decimal import Decimal
from typing import Any

import pytest
from django.db import OperationalError, connection, connections, transaction
from django.test.utils import CaptureQueriesContext
from django.utils import timezone

from nearmark.contest.event import AnswerStatus
from nearmark.contest.podium import key_doubts
from nearmark.contest.rank_confidence import rank_confidence
from nearmark.contest.results import results
from nearmark.errors import NearmarkError, RuleError
from nearmark.site.common.writing import together
from nearmark.site.door import actions as doors
from nearmark.site.door.access import Role
from nearmark.site.event import confidence_cache as standing_confidence
from nearmark.site.event.confidence_cache import ConfidenceCache
from nearmark.site.event.load import load_event
from nearmark.site.event.results_cache import current_results
from nearmark.site.event_day.answers.actions import PaperAnswer, SubmittedReading, record_answers
from nearmark.site.models import AnswerEntry, ClosedPoint, Device, PairRecord

JSON = {"Accept": "application/json"}
SAVE = "/entry/save/"

# One look for session, device and revisions; for the doubts the key, the answers and the decisions;
# then, under the lock, the revision, the key, the other reading and one insert.  Begin and commit
# are the test's own, which record_answers joins.
MAX_STATEMENTS = 8


def test_an_entry_asks_the_database_eight_times(scorer, empty_event, cell_post):
    scorer.post(SAVE, cell_post("P01", "C2", "2870"), headers=JSON)  # the desk is read
    post = cell_post("P02", "C2", "2870")

    with CaptureQueriesContext(connection) as asked:
        answer = scorer.post(SAVE, post, headers=JSON)

    assert answer.status_code == 200
    assert len(asked) <= MAX_STATEMENTS, [q["sql"] for q in asked]


def saved(outcomes: Sequence[AnswerEntry | NearmarkError]) -> list[AnswerEntry]:
    """The rows of answers of which none was refused."""
    rows = [row for row in outcomes if isinstance(row, AnswerEntry)]
    assert len(rows) == len(outcomes)
    return rows


def test_forty_cells_of_one_form_are_one_transaction(committed_event):
    pairs = committed_event.pairs.filter(status="entered").values_list("code", flat=True)[:40]
    written = PaperAnswer(AnswerStatus.ANSWERED, Decimal(2870))
    reads = [SubmittedReading(uuid.uuid4(), pair, "C2", written, "Ash") for pair in pairs]

    with CaptureQueriesContext(connection) as asked:
        kept = record_answers(reads)

    begun = [q["sql"] for q in asked if q["sql"].startswith("BEGIN")]
    assert [row.key for row in saved(kept)] == [read.key for read in reads]
    assert len(begun) == 1
    assert AnswerEntry.objects.count() == 40


def test_what_is_kept_reads_back_through_the_model(empty_event):
    read = SubmittedReading(uuid.uuid4(), "P01", "C2", PaperAnswer(AnswerStatus.BLANK), "Ash")

    (row,) = saved(record_answers([read]))

    entry = AnswerEntry.objects.get(pk=row.pk)
    assert (entry.key, entry.pair.code, entry.item.code) == (read.key, "P01", "C2")
    assert (entry.reading, entry.clerk, entry.status, entry.value) == (1, "Ash", "blank", None)
    assert (entry.cup, entry.struck_at, entry.struck_by, entry.struck_why) == ("", None, "", "")
    assert entry.at.tzinfo is not None


def test_a_refused_reading_leaves_the_others_of_its_form(empty_event):
    written = PaperAnswer(AnswerStatus.ANSWERED, Decimal(5))
    reads = [
        SubmittedReading(uuid.uuid4(), code, "C2", written, "Ash") for code in ("P01", "P01", "P02")
    ]

    first, second, third = record_answers(reads)

    assert [row.key for row in saved([first, third])] == [reads[0].key, reads[2].key]
    assert isinstance(second, RuleError)


def at_once(*acts):
    """Run acts in threads that come to the lock together; what each returned or raised."""
    told: dict[int, Any] = {}
    gate = threading.Barrier(len(acts))

    def run(n, act):
        gate.wait()
        try:
            told[n] = together([act])
        except Exception as error:  # noqa: BLE001 - looked at by the test
            told[n] = error
        finally:
            connection.close()

    threads = [threading.Thread(target=run, args=(n, act)) for n, act in enumerate(acts)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    return [told[n] for n in range(len(acts))]


def test_one_who_fails_does_not_take_the_others_along(committed_event):
    def write(code):
        return lambda: PairRecord.objects.filter(code=code).update(school="kept")

    def spoil():
        PairRecord.objects.filter(code="P03").update(school="spoilt")
        raise OperationalError("database or disk is full")

    codes = ["P01", "P02", "P04", "P05"]
    *good, bad = at_once(*map(write, codes), spoil)

    assert good == [[1]] * 4
    assert isinstance(bad, OperationalError)
    assert set(PairRecord.objects.filter(school="kept").values_list("code", flat=True)) == set(
        codes
    )
    assert not PairRecord.objects.filter(school="spoilt").exists()


def test_nobody_is_told_saved_when_the_commit_fails(committed_event, monkeypatch):
    def no_commit(self) -> None:
        self.rollback()
        raise OperationalError("database or disk is full")

    monkeypatch.setattr(type(connections["default"]), "commit", no_commit)
    told = at_once(*[lambda: PairRecord.objects.update(school="kept")] * 4)
    monkeypatch.undo()

    assert all(isinstance(one, OperationalError) for one in told)
    assert not PairRecord.objects.filter(school="kept").exists()


@pytest.mark.slow
def test_together_inside_something_larger_is_part_of_it(committed_event):
    def slip():
        with transaction.atomic():
            assert together([lambda: PairRecord.objects.update(school="kept")])
            raise LookupError

    with pytest.raises(LookupError):
        slip()

    assert not PairRecord.objects.filter(school="kept").exists()


def test_a_revoked_device_is_out_at_its_next_request(scorer, empty_event, cell_post):
    assert scorer.post(SAVE, cell_post("P01", "C2", "5"), headers=JSON).status_code == 200

    doors.revoke(Device.objects.get(account__name="scorer one"), by="Juniper")

    assert scorer.post(SAVE, cell_post("P02", "C2", "5"), headers=JSON).status_code == 401


def test_a_signed_out_session_does_not_come_back(sign_in, empty_event, cell_post):
    scorer = sign_in(Role.SCORER)
    cookie = scorer.cookies["sessionid"].value
    scorer.post("/sign-out/")

    scorer.cookies["sessionid"] = cookie

    assert scorer.post(SAVE, cell_post("P01", "C2", "5"), headers=JSON).status_code == 401


@pytest.fixture
def settled(demo):
    """The demo once the lead has settled what leaves a key in doubt."""
    for point in key_doubts(current_results(demo)):
        ClosedPoint.objects.create(
            event=demo, point=point.id, by="lead", reason="counted again", at=timezone.now()
        )


@pytest.mark.usefixtures("settled")
def test_the_standings_are_drawn_once_for_many_views(lead, monkeypatch):
    drawn = []
    real = standing_confidence.drawn
    monkeypatch.setattr(standing_confidence, "drawn", lambda o: drawn.append(1) or real(o))
    monkeypatch.setattr("nearmark.site.event_day.results.views.CONFIDENCE", ConfidenceCache())
    monkeypatch.setattr(standing_confidence, "SHORT_WAIT_S", 30)

    pages = [lead.get("/standings/").content.decode() for _ in range(3)]

    assert len(drawn) == 1
    assert "How sure is the podium" in pages[-1]


def test_the_kept_confidence_is_the_one_drawn_afresh(demo):
    outcome = current_results(demo)

    sure = ConfidenceCache().ask(outcome, wait_s=60)

    afresh = rank_confidence(results(load_event(demo)), n_draws=10_000, seed=demo.seed)
    assert sure.confidence.podium_order == afresh.podium_order
    assert (sure.confidence.place_probability == afresh.place_probability).all()


@pytest.fixture
def slow_draws(monkeypatch):
    """Draws that wait until the test lets them end."""
    go = threading.Event()
    real = standing_confidence.drawn

    def wait(outcome):
        go.wait(60)
        return real(outcome)

    monkeypatch.setattr(standing_confidence, "drawn", wait)
    yield go
    go.set()


@pytest.mark.usefixtures("settled")
def test_a_page_comes_at_once_and_says_that_the_confidence_is_being_worked_out(
    lead, demo, slow_draws, source_of, monkeypatch
):
    desk = ConfidenceCache()
    monkeypatch.setattr("nearmark.site.event_day.results.views.CONFIDENCE", desk)

    early = source_of(lead.get("/standings/"))
    slow_draws.set()
    assert desk.ask(current_results(demo), wait_s=60).confidence is not None
    late = lead.get("/standings/").content.decode()

    assert "Being calculated" in early
    assert '<noscript><meta http-equiv="refresh"' in early
    assert "P01" in early
    assert "Being calculated" not in late
    assert "refresh" not in late


def test_the_newest_state_is_drawn_next_and_those_between_are_left_out(demo, slow_draws):
    desk = ConfidenceCache()
    states = []
    for code in ("P01", "P02", "P03"):
        PairRecord.objects.filter(code=code).update(status="absent")
        states.append(current_results(demo))
        desk.ask(states[-1], wait_s=0)

    slow_draws.set()

    assert desk.ask(states[2], wait_s=60).confidence is not None
    assert states[0] != states[2]


def test_a_pair_checked_in_does_not_make_the_places_unsure(demo):
    desk = ConfidenceCache()
    before = desk.ask(current_results(demo), wait_s=60).confidence

    PairRecord.objects.filter(code="P01").update(arrived_at="2027-05-08T09:00Z")

    assert desk.ask(current_results(demo), wait_s=0).confidence is before
