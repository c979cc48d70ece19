"""The pages for children, families and helpers, in a language that is not English."""

import re
from dataclasses import replace

import pytest
from bracketed import untranslated, untranslated_text
from django.test import Client
from django.utils import timezone
from pypdf import PdfReader

from nearmark.contest.event import Division
from nearmark.contest.rules import RuleSet, SchoolRule, SchoolTotal
from nearmark.demo import larkspur_valley
from nearmark.site.door.access import ACCESS
from nearmark.site.event.load import save_event
from nearmark.site.models import AdjudicationEntry, AnswerEntry, EventRecord
from nearmark.site.server.translated_pages import TRANSLATED


def data_of(record: EventRecord | None) -> set[str]:
    """What was typed in: names of the event, of schools, of things."""
    if record is None:
        return set()
    typed = {record.name, record.venue, "percent accuracy"}
    for pair in record.pairs.all():
        typed |= {pair.school, pair.code, *pair.members}
    for item in record.items.all():
        typed |= {item.name, item.code}
    return typed


def release(demo: EventRecord) -> None:
    demo.released_at, demo.shows_feedback = timezone.now(), True
    demo.save()


PUBLIC_AFTER_RELEASE = (
    "/results/",
    "/results/?screen=big",
    "/results/pair/",
    "/results/pair/?code=P01",
    "/results/pair/?code=P01-X",
    "/results/pair/?code=nobody",
    "/results/release/7/",
)


@pytest.mark.parametrize(
    "address", ["/results/", "/results/?screen=big", "/results/pair/", "/clock/"]
)
def test_before_the_release_nothing_for_the_public_is_left_in_english(brackets, demo, address):
    page = brackets.get(address).content.decode()

    assert untranslated(page, data_of(demo)) == []


@pytest.mark.parametrize("address", PUBLIC_AFTER_RELEASE)
def test_after_the_release_nothing_for_the_public_is_left_in_english(brackets, demo, address):
    release(demo)

    page = brackets.get(address).content.decode()

    assert untranslated(page, data_of(demo)) == []


def test_earlier_standings_are_not_left_in_english(brackets, lead, demo):
    assert lead.post("/standings/release/", {"why": "all is settled"}).status_code == 302

    page = brackets.get("/results/release/1/").content.decode()

    assert untranslated(page, data_of(demo)) == []


def test_the_printed_page_of_a_pair_is_not_left_in_english(brackets, demo, tmp_path):
    release(demo)
    (tmp_path / "page.pdf").write_bytes(brackets.get("/results/pair/page.pdf?code=P01").content)

    text = "\n".join(page.extract_text() for page in PdfReader(tmp_path / "page.pdf").pages)

    assert untranslated_text(text, data_of(demo)) == []


def test_the_walk_would_see_english(demo):
    """Nobody chose a language: everything that the page says stands outside brackets."""
    release(demo)

    page = Client().get("/results/").content.decode()

    assert {"Places", "Sign", "Rule"} <= set(untranslated(page, data_of(demo)))


def test_a_browser_that_asks_for_spanish_gets_it_in_any_region(spanish, demo):
    release(demo)

    page = spanish.get("/results/").content.decode()

    assert '<html lang="es"' in page
    assert "8 de mayo de 2027" in page
    assert "568,71" in page
    assert "568.71" not in page


def test_the_switch_is_remembered_and_goes_back(demo):
    release(demo)
    visitor = Client()
    assert 'lang="es"' in visitor.get("/results/").content.decode()  # the switch itself

    chosen = visitor.get("/results/?language=es")
    later = visitor.get("/clock/")
    back = visitor.get("/results/?language=en")

    assert chosen.cookies["language"]["samesite"] == "Lax"
    assert [
        answer.content.decode().count('<html lang="es"') for answer in (chosen, later, back)
    ] == [
        1,
        1,
        0,
    ]


def test_the_switch_keeps_what_was_asked_for(demo):
    release(demo)

    page = Client().get("/results/pair/?code=P07").content.decode()

    assert re.search(r'href="\?code=P07&amp;language=es"', page)


def test_each_language_keeps_its_own_part_of_the_page(spanish, demo):
    """The table of places is written once a revision: not once for all languages."""
    release(demo)
    english = Client(headers={"accept-language": "en"})

    first, second = (who.get("/results/").content.decode() for who in (english, spanish))

    assert [">school<" in page for page in (first, second)] == [True, False]
    assert ">escuela<" in second


@pytest.mark.parametrize("code", ["xx", "../es", "es" * 50, ""])
def test_a_language_that_is_not_there_is_not_kept(demo, code):
    answer = Client().get("/results/", {"language": code}, headers={"cookie": f"language={code}"})

    assert '<html lang="en"' in answer.content.decode()
    assert "language" not in answer.cookies


def test_a_page_that_is_not_translated_stays_english_as_a_whole(lead, demo):
    page = lead.get("/pairs/", headers={"accept-language": "es"}).content.decode()

    assert '<html lang="en"' in page
    assert "Salir" not in page
    assert "Español" not in page


def test_the_clock_tells_its_script_in_spanish(spanish, demo):
    told = spanish.get("/clock/now.json").json()

    assert told["heat_text"] == "Sin empezar"
    assert told["next_heat"] == "turno 1"


def test_the_printed_page_of_a_pair_is_spanish(spanish, demo, tmp_path):
    release(demo)
    (tmp_path / "page.pdf").write_bytes(spanish.get("/results/pair/page.pdf?code=P01").content)

    found = PdfReader(tmp_path / "page.pdf")

    text = found.pages[0].extract_text()
    assert "Pareja P01" in text
    assert "465,77" in text
    assert found.root_object["/Lang"] == "es"


def test_every_address_of_the_table_is_known():
    assert {name for name in TRANSLATED if name not in ACCESS} == set()


@pytest.mark.parametrize("address", ["/join/", "/sign-in/", "/handout/"])
def test_the_doors_and_the_handout_are_not_left_in_english(brackets, demo, address):
    page = brackets.get(address).content.decode()

    assert untranslated(page, {"cm"}) == []


@pytest.mark.parametrize(
    ("address", "typed"),
    [
        ("/join/", {"code": "AAAABBBB", "name": "Rowan", "pin": "1234"}),
        ("/join/", {"code": "AAAABBBB", "name": "Rowan", "pin": "12"}),
        ("/sign-in/", {"name": "Rowan", "password": "no such person"}),
    ],
)
def test_what_a_door_refuses_is_not_left_in_english(brackets, demo, address, typed):
    answer = brackets.post(address, typed)

    assert answer.status_code == 422
    assert untranslated(answer.content.decode(), {"Rowan"}) == []


@pytest.mark.parametrize("query", ["", "?screen=big", "?schools=1", "?division=Grade 3"])
def test_places_by_division_and_school_are_not_left_in_english(brackets, lead, query):
    day = larkspur_valley()
    for table in (AdjudicationEntry, AnswerEntry, EventRecord):
        table.objects.all().delete()
    made = replace(
        day,
        rules=RuleSet(school_total=SchoolTotal(SchoolRule.BEST, 3)),
        divisions=(Division("Grade 3"), Division("Grade 4")),
        pairs=tuple(
            replace(p, division=("Grade 3", "Grade 4")[n % 2]) for n, p in enumerate(day.pairs)
        ),
    )
    record = save_event(made, by="Juniper", now=timezone.now())
    release(record)

    page = brackets.get(f"/results/{query}").content.decode()

    assert untranslated(page, data_of(record) | {"Grade 3", "Grade 4"}) == []
