"""The desk with the scale: one hand-in, two readers, the net mass for the lead alone."""

import uuid

import pytest

from nearmark.contest.answers import accepted_answers
from nearmark.event_folder import read_event, write_event
from nearmark.site.door.access import Role
from nearmark.site.event.load import load_event
from nearmark.site.models import AnswerEntry, Change

JSON = {"Accept": "application/json"}


def cup(pair: str = "P01", number: str = "3", gross: str = "108.3") -> dict[str, str]:
    return {"pair": pair, "cup": number, "gross_g": gross, "key": str(uuid.uuid4())}


@pytest.fixture
def handed_in(scorer, empty_event):
    scorer.post("/weigh-in/", cup())
    return empty_event


def test_a_second_cup_of_a_pair_is_refused_in_plain_words(lead, handed_in):
    answer = lead.post("/weigh-in/", cup(number="4"))

    assert answer.status_code == 409
    assert "P01 has handed in cup 3 already: one hand-in a pair" in answer.content.decode()
    assert AnswerEntry.objects.count() == 1


def test_the_same_cup_is_read_by_a_second_person(lead, handed_in):
    lead.post("/weigh-in/", cup())

    assert AnswerEntry.objects.count() == 2


def test_a_repeated_post_is_counted_once_whatever_came_between(scorer, lead, empty_event):
    first = cup()
    scorer.post("/weigh-in/", first)
    assert scorer.post("/weigh-in/", first).status_code == 302

    assert AnswerEntry.objects.count() == 1


@pytest.mark.slow
def test_the_net_mass_is_told_to_the_lead_alone(lead, scorer, empty_event):
    to_scorer = scorer.post("/weigh-in/", cup(), follow=True).content.decode()
    to_lead = lead.post("/weigh-in/", cup(), follow=True).content.decode()

    assert " Net " in to_lead
    assert " Net " not in to_scorer


@pytest.mark.parametrize(
    ("post", "words"),
    [
        (cup("P02"), "cup 3 was handed in by P01 too"),
        (cup("P02", "4", "1043"), "1043 g is unusual for a cup here"),
        (cup("P03", "4"), "this pair is marked absent"),
    ],
    ids=["used cup", "1043 g", "absent pair"],
)
def test_what_is_odd_about_a_cup_is_asked_before_it_is_saved(scorer, handed_in, post, words):
    handed_in.pairs.filter(code="P03").update(status="absent")

    page = scorer.post("/weigh-in/", post).content.decode()
    told = scorer.post("/weigh-in/", post, headers=JSON).json()

    assert words in page
    assert f'value="{post["gross_g"]}"' in page, "what was typed comes back"
    assert AnswerEntry.objects.count() == 1
    asked = told["asked"]["cup"]
    assert words in asked["words"]
    saved = scorer.post("/weigh-in/", post | {"doubt": asked["ids"]}, headers=JSON).json()
    assert saved["saved"] == ["cup"]
    assert AnswerEntry.objects.count() == 2
    # Sent again after a lost answer, without the answer to the doubt: it is saved already.
    assert scorer.post("/weigh-in/", post, headers=JSON).json()["saved"] == ["cup"]


def test_a_usual_cup_is_never_asked_about(scorer, empty_event):
    for n, gross in ((1, "98.2"), (2, "140.0"), (4, "61.5")):
        assert (
            "asked"
            not in scorer.post("/weigh-in/", cup(f"P0{n}", str(n), gross), headers=JSON).json()
        )


def test_both_doubts_of_a_cup_are_answered_at_once(scorer, handed_in):
    post = cup("P02", "3", "1043")
    asked = scorer.post("/weigh-in/", post, headers=JSON).json()["asked"]["cup"]

    assert len(asked["ids"]) == 2
    one = scorer.post("/weigh-in/", post | {"doubt": asked["ids"][:1]}, headers=JSON).json()
    assert one["asked"]["cup"]["ids"] == asked["ids"]
    assert scorer.post("/weigh-in/", post | {"doubt": asked["ids"]}, headers=JSON).json()["saved"]


def test_a_scorer_takes_the_own_cup_back_in_one_act(scorer, handed_in):
    key = str(AnswerEntry.objects.get().key)
    assert f'value="{key}"' in scorer.get("/weigh-in/").content.decode()

    assert scorer.post("/weigh-in/", {"undo": key}, follow=True).status_code == 200

    assert AnswerEntry.objects.get().struck_by == "scorer one"
    assert scorer.post("/weigh-in/", cup(number="4")).status_code == 302


def test_the_cup_of_another_scorer_is_not_taken_back(sign_in, handed_in):
    key = str(AnswerEntry.objects.get().key)
    birch = sign_in(Role.SCORER, "Birch")

    assert key not in birch.get("/weigh-in/").content.decode()
    assert birch.post("/weigh-in/", {"undo": key}).status_code == 409
    assert AnswerEntry.objects.get().struck_at is None


