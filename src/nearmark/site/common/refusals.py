"""Answers to what was refused: one table from errors to HTTP, one page."""

import sys
from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from typing import Final

from django.core.exceptions import DisallowedHost, TooManyFieldsSent, TooManyFilesSent
from django.db import DatabaseError
from django.http import HttpRequest, HttpResponse, JsonResponse
from django.shortcuts import render

from nearmark.errors import (
    FilesError,
    InputError,
    MeasurementError,
    NearmarkError,
    Problem,
    RuleError,
)
from nearmark.site.common.view_records import names_of
from nearmark.words.numbers import capital
from nearmark.words.refusals import refusal_words

STATUS: Final[tuple[tuple[type[NearmarkError], int], ...]] = (
    (InputError, 422),
    (MeasurementError, 422),
    (RuleError, 409),
    (NearmarkError, 422),
)
"""The first class that fits gives the status."""

NOT_IN: Final = 401
NOT_ALLOWED: Final = 403
TOO_LARGE: Final = 413
NOT_SAVED: Final = 503
_NOT_SAVED_WHAT: Final = "nothing was saved: the database did not take it"
_NOT_SAVED_MEND: Final = "Check that the disk is not full, write it on paper, and try again"


class HoldReason(StrEnum):
    """Why the outbox of a browser keeps an entry, though the server was reached."""

    LOCKED = "locked"
    OUT = "out"
    OTHER = "other"
    STALE = "stale"


def status_of(error: NearmarkError) -> int:
    """HTTP status of a refusal.

    >>> status_of(RuleError("the results are out"))
    409
    """
    return next(status for kind, status in STATUS if isinstance(error, kind))


def asks_json(request: HttpRequest) -> bool:
    """Whether a script asks, which shows the answer itself."""
    return request.headers.get("Accept") == "application/json"


@dataclass(frozen=True, slots=True)
class RefusedView:
    """What was refused, why, and how to fix it."""

    title: str
    error: NearmarkError
    problems: Sequence[Problem] = ()  # of files that were read


def _page(request: HttpRequest, view: RefusedView, status: int) -> HttpResponse:
    if asks_json(request):
        facts = {
            "what": capital(refusal_words(view.error.what)),
            "mend": refusal_words(view.error.mend),
        }
        return JsonResponse(facts, status=status)
    return render(request, "shared/refused.html", names_of(view), status=status)


def held(why: HoldReason) -> HttpResponse:
    """The answer to a script whose entry has to wait for a person."""
    what, mend = _HELD[why]
    facts = {"held": why.value, "what": refusal_words(what), "mend": refusal_words(mend)}
    return JsonResponse(facts, status=NOT_IN)


_HELD: Final = {
    HoldReason.LOCKED: (
        "This device is locked",
        "Load the page again and open it; nothing is lost",
    ),
    HoldReason.OUT: (
        "This device is not let in any more",
        "Nothing is lost: keep this browser, and ask the lead",
    ),
    HoldReason.OTHER: (
        "Somebody else is signed in here now",
        "The entries wait until the person who typed them is back",
    ),
    HoldReason.STALE: ("This page is out of date", "Load it again; nothing is lost"),
}


def refused(request: HttpRequest, error: NearmarkError) -> HttpResponse:
    """The page of a refusal: what, which value, and what to do."""
    problems = error.problems if isinstance(error, FilesError) else ()
    return _page(
        request, RefusedView(refusal_words("That was not done"), error, problems), status_of(error)
    )


def refused_role(request: HttpRequest) -> HttpResponse:
    """The page for somebody whose role does not open an address."""
    error = NearmarkError("this page is not for your role", mend="Ask the lead")
    return _page(request, RefusedView(refusal_words("Not for you"), error), NOT_ALLOWED)


def refused_club(request: HttpRequest) -> HttpResponse:
    """The page for a coach at the address of a club that is not his; it says nothing of it."""
    error = NearmarkError(
        "this belongs to a club of somebody else", mend="Ask the lead to give you the club"
    )
    return _page(request, RefusedView("Not your club", error), NOT_ALLOWED)


