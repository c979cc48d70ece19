"""The answer sheets: what is on them, that a scanner reads them, that they fit."""

import io
import re
from dataclasses import replace
from decimal import Decimal
from fractions import Fraction

import pypdf
import pypdfium2
import pytest
import zxingcpp

from nearmark.contest.event import Cup, Event, Item, Pair, PairStatus
from nearmark.contest.pair_code import read_pair_code, with_check
from nearmark.contest.rules import RuleSet
from nearmark.demo import larkspur_valley
from nearmark.errors import InputError
from nearmark.measurement.instruments import Instrument
from nearmark.printing import answer_sheets_pdf, spare_sheet_pdf
from nearmark.printing.answer_sheets import answer_field, answer_sheets_view
from nearmark.printing.heat_lists import heat_lists
from nearmark.station import Station

NAMES = ("Ada", "Bo", "Cleo", "Dov", "Esi")


def pages(pdf: bytes) -> list[str]:
    return [
        re.sub(r"\s+", " ", page.extract_text()) for page in pypdf.PdfReader(io.BytesIO(pdf)).pages
    ]


def scanned(pdf: bytes, dots_per_inch: int = 150) -> list[list[str]]:
    """What a decoder that is not ours reads off each page as a printer would draw it."""
    document = pypdfium2.PdfDocument(pdf)
    images = [page.render(scale=dots_per_inch / 72).to_numpy() for page in document]
    return [[code.text for code in zxingcpp.read_barcodes(image)] for image in images]


def with_items(event: Event, n: int) -> Event:
    """The event with ``n`` items, the first of them a cup."""
    jars = [Item(f"C{i}", Station.COUNT, "jar of beans") for i in range(2, n + 1)]
    return replace(event, items=(event.items[0], *jars), samples=(), containers=(), hand_counts=())


def test_a_sheet_says_whose_it_is_on_both_sides(small_event):
    front, back = pages(answer_sheets_pdf(small_event, ["P1"]))

    assert with_check("P1") in front
    assert with_check("P1") in back
    assert "Heat 1 · Fernhollow" in front
    assert "Scratch work" in back


def test_a_scanner_reads_every_pair_s_code_and_it_is_accepted(small_event):
    codes = [pair.code for pair in small_event.pairs]
    told = scanned(answer_sheets_pdf(small_event))

    assert told[1::2] == [[]] * len(codes)
    assert [read_pair_code(code, codes) for (code,) in told[::2]] == codes


def test_a_sheet_has_a_field_for_every_item_in_the_event_s_order(small_event):
    front = pages(answer_sheets_pdf(small_event, ["P1"]))[0]

    assert [front.index(item.name) for item in small_event.items] == sorted(
        front.index(item.name) for item in small_event.items
    )
    assert front.count("left blank") == len(small_event.items)
    for field in ("cup number", "gross mass", "first reading", "second reading", "scale desk"):
        assert field in front


def test_children_s_names_are_printed_only_when_asked(small_event):
    without = " ".join(pages(answer_sheets_pdf(small_event)))
    with_names = " ".join(pages(answer_sheets_pdf(small_event, names=True)))

    assert not any(re.search(rf"\b{name}\b", without) for name in NAMES)
    assert "Ada and Bo" in with_names


@pytest.mark.parametrize("paper", ["a4", "us-letter"])
@pytest.mark.parametrize("n_items", [1, 6, 8])
def test_up_to_eight_items_take_one_leaf(small_event, paper, n_items):
    day = with_items(small_event, n_items)

    assert len(pages(answer_sheets_pdf(day, ["P1"], paper=paper, names=True))) == 2


def test_more_items_go_on_with_the_code_and_the_next_pair_starts_a_new_leaf(small_event):
    told = pages(answer_sheets_pdf(with_items(small_event, 14), ["P1", "P2"]))

    first = [i for i, page in enumerate(told) if "One digit in each box" in page]
    assert first == [0, 4]  # answers, answers, scratch work, an empty back
    assert all(with_check("P1") in page for page in told[:3])


def test_boxes_come_from_the_rule_set_and_never_from_a_key():
    event = larkspur_valley()
    boxes = {item.code: answer_field(event, item).boxes for item in event.items}

    # Limits of the default rule set: 100 000 pieces, 20 000 cm3; 600 g and the heaviest cup.
    assert boxes == {"M1": 4, "C1": 6, "C2": 6, "C3": 6, "B1": 5, "B2": 5}


