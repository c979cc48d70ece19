"""A pair and the event can be changed, with history; the page of a pair tells its whole story."""

import io
import re

import pypdf
import pytest
from django.utils import timezone

from nearmark.site.models import AnswerEntry, Change, PairRecord

SECRET = "Zephyrine"


@pytest.fixture
def pair(demo) -> PairRecord:
    return demo.pairs.get(code="P07")


def changed(pair: PairRecord, **more: str) -> dict[str, str]:
    first, second = (*pair.members, "", "")[:2]
    return {"school": pair.school, "first": first, "second": second, **more}


def test_a_child_s_name_is_changed_and_the_history_keeps_neither(lead, pair):
    old = pair.members[0]

    lead.post(f"/pairs/{pair.pk}/change/", changed(pair, first=SECRET, why="typing mistake"))

    pair.refresh_from_db()
    assert pair.members[0] == SECRET
    line = Change.objects.first()
    assert (line.what, line.who, line.why) == (
        "changed the children of pair P07",
        "Juniper",
        "typing mistake",
    )
    kept = " ".join(f"{c.what} {c.old} {c.new} {c.why}" for c in Change.objects.all())
    assert SECRET not in kept
    assert old not in kept
    assert (line.old, line.new) == ("2 children, names not kept",) * 2


def test_a_partner_comes_and_goes(lead, pair):
    lead.post(f"/pairs/{pair.pk}/change/", changed(pair, second=""))
    pair.refresh_from_db()
    assert len(pair.members) == 1
    line = Change.objects.first()
    assert (line.old, line.new) == ("2 children, names not kept", "1 child, names not kept")

    lead.post(f"/pairs/{pair.pk}/change/", changed(pair, second=SECRET))
    pair.refresh_from_db()
    assert pair.members[1] == SECRET


def test_a_school_is_changed_for_one_pair_or_for_all_of_it(lead, demo, pair):
    school = pair.school
    n = demo.pairs.filter(school=school).count()

    lead.post(f"/pairs/{pair.pk}/change/", changed(pair, school="Otterbrook Hill"))
    assert demo.pairs.filter(school=school).count() == n - 1
    line = Change.objects.first()
    assert (line.what, line.old, line.new) == (
        "changed the school of pair P07",
        school,
        "Otterbrook Hill",
    )

    other = demo.pairs.filter(school=school).first()
    lead.post(
        f"/pairs/{other.pk}/change/", changed(other, school="Otterbrook Hill", whole_school="on")
    )
    assert demo.pairs.filter(school="Otterbrook Hill").count() == n
    assert f"and {n - 2} other" in Change.objects.first().what


@pytest.mark.parametrize(
    ("given", "words"),
    [
        ({}, "are as before"),
        ({"first": "", "second": ""}, "required"),
        ({"first": "Ada", "second": "ada"}, "name of the first child too"),
        ({"school": ""}, "required"),
    ],
)
def test_a_change_that_makes_no_sense_keeps_everything(lead, pair, given, words, source_of):
    n = Change.objects.count()

    answer = lead.post(f"/pairs/{pair.pk}/change/", changed(pair, **given))

    assert answer.status_code == 422
    assert words in source_of(answer).lower()
    assert PairRecord.objects.get(pk=pair.pk).members == pair.members
    assert Change.objects.count() == n


def test_nothing_is_changed_while_the_results_are_out(lead, demo, pair):
    lead.post("/standings/release/", {"why": "all is settled"})

    answer = lead.post(f"/pairs/{pair.pk}/change/", changed(pair, first=SECRET))

    assert answer.status_code == 409
    assert "take" in answer.content.decode()
    assert lead.get("/event/change/").status_code == 409


def event_fields(demo, **more: str) -> dict[str, str]:
    return {"name": demo.name, "day": f"{demo.day}", "venue": demo.venue, "rules": "", **more}


def test_name_day_and_place_of_the_event_are_changed_with_history(lead, demo):
    old = demo.name

    lead.post(
        "/event/change/",
        event_fields(demo, name="Autumn day", day="2027-10-09", venue="Gym", why="moved"),
    )

    demo.refresh_from_db()
    assert (demo.name, f"{demo.day}", demo.venue) == ("Autumn day", "2027-10-09", "Gym")
    lines = {c.what: (c.old, c.new, c.why) for c in Change.objects.all()[:3]}
    assert lines["changed the name of the event"] == (old, "Autumn day", "moved")
    assert lines["changed the day of the event"][1] == "2027-10-09"


