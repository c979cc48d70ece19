"""What to be careful of with a material, as labels say it to children and families."""

import re
from typing import Final

from nearmark.kit.cautions import local_rules
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
