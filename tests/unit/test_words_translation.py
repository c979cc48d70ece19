"""Every message can be found by a program that extracts messages, and every one has an example."""

import importlib
import inspect
import pkgutil
import re
import string
from collections.abc import Iterator
from functools import cache
from gettext import NullTranslations
from pathlib import Path

from babel.messages.extract import extract_from_dir
from list_sentences import PAGE, page
from sentence_examples import examples

import nearmark.words
from nearmark.words.translation import KEYWORDS, Language, say, say_count, spoken_in

ROOT = Path(__file__).parents[2]


class Heard(NullTranslations):
    """Keeps each message that was asked for."""

    def __init__(self) -> None:
        super().__init__()
        self.messages: set[str] = set()

    def gettext(self, message: str) -> str:
        self.messages.add(message)
        return message

    def ngettext(self, msgid1: str, msgid2: str, n: int) -> str:
        self.messages |= {msgid1, msgid2}
        return super().ngettext(msgid1, msgid2, n)


@cache
def found_by_babel() -> list[tuple[str, str | tuple[str, ...]]]:
    """Each message of the package with its file; both forms where it is a plural."""
    words = ROOT / "src" / "nearmark" / "words"
    return [(row[0], row[2]) for row in extract_from_dir(str(words), keywords=KEYWORDS)]


def extracted() -> set[str]:
    """Every message of the package."""
    found: set[str] = set()
    for file, messages in found_by_babel():
        if not file.endswith("translation.py"):
            found |= {messages} if isinstance(messages, str) else set(messages)
    return found


def heard() -> set[str]:
    language = Heard()
    with spoken_in(Language("xx", language)):
        for example in examples():
            assert example.text
    return language.messages


def test_every_message_that_is_said_is_found_by_the_extractor():
    assert heard() - extracted() == set()


def test_every_message_of_the_source_is_said_by_an_example():
    assert extracted() - heard() == set()


def test_placeholders_are_named():
    unnamed = [
        text
        for text in extracted()
        for _, name, _, _ in string.Formatter().parse(text)
        if name is not None and not name.isidentifier()
    ]

    assert unnamed == []


def test_both_forms_of_a_plural_have_the_same_placeholders_but_for_the_number():
    def names(text: str) -> set[str]:
        return {name for _, name, _, _ in string.Formatter().parse(text) if name} - {"n"}

    pairs = [messages for _, messages in found_by_babel() if isinstance(messages, tuple)]

    assert len(pairs) > 10
    assert [pair for pair in pairs if names(pair[0]) != names(pair[1])] == []


def test_another_language_is_said_inside_its_block_only():
    class Loud(NullTranslations):
        def gettext(self, message: str) -> str:
            return message.upper().replace("{ITEM}", "{item}")

        def ngettext(self, msgid1: str, msgid2: str, n: int) -> str:
            return f"{msgid1 if n == 1 else msgid2}!"

    with spoken_in(Language("xx", Loud())):
        assert say("{item} is fit", item="C1") == "C1 IS FIT"
        assert say_count("{n} pair", "{n} pairs", 2) == "2 pairs!"
    assert say("{item} is fit", item="C1") == "C1 is fit"


def public_functions() -> Iterator[object]:
    for module in pkgutil.iter_modules(nearmark.words.__path__):
        names = vars(importlib.import_module(f"nearmark.words.{module.name}"))
        yield from (
            thing
            for name, thing in names.items()
            if inspect.isfunction(thing)
            and thing.__module__.startswith("nearmark.words.")
            and not name.startswith("_")
        )


def test_every_function_says_when_it_is_true():
    assert [f for f in public_functions() if not inspect.getdoc(f)] == []


def test_no_sentence_has_an_empty_place_or_a_sign_twice():
    """An empty fact leaves two spaces, or a space before a stop."""
    odd = re.compile(r"  | \.|\.\.|\bNone\b(?! of)")

    assert [(e.say.__name__, e.text) for e in examples() if odd.search(e.text)] == []


def test_the_page_of_all_sentences_is_fresh():
    assert page() == PAGE.read_text(encoding="utf-8"), "run: python tools/list_sentences.py"
