"""Bags to take home: 100 g of a material, how many pieces that is, and who has which when."""

from collections.abc import Sequence
from dataclasses import dataclass

from nearmark.coaching.limits import checked
from nearmark.errors import InputError
from nearmark.kit import CatalogueMaterial, cautions, grams_to_pour, percent_text


@dataclass(frozen=True, slots=True)
class Bag:
    """One bag."""

    material: CatalogueMaterial
    mass_g: float
    pieces: int  # in that mass
    relative_expanded_u: float  # of the pieces, at 95 % (relative)
    volume_cm3: float  # about
    cautions: tuple[str, ...]

    @property
    def label(self) -> tuple[str, ...]:
        """Lines to print on the bag: what, how much, and every caution."""
        within = percent_text(self.relative_expanded_u)
        return (
            f"{self.material.name}: {self.mass_g:g} g",
            f"about {self.pieces} pieces (within {within}), about {self.volume_cm3:.0f} cm3",
            *self.cautions,
        )


def take_home_bag(
    material: CatalogueMaterial,
    *,
    mass_g: float = 100.0,
    piece_mass_g: float | None = None,
    scale_step_g: float = 0.1,
) -> Bag:
    """A bag of a material.

    >>> from nearmark.kit import material
    >>> bag = take_home_bag(material("chickpea"), piece_mass_g=0.41)
    >>> bag.pieces, bag.label[0]
    (244, 'Chickpeas, large: 100 g')

    Parameters
    ----------
    mass_g : g, > 0
    piece_mass_g : g or None; of your own lot; ``None``: the catalogue's, which is far less sure
    scale_step_g : g, > 0

    Raises
    ------
    InputError : if a number is impossible, or the mass is less than a piece
    """
    checked(mass_g, "mass", 0.1, 10_000, mend="Give it in g")
    each_g = material.piece_mass_g if piece_mass_g is None else piece_mass_g
    checked(each_g, "piece mass", 1e-4, 10_000, mend="Give it in g")
    pieces = round(mass_g / each_g)
    if pieces < 1:
        raise InputError(
            f"is less than one piece of {material.name.lower()}",
            where="mass",
            value=mass_g,
            mend="Give a larger mass",
        )
    pour = grams_to_pour(pieces, material, scale_step_g=scale_step_g, piece_mass_g=piece_mass_g)
    return Bag(material, mass_g, pieces, 2 * pour.relative_u, pour.volume_cm3, cautions(material))


def rotation(
    pupils: Sequence[str], codes: Sequence[str], n_sessions: int
) -> tuple[dict[str, str], ...]:
    """Who takes which bag home after each session: of each session, pupil -> code.

    Nobody has a bag twice before having had all; bags are shared as evenly as they can be.

    >>> rotation(["Ada", "Bo"], ["rice", "chickpea"], 2)
    ({'Ada': 'rice', 'Bo': 'chickpea'}, {'Ada': 'chickpea', 'Bo': 'rice'})

    Parameters
    ----------
    pupils : str, shape (n,), no two alike
    codes : str, shape (m,), m >= 1, no two alike; of the materials
    n_sessions : sessions, 1 to 200

    Raises
    ------
    InputError : if a name or code is there twice, or there is no material
    """
    checked(n_sessions, "sessions", 1, 200)
    for what, names in (("pupils", pupils), ("materials", codes)):
        if len(set(names)) < len(names):
            raise InputError("one is there twice", where=what, mend="Name each once")
    if not codes:
        raise InputError("none given", where="materials", mend="Name at least one")
    return tuple(
        {pupil: codes[(i + session) % len(codes)] for i, pupil in enumerate(pupils)}
        for session in range(n_sessions)
    )
