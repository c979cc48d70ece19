"""The printed cards of practice jars and boxes: no count on a card, the count on the key."""

from datetime import date

import pypdfium2
import pytest

from nearmark.charts.jar_exhibit import jar_pictures
from nearmark.charts.ready_jars import ready_jars
from nearmark.errors import InputError
from nearmark.packing import jar_from_bytes
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