def test_an_enormous_limit_still_fits_the_page(small_event):
    stations = dict(small_event.rules.stations)
    stations[Station.COUNT] = replace(stations[Station.COUNT], highest=Fraction(10**30))
    event = replace(small_event, rules=replace(small_event.rules, stations=stations))

    assert answer_field(event, event.items[1]).boxes == 8


@pytest.mark.parametrize(("step", "decimals"), [(1.0, 0), (0.5, 1), (0.1, 1), (0.01, 2)])
def test_the_gross_mass_has_the_decimals_its_scale_shows(small_event, step, decimals):
    event = replace(small_event, instruments=(Instrument("bench scale", "g", step),))

    assert answer_field(event, event.items[0]).decimals == decimals


def test_without_a_list_of_cups_there_is_room_for_one(small_event):
    field = answer_field(replace(small_event, cups=()), small_event.items[0])

    assert (field.cup_boxes, field.boxes, field.decimals) == (3, 4, 1)


def test_a_long_cup_number_has_its_boxes(small_event):
    event = replace(small_event, cups=(Cup("A-107", Decimal("8.6"), "bench scale"),))

    assert answer_field(event, event.items[0]).cup_boxes == 5


def test_sheets_come_heat_by_heat(small_event):
    heats = {"P1": "heat 10", "P2": "heat 2", "P3": ""}
    day = replace(
        small_event, pairs=tuple(replace(p, heat=heats[p.code]) for p in small_event.pairs)
    )

    assert [sheet.heat for sheet in answer_sheets_view(day).sheets] == [
        *("Heat 2", "Heat 10", "No heat yet"),
    ]


def test_the_target_is_the_rule_set_s(small_event):
    event = replace(small_event, rules=RuleSet(target_mass_g=Fraction(250)))

    assert answer_field(event, event.items[0]).question.startswith("Scoop 250 g")


def test_what_a_blank_earns_is_the_rule_set_s(small_event):
    event = replace(small_event, rules=RuleSet(blank_score=Fraction(5)))

    assert "a blank earns none" in answer_sheets_view(small_event).words.careful
    assert "a blank earns 5" in answer_sheets_view(event).words.careful


def test_a_withdrawn_pair_has_no_sheet_and_a_late_one_has(small_event):
    states = {"P1": PairStatus.WITHDRAWN, "P2": PairStatus.ABSENT, "P3": PairStatus.GUEST}
    day = replace(
        small_event, pairs=tuple(replace(p, status=states[p.code]) for p in small_event.pairs)
    )

    assert len(answer_sheets_view(day).sheets) == 2
    with pytest.raises(InputError, match="P1"):
        answer_sheets_pdf(day, ["P1"])


def test_a_spare_sheet_has_no_pair_and_no_qr_code(small_event):
    pdf = spare_sheet_pdf(small_event)
    front, _ = pages(pdf)

    assert "spare sheet" in front
    assert scanned(pdf) == [[], []]


def test_a_code_that_cannot_be_checked_is_refused_before_printing(small_event):
    day = replace(small_event, pairs=(Pair("Käfer 1", "Quillbank", ("Ada",)),))

    with pytest.raises(InputError, match="letters A to Z and digits"):
        answer_sheets_pdf(day)


@pytest.mark.parametrize("without", ["pairs", "items"])
def test_an_empty_event_is_refused_by_the_file_to_fill(small_event, without):
    with pytest.raises(InputError, match=rf"{without}\.csv"):
        answer_sheets_pdf(replace(small_event, **{without: ()}))


def test_the_longest_code_and_school_fit_one_leaf(small_event):
    day = replace(small_event, pairs=(Pair("FERNHOLLOW-JUNIORS-07", "x" * 200, ("Ada" * 40,)),))

    assert len(pages(answer_sheets_pdf(day, names=True))) == 2


def test_spare_codes_are_in_use_by_nobody_and_easy_to_copy(small_event):
    day = replace(
        small_event, pairs=(*small_event.pairs, Pair("n1", "Quillbank", ("Ada",), heat="9"))
    )
    spares = [code for heat in heat_lists(day) for code in heat.spare_codes]

    assert len(set(spares)) == 2 * 3
    assert "N1" not in spares
    assert not {with_check(code)[-1] for code in spares} & set("0O1I*")
