"""Refusals that a child or a family may meet, so that they can be translated.

An error keeps its own words where it is raised; these are the same words once more, and a test
holds that each of them is still in the source.
"""

from typing import Final

from nearmark.words.translation import message, say

TRANSLATED: Final = frozenset(
    {
        message("That was not done"),
        message("code"),
        message("pair"),
        message("release"),
        message("is not known"),
        message("See the results"),
        message("the results are not out"),
        message("They appear when the lead releases them"),
        message("the pages of the pairs are not open"),
        message("Ask the lead of the event"),
        message("could be two pairs"),
        message("Type the whole code as it is on the sheet"),
        message("has a wrong check letter"),
        message("Read the whole code again from the sheet, with the sign behind the hyphen"),
        message("is no pair of this event"),
        message("Read the code again from the sheet; if it is right, tell the lead"),
    }
)


def refusal_words(text: str) -> str:
    """A part of a refusal; one that is not in the table stays as it is."""
    return say(text) if text in TRANSLATED else text
