"""What to be careful of with a material; always the usual caution, and local rules decide."""

from collections.abc import Collection, Sequence
from typing import Final

from nearmark.kit.catalogue_files import read_catalogue
from nearmark.kit.materials import CatalogueMaterial
from nearmark.units import cm_from_inches

SMALL_PARTS_DIAMETER_MM: Final = 10 * cm_from_inches(1.25)
SMALL_PARTS_DEPTH_MM: Final = 10 * cm_from_inches(2.25)
"""The small-parts cylinder: 31.75 mm wide, 25.4 to 57.15 mm deep above its slanted floor.
Source: 16 CFR 1501.4, where the inch dimensions govern (31.7 and 57.1 mm are its approximations).
"""

_ORDER: Final = ("raw pulse", "glass", "dust", "heavy", "small part", "hand food")


def fits_small_parts_cylinder(size_mm: tuple[float, float, float]) -> bool:
    """Whether a piece could lie wholly inside the small-parts cylinder, in any orientation.

    On the safe side: taken as an ellipsoid, and the cylinder as deep everywhere as at its deepest.
    An ellipsoid always keeps its middle axis in some direction of the opening.  Tilted by ``t``, it
    is ``sqrt(a^2 cos^2 t + b^2 sin^2 t)`` high and ``sqrt(a^2 sin^2 t + b^2 cos^2 t)`` wide for the
    longest axis ``a`` and the middle axis ``b``; some ``t`` keeps both within depth ``h`` and width
    ``d`` if and only if ``b <= d`` and ``a^2 + b^2 <= h^2 + d^2``.

    >>> fits_small_parts_cylinder((16.0, 16.0, 16.0)), fits_small_parts_cylinder((60.0, 40.0, 40.0))
    (True, False)

    Parameters
    ----------
    size_mm : mm, shape (3,), longest first

    References
    ----------
    16 CFR 1501.4 (b)(1): "in any orientation".
    """
    longest, middle, _ = size_mm
    diagonal = SMALL_PARTS_DEPTH_MM**2 + SMALL_PARTS_DIAMETER_MM**2
    return middle <= SMALL_PARTS_DIAMETER_MM and longest**2 + middle**2 <= diagonal


def local_rules() -> str:
    """The sentence that every caution ends by: local rules decide.

    >>> local_rules()
    'Follow your local rules.'
    """
    return str(read_catalogue("cautions")["local"])


def without_local(caution: str) -> str:
    """A caution without that sentence, where a page says it once for all.

    >>> without_local("12 kg: for two adults. Follow your local rules.")
    '12 kg: for two adults.'
    """
    return caution.removesuffix(local_rules()).strip()


def cautions(material: CatalogueMaterial) -> tuple[str, ...]:
    """Plain sentences to print beside a material, at least one; each defers to local rules.

    >>> from nearmark.kit.materials import material
    >>> [c.split(":")[0] for c in cautions(material("kidney-bean"))][:2]
    ['Raw', 'Buy it as food']
    """
    local = local_rules()
    found = caution_texts(material.allergens, caution_keys(material))
    return tuple(f"{sentence} {local}" for sentence in found) or (local,)


def caution_keys(material: CatalogueMaterial) -> frozenset[str]:
    """Which sentences of the catalogue hold for a material, besides its allergens.

    >>> from nearmark.kit.materials import material
    >>> sorted(caution_keys(material("rice")))
    ['dust', 'hand food', 'small part']
    """
    keys = {tag for tag in material.tags if tag in _ORDER}
    if fits_small_parts_cylinder(material.size_mm):
        keys.add("small part")
    if "food" in material.tags:
        keys.add("hand food")
    return frozenset(keys)


def caution_texts(allergens: Sequence[str], keys: Collection[str]) -> tuple[str, ...]:
    """The sentences, the gravest first.

    >>> len(caution_texts(["wheat"], {"heavy"}))
    2

    Parameters
    ----------
    allergens : named in one sentence
    keys : as ``caution_keys`` gives them
    """
    words = read_catalogue("cautions")["words"]
    found = [words["allergen"]["text"].format(what=", ".join(allergens))] if allergens else []
    for key in _ORDER:
        if key in keys:
            found.append(words[key]["text"])
        if key == "raw pulse" and key in keys:
            found.append(words["seed"]["text"])
    return tuple(found)
