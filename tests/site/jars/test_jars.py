"""The shelf of practice jars: who comes to it, what it gives away, what an answer is worth."""

import io
import json

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from PIL import Image

from nearmark.charts.jar_scene import filled_shell
from nearmark.charts.ready_jars import ready_jars
from nearmark.contest.scoring import percent_accuracy
from nearmark.errors import InputError, RuleError
from nearmark.site.door.access import Role
from nearmark.site.jars import actions as acts
from nearmark.site.jars import build as jar_build
from nearmark.site.jars.answering import answer_jar
from nearmark.site.jars.build import Exhibit
from nearmark.site.jobs import worker
from nearmark.site.models import Change, Job, JobState, PracticeJar


@pytest.fixture
def shelf(lead) -> list[PracticeJar]:
    assert lead.post("/jars/shelf/ready/").status_code == 302
    return list(PracticeJar.objects.all())


@pytest.fixture
def coach(sign_in):
    return sign_in(Role.COACH)


@pytest.fixture
def quick_workshop(monkeypatch):
    """The first ready jar in place of a process that draws."""
    ready = ready_jars()[0]
    made = Exhibit(ready.jar, ready.shell, ready.told)
    monkeypatch.setattr(jar_build, "exhibit", lambda _: made)

    def pour(band, shape, seed, *, step):
        step(50, 100)
        step(100, 100)
        return made

    monkeypatch.setattr(jar_build, "pour", pour)


def photo() -> SimpleUploadedFile:
    out = io.BytesIO()
    Image.effect_noise((640, 480), 60).convert("RGB").save(out, "JPEG")
    return SimpleUploadedFile("own.jpg", out.getvalue(), "image/jpeg")


def photo_post(**more) -> dict:
    given = {"photo": photo(), "what": "chickpeas", "count": "421", "checked_by": "Juniper"}
    return given | {"no_faces": "on"} | more


def test_the_ready_jars_are_on_the_shelf_at_once_and_only_once(lead, shelf):
    assert len(shelf) == 9
    assert {jar.band for jar in shelf} == {"small", "medium", "large"}
    assert lead.post("/jars/shelf/ready/").status_code == 409


def test_no_page_before_the_answer_says_the_count(lead, coach, shelf):
    large = shelf[-1]
    for address in ("/jars/", "/jars/shelf/", f"/jars/{large.pk}/", "/history/"):
        page = lead.get(address).content.decode()
        assert str(large.count) not in page.replace("\N{NO-BREAK SPACE}", "")
    assert not Change.objects.filter(new__contains=str(large.count)).exists()


def test_an_answer_is_scored_and_said_why(lead, shelf):
    jar = shelf[0]
    given = {"estimate": "800", "layer": "80", "layers": "10"}

    page = lead.post(f"/jars/{jar.pk}/", given).content.decode()

    # 661 pieces: 100 (1 - 139 / 661) = 78.97
    assert '<p class="answer">79</p>' in page
    assert "21 % high" in page
    assert "<svg" in page
    assert not Change.objects.filter(what__contains="answer").exists()


def test_the_act_for_other_pages_gives_the_same(shelf):
    jar = shelf[1]
    outcome = answer_jar(jar.pk, 250, 30, 9)

    assert outcome.points == percent_accuracy(250, jar.count)
    assert sum(outcome.layer_counts) == jar.count
    assert outcome.words


@pytest.mark.parametrize("text", ["", "0", "-5", "many", "1.5", "9" * 30, "<b>", "1e9"])
def test_a_bad_answer_is_refused_beside_its_field(lead, shelf, text, source_of):
    answer = lead.post(f"/jars/{shelf[0].pk}/", {"estimate": text})

    assert answer.status_code == 422
    assert "661" not in source_of(answer)


@pytest.mark.parametrize("estimate", [0, -1, 10_000_001, float("nan"), float("inf")])
def test_the_act_refuses_what_cannot_be_an_answer(shelf, estimate):
    with pytest.raises(InputError):
        answer_jar(shelf[0].pk, estimate)


