"""The front takes a request in whole, within its time, before a thread is given to it."""

import asyncio
import json
import threading

import pytest

from nearmark.site.server import front
from nearmark.site.server.front import Front


class Site:
    """A WSGI application that keeps what it was asked and answers what it was sent."""

    def __init__(self):
        self.asked = []

    def __call__(self, environ, start):
        self.asked.append(environ)
        start("200 OK", [("Content-Type", "text/plain")])
        return [environ["wsgi.input"].read()]


def scope_of(path="/entry/save/", method="POST", **headers):
    return {
        "type": "http",
        "http_version": "1.1",
        "method": method,
        "scheme": "http",
        "path": path,
        "raw_path": path.encode(),
        "query_string": b"",
        "client": ("10.0.0.7", 5000),
        "server": ("0.0.0.0", 8000),
        "headers": [(k.replace("_", "-").encode(), v.encode()) for k, v in headers.items()],
    }


async def ask(the_front, scope, *messages):
    """One request; after the last message nothing more ever comes."""
    left, said = list(messages), []

    async def receive():
        if left:
            return left.pop(0)
        return await asyncio.Event().wait()

    async def send(message):
        said.append(message)

    await the_front(scope, receive, send)
    return said[0]["status"], said[1]["body"]


def part(body=b"", *, more=False):
    return {"type": "http.request", "body": body, "more_body": more}


@pytest.fixture
def site():
    return Site()


@pytest.fixture
def impatient(monkeypatch):
    monkeypatch.setattr(front, "PATIENCE_S", 0.05)


def test_a_whole_body_comes_to_the_site_in_one_piece(site):
    said = asyncio.run(ask(Front(site, ()), scope_of(), part(b"ab", more=True), part(b"cd")))

    assert said == (200, b"abcd")
    assert site.asked[0]["CONTENT_LENGTH"] == "4"
    assert site.asked[0]["REMOTE_ADDR"] == "10.0.0.7"


def test_half_a_body_is_cut_off_and_never_comes_to_the_site(site, impatient):
    status, page = asyncio.run(ask(Front(site, ()), scope_of(), part(b"v-1-1=28", more=True)))

    assert status == 408
    assert b"nothing was saved" in page
    assert site.asked == []


def test_half_a_body_whose_sender_has_gone_never_comes_to_the_site(site):
    gone = {"type": "http.disconnect"}

    assert asyncio.run(ask(Front(site, ()), scope_of(), part(b"a", more=True), gone))[0] == 408
    assert site.asked == []


def test_a_script_reads_what_to_do_as_data(site, impatient):
    scope = scope_of(accept="application/json")

    _, body = asyncio.run(ask(Front(site, ()), scope, part(b"a", more=True)))

    assert set(json.loads(body)) == {"what", "mend"}


def test_a_body_that_trickles_in_is_cut_off_however_often_a_byte_comes(site, impatient):
    async def trickle():
        async def receive():
            await asyncio.sleep(0.01)
            return part(b"a", more=True)

        said = []

        async def send(message):
            said.append(message)

        await asyncio.wait_for(Front(site, ())(scope_of(), receive, send), 5)
        return said[0]["status"]

    assert asyncio.run(trickle()) == 408


def test_two_hundred_half_bodies_keep_no_thread_from_a_page(site):
    n_slow = 200

    async def all_at_once():
        the_front = Front(site, ())
        slow = [
            asyncio.ensure_future(ask(the_front, scope_of(), part(b"abc", more=True)))
            for _ in range(n_slow)
        ]
        await asyncio.sleep(0)
        page = await ask(the_front, scope_of("/results/", "GET"), part())
        still = sum(not one.done() for one in slow)
        for one in slow:
            one.cancel()
        await asyncio.gather(*slow, return_exceptions=True)
        return page, still

    assert asyncio.run(all_at_once()) == ((200, b""), n_slow)


def test_what_is_too_large_is_thrown_away_and_its_length_is_kept(site, monkeypatch):
    monkeypatch.setattr(front, "MAX_KEPT_BYTES", 3)

    status, kept = asyncio.run(
        ask(Front(site, ()), scope_of(), part(b"abc", more=True), part(b"d"))
    )

    assert (status, kept) == (200, b"abc")
    assert site.asked[0]["CONTENT_LENGTH"] == "4"  # refused by its length, in words


def test_large_bodies_wait_for_each_other_and_no_small_one_waits(site, monkeypatch):
    monkeypatch.setattr(front, "LARGE_BYTES", 2)
    monkeypatch.setattr(front, "MAX_LARGE_AT_ONCE", 1)
    monkeypatch.setattr(front, "PATIENCE_S", 0.2)

    async def three():
        the_front = Front(site, ())
        large = [
            asyncio.ensure_future(ask(the_front, scope_of(), part(b"abc", more=True)))
            for _ in range(2)
        ]
        await asyncio.sleep(0.01)
        small = await ask(the_front, scope_of(), part(b"a"))
        return small, [status for status, _ in await asyncio.gather(*large)]

    assert asyncio.run(three()) == ((200, b"a"), [408, 408])


def test_a_header_with_a_low_dash_does_not_pass_for_another(site):
    scope = scope_of()
    scope["headers"] += [(b"x_forwarded_for", b"1.2.3.4"), (b"cookie", b"a=1"), (b"cookie", b"b=2")]

    asyncio.run(ask(Front(site, ()), scope, part()))

    assert "HTTP_X_FORWARDED_FOR" not in site.asked[0]
    assert site.asked[0]["HTTP_COOKIE"] == "a=1; b=2"


def test_an_address_that_is_no_text_comes_through_as_its_bytes(site):
    scope = scope_of() | {"raw_path": b"/kit/%FF%C3%A9/"}

    asyncio.run(ask(Front(site, ()), scope, part()))

    assert site.asked[0]["PATH_INFO"] == b"/kit/\xff\xc3\xa9/".decode("latin-1")


def test_a_site_that_breaks_before_any_page_answers_in_words():
    def broken(environ, start):
        raise LookupError("secret detail")

    status, page = asyncio.run(ask(Front(broken, ()), scope_of(), part()))

    assert status == 500
    assert b"terminal" in page
    assert b"secret" not in page


def test_password_hashes_leave_the_other_threads_free():
    gate = threading.Event()

    def site(environ, start):
        if environ["PATH_INFO"] == "/sign-in/":
            gate.wait(10)
        start("200 OK", [])
        return [b"ok"]

    async def flood():
        the_front = Front(site, ["/sign-in/"])
        slow = [
            asyncio.ensure_future(ask(the_front, scope_of("/sign-in/"), part()))
            for _ in range(3 * front.THREADS)
        ]
        await asyncio.sleep(0)
        try:
            entry = await asyncio.wait_for(ask(the_front, scope_of(), part()), 5)
        finally:
            gate.set()
        await asyncio.gather(*slow)
        return entry

    assert asyncio.run(flood()) == (200, b"ok")
