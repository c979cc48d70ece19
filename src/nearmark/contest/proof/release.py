"""What one release fixes, and its head: 64 characters that hold everything in it.

The head is printed on the standings and shown on the public page.  It is the hash of a short
record, and the record holds the hashes of the rest: the event row by row, the history, the sealed
keys, one leaf for every pair, and the release before it.
"""

import json
from collections.abc import Mapping, Sequence
from dataclasses import asdict, dataclass
from typing import Any, Final, Self

from nearmark.contest.proof.canonical import Plain, canonical, digest, is_hash, keyed_digest
from nearmark.contest.proof.merkle import merkle_path, root_of_path
from nearmark.contest.results import PairResult
from nearmark.errors import InputError

FORMAT: Final = "1"
PROOF: Final = "proof of a pair"


@dataclass(frozen=True, slots=True)
class Seal:
    """One sealing of the keys."""

    number: str  # from 1 within the event
    at: str  # when, in UTC
    commitment: str  # hash of the key file


@dataclass(frozen=True, slots=True)
class ReleaseRecord:
    """What a release fixes."""

    number: str  # from 1 within the event
    at: str  # when, in UTC
    previous: str  # head of the release before; empty for the first
    seals: tuple[Seal, ...]  # every sealing of the keys until then, oldest first
    event: str  # hash of all rows of the event
    history: str  # head of the history until then
    n_history: str  # lines of it
    pairs: str  # root of the tree over the results of the pairs
    n_pairs: str
    confidence: str  # hash of the rank confidence

    @property
    def head(self) -> str:
        """The hash that names the release, in 64 hexadecimal digits."""
        return digest(self.as_plain())

    def as_plain(self) -> dict[str, Plain]:
        """The record as text, lists and tables of text."""
        plain: dict[str, Any] = {"format": FORMAT, **asdict(self)}
        return plain | {"seals": [asdict(seal) for seal in self.seals]}

    @classmethod
    def from_plain(cls, plain: object, *, where: str) -> Self:
        """Read a record that ``as_plain`` has given.

        Parameters
        ----------
        plain : as a JSON file gave it
        where : named in a refusal

        Raises
        ------
        InputError : if anything is missing, too much, or of another kind
        """
        names = (*cls.__slots__, "format")
        values = checked_table(plain, names, where=where, lists=("seals",))
        if values.pop("format") != FORMAT:
            raise InputError("has a format that is not known", where=where, mend="Update Nearmark")
        seals = tuple(
            Seal(**checked_table(seal, Seal.__slots__, where=f"{where}, seal {n}"))
            for n, seal in enumerate(values.pop("seals"), start=1)
        )
        return cls(seals=seals, **values)


@dataclass(frozen=True, slots=True)
class PairProof:
    """The result of one pair, and the way from it to the head of its release."""

    leaf: Mapping[str, Plain]  # the result of the pair, as ``pair_leaf`` gives it
    index: int  # which leaf it is, from 0
    path: tuple[str, ...]
    release: ReleaseRecord

    @property
    def text(self) -> str:
        """The proof on one line: printed, copied, or in a QR code."""
        plain: dict[str, Plain] = {
            "leaf": self.leaf,
            "index": str(self.index),
            "path": list(self.path),
            "release": self.release.as_plain(),
        }
        return canonical(plain).decode()

    @property
    def holds(self) -> bool:
        """Whether the pair's result is in the release."""
        n_pairs = int(self.release.n_pairs) if self.release.n_pairs.isascii() else 0
        root = root_of_path(canonical(self.leaf), self.index, n_pairs, self.path)
        return root == self.release.pairs

    @classmethod
    def from_text(cls, text: str) -> Self:
        """Read a proof.

        Parameters
        ----------
        text : as ``text`` gives it; line ends that a printer or a mail put in do not matter
        """
        try:
            plain = json.loads("".join(text.splitlines()).strip())
        except (ValueError, RecursionError) as error:
            raise InputError(
                "is not the text of a proof", where=PROOF, mend="Copy all of it, to the last sign"
            ) from error
        names = ("leaf", "index", "path", "release")
        if not (isinstance(plain, dict) and set(plain) == set(names)):
            raise InputError("is not whole", where=PROOF, mend="Copy all of it, to the last sign")
        path, index, leaf = plain["path"], plain["index"], plain["leaf"]
        is_path = isinstance(path, list) and all(isinstance(p, str) and is_hash(p) for p in path)
        is_index = isinstance(index, str) and index.isascii() and index.isdigit()
        if not (is_path and is_index and len(index) <= 6 and isinstance(leaf, dict)):
            raise InputError("was changed", where=PROOF, mend="Copy it again from the page")
        release = ReleaseRecord.from_plain(plain["release"], where=PROOF)
        if not (release.n_pairs.isascii() and release.n_pairs.isdigit()):
            raise InputError("was changed", where=PROOF, mend="Copy it again from the page")
        return cls(leaf, int(index), tuple(path), release)


