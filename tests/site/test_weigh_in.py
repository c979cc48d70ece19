"""The desk with the scale: one hand-in, two readers, the net mass for the lead alone."""

import uuid

import pytest

from nearmark.site.models import AnswerEntry, Change


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


def test_the_net_mass_is_told_to_the_lead_alone(lead, scorer, empty_event):
    to_scorer = scorer.post("/weigh-in/", cup(), follow=True).content.decode()
    to_lead = lead.post("/weigh-in/", cup(), follow=True).content.decode()

    assert ", net " in to_lead
    assert ", net " not in to_scorer


def test_a_cup_of_two_pairs_is_asked_about_and_kept(scorer, handed_in):
    page = scorer.post("/weigh-in/", cup("P02"), follow=True).content.decode()

    assert "Cup 3 was handed in by P01 too: is its number right?" in page
    assert AnswerEntry.objects.count() == 2


def test_an_unusual_mass_is_asked_about_without_telling_it(scorer, empty_event):
    page = scorer.post("/weigh-in/", cup(gross="1083"), follow=True).content.decode()

    assert "That is unusual for a cup here" in page
    assert AnswerEntry.objects.count() == 1


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
    assert "Here and without a cup: <strong>P02</strong>" in page
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
