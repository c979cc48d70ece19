"""The tour of the invented event: six real pages, for the lead, on no other event."""

import pytest
from django.utils import timezone

from nearmark.site.door.access import Role
from nearmark.site.event_day.tour import PAGES
from nearmark.site.models import EventRecord

BAR = 'id="tour"'
OFFER = "Start the tour"
N_STEPS = 6
"""As asked for: a first day's tour of six steps."""


@pytest.fixture
def lead(sign_in):
    return sign_in(Role.LEAD)


def begin(lead, step: int = 1):
    return lead.post("/event/tour/", {"step": str(step)})


def said(answer) -> str:
    return " ".join(answer.content.decode().split())


@pytest.mark.slow
def test_every_step_leads_to_its_page_and_the_bar_is_there(lead):
    assert len(PAGES) == N_STEPS
    pages = set()
    for number in range(1, N_STEPS + 1):
        page = lead.get(begin(lead, number)["Location"].removesuffix("#tour"))
        assert page.status_code == 200
        assert f"Step {number} of {N_STEPS}" in said(page)
        assert "go to" not in said(page).partition(BAR)[2].partition("</section>")[0]
        pages.add(page.request["PATH_INFO"])
    assert len(pages) == N_STEPS


def test_it_begins_on_the_overview_and_can_be_begun_again(lead):
    assert OFFER in said(lead.get("/event/"))
    assert BAR not in said(lead.get("/event/"))
    begin(lead)
    on_tour = said(lead.get("/event/"))
    assert OFFER not in on_tour
    assert "go to Items and keys" in on_tour
    assert begin(lead, 99)["Location"] == "/event/"  # no such step: the tour ends
    assert OFFER in said(lead.get("/event/"))
    assert BAR not in said(lead.get("/kit/"))


def test_the_first_step_has_no_back_and_the_last_no_next(lead):
    for number, buttons in ((1, {"2", "end"}), (3, {"2", "4", "end"}), (6, {"5", "end"})):
        begin(lead, number)
        bar = said(lead.get("/points/")).partition(BAR)[2].partition("</section>")[0]
        assert {part.partition('"')[0] for part in bar.split('name="step" value="')[1:]} == buttons


@pytest.mark.parametrize("change", [{"name": "Spring day"}, {"seed": 1}])
def test_no_other_event_has_it(lead, change):
    begin(lead)
    EventRecord.objects.update(**change)
    assert OFFER not in said(lead.get("/event/"))
    assert BAR not in said(lead.get("/kit/"))


@pytest.mark.parametrize("role", [Role.SCORER, Role.COACH, Role.PUBLIC])
def test_nobody_but_the_lead_takes_it(lead, sign_in, role):
    begin(lead, 6)
    other = sign_in(role)
    assert begin(other).status_code in {302, 403}
    assert "tour" not in other.session
    assert BAR not in said(other.get("/results/"))
    assert BAR in said(lead.get("/results/"))


def test_what_it_says_of_the_event_is_so(lead, demo):
    """The facts of the sentences, in the event as it comes."""
    pages = {step.value: said(lead.get(f"/{path}/")) for step, path in FACTS}
    assert "241" in pages["keys"]
    assert "heat" in pages["heats"]
    assert "Or a whole school" in pages["heats"]
    assert "Undo a hand-in" in pages["weigh_in"]
    assert "103.6" in pages["weigh_in"]
    assert "P09, C2" in pages["differences"]
    assert {"2170", "2710", "Decide"} <= {
        word for word in ("2170", "2710", "Decide") if word in pages["differences"]
    }
    assert "cannot be said: the key of C1 may be wrong" in pages["standings"]
    assert "Release to everybody" in pages["standings"]
    assert "The results are not out yet" in pages["public"]


FACTS = tuple(
    (step, {"weigh-in": "weigh-in", "public-results": "results"}.get(name, name))
    for step, name in PAGES.items()
)


@pytest.mark.slow
def test_after_the_release_no_step_asks_for_what_cannot_be_done(lead, demo):
    EventRecord.objects.update(released_at=timezone.now(), released_by="Juniper")
    for number, (step, path) in enumerate(FACTS, 1):
        begin(lead, number)
        page = said(lead.get(f"/{path}/"))
        assert "The results are out" in page.partition(BAR)[2].partition("</section>")[0], step
    assert "Take the results back" in said(lead.get("/standings/"))
    assert "P41" in said(lead.get("/results/"))
