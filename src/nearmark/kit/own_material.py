"""What to be careful of with a material of an event, also with one the catalogue does not have."""

import re
import unicodedata
from collections.abc import Collection
from dataclasses import dataclass, replace
from typing import Any, Final

from nearmark.kit.catalogue_files import read_catalogue
from nearmark.kit.cautions import caution_keys, caution_texts
from nearmark.kit.materials import CatalogueMaterial, materials
from nearmark.kit.never import refuse_forbidden_material

MAX_KINDS: Final = 5


@dataclass(frozen=True, slots=True)
class Care:
    """The cautions of a material, and what they were taken from."""

    texts: tuple[str, ...]  # in English, without the sentence on local rules
    allergens: tuple[str, ...]
    raw_pulse: bool
    in_catalogue: bool
    # Materials of the catalogue whose name shares a word, most words first; none for one of its
    # own.
    kinds: tuple[CatalogueMaterial, ...] = ()
    by_name: bool = False  # whether a word of the name gave a caution


def care_of(code: str, name: str, *, in_hands: bool = True) -> Care:
    """What to be careful of, on the safe side for a material that the catalogue does not have.

    Every word of its name that tells of an allergen, of raw pulses, of glass or of weight counts,
    and so do the cautions of every kind that shares a word.  Small parts and food are always said.

    >>> care_of("bean", "Large white beans").kinds[0].code
    'white-bean'
    >>> care_of("thing", "Acorn caps").kinds
    ()

    Parameters
    ----------
    code : the event's own code, or one of the catalogue
    name : what people call it
    in_hands : whether children scoop it; nobody's hands come into a closed container

    Raises
    ------
    RuleError : if it must never be used, such as lead shot
    """
    refuse_forbidden_material(code, name)
    known = next((each for each in materials() if each.code == code), None)
    if known is not None:
        return _care(known.allergens, caution_keys(known), in_hands=in_hands, in_catalogue=True)
    words = _words(f"{code} {name}")
    kinds = _kinds(words)
    entries = [entry for entry in read_catalogue("cautions")["near"] if _tells(entry, words)]
    allergens = [a for entry in entries for a in entry.get("allergens", ())]
    allergens += [a for kind in kinds for a in kind.allergens]
    keys = {key for entry in entries for key in entry.get("tags", ())}
    keys |= {key for kind in kinds for key in caution_keys(kind)} | {"small part", "hand food"}
    care = _care(tuple(dict.fromkeys(allergens)), keys, in_hands=in_hands, in_catalogue=False)
    return replace(care, kinds=kinds[:MAX_KINDS], by_name=bool(entries))


def _care(
    allergens: tuple[str, ...], keys: Collection[str], *, in_hands: bool, in_catalogue: bool
) -> Care:
    said = [key for key in keys if in_hands or key != "hand food"]
    return Care(caution_texts(allergens, said), allergens, "raw pulse" in keys, in_catalogue)


def _kinds(words: frozenset[str]) -> tuple[CatalogueMaterial, ...]:
    """Materials that share a word that tells the kind, those that share most words first."""
    near = []
    for place, each in enumerate(materials()):
        shared = words & _words(f"{each.code} {each.name}")
        if shared.difference(read_catalogue("cautions")["no_kind"]):
            near.append((-len(shared), place, each))
    return tuple(each for _, _, each in sorted(near, key=lambda row: row[:2]))


def _tells(entry: dict[str, Any], words: frozenset[str]) -> bool:
    return not words.isdisjoint(entry["words"]) and words.isdisjoint(entry.get("not_with", ()))


def _words(text: str) -> frozenset[str]:
    """The words of a name, without accents; of a plural the singular too."""
    plain = unicodedata.normalize("NFKD", text.casefold())
    plain = "".join(sign for sign in plain if not unicodedata.combining(sign))
    words = re.findall(r"[^\W\d_]{3,}", plain)
    return frozenset(
        form for word in words for form in (word, word.removesuffix("s"), word.removesuffix("es"))
    )
