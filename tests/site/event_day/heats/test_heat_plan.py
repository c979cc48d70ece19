"""The plan of the heats on the site: wishes, a search, a look before it is saved, the way back."""

import io
from datetime import time

import pypdf
import pytest

from nearmark.contest.heat_program import plan_heats
from nearmark.contest.heat_wish import HeatWish
from nearmark.site.event.load import load_event
from nearmark.site.jobs import worker
from nearmark.site.models import Change, HeatDraft, HeatRun, Job, PairRecord, RoomRecord
from nearmark.site.server import long_work

PAGE = "/heats/plan/"


@pytest.fixture(autouse=True)
def short_search(monkeypatch):
    """Two seconds are enough to see that it works."""

    def short(*pairs, **more):
        return plan_heats(*pairs, **more, time_limit_s=2)

    monkeypatch.setattr(long_work, "plan_heats", short)


def places(demo):
    return {p.code: (p.heat, p.room) for p in PairRecord.objects.filter(event=demo)}


def search(lead, how):
    assert lead.post("/heats/plan/search/", {"how": how}).status_code == 302
    assert worker.run_next()
    return Job.objects.first()


def test_a_wish_is_kept_shown_and_removed(lead, demo, source_of):
    wish = {"who": "Fernhollow", "earliest": "09:40", "coach": "Wren"}

    assert lead.post("/heats/wishes/add/", wish).status_code == 302

    assert load_event(demo).heat_wishes == (
        HeatWish("Fernhollow", earliest=time(9, 40), coach="Wren"),
    )
    assert "not before 09:40, coach Wren" in source_of(lead.get(PAGE))
    row = demo.heat_wishes.get()
    lead.post(f"/heats/wishes/{row.pk}/remove/")
    assert not demo.heat_wishes.exists()
    assert Change.objects.filter(what="removed a wish of Fernhollow").exists()


@pytest.mark.parametrize(
    ("wish", "message"),
    [
        ({"who": "Fernhollo", "heat": "2"}, "Did you mean Fernhollow"),
        ({"who": "Fernhollow"}, "Asks for nothing"),
        ({"who": "P07", "earliest": "10:00", "latest": "09:00"}, "Is not after 10:00"),
        ({"who": "P07", "earliest": "noon"}, "valid time"),
    ],
)
def test_a_wish_that_makes_no_sense_is_refused_beside_its_form(
    lead, demo, source_of, wish, message
):
    answer = lead.post("/heats/wishes/add/", wish)

    assert answer.status_code == 422
    assert message in source_of(answer)
    assert not demo.heat_wishes.exists()


@pytest.mark.slow
def test_a_plan_is_looked_for_looked_at_saved_and_taken_back(lead, demo, source_of):
    lead.post("/heats/plan/times/", {"first_start": "09:00", "minutes": "30"})
    lead.post("/heats/wishes/add/", {"who": "Fernhollow", "earliest": "10:00"})
    before = places(demo)

    job = search(lead, 0)

    assert job.is_done, job.told
    assert places(demo) == before
    page = source_of(lead.get(PAGE))
    assert "A plan to look at" in page
    assert "No plan is better." in page
    draft = demo.heat_drafts.get()
    lead.post(f"/heats/plan/{draft.pk}/save/")
    after = places(demo)
    assert after != before
    late = {heat for code, (heat, _) in after.items() if code in {"P01", "P02", "P03"}}
    assert late <= {"heat 3", "heat 4", "heat 5"}
    old = demo.heat_drafts.get()
    assert old.is_old
    lead.post(f"/heats/plan/{old.pk}/undo/")
    takes_part = demo.pairs.filter(status__in=["entered", "guest"]).values_list("code", flat=True)
    assert {code: places(demo)[code] for code in takes_part} == {
        code: before[code] for code in takes_part
    }


