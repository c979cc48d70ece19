"""The kit room: readings in, certificate beside them, decisions and history."""

import html
import uuid
from decimal import Decimal

import pytest
from django.utils import timezone

from nearmark.contest.keys import event_keys
from nearmark.contest.results import results
from nearmark.site.door.access import Role
from nearmark.site.event.load import load_event
from nearmark.site.models import AdjudicationEntry, AnswerEntry, Change, DecisionEntry, SampleRow
from nearmark.words.next_step import way_words
from nearmark.words.open_points import point_words


def url(demo, code: str, tail: str = "") -> str:
    return f"/kit/{demo.items.get(code=code).pk}/{tail}"


SAMPLE = {"pieces": "500", "mass_g": "10,5", "instrument": "bench scale"}


@pytest.mark.slow
def test_more_samples_make_the_key_fit_and_the_page_says_so(lead, demo):
    before = lead.get(url(demo, "C3")).content.decode()

    for mass in ("10.5", "10.6", "10.5", "10.4", "10.5"):
        page = lead.post(url(demo, "C3", "add/sample/"), SAMPLE | {"mass_g": mass}, follow=True)
    after = page.content.decode()

    assert "One more sample of 500 brings U" in before
    assert "(about 9 minutes)" in before
    assert 'class="verdict">fit' in after
    assert event_keys(load_event(demo))["C3"].fit


def test_a_reading_is_kept_exactly_as_written(lead, demo):
    lead.post(url(demo, "C3", "add/sample/"), SAMPLE | {"mass_g": "10.50"})

    assert str(SampleRow.objects.last().mass_g) == "10.50"


def test_a_struck_reading_no_longer_counts_and_stays_to_be_seen(lead, demo):
    row = SampleRow.objects.filter(item__code="C3").first()

    answer = lead.post(f"/kit/strike/sample/{row.pk}/", {"why": "dish not tared"}, follow=True)

    assert len([s for s in load_event(demo).samples if s.item == "C3"]) == 2
    assert "dish not tared" in answer.content.decode()
    assert Change.objects.first().why == "dish not tared"


def test_striking_out_needs_a_reason_and_works_once(lead):
    row = SampleRow.objects.first()
    address = f"/kit/strike/sample/{row.pk}/"

    assert lead.post(address, {"why": ""}).status_code == 422
    assert lead.post(address, {"why": "slip"}).status_code == 302
    assert lead.post(address, {"why": "slip"}).status_code == 409


@pytest.mark.parametrize(
    ("kind", "post", "words"),
    [
        ("sample", SAMPLE | {"pieces": "1.5"}, "Whole pieces only"),
        ("sample", SAMPLE | {"mass_g": "0"}, "above zero"),
        ("sample", SAMPLE | {"mass_g": "9" * 29}, "larger than anything"),
        ("sample", SAMPLE | {"instrument": "kitchen scale"}, "Select a valid choice"),
        ("full", {"gross_g": "", "instrument": "bench scale"}, "required"),
    ],
)
def test_a_reading_that_cannot_be_is_refused_beside_its_field(lead, demo, kind, post, words):
    answer = lead.post(url(demo, "C3", f"add/{kind}/"), post)

    assert answer.status_code == 422
    assert words in answer.content.decode()


def test_an_edge_is_no_reading_of_a_jar(lead, demo):
    post = {"side": "length", "reading_cm": "12.4", "instrument": "steel ruler"}

    assert lead.post(url(demo, "C3", "add/edge/"), post).status_code == 422


def test_the_lead_decides_on_a_key_with_a_reason_and_takes_it_back(lead, demo):
    decide = url(demo, "B1", "decide/")

    assert lead.post(decide, {"why": ""}).status_code == 422
    lead.post(decide, {"why": "no time before the doors"})
    decision = event_keys(load_event(demo))["B1"].decision
    lead.post(decide, {"why": "measured again", "withdraw": "on"})

    assert (decision.by, decision.reason) == ("Juniper", "no time before the doors")
    assert event_keys(load_event(demo))["B1"].decision is None


