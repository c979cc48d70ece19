"""Long work in the background: progress, stopping, a kept result, a restart in between."""

import io
import threading
import zipfile

import pytest

from nearmark.contest.rank_confidence import rank_confidence
from nearmark.contest.results import results
from nearmark.errors import InputError
from nearmark.site.event.load import load_event
from nearmark.site.jobs import worker
from nearmark.site.jobs.kinds import KINDS, Kind
from nearmark.site.models import Change, Job, JobFile, JobState
from nearmark.words.standings import standing_words

ASK = "/jobs/ask/"


def with_work(monkeypatch, work) -> None:
    """Put other work in the place of the feedback pages."""
    kinds = dict(KINDS) | {"feedback": Kind("Feedback", work)}
    monkeypatch.setattr(worker, "KINDS", kinds)


@pytest.mark.slow
def test_the_feedback_pages_come_as_one_pdf_a_school(lead, demo):
    lead.post(ASK, {"kind": "feedback"})
    assert worker.run_next()

    job = Job.objects.get()
    schools = {p.pair.school for p in results(load_event(demo)).pairs if p.items}
    answer = lead.get(f"/jobs/{job.pk}/result")
    folder = zipfile.ZipFile(io.BytesIO(answer.content))
    assert (job.state, job.n_done) == (JobState.DONE, job.n_all)
    assert len(folder.namelist()) == len(schools)
    assert all(folder.read(name).startswith(b"%PDF") for name in folder.namelist())
    assert Change.objects.first().what == "asked for long work: feedback"


def test_many_draws_say_what_the_core_says(lead, demo):
    lead.post(ASK, {"kind": "confidence", "size": "20000"})
    worker.run_next()

    outcome = results(load_event(demo))
    expected = rank_confidence(outcome, n_draws=20_000, seed=demo.seed)
    job = Job.objects.get()
    assert job.told == " ".join(standing_words(outcome, expected).sentences)
    assert (job.n_done, job.n_all) == (20_000, 20_000)
    assert bytes(job.file.content).startswith(b"%PDF")


@pytest.mark.parametrize("size", ["999", "5000001", "-1", "1e9", "", "9" * 400, "many"])
def test_an_absurd_request_is_refused_and_names_the_limit(lead, demo, size):
    answer = lead.post(ASK, {"kind": "confidence", "size": size})

    assert answer.status_code == 422
    assert not Job.objects.exists()


def test_the_queue_is_short_and_one_is_done_at_a_time(lead, demo):
    answers = [lead.post(ASK, {"kind": "feedback"}).status_code for _ in range(5)]

    assert answers == [302] * 4 + [409]
    assert lead.post(ASK, {"kind": "a poem"}).status_code == 422


def test_what_waits_is_stopped_at_once_and_never_begun(lead, demo):
    lead.post(ASK, {"kind": "feedback"})
    job = Job.objects.get()

    assert lead.post(f"/jobs/{job.pk}/cancel/").status_code == 302
    assert not worker.run_next()
    assert Job.objects.get().state == JobState.CANCELLED
    assert lead.post(f"/jobs/{job.pk}/cancel/").status_code == 409


def test_what_runs_stops_at_its_next_step_and_leaves_no_result(lead, demo, monkeypatch):
    def work(outcome, size, step):
        step(1, 2)
        lead.post(f"/jobs/{Job.objects.get().pk}/cancel/")
        step(2, 2)
        pytest.fail("went on after it was stopped")

    with_work(monkeypatch, work)
    lead.post(ASK, {"kind": "feedback"})
    worker.run_next()

    assert Job.objects.get().state == JobState.CANCELLED
    assert not JobFile.objects.exists()


def test_progress_is_told_to_the_page_and_its_script(lead, demo, monkeypatch):
    seen = {}

    def work(outcome, size, step):
        step(3, 8)
        seen["page"] = lead.get("/jobs/").content.decode()
        seen["state"] = lead.get("/jobs/state.json").json()
        raise InputError("is enough", where="this")

    with_work(monkeypatch, work)
    lead.post(ASK, {"kind": "feedback"})
    worker.run_next()

    job = Job.objects.get()
    assert "3 of 8" in seen["page"]
    assert seen["state"] == {str(job.pk): {"state": "running", "done": 3, "all": 8}}
    assert (job.state, "is enough" in job.told) == (JobState.FAILED, True)


def test_a_defect_ends_the_work_and_not_the_worker(lead, demo, monkeypatch, caplog):
    with_work(monkeypatch, lambda *_: 1 / 0)
    for _ in range(2):
        lead.post(ASK, {"kind": "feedback"})

    assert worker.run_next()
    assert worker.run_next()

    assert set(Job.objects.values_list("state", flat=True)) == {JobState.FAILED}
    assert "ZeroDivisionError" in caplog.text


@pytest.mark.slow
def test_what_a_restart_left_running_is_interrupted_and_can_be_asked_for_again(lead, demo):
    lead.post(ASK, {"kind": "feedback"})
    Job.objects.update(state=JobState.RUNNING)

    assert worker.interrupt_left_running() == 1

    job = Job.objects.get()
    assert job.state == JobState.INTERRUPTED
    assert "Start again" in lead.get("/jobs/").content.decode()
    assert lead.get(f"/jobs/{job.pk}/result").status_code == 422
    lead.post(f"/jobs/{job.pk}/again/")
    worker.run_next()
    assert Job.objects.first().state == JobState.DONE


def test_what_has_not_ended_is_not_asked_for_twice(lead, demo):
    lead.post(ASK, {"kind": "feedback"})

    assert lead.post(f"/jobs/{Job.objects.get().pk}/again/").status_code == 409


def test_a_process_starts_one_worker_only(monkeypatch):
    started = []

    def begin(thread):
        started.append(thread.daemon)

    monkeypatch.setattr(worker, "_STARTED", threading.Lock())
    monkeypatch.setattr(threading.Thread, "start", begin)

    worker.start()
    worker.start()

    assert started == [True]
