"""The real server under half-sent posts and an answering process that is killed again and again."""

import os
import signal
import socket
import time
from contextlib import ExitStack, closing
from pathlib import Path

import pytest

N_SLOW = 40
"""More than the threads that answer: 16 of them stopped the whole site once."""

MAX_WAIT_S = 1.0

pytestmark = pytest.mark.slow


@pytest.mark.parametrize("address", ["/entry/save/", "/sign-in/", "/not-here/"])
@pytest.mark.parametrize("length", [900, 30_000_000])
@pytest.mark.parametrize("is_signed_in", [True, False])
def test_half_sent_posts_hold_nobody_up(site, address, length, is_signed_in):
    session = f"sessionid={site.readers[0][0]}; " if is_signed_in else ""
    head = (
        f"POST {address} HTTP/1.1\r\nHost: 127.0.0.1:{site.port}\r\n"
        f"Content-Type: application/x-www-form-urlencoded\r\nContent-Length: {length}\r\n"
        f"Cookie: {session}csrftoken={'a' * 32}\r\n\r\nabc"
    )
    with ExitStack() as held:
        for _ in range(N_SLOW):
            link = held.enter_context(closing(socket.create_connection(("127.0.0.1", site.port))))
            link.sendall(head.encode())
        waits = [seconds_of(site) for _ in range(3)]

    assert max(waits) < MAX_WAIT_S, waits


def test_a_connection_that_breaks_in_the_middle_of_a_post_costs_nothing(site):
    head = (
        f"POST /entry/save/ HTTP/1.1\r\nHost: 127.0.0.1:{site.port}\r\n"
        f"Content-Length: 900\r\nCookie: sessionid={site.readers[0][0]}\r\n\r\nv-1-1=28"
    )
    for _ in range(100):
        with closing(socket.create_connection(("127.0.0.1", site.port))) as link:
            link.sendall(head.encode())

    assert seconds_of(site) < MAX_WAIT_S


def seconds_of(site) -> float:
    began = time.monotonic()
    assert site.answers()
    return time.monotonic() - began


@pytest.mark.skipif(not Path("/proc/self/task").exists(), reason="finds processes by /proc")
def test_the_server_goes_on_and_says_so_when_its_answering_process_is_killed_again_and_again(site):
    n_kills, ended = 3, "ended by itself and is started again"
    n_before = site.terminal.read_text().count(ended)
    for _ in range(n_kills):
        (answering,) = site.answering()
        os.kill(answering, signal.SIGKILL)
        site.wait_until_it_answers()

    assert site.process.poll() is None
    said = site.terminal.read_text()
    assert said.count(ended) == n_before + n_kills
    assert "nearmark doctor" in said
