"""Labels for the things to estimate: the code huge, what is inside, the cautions, and nothing else.

A label is made from the item and its material alone: no weighing, count, reading or key comes near.
"""

from dataclasses import dataclass

from nearmark.contest.event import Event, Item, Material
from nearmark.errors import InputError
from nearmark.printing.hall_cards import GridView, grid_view
from nearmark.printing.label_grids import CUT_MARKS, LabelGrid
from nearmark.printing.typesetting import typeset
from nearmark.printing.words import day_text, wrappable
from nearmark.station import Station
from nearmark.words.cautions import care_words, local_rules_words
from nearmark.words.labels import label_texts
from nearmark.words.numbers import capital
from nearmark.words.rules import question
from nearmark.words.station_rules import forbidden_words, scoop_here

COPIES = 2
"""One on the container, one on the table before it: a turned container keeps its code in sight."""

MIN_CAUTIONS_MM = 60.0
"""Height of a label that has room for cautions."""

MAX_SMALL = 560
"""Characters of small print that a label holds."""


@dataclass(frozen=True, slots=True)
class Label:
    """One label."""

    code: str
    name: str
    asked: str
    forbidden: str  # what children must not do
    cautions: str  # in small print


@dataclass(frozen=True, slots=True)
class LabelsView:
    """All labels, ready to be set."""

    event: str
    day: str
    words: dict[str, str]
    labels: tuple[Label, ...]
    grid: GridView
    is_small: bool  # no room for cautions on a label: a page of their own follows


def labels_pdf(event: Event, *, paper: str = "a4", grid: LabelGrid = CUT_MARKS) -> bytes:
    """Set the labels, two of each.

    ``paper``: ``a4`` or ``us-letter``. ``grid``: where labels are on their sheet. Returns: a PDF;
    labels too low for their cautions are followed by a page of cautions, for each station. Raises
    InputError if there are no items, or the grid is too fine. Raises RuleError if a material must
    never be used.
    """
    if not event.items:
        raise InputError("has nothing to label", where="items.csv", mend="Enter the items first")
    known = {m.code: m for m in event.materials}
    placed = grid_view(grid, paper)
    view = LabelsView(
        event=wrappable(event.name, 120),
        day=day_text(event.day),
        words=label_texts(),
        grid=placed,
        is_small=placed.high < MIN_CAUTIONS_MM,
        labels=tuple(
            label
            for item in event.items
            for label in [item_label(item, known.get(item.material))] * COPIES
        ),
    )
    return typeset("labels", view, day=event.day, paper=paper)


def item_label(item: Item, content: Material | None) -> Label:
    """The label of one item.

    ``content``: what is inside; ``None`` for a box.

    >>> item_label(Item("B1", Station.VOLUME, "tea box"), None).forbidden
    'Do not open or lift.'
    """
    return Label(
        code=wrappable(item.code, 24),
        name=wrappable(capital(content.name if content else item.name), 60),
        asked=scoop_here() if item.station is Station.MASS else question(item.station),
        forbidden=forbidden_words(item.station),
        cautions=f"{_small_print(item, content)} {local_rules_words()}".strip(),
    )


def _small_print(item: Item, content: Material | None) -> str:
    return wrappable(" ".join(_material_cautions(item, content)), MAX_SMALL)


def _material_cautions(item: Item, content: Material | None) -> tuple[str, ...]:
    """The event's own cautions, then the usual ones of this or of the nearest kind, each once."""
    if content is None:
        return ()
    scooped = item.station is Station.MASS
    return care_words(content.code, content.name, content.cautions, in_hands=scooped)
