"""A tree of hashes: one leaf can be shown to be in it without the others.

References
----------
RFC 6962, Certificate Transparency, clause 2.1 (Merkle tree hash) and 2.1.1 (audit path); RFC 9162,
clause 2.1.3.2 (how a path is checked), all three from memory, held to published roots by tests.
"""

import hashlib
from collections.abc import Sequence
from typing import Final

_LEAF: Final = b"\x00"
_NODE: Final = b"\x01"


def merkle_root(leaves: Sequence[bytes]) -> str:
    """The root of the tree over some leaves, in hexadecimal digits.

    >>> merkle_root([])[:16]
    'e3b0c44298fc1c14'
    """
    return _root(leaves).hex()


def merkle_path(leaves: Sequence[bytes], index: int) -> tuple[str, ...]:
    """The hashes that lead from one leaf to the root, the nearest first.

    >>> leaves = [b"a", b"b", b"c"]
    >>> root_of_path(b"c", 2, 3, merkle_path(leaves, 2)) == merkle_root(leaves)
    True

    Parameters
    ----------
    index : leaf, from 0
    """
    if len(leaves) <= 1:
        return ()
    half = _half(len(leaves))
    if index < half:
        return (*merkle_path(leaves[:half], index), _root(leaves[half:]).hex())
    return (*merkle_path(leaves[half:], index - half), _root(leaves[:half]).hex())


def root_of_path(leaf: bytes, index: int, n_leaves: int, path: Sequence[str]) -> str:
    """The root that a leaf and its path lead to; empty when they cannot belong together.

    >>> root_of_path(b"a", 0, 1, ()) == merkle_root([b"a"])
    True

    Parameters
    ----------
    index : leaf, from 0
    n_leaves : leaves, >= 1
    path : sequence of hexadecimal hashes
    """
    if not 0 <= index < n_leaves:
        return ""
    sides = _sides(index, n_leaves)
    if len(sides) != len(path):
        return ""
    node = hashlib.sha256(_LEAF + leaf).digest()
    for is_left, other in zip(sides, path, strict=True):
        sibling = bytes.fromhex(other)
        pair = node + sibling if is_left else sibling + node
        node = hashlib.sha256(_NODE + pair).digest()
    return node.hex()


def _root(leaves: Sequence[bytes]) -> bytes:
    if not leaves:
        return hashlib.sha256(b"").digest()
    if len(leaves) == 1:
        return hashlib.sha256(_LEAF + leaves[0]).digest()
    half = _half(len(leaves))
    return hashlib.sha256(_NODE + _root(leaves[:half]) + _root(leaves[half:])).digest()


def _half(n: int) -> int:
    """The largest power of two below ``n``."""
    return 1 << (n - 1).bit_length() - 1


def _sides(index: int, n: int) -> list[bool]:
    """From the leaf up: whether the way comes from the left half."""
    sides: list[bool] = []
    while n > 1:
        half = _half(n)
        sides.append(index < half)
        index, n = (index, half) if index < half else (index - half, n - half)
    return sides[::-1]
