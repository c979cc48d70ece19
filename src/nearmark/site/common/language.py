"""The language of a page: what the visitor chose, else what the browser asks for, else English.

Only the pages that are translated as a whole are shown in another language (``is_translated``).
"""

from collections.abc import Iterator
from contextlib import contextmanager
from functools import cache
from typing import Final

from django.conf import settings
from django.http import HttpRequest
from django.utils import translation
from django.utils.translation import trans_real

from nearmark.words.languages import language, language_codes
from nearmark.words.translation import ENGLISH, Language, speak, spoken_in

COOKIE: Final = "language"
"""Name of the cookie, and of the part of an address that sets it."""

COOKIE_AGE_S: Final = 365 * 24 * 3600


def chosen_language(request: HttpRequest) -> str:
    """The code that the visitor chose on this page; empty when no language was chosen."""
    code = request.GET.get(COOKIE, "")
    return code if code in language_codes() else ""


def wanted_language(request: HttpRequest) -> str:
    """The code of the language to show a page in."""
    codes = language_codes()
    for code in (chosen_language(request), request.COOKIES.get(COOKIE, "")):
        if code in codes:
            return code
    asked = trans_real.parse_accept_lang_header(request.headers.get("Accept-Language", ""))
    for whole, _ in asked:
        code = whole.partition("-")[0]
        if code in codes:
            return code
    return ENGLISH.code


@contextmanager
def shown_in(code: str) -> Iterator[None]:
    """Say everything in a language inside the block: templates, forms and sentences."""
    with translation.override(code), spoken_in(_taught(code)):
        yield


def show_in(code: str) -> None:
    """The same from here on, until the ``shown_in`` around it ends."""
    speak(_taught(code))
    translation.activate(code)


def _taught(code: str) -> Language:
    spoken = language(code)
    _teach(spoken)
    return spoken


@cache
def _teach(spoken: Language) -> None:
    """Give the templates our messages, in front of those that Django has itself."""
    if spoken.code != settings.LANGUAGE_CODE:
        trans_real.translation(spoken.code).merge(spoken.messages)
