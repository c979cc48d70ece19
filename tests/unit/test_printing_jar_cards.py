"""The printed cards of practice jars and boxes: no count on a card, the count on the key."""

from datetime import date
from decimal import Decimal

import pypdfium2
import pytest

from nearmark.charts.jar_exhibit import jar_pictures
from nearmark.charts.ready_jars import ready_jars
from nearmark.errors import InputError
from nearmark.packing import jar_from_bytes
from nearmark.printing.box_page import MAX_CM, box_key_pdf, box_page_pdf, drawn_boxes
from nearmark.printing.jar_cards import JarCard, jar_cards_key_pdf, jar_cards_pdf

DAY = date(2027, 2, 3)


def text_of(pdf: bytes) -> str:
    document = pypdfium2.PdfDocument(pdf)
    return "\n".join(page.get_textpage().get_text_range() for page in document)


@pytest.fixture(scope="module")
def card() -> JarCard:
    ready = ready_jars()[1]
    jar = jar_from_bytes(ready.jar)
    told = ready.told
    pictures = jar_pictures(jar)
    return JarCard("J02", told["what"], told["count"], told["layer"], told["layers"], pictures)


@pytest.mark.slow
def test_a_card_is_one_page_with_its_code_and_without_its_count(card):
    pdf = jar_cards_pdf([card, card], day=DAY)

    assert len(pypdfium2.PdfDocument(pdf)) == 2
    assert "J02" in text_of(pdf)
    assert str(card.count) not in text_of(pdf)
    assert str(card.layer) not in text_of(pdf)


@pytest.mark.slow
def test_the_pictures_are_on_the_page(card):
    page = pypdfium2.PdfDocument(jar_cards_pdf([card], day=DAY))[0]

    grey = page.render(scale=0.5).to_pil().convert("L")

    # Half the middle of the page is jar and cup: far from white.
    middle = grey.crop((grey.width // 8, grey.height // 6, grey.width // 2, grey.height * 2 // 3))
    dark = sum(middle.histogram()[:200])
    assert dark > 0.2 * middle.width * middle.height


def test_the_key_page_has_the_counts_and_the_method(card):
    text = text_of(jar_cards_key_pdf([card], day=DAY))

    assert str(card.count) in text
    # 37 pieces seen from above times 10.54 layers, worked by hand: 390.0; against 303: +29 %.
    assert "+29 %" in text


def test_no_cards_are_refused():
    with pytest.raises(InputError, match="none"):
        jar_cards_pdf([], day=DAY)


def test_boxes_are_the_same_for_a_seed_and_the_key_is_their_product():
    boxes = drawn_boxes(7)

    assert boxes == drawn_boxes(7) != drawn_boxes(8)
    first = boxes[0]
    assert first.volume_cm3 == first.length_cm * first.width_cm * first.height_cm
    sides = [s for b in boxes for s in (b.length_cm, b.width_cm, b.height_cm)]
    assert all(3 <= s <= Decimal(MAX_CM) for s in sides)


def test_the_page_of_boxes_shows_sides_only_and_the_key_the_volumes():
    boxes = drawn_boxes(7)
    page, key = text_of(box_page_pdf(boxes, day=DAY)), text_of(box_key_pdf(boxes, day=DAY))

    for box in boxes:
        whole = f"{round(box.volume_cm3)}"
        assert str(box.length_cm) in page
        assert whole not in page.replace("\N{NO-BREAK SPACE}", "")
        assert whole in key.replace("\N{NO-BREAK SPACE}", "")


@pytest.mark.parametrize("paper", ["a4", "us-letter"])
def test_six_boxes_fit_one_page(paper):
    for seed in range(6):
        pdf = box_page_pdf(drawn_boxes(seed), day=DAY, paper=paper)
        assert len(pypdfium2.PdfDocument(pdf)) == 1


@pytest.mark.parametrize("n", [0, 61])
def test_an_absurd_number_of_boxes_is_refused(n):
    with pytest.raises(InputError, match="1 to 60"):
        drawn_boxes(1, n)
