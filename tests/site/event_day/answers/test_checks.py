"""A scale against a known mass, and the buckets of a heat against its recorded cups."""

import pytest

from nearmark.site.event.results_cache import current_results
from nearmark.site.models import AnswerEntry, Change, RoomRecord

SCALE = "bench scale"
WEIGHT = {"scale": SCALE, "known_g": "200", "shown_g": "200.0"}


def test_a_check_weight_is_kept_with_who_and_what_it_showed(scorer, demo, source_of):
    demo.instruments.filter(name=SCALE).update(gain_u=0.0, linearity_u=0.0, resolution=0.1)

    fine = scorer.post("/weigh-in/scale/", WEIGHT, follow=True)
    off = scorer.post("/weigh-in/scale/", WEIGHT | {"shown_g": "200,3"}, follow=True)

    assert "Bench scale shows 200 g for 200 g: fine" in source_of(fine)
    # 0.1 / sqrt(12) = 0.029 g, U = 0.057 g: 0.3 g is more than the display can be off.
    assert "0.3 g off, 0.06 g is allowed" in source_of(off)
    newest, before = Change.objects.all()[:2]
    assert {newest.who, before.who} == {"scorer one"}
    assert newest.what == before.what == f"check weight on {SCALE}"


def test_each_scale_has_the_uncertainty_of_its_own_calibration(scorer, demo, source_of):
    demo.instruments.create(name="kitchen scale", unit="g", resolution=1.0, gain_u=0.005)

    page = scorer.post(
        "/weigh-in/scale/", WEIGHT | {"scale": "kitchen scale", "shown_g": "202"}, follow=True
    )

    # 0.5 % of 200 g and 1 g / sqrt(12): u = 1.04 g, U = 2.04 g.
    assert "fine, 2.0 g off is allowed" in source_of(page)


@pytest.mark.parametrize(
    "change", [{"scale": "ruler"}, {"known_g": "0"}, {"shown_g": ""}, {"known_u_g": "-1"}]
)
def test_a_check_weight_that_makes_no_sense_is_refused(scorer, demo, change):
    assert scorer.post("/weigh-in/scale/", WEIGHT | change).status_code == 422
    assert not Change.objects.filter(what__startswith="check weight").exists()


def cups_of(demo, heat: str, item: str) -> float:
    codes = set(demo.pairs.filter(heat=heat).values_list("code", flat=True))
    answers = current_results(demo).answers.values()
    return sum(
        float(a.estimate) for a in answers if a.item == item and a.pair in codes and a.estimate
    )


@pytest.fixture
def item(demo) -> str:
    return str(demo.items.get(station="mass").code)


def ask(item: str, gone: float, **more: str) -> dict[str, str]:
    lines = f"9000 {9000 - gone:.1f}"
    return {"heat": "heat 2", "item": item, "scale": SCALE, "lines": lines} | more


def test_buckets_and_cups_of_a_heat_agree(lead, demo, item, source_of):
    demo.instruments.filter(name=SCALE).update(capacity=None)
    gone = cups_of(demo, "heat 2", item)
    assert gone > 500

    page = source_of(lead.post("/weigh-in/buckets/", ask(item, gone), follow=True))

    assert "The buckets and" in page
    assert "cups agree" in page
    assert Change.objects.first().what == f"weighed the buckets of heat 2, {item}"


def test_a_cup_that_was_struck_out_is_missing_in_the_balance(lead, demo, item, source_of):
    demo.instruments.filter(name=SCALE).update(capacity=None)
    gone = cups_of(demo, "heat 2", item)
    pair = demo.pairs.filter(heat="heat 2", status="entered").first()
    AnswerEntry.objects.filter(pair=pair, item__code=item).delete()

    page = source_of(lead.post("/weigh-in/buckets/", ask(item, gone), follow=True))

    assert "more is gone than" in page
    assert "may be missing" in page


def test_only_the_cups_of_the_room_count(lead, demo, item, source_of):
    demo.instruments.filter(name=SCALE).update(capacity=None)
    for name in ("Hall", "Gym"):
        RoomRecord.objects.create(event=demo, name=name, places=12)
    demo.pairs.filter(heat="heat 2").update(room="Hall")
    demo.pairs.exclude(heat="heat 2").update(room="Gym")
    gone = cups_of(demo, "heat 2", item)

    assert lead.post("/weigh-in/buckets/", ask(item, gone)).status_code == 422
    hall = lead.post("/weigh-in/buckets/", ask(item, gone, room="Hall"), follow=True)
    gym = lead.post("/weigh-in/buckets/", ask(item, gone, room="Gym"), follow=True)

    assert "agree" in source_of(hall)
    assert "more is gone than 0 cups hold" in source_of(gym)


@pytest.mark.parametrize(
    "change",
    [
        {"lines": "9000"},
        {"lines": "9000 8000 1 2"},
        {"lines": "9000 9001"},
        {"lines": "many few"},
        {"heat": "heat 77"},
        {"scale": "ruler"},
        {"spill_g": "-1"},
    ],
)
def test_buckets_that_make_no_sense_are_refused(lead, demo, item, change):
    assert lead.post("/weigh-in/buckets/", ask(item, 500, **change)).status_code == 422


def test_what_cups_hold_together_is_not_for_every_desk(scorer, demo, item):
    assert scorer.post("/weigh-in/buckets/", ask(item, 500)).status_code == 403
    assert "/weigh-in/buckets/" not in scorer.get("/weigh-in/").content.decode()
    assert "/weigh-in/scale/" in scorer.get("/weigh-in/").content.decode()