def pair_leaf(line: PairResult, salt: str) -> dict[str, Plain]:
    """The result of a pair as a leaf: exact, and with a number nobody can guess.

    It has ``pair``, ``school``, ``status``, ``place``, ``total`` (a fraction), ``items`` and
    ``nonce``; of a pair in a division also ``division`` and ``division_place``.

    >>> from fractions import Fraction
    >>> from nearmark.contest.event import Pair
    >>> line = PairResult(Pair("P1", "Fernhill", ("a", "b")), 2, Fraction(901, 2), ())
    >>> leaf = pair_leaf(line, "5a17")
    >>> leaf["place"], leaf["total"]
    ('2', '901/2')

    Parameters
    ----------
    salt : hexadecimal digits
        Of the release.  Without it, who knows the results of all pairs but one could try out the
        answers of the last.
    """
    return {
        "pair": line.pair.code,
        "school": line.pair.school,
        "status": line.pair.status.value,
        "place": "" if line.place is None else str(line.place),
        "total": str(line.total),
        "items": [
            {
                "item": s.item,
                "status": s.status.value,
                "estimate": "" if s.estimate is None else f"{s.estimate.normalize():f}",
                "score": str(s.score),
            }
            for s in line.items
        ],
        "nonce": keyed_digest(salt, line.pair.code),
        **_in_division(line),
    }


def _in_division(line: PairResult) -> dict[str, Plain]:
    if not line.pair.division:
        return {}
    place = "" if line.division_place is None else str(line.division_place)
    return {"division": line.pair.division, "division_place": place}


def pair_leaves(lines: Sequence[PairResult], salt: str) -> tuple[dict[str, Plain], ...]:
    """The leaves of a release, in the order of the codes.

    >>> pair_leaves([], "5a17")
    ()
    """
    return tuple(pair_leaf(line, salt) for line in sorted(lines, key=lambda x: x.pair.code))


def pair_proof(
    leaves: Sequence[Mapping[str, Plain]], code: str, release: ReleaseRecord
) -> PairProof:
    """The proof of one pair.

    >>> leaves = [{"pair": "P1"}, {"pair": "P2"}]
    >>> from nearmark.contest.proof.merkle import merkle_root
    >>> root = merkle_root([canonical(leaf) for leaf in leaves])
    >>> release = ReleaseRecord("1", "", "", (), "", "", "0", root, "2", "")
    >>> pair_proof(leaves, "P2", release).holds
    True

    Parameters
    ----------
    leaves : sequence of leaves; all of the release, in order
    code : of the pair

    Raises
    ------
    InputError : if the pair is not in the release
    """
    for index, leaf in enumerate(leaves):
        if leaf["pair"] == code:
            path = merkle_path([canonical(leaf) for leaf in leaves], index)
            return PairProof(leaf, index, path, release)
    raise InputError("is not in this release", where="pair", value=code)


def checked_table(
    plain: object,
    names: Sequence[str],
    *,
    where: str,
    lists: Sequence[str] = (),
    tables: Sequence[str] = (),
) -> dict[str, Any]:
    """A table of text with just these names, or a refusal that says what is wrong.

    >>> checked_table({"at": "noon"}, ["at"], where="line 1")
    {'at': 'noon'}

    Parameters
    ----------
    plain : as a JSON file gave it
    where : named in a refusal
    lists, tables : names whose value is a list, or a table
    """
    mend = "Take the folder as the site gave it"
    if not isinstance(plain, dict):
        raise InputError("is not a table", where=where, mend=mend)
    odd = sorted(set(plain) ^ set(names))
    if odd:
        raise InputError("is missing, or is not known", where=where, value=odd[0], mend=mend)
    for name, value in plain.items():
        kind = list if name in lists else dict if name in tables else str
        if not isinstance(value, kind):
            raise InputError(f"{name} is of another kind", where=where, mend=mend)
    return dict(plain)
