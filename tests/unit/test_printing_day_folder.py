"""The day in a folder: what each paper says, that nothing is cut off, and that no key is in it."""

import re
from dataclasses import replace
from datetime import time
from functools import cache

import pypdfium2
import pytest
import zxingcpp
from pypdfium2 import raw

from nearmark.contest import results
from nearmark.contest.event import Event, Pair, Room
from nearmark.contest.pair_code import with_check
from nearmark.demo import larkspur_valley
from nearmark.errors import InputError
from nearmark.printing.after_paper import sealed_papers
from nearmark.printing.binding import BoundPart, bound, page_sizes_pt
from nearmark.printing.day_folder import all_in_one, day_folder
from nearmark.printing.day_paper import paper_of
from nearmark.printing.hall_cards import place_cards
from nearmark.printing.label_grids import STATED, STATED_FOR, label_grid
from nearmark.printing.letters import allergen_lines
from nearmark.printing.run_sheet import run_sheet_view
from nearmark.printing.station_rules import station_rules_view
from nearmark.printing.typesetting import PAPERS
from nearmark.printing.wishes import Wishes, planned_times
from nearmark.station import Station
from nearmark.words.day_papers import PaperKind
from nearmark.words.day_roles import Role, role_title
from nearmark.words.letters import come_early

LONG = "Saint Aurelia of the Upper Meadow Primary and Nursery School"
LONG_NAME = "Maximiliana-Theodosia Featherstonehaugh"


def pages(pdf: bytes) -> list[str]:
    return [
        re.sub(r"\s+", " ", page.get_textpage().get_text_range())
        for page in pypdfium2.PdfDocument(pdf)
    ]


def text_of(pdf: bytes) -> str:
    return " ".join(pages(pdf))


@cache
def demo_event():
    return larkspur_valley()


@cache
def demo_folder():
    """The whole folder of the invented event."""
    files = day_folder(results(demo_event()), Wishes(start=time(9)))
    return [(file, file.build()) for file in files]


@pytest.mark.slow
def test_no_key_is_in_the_open_set():
    keys = {
        f"{key.key:f}"
        for key in results(demo_event()).keys.values()
        if key.item.station is not Station.MASS  # the target is on the wall
    }
    keys |= {f"{int(key):,}".replace(",", " ") for key in keys}
    assert len(keys) > 5
    for file, content in demo_folder():
        words = text_of(content).replace("\N{NO-BREAK SPACE}", " ")
        shown = {key for key in keys if re.search(rf"(?<!\d){key}(?!\d)", words)}
        assert bool(shown) is file.is_sealed, (file.name, shown)


@pytest.mark.slow
def test_all_in_one_holds_every_open_page_and_nothing_sealed():
    one = all_in_one(demo_event(), demo_folder())
    text = text_of(one)
    bookmarks = [entry.get_title() for entry in pypdfium2.PdfDocument(one).get_toc()]

    opened = [(file, content) for file, content in demo_folder() if not file.is_sealed]
    assert bookmarks == [file.title for file, _ in opened]
    assert "Score tables" not in text.replace("score tables", "")
    assert with_check("P07") in text


@pytest.mark.slow
def test_a_bound_document_begins_on_the_front_of_a_leaf(small_event):
    sheets = {sheet.name: sheet.made(small_event) for sheet in paper_of(small_event)}
    run, labels = sheets["run-sheet"], sheets["labels"]
    one = bound(
        [BoundPart("a", run), BoundPart("b", labels, is_cut=True), BoundPart("c", run)],
        title="Larkspur Valley",
        day=small_event.day,
    )
    told = pages(one)

    n_run, n_labels = len(pages(run)), len(pages(labels))
    starts = [n for n, text in enumerate(told) if "Run sheet" in text]
    assert all(n % 2 == 0 for n in (starts[0], starts[-1]))
    assert starts[-1] == n_run + n_run % 2 + 2 * n_labels
    assert all(
        page_sizes_pt(pdf) == read_sizes(pdf) for pdf in (run, labels, sheets["tally-forms"])
    )


def read_sizes(pdf: bytes) -> list[tuple[float, float]]:
    return [
        tuple(round(side, 4) for side in page.get_size()) for page in pypdfium2.PdfDocument(pdf)
    ]


