"""One text for one meaning: what is hashed here."""

import hashlib
import hmac
import json
from collections.abc import Mapping, Sequence
from typing import Final

Plain = str | Sequence["Plain"] | Mapping[str, "Plain"]
"""What is hashed: text, lists and tables of text.  No number is written in two ways."""

HASH_LENGTH: Final = 64
"""Characters of a SHA-256 hash, in hexadecimal digits."""


def canonical(value: Plain) -> bytes:
    """The one text of a value: keys sorted, no spaces, UTF-8.

    >>> canonical({"pair": "P01", "items": ["C1", "B1"]})
    b'{"items":["C1","B1"],"pair":"P01"}'

    References
    ----------
    RFC 8785, JSON Canonicalization Scheme, clause 3.2: for text, lists and tables with keys in
    ASCII the same bytes.
    """
    return json.dumps(value, sort_keys=True, separators=(",", ":"), ensure_ascii=False).encode()


def digest(value: Plain) -> str:
    """SHA-256 of the canonical text, in hexadecimal digits.

    >>> digest([])[:16]
    '4f53cda18c2baa0c'
    """
    return hashlib.sha256(canonical(value)).hexdigest()


def keyed_digest(salt: str, value: Plain) -> str:
    """HMAC-SHA-256 of the canonical text: nobody without the salt can try out what is in it.

    >>> keyed_digest("00", "Wren") == keyed_digest("01", "Wren")
    False

    Parameters
    ----------
    salt : hexadecimal digits
    value : text, list or table of text

    References
    ----------
    RFC 2104 (HMAC), by the standard library.
    """
    return hmac.new(bytes.fromhex(salt), canonical(value), hashlib.sha256).hexdigest()


def in_groups(head: str) -> str:
    """A hash as it is printed: in groups, so that two people can read it to each other.

    >>> in_groups("0123456789abcdef")
    '01234567 89abcdef'
    """
    return " ".join(head[i : i + 8] for i in range(0, len(head), 8))


def is_hash(text: str) -> bool:
    """Whether a text is a SHA-256 hash in small hexadecimal digits.

    >>> is_hash("4F"), is_hash("0" * 64)
    (False, True)
    """
    return len(text) == HASH_LENGTH and all(c in "0123456789abcdef" for c in text)


def typed_hash(text: str) -> str:
    """A hash as somebody copied it from paper: spaces, dashes and capitals do not matter.

    >>> typed_hash(" 01234567-89AB ")
    '0123456789ab'
    """
    return "".join(c for c in text.lower() if c.isalnum())
