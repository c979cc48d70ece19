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
        # of the door
        message("too many wrong tries"),
        message("Wait ten minutes, or ask the lead for a new code"),
        message("needs 4 to 8 digits"),
        message("Choose one you will remember"),
        message("is not valid any more, or never was"),
        message("Ask the lead for a new one"),
        message("name or password is wrong"),
        message("Try again"),
        message("sign in"),
        message("PIN"),
        # of a seat
        message("is empty"),
        message("Write a number"),
        message("could mean two numbers"),
        message("Write thousands without a mark: 1234"),
        message("must not be below zero"),
        message("Check the sign"),
        message("has a sign"),
        message("is in scientific notation, which may have lost digits"),
        message("Give the column a plain number format and write every digit"),
        message("Write the digits only"),
        message("has a thousands separator"),
        message("Write the digits without it: 12345 or 12345.6"),
        message("holds more than the number"),
        message("is not a number"),
        message("Write digits, such as 12 or 12.4"),
        message("is too long for a number"),
        message("is larger than anything at a contest"),
        message("Check the digits"),
        message("Check the number"),
        message("opens no seat, or the drill is over"),
        message("Ask your coach for the code"),
        message("Wait ten minutes, or ask your coach"),
        message("the room is full"),
        message("Look on with somebody else"),
        message("no answer is taken any more, what was saved before counts"),
        message("Ask your coach"),
        message("is more than a million times off"),
        message("the clock has not started"),
        message("Wait for it"),
        message("is no table"),
        message("is not asked in this drill"),
        message("Load the page again"),
        message("estimate"),
        message("table"),
        message("thing"),
    }
)


def refusal_words(text: str) -> str:
    """A part of a refusal; one that is not in the table stays as it is."""
    return say(text) if text in TRANSLATED else text