def test_the_rule_set_is_changed_before_the_first_answer(lead, empty_event):
    answer = lead.post("/event/change/", event_fields(empty_event, rules="beginners"))

    assert answer.status_code == 302
    empty_event.refresh_from_db()
    assert "beginners" in empty_event.rules_toml
    line = Change.objects.first()
    assert line.what == "changed the rule set of the event"
    assert line.old.startswith("percent accuracy, version")


def test_the_rule_set_stays_once_an_answer_is_read(lead, demo, source_of):
    before = demo.rules_toml

    answer = lead.post("/event/change/", event_fields(demo, rules="beginners", name="X Y"))

    assert answer.status_code == 409
    page = source_of(answer)
    assert "answers read under the present one" in page
    assert "begin another event" in page
    demo.refresh_from_db()
    assert (demo.rules_toml, demo.name == "X Y") == (before, False)


def test_the_same_rule_set_may_be_chosen_at_any_time(lead, demo):
    answer = lead.post("/event/change/", event_fields(demo, rules="percent accuracy", name="X Y"))

    assert answer.status_code == 302


def test_the_story_says_who_read_what_when_and_what_it_gave(lead, demo, pair, source_of):
    entry = AnswerEntry.objects.filter(pair=pair).first()

    page = source_of(lead.get(f"/pairs/{pair.pk}/"))

    for word in (entry.clerk, "first reading", "second reading", "empty cup", "Provisional"):
        assert word in page, word
    for item in demo.items.all():
        assert f"{item.code} {item.name}" in page


@pytest.mark.slow
def test_a_correction_and_its_releases_are_in_the_story(lead, pair, source_of):
    lead.post("/standings/release/", {"why": "all is settled"})
    given = {"pair": "P07", "item": "C1", "value": "111", "why": "the paper shows 111"}
    page = source_of(lead.post("/corrections/", given))
    hidden = dict(re.findall(r'name="(\w+)" value="([^"]*)"', page)) | given
    lead.post("/corrections/confirm/", hidden | {"release": "1", "number": "1"})

    page = source_of(lead.get(f"/pairs/{pair.pk}/"))

    assert "the paper shows 111" in page
    assert "Release 1, " in page
    assert "Release 2, " in page
    assert "<p>Release 2. " in page


def test_the_story_on_paper_says_the_same(lead, pair):
    answer = lead.get(f"/pairs/{pair.pk}/story.pdf")

    text = " ".join(p.extract_text() for p in pypdf.PdfReader(io.BytesIO(answer.content)).pages)
    for words in ("Pair P07", pair.school, "first reading", "second reading", "Lead"):
        assert words in text, words


def test_a_pair_without_answers_or_away_has_a_story_too(lead, empty_event, source_of):
    away = empty_event.pairs.exclude(status="entered").first()

    for row in (empty_event.pairs.first(), away):
        page = source_of(lead.get(f"/pairs/{row.pk}/"))
        assert "Nobody has read this answer" in page
        assert lead.get(f"/pairs/{row.pk}/story.pdf").status_code == 200


def test_the_history_is_looked_through_by_words_and_by_person(lead, pair, source_of):
    lead.post(f"/pairs/{pair.pk}/change/", changed(pair, school="Otterbrook Hill"))
    lead.post("/event/change/", {"name": "Autumn day", "day": "2027-10-09"})

    found = source_of(lead.get("/history/?words=P07 otterbrook&who=Juniper"))
    assert "changed the school of pair P07" in found
    assert "Autumn day" not in found.split("<table")[1]
    assert "1 line." in found
    assert "No line matches" in source_of(lead.get("/history/?words=nothing like it"))
    assert "No line matches" in source_of(lead.get("/history/?who=nobody"))


def test_older_lines_of_the_history_are_a_page_further(lead, demo, source_of):
    now = timezone.now()
    Change.objects.bulk_create(
        Change(event=demo, at=now, who="Wren", what=f"act {n}") for n in range(205)
    )

    first = source_of(lead.get("/history/?who=Wren"))
    older = re.search(r'href="\?(who=Wren[^"]*|words[^"]*before=\d+)"', first)

    assert ">act 204<" in first
    assert ">act 4<" not in first
    page = source_of(lead.get("/history/?" + older[1].replace("&amp;", "&")))
    assert ">act 4<" in page
    assert ">act 204<" not in page
