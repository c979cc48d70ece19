"""What to be careful of with a material; always the usual caution, and local rules decide."""

from nearmark.kit.catalogue_files import read_catalogue
from nearmark.kit.materials import CatalogueMaterial

SMALL_PARTS_DIAMETER_MM = 31.7
SMALL_PARTS_DEPTH_MM = 57.1
"""The small-parts cylinder: 31.7 mm wide, 25.4 to 57.1 mm deep under its slanted floor.
Source: 16 CFR 1501.4 (from memory)."""


def fits_small_parts_cylinder(size_mm: tuple[float, float, float]) -> bool:
    """Whether a piece could lie wholly inside the small-parts cylinder, in some position.

    On the safe side: taken as an ellipsoid stood on end, in the deepest part of the cylinder.

    Parameters
    ----------
    size_mm : mm, shape (3,), longest first

    Returns
    -------
    bool

    References
    ----------
    16 CFR 1501.4 (from memory).

    Examples
    --------
    >>> fits_small_parts_cylinder((16.0, 16.0, 16.0)), fits_small_parts_cylinder((60.0, 40.0, 40.0))
    (True, False)
    """
    longest, middle, _ = size_mm
    return middle <= SMALL_PARTS_DIAMETER_MM and longest <= SMALL_PARTS_DEPTH_MM


def cautions(material: CatalogueMaterial) -> tuple[str, ...]:
    """Plain sentences to print beside a material.

    Parameters
    ----------
    material : CatalogueMaterial

    Returns
    -------
    tuple of str
        Each ends by deferring to local rules; at least one for every material.

    Examples
    --------
    >>> from nearmark.kit.materials import material
    >>> [c.split(":")[0] for c in cautions(material("kidney-bean"))][:2]
    ['Raw', 'Fits the small-parts cylinder of 16 CFR 1501.4']
    """
    table = read_catalogue("cautions")
    words, local = table["words"], table["local"]
    found = []
    if material.allergens:
        found.append(words["allergen"].format(what=", ".join(material.allergens)))
    found += [words[tag] for tag in ("raw pulse", "glass", "dust", "heavy") if tag in material.tags]
    if fits_small_parts_cylinder(material.size_mm):
        found.append(words["small part"])
    if "food" in material.tags:
        found.append(words["hand food"])
    return tuple(f"{sentence} {local}" for sentence in found) or (local,)
