"""A search in the help by words: no network, no database of the event."""

import re
import sqlite3
import threading
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType
from typing import Final

from django.utils.html import format_html
from django.utils.safestring import SafeString, mark_safe

from nearmark.site.help.pages import help_pages

MAX_WORDS: Final = 12
SHORTEST_BEGINNING: Final = 3
"""Signs of a word that finds longer ones too: ``it`` is no beginning of ``item``."""

_ENDING: Final = re.compile(r"(?<=\w{4})(ies|ing|ed|es|e|y)$|(?<=\w{3})s$", re.IGNORECASE)
"""What a word loses, so that it finds its other forms."""

_SMALL_WORDS: Final = (
    "a an and are as at be can do does for from has have how i if in is it its my not of on or"
    " our that the there they this to was we what when where which who why will with you"
)
"""Say nothing of what is looked for, unless nothing else was typed."""

OTHER_WORDS: Final = MappingProxyType(
    {
        "attendance": "check-in",
        "balance": "scale",
        "excel": "xlsx",
        "login": "sign in",
        "logout": "sign out",
        "prize": "award",
        "prizes": "awards",
        "student": "pupil",
        "students": "pupils",
        "team": "pair",
        "teams": "pairs",
        "timer": "clock",
        "wifi": "Wi-Fi",
    }
)
"""Words that people type -> what the help calls it."""

REFERENCE_WEIGHT: Final = 0.6
"""What is found in a list of settings counts less than where a task is described."""

MAX_FOUND: Final = 20

_BEGIN, _END = "\x02", "\x03"  # around a word that was found; no file holds them

_LOCK: Final = threading.Lock()


@dataclass(frozen=True, slots=True)
class Found:
    """A section of the help in which words were found."""

    page_title: str
    title: str  # of the section
    address: str  # of the section
    excerpt: SafeString  # with each word that was found in ``mark``


def words_of(query: str) -> list[str]:
    """The words of a question, without signs and small words; the first ones of a long one.

    >>> words_of('How heavy is "cup 12"?')
    ['heavy', 'cup', '12']
    """
    words = re.findall(r"[^\W_]+", query)
    told = [word for word in words if word.casefold() not in _SMALL_WORDS.split()]
    return (told or words)[:MAX_WORDS]


def _wanted(word: str) -> str:
    """A word as the index is asked for it; the word itself counts more than its other forms.

    >>> _wanted("cups"), _wanted("ties"), _wanted("it")
    ('"cups" OR "cup"*', '"ties" OR "tie"*', '"it"')
    >>> _wanted("WiFi")
    '"WiFi" OR "WiFi"* OR "Wi-Fi"'
    """
    ways = [f'"{word}"']
    if len(word) >= SHORTEST_BEGINNING:
        ways.append(f'"{_ENDING.sub("", word)}"*')
    if word.casefold() in OTHER_WORDS:
        ways.append(f'"{OTHER_WORDS[word.casefold()]}"')
    return " OR ".join(ways)


def search(query: str) -> list[Found]:
    """Find sections, the best first.

    A word finds those that begin like it, in the singular and the plural, with capitals and
    accents or without.  A word in a heading counts more than in the text; the more of the words a
    section has, and the rarer they are, the earlier it comes.
    """
    wanted = " OR ".join(map(_wanted, words_of(query)))
    if not wanted:
        return []
    with _LOCK:
        rows = _index().execute(_FIND, (wanted, MAX_FOUND))
        return [Found(page, title, place, _marked(text)) for page, title, place, text in rows]


_MAKE: Final = """
CREATE VIRTUAL TABLE section USING fts5(
  page_title, title, text, place UNINDEXED, weight UNINDEXED,
  tokenize = 'unicode61 remove_diacritics 2'
)
"""

_FIND: Final = f"""
SELECT page_title, title, place, snippet(section, 2, '{_BEGIN}', '{_END}', '...', 32)
FROM section WHERE section MATCH ? ORDER BY bm25(section, 20, 100, 1) * weight, rowid LIMIT ?
"""  # noqa: S608  # made of constants


@cache
def _index() -> sqlite3.Connection:
    """One row for each section, in memory; whoever asks holds the lock."""
    database = sqlite3.connect(":memory:", check_same_thread=False)
    database.execute(_MAKE)
    database.executemany(
        "INSERT INTO section VALUES (?, ?, ?, ?, ?)",
        [
            (
                page.title,
                section.title,
                section.text,
                f"{page.address}#{section.anchor}",
                REFERENCE_WEIGHT if page.file.startswith("reference/") else 1.0,
            )
            for page in help_pages().values()
            for section in page.sections
        ],
    )
    return database


def _marked(text: str) -> SafeString:
    """An excerpt with the words that were found in ``mark``."""
    parts = re.split(f"[{_BEGIN}{_END}]", text)
    shown = [
        format_html("<mark>{}</mark>" if at % 2 else "{}", part) for at, part in enumerate(parts)
    ]
    return mark_safe("".join(shown))  # noqa: S308  # each part is escaped
