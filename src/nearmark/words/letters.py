"""Letters to schools and to families: what the day is, what to bring, what is kept and deleted."""

from enum import StrEnum
from typing import Final

from nearmark.words.numbers import plural
from nearmark.words.translation import message, say


class LetterPart(StrEnum):
    """One part of a letter, with a heading of its own."""

    WHAT = "what"
    WHEN = "when"
    BRING = "bring"
    ALLERGENS = "allergens"
    NEEDS = "needs"
    DATA = "data"
    PICTURES = "pictures"
    ASK = "ask"


_HEADINGS: Final = {
    LetterPart.WHAT: message("What the day is"),
    LetterPart.WHEN: message("When and where"),
    LetterPart.BRING: message("What to bring"),
    LetterPart.ALLERGENS: message("Allergens and small parts"),
    LetterPart.NEEDS: message("What a child needs"),
    LetterPart.DATA: message("What we keep, and until when"),
    LetterPart.PICTURES: message("Pictures and names"),
    LetterPart.ASK: message("Who answers questions"),
}
_WHAT: Final = (
    message("Children estimate in pairs: how much is 100 g, how many pieces are in a container."),
    message("They use their eyes, their hands and a simple calculator. Nobody has to be fast."),
    message("The nearer an estimate, the more points. Every estimate is worth something."),
)
_EARLY: Final = message("Come 20 minutes early.")
_SCHOOL: Final = {
    LetterPart.WHAT: _WHAT,
    LetterPart.WHEN: (
        message("Each pair starts in one heat; the list behind shows yours."),
        _EARLY,
        message("Who of your school stays in the hall the whole time: ____________________"),
    ),
    LetterPart.BRING: (
        message("Two pencils and a drink for each pair."),
        message("A calculator with + \N{MINUS SIGN} \N{MULTIPLICATION SIGN} ÷ only."),
        message("Leave phones, rulers and scales at school. Nothing is marked on hands."),
    ),
    LetterPart.NEEDS: (
        message(
            "Tell us by ____________ who needs a wheelchair place, large print, a quiet place, or "
            "another helper."
        ),
        message("Large print of every sheet a child reads is ready when you ask."),
    ),
    LetterPart.DATA: (
        message(
            "We keep: the school, a code for each pair, first names if you send them, answers."
        ),
        message("Papers show the code. We delete names on ____________, and sheets are destroyed."),
        message("Please ask the families first, as your own rules for children's data say."),
    ),
    LetterPart.PICTURES: (
        message(
            "We publish codes and places, never names, unless the family has agreed in writing."
        ),
        message("Pictures only as your school's rules allow: ____________________"),
    ),
    LetterPart.ASK: (
        message("Contact: ____________________, phone on the day: ____________________"),
    ),
}
_FAMILY: Final = {
    LetterPart.WHAT: _WHAT,
    LetterPart.WHEN: (message("Your school travels at ____________ and is back at ____________."),),
    LetterPart.BRING: (
        message("A pencil, a drink, something to eat for the break. No phone, no ruler."),
        message("Long sleeves that roll up; hands are washed before and after."),
    ),
    LetterPart.NEEDS: (
        message(
            "Tell the school by ____________ what your child needs: a wheelchair place, large "
            "print, glasses, a quiet place, medicine."
        ),
    ),
    LetterPart.DATA: (
        message(
            "The contest keeps the school, a code for the pair, the answers, and the first name "
            "only if you agree."
        ),
        message("Papers show the code. Names are deleted on ____________."),
        message("You may ask at any time what is kept of your child, and have it deleted."),
    ),
    LetterPart.PICTURES: (
        message("Places are published by code. Names and pictures only if you agree below."),
    ),
    LetterPart.ASK: (message("Contact at the school: ____________________"),),
}
_LETTERS: Final = {"school": _SCHOOL, "family": _FAMILY}


class LetterText(StrEnum):
    """One text around the parts of a letter."""

    SCHOOL = "school"
    FAMILY = "family"
    FOOT_SCHOOL = "foot_school"
    FOOT_FAMILY = "foot_family"
    DEAR_SCHOOL = "dear_school"
    DEAR_FAMILY = "dear_family"
    LOCAL = "local"
    SIGN_LEAD = "sign_lead"
    SIGN_SCHOOL = "sign_school"
    SLIP = "slip"
    SLIP_CHILD = "slip_child"
    SLIP_NAME = "slip_name"
    SLIP_PICTURE = "slip_picture"
    SLIP_ALLERGY = "slip_allergy"
    SLIP_SIGN = "slip_sign"
    YOUR_PAIRS = "your_pairs"


