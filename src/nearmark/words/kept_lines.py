"""Lines that are kept in English words, such as those of a correction, said again for a reader.

What is kept has to stay as it was said; a release holds it to the last letter.  Each pattern here
is a message that made such lines: what fits it is said in the language in force, with the same
facts; any other line stays as it is.  A test holds that each pattern is still in the source.
"""

import re
import string
from collections.abc import Iterable
from functools import cache
from typing import Final

from nearmark.words.translation import ENGLISH, language_in_force, message, say

KEPT: Final = (
    # what was corrected, and what it changed
    message("The answer of {pair} on {item}"),
    message("The results were taken back and are out again"),
    message("no reason was kept"),
    message("{pair}: {place}; in {division}: {there}; {total}"),
    message("{pair}: {place}; {total}"),
    message("place {before} before, {after} now"),
    message("place {after} as before"),
    message("{before} points before, {after} now"),
    message("{points} points as before"),
    message("no place and no total changes"),
    message("no place changes"),
    message("1 pair with another total and the same place"),
    message("{n} pairs with another total and the same place"),
    # what a scale showed
    message("check weight on {scale}"),
    message("{scale} shows {shown} g for {known} g: fine, {within} g off is allowed."),
    message(
        "{scale} shows {shown} g for {known} g: {off} g off, {within} g is allowed. Set it level, "
        "let it show zero, and try again; if it stays off, take another scale."
    ),
    # what the check of a released folder found
    message("{n} of {total} keys are those sealed on {at}."),
    message("The keys were not sealed before the day."),
    message(
        "The key of {item} was sealed as {was} and released as {now}: decided by {person}. Reason: "
        "{reason}"
    ),
    message(
        "the key of {item} was sealed as {was} and released as {now}, and no decision says why"
    ),
    message("{file}: release {number} does not follow from the one before it"),
    message(
        "the printed head is that of release {number}; this folder is of release {other_number}"
    ),
    message("{file}: the head of this folder, {head}, is not the printed one"),
    message("{file}: these are not the keys that were sealed"),
    message("{file}: the history until release {number} was changed"),
    message("{file}: the history has lines that the release does not hold"),
    message("{file}: history line {number} was changed"),
    message("{file}: the words of the history cannot be checked, people_salt is missing"),
    message("{file}: the hashes of the rows were changed"),
    message("{file}: a setting was changed"),
    message("{file}: has {n} rows, the release has {total}"),
    message("{file}, row {row}: is not as it was released"),
    message("{file}: the release has {n} pairs, the folder {total}"),
    message("the scores and places that follow from this folder are not those that were released"),
    message("{file}: the confidence in the places was changed"),
    message("{file}: the draws of the confidence cannot be repeated"),
    message("{file}: how sure the place of {name} is: {was} was released, {now} follows"),
    # short ones, which would fit the beginning of others
    message("The key of {item}"),
    message("no"),
    message("no number"),
    message("blank"),
    message("illegible"),
    message("none"),
    message("{value} pieces"),
    message("{value} g"),
    message("{value} cm³"),
)


def said_again(line: str) -> str:
    """A kept line in the language in force.

    >>> said_again("The key of C1"), said_again("a line of somebody")
    ('The key of C1', 'a line of somebody')
    """
    return said_as(line, KEPT)


def said_as(line: str, patterns: Iterable[str]) -> str:
    """A line in the language in force, if it fits one of the patterns; the first one counts.

    The facts in it that fit a pattern are said again too.
    """
    if language_in_force() is ENGLISH:
        return line
    known = tuple(patterns)
    for text in known:
        found = pattern_of(text).fullmatch(line)
        if found:
            facts = {name: said_as(fact, known) for name, fact in found.groupdict().items()}
            return say(text, **facts)
    return line


@cache
def pattern_of(text: str) -> re.Pattern[str]:
    """What a message makes with any facts.

    >>> pattern_of("The key of {item}").fullmatch("The key of C1")["item"]
    'C1'
    """
    parts = (
        re.escape(before) + (f"(?P<{name}>.+?)" if name else "")
        for before, name, _, _ in string.Formatter().parse(text)
    )
    return re.compile("".join(parts))
