"""What checking the result of one pair against a release has found."""

import re
from fractions import Fraction

from nearmark.contest.proof.release import PairProof
from nearmark.contest.scoring import points_text
from nearmark.words.translation import say


def proof_words(proof: PairProof, head: str = "") -> str:
    """What the proof of one pair's result shows; ``head`` is the printed one, if it was given."""
    if not proof.holds:
        return say(
            "This result is not in the release: the text was changed, or not all of it was copied."
        )
    if head and head != proof.release.head:
        return say("This proof is of another release than the head that was given.")
    if proof.leaf.get("division"):
        return say(
            "Pair {pair}: place {place}, in {division} place {there}, total {total}. This result "
            "is in release {number}.",
            pair=proof.leaf.get("pair", ""),
            place=proof.leaf.get("place") or say("none"),
            division=proof.leaf["division"],
            there=proof.leaf.get("division_place") or say("none"),
            total=_points(str(proof.leaf.get("total", ""))),
            number=proof.release.number,
        )
    return say(
        "Pair {pair}: place {place}, total {total}. This result is in release {number}.",
        pair=proof.leaf.get("pair", ""),
        place=proof.leaf.get("place") or say("none"),
        total=_points(str(proof.leaf.get("total", ""))),
        number=proof.release.number,
    )


def _points(exact: str) -> str:
    """A total of a proof that somebody pasted: rounded for reading, if it is a number at all."""
    if not re.fullmatch(r"\d{1,30}(/[1-9]\d{0,30})?", exact):
        return exact or say("none")
    return say("{points} points", points=points_text(Fraction(exact), 2))
