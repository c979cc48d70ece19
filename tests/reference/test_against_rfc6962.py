"""The tree of hashes against published roots."""

import hashlib

import pytest

from nearmark.contest.proof.merkle import merkle_root

LEAVES = tuple(
    map(
        bytes.fromhex,
        (
            "",
            "00",
            "10",
            "2021",
            "3031",
            "40414243",
            "5051525354555657",
            "606162636465666768696a6b6c6d6e6f",
        ),
    )
)

# The eight leaves and roots that the open test suites of RFC 6962 (Certificate Transparency) share;
# written down from memory before our code was run on them.
ROOTS = (
    "6e340b9cffb37a989ca544e6bb780a2c78901d3fb33738768511a30617afa01d",
    "fac54203e7cc696cf0dfcb42c92a1d9dbaf70ad9e621f4bd8d98662f00e3c125",
    "aeb6bcfe274b70a14fb067a5e5578264db0fa9b51af5e0ba159158f329e06e77",
    "d37ee418976dd95753c1c73862b9398fa2a2cf9b4ff0fdfe8b30cd95209614b7",
    "4e3bbb1f7b478dcfe71fb631631519a3bca12c9aefca1612bfce4c13a86264d4",
    "76e67dadbcdf1e10e1b74ddc608abd2f98dfb16fbce75277b5232a127f2087ef",
    "ddb89be403809e325750d3d263cd78929c2942b7942a34b77e122c9594a74c8c",
    "5dc9da79a70659a9ad559cb701ded9a2ab9d823aad2f4960cfe370eff4604328",
)


@pytest.mark.parametrize("n", range(1, 9))
def test_published_roots(n):
    assert merkle_root(LEAVES[:n]) == ROOTS[n - 1]


@pytest.mark.parametrize("n", [1, 2, 3, 7, 49, 80])
def test_a_tree_built_from_the_leaves_up(n):
    """The other way to build the same tree: pair up neighbours, an odd one goes up unchanged."""
    leaves = [f"pair {i}".encode() for i in range(n)]
    row = [hashlib.sha256(b"\x00" + leaf).digest() for leaf in leaves]
    while len(row) > 1:
        pairs = [
            hashlib.sha256(b"\x01" + row[i] + row[i + 1]).digest()
            for i in range(0, len(row) - 1, 2)
        ]
        row = pairs + ([row[-1]] if len(row) % 2 else [])

    assert merkle_root(leaves) == row[0].hex()
