"""What is printed on labels and around them."""

from enum import StrEnum
from typing import Final

from nearmark.words.translation import message, say


class LabelText(StrEnum):
    """One text of the labels."""

    TITLE = "title"
    FOOT = "foot"
    SEE = "see"
    CAUTIONS = "cautions"
    HANG = "hang"


_TEXTS: Final = {
    LabelText.TITLE: message("Labels"),
    LabelText.FOOT: message("labels, two of each: on the thing and before it"),
    LabelText.SEE: message("Cautions: on the sheet at the station."),
    LabelText.CAUTIONS: message("Cautions"),
    LabelText.HANG: message("The labels have no room for these: hang this sheet at the station."),
}


def label_text(part: LabelText) -> str:
    """A text of the labels."""
    return say(_TEXTS[part])


def label_texts() -> dict[str, str]:
    """All of them by name, as the template asks for them.

    >>> label_texts()["cautions"]
    'Cautions'
    """
    return {part.value: label_text(part) for part in LabelText}
