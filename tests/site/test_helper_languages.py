"""The pages of the helpers in a language that is not English, and what is kept of what they do."""

import re
import uuid

import pytest
from bracketed import CODE, OPEN, untranslated
from django.test import Client
from django.utils import timezone

from nearmark.site.door.access import Job, Role
from nearmark.site.door.models import Account
from nearmark.site.event.models import Change
from nearmark.site.models import AnswerEntry, Device, EventRecord, HeatRun

KEPT = ("Larkspur Valley Estimation Day", "scorer one", "Juniper", "nobody")


def data_of(record: EventRecord) -> set[str]:
    """What was typed in: names of the event, of schools, of things, of people."""
    typed = {record.name, record.venue, *KEPT, *record.instruments.values_list("name", flat=True)}
    for pair in record.pairs.all():
        typed |= {pair.school, pair.code, *pair.members}
    for item in record.items.all():
        typed |= {item.name, item.code}
    return typed


@pytest.fixture
def helper(brackets, sign_in) -> Client:
    """A signed-in helper to whom every translated message comes in brackets."""
    del brackets
    client = sign_in(Role.SCORER)
    client.defaults["HTTP_ACCEPT_LANGUAGE"] = CODE
    return client


@pytest.fixture
def second(sign_in) -> Client:
    return sign_in(Role.SCORER, "scorer two")


def weigh(client: Client, pair: str = "P01", cup: str = "3", gross: str = "153.6", **more: str):
    typed = {"pair": pair, "cup": cup, "gross_g": gross, "key": str(uuid.uuid4()), **more}
    return client.post("/weigh-in/", typed)


def left_in_english(answer, record: EventRecord) -> list[str]:
    assert answer.status_code in {200, 409, 422}, answer.status_code
    return untranslated(answer.content.decode(), {*data_of(record), "scorer two"})


@pytest.mark.parametrize(
    "address",
    [
        "/heats/",
        "/heats/?pair=P01",
        "/weigh-in/",
        "/weigh-in/scale/",
        "/entry/",
        "/entry/?pair=P01",
        "/entry/?pair=P01-X",
        "/entry/?pair=nobody",
        "/differences/",
        "/clock/control/",
        "/verify/",
    ],
)
def test_no_page_of_a_helper_is_left_in_english(helper, empty_event, address):
    assert left_in_english(helper.get(address), empty_event) == []


@pytest.mark.parametrize("address", ["/heats/", "/weigh-in/", "/entry/", "/clock/control/"])
def test_nor_before_there_is_anything_to_do(helper, empty_event, address):
    empty_event.pairs.all().delete()
    empty_event.cups.all().delete()

    assert left_in_english(helper.get(address), empty_event) == []


@pytest.mark.parametrize("address", ["/weigh-in/", "/entry/", "/heats/", "/clock/control/"])
def test_nor_after_the_release(helper, demo, address):
    demo.released_at = timezone.now()
    demo.save()

    assert left_in_english(helper.get(address), demo) == []


def test_a_lead_gets_the_same_pages_whole(brackets, lead, empty_event):
    lead.defaults["HTTP_ACCEPT_LANGUAGE"] = CODE
    absent = empty_event.pairs.get(code="P02")
    absent.status = "absent"
    absent.save()

    for address in ("/heats/?pair=P01", "/heats/?pair=P02", "/weigh-in/", "/clock/control/"):
        assert left_in_english(lead.get(address), empty_event) == [], address


def test_checking_in_is_answered_in_the_language(helper, empty_event):
    who = empty_event.pairs.get(code="P01")
    for typed in ({"who": "P01"}, {"who": "P01"}, {"school": who.school}, {"who": who.school[:4]}):
        answer = helper.post("/heats/check-in/", typed, follow=True)
        assert left_in_english(answer, empty_event) == [], typed

    refused = helper.post("/heats/check-in/", {"who": "zzzz"}, follow=True)
    assert untranslated(refused.content.decode(), {*data_of(empty_event), "zzzz"}) == []


def test_weighing_is_answered_in_the_language(helper, second, empty_event):
    saved = weigh(helper)
    assert saved.status_code == 302
    asked = weigh(helper, "P02", "4", "1536")
    other_cup = weigh(helper, "P01", "4")
    unknown = weigh(helper, "P03", "999")
    bad = weigh(helper, "P03", "5", "many")

    assert left_in_english(helper.get("/weigh-in/"), empty_event) == []
    for answer in (asked, other_cup, unknown):
        assert left_in_english(answer, empty_event) == []
    assert untranslated(bad.content.decode(), {*data_of(empty_event), "many"}) == []


def test_typing_is_answered_in_the_language(helper, cell_post, empty_event):
    posts = [cell_post("P01", "C1", text) for text in ("380", "12.5.6", "1,234", "-3", "9999999")]
    for post in posts:
        told = helper.post("/entry/save/", post, headers={"accept": "application/json"}).json()
        shown = [*told["refused"].values(), *(one["words"] for one in told["asked"].values())]
        assert [word for text in shown for word in untranslated(text, data_of(empty_event))] == []

    assert left_in_english(helper.get("/entry/?pair=P01"), empty_event) == []


def test_deciding_is_answered_in_the_language(helper, second, lead, cell_post, empty_event):
    second.post("/entry/save/", cell_post("P01", "C1", "380"))
    lead.post("/entry/save/", cell_post("P01", "C1", "830"))
    page = helper.get("/differences/")
    done = helper.post(
        "/differences/decide/", {"pair": "P01", "item": "C1", "pick": "380/"}, follow=True
    )

    assert left_in_english(page, empty_event) == []
    assert left_in_english(done, empty_event) == []