def test_page_one_names_every_role_and_every_paper(small_event):
    first = paper_of(small_event)[0]
    for paper in PAPERS:
        told = pages(first.made(small_event, Wishes(paper=paper, large=True)))

        assert len(told) == 1
        assert told[0].count("If the screens die") >= 2
        assert all(role_title(role) in told[0] for role in Role)
        assert all(sheet.title in told[0] for sheet in paper_of(small_event))


def test_the_run_sheet_goes_down_by_the_clock(small_event):
    view = run_sheet_view(small_event, Wishes(start=time(9), minutes=30, interval=40))

    assert [line.when for line in view.lines[:3]] == ["07:00", "08:15", "08:30"]
    heats = [line for line in view.lines if line.is_heat]
    assert heats[0].when == "09:00 to 09:30"
    assert not any(line.when for line in run_sheet_view(small_event, Wishes()).lines)


def test_a_heat_with_a_name_of_its_own_has_no_planned_time(small_event):
    named = tuple(replace(pair, heat="morning") for pair in small_event.pairs)

    assert planned_times(replace(small_event, pairs=named), Wishes(start=time(9))) == {}


@pytest.mark.slow
@pytest.mark.parametrize("large", [False, True])
@pytest.mark.parametrize("paper", PAPERS)
def test_long_names_are_whole_on_every_paper_that_shows_them(small_event, paper, large):
    """Every piece of the name is in the text, and no letter lies beyond the paper's edge."""
    crowd = tuple(
        Pair(f"P{n:02}", LONG, (LONG_NAME, LONG_NAME), heat="heat 1") for n in range(1, 13)
    )
    event = replace(small_event, pairs=crowd, answers=(), adjudications=())
    wishes = Wishes(paper=paper, names=True, large=large)
    for sheet in paper_of(event):
        pdf = sheet.made(event, wishes)
        document = pypdfium2.PdfDocument(pdf)
        for page in document:
            wide, high = page.get_size()
            words = page.get_textpage()
            for n in range(words.count_rects()):
                left, bottom, right, top = words.get_rect(n)
                assert 0 < left < right < wide, sheet.name
                assert 0 < bottom < top < high, sheet.name
        if sheet.has_names:
            plain = re.sub(r"[\s\u200b\ufffe]+", "", text_of(pdf))
            assert LONG.replace(" ", "") in plain, sheet.name
            letters = re.sub(r"[\s-]", "", LONG_NAME)
            assert letters in plain.replace("-", ""), sheet.name


@pytest.mark.slow
@pytest.mark.parametrize("large", [False, True])
def test_codes_are_read_back_from_the_sheets(small_event, large):
    pdf = next(s for s in paper_of(small_event) if s.name == "answer-sheets").made(
        small_event, Wishes(large=large)
    )
    read = {
        found.text
        for page in pypdfium2.PdfDocument(pdf)
        for found in zxingcpp.read_barcodes(page.render(scale=3).to_pil())
    }

    assert read == {with_check(pair.code) for pair in small_event.pairs}


def test_large_print_is_large(small_event):
    """18 pt and more is what large print means (common practice, no source)."""
    sheet = next(s for s in paper_of(small_event) if s.name == "letter-families")
    page = pypdfium2.PdfDocument(sheet.made(small_event, Wishes(large=True)))[0]
    words = page.get_textpage()
    at = words.get_text_range().index("Children estimate")

    assert raw.FPDFText_GetFontSize(words.raw, at) == pytest.approx(18)


def test_the_zero_of_children_has_no_stroke_and_that_of_codes_has_one(small_event):
    fonts = {}
    for name in ("station-rules", "tally-forms"):
        pdf = next(s for s in paper_of(small_event) if s.name == name).made(small_event)
        fonts[name] = b"NearmarkPlainZero" in pdf
    assert fonts == {"station-rules": True, "tally-forms": False}


@pytest.mark.parametrize("paper", PAPERS)
def test_stated_grids_have_the_measures_that_the_docs_say(paper):
    """99.1 x 67.7, 99.1 x 38.1 and 101.6 x 50.8 mm (common practice, no source)."""
    wanted = {"4x2": (99.1, 67.7), "7x2": (99.1, 38.1), "5x2": (101.6, 50.8)}
    for name in STATED_FOR[paper]:
        assert STATED[name].label_mm(paper) == pytest.approx(wanted[name], abs=0.1)


