"""The pages that children, families and helpers read, and the language in which each is shown."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

from django.http import HttpRequest, HttpResponse

from nearmark.site.common.language import (
    COOKIE,
    COOKIE_AGE_S,
    chosen_language,
    show_in,
    shown_in,
    wanted_language,
)
from nearmark.words.languages import is_right_to_left, language_codes, own_name
from nearmark.words.translation import ENGLISH, language_in_force

TRANSLATED: Final = frozenset(
    {
        *("public-results", "public-earlier", "public-feedback", "public-feedback-pdf", "verify"),
        *("seat-join", "seat", "seat-item", "seat-hand-in", "seat-table", "seat-leave"),
        *("join", "sign-in", "unlock", "calculator", "handout"),
        # the desks of the day, and what their forms are sent to
        *("heats", "heat-check-in", "heat-roll-call", "heat-fill"),
        *("heat-move", "heat-swap", "heat-late"),
        *("clock", "clock-now", "clock-control", "clock-start", "clock-extend", "clock-stop"),
        *("clock-pause", "clock-pause-all", "clock-resume", "clock-resume-all"),
        *("weigh-in", "weigh-in-undo", "scale-checks", "entry", "entry-save"),
        *("differences", "difference-decide", "audit-read", "audit-check", "announcer", "awards"),
    }
)
"""Names of the addresses whose pages are translated as a whole; every other page is English."""

PAPERS: Final = frozenset(
    {
        *("home-sheet", "bags-labels", "season-certificates", "drill-slips", "feedback-pdf"),
        "run-off-pdf",
    }
)
"""Papers that somebody prints for children and helpers: in the language the address asks for."""


@dataclass(frozen=True, slots=True)
class PageLanguage:
    """A language as a page names it."""

    code: str
    name: str  # what its speakers call it
    direction: str  # ``ltr`` or ``rtl``


def _as_page(code: str) -> PageLanguage:
    return PageLanguage(code, own_name(code), "rtl" if is_right_to_left(code) else "ltr")


def language_of_page() -> PageLanguage:
    """The language in which the page is shown now."""
    return _as_page(language_in_force().code)


def paper_languages() -> tuple[PageLanguage, ...]:
    """The languages in which papers for children can be printed, English first."""
    return tuple(map(_as_page, language_codes()))


def other_languages(name: str) -> tuple[PageLanguage, ...]:
    """The languages in which a page can be shown too. ``name``: of its address."""
    if name not in TRANSLATED:
        return ()
    now = language_in_force().code
    return tuple(_as_page(code) for code in language_codes() if code != now)


class LanguageMiddleware:
    """Shows the translated pages in the language of the visitor."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        """Remember a language that was chosen."""
        with shown_in(ENGLISH.code):
            response = self.get_response(request)
        chosen = chosen_language(request)
        name = request.resolver_match.url_name if request.resolver_match else None
        if chosen and name in TRANSLATED:
            response.set_cookie(COOKIE, chosen, max_age=COOKIE_AGE_S, samesite="Lax", httponly=True)
        return response

    def process_view(
        self, request: HttpRequest, _view: object, _args: object, _kwargs: object
    ) -> HttpResponse | None:
        """Choose the language before anything of the page is asked or refused."""
        name = (request.resolver_match and request.resolver_match.url_name) or ""
        if name in TRANSLATED:
            show_in(wanted_language(request))
        elif name in PAPERS:
            show_in(chosen_language(request) or ENGLISH.code)
        return None
