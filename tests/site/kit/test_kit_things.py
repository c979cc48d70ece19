"""Scales, cups, materials, vessels, what is known of an item: added, changed, taken away."""

import math
from decimal import Decimal

import pytest

from nearmark.contest.cup_tares import CupTares
from nearmark.contest.event import SamplesFrom
from nearmark.contest.keys import event_keys
from nearmark.errors import InputError
from nearmark.kit import materials
from nearmark.kit.box_faces import BoxFaces, Faces
from nearmark.site.event.load import load_event
from nearmark.site.kit.pasted_cups import pasted_cups
from nearmark.site.models import Change, InstrumentRecord, MaterialRecord

SCALE = {"name": "fine scale", "unit": "g", "resolution": "0,01", "capacity": "500"}
PASTE = {"instrument": "bench scale", "batch": "wide", "first": "", "lines": ""}


def test_a_scale_is_kept_with_all_its_data_sheet_says(lead, demo):
    lead.post("/kit/thing/scale/add/", SCALE | {"gain_u": "0,02", "linearity_u": "0.03"})

    scale = load_event(demo).instruments[-1]
    assert (scale.resolution, scale.capacity) == (0.01, 500.0)
    assert (scale.gain_u, scale.linearity_u) == (pytest.approx(0.0002), 0.03)


def test_a_scale_takes_u_and_k_of_its_certificate(lead, demo):
    stated = {"certificate_u": "0.2", "certificate_k": "", "certificate_at": "1000"}

    lead.post("/kit/thing/scale/add/", SCALE | stated)

    assert load_event(demo).instruments[-1].gain_u == pytest.approx(0.2 / 2 / 1000)


def test_half_a_certificate_is_asked_for_the_rest(lead, demo):
    answer = lead.post("/kit/thing/scale/add/", SCALE | {"certificate_u": "0.2"})

    assert answer.status_code == 422
    assert "Is needed beside the other figures" in answer.content.decode()
    assert not InstrumentRecord.objects.filter(name="fine scale").exists()


def test_the_zero_of_a_ruler_and_the_mixing_of_a_lot_reach_the_keys(lead, demo):
    before = event_keys(load_event(demo))
    ruler = InstrumentRecord.objects.get(unit="cm")
    post = {"resolution": f"{ruler.resolution:g}", "zero_u": "0.05", "why": "its end is worn"}
    lead.post(f"/kit/thing/scale/{ruler.pk}/", post)
    item = demo.items.get(code="C2")
    known = {"name": item.name, "material": item.material, "mixing_u": "2", "why": "from the top"}
    lead.post(f"/kit/thing/item/{item.pk}/", known)

    event = load_event(demo)
    after = event_keys(event)

    assert after["B1"].u > before["B1"].u
    assert after["C2"].u == pytest.approx(
        math.hypot(before["C2"].u, 0.02 * before["C2"].assigned.value)
    )
    page = lead.get(f"/kit/thing/item/{item.pk}/").content.decode()
    assert 'name="mixing_u" value="2"' in page


def test_a_coarser_scale_makes_every_key_of_it_less_sure_and_the_history_tells(lead, demo):
    row = InstrumentRecord.objects.get(name="bench scale")
    before = event_keys(load_event(demo))["C2"].u
    post = {"resolution": "1", "capacity": "6000", "gain_u": "0.02", "linearity_u": "0"}

    refused = lead.post(f"/kit/thing/scale/{row.pk}/", post | {"why": ""})
    lead.post(f"/kit/thing/scale/{row.pk}/", post | {"why": "label read again"})

    assert refused.status_code == 422
    assert event_keys(load_event(demo))["C2"].u > before
    change = Change.objects.first()
    assert (change.old, change.new) == ("resolution 0.1", "resolution 1")
    assert change.why == "label read again"


def test_nothing_in_use_is_taken_away_and_the_unused_is(lead, demo):
    used = InstrumentRecord.objects.get(name="bench scale")
    lead.post("/kit/thing/scale/add/", SCALE)
    unused = InstrumentRecord.objects.get(name="fine scale")
    cup = demo.cups.get(number="1")
    item = demo.items.get(code="C2")

    for kind, row in (("scale", used), ("cup", cup), ("item", item)):
        answer = lead.post(f"/kit/thing/{kind}/{row.pk}/away/", {"why": "not ours"})
        assert answer.status_code == 409
    assert lead.post(f"/kit/thing/scale/{unused.pk}/away/", {"why": ""}).status_code == 422
    lead.post(f"/kit/thing/scale/{unused.pk}/away/", {"why": "not ours"})

    assert not InstrumentRecord.objects.filter(name="fine scale").exists()
    assert "resolution 0.01" in Change.objects.first().old


def test_cups_are_pasted_with_their_batch_and_the_batch_is_judged(lead, demo):
    lines = "101 12.3\n102\t12,4\n103; 12.4\n\n104 12.5\n105 15.1\n106 12.4"

    page = lead.post("/kit/cups/paste/", PASTE | {"lines": lines}, follow=True).content.decode()

    assert len(CupTares.of(load_event(demo)).batches["wide"]) == 6
    assert "6 cups were added" in page
    # As the example of nearmark.kit.batch_tare: the fifth one does not belong.
    assert "does not belong to the batch" in page
    assert "cup 105" in page


