"""The standings as the lead and as everybody sees them: ties, doubts, blanks, what decides."""

import html
import re

import pytest
from django.utils import timezone

from nearmark.contest.podium import key_doubts
from nearmark.site.event.confidence_cache import CONFIDENCE
from nearmark.site.event.results_cache import current_results
from nearmark.site.models import AnswerEntry, ClosedPoint, ItemRecord, PairRecord
from nearmark.words.standings import margin_sentences, standing_words

TIE = re.compile(r"(First|Second|Third) place is shared by (P\d+) and (P\d+): equal in total")


def text(answer):
    """What is on a page, without its marks."""
    return html.unescape(re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", answer.content.decode())))


def close_key_doubts(demo):
    for point in key_doubts(current_results(demo)):
        ClosedPoint.objects.create(
            event=demo, point=point.id, by="lead", reason="counted again", at=timezone.now()
        )


@pytest.fixture
def tied(demo):
    """The second pair's answers copied to the third."""
    outcome = current_results(demo)
    second, third = (PairRecord.objects.get(code=line.pair.code) for line in outcome.pairs[1:3])
    for entry in AnswerEntry.objects.filter(pair=second):
        AnswerEntry.objects.filter(pair=third, item=entry.item, reading=entry.reading).update(
            status=entry.status, value=entry.value, cup=entry.cup
        )
    return {second.code, third.code}


def test_a_doubted_key_withholds_how_sure_and_links_to_what_is_in_doubt(lead, demo):
    page = lead.get("/standings/")
    c1 = ItemRecord.objects.get(event=demo, code="C1")

    said = text(page)
    assert "How sure the places are cannot be said: the key of C1 may be wrong." in said
    assert "C1: the answers speak against this key." in said
    assert f'href="/kit/{c1.pk}/"' in page.content.decode()
    assert ">stays<" not in page.content.decode()
    assert not re.search(r"\d+ of 100 draws|&gt; 99 %|> 99 %", said)


def test_a_closed_doubt_gives_the_headline_with_its_conditions(lead, demo):
    close_key_doubts(demo)
    outcome = current_results(demo)
    confidence = CONFIDENCE.ask(outcome, wait_s=60).confidence

    said = text(lead.get("/standings/"))

    words = standing_words(outcome, confidence)
    assert words.share
    assert words.headline in said
    assert "> 99 %" not in words.headline


@pytest.mark.slow
def test_a_tie_is_said_first_on_every_page(lead, client, demo, tied):
    close_key_doubts(demo)
    release = {"why": "all settled", "shows_names": "", "shows_feedback": ""}
    assert lead.post("/standings/release/", release).status_code == 302

    for path in ("/standings/", "/results/", "/results/?screen=big"):
        page = (lead if path == "/standings/" else client).get(path).content.decode()
        found = TIE.search(page)
        assert found, path
        assert {found[2], found[3]} == tied
        assert found.start() < page.index("<table")
        assert page.count(found[0]) == 1


def test_what_decides_the_last_place_on_the_podium_is_for_the_lead(lead, demo):
    outcome = current_results(demo)

    said = text(lead.get("/standings/"))

    (difference,) = margin_sentences(outcome, is_key_doubted=True)
    assert difference in said


def test_blank_and_unreadable_stand_as_such_with_their_points(lead, demo):
    said = lead.get("/standings/").content.decode()
    states = {
        (score.estimate is None, score.status.value)
        for line in current_results(demo).pairs
        for score in line.items
    }

    assert (True, "blank") in states
    assert ">blank, 0<" in said
    assert ">agreed<" not in said