def test_the_clock_is_answered_in_the_language(helper, empty_event):
    empty_event.heat_runs.all().delete()
    begun = helper.post("/clock/start/", {"heat": "heat 1", "minutes": "30"}, follow=True)
    run = HeatRun.objects.get()
    pages = [begun, helper.post("/clock/start/", {"heat": "heat 2", "minutes": "30"}, follow=True)]
    for act in ("pause", "pause", "go-on", "go-on", "extend", "stop"):
        typed = {"why": "", "more": "5", "is_sure": "on"}
        pages.append(helper.post(f"/clock/{run.pk}/{act}/", typed, follow=True))

    for answer in pages:
        assert left_in_english(answer, empty_event) == []


def test_what_is_kept_of_it_stays_in_english(helper, empty_event, cell_post):
    """The history is read by the lead, and a release holds it to the last letter."""
    scale = empty_event.instruments.filter(unit="g").first()
    helper.post("/heats/check-in/", {"who": "P01"})
    helper.post("/clock/start/", {"heat": "heat 1", "minutes": "30"})
    helper.post("/weigh-in/scale/", {"scale": scale.name, "known_g": "100", "shown_g": "100"})
    weigh(helper)
    helper.post("/entry/save/", cell_post("P01", "C1", "380"))

    kept = [text for row in Change.objects.all() for text in (row.what, row.old, row.new, row.why)]
    assert any(text.startswith("check weight on") for text in kept)
    assert [text for text in kept if OPEN in text] == []
    # The line is shown in the language of who looks all the same.
    assert left_in_english(helper.get("/weigh-in/scale/"), empty_event) == []


@pytest.mark.parametrize("job", [Job.CLOCK, Job.ANNOUNCER])
def test_the_pages_of_a_job_are_whole(helper, demo, job):
    Account.objects.filter(name="scorer one").update(job=job.value)
    address = "/clock/control/" if job is Job.CLOCK else "/announcer/"

    assert left_in_english(helper.get(address), demo) == []
    demo.released_at = timezone.now()
    demo.save()
    assert left_in_english(helper.get(address), demo) == []
    if job is Job.ANNOUNCER:
        assert left_in_english(helper.get("/awards/"), demo) == []


def test_a_locked_device_says_so_in_the_language(helper, demo):
    Device.objects.update(locked=True)

    assert left_in_english(helper.get("/unlock/"), demo) == []
    held = helper.post("/entry/save/", {}, headers={"accept": "application/json"}).json()
    assert untranslated(f"{held['what']} {held['mend']}", ()) == []


def test_the_public_check_of_a_release_is_whole(brackets, lead, demo):
    assert lead.post("/standings/release/", {"why": "all is settled"}).status_code == 302

    page = brackets.get("/verify/")
    checked = brackets.post("/verify/", {"proof": "nothing of the kind"})

    known = {*data_of(demo), "nothing of the kind", 'nearmark verify FOLDER --head "..."'}
    for answer in (page, checked):
        text = re.sub(r'(<p class="hash">)[^<]*', r"\1", answer.content.decode())
        assert untranslated(text, known) == []


# Spanish


@pytest.fixture
def ayudante(sign_in) -> Client:
    client = sign_in(Role.SCORER)
    client.defaults["HTTP_ACCEPT_LANGUAGE"] = "es-MX,es;q=0.9"
    return client


@pytest.mark.parametrize(("typed", "kept"), [("153,6", "153.6"), ("153.6", "153.6")])
def test_a_comma_and_a_point_begin_decimals_in_spanish(ayudante, empty_event, typed, kept):
    """Spain writes a comma, Mexico a point (Ortografía, 2010, from memory)."""
    assert weigh(ayudante, gross=typed).status_code == 302

    assert str(AnswerEntry.objects.get().value) == kept
    assert "153,6" in ayudante.get("/weigh-in/").content.decode()


@pytest.mark.parametrize("typed", ["1.234", "1,234"])
def test_what_could_be_thousands_is_asked_in_spanish(ayudante, empty_event, cell_post, typed):
    post = cell_post("P01", "C1", typed)

    told = ayudante.post("/entry/save/", post, headers={"accept": "application/json"})

    assert told.status_code == 422
    (why,) = told.json()["refused"].values()
    assert "1234" in why
    assert not AnswerEntry.objects.exists()


def test_a_point_with_three_decimals_is_read_in_english(scorer, empty_event, cell_post):
    post = cell_post("P01", "B1", "1.234")

    told = scorer.post("/entry/save/", post, headers={"accept": "application/json"}).json()

    assert (told["refused"], len(told["asked"])) == ({}, 1)  # asked only for being far off


def test_a_picked_reading_is_no_typed_number(ayudante, sign_in, lead, cell_post, empty_event):
    """Its point is a decimal point in every language."""
    for who, text in ((sign_in(Role.SCORER, "scorer two"), "1.234"), (lead, "1234")):
        post = cell_post("P01", "B1", text)
        told = who.post("/entry/save/", post, headers={"accept": "application/json"}).json()
        doubts = [doubt for one in told["asked"].values() for doubt in one["ids"]]
        who.post("/entry/save/", {**post, "doubt": doubts})
    assert "1,234" in ayudante.get("/differences/").content.decode()

    decided = {"pair": "P01", "item": "B1", "pick": "1.234/"}
    assert ayudante.post("/differences/decide/", decided).status_code == 302


def test_the_keypad_has_the_decimal_mark_of_the_language(ayudante, scorer, empty_event):
    pages = [who.get("/entry/").content.decode() for who in (ayudante,)]

    assert re.search(r'data-key=","', pages[0])
    scorer.defaults.pop("HTTP_ACCEPT_LANGUAGE", None)
    english = scorer.get("/entry/", headers={"accept-language": "en"}).content.decode()
    assert re.search(r'data-key="\."', english)