def test_the_certificate_is_a_pdf(lead, demo):
    answer = lead.get(url(demo, "C2", "certificate.pdf"))

    assert answer["Content-Type"] == "application/pdf"
    assert answer.content.startswith(b"%PDF")


def test_a_target_has_no_certificate(lead, demo):
    assert lead.get(url(demo, "M1", "certificate.pdf")).status_code == 422


@pytest.mark.slow
def test_items_scales_and_cups_are_added_once(lead, demo):
    item = {"code": "C9", "name": "jar of beans", "station": "count"}
    scale = {"name": "small scale", "unit": "g", "resolution": "0.01"}
    cup = {"number": "99", "tare_g": "8.61", "instrument": "bench scale"}

    for address, post in (("items", item), ("thing/scale", scale), ("thing/cup", cup)):
        assert lead.post(f"/kit/{address}/add/", post).status_code == 302
        again = lead.post(f"/kit/{address}/add/", post)
        assert again.status_code == 422
        assert "Is taken" in again.content.decode()

    event = load_event(demo)
    assert event.items[-1].name == "jar of beans"
    assert event.instruments[-1].resolution == 0.01
    assert str(event.cups[-1].tare_g) == "8.61"


def test_a_new_item_says_what_to_measure_first(lead, demo):
    post = {"code": "C9", "name": "jar of beans", "station": "count"}

    page = lead.post("/kit/items/add/", post, follow=True).content.decode()

    assert "none yet" in page
    assert "Weigh the container empty" in page


@pytest.mark.slow
def test_the_page_leads_from_the_empty_jar_to_the_fit_key(lead, demo, source_of):
    lead.post("/kit/items/add/", {"code": "C9", "name": "jar of pasta", "station": "count"})
    said = []
    for kind, post in (
        ("empty", {"tare_g": "212,4"}),
        *(("sample", {"pieces": "150", "mass_g": mass}) for mass in ("92.3", "91.8", "92.1")),
        ("full", {"gross_g": "3914.2"}),
        *(("sample", {"pieces": "150", "mass_g": mass}) for mass in ("92.0", "92.2")),
    ):
        address = url(demo, "C9", f"add/{kind}/")
        page = lead.post(address, post | {"instrument": "bench scale"}, follow=True)
        said.append(way_words(page.context["way"]))

    assert said == [
        "Count pieces and weigh them",
        "Count pieces and weigh them",
        "Count pieces and weigh them",
        "Fill it, then weigh it full",
        "One more sample of 150 brings U from 1.8 % to 1.1 % (about 3 minutes)",
        "One more sample of 150 brings U from 1.1 % to 0.76 % (about 3 minutes)",
        "This key is fit: close and seal it",
    ]
    assert "<strong>5 samples of 150</strong>: 750 pieces, 460.4 g" in source_of(page)


def test_the_last_reading_is_struck_by_one_press_with_its_reason(lead, demo):
    page = lead.post(url(demo, "C3", "add/sample/"), SAMPLE, follow=True)
    last = page.context["last"]

    lead.post(f"/kit/strike/{last.kind}/{last.row.pk}/", {"why": last.slips[0]})

    row = SampleRow.objects.get(pk=last.row.pk)
    assert row.struck_why == "typed wrong"
    assert len([s for s in load_event(demo).samples if s.item == "C3"]) == 3


def test_the_history_of_an_item_keeps_the_key_before_and_after(lead, demo, source_of):
    lead.post(url(demo, "C3", "add/sample/"), SAMPLE)
    lead.post(url(demo, "C2", "add/sample/"), SAMPLE)

    (change,) = demo.items.get(code="C3").changes.all()
    page = source_of(lead.get(url(demo, "C3", "history/")))

    assert change.old == "key 14312 pieces, U 1.7 %"
    assert change.new.startswith("key 143")
    assert change.new != change.old
    assert page.count("read C3: sample of 500: 10.5 g") == 1
    assert "C2" not in page.split("<table")[1]


