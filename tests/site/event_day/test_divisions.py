"""Divisions on the site: made in the settings, given to pairs and items, kept off other sheets."""

import pytest

from nearmark.contest.results import results
from nearmark.event_folder.pairs_import import preview_pairs
from nearmark.printing.answer_sheets import answer_sheets_view, spare_sheet_pdf
from nearmark.printing.tally_form import tally_view
from nearmark.site.door.access import Role
from nearmark.site.event.load import load_event
from nearmark.site.models import AnswerEntry, Change, DivisionRecord, PairRecord

JSON = {"Accept": "application/json"}
NAMES = ("Grade 3", "Grade 4", "Grade 5")


def refused(answer):
    return answer.status_code == 422


@pytest.fixture
def divisions(demo):
    """Three divisions; every third pair is in each, and C2 is for the second and third alone."""
    for name in NAMES:
        DivisionRecord.objects.create(event=demo, name=name)
    rows = list(demo.pairs.all())
    for number, row in enumerate(rows):
        row.division = NAMES[number % 3]
    PairRecord.objects.bulk_update(rows, ["division"])
    item = demo.items.get(code="C2")
    item.divisions = list(NAMES[1:])
    item.save()
    return {row.name: row for row in demo.divisions.all()}


def test_an_event_without_divisions_says_nothing_of_them(lead, scorer, demo, source_of):
    pair = demo.pairs.first()
    item = demo.items.get(code="C2")
    for address in ("/pairs/", f"/pairs/{pair.pk}/", f"/kit/{item.pk}/", "/standings/"):
        assert "ivision" not in source_of(lead.get(address)), address
    assert "ivision" not in source_of(scorer.get("/entry/"))


def test_divisions_are_made_renamed_moved_and_removed(lead, demo):
    for name in NAMES:
        made = lead.post("/event/divisions/add/", {"name": name, "awarded_places": "3"})
        assert made.status_code == 302
    pair, item = demo.pairs.first(), demo.items.get(code="C2")
    lead.post(f"/pairs/{pair.pk}/division/", {"division": "Grade 4"})
    item.divisions = ["Grade 4"]
    item.save()
    four = demo.divisions.get(name="Grade 4")
    lead.post(f"/event/divisions/{four.pk}/", {"name": "Fourth grade", "awarded_places": "2"})

    pair.refresh_from_db()
    item.refresh_from_db()
    assert (pair.division, item.divisions) == ("Fourth grade", ["Fourth grade"])
    # One that is used stays; the order is that of the list.
    assert lead.post(f"/event/divisions/{four.pk}/remove/").status_code == 409
    lead.post(f"/event/divisions/{four.pk}/up/")
    assert [(d.name, d.awarded_places) for d in load_event(demo).divisions] == [
        ("Fourth grade", 2),
        ("Grade 3", 3),
        ("Grade 5", 3),
    ]
    five = demo.divisions.get(name="Grade 5")
    assert lead.post(f"/event/divisions/{five.pk}/remove/").status_code == 302
    assert "removed the division Grade 5" in Change.objects.values_list("what", flat=True)


@pytest.mark.parametrize("name", ["", "grade 3", "a|b", "x" * 41])
def test_a_name_that_cannot_be_is_refused_with_its_form(lead, divisions, name):
    answer = lead.post("/event/divisions/add/", {"name": name, "awarded_places": "3"})

    assert refused(answer)
    assert len(divisions) == DivisionRecord.objects.count()


def test_only_the_lead_changes_divisions(sign_in, divisions):
    for role in (Role.SCORER, Role.COACH, Role.PUBLIC):
        answer = sign_in(role).post(
            "/event/divisions/add/", {"name": "Grade 6", "awarded_places": "3"}
        )
        assert answer.status_code in {302, 403}
    assert DivisionRecord.objects.count() == len(divisions)


def test_a_new_pair_is_added_with_its_division(lead, demo, divisions):
    given = {"school": "Fernhollow", "first": "Ada", "second": "Bo", "code": "X1"}
    lead.post("/pairs/add/", {**given, "division": "Grade 5"})

    assert demo.pairs.get(code="X1").division == "Grade 5"


