"""The keys before the day, held by a commitment: shown to everybody, readable by nobody.

The commitment is the SHA-256 hash of a text file that lists the keys and ends with a random salt.
The hash is printed before the day; the file comes out with the results.  Any program that computes
SHA-256 can then compare the two: no trust in Nearmark is needed.
"""

import hashlib
from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal
from typing import Final

from nearmark.contest.keys import ItemKey

TITLE: Final = "Nearmark sealed keys, format 1"
SALT_BYTES: Final = 32
"""As many as the hash has: no salt can be tried out."""


@dataclass(frozen=True, slots=True)
class SealedKey:
    """One key as it was sealed."""

    item: str  # code of the item
    station: str
    unit: str  # ``g``, ``pieces`` or ``cm3``
    key: Decimal | None  # ``None``: the item had no key when the keys were sealed


def sealed_keys(keys: Iterable[ItemKey]) -> tuple[SealedKey, ...]:
    """The keys of an event as they are sealed.

    >>> sealed_keys([])
    ()
    """
    return tuple(
        SealedKey(key.item.code, key.item.station.value, key.unit, key.key) for key in keys
    )


def key_file(event: str, day: str, keys: Iterable[SealedKey], salt: str) -> str:
    r"""The text that the commitment is the hash of.

    >>> key = SealedKey("C1", "count", "pieces", Decimal("6023"))
    >>> key_file("Larkspur Valley Estimation Day", "2027-05-08", [key], "5a17").splitlines()[3]
    'key\tC1\tcount\t6023 pieces'

    Parameters
    ----------
    event, day : name and day of the event; the day as year-month-day
    salt : hexadecimal digits; random, secret until the release
    """
    lines = [TITLE, f"event\t{_one_line(event)}", f"day\t{day}"]
    lines += [f"key\t{_one_line(k.item)}\t{k.station}\t{_value(k)}" for k in keys]
    return "\n".join([*lines, f"salt\t{salt}", ""])


def commitment(text: str) -> str:
    r"""The hash of a key file: SHA-256 of its UTF-8 bytes, with LF at the end of every line.

    >>> commitment("a\r\n") == commitment("a\n")
    True

    Parameters
    ----------
    text : str
        As ``key_file`` gives it.  Other line ends, and a byte order mark in front, are the same
        text: an editor may have saved it again.
    """
    lines = text.removeprefix("\ufeff").replace("\r\n", "\n").rstrip("\n")
    return hashlib.sha256(f"{lines}\n".encode()).hexdigest()


def keys_in(text: str) -> dict[str, str]:
    """What a key file says: code of the item -> key with its unit, or ``none``.

    >>> keys_in(key_file("Larkspur", "2027-05-08", [SealedKey("C1", "count", "pieces", None)], ""))
    {'C1': 'none'}
    """
    rows = (line.split("\t") for line in text.splitlines())
    return {row[1]: row[3] for row in rows if row[0] == "key" and len(row) == 4}


def key_words(key: SealedKey) -> str:
    """A key as the file writes it: the number without trailing zeros, and its unit.

    >>> key_words(SealedKey("B1", "volume", "cm3", Decimal("840.0")))
    '840 cm3'
    """
    return _value(key)


def _value(key: SealedKey) -> str:
    if key.key is None:
        return "none"
    text = f"{key.key:f}"
    return f"{text.rstrip('0').rstrip('.') if '.' in text else text} {key.unit}"


def _one_line(text: str) -> str:
    """A tab or a line end in a name would move the columns."""
    return " ".join(text.split())