def test_the_public_comes_in_only_when_the_lead_opens(lead, shelf, client, source_of):
    address = f"/jars/{shelf[0].pk}/"
    assert client.get("/jars/").status_code == 409
    assert client.post(address, {"estimate": "500"}).status_code == 409

    lead.post("/jars/shelf/everybody/", {"open": "yes"})
    lead.post(f"/jars/shelf/{shelf[1].pk}/open/", {"open": "no"})

    assert client.get(address).status_code == 200
    assert client.post(address, {"estimate": "500"}).status_code == 200
    assert client.get(f"/jars/{shelf[1].pk}/").status_code == 422
    assert "J02" not in source_of(client.get("/jars/"))
    lead.post("/jars/shelf/everybody/", {"open": "no"})
    assert client.get(address).status_code == 409


def test_a_coach_keeps_the_shelf_but_does_not_open_it_to_all(coach, shelf):
    assert coach.get("/jars/shelf/").status_code == 200
    assert coach.post("/jars/shelf/everybody/", {"open": "yes"}).status_code == 403
    assert not acts.is_open_to_all()


def test_a_pass_opens_one_file_of_one_jar_and_cannot_be_made_up(client, shelf):
    jar = shelf[0]
    shell = client.get(f"/jars/part/{acts.pass_for(jar, 'shell')}")
    whole = client.get(f"/jars/part/{answer_jar(jar.pk, 5).whole_pass}")

    assert shell.content == filled_shell(ready_jars()[0].shell)
    length = int.from_bytes(whole.content[:4], "little")
    assert sum(json.loads(whole.content[4 : 4 + length])["layers"]) == jar.count
    # The signature of the shell under the name of the whole.
    name, _, _ = acts.pass_for(jar, "whole").partition(":")
    _, _, signature = acts.pass_for(jar, "shell").partition(":")
    forged = f"{name}:{signature}"
    assert client.get(f"/jars/part/{forged}").status_code == 422
    page = client.get(f"/jars/part/{acts.pass_for(jar, 'photo')}")
    assert page.status_code == 422


def test_a_pour_runs_in_the_background_and_lands_on_the_shelf(coach, quick_workshop):
    coach.post("/jars/shelf/pour/", {"band": "small", "shape": "0"})
    assert worker.run_next()

    job = Job.objects.get()
    assert (job.state, job.n_done, job.n_all) == (JobState.DONE, 100, 100)
    assert PracticeJar.objects.get().made_by == "coach one"
    state = coach.get("/jars/shelf/pouring.json").json()
    assert state[str(job.pk)]["state"] == "done"


def test_a_pour_can_be_stopped_and_leaves_no_jar(coach, quick_workshop):
    coach.post("/jars/shelf/pour/", {"band": "large", "shape": "3"})
    job = Job.objects.get()

    coach.post(f"/jars/shelf/stop/{job.pk}/")

    assert not worker.run_next()
    assert not PracticeJar.objects.exists()


def test_only_a_pour_is_stopped_from_the_shelf(coach, lead):
    lead.post("/jobs/ask/", {"kind": "feedback"})

    assert coach.post(f"/jars/shelf/stop/{Job.objects.get().pk}/").status_code == 422


@pytest.mark.parametrize(
    "given", [{"band": "huge", "shape": "0"}, {"band": "small", "shape": "77"}]
)
def test_an_absurd_pour_is_refused(coach, given):
    assert coach.post("/jars/shelf/pour/", given).status_code == 422
    assert not Job.objects.exists()


def test_a_jar_file_is_imported_and_a_bad_one_names_itself(lead, quick_workshop):
    good = SimpleUploadedFile("good.jar", ready_jars()[0].jar)
    assert lead.post("/jars/shelf/import/", {"files": [good]}).status_code == 302

    cut = SimpleUploadedFile("cut.jar", ready_jars()[0].jar[:-9])
    good = SimpleUploadedFile("good.jar", ready_jars()[0].jar)
    answer = lead.post("/jars/shelf/import/", {"files": [cut, good]})

    assert answer.status_code == 422
    assert "cut.jar" in answer.content.decode()
    assert PracticeJar.objects.count() == 2


