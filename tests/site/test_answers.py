"""Reading the sheets: blind, twice, idempotent; a third person decides."""

import uuid

import pytest
from django.test import Client
from django.utils import timezone

from nearmark.contest.answers import AnswerState, accepted_answers
from nearmark.site.event_store import load_event
from nearmark.site.models import AnswerEntry, Change
from nearmark.site.roles import Role

SAVE = "/entry/save/"


def accepted(event, pair, item):
    return accepted_answers(load_event(event))[pair, item]


def test_two_equal_readings_by_two_people_are_accepted(sign_in, empty_event, cell_post):
    for name in ("Ash", "Birch"):
        sign_in(Role.SCORER, name).post(SAVE, cell_post("P01", "C2", "2870"))

    answer = accepted(empty_event, "P01", "C2")
    assert (answer.state, str(answer.estimate)) == (AnswerState.AGREED, "2870")


def test_a_first_reading_is_nowhere_on_the_page_of_the_second_reader(
    sign_in, empty_event, cell_post, source_of
):
    sign_in(Role.SCORER, "Ash").post(SAVE, cell_post("P01", "C2", "31415"))

    birch = sign_in(Role.SCORER, "Birch")
    seen = source_of(birch.get("/entry/")) + source_of(birch.get("/differences/"))
    assert "31415" not in seen
    assert "Ash" not in seen


def test_one_person_cannot_make_both_readings(scorer, empty_event, cell_post):
    scorer.post(SAVE, cell_post("P01", "C2", "2870"))

    answer = scorer.post(SAVE, cell_post("P01", "C2", "2870"))

    assert answer.status_code == 422
    assert "second person" in answer.content.decode()
    assert AnswerEntry.objects.count() == 1


def test_a_third_reading_is_refused(sign_in, empty_event, cell_post):
    for name in ("Ash", "Birch"):
        sign_in(Role.SCORER, name).post(SAVE, cell_post("P01", "C2", "2870"))

    answer = sign_in(Role.SCORER, "Cedar").post(SAVE, cell_post("P01", "C2", "2870"))

    assert answer.status_code == 422
    assert AnswerEntry.objects.count() == 2


def test_the_same_post_sent_twice_counts_once_and_is_answered_alike(scorer, empty_event, cell_post):
    post = cell_post("P01", "C2", "2870", key=uuid.uuid4())
    answers = [scorer.post(SAVE, post, headers={"Accept": "application/json"}) for _ in range(3)]

    assert AnswerEntry.objects.count() == 1
    assert {a.content for a in answers} == {answers[0].content}
    assert [a.status_code for a in answers] == [200, 200, 200]


def test_another_value_under_the_same_key_is_refused(scorer, empty_event, cell_post):
    key = uuid.uuid4()
    scorer.post(SAVE, cell_post("P01", "C2", "2870", key=key))

    answer = scorer.post(SAVE, cell_post("P01", "C2", "2780", key=key))

    assert answer.status_code == 422
    assert str(AnswerEntry.objects.get().value) == "2870"


@pytest.mark.parametrize(("typed", "status"), [("b", "blank"), ("-", "blank"), ("?", "illegible")])
def test_blank_and_illegible_are_readings_too(scorer, empty_event, cell_post, typed, status):
    scorer.post(SAVE, cell_post("P01", "C2", typed))

    assert AnswerEntry.objects.get().status == status


@pytest.mark.parametrize(
    "typed", ["many", "-5", "1e3", "12 345", "9" * 31, "0x10", "<script>alert(1)</script>", "1,234"]
)
def test_what_is_no_number_is_refused_beside_its_cell_and_kept_typed(
    scorer, empty_event, cell_post, typed
):
    answer = scorer.post(SAVE, cell_post("P01", "C2", typed))

    page = answer.content.decode()
    assert answer.status_code == 422
    assert 'aria-invalid="true"' in page
    assert "<script>alert" not in page
    assert not AnswerEntry.objects.exists()


def test_one_bad_cell_does_not_lose_the_good_ones(scorer, empty_event, cell_post):
    post = cell_post("P01", "C2", "2870") | cell_post("P02", "C2", "soon")

    answer = scorer.post(SAVE, post)

    assert answer.status_code == 422
    assert "1 not saved, 1 saved" in answer.content.decode()
    assert AnswerEntry.objects.get().pair.code == "P01"


def test_an_unlikely_value_is_kept_and_asked_about(scorer, empty_event, cell_post):
    post = cell_post("P01", "C2", "17")
    answer = scorer.post(SAVE, post, headers={"Accept": "application/json"})

    assert AnswerEntry.objects.count() == 1
    assert "unusual" in next(iter(answer.json()["questions"].values()))


