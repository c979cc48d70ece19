"""The short way of an entry: what the whole site let in once is not taken apart anew each time.

Of the time an entry took, nine tenths went into asking again what a hundred entries before had
been answered: the host, the token, the cookies, the session, the account, the route, the headers.
They are a pure function of the headers and the token that came, as long as no device, no account
and not this session has changed, and that one look at the database tells.

The lane has one answer of its own, "saved".  Everything else (a refusal, a locked device, another
person's entry, a failure) goes through the whole site as if the lane were not there; an entry
carries its key, so that one saved a moment before is answered there as saved.
"""

import io
import json
import logging
import threading
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from typing import Any, Final
from urllib.parse import parse_qsl

from django.conf import settings
from django.db import DatabaseError
from django.http import parse_cookie
from django.urls import reverse

from nearmark.site import clock
from nearmark.site.desk import desk_before
from nearmark.site.entry_post import STRIKE, keep_cells
from nearmark.site.middleware import SEEN_EVERY
from nearmark.site.models import Device
from nearmark.site.roles import Role, may_open
from nearmark.site.sight import Admission, sight_of
from nearmark.site.visitor import KNOWN_DEVICES

MOST_BYTES: Final = 4_000
"""Of a post that goes the short way: a few cells."""

MOST_KNOWN: Final = 1_000
"""Of what was let in; then it is learnt anew."""

Environ = dict[str, Any]
Start = Callable[..., Any]
Site = Callable[[Environ, Start], Iterable[bytes]]

_Asked = tuple[str | None, ...]
"""What decides whether somebody is let in, as it came."""

_ROUTE: Final = "entry-save"
_ASKED_ABOUT: Final = (
    *("wsgi.url_scheme", "HTTP_HOST", "HTTP_ORIGIN", "HTTP_REFERER", "HTTP_COOKIE"),
    settings.CSRF_HEADER_NAME,  # where a token may stand instead of in the form
)
_OF_ONE_ANSWER: Final = frozenset({"content-length", "set-cookie"})


@dataclass(frozen=True, slots=True)
class _LetIn:
    """Who came through the whole site, and the headers he was answered with."""

    admission: Admission
    device: Device
    headers: tuple[tuple[str, str], ...]


class EntryLane:
    """The site, with the short way before it.

    Parameters
    ----------
    site : WSGI application
    """

    def __init__(self, site: Site) -> None:
        self._site = site
        self._known: dict[_Asked, _LetIn] = {}
        self._lock = threading.Lock()
        self._address = reverse(_ROUTE)

    def __call__(self, environ: Environ, start_response: Start) -> Iterable[bytes]:
        """Answer one request."""
        length = _length_of_entry(environ) if environ["PATH_INFO"] == self._address else None
        if length is None:
            return self._site(environ, start_response)
        body = environ["wsgi.input"].read(length)
        environ["wsgi.input"] = io.BytesIO(body)
        fields = dict(parse_qsl(body.decode("ascii", "replace"), keep_blank_values=True))
        asked = (*map(environ.get, _ASKED_ABOUT), fields.get("csrfmiddlewaretoken"))
        let_in = self._known.get(asked)
        told = None if let_in is None else _saved(let_in, fields)
        if let_in is None or told is None:
            return self._by_the_whole_site(environ, start_response, asked)
        answer = json.dumps(told).encode()
        start_response("200 OK", [*let_in.headers, ("Content-Length", str(len(answer)))])
        return [answer]

    def _by_the_whole_site(
        self, environ: Environ, start_response: Start, asked: _Asked
    ) -> Iterable[bytes]:
        def start(status: str, headers: Sequence[tuple[str, str]], *error: Any) -> Any:
            if status.startswith("200"):
                self._learn(environ, asked, headers)
            return start_response(status, headers, *error)

        return self._site(environ, start)

    def _learn(self, environ: Environ, asked: _Asked, headers: Sequence[tuple[str, str]]) -> None:
        cookies = parse_cookie(environ.get("HTTP_COOKIE", ""))
        session_key = cookies.get(settings.SESSION_COOKIE_NAME, "")
        try:
            sight = sight_of(session_key, clock.now())
        except DatabaseError:  # what was saved is told all the same
            return
        # Looked for after the site has answered: a device that changed meanwhile is not there.
        device = KNOWN_DEVICES.find(sight)
        if device is None or sight.doors is None or sight.session is None:
            return
        kept = tuple(header for header in headers if header[0].lower() not in _OF_ONE_ANSWER)
        with self._lock:
            if len(self._known) >= MOST_KNOWN:
                self._known.clear()
            admission = Admission(session_key, sight.doors, sight.session)
            self._known[asked] = _LetIn(admission, device, kept)


def _length_of_entry(environ: Environ) -> int | None:
    """Bytes of a post that may go the short way; ``None`` for everything else."""
    if environ.get("REQUEST_METHOD") != "POST":
        return None
    if environ.get("HTTP_ACCEPT") != "application/json" or environ.get("QUERY_STRING"):
        return None
    if not environ.get("CONTENT_TYPE", "").startswith("application/x-www-form-urlencoded"):
        return None
    length = environ.get("CONTENT_LENGTH") or ""
    if not (length.isascii() and length.isdigit()) or int(length) > MOST_BYTES:
        return None
    return int(length)


def _saved(let_in: _LetIn, fields: dict[str, str]) -> dict[str, Any] | None:
    """What is told when all of a post was saved; ``None`` when the whole site has to speak."""
    device, account, now = let_in.device, let_in.device.account, clock.now()
    if fields.get(STRIKE) or fields.get("reader") != str(account.pk):
        return None
    if device.locked or not device.is_open(now) or abs(now - device.seen_at) > SEEN_EVERY:
        return None
    desk = desk_before()
    if desk.record is None or not may_open(_ROUTE, Role(account.role), released=desk.is_released):
        return None
    try:
        outcome = keep_cells(fields, desk, account.name, let_in.admission)
    except Exception:  # the whole site says what is wrong, or it was gone the second time
        logging.getLogger(__name__).info("an entry goes the long way", exc_info=True)
        return None
    return None if outcome.refused else outcome.told()