def test_grams_alone_are_numbered_after_the_last_cup(lead, demo):
    highest = max(int(n) for n in demo.cups.values_list("number", flat=True))

    lead.post("/kit/cups/paste/", PASTE | {"lines": "12.3\n12.4"})
    lead.post("/kit/cups/paste/", PASTE | {"lines": "12.3", "first": "300"})

    numbers = [c.number for c in demo.cups.filter(batch="wide")]
    assert numbers == [str(highest + 1), str(highest + 2), "300"]


@pytest.mark.parametrize(
    ("lines", "place", "what"),
    [
        ("7 8.6\n7 8.7", "line 2", "a second time"),
        ("7 8.6\n\n8 heavy", "line 3", "not a number"),
        ("7 8.6 thin", "line 1", "more than a number and grams"),
        ("7,8.6", "line 1", "may be a number and grams"),
        ("7 0", "line 1", "above zero"),
        (" \n", "lines", "no cup"),
        ("1\n" * 501, "lines", "too many"),
    ],
)
def test_a_line_that_cannot_be_is_named(lines, place, what):
    with pytest.raises(InputError) as refused:
        pasted_cups(lines, first=1)

    assert place in str(refused.value)
    assert what in str(refused.value)


def test_one_bad_line_adds_no_cup(lead, demo):
    before = demo.cups.count()

    answer = lead.post("/kit/cups/paste/", PASTE | {"lines": "201 8.6\n1 8.7"})

    assert answer.status_code == 422
    assert "201 8.6" in answer.content.decode()
    assert demo.cups.count() == before


def test_a_material_of_the_catalogue_comes_with_its_cautions(lead, demo):
    lead.post("/kit/materials/take/", {"code": "kidney-bean"})

    page = lead.get("/kit/materials/").content.decode()
    again = lead.post("/kit/materials/take/", {"code": "kidney-bean"})
    assert MaterialRecord.objects.filter(code="kidney-bean").count() == 1
    assert "never taste" in page
    assert again.status_code == 422
    assert "Kidney beans" in lead.get("/kit/cautions/").content.decode()


def test_the_whole_catalogue_can_be_browsed_and_searched(lead):
    everything = lead.get("/kit/materials/").content.decode()
    beans = lead.get("/kit/materials/?q=wheat").content.decode()
    nothing = lead.get("/kit/materials/", {"q": "<script>alert(1)"}).content.decode()

    assert all(each.name in everything.replace("&#x27;", "'") for each in materials())
    assert "Elbow pasta" in beans
    assert "Nothing in the catalogue fits" in nothing
    assert "<script>alert" not in nothing


def test_what_must_never_be_used_is_refused_as_an_own_material_too(lead, demo):
    post = {"code": "shot", "name": "lead shot", "moisture_u": "", "piece_cv": "", "cautions": ""}

    answer = lead.post("/kit/thing/material/add/", post)

    assert answer.status_code == 409
    assert not demo.materials.filter(code="shot").exists()


def test_percents_are_kept_as_shares_and_shown_as_percents(lead, demo):
    row = demo.materials.get(code="rice")
    post = {"name": "Milled rice", "piece_cv": "14", "moisture_u": "0,2", "cautions": "a\n\nb"}

    lead.post(f"/kit/thing/material/{row.pk}/", post | {"why": "own lot"})

    row.refresh_from_db()
    assert (row.piece_cv, row.moisture_u) == (Decimal("0.14"), Decimal("0.002"))
    assert row.cautions == ["a", "b"]
    assert 'value="14"' in lead.get(f"/kit/thing/material/{row.pk}/").content.decode()


def test_a_box_says_how_it_is_read_and_the_key_follows(lead, demo):
    item = demo.items.get(code="B2")
    outer = event_keys(load_event(demo))["B2"].key
    post = {"name": "shoe box", "faces": "outside", "wall_cm": "0,3", "bulge_cm": ""}

    lead.post(f"/kit/thing/item/{item.pk}/", post | {"why": "cardboard measured"})

    event = load_event(demo)
    known = next(i for i in event.items if i.code == "B2")
    assert known.box == BoxFaces(Faces.OUTSIDE, Decimal("0.3"))
    assert event_keys(event)["B2"].key < outer
    wrong = lead.post(f"/kit/thing/item/{item.pk}/", post | {"faces": "inside", "why": "x"})
    assert wrong.status_code == 422


def test_samples_may_come_out_of_the_container(lead, demo):
    item = demo.items.get(code="C2")
    post = {"name": item.name, "material": item.material, "samples_from": "container"}

    lead.post(f"/kit/thing/item/{item.pk}/", post | {"why": "counted out of the tub"})

    assert next(i for i in load_event(demo).items if i.code == "C2").samples_from is (
        SamplesFrom.CONTAINER
    )
    assert item.changes.first().new == "samples from container"


def test_a_kind_of_thing_that_is_none_is_refused(lead):
    assert lead.get("/kit/thing/spoon/1/").status_code == 422
    assert lead.get("/kit/thing/cup/999999/").status_code == 422


def test_a_material_of_your_own_keeps_its_cautions_and_offers_near_codes(lead, demo):
    post = {"code": "bean", "name": "Runner beans", "moisture_u": "", "piece_cv": ""}

    lead.post("/kit/thing/material/add/", post | {"cautions": "smells"})

    page = lead.get("/kit/materials/").content.decode()
    cautions = lead.get("/kit/cautions/").content.decode()
    assert "Raw: never taste" in page.partition("Runner beans")[2].partition("</section>")[0]
    assert "use that code: mung-bean" in page
    said = cautions.partition("Runner beans")[2].partition("</section>")[0]
    assert "Smells." in said
    assert "As for mung beans and their kind; check it." in said
    assert "Raw: never taste" in said
