"""Labels for the take-home bags: what is inside, how many pieces that is, and every caution."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from nearmark.coaching.take_home import Bag
from nearmark.errors import InputError
from nearmark.kit.cautions import without_local
from nearmark.printing.labels import MAX_SMALL
from nearmark.printing.typesetting import typeset
from nearmark.printing.words import number_text, wrappable
from nearmark.words.cautions import caution_words, local_rules_words
from nearmark.words.season_papers import BagWords, about_volume, bag_words, pieces_within

MAX_LABELS = 400


@dataclass(frozen=True, slots=True)
class BagLabel:
    """One label, as text."""

    name: str
    mass: str
    pieces: str
    volume: str
    cautions: str


@dataclass(frozen=True, slots=True)
class BagLabelsView:
    """All labels, ready to be set."""

    words: BagWords
    labels: tuple[BagLabel, ...]


def bag_labels_pdf(bags: Sequence[Bag], *, day: date, copies: int = 1, paper: str = "a4") -> bytes:
    """Set the labels, eight a page, with cut marks.

    ``day``: date of the document. ``copies``: labels of each bag, >= 1. ``paper``: ``a4`` or
    ``us-letter``. Raises InputError if there is no bag, or there are too many labels for one
    document.
    """
    if not bags:
        raise InputError("none to label", where="bags", mend="Name at least one material")
    if not 1 <= copies * len(bags) <= MAX_LABELS:
        raise InputError(
            f"1 to {MAX_LABELS} labels fit one document",
            where="labels",
            value=copies * len(bags),
            mend="Print fewer copies",
        )
    view = BagLabelsView(bag_words(), tuple(bag_label(bag) for bag in bags for _ in range(copies)))
    return typeset("bag_labels", view, day=day, paper=paper)


def bag_label(bag: Bag) -> BagLabel:
    """The label of one bag.

    >>> from nearmark.coaching.take_home import take_home_bag
    >>> from nearmark.kit import material
    >>> label = bag_label(take_home_bag(material("chickpea"), piece_mass_g=0.41))
    >>> label.mass, label.pieces, label.cautions.count("local rules")
    ('100 g', 'about 244 pieces, within 3.1 %', 1)
    """
    told = dict.fromkeys(caution_words(without_local(caution)) for caution in bag.cautions)
    small_print = [part for part in [*told, local_rules_words()] if part]
    return BagLabel(
        name=wrappable(bag.material.name, 60),
        mass=f"{number_text(bag.mass_g, 0 if bag.mass_g == round(bag.mass_g) else 1)} g",
        pieces=pieces_within(pieces_text(bag), bag.relative_expanded_u),
        volume=about_volume(number_text(bag.volume_cm3, 0)),
        cautions=wrappable(" ".join(small_print), MAX_SMALL),
    )


def pieces_text(bag: Bag) -> str:
    """Pieces in a bag, to two figures of their uncertainty.

    >>> from nearmark.coaching.take_home import take_home_bag
    >>> from nearmark.kit import material
    >>> pieces_text(take_home_bag(material("rice")))
    '4800'
    """
    u = max(1.0, bag.pieces * bag.relative_expanded_u)
    return number_text(bag.pieces, min(0, 1 - math.floor(math.log10(u))))