def test_who_weighed_what_is_in_the_way_is_offered_to_take_it_back(scorer, lead, handed_in):
    key = str(AnswerEntry.objects.get().key)
    other_cup, other_pair = cup(number="4"), cup("P02")

    for post in (other_cup, other_pair):
        own = scorer.post("/weigh-in/", post, headers=JSON).json()
        assert own["back"] == {"cup": [[key, "P01, cup 3"]]}
        assert lead.post("/weigh-in/", post | {"key": str(uuid.uuid4())}, headers=JSON).json()[
            "back"
        ] == {"cup": []}
    assert "Take back P01, cup 3" in scorer.post("/weigh-in/", other_cup).content.decode()


def add_a_scale(event) -> None:
    event.instruments.create(name="kitchen scale", unit="g", resolution=1.0, gain_u=0.001)


def test_the_scale_is_chosen_where_there_are_several(scorer, empty_event):
    assert 'name="scale"' not in scorer.get("/weigh-in/").content.decode()
    add_a_scale(empty_event)
    assert '<select name="scale" required' in scorer.get("/weigh-in/").content.decode()

    scorer.post("/weigh-in/", cup() | {"scale": "kitchen scale"})
    answer = scorer.post("/weigh-in/", cup("P02", "4") | {"scale": "no such scale"})

    assert answer.status_code == 422
    assert AnswerEntry.objects.get().scale == "kitchen scale"


def test_the_scale_counts_in_the_uncertainty_and_outlives_the_folder(scorer, empty_event, tmp_path):
    add_a_scale(empty_event)
    scorer.post("/weigh-in/", cup() | {"scale": "kitchen scale"})
    scorer.post("/weigh-in/", cup("P02", "4") | {"scale": "bench scale"})

    event = load_event(empty_event)
    coarse, fine = (accepted_answers(event)[pair, "M1"].u for pair in ("P01", "P02"))
    write_event(event, tmp_path / "day")

    # A display of 1 g alone has a standard uncertainty of 1 / sqrt(12) g (GUM, 4.3.7 and F.2.2.1).
    assert coarse > 1 / 12**0.5 > fine
    assert read_event(tmp_path / "day").answers == event.answers
    assert [a.scale for a in event.answers] == ["kitchen scale", "bench scale"]


def test_the_lead_undoes_a_hand_in_with_a_reason(lead, handed_in):
    item = handed_in.items.get(code="M1").pk
    post = {"item": item, "pair": "P01", "why": "wrong cup"}

    assert lead.post("/weigh-in/undo/", post | {"why": ""}).status_code == 422
    lead.post("/weigh-in/undo/", post)

    line = Change.objects.first()
    assert (line.what, line.why) == ("undid the hand-in of P01, M1", "wrong cup")
    assert "108.3 g in cup 3" in line.old
    assert lead.post("/weigh-in/", cup(number="4")).status_code == 302
    assert lead.post("/weigh-in/undo/", post | {"pair": "P09"}).status_code == 409


def test_a_scorer_cannot_undo(scorer, handed_in):
    item = handed_in.items.get(code="M1").pk

    assert (
        scorer.post("/weigh-in/undo/", {"item": item, "pair": "P01", "why": "x"}).status_code == 403
    )


def test_the_desk_says_who_is_here_without_a_cup_and_what_waits_for_a_second_reader(
    lead, scorer, handed_in
):
    here = handed_in.pairs.get(code="P02")
    lead.post(f"/heats/{here.pk}/here/", {"here": "yes"})

    page = lead.get("/weigh-in/").content.decode()
    assert "Still without a cup: <strong>P02</strong>" in page
    assert "as the second person: <strong>P01</strong>" in page
    assert "second person: <strong>" not in scorer.get("/weigh-in/").content.decode()


@pytest.mark.parametrize("typed", ["P07", "p07", "7", "07", "P07-9", " p07-9 ", "P079", "p7"])
def test_a_pair_is_known_by_its_number_and_by_the_code_on_its_sheet(scorer, empty_event, typed):
    scorer.post("/weigh-in/", cup(typed))

    assert AnswerEntry.objects.get().pair.code == "P07"


@pytest.mark.parametrize("typed", ["P07-8", "99", "P70", "\u0667", "7" * 300])
def test_a_code_that_means_no_pair_is_refused(scorer, empty_event, typed):
    assert scorer.post("/weigh-in/", cup(typed)).status_code == 422
    assert not AnswerEntry.objects.exists()


def test_a_scale_on_which_a_cup_was_weighed_stays(lead, empty_event):
    add_a_scale(empty_event)
    row = empty_event.instruments.get(name="kitchen scale")
    lead.post("/weigh-in/", cup() | {"scale": "kitchen scale"})

    answer = lead.post(f"/kit/thing/scale/{row.pk}/away/", {"why": "broken"})

    assert answer.status_code == 409
    assert empty_event.instruments.filter(pk=row.pk).exists()
