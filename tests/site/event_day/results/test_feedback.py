"""The page of a pair and the files to print: who sees them, and what never is in them."""

import pytest
from django.test import Client
from django.utils import timezone

from nearmark.contest.results import results
from nearmark.contest.scoring import points_text
from nearmark.site.door.access import Role
from nearmark.site.event.load import load_event
from nearmark.site.models import Change


def release(demo, *, feedback: bool) -> None:
    demo.released_at, demo.shows_feedback = timezone.now(), feedback
    demo.save()


def test_the_page_shows_the_points_the_core_computed_and_a_strip_for_each_item(lead, demo):
    line = next(p for p in results(load_event(demo)).pairs if p.items)
    pair = demo.pairs.get(code=line.pair.code)

    page = lead.get(f"/feedback/{pair.pk}/").content.decode()

    assert points_text(line.total, 2) in page
    assert page.count("<svg") == len(line.items)
    assert 'style="' not in page  # the content security policy would drop it


@pytest.mark.parametrize(
    "address", ["/standings/standings.pdf", "/standings/key-sheet.pdf", "/feedback/{pair}/page.pdf"]
)
def test_each_file_is_a_pdf(lead, demo, address):
    answer = lead.get(address.format(pair=demo.pairs.get(code="P01").pk))

    assert answer.headers["Content-Type"] == "application/pdf"
    assert answer.content.startswith(b"%PDF")


def test_a_pair_without_answers_has_no_page_and_says_so(lead, empty_event):
    absent = empty_event.pairs.filter(status="withdrawn").first() or empty_event.pairs.last()
    empty_event.pairs.filter(pk=absent.pk).update(status="withdrawn")

    assert lead.get(f"/feedback/{absent.pk}/").status_code == 422
    assert lead.get("/feedback/999999/").status_code == 422


@pytest.mark.parametrize("address", ["/results/pair/?code=P01", "/results/pair/page.pdf?code=P01"])
def test_the_public_page_of_a_pair_opens_only_by_the_word_of_the_lead(demo, address):
    assert Client().get(address).status_code == 409
    release(demo, feedback=False)
    assert Client().get(address).status_code == 409
    release(demo, feedback=True)
    assert Client().get(address).status_code == 200


def test_the_public_page_of_a_pair_names_no_child_even_with_names_in_the_standings(demo):
    release(demo, feedback=True)
    demo.shows_names = True
    demo.save()
    pair = demo.pairs.get(code="P01")

    page = Client().get("/results/pair/?code=p01").content.decode()

    assert "Pair P01" in page
    assert not [name for name in pair.members if name in page]


@pytest.mark.parametrize("typed", ["P02-J", "P02J", "p2j", "2", " p02 "])
def test_the_public_page_takes_the_code_as_it_is_on_the_sheet(demo, typed):
    release(demo, feedback=True)

    assert "Pair P02" in Client().get("/results/pair/", {"code": typed}).content.decode()


def test_a_wrong_check_letter_is_refused_beside_what_was_typed(demo):
    release(demo, feedback=True)

    answer = Client().get("/results/pair/?code=P02-K")

    assert answer.status_code == 422
    assert "wrong check letter" in answer.content.decode()
    assert 'value="P02-K"' in answer.content.decode()
    assert Client().get("/results/pair/page.pdf?code=P02-K").status_code == 422


def test_a_code_nobody_has_is_refused_in_words(demo):
    release(demo, feedback=True)

    answer = Client().get("/results/pair/?code=<script>")

    assert answer.status_code == 422
    assert "<script>" not in answer.content.decode()
    assert "code of your pair" in Client().get("/results/pair/").content.decode().lower()


def test_the_lead_opens_the_pages_with_the_release(lead, demo):
    lead.post("/standings/release/", {"why": "all looked at", "shows_feedback": "on"})

    demo.refresh_from_db()
    assert demo.shows_feedback
    assert Change.objects.first().what == "released the results"
    assert "The page of your pair" in Client().get("/results/").content.decode()


def test_a_coach_comes_to_the_pages_from_the_standings_after_the_release(sign_in, demo):
    coach = sign_in(Role.COACH)
    address = f"/feedback/{demo.pairs.get(code='P01').pk}/"

    assert coach.get(address).status_code == 403
    release(demo, feedback=False)
    assert address in coach.get("/standings/").content.decode()
    assert coach.get(address).status_code == 200


@pytest.mark.slow
def test_what_is_corrected_after_taking_the_results_back_is_what_comes_out_next(lead, demo):
    release(demo, feedback=False)
    before = Client().get("/results/").content
    lead.post("/standings/withhold/", {"why": "a wrong pair"})
    first = results(load_event(demo)).pairs[0].pair.code
    lead.post(
        f"/pairs/{demo.pairs.get(code=first).pk}/status/",
        {"status": "withdrawn", "why": "left early"},
    )
    lead.post("/standings/release/", {"why": "all looked at"})

    after = Client().get("/results/").content
    assert after != before
    assert f">{first}<" not in after.decode()