def test_a_key_out_of_nothing_is_an_open_point_here_too(lead, demo):
    lead.post("/kit/items/add/", {"code": "C9", "name": "jar of beans", "station": "count"})

    lead.post(url(demo, "C9", "decide/"), {"value": "2000", "why": "as it says on the sack"})

    page = lead.get(url(demo, "C9")).content.decode()
    assert "It counts as exact" in page
    (point,) = [p for p in results(load_event(demo)).open_points if "key of C9" in point_words(p)]
    assert "Juniper's word" in point_words(point)


def test_a_decided_key_does_not_show_the_uncertainty_of_the_measured_one(lead, demo, source_of):
    item = demo.items.get(code="C2")
    DecisionEntry.objects.create(
        event=demo,
        item=item,
        value=Decimal(9000),
        by="Juniper",
        reason="recounted",
        is_withdrawal=False,
        at=timezone.now(),
    )

    page = source_of(lead.get(url(demo, "C2")))
    line = source_of(lead.get("/kit/")).split(">C2</a>")[1].split("</tr>")[0]

    assert "Juniper's word: the readings give" in html.unescape(page)
    assert "which is not the key; what follows is about that number" in page
    assert ", U " not in page.split('class="glance"')[1].split("</p>")[0]
    assert 'data-label="U (95 %)"></td><td class="n" data-label="of the key"></td>' in line
    assert "It counts as exact" in page


def test_the_room_says_who_may_see_keys_and_what_is_first(lead, sign_in, source_of):
    sign_in(Role.LEAD, "Hazel")

    page = source_of(lead.get("/kit/"))

    assert "Only a lead: <strong>Juniper and Hazel</strong>." in page
    assert "B1: Read each side 2 more times: that can bring U" in page


def test_nothing_of_the_kit_can_be_changed_once_the_results_are_out(lead, demo):
    demo.released_at = timezone.now()
    demo.save()
    pk = demo.items.get(code="C3").pk
    posts = {
        f"/kit/{pk}/add/sample/": SAMPLE,
        f"/kit/thing/item/{pk}/": {"name": "x", "why": "y"},
        "/kit/materials/take/": {"code": "penne"},
        "/kit/cups/paste/": {"lines": "901 8.6", "instrument": "bench scale"},
    }

    assert {lead.post(a, p).status_code for a, p in posts.items()} == {409}
    assert "at-the-scale" not in lead.get(f"/kit/{pk}/").content.decode()


def test_an_answer_may_name_the_batch_of_its_cup(scorer, demo):
    AdjudicationEntry.objects.all().delete()
    AnswerEntry.objects.all().delete()
    pair = demo.pairs.first().code
    post = {"pair": pair, "cup": "thin", "gross_g": "108.6", "key": str(uuid.uuid4())}

    scorer.post("/weigh-in/", post)

    assert AnswerEntry.objects.get().cup == "thin"


@pytest.mark.slow
def test_what_is_wrong_with_a_key_is_said_beside_it(lead, demo, source_of):
    lead.post("/kit/items/add/", {"code": "C9", "name": "jar of pasta", "station": "count"})
    for kind, post in (
        ("empty", {"tare_g": "3914.2"}),
        *(("sample", {"pieces": "150", "mass_g": mass}) for mass in ("92.3", "91.8", "92.1")),
        ("full", {"gross_g": "212.4"}),
    ):
        post |= {"instrument": "bench scale"}
        asked = lead.post(url(demo, "C9", f"add/{kind}/"), post)
        if asked.status_code == 422:
            again = {"doubt": [doubt.id for doubt in asked.context["asked"]]}
            lead.post(url(demo, "C9", f"add/{kind}/"), post | again)

    certificate = source_of(lead.get(url(demo, "C9"))).split('id="certificate"')[1]

    assert "no key yet" in certificate
    assert '<p class="note look">Count by weighing: ' in certificate
