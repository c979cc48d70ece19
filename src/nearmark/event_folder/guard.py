"""Text in a spreadsheet cell: kept from becoming a formula, and kept whole at both ends.

A spreadsheet runs a cell that begins with ``=``, ``+``, ``-`` or ``@`` (also behind a tab or a line
break) as a formula, and this reader trims spaces around a cell.  An apostrophe at the end concerned
guards against both; reading takes exactly that apostrophe away again, so that writing and reading
give the same text.

Source: OWASP Application Security Verification Standard 5.0, requirement 1.2.10; the full-width
forms of the four signs from memory (OWASP, *CSV Injection*).
"""

import re

_RISKY = r"[=+\-@\uff1d\uff0b\uff0d\uff20\s]"
_NEEDS_FRONT = re.compile(rf"'*{_RISKY}")
_GUARDED_FRONT = re.compile(rf"'+{_RISKY}")
_NEEDS_BACK = re.compile(r"\s'*\Z")
_GUARDED_BACK = re.compile(r"\s'+\Z")


def guarded(text: str) -> str:
    """The cell for a text.

    >>> guarded("=1+1"), guarded("'t Zand"), guarded("Ada ")
    ("'=1+1", "'t Zand", "Ada '")
    """
    front = "'" if _NEEDS_FRONT.match(text) else ""
    back = "'" if _NEEDS_BACK.search(text) else ""
    return f"{front}{text}{back}"


def unguarded(cell: str) -> str:
    """The text of a cell.

    >>> unguarded("'=1+1"), unguarded("'t Zand"), unguarded("Ada '")
    ('=1+1', "'t Zand", 'Ada ')
    """
    # Nearly every cell holds no apostrophe, and reading is asked for it a hundred thousand times.
    if "'" not in cell:
        return cell
    start = 1 if _GUARDED_FRONT.match(cell) else 0
    end = -1 if _GUARDED_BACK.search(cell) else None
    return cell[start:end]