def test_a_grid_that_is_none_or_too_fine_is_refused():
    for text in ("7", "0x2:1,1", "7x2", "7x2:a,b", "7x2:1"):
        if text == "7x2":
            assert label_grid(text) == STATED["7x2"]
            continue
        with pytest.raises(InputError, match="label grid"):
            label_grid(text)
    with pytest.raises(InputError, match="60 x 30"):
        label_grid("9x4:10,5").label_mm("a4")


def test_small_labels_are_followed_by_their_cautions(small_event):
    sheet = next(s for s in paper_of(small_event) if s.name == "labels")
    told = pages(sheet.made(small_event, Wishes(labels=label_grid("7x2"))))

    assert "Cautions: on the sheet at the station." in told[0]
    assert "hang this sheet at the station" in told[-1]


def test_a_material_that_nobody_knows_is_named(small_event):
    """Finding: cautions must not fall away in silence for a code of one's own."""
    strange = replace(small_event.materials[0], code="shell", name="Sea shells", cautions=())
    event = replace(small_event, materials=(strange,))
    item = replace(small_event.items[0], material="shell")
    labels = next(s for s in paper_of(event) if s.name == "labels")

    assert "Not in our catalogue: Sea shells. Read their packages." in allergen_lines(event)
    told = text_of(labels.made(replace(event, items=(item,))))
    assert "Not in the catalogue" in told


def test_letters_hold_each_school_once_and_no_name_unless_asked(small_event):
    sheet = next(s for s in paper_of(small_event) if s.name == "letter-schools")
    told = pages(sheet.made(small_event))
    schools = {pair.school for pair in small_event.pairs}

    assert sum("Dear colleagues" in page for page in told) == len(schools)
    assert "Ada" not in " ".join(told)
    assert "Ada" in text_of(sheet.made(small_event, Wishes(names=True)))


def test_without_a_wish_the_rule_set_says_how_long_a_heat_is_on_every_paper(small_event):
    event = replace(small_event, rules=replace(small_event.rules, heat_minutes=25, heat_places=5))

    assert "09:00 to 09:25" in planned_times(event, Wishes(start=time(9))).values()
    assert len(place_cards(event, Wishes())) == 5
    rules = station_rules_view(event)
    assert any("25 minutes" in line for line in rules.stations[0].together)
    asked = Wishes(start=time(9), minutes=40, places=3)
    assert "09:00 to 09:40" in planned_times(event, asked).values()
    rules = station_rules_view(event, asked)
    assert any("40 minutes" in line for line in rules.stations[0].together)
    assert len(place_cards(event, asked)) == 3


def test_every_room_has_cards_for_its_own_places(small_event):
    event = replace(small_event, rooms=(Room("Gym", 2), Room("Library", 1)))

    cards = place_cards(event, Wishes(places=12))

    assert [(card.room, card.number) for card in cards] == [
        ("Gym", "1"), ("Gym", "2"), ("Library", "1"),
    ]  # fmt: skip
    sheet = next(s for s in paper_of(event) if s.kind is PaperKind.PLACE_CARDS)
    assert "Library" in text_of(sheet.made(event))


def test_a_school_reads_its_heats_rooms_and_how_early_to_come(small_event):
    pairs = tuple(
        replace(p, heat="heat 2", room="Gym", school="Fernhollow") for p in small_event.pairs
    )
    event = replace(small_event, pairs=pairs)
    sheets = {sheet.kind: sheet for sheet in paper_of(event)}

    told = text_of(sheets[PaperKind.WHO_WHEN].made(event, Wishes(start=time(9), interval=35)))
    letter = text_of(sheets[PaperKind.SCHOOL_LETTER].made(event, Wishes(start=time(9))))

    assert "Heat 2, Gym" in told
    assert "The first of you start at 09:35." in told
    assert come_early() in told
    assert come_early() in letter


def test_score_tables_are_sealed_only_when_a_key_is_known():
    whole = larkspur_valley()
    event = Event(
        name=whole.name,
        day=whole.day,
        venue=whole.venue,
        rules=whole.rules,
        seed=whole.seed,
        instruments=whole.instruments,
        items=tuple(item for item in whole.items if item.station is Station.COUNT),
    )

    kinds = [sheet.kind for sheet in sealed_papers(results(whole))]
    assert kinds == [PaperKind.KEY_SHEET, PaperKind.SCORE_TABLES]
    assert [sheet.kind for sheet in sealed_papers(results(event))] == [PaperKind.KEY_SHEET]