@pytest.mark.slow
def test_the_workshop_in_its_own_process_says_what_the_package_says():
    ready = ready_jars()[1]

    made = jar_build.exhibit(ready.jar)

    assert (made.told, made.shell) == (ready.told, ready.shell)
    with pytest.raises(InputError, match="not a jar file"):
        jar_build.exhibit(b"hello")


def test_a_photo_becomes_a_jar_without_what_the_camera_wrote(lead):
    assert lead.post("/jars/shelf/photo/", photo_post()).status_code == 302

    jar = PracticeJar.objects.get()
    page = lead.post(f"/jars/{jar.pk}/", {"estimate": "400"}).content.decode()
    assert (jar.code, jar.count, jar.band) == ("F01", 421, "small")
    assert '<p class="answer">95</p>' in page
    kept = lead.get(f"/jars/part/{acts.pass_for(jar, 'photo')}")
    assert kept["Content-Type"] == "image/jpeg"
    assert "exif" not in Image.open(io.BytesIO(kept.content)).info


@pytest.mark.slow
def test_a_photo_needs_the_promise_about_faces_and_must_be_a_photo(lead):
    without = photo_post()
    del without["no_faces"]
    assert lead.post("/jars/shelf/photo/", without).status_code == 422
    for content in (b"hello", b"GIF89a" + bytes(60)):
        bad = photo_post(photo=SimpleUploadedFile("x.jpg", content, "image/jpeg"))
        answer = lead.post("/jars/shelf/photo/", bad)
        assert answer.status_code == 422
        assert "JPEG, PNG or WebP" in answer.content.decode()
    assert not PracticeJar.objects.exists()


def test_cards_of_a_photo_and_their_key(lead):
    lead.post("/jars/shelf/photo/", photo_post())
    jar = PracticeJar.objects.get()

    for address in ("/jars/cards.pdf", "/jars/cards-key.pdf"):
        answer = lead.get(address, {"jar": jar.pk})
        assert answer["Content-Type"] == "application/pdf"
        assert answer.content.startswith(b"%PDF")
    assert lead.get("/jars/cards.pdf").status_code == 422
    assert lead.get("/jars/cards.pdf", {"jar": "999999"}).status_code == 422


@pytest.mark.parametrize("seed", ["", "x", "-1", "1234567", "\N{SUPERSCRIPT TWO}"])
def test_boxes_by_the_number_of_their_page(lead, seed):
    assert lead.get("/jars/boxes.pdf", {"seed": "42"}).content.startswith(b"%PDF")
    assert lead.get("/jars/boxes.pdf", {"seed": seed}).status_code == 422


def test_what_is_taken_off_is_gone_and_its_code_is_not_given_again(lead, shelf):
    lead.post(f"/jars/shelf/{shelf[0].pk}/off/")

    assert lead.get(f"/jars/{shelf[0].pk}/").status_code == 422
    assert not shelf[0].parts.exists()
    lead.post("/jars/shelf/photo/", photo_post())
    assert PracticeJar.objects.last().code == "F10"


def test_a_full_shelf_says_so(shelf, monkeypatch):
    monkeypatch.setattr(acts, "MAX_JARS", 9)

    with pytest.raises(RuleError, match="on the shelf"):
        acts.add_photo(photo().read(), "beans", 100, "Juniper", by="Juniper")


def test_a_coach_pours_and_stops_on_a_site_without_an_event(no_event, coach, quick_workshop):
    for _ in range(2):
        answer = coach.post("/jars/shelf/pour/", {"band": "small", "shape": "0"})
        assert answer.status_code == 302
    assert "Small jar" in coach.get("/jars/shelf/").content.decode()
    coach.post(f"/jars/shelf/stop/{Job.objects.latest('pk').pk}/")
    assert worker.run_next()
    assert not worker.run_next()

    assert set(Job.objects.values_list("state", flat=True)) == {JobState.DONE, JobState.CANCELLED}
    assert PracticeJar.objects.get().band == "small"


def test_work_on_an_event_asks_for_one(no_event, lead):
    assert lead.post("/jobs/ask/", {"kind": "feedback"}).status_code == 409
    assert not Job.objects.exists()
