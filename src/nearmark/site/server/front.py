"""The front of the server: it takes a request in whole before a thread is given to it.

A thread that waits for the rest of a body can be made to wait for ever, by a tablet that lost its
Wi-Fi in the middle or by somebody who does so on purpose.  Here waiting costs a socket and a few
bytes, and it has an end.
"""

import asyncio
import io
import json
import logging
import os
import sys
import time
from collections.abc import Awaitable, Callable, Collection, Iterable
from concurrent.futures import Executor, ThreadPoolExecutor
from contextlib import AsyncExitStack
from dataclasses import dataclass
from typing import Any, Final
from urllib.parse import unquote_to_bytes

from nearmark.site.common.limits import FORM_BYTES, MAX_UPLOAD_BYTES

Scope = dict[str, Any]
Message = dict[str, Any]
Receive = Callable[[], Awaitable[Message]]
Send = Callable[[Message], Awaitable[None]]
Environ = dict[str, Any]
Site = Callable[[Environ, Callable[..., Any]], Iterable[bytes]]

THREADS: Final = 16
"""Requests answered at the same time; entries wait for the write lock in any case."""

HASH_THREADS: Final = max(1, (os.cpu_count() or 2) // 2)
"""A password hash takes a processor for a quarter of a second: half of them are left to entries."""

PATIENCE_S: Final = 15.0
"""How long a body may bring nothing."""

MIN_BYTES_PER_S: Final = 20_000
"""A body that comes in more slowly than this is cut off, after ``PATIENCE_S``."""

MAX_KEPT_BYTES: Final = MAX_UPLOAD_BYTES + FORM_BYTES
"""Of one body; the rest is read and thrown away, so that a browser shows the refusal."""

MAX_READ_BYTES: Final = 5 * MAX_UPLOAD_BYTES
"""A longer body is cut off."""

LARGE_BYTES: Final = 1_000_000
MAX_LARGE_AT_ONCE: Final = 8
"""Bodies above ``LARGE_BYTES`` that are taken in at the same time: they lie in memory."""


@dataclass(frozen=True, slots=True)
class _Answer:
    status: int
    headers: list[tuple[bytes, bytes]]
    body: bytes


class Front:
    """An ASGI application before a WSGI one.

    ``site``: WSGI application. ``hash_paths``: addresses at which passwords are hashed: posts there
    have threads of their own.
    """

    def __init__(self, site: Site, hash_paths: Collection[str]) -> None:
        self._site = site
        self._hash_paths = frozenset(hash_paths)
        self._threads = ThreadPoolExecutor(THREADS, "answer")
        self._hash_threads = ThreadPoolExecutor(HASH_THREADS, "hash")
        self._large = asyncio.Semaphore(MAX_LARGE_AT_ONCE)

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer one request."""
        if scope["type"] != "http":
            return
        async with AsyncExitStack() as room:
            await self._answer(scope, receive, send, room)

    async def _answer(
        self, scope: Scope, receive: Receive, send: Send, room: AsyncExitStack
    ) -> None:
        headers = _headers(scope)
        try:
            body, n_bytes = await self._body(receive, room)
        except TimeoutError:
            answer = _plain(headers, 408, *_TOO_SLOW)
        else:
            environ = _environ(scope, headers, body, n_bytes)
            loop = asyncio.get_running_loop()
            answer = await loop.run_in_executor(
                self._lane(environ), self._ask_site, environ, headers
            )
        start = {"status": answer.status, "headers": answer.headers}
        await send({"type": "http.response.start", **start})
        await send({"type": "http.response.body", "body": answer.body})

    async def _body(self, receive: Receive, room: AsyncExitStack) -> tuple[bytes, int]:
        """What was sent, at most ``MAX_KEPT_BYTES`` of it, and how many bytes came."""
        kept, n_bytes, began = bytearray(), 0, time.monotonic()
        is_large = False
        while True:
            left = began + PATIENCE_S + n_bytes / MIN_BYTES_PER_S - time.monotonic()
            async with asyncio.timeout(left):
                message = await receive()
            if message["type"] == "http.disconnect":
                raise TimeoutError
            part = message.get("body", b"")
            n_bytes += len(part)
            if n_bytes <= MAX_KEPT_BYTES:
                kept += part
            if not message.get("more_body") or n_bytes > MAX_READ_BYTES:
                return bytes(kept), n_bytes
            if n_bytes > LARGE_BYTES and not is_large:
                is_large = True
                async with asyncio.timeout(PATIENCE_S):
                    await room.enter_async_context(self._large)
                began = time.monotonic() - n_bytes / MIN_BYTES_PER_S

    def _lane(self, environ: Environ) -> Executor:
        is_hashed = environ["REQUEST_METHOD"] == "POST" and environ["PATH_INFO"] in self._hash_paths
        return self._hash_threads if is_hashed else self._threads

    def _ask_site(self, environ: Environ, asked: dict[str, str]) -> _Answer:
        started: list[_Answer] = []

        def start(status: str, headers: list[tuple[str, str]], *_: Any) -> None:
            raw = [
                (name.lower().encode("latin-1"), text.encode("latin-1")) for name, text in headers
            ]
            started.append(_Answer(int(status[:3]), raw, b""))

        try:
            parts = self._site(environ, start)
            try:
                content = b"".join(parts)
            finally:
                if hasattr(parts, "close"):
                    parts.close()
        except Exception:
            logging.getLogger(__name__).exception("no page was at work yet")
            return _plain(asked, 500, *_BROKEN)
        return _Answer(started[-1].status, started[-1].headers, content)


def _headers(scope: Scope) -> dict[str, str]:
    """Of a request, by their names in an environ."""
    found: dict[str, str] = {}
    for raw_name, raw_text in scope["headers"]:
        name, text = raw_name.decode("latin-1"), raw_text.decode("latin-1")
        if "_" in name:  # would pass for the one with a dash
            continue
        key = name.upper().replace("-", "_")
        between = "; " if key == "COOKIE" else ","
        found[key] = f"{found[key]}{between}{text}" if key in found else text
    return found


def _plain(headers: dict[str, str], status: int, what: str, mend: str) -> _Answer:
    """A page of the front itself: nothing in it was typed by anybody."""
    if headers.get("ACCEPT") == "application/json":
        kind, body = "application/json", json.dumps({"what": what, "mend": mend})
    else:
        kind = "text/html; charset=utf-8"
        body = (
            f'<!doctype html><html lang="en"><meta name="viewport" content="width=device-width">'
            f"<title>Nearmark</title><h1>{what}.</h1><p>{mend}.</p></html>"
        )
    more = {"content-type": kind, "cache-control": "no-store", "content-length": str(len(body))}
    if status == 408:
        more["connection"] = "close"
    return _Answer(status, [(k.encode(), v.encode()) for k, v in more.items()], body.encode())


_TOO_SLOW: Final = (
    "The connection was too slow or broke off, nothing was saved",
    "Go back to the page, where what you typed still is, and send it again",
)
_BROKEN: Final = (
    "Something in Nearmark broke",
    "Go back and try again; the terminal where Nearmark runs says more",
)


def _environ(scope: Scope, headers: dict[str, str], body: bytes, n_bytes: int) -> Environ:
    host, port = scope.get("server") or ("localhost", 0)
    names = {
        k if k in {"CONTENT_TYPE", "CONTENT_LENGTH"} else f"HTTP_{k}": v for k, v in headers.items()
    }
    return names | {
        "REQUEST_METHOD": scope["method"],
        "SCRIPT_NAME": "",
        "PATH_INFO": unquote_to_bytes(scope["raw_path"]).decode("latin-1"),
        "QUERY_STRING": scope["query_string"].decode("latin-1"),
        "CONTENT_LENGTH": str(n_bytes),
        "SERVER_NAME": str(host),
        "SERVER_PORT": str(port),
        "SERVER_PROTOCOL": f"HTTP/{scope['http_version']}",
        "REMOTE_ADDR": (scope.get("client") or ("", 0))[0],
        "wsgi.version": (1, 0),
        "wsgi.url_scheme": scope["scheme"],
        "wsgi.input": io.BytesIO(body),
        "wsgi.errors": sys.stderr,
        "wsgi.multithread": True,
        "wsgi.multiprocess": False,
        "wsgi.run_once": False,
    }