def forged(request: HttpRequest, reason: str = "") -> HttpResponse:
    """The page for a post without its token: an old page, or another site behind it."""
    del reason
    if asks_json(request):
        return held(HoldReason.STALE)
    error = NearmarkError(
        "this form is out of date, nothing was saved", mend="Load the page again, then send it"
    )
    return _page(request, RefusedView(refusal_words("That was not done"), error), NOT_ALLOWED)


def not_saved(request: HttpRequest) -> HttpResponse:
    """The page when the database could not save."""
    error = NearmarkError(_NOT_SAVED_WHAT, mend=_NOT_SAVED_MEND)
    return _page(request, RefusedView(refusal_words("Nothing was saved"), error), NOT_SAVED)


def not_found(request: HttpRequest, exception: Exception) -> HttpResponse:
    """The page for an address that is not there."""
    del exception
    error = NearmarkError("there is no such page", mend="Go back to the first page")
    return _page(request, RefusedView("Not here", error), 404)


def bad_request(request: HttpRequest, exception: Exception) -> HttpResponse:
    """The page for what could not be read: a torn form, too many fields, another name."""
    kinds = (kind for kind in _BAD_REQUEST if isinstance(exception, kind))
    return _plain(request, *_BAD_REQUEST[next(kinds, Exception)], 400)


_AGAIN: Final = "Go back, load the page again, and send it once more"
_BAD_REQUEST: Final[dict[type[Exception], tuple[str, str]]] = {
    DisallowedHost: (
        "this site is not known by that name",
        "Open the address that the computer with Nearmark shows",
    ),
    TooManyFieldsSent: ("too many fields came at once, nothing was saved", "Send a smaller form"),
    TooManyFilesSent: ("too many files came at once, nothing was saved", "Choose fewer files"),
    Exception: ("what was sent could not be read, nothing was saved", _AGAIN),
}
"""The first class that fits."""


def forbidden(request: HttpRequest, exception: Exception) -> HttpResponse:
    """The page for what is never allowed."""
    del exception
    return _plain(request, "this is not allowed, nothing was saved", _AGAIN, NOT_ALLOWED)


def wrong_method(request: HttpRequest, allowed: str) -> HttpResponse:
    """The page for an address that is there to be sent to only, opened like a page."""
    answer = _plain(request, "this address shows no page", "Go back to the page before", 405)
    answer["Allow"] = allowed
    return answer


def too_large(request: HttpRequest, error: NearmarkError) -> HttpResponse:
    """The answer to a post above the limit; nobody has looked yet who sent it."""
    what = f"{capital(error.where)} {error.what} ({error.value})"
    return _plain(request, what, error.mend, TOO_LARGE)


def _plain(request: HttpRequest, what: str, mend: str, status: int) -> HttpResponse:
    """A page without the frame of the site, which asks the database who looks."""
    if asks_json(request):
        return JsonResponse({"what": capital(what), "mend": mend}, status=status)
    body = (
        f'<!doctype html><html lang="en"><meta name="viewport" content="width=device-width">'
        f"<title>Nearmark</title><h1>{capital(what)}.</h1><p>{mend}.</p>"
        f"<p>What was saved before is safe. Go back to what you typed.</p></html>"
    )
    return HttpResponse(body, status=status)


def our_fault(request: HttpRequest) -> HttpResponse:
    """The page for a defect or a failed disk; it asks nothing of the database."""
    status, what, mend = _OUR_FAULT
    if isinstance(sys.exception(), DatabaseError):
        status, what, mend = NOT_SAVED, _NOT_SAVED_WHAT, _NOT_SAVED_MEND
    return _plain(request, what, mend, status)


_OUR_FAULT: Final = (
    500,
    "something in Nearmark broke",
    "Write the entry on paper, go back and try again; the terminal where Nearmark runs says more",
)
