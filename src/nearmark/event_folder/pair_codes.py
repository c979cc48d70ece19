"""Codes proposed for pairs that have none."""

import re
from collections import Counter
from collections.abc import Iterable

_NUMBERED = re.compile(r"(.*?)(\d{1,9})", re.ASCII | re.DOTALL)


def proposed_codes(taken: Iterable[str], n: int) -> list[str]:
    """Free codes that go on from those in use.

    ``taken``: codes in use; their commonest form is followed, ``P01`` when there is none. Returns:
    numbers above the highest in use, so that the code of a pair that left stays its own.

    >>> proposed_codes(["A7", "A9", "guest"], 2), proposed_codes([], 2)
    (['A10', 'A11'], ['P01', 'P02'])
    """
    used = list(taken)
    numbered = [match for code in used if (match := _NUMBERED.fullmatch(code))]
    forms = Counter((match[1], len(match[2])) for match in numbered)
    (prefix, width), _ = forms.most_common(1)[0] if forms else (("P", 2), 0)
    last = max((int(match[2]) for match in numbered if match[1] == prefix), default=0)
    folded = {code.casefold() for code in used}
    codes: list[str] = []
    while len(codes) < n:
        last += 1
        code = f"{prefix}{last:0{width}}"
        if code.casefold() not in folded:
            codes.append(code)
    return codes
