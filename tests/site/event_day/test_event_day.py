"""The pages of the day: set-up, pairs, overview, standings, release, public page, history."""

import re
from dataclasses import replace

import pytest
from django.test import Client

from nearmark.contest.event import PairStatus
from nearmark.contest.results import results
from nearmark.site.door.access import Role
from nearmark.site.event.load import load_event
from nearmark.site.event_day.steps import day_steps
from nearmark.site.models import AnswerEntry, Change, EventRecord, PairRecord


def test_a_new_event_begins_with_a_scale_a_ruler_and_the_chosen_rules(lead, no_event):
    post = {"name": "Spring day", "day": "2027-05-08", "venue": "hall", "rules": "percent accuracy"}

    page = lead.post("/event/make/", post, follow=True).content.decode()

    event = load_event(EventRecord.objects.get())
    assert (event.name, event.rules.name) == ("Spring day", "percent accuracy")
    assert [i.unit for i in event.instruments] == ["g", "cm"]
    assert "What next" in page


def test_an_event_without_a_day_is_refused(lead, no_event):
    post = {"name": "Spring day", "day": "31 June", "rules": "percent accuracy"}

    assert lead.post("/event/make/", post).status_code == 422


def test_every_page_teaches_while_there_is_no_event(lead, no_event):
    assert "Begin an event" in lead.get("/event/").content.decode()
    for page in ("/kit/", "/entry/", "/weigh-in/", "/standings/", "/differences/"):
        answer = lead.get(page)
        assert answer.status_code == 409
        assert "no event yet" in answer.content.decode().casefold()


def test_the_overview_names_what_next_and_everything_open(lead, demo):
    page = lead.get("/event/").content.decode()

    assert "Measure the keys" in page
    assert "B1" in page
    assert "C2, P09: read as 2170 and 2710" in page


def test_the_empty_cups_are_a_step_before_the_day(lead, no_event):
    post = {"name": "Spring day", "day": "2027-05-08", "rules": "percent accuracy"}
    lead.post("/event/make/", post)
    assert "Weigh the empty cups" not in lead.get("/event/").content.decode()

    lead.post("/kit/items/add/", {"code": "M1", "name": "scoop of rice", "station": "mass"})
    page = lead.get("/event/").content.decode()

    assert "No cup has been weighed empty yet." in page
    assert page.index("Weigh the empty cups") < page.index("Enter the pairs")
    assert "Add the containers and boxes below." in lead.get("/kit/").content.decode()


def test_readings_that_only_the_weigh_in_can_take_lead_there(lead, demo, small_event):
    # of three pairs, the second reading of one cup is missing, and nothing else
    entries = tuple(
        a for a in small_event.answers if (a.pair, a.item, a.reading) != ("P1", "M1", 2)
    )
    outcome = results(replace(small_event, answers=entries))

    steps = {step.title: step for step in day_steps(outcome, EventRecord.objects.get())}

    step = steps["Read every answer twice"]
    assert (step.why, step.address, step.is_done) == (
        "1 of 9 answers waits for a reading, at the weigh-in",
        "/weigh-in/",
        False,
    )
    assert steps["Settle the open points"].why == "questions about answers will appear here"


def test_a_pair_gets_the_next_free_code(lead, demo):
    page = lead.post(
        "/pairs/add/", {"school": "Quillbank", "first": "Ada", "second": "Bo"}, follow=True
    )

    pair = PairRecord.objects.last()
    assert (pair.code, pair.members) == ("P50", ["Ada", "Bo"])
    assert "P50 was added" in page.content.decode()


def test_a_taken_code_is_refused_beside_its_field(lead, demo):
    answer = lead.post("/pairs/add/", {"school": "Quillbank", "first": "Ada", "code": "P01"})

    assert answer.status_code == 422
    assert "Is taken" in answer.content.decode()


def test_a_name_with_script_in_it_is_shown_as_text(lead, demo):
    post = {"school": "<script>alert(1)</script>", "first": '"><img src=x onerror=alert(1)>'}

    page = lead.post("/pairs/add/", post, follow=True).content.decode()

    assert "<script>alert(1)" not in page
    assert "<img" not in page