def test_a_reader_strikes_out_the_own_reading_and_reads_again(scorer, empty_event, cell_post):
    post = cell_post("P01", "C2", "2780")
    scorer.post(SAVE, post)
    name = next(k for k in post if k.startswith("v-")).removeprefix("v-")

    assert scorer.post(SAVE, {"strike": name, "why": ""}).status_code == 422
    assert scorer.post(SAVE, {"strike": name, "why": "slip of a digit"}).status_code == 302
    scorer.post(SAVE, cell_post("P01", "C2", "2870"))

    assert AnswerEntry.objects.count() == 2
    assert str(AnswerEntry.objects.get(struck_at=None).value) == "2870"
    change = Change.objects.first()
    assert (change.old, change.why) == ("2780", "slip of a digit")


def test_a_difference_waits_for_a_third_person_who_decides(sign_in, empty_event, cell_post):
    ash, birch = sign_in(Role.SCORER, "Ash"), sign_in(Role.SCORER, "Birch")
    ash.post(SAVE, cell_post("P01", "C2", "2780"))
    birch.post(SAVE, cell_post("P01", "C2", "2870"))
    decision = {"pair": "P01", "item": "C2", "value": "2870", "why": "the seven is crossed"}

    assert accepted(empty_event, "P01", "C2").state is AnswerState.CONFLICT
    assert ash.post("/differences/decide/", decision).status_code == 409
    cedar = sign_in(Role.SCORER, "Cedar")
    assert "2780" in cedar.get("/differences/").content.decode()
    assert cedar.post("/differences/decide/", decision | {"why": ""}).status_code == 422
    assert cedar.post("/differences/decide/", decision).status_code == 302

    answer = accepted(empty_event, "P01", "C2")
    assert (answer.state, str(answer.estimate)) == (AnswerState.ADJUDICATED, "2870")


def weighed(**change: str) -> dict[str, str]:
    return {"pair": "P01", "cup": "3", "gross_g": "108.3", "key": str(uuid.uuid4())} | change


def test_a_weighed_cup_is_kept_and_its_net_mass_told_to_the_lead(lead, empty_event):
    page = lead.post("/weigh-in/", weighed(pair="p01"), follow=True).content.decode()

    entry = AnswerEntry.objects.get()
    assert (entry.pair.code, str(entry.value), entry.cup) == ("P01", "108.3", "3")
    assert "net" in page


def test_a_cup_is_handed_in_once(scorer, empty_event):
    scorer.post("/weigh-in/", weighed())

    answer = scorer.post("/weigh-in/", weighed(gross_g="111.1"))

    assert answer.status_code == 409
    assert AnswerEntry.objects.count() == 1


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"cup": "999"}, "no tare"),
        ({"pair": "P99"}, "not known"),
        ({"gross_g": "0"}, "above zero"),
        ({"gross_g": "0.1083 kg"}, "more than the number"),
        ({"key": "not a key"}, "out of date"),
    ],
)
def test_a_weighing_that_cannot_be_is_refused_with_the_mend(scorer, empty_event, change, words):
    answer = scorer.post("/weigh-in/", weighed(**change))

    assert answer.status_code == 422
    assert words in answer.content.decode()
    assert not AnswerEntry.objects.exists()


JSON = {"Accept": "application/json"}


def test_an_entry_saved_before_the_release_is_answered_alike_after_it(
    scorer, empty_event, cell_post
):
    post = cell_post("P01", "C2", "2870")
    first = scorer.post(SAVE, post, headers=JSON)
    empty_event.released_at = timezone.now()
    empty_event.save()

    again = scorer.post(SAVE, post, headers=JSON)

    assert (again.status_code, again.content) == (200, first.content)


@pytest.mark.parametrize("address", [SAVE, "/weigh-in/"])
def test_what_another_person_typed_is_not_taken(scorer, empty_event, cell_post, address):
    post = cell_post("P01", "C2", "2870") | weighed() | {"reader": "999999"}

    answer = scorer.post(address, post, headers=JSON)

    assert (answer.status_code, answer.json()["held"]) == (401, "other")
    assert not AnswerEntry.objects.exists()


def test_a_script_is_told_in_words_why_an_entry_waits(scorer, empty_event, cell_post):
    post = cell_post("P01", "C2", "2870")
    scorer.post("/lock/")

    locked = scorer.post(SAVE, post, headers=JSON)
    out = Client().post(SAVE, post, headers=JSON)
    stale = Client(enforce_csrf_checks=True).post(SAVE, post, headers=JSON)

    assert [a.json()["held"] for a in (locked, out, stale)] == ["locked", "out", "stale"]
    assert all(a.json()["mend"] for a in (locked, out, stale))


def test_a_weighed_cup_is_answered_in_words_to_a_script(scorer, empty_event):
    post = weighed()
    first = scorer.post("/weigh-in/", post, headers=JSON)
    again = scorer.post("/weigh-in/", post, headers=JSON)
    refused = scorer.post("/weigh-in/", weighed(pair="P99"), headers=JSON)

    assert first.json()["saved"] == ["cup"]
    # What is left without the cup is the pair's result: not for every desk.
    assert first.json()["questions"]["cup"] == "P01: 108.3 g in cup 3."
    assert again.content == first.content
    assert refused.status_code == 422
    assert "Pair: Is not known" in refused.json()["refused"]["cup"]
