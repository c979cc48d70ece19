"""What people write into a TOML file by habit, and what they should write."""

import re
from typing import Final

_CURLY: Final = str.maketrans("\u201c\u201d\u201e\u00ab\u00bb\u2018\u2019\u201a", '"""""' + "'''")
_DAY: Final = re.compile(r"\d{1,4}([/.-])\d{1,2}\1\d{1,4}", re.ASCII)
_COMMA: Final = re.compile(r"(\d+),(\d+)", re.ASCII)
_BARE: Final = re.compile(r"[^\W\d_][\w .'&-]*")
MAX_LOOKED_AT: Final = 300


def toml_slip(line: str) -> tuple[str, str] | None:
    """What is wrong with a line that TOML refuses, and what to write; ``None`` if not known.

    >>> toml_slip("day = 5/15/2027")[1]
    'Write year-month-day, such as 2027-05-08'
    >>> toml_slip("resolution = 0,1")[1], toml_slip("name = Larkspur")[1]
    ('Write resolution = 0.1', 'Write name = "Larkspur"')
    """
    line = line.strip()
    straight = line.translate(_CURLY)
    name, _, value = (part.strip() for part in line.partition("="))
    value = value.partition("#")[0].strip()
    if not name or not value or len(line) > MAX_LOOKED_AT:
        return None
    if line != straight:
        return "has curly quotation marks", f"Write straight ones: {straight}"
    if _DAY.fullmatch(value):
        return "holds a day in another order", "Write year-month-day, such as 2027-05-08"
    return _value_slip(name, value)


def _value_slip(name: str, value: str) -> tuple[str, str] | None:
    if match := _COMMA.fullmatch(value):
        return "has a decimal comma", f"Write {name} = {match[1]}.{match[2]}"
    if _BARE.fullmatch(value):
        return "holds text without quotation marks", f'Write {name} = "{value}"'
    if value.count('"') == 1:
        return "has a quotation mark that is not closed", "Close it at the end of the text"
    return None
