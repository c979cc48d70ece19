"""Reading the sheets: blind, twice, idempotent; a third person decides."""

import re
import uuid

import pytest
from django.test import Client
from django.utils import timezone

from nearmark.contest.answers import AnswerState, accepted_answers
from nearmark.printing.answer_sheets import answer_sheets_view
from nearmark.site.door.access import Role
from nearmark.site.event.load import load_event
from nearmark.site.models import AdjudicationEntry, AnswerEntry, Change

JSON = {"Accept": "application/json"}
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


def test_one_bad_answer_does_not_lose_the_good_ones(scorer, empty_event, cell_post):
    post = cell_post("P01", "C2", "2870") | cell_post("P01", "C3", "soon")

    answer = scorer.post(SAVE, post)

    assert answer.status_code == 422
    assert "Is not a number" in answer.content.decode()
    assert AnswerEntry.objects.get().item.code == "C2"


@pytest.fixture
def field(sign_in, empty_event, cell_post):
    """What four other pairs wrote."""
    ash = sign_in(Role.SCORER, "Ash")
    for pair, value in (("P03", "2700"), ("P04", "3100"), ("P05", "2500"), ("P06", "3600")):
        assert ash.post(SAVE, cell_post(pair, "C2", value)).status_code == 302
    return ash


@pytest.mark.parametrize("typed", ["17", "30000", "287", "99999999"])
def test_a_far_off_value_is_asked_about_before_it_is_saved(scorer, field, cell_post, typed):
    post = cell_post("P01", "C2", typed)
    told = scorer.post(SAVE, post, headers=JSON).json()
    (asked,) = told["asked"].values()

    assert (told["saved"], told["refused"]) == ([], {})
    assert not AnswerEntry.objects.filter(pair__code="P01").exists()
    # Which way it is off is not said: the reader reads the paper, not the question.
    assert not any(word in asked["words"] for word in ("more", "less", "digit", "high", "low"))
    assert scorer.post(SAVE, post | {"doubt": asked["ids"]}, headers=JSON).json()["saved"]
    assert str(AnswerEntry.objects.get(pair__code="P01").value) == typed


def test_another_value_is_another_doubt(scorer, field, cell_post):
    asked = scorer.post(SAVE, cell_post("P01", "C2", "17"), headers=JSON).json()["asked"]
    (doubt,) = asked.values()

    scorer.post(SAVE, cell_post("P01", "C2", "18") | {"doubt": doubt["ids"]}, headers=JSON)

    assert not AnswerEntry.objects.filter(pair__code="P01").exists()


@pytest.mark.parametrize("typed", ["2870", "1500", "5200", "b", "?"])
def test_a_usual_value_is_never_asked_about(scorer, field, cell_post, typed):
    assert scorer.post(SAVE, cell_post("P01", "C2", typed), headers=JSON).json()["saved"]


def test_a_doubt_says_nothing_of_what_the_first_reader_read(sign_in, field, cell_post):
    first = cell_post("P01", "C2", "17")
    field.post(SAVE, first | {"doubt": "answer:P01:C2:17"})
    assert AnswerEntry.objects.filter(pair__code="P01").count() == 1

    told = sign_in(Role.SCORER, "Birch").post(SAVE, cell_post("P01", "C2", "17"), headers=JSON)

    assert told.json()["asked"], "asked as if nobody had read it"


def test_what_was_saved_and_not_heard_of_is_not_asked_about_later(scorer, field, cell_post):
    post = cell_post("P01", "C2", "17")
    scorer.post(SAVE, post | {"doubt": "answer:P01:C2:17"}, headers=JSON)

    assert scorer.post(SAVE, post, headers=JSON).json()["saved"]


def test_without_script_a_doubt_comes_back_with_what_was_typed(scorer, field, cell_post):
    page = scorer.post(SAVE, cell_post("P01", "C2", "17")).content.decode()

    assert 'value="17"' in page
    assert "Save it as it is" in page
    assert not AnswerEntry.objects.filter(pair__code="P01").exists()


