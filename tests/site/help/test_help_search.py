"""The search in the help: words, beginnings, plural, accents, order, and what nobody should ask."""

import re

import pytest
from django.test import Client
from hypothesis import given
from hypothesis import strategies as st

from nearmark.site.help.pages import help_pages
from nearmark.site.help.search import MAX_FOUND, OTHER_WORDS, search


def addresses(query: str) -> list[str]:
    return [found.address for found in search(query)]


def marked(query: str) -> set[str]:
    excerpts = " ".join(found.excerpt for found in search(query))
    return {word.casefold() for word in re.findall("<mark>(.*?)</mark>", excerpts)}


def test_a_heading_comes_before_any_text():
    found = search("permissions")

    assert found[0].address == "/help/permissions/#permissions"
    places = [i for i, part in enumerate(found) if "ermission" in part.title + part.page_title]
    assert places == list(range(len(places)))


def test_the_word_found_is_marked_in_the_excerpt():
    assert "weigh" in marked("weigh")


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("CUPS", "cups"),
        ("c\N{LATIN SMALL LETTER U WITH ACUTE}ps", "cups"),
    ],
)
def test_forms_of_a_word_find_the_same(one, other):
    assert addresses(one)
    assert addresses(one) == addresses(other)


@pytest.mark.parametrize(
    ("one", "other"),
    [("cup", "cups"), ("weighing", "weigh"), ("ties", "tie"), ("entry", "entries")],
)
def test_the_singular_finds_the_plural_and_the_plural_the_singular(one, other):
    assert other in marked(one)
    assert one in marked(other)


@pytest.mark.parametrize(("typed", "called"), OTHER_WORDS.items())
def test_a_word_that_the_help_does_not_use_finds_what_it_calls_the_thing(typed, called):
    assert called.casefold() in marked(typed)


def test_the_word_itself_comes_before_a_longer_one():
    assert marked("late") > {"late"}  # later, too
    first = search("late")[0]
    assert re.search(r"(?i)\blate\b", first.title + first.excerpt)


def test_the_beginning_of_a_word_finds_it():
    assert set(addresses("certif")) & set(addresses("certificates"))


def test_a_short_word_is_no_beginning():
    assert "item" not in marked("it")


def test_small_words_of_a_question_change_nothing():
    assert addresses("how do I release the results?") == addresses("release results")


def test_every_page_is_found_by_its_own_title():
    lost = [
        page.title
        for page in help_pages().values()
        if not any(found.address.startswith(page.address) for found in search(page.title))
    ]

    assert lost == []


def test_nothing_found_says_so_and_what_to_try(db):
    text = Client().get("/help/search/", {"q": "xylophone"}).content.decode()

    assert "Nothing in the help" in text
    assert "Try one word" in text
    assert "xylophone" in text  # to be changed, not typed again


def test_an_empty_question_asks_for_words(db):
    text = Client().get("/help/search/", {"q": " ?! "}).content.decode()

    assert "Type one word" in text
    assert "Nothing in the help" not in text


HOSTILE = [
    '"',
    "'; DROP TABLE section; --",
    '" OR 1=1 --',
    "NEAR(a b)",
    "title : x",
    "^a* AND (b",
    "{a b}: c",
    "-x +y",
    "NOT",
    "AND OR NOT",
    "*",
    "_",
    "\0",
    "%_%",
    "<script>alert(1)</script>",
    "cup\x02\x03cup",
    "\N{SUPERSCRIPT TWO}\N{ARABIC LETTER HEH GOAL}\N{COMBINING ACUTE ACCENT}",
    "\N{RIGHT-TO-LEFT OVERRIDE}cup",
    "a " * 5000,
    "x" * 20_000,
]


@pytest.mark.parametrize("query", HOSTILE, ids=range(len(HOSTILE)))
def test_hostile_questions_are_harmless(db, query):
    answer = Client().get("/help/search/", {"q": query})

    assert answer.status_code == 200
    assert "<script>alert" not in answer.content.decode()


@given(st.text(max_size=60))
def test_any_text_may_be_asked(query):
    assert len(search(query)) <= MAX_FOUND


def test_the_search_is_still_there_after_hostile_questions():
    for query in HOSTILE:
        search(query)

    assert addresses("permissions")[0] == "/help/permissions/#permissions"