_TEXTS: Final = {
    LetterText.SCHOOL: message("Letter to the school"),
    LetterText.FAMILY: message("Letter to families"),
    LetterText.FOOT_SCHOOL: message("letter to schools"),
    LetterText.FOOT_FAMILY: message("letter to families"),
    LetterText.DEAR_SCHOOL: message("Dear colleagues,"),
    LetterText.DEAR_FAMILY: message("Dear family,"),
    LetterText.LOCAL: message(
        "Where your school's or your local rules say otherwise, they decide."
    ),
    LetterText.SIGN_LEAD: message("Lead of the day"),
    LetterText.SIGN_SCHOOL: message("For the school"),
    LetterText.SLIP: message("Please cut off and give back to the school"),
    LetterText.SLIP_CHILD: message("Child"),
    LetterText.SLIP_NAME: message("The first name may be on certificates and be read aloud."),
    LetterText.SLIP_PICTURE: message(
        "Pictures of my child may be taken, as the school's rules say."
    ),
    LetterText.SLIP_ALLERGY: message("Allergies, or what my child needs"),
    LetterText.SLIP_SIGN: message("Date, signature"),
    LetterText.YOUR_PAIRS: message("Your pairs"),
}


def letter_text(part: LetterText) -> str:
    """A title, a greeting or a line of a letter."""
    return say(_TEXTS[part])


def letter_texts() -> dict[str, str]:
    """All of them by name, as the templates ask for them.

    >>> letter_texts()["dear_family"]
    'Dear family,'
    """
    return {part.value: letter_text(part) for part in LetterText}


def letter_heading(part: LetterPart) -> str:
    """The heading of a part of a letter."""
    return say(_HEADINGS[part])


def letter_line(kind: str, part: LetterPart, number: int) -> str:
    """One line of a letter, from 0; the kind is ``school`` or ``family``."""
    return say(_LETTERS[kind][part][number])


def letter_lines(kind: str, part: LetterPart) -> tuple[str, ...]:
    """What a letter says under one heading; empty where the event says it.

    >>> letter_lines("family", LetterPart.ALLERGENS)
    ()
    """
    lines = _LETTERS[kind].get(part, ())
    return tuple(letter_line(kind, part, number) for number in range(len(lines)))


def come_early() -> str:
    """How long before its heat a pair comes, on every paper."""
    return say(_EARLY)


def day_and_place(event: str, day: str, venue: str) -> str:
    """True of an event; the place may not be known yet.

    >>> day_and_place("Larkspur Valley Estimation Day", "8 May 2027", "")
    'Larkspur Valley Estimation Day, 8 May 2027. Place: ____________________'
    """
    if not venue:
        return say("{event}, {day}. Place: ____________________", event=event, day=day)
    return say("{event}, {day}. Place: {venue}.", event=event, day=day, venue=venue)


def materials_in_the_room(names: str) -> str:
    """True of an event whose materials are known."""
    return say("In the room, dry and mostly in closed containers: {names}.", names=names)


def materials_unknown() -> str:
    """True of an event whose materials are not known yet."""
    return say("In the room, dry and mostly in closed containers: ____________________")


def allergens_held(what: str) -> str:
    """True of materials whose allergens the catalogue names."""
    return say("Contains or may contain: {what}.", what=what)


def raw_pulses() -> str:
    """True of raw beans, peas or lentils in the room."""
    return say("Some are raw beans or peas: they make people ill when eaten raw.")


def not_in_catalogue(names: str) -> str:
    """True of materials of one's own: what is said of them goes by their names."""
    return say("Not in our catalogue: {names}. Read their packages.", names=names)


def never_taste() -> str:
    """True of every contest: what is estimated is not for eating."""
    return say(
        "Nothing is tasted. Small pieces choke small children: keep brothers and sisters away from "
        "the tables. Tell us about every allergy before the day."
    )


def expected_at_school(n_pairs: int) -> str:
    """True of a school that has pairs on the list."""
    return say("We expect {pairs} from your school.", pairs=plural(n_pairs, "pair"))
