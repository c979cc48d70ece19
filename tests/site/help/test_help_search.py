"""The search in the help: words, beginnings, plural, accents, order, and what nobody should ask."""

import re

import pytest
from django.test import Client
from django.utils.safestring import SafeString
from hypothesis import given
from hypothesis import strategies as st

from nearmark.site.help import search as search_module
from nearmark.site.help.markdown import Section
from nearmark.site.help.pages import HelpPage, help_pages
from nearmark.site.help.search import MAX_FOUND, OTHER_WORDS, search


def addresses(query: str) -> list[str]:
    return [found.address for found in search(query)]


def marked(query: str) -> set[str]:
    excerpts = " ".join(found.excerpt for found in search(query))
    return {word.casefold() for word in re.findall("<mark>(.*?)</mark>", excerpts)}


@pytest.fixture
def of_these(monkeypatch):
    """A help of these sections only: heading -> text."""

    def show(sections: dict[str, str]) -> None:
        page = HelpPage(
            name="one",
            file="use/one.md",
            title="One",
            summary="",
            html=SafeString(),
            sections=tuple(Section(title, 2, title, text) for title, text in sections.items()),
            links=(),
        )
        monkeypatch.setattr(search_module, "help_pages", lambda: {"one": page})
        search_module._index.cache_clear()

    yield show
    search_module._index.cache_clear()


def titles(query: str) -> list[str]:
    return [found.title for found in search(query)]


def test_a_heading_comes_before_any_text(of_these):
    many = "A cup is a cup, and a cup of beans is a cup. " * 20
    of_these(
        {"First": many, "Second": "cup", "The cup": "Of paper or not, it is heavy.", "End": ""}
    )

    assert titles("cup")[0] == "The cup"
    assert sorted(titles("cup")[1:]) == ["First", "Second"]


def test_more_of_the_words_come_before_fewer(of_these):
    of_these({"A": "weigh it", "B": "the cup", "C": "weigh the cup", "D": "beans", "E": "peas"})

    assert titles("weigh cup")[0] == "C"
    assert sorted(titles("weigh cup")) == ["A", "B", "C"]


def test_the_word_itself_comes_before_a_longer_one(of_these):
    of_these({"A": "later than now", "B": "it is late now", "C": "peas", "D": "beans"})

    assert titles("late") == ["B", "A"]


@pytest.mark.parametrize(
    ("one", "other"),
    [("cup", "cups"), ("weighing", "weigh"), ("ties", "tie"), ("entry", "entries")],
)
def test_the_singular_finds_the_plural_and_the_plural_the_singular(of_these, one, other):
    of_these({"A": f"Here is {one}.", "B": f"There: {other}!", "C": "peas", "D": "beans"})

    for typed in (one, other):
        assert sorted(titles(typed)) == ["A", "B"]
        assert marked(typed) == {one, other}


@pytest.mark.parametrize(
    "typed", ["etagere", "ETAGERE", "\N{LATIN SMALL LETTER E WITH ACUTE}tagere"]
)
def test_capitals_and_accents_do_not_matter(of_these, typed):
    shelf = "\N{LATIN SMALL LETTER E WITH ACUTE}tag\N{LATIN SMALL LETTER E WITH GRAVE}re"
    of_these({"A": f"The {shelf}.", "B": "peas"})

    assert titles(typed) == ["A"]
    assert marked(typed) == {shelf}


def test_what_is_found_is_text_and_no_html(of_these):
    of_these({"A": "Type <b>cup</b> & go.", "B": "peas"})

    assert search("cup")[0].excerpt == "Type &lt;b&gt;<mark>cup</mark>&lt;/b&gt; &amp; go."


@pytest.mark.parametrize(("typed", "called"), OTHER_WORDS.items())
def test_a_word_that_the_help_does_not_use_finds_what_it_calls_the_thing(typed, called):
    assert set(addresses(typed)) & set(addresses(called))


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


@pytest.mark.slow
@given(st.text(max_size=60))
def test_any_text_may_be_asked(query):
    assert len(search(query)) <= MAX_FOUND


def test_the_search_is_still_there_after_hostile_questions():
    for query in HOSTILE:
        search(query)

    assert addresses("permissions")[0] == "/help/permissions/#permissions"