def test_an_item_is_given_to_some_divisions_on_its_page(lead, demo, divisions, source_of):
    item = demo.items.get(code="C3")
    page = source_of(lead.get(f"/kit/{item.pk}/"))
    assert "Only these divisions estimate it" in page
    answer = lead.post(
        f"/kit/thing/item/{item.pk}/",
        {
            "name": item.name,
            "material": item.material,
            "divisions": ["Grade 3"],
            "why": "the small jar is for grade 3",
        },
    )

    item.refresh_from_db()
    assert answer.status_code == 302, source_of(answer)
    assert item.divisions == ["Grade 3"]


def test_a_sheet_asks_for_the_items_of_its_pair(scorer, demo, divisions, cell_post, source_of):
    AnswerEntry.objects.all().delete()
    three, four = (demo.pairs.filter(division=name).first() for name in NAMES[:2])
    line = f'data-item="{demo.items.get(code="C2").pk}"'

    assert f"{line} hidden" in source_of(scorer.get("/entry/", {"pair": three.code}))
    assert f"{line}>" in source_of(scorer.get("/entry/", {"pair": four.code}))
    # Nothing is kept for the other division, whatever a device sends.
    sent = scorer.post("/entry/save/", cell_post(three.code, "C2", "2870"), headers=JSON)
    assert refused(sent)
    assert not AnswerEntry.objects.exists()
    assert scorer.post("/entry/save/", cell_post(four.code, "C2", "2870"), headers=JSON).json()[
        "saved"
    ]


def test_no_answer_is_missing_where_a_division_has_none(demo, divisions):
    AnswerEntry.objects.filter(pair__division="Grade 3", item__code="C2").delete()
    outcome = results(load_event(demo))
    theirs = {pair.code for pair in outcome.event.pairs if pair.division == "Grade 3"}

    assert not [p for p in outcome.points if p.item == "C2" and p.pair in theirs]


def test_papers_ask_a_pair_for_its_own_items(demo, divisions):
    event = load_event(demo)
    sheets = answer_sheets_view(event)
    by_division = {sheet.division: sheet.items for sheet in sheets.sheets}

    assert "C2" not in by_division["Grade 3"]
    assert "C2" in by_division["Grade 4"]
    forms = tally_view(event)
    assert set(forms.not_asked.values()) == {("C2",)}
    assert len(forms.not_asked) == sum(
        pair.division == "Grade 3" and pair.status != "absent" for pair in demo.pairs.all()
    )
    assert spare_sheet_pdf(event).startswith(b"%PDF")


LIST = "school,first child,second child,{heading}\nFernhollow,Ada,Bo,{cell}\n"


@pytest.mark.parametrize(
    ("heading", "cell"), [("Division", "grade 4"), ("Grade", "4"), ("grade", "Grade 4")]
)
def test_a_list_may_name_the_division(heading, cell):
    preview = preview_pairs(LIST.format(heading=heading, cell=cell), divisions=NAMES)

    assert [pair.division for pair in preview.pairs] == ["Grade 4"]


def test_a_list_with_an_unknown_division_says_which_there_are():
    (problem,) = preview_pairs(LIST.format(heading="Grade", cell="6"), divisions=NAMES).problems

    assert "Grade 3, Grade 4, Grade 5" in problem.mend


def test_a_list_with_divisions_for_an_event_without_is_refused_by_its_heading():
    (problem,) = preview_pairs(LIST.format(heading="Grade", cell="4")).problems

    assert (problem.row, problem.column) == (1, "Grade")
    assert "Add the divisions" in problem.mend


def test_an_imported_list_keeps_its_divisions(lead, demo, divisions, source_of):
    page = source_of(lead.post("/pairs/import/", {"text": LIST.format(heading="Grade", cell="5")}))
    assert '<td data-label="division">Grade 5</td>' in page
    good = "code,school,first child,second child,division\nX1,Fernhollow,Ada,Bo,Grade 5\n"
    lead.post("/pairs/import/all/", {"good": good})

    assert demo.pairs.get(code="X1").division == "Grade 5"
