"""Heats on the site: filling, moving, changing places, checking in."""

import re

import pytest

from nearmark.site.door.access import Role
from nearmark.site.models import Change, HeatRun, PairRecord

TAKES_PART = ["entered", "guest"]


def heats(demo) -> dict[str, str]:
    return dict(demo.pairs.filter(status__in=TAKES_PART).values_list("code", "heat"))


@pytest.fixture
def unplanned(demo):
    demo.pairs.update(heat="")
    return demo


def test_filling_gives_everybody_a_heat_within_its_places(lead, unplanned):
    answer = lead.post("/heats/fill/", {"places": "13"})

    assert answer.status_code == 302
    planned = list(heats(unplanned).values())
    assert all(planned)
    assert max(planned.count(heat) for heat in planned) <= 13
    # 49 entries or fewer, 13 places: four heats, no more.
    assert len(set(planned)) == -(-len(planned) // 13)


def test_absent_pairs_are_given_no_heat(lead, unplanned):
    unplanned.pairs.filter(code="P07").update(status="absent")

    lead.post("/heats/fill/", {"places": "12"})

    assert unplanned.pairs.get(code="P07").heat == ""


def test_filling_leaves_those_who_have_a_heat_where_they_are(lead, demo):
    before = heats(demo)
    late = PairRecord.objects.create(event=demo, code="Z1", school="Quillbank", members=["Ada"])

    lead.post("/heats/fill/", {"places": "20"})

    after = heats(demo)
    assert after.pop("Z1")
    assert after == before
    assert late.code not in before


def test_planning_anew_leaves_heats_that_have_started(lead, demo, fake_clock):
    HeatRun.objects.create(event=demo, heat="heat 2", started_at=fake_clock(), minutes=30)
    before = {code for code, heat in heats(demo).items() if heat == "heat 2"}

    lead.post("/heats/fill/", {"places": "30", "anew": "on"})

    after = {code for code, heat in heats(demo).items() if heat == "heat 2"}
    assert after == before
    # Nobody joins it: those of the other heats, 36 at least, go in two heats of 30.
    assert len(set(heats(demo).values())) == 3


def test_a_move_is_made_and_told(lead, demo):
    demo.heat_places = 40
    demo.save()

    lead.post("/heats/move/", {"pair": "P01", "to": "2"})

    assert demo.pairs.get(code="P01").heat == "heat 2"
    line = Change.objects.first()
    assert (line.what, line.old, line.new) == ("moved pair P01", "heat 1", "heat 2")


def test_a_full_heat_names_whom_to_swap_with(lead, demo):
    answer = lead.post("/heats/move/", {"pair": "P01", "to": "2"})

    assert answer.status_code == 409
    assert b"Swap P01 with" in answer.content
    assert demo.pairs.get(code="P01").heat == "heat 1"


def test_a_pair_without_a_heat_can_be_given_one_by_hand(lead, demo):
    demo.heat_places = 20
    demo.save()
    PairRecord.objects.create(event=demo, code="Z1", school="Quillbank", members=["Ada"])
    PairRecord.objects.create(event=demo, code="Z2", school="Quillbank", members=["Bo"])

    lead.post("/heats/move/", {"pair": "Z1", "to": "3"})

    assert demo.pairs.get(code="Z1").heat == "heat 3"
    assert demo.pairs.get(code="Z2").heat == ""


def test_two_pairs_change_places(lead, demo):
    other = demo.pairs.filter(heat="heat 2").first().code

    lead.post("/heats/swap/", {"pair": "P01", "other": other})

    assert demo.pairs.get(code="P01").heat == "heat 2"
    assert demo.pairs.get(code=other).heat == "heat 1"


@pytest.mark.parametrize(
    ("address", "given"),
    [
        ("move", {"pair": "P01", "to": "99"}),
        ("move", {"pair": "P01", "to": "two"}),
        ("move", {"pair": "P01", "to": "\N{SUPERSCRIPT TWO}"}),
        ("move", {"pair": "nobody", "to": "1"}),
        ("move", {}),
        ("swap", {"pair": "P01", "other": "nobody"}),
        ("fill", {"places": "0"}),
        ("fill", {"places": "61"}),
        ("fill", {"places": "1e2"}),
    ],
)
def test_what_makes_no_sense_changes_nothing(lead, demo, address, given):
    before = heats(demo)

    answer = lead.post(f"/heats/{address}/", given)

    assert answer.status_code == 422
    assert heats(demo) == before


def test_a_heat_without_a_number_is_shown_and_can_be_planned_anew(lead, demo):
    demo.pairs.filter(code="P01").update(heat="morning")

    page = lead.get("/heats/")
    assert page.status_code == 200
    assert b"Morning" in page.content
    assert lead.post("/heats/fill/", {"places": "12"}).status_code == 422
    lead.post("/heats/fill/", {"places": "12", "anew": "on"})

    assert demo.pairs.get(code="P01").heat.startswith("heat ")


def test_check_in_by_a_scorer_is_shown_beside_the_start(scorer, demo):
    first = demo.pairs.get(code="P01")

    answer = scorer.post(f"/heats/{first.pk}/here/", {"here": "yes"})

    assert answer.headers["Location"].endswith(f"#pair-{first.pk}")
    assert b"P02" in scorer.get("/clock/control/").content
    assert b"P01" not in scorer.get("/clock/control/").content
    assert demo.pairs.get(code="P01").arrived_at is not None


def test_a_check_in_by_mistake_is_undone(scorer, demo):
    first = demo.pairs.get(code="P01")

    scorer.post(f"/heats/{first.pk}/here/", {"here": "yes"})
    scorer.post(f"/heats/{first.pk}/here/", {"here": "no"})

    assert demo.pairs.get(code="P01").arrived_at is None
    assert [c.what for c in Change.objects.all()[:2]] == [
        "checked pair P01 out again",
        "checked pair P01 in",
    ]


def test_checking_in_twice_is_told_once(scorer, demo):
    first = demo.pairs.get(code="P01")

    for _ in range(2):
        scorer.post(f"/heats/{first.pk}/here/", {"here": "yes"})

    assert Change.objects.filter(what="checked pair P01 in").count() == 1


def test_a_scorer_sees_heats_without_names_and_cannot_plan(scorer, demo):
    page = scorer.get("/heats/").content.decode()

    names = {name for pair in demo.pairs.all() for name in pair.members}
    assert not [name for name in names if f">{name}<" in page or f" {name} " in page]
    assert "/heats/fill/" not in page
    assert scorer.post("/heats/fill/", {"places": "12"}).status_code == 403


def test_a_coach_sees_no_heats(sign_in, demo):
    assert sign_in(Role.COACH).get("/heats/").status_code == 403


def test_the_page_without_an_event_says_what_comes_first(lead, no_event):
    assert b"No pair, no heat" in lead.get("/heats/").content


LATE = {"school": "Fernhollow", "first": "Wren", "second": "", "code": "N1"}


def test_a_pair_that_comes_unannounced_is_in_a_heat_and_here(lead, demo):
    page = lead.post("/heats/late/", LATE | {"to": "5"}, follow=True).content.decode()

    pair = demo.pairs.get(code="N1")
    assert (pair.heat, pair.members) == ("heat 5", ["Wren"])
    assert pair.arrived_at is not None
    assert "Give them a spare sheet" in page


@pytest.mark.parametrize("change", [{"code": "P01"}, {"to": "2"}, {"to": "99"}, {"school": ""}])
def test_a_late_pair_that_cannot_be_taken_in_leaves_nothing_behind(lead, demo, change):
    n_before = demo.pairs.count()

    assert lead.post("/heats/late/", LATE | {"to": "5"} | change).status_code == 422
    assert demo.pairs.count() == n_before


def test_a_pair_is_opened_for_change_with_every_other_heat_to_choose(lead, demo):
    page = lead.get("/heats/?pair=P01").content.decode()
    offered = re.findall(r'name="to" value="(\d+)"', page[: page.index("</section>")])

    assert offered == ["2", "3", "4", "5", "6"]
    assert "Mark as absent" in page


def test_a_full_heat_is_refused_on_the_page_itself(lead, demo):
    answer = lead.post("/heats/move/", {"pair": "P01", "to": "2"})

    assert answer.status_code == 409
    assert "Heat 2: is full" in answer.content.decode()
    assert 'id="change"' in answer.content.decode()


def test_a_pair_marked_absent_is_taken_back_in_when_it_comes(lead, demo):
    pair = demo.pairs.get(code="P01")
    status = f"/pairs/{pair.pk}/status/"
    answer = lead.post(status, {"status": "absent", "why": "bus", "from": "heats"})
    assert answer.headers["Location"] == "/heats/"

    assert "Take them back in" in lead.get("/heats/?pair=P01").content.decode()
    lead.post(status, {"status": "entered", "why": "came after all", "from": "heats"})

    pair.refresh_from_db()
    assert (pair.status, pair.heat) == ("entered", "heat 1")


def test_a_late_pair_goes_where_its_school_is_and_is_told_why(lead, demo):
    demo.heat_places = 13
    demo.save()

    page = lead.post("/heats/late/", LATE | {"school": "Quillbank"}, follow=True).content.decode()

    pair = demo.pairs.get(code="N1")
    others = demo.pairs.filter(school="Quillbank", heat=pair.heat).exclude(pk=pair.pk)
    assert others.count() == max(
        demo.pairs.filter(school="Quillbank", heat=f"heat {n}").exclude(pk=pair.pk).count()
        for n in range(1, 6)
    )
    assert f"its school has {others.count()} there" in page


def test_the_first_heat_with_room_does_not_split_a_school_any_more(lead, demo, source_of):
    page = source_of(lead.get("/heats/"))
    late = page[page.index('id="late_to"') :]

    assert late.index("where its school is") < late.index("<option", late.index("<option") + 9)


def test_a_whole_school_is_checked_in_and_taken_back_in_one_act_each(scorer, demo, source_of):
    rows = demo.pairs.filter(school="Fernhollow", status="entered")
    n = rows.count()
    assert n > 1

    answer = scorer.post("/heats/check-in/", {"school": "Fernhollow"}, follow=True)

    page = source_of(answer)
    assert rows.filter(arrived_at=None).count() == 0
    assert f"{n} of " in page
    assert f"Undo all {n}" in page
    line = Change.objects.first()
    assert (line.what, line.new.count("P")) == (f"checked {n} pairs in", n)

    numbers = re.findall(r'name="undo" value="(\d+)"', page)
    scorer.post("/heats/check-in/", {"undo": numbers})
    assert rows.filter(arrived_at=None).count() == n
    assert Change.objects.first().what == f"checked {n} pairs out again"


def test_undoing_a_school_leaves_those_who_were_here_before(scorer, demo, source_of):
    first = demo.pairs.filter(school="Fernhollow").first()
    scorer.post(f"/heats/{first.pk}/here/", {"here": "yes"})

    page = source_of(scorer.post("/heats/check-in/", {"school": "Fernhollow"}, follow=True))
    scorer.post("/heats/check-in/", {"undo": re.findall(r'name="undo" value="(\d+)"', page)})

    first.refresh_from_db()
    assert first.arrived_at is not None


@pytest.mark.parametrize("typed", ["P07", "p7", "7", "P07-9", "p079"])
def test_a_code_checks_in_however_it_is_typed(scorer, demo, source_of, typed):
    page = source_of(scorer.post("/heats/check-in/", {"who": typed}, follow=True))

    assert demo.pairs.get(code="P07").arrived_at is not None
    assert "P07 (Otterbrook Mill) is here." in page
    assert "Undo P07" in page
    again = scorer.post("/heats/check-in/", {"who": typed}, follow=True).content.decode()
    assert "P07 is here already, since" in again


def test_a_first_name_finds_the_pair_and_names_stay_off_the_page(scorer, demo, source_of):
    pair = demo.pairs.get(code="P07")
    pair.members = ["Zephyrine", "Kai"]
    pair.save()

    answer = scorer.post("/heats/check-in/", {"who": "zephy"})
    page = source_of(answer)

    assert answer.status_code == 200
    assert f'id="found-{pair.pk}"' in page
    assert page.count('<li id="found-') == 1
    assert "Zephyrine" not in page
    assert "Kai" not in page
    assert demo.pairs.get(code="P07").arrived_at is None


def test_a_school_finds_all_its_pairs(scorer, demo, source_of):
    page = source_of(scorer.post("/heats/check-in/", {"who": "otterbrook"}))

    assert page.count('<li id="found-') == demo.pairs.filter(school="Otterbrook Mill").count()


@pytest.mark.parametrize(
    "given", [{"who": "nobody at all"}, {"who": ""}, {"school": "Nowhere"}, {"undo": "x"}]
)
def test_a_check_in_that_means_nobody_changes_nothing(scorer, demo, given):
    assert scorer.post("/heats/check-in/", given).status_code == 422
    assert not demo.pairs.exclude(arrived_at=None).exists()
    assert not Change.objects.filter(what__startswith="checked").exists()


def test_the_heats_say_how_far_they_are(lead, demo, source_of):
    lead.post("/clock/start/", {"heat": "heat 1", "minutes": "30"})
    page = source_of(lead.get("/heats/"))
    assert "here, runs until " in page
    assert "here, next" in page
    assert not re.search(r"Heat \d+ <[^>]*>\d+/\d+<", page)

    run = demo.heat_runs.get()
    lead.post(f"/clock/{run.pk}/pause/")
    assert "here, paused" in source_of(lead.get("/heats/"))
    lead.post(f"/clock/{run.pk}/stop/", {"is_sure": "on"})
    assert "here, over" in source_of(lead.get("/heats/"))