def test_a_pair_that_did_not_come_is_marked_absent_with_the_reason(lead, demo):
    pair = PairRecord.objects.get(code="P01")

    lead.post(f"/pairs/{pair.pk}/status/", {"status": "absent", "why": "ill"})

    pair.refresh_from_db()
    change = Change.objects.first()
    assert pair.status == PairStatus.ABSENT
    assert (change.old, change.new, change.why) == ("entered", "absent", "ill")


def test_a_status_that_is_none_is_refused(lead, demo):
    pair = PairRecord.objects.get(code="P01")

    answer = lead.post(f"/pairs/{pair.pk}/status/", {"status": "champion"})

    assert answer.status_code == 422


def test_standings_show_the_places_of_the_core(lead, demo, source_of):
    page = source_of(lead.get("/standings/"))
    shown = re.findall(r'<th scope="row">(?:<a [^>]*>)?(P\d+)<', page)

    assert shown == [line.pair.code for line in results(load_event(demo)).pairs]
    assert "provisional" in page
    assert "digits 1 and 2 of the key exchanged" in page


def test_the_public_page_says_nothing_before_release(demo, source_of):
    page = source_of(Client().get("/results/"))

    assert "not out yet" in page
    assert "P01" not in page


def test_a_release_with_open_points_needs_a_reason(lead, demo):
    page = lead.post("/standings/release/", {"why": ""})
    assert page.status_code == 422

    lead.post("/standings/release/", {"why": "the buses leave"})

    demo.refresh_from_db()
    assert demo.released_by == "Juniper"
    assert Change.objects.first().why == "the buses leave"


@pytest.fixture
def released(lead, demo):
    lead.post("/standings/release/", {"why": "the buses leave"})
    return demo


def test_after_release_everybody_sees_codes_and_no_child_s_name(released):
    page = Client().get("/results/").content.decode()

    winner = results(load_event(released)).pairs[0].pair
    assert winner.code in page
    assert not any(name in page for name in winner.members)


def test_names_are_shown_when_the_lead_says_so(lead, demo):
    lead.post("/standings/release/", {"why": "the buses leave", "shows_names": "on"})

    winner = results(load_event(demo)).pairs[0].pair
    assert winner.members[0] in Client().get("/results/?screen=big").content.decode()


def test_pairs_that_are_not_placed_are_not_on_the_public_page(released):
    unplaced = [line.pair.code for line in results(load_event(released)).pairs if not line.place]
    page = Client().get("/results/").content.decode()

    assert unplaced
    assert not [code for code in unplaced if code in page]


def test_nothing_can_be_changed_while_the_results_are_out(lead, released, cell_post):
    item = released.items.get(code="C3").pk
    sample = {"pieces": "500", "mass_g": "10.5", "instrument": "bench scale"}
    AnswerEntry.objects.filter(pair__code="P01").delete()
    before = load_event(released)

    refused = [
        lead.post("/pairs/add/", {"school": "Quillbank", "first": "Ada"}),
        lead.post(f"/kit/{item}/add/sample/", sample),
        lead.post(f"/kit/{item}/decide/", {"why": "because"}),
        lead.post("/entry/save/", cell_post("P01", "C2", "2870")),
    ]

    assert {answer.status_code for answer in refused} <= {409, 422}
    assert load_event(released) == before


def test_results_are_taken_back_with_a_reason_only(lead, released):
    assert lead.post("/standings/withhold/", {"why": ""}).status_code == 422
    lead.post("/standings/withhold/", {"why": "C1 was miscounted"})

    released.refresh_from_db()
    assert released.released_at is None
    assert "C1 was miscounted" in lead.get("/history/").content.decode()


def test_coaches_see_standings_after_release_only(sign_in, demo, lead):
    coach = sign_in(Role.COACH)

    assert coach.get("/standings/").status_code == 403
    lead.post("/standings/release/", {"why": "the buses leave"})
    assert coach.get("/standings/").status_code == 200
    assert "Take the results back" not in coach.get("/standings/").content.decode()
