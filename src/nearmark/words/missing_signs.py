"""Which names do not print, and what to do."""

from enum import StrEnum
from typing import Final

from nearmark.words.translation import message, say


class NameOf(StrEnum):
    """What a name is of."""

    EVENT = "event"
    VENUE = "venue"
    SCHOOL = "school"
    CHILD = "child"
    ITEM = "item"
    MATERIAL = "material"
    DIVISION = "division"


_OF: Final = {
    NameOf.EVENT: message("name of the event"),
    NameOf.VENUE: message("place of the event"),
    NameOf.SCHOOL: message("school"),
    NameOf.CHILD: message("child"),
    NameOf.ITEM: message("item"),
    NameOf.MATERIAL: message("material"),
    NameOf.DIVISION: message("division"),
}


def name_of(what: NameOf) -> str:
    """What a name is of, in a word or two."""
    return say(_OF[what])


def signs_missing() -> str:
    """What is on a page in place of a word that no font has the signs for."""
    return say("[signs missing]")


def does_not_print(what: str, name: str, signs: str) -> str:
    """True of a name of which no font has some signs.

    >>> does_not_print("school", "Ōta 東", "東")
    'school "Ōta 東": no font here has 東'
    """
    return say('{what} "{name}": no font here has {signs}', what=what, name=name, signs=signs)


def what_to_do() -> str:
    """What to do about names that do not print."""
    return say(
        'On paper these words are "[signs missing]"; the code of the pair is beside them. Give a '
        "folder with a font that has the signs (--fonts FOLDER), or write the name in Latin "
        "letters too."
    )


def what_to_do_on_the_site(folder: str) -> str:
    """The same on the site, where fonts lie in the folder of its data."""
    return say(
        'On paper these words are "[signs missing]"; the code of the pair is beside them. Put a '
        "font that has the signs into the folder {folder} of this computer and start again, or "
        "write the name in Latin letters too.",
        folder=folder,
    )