def test_a_reader_takes_the_own_reading_back_in_one_act(scorer, empty_event, cell_post):
    key = uuid.uuid4()
    scorer.post(SAVE, cell_post("P01", "C2", "2780", key=key))
    assert f'value="{key}"' in scorer.get("/entry/?pair=P01").content.decode()

    undone = [scorer.post(SAVE, {"undo": str(key)}, headers=JSON) for _ in range(2)]
    scorer.post(SAVE, cell_post("P01", "C2", "2870"))
    # Once more, after the answer to it was lost: the reading made since stays.
    undone.append(scorer.post(SAVE, {"undo": str(key)}, headers=JSON))

    assert [answer.json()["saved"] for answer in undone] == [[str(key)]] * 3
    assert AnswerEntry.objects.count() == 2
    assert str(AnswerEntry.objects.get(struck_at=None).value) == "2870"
    (change,) = Change.objects.filter(what="struck out their own reading of P01, C2")
    assert (change.old, change.who) == ("2780", "scorer one")


def test_the_reading_of_another_person_is_not_taken_back(sign_in, empty_event, cell_post):
    key = uuid.uuid4()
    sign_in(Role.SCORER, "Ash").post(SAVE, cell_post("P01", "C2", "2780", key=key))

    answer = sign_in(Role.SCORER, "Birch").post(SAVE, {"undo": str(key)}, headers=JSON)

    assert answer.status_code == 422
    assert "no reading of yours" in answer.json()["refused"][str(key)]
    assert AnswerEntry.objects.get().struck_at is None


def test_what_a_third_person_has_decided_is_not_taken_back(sign_in, empty_event, cell_post):
    key = uuid.uuid4()
    ash = sign_in(Role.SCORER, "Ash")
    ash.post(SAVE, cell_post("P01", "C2", "2780", key=key))
    sign_in(Role.SCORER, "Birch").post(SAVE, cell_post("P01", "C2", "2870"))
    decision = {"pair": "P01", "item": "C2", "value": "2870", "why": "the seven is crossed"}
    sign_in(Role.SCORER, "Cedar").post("/differences/decide/", decision)

    assert ash.post(SAVE, {"undo": str(key)}).status_code == 409
    assert AnswerEntry.objects.filter(struck_at=None).count() == 2


@pytest.mark.parametrize("typed", ["P02-J", "P02J", "p2j", "P02", "2"])
def test_a_sheet_is_opened_by_its_code_however_it_is_typed(scorer, empty_event, typed):
    pair = empty_event.pairs.get(code="P02")

    page = scorer.get("/entry/", {"pair": typed}).content.decode()

    assert '<h2 id="sheet-code">P02-J</h2>' in page
    assert pair.school in page
    assert f'name="v-{pair.pk}-' in page


def test_a_sheet_holds_its_items_in_the_order_printed(scorer, empty_event):
    page = scorer.get("/entry/?pair=P02").content.decode()

    shown = re.findall(r'<label for="a\d+"><strong>(\w+)</strong>', page)
    printed = answer_sheets_view(load_event(empty_event), ["P02"]).fields
    assert shown == [field.code for field in printed if not field.cup_boxes]


@pytest.mark.parametrize(
    ("typed", "words"),
    [("P02-K", "wrong check letter"), ("P99", "no pair of this event"), ("<b>", "no pair")],
)
def test_a_wrong_code_is_refused_in_words_beside_the_field(scorer, empty_event, typed, words):
    answer = scorer.get("/entry/", {"pair": typed})

    assert answer.status_code == 422
    assert words in answer.content.decode()
    assert "<b>:" not in answer.content.decode()


def test_the_sheet_of_an_absent_pair_goes_to_the_lead(scorer, empty_event):
    empty_event.pairs.filter(code="P02").update(status="absent")

    assert "Give the sheet to the lead" in scorer.get("/entry/?pair=2").content.decode()


