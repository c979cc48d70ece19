"""Requests that no browser makes, at the real server: refused or cut off, and it goes on."""

import http.client
import socket
from contextlib import closing, suppress

import pytest

WAIT_S = 15
LEAKS = (b"Traceback", b"site-packages", b"nearmark/site/")

pytestmark = pytest.mark.slow


def head(site, first: str = "GET /results/ HTTP/1.1", **more: str) -> bytes:
    lines = [first, f"Host: 127.0.0.1:{site.port}", "Connection: close"]
    lines += [f"{name.replace('_', '-')}: {value}" for name, value in more.items()]
    return "\r\n".join([*lines, "", ""]).encode()


def told(site, sent: bytes) -> tuple[int, bytes]:
    """Status and answer; 0 when the server hung up."""
    with closing(socket.create_connection(("127.0.0.1", site.port), timeout=WAIT_S)) as link:
        said = b""
        # It may hang up before all is sent, or keep waiting for more.
        with suppress(OSError):
            link.sendall(sent)
            link.shutdown(socket.SHUT_WR)
            while part := link.recv(65_536):
                said += part
    status = said.split(b" ", 2)[1] if said.startswith(b"HTTP/") else b"0"
    return int(status), said


REQUESTS = {
    "another host": lambda s: head(s).replace(b"Host: 127", b"Host: evil.example\r\nX: 127"),
    "no host": lambda _: b"GET /results/ HTTP/1.1\r\nConnection: close\r\n\r\n",
    "two hosts": lambda s: head(s, Host="evil.example"),
    "forwarded host": lambda s: head(s, X_Forwarded_Host="evil.example"),
    "huge cookie": lambda s: head(s, Cookie="a=" + "x" * 300_000),
    "many cookies": lambda s: head(s, Cookie="; ".join(f"c{n}={n}" for n in range(4_000))),
    "huge header": lambda s: head(s, X_Long="x" * 2_000_000),
    "many headers": lambda s: head(s, **{f"X_{n}": "1" for n in range(5_000)}),
    "huge address": lambda s: head(s, f"GET /{'a' * 500_000} HTTP/1.1"),
    "a null": lambda s: head(s, "GET /kit/%00/ HTTP/1.1"),
    "up and away": lambda s: head(s, "GET /static/0/..%2f..%2f..%2f..%2fetc/passwd HTTP/1.1"),
    "up and away, plain": lambda s: head(s, "GET /static/../../../../etc/passwd HTTP/1.1"),
    "no method": lambda s: head(s, "FROB /results/ HTTP/1.1"),
    "trace": lambda s: head(s, "TRACE /results/ HTTP/1.1"),
    "no http": lambda _: b"\x16\x03\x01\x02\x00" + b"\xff" * 600,
    "half a post": lambda s: head(s, "POST /sign-in/ HTTP/1.1", Content_Length="1000") + b"name=",
    "negative length": lambda s: head(s, "POST /sign-in/ HTTP/1.1", Content_Length="-1"),
    "two lengths": lambda s: head(s, "POST /sign-in/ HTTP/1.1", Content_Length="4,40") + b"name",
    "bad chunk": lambda s: (
        head(s, "POST /sign-in/ HTTP/1.1", Transfer_Encoding="chunked") + b"zz\r"
    ),
    "odd session": lambda s: head(s, Cookie="sessionid='; DROP TABLE site_account; --"),
    "odd signs": lambda s: head(s, Cookie="sessionid=\u00ff\u202e; csrftoken=\x01"),
}


@pytest.mark.parametrize("kind", REQUESTS)
def test_a_request_that_no_browser_makes_gets_no_further(site, kind):
    status, said = told(site, REQUESTS[kind](site))

    assert status < 500, said[:300]
    assert not any(leak in said for leak in LEAKS)
    assert b"root:" not in said
    assert site.answers()


@pytest.mark.parametrize("kind", ["another host", "two hosts"])
def test_another_host_name_is_refused(site, kind):
    assert told(site, REQUESTS[kind](site))[0] in {0, 400}


def test_a_forwarded_host_name_is_not_believed(site):
    assert b"evil.example" not in told(site, REQUESTS["forwarded host"](site))[1]


def test_a_post_of_25_mb_is_refused_and_the_server_goes_on(site):
    session, _ = site.readers[0]
    body = b"csrfmiddlewaretoken=" + b"a" * 32 + b"&heat=" + b"x" * 25_000_000
    headers = {
        "Cookie": f"sessionid={session}; csrftoken={'a' * 32}",
        "Content-Type": "application/x-www-form-urlencoded",
    }
    with closing(http.client.HTTPConnection("127.0.0.1", site.port, timeout=60)) as link:
        link.request("POST", "/entry/save/", body, headers)
        answer = link.getresponse()
        page = answer.read()

    assert answer.status in {400, 413}
    assert not any(leak in page for leak in LEAKS)
    assert b"20 MB" in page
    assert site.answers()


def test_a_forged_token_saves_nothing_and_says_what_to_do(site):
    session, _ = site.readers[0]
    headers = {
        "Cookie": f"sessionid={session}; csrftoken={'a' * 32}",
        "Content-Type": "application/x-www-form-urlencoded",
    }
    with closing(http.client.HTTPConnection("127.0.0.1", site.port, timeout=60)) as link:
        link.request("POST", "/entry/save/", f"csrfmiddlewaretoken={'b' * 32}", headers)
        answer = link.getresponse()
        page = answer.read().decode()

    assert answer.status == 403
    assert "Load the page again" in page


def test_clients_that_send_nothing_keep_nobody_out(site):
    silent = [socket.create_connection(("127.0.0.1", site.port), timeout=WAIT_S) for _ in range(60)]
    try:
        for n, link in enumerate(silent):
            link.sendall(b"POST /sign-in/ HTTP/1.1\r\nHost: 127.0.0.1\r\n"[: 10 + n % 30])
        assert site.answers()
    finally:
        for link in silent:
            link.close()
