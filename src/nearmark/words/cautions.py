"""What to be careful of with a material, as labels say it to children and families."""

import re
from collections.abc import Sequence
from typing import Final

from nearmark.kit.cautions import local_rules
from nearmark.kit.own_material import Care, care_of
from nearmark.words.numbers import capital
from nearmark.words.translation import message, say

_ALLERGEN: Final = message(
    "Contains or may contain {what}: tell families beforehand, keep it off shared surfaces and "
    "wash hands."
)
_ALLERGENS: Final = {
    "wheat": message("wheat"),
    "soybeans": message("soybeans"),
    "milk": message("milk"),
    "peanuts": message("peanuts"),
    "tree nuts": message("tree nuts"),
    "sesame": message("sesame"),
    "egg": message("egg"),
    "fish": message("fish"),
    "crustacean shellfish": message("crustacean shellfish"),
}
TRANSLATED: Final = frozenset(
    {
        message(
            "Raw: never taste. Raw beans hold lectins that make people ill, kidney beans most of "
            "all."
        ),
        message("Buy it as food: seed for sowing may be treated with poison."),
        message(
            "Glass breaks and cuts: prefer plastic, or keep it in a closed container that an "
            "adult carries."
        ),
        message("Dusty: pour slowly, and mind anyone with asthma."),
        message("Heavy in small volume: an adult carries full buckets."),
        message("Small parts: a choking hazard. Keep them away from children under three."),
        message(
            "Food that hands have scooped is never eaten afterwards: mark it and throw it away. "
            "Read the allergen line of your own package: makers differ."
        ),
        message("Follow your local rules."),
    }
)
"""The sentences of the catalogue of cautions; a test holds that each of them is here."""


def caution_words(caution: str) -> str:
    """A sentence of the catalogue; one that somebody wrote for an event stays as it is.

    >>> caution_words("Dusty: pour slowly, and mind anyone with asthma.")
    'Dusty: pour slowly, and mind anyone with asthma.'
    """
    if caution in TRANSLATED:
        return say(caution)
    allergens = re.fullmatch(re.escape(_ALLERGEN).replace(r"\{what\}", "(.+)"), caution)
    if allergens is None:
        return caution
    return say(_ALLERGEN, what=", ".join(map(allergen_words, allergens[1].split(", "))))


def allergen_words(name: str) -> str:
    """An allergen of the catalogue; one that it does not know stays as it is.

    >>> allergen_words("wheat")
    'wheat'
    """
    return say(_ALLERGENS[name]) if name in _ALLERGENS else name


def local_rules_words() -> str:
    """Behind all cautions: local rules decide."""
    return caution_words(local_rules())


def care_words(
    code: str, name: str, own: Sequence[str] = (), *, in_hands: bool = True
) -> tuple[str, ...]:
    """Every caution of a material of an event, each once, without the sentence on local rules.

    ``code``, ``name``: as the event has them. ``own``: the event's own cautions. ``in_hands``:
    whether children scoop it; nobody's hands come into a closed container. Returns: the event's
    own cautions, then what they are taken from if the catalogue does not have the material, then
    those. Raises RuleError if it must never be used.

    >>> care_words("bean", "Runner beans", ["sharp smell"])[:2]
    ('Sharp smell.', 'Not in the catalogue. As for mung beans and their kind; check it.')
    """
    care = care_of(code, name, in_hands=in_hands)
    mine = [f"{capital(caution).rstrip('.')}." for caution in own]
    usual = [caution_words(text) for text in care.texts]
    return tuple(dict.fromkeys([*mine, *_taken_from(care), *usual]))


def _taken_from(care: Care) -> tuple[str, ...]:
    if care.in_catalogue:
        return ()
    if care.kinds:
        return (as_for(care.kinds[0].plain_name),)
    return (by_its_name(),) if care.by_name else (not_known(),)


def as_for(kind: str) -> str:
    """True of a material whose name shares a word with one of the catalogue."""
    return say("Not in the catalogue. As for {kind} and their kind; check it.", kind=kind)


def by_its_name() -> str:
    """True of a material that the catalogue does not have, but a word of its name tells of."""
    return say("Not in the catalogue. These cautions go by its name; check them.")


def not_known() -> str:
    """True of a material of which neither the catalogue nor its name tells anything."""
    return say("No caution is known for this material: read its package.")


def near_codes(code: str, name: str) -> str:
    """What to do about a material that the catalogue does not have; empty if it has it.

    >>> near_codes("bean", "Large white beans").partition(":")[2]
    ' white-bean, mung-bean, navy-bean, black-bean, pinto-bean'
    """
    care = care_of(code, name)
    if care.in_catalogue:
        return ""
    if not care.kinds:
        return say("The catalogue has no {code}. Write its cautions beside it.", code=code)
    codes = ", ".join(kind.code for kind in care.kinds)
    return say(
        "The catalogue has no {code}. If it is one of these, use that code: {codes}",
        code=code,
        codes=codes,
    )