def test_the_list_holds_what_is_left_for_this_reader(scorer, empty_event, cell_post, source_of):
    codes = [item.code for item in empty_event.items.exclude(station="mass")]
    for code in codes:
        assert scorer.post(SAVE, cell_post("P01", code, "b")).status_code == 302

    page = source_of(scorer.get("/entry/"))

    left = re.findall(r'<li><a class="pick" href="\?pair=(\w+)"', page)
    taking_part = empty_event.pairs.exclude(status__in=["absent", "withdrawn"])
    assert sorted(left) == sorted(set(taking_part.values_list("code", flat=True)) - {"P01"})


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


@pytest.mark.parametrize("picked", ["2780", "2870"])
def test_one_of_the_two_numbers_is_touched_and_decides(sign_in, empty_event, cell_post, picked):
    for name, value in (("Ash", "2780"), ("Birch", "2870")):
        sign_in(Role.SCORER, name).post(SAVE, cell_post("P01", "C2", value))
    cedar = sign_in(Role.SCORER, "Cedar")
    page = cedar.get("/differences/").content.decode()
    picks = re.findall(r'name="pick" value="([^"]+)"', page)

    assert sorted(picks) == ["2780/", "2870/"]
    decision = {"pair": "P01", "item": "C2", "pick": f"{picked}/", "value": "", "why": ""}
    assert cedar.post("/differences/decide/", decision).status_code == 302

    answer = accepted(empty_event, "P01", "C2")
    assert (answer.state, str(answer.estimate)) == (AnswerState.ADJUDICATED, picked)
    assert AdjudicationEntry.objects.get().reason == "the paper shows it"


def test_a_cup_read_in_two_ways_is_decided_by_touch(sign_in, empty_event):
    for name, gross in (("Ash", "108.3"), ("Birch", "103.8")):
        sign_in(Role.SCORER, name).post("/weigh-in/", weighed(gross_g=gross))
    cedar = sign_in(Role.SCORER, "Cedar")
    assert "108.3 in cup 3" in cedar.get("/differences/").content.decode()

    cedar.post("/differences/decide/", {"pair": "P01", "item": "M1", "pick": "108.3/3"})

    row = AdjudicationEntry.objects.get()
    assert (str(row.value), row.cup) == ("108.3", "3")


@pytest.mark.parametrize("pick", ["", "/", "/3", "many/"])
def test_a_choice_of_nothing_decides_nothing(sign_in, empty_event, cell_post, pick):
    for name, value in (("Ash", "2780"), ("Birch", "2870")):
        sign_in(Role.SCORER, name).post(SAVE, cell_post("P01", "C2", value))

    post = {"pair": "P01", "item": "C2", "pick": pick}
    answer = sign_in(Role.SCORER, "Cedar").post("/differences/decide/", post)

    assert answer.status_code == 422
    assert not AdjudicationEntry.objects.exists()


def weighed(**change: str) -> dict[str, str]:
    return {"pair": "P01", "cup": "3", "gross_g": "108.3", "key": str(uuid.uuid4())} | change


def test_a_weighed_cup_is_kept_and_its_net_mass_told_to_the_lead(lead, empty_event):
    page = lead.post("/weigh-in/", weighed(pair="p01"), follow=True).content.decode()

    entry = AnswerEntry.objects.get()
    assert (entry.pair.code, str(entry.value), entry.cup) == ("P01", "108.3", "3")
    assert " Net " in page


def test_a_cup_is_handed_in_once(scorer, empty_event):
    scorer.post("/weigh-in/", weighed())

    answer = scorer.post("/weigh-in/", weighed(gross_g="111.1"))

    assert answer.status_code == 409
    assert AnswerEntry.objects.count() == 1


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"cup": "999"}, "no tare"),
        ({"pair": "P99"}, "no pair of this event"),
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
    assert first.json()["words"]["cup"] == "P01-L, Fernhollow, heat 1: 108.3 g in cup 3 saved."
    assert again.content == first.content
    assert refused.status_code == 422
    assert "Pair: Is no pair of this event" in refused.json()["refused"]["cup"]