@pytest.mark.slow
def test_late_pairs_move_nobody_who_can_stay(lead, demo):
    before = places(demo)
    PairRecord.objects.create(event=demo, code="Z1", school="Quillbank", members=["Ada"])

    assert search(lead, 1).is_done

    draft = demo.heat_drafts.get()
    assert draft.places["Z1"][0]
    assert {code: tuple(at) for code, at in draft.places.items() if code != "Z1"}.items() <= (
        before.items()
    )


def test_what_cannot_be_kept_is_said_and_nothing_is_kept(lead, demo):
    lead.post("/heats/plan/times/", {"first_start": "09:00", "minutes": "30"})
    lead.post("/heats/wishes/add/", {"who": "P07", "earliest": "09:10", "latest": "09:35"})

    job = search(lead, 0)

    assert not job.is_done
    assert "No place for pair P07" in job.told
    assert "It would fit with the places there are if P07 can" in job.told
    assert not demo.heat_drafts.exists()


def test_a_plan_is_not_saved_over_what_was_changed_since(lead, demo):
    lead.post("/heats/plan/at-once/")
    draft = demo.heat_drafts.get()
    demo.pairs.filter(code="P07").update(status="absent")
    before = places(demo)

    answer = lead.post(f"/heats/plan/{draft.pk}/save/")

    assert answer.status_code == 409
    assert places(demo) == before


def test_a_plan_can_be_left(lead, demo):
    lead.post("/heats/plan/at-once/")
    before = places(demo)

    lead.post(f"/heats/plan/{HeatDraft.objects.get().pk}/leave/")

    assert not HeatDraft.objects.exists()
    assert places(demo) == before


def test_a_move_by_hand_stays_when_all_is_planned_again(lead, demo):
    lead.post("/heats/fill/", {"places": "14", "anew": "on"})
    target = "4" if demo.pairs.get(code="P07").heat != "heat 4" else "1"
    assert lead.post("/heats/move/", {"pair": "P07", "to": target}).status_code == 302

    lead.post("/heats/fill/", {"places": "14", "anew": "on"})

    assert demo.pairs.get(code="P07").heat == f"heat {target}"
    assert load_event(demo).heat_wishes == (HeatWish("P07", heat=int(target)),)


def test_rooms_are_filled_and_nobody_joins_a_heat_that_has_started(lead, demo, fake_clock):
    RoomRecord.objects.create(event=demo, name="Gym", places=8)
    RoomRecord.objects.create(event=demo, name="Library", places=6)
    lead.post("/heats/fill/", {"places": "14", "anew": "on"})
    inside = {code for code, at in places(demo).items() if at[0] == "heat 1"}
    HeatRun.objects.create(
        event=demo, heat="heat 1", room="Gym", started_at=fake_clock(), minutes=30
    )
    gone = min(inside)
    demo.pairs.filter(code=gone).update(heat="", room="", status="absent")

    lead.post("/heats/fill/", {"places": "14", "anew": "on"})

    after = places(demo)
    assert {code for code, at in after.items() if at[0] == "heat 1"} == inside - {gone}
    for name, most in (("Gym", 8), ("Library", 6)):
        heats = [heat for heat, room in after.values() if room == name]
        assert heats
        assert max(heats.count(heat) for heat in heats) <= most


def test_who_goes_when_is_printed_a_page_a_school(lead, demo):
    lead.post("/heats/plan/times/", {"first_start": "09:00", "minutes": "30"})

    answer = lead.get("/paper/who-goes-when.pdf")

    pages = [page.extract_text() for page in pypdf.PdfReader(io.BytesIO(answer.content)).pages]
    assert len(pages) == demo.pairs.exclude(heat="").values("school").distinct().count()
    assert "09:00" in pages[1]


def test_an_event_without_rooms_and_divisions_is_asked_nothing_of_them(lead, demo, source_of):
    page = source_of(lead.get(PAGE))

    assert "Nobody has asked for anything." in page
    assert not any(word in page for word in ("accessible", "In room", "divisions"))
