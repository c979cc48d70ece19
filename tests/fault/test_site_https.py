"""A certificate of this computer's own: real TLS, checked by the standard library's OpenSSL."""

import http.client
import socket
import ssl
import stat
import subprocess
import sys
import time
from contextlib import closing
from datetime import UTC, datetime, timedelta

import pytest

from nearmark.site.server.own_certificate import CERTIFICATE, VALID, fingerprint, own_certificate

NAMES = ("192.168.7.20", "localhost", "127.0.0.1")
DAY = datetime(2027, 5, 1, tzinfo=UTC)


@pytest.mark.parametrize("path", [0, 1], ids=["certificate", "key"])
def test_only_the_owner_reads_it(tmp_path, path):
    made = own_certificate(tmp_path, NAMES, now=DAY)[path]

    assert stat.S_IMODE(made.stat().st_mode) == 0o600


@pytest.mark.parametrize(
    ("names", "later", "is_kept"),
    [
        (NAMES, timedelta(days=300), True),
        (NAMES[1:], timedelta(0), True),
        ((*NAMES, "hall-laptop"), timedelta(0), False),
        (NAMES, timedelta(days=340), False),
    ],
)
def test_it_is_kept_while_it_serves(tmp_path, names, later, is_kept):
    """A new one would make every tablet warn again."""
    before = fingerprint(own_certificate(tmp_path, NAMES, now=DAY)[0])
    after = fingerprint(own_certificate(tmp_path, names, now=DAY + later)[0])

    assert (before == after) is is_kept
    assert timedelta(days=398) > VALID


def test_a_broken_certificate_is_made_anew(tmp_path):
    own_certificate(tmp_path, NAMES, now=DAY)
    (tmp_path / CERTIFICATE).write_bytes(b"\xff\x00 noise")

    assert len(fingerprint(own_certificate(tmp_path, NAMES, now=DAY)[0])) == 95


def test_the_server_answers_over_tls_with_it(site_kill, fill, tmp_path):
    with closing(socket.socket()) as probe:
        probe.bind(("127.0.0.1", 0))
        port = probe.getsockname()[1]
    data = tmp_path / "data"
    fill(data)
    command = [sys.executable, "-m", "nearmark.cli", "serve", "--local", "--https"]
    command += ["--data", str(data), "--port", str(port)]
    server = subprocess.Popen(
        command, env=site_kill.environment(), stdout=subprocess.PIPE, stderr=subprocess.DEVNULL
    )
    assert server.stdout is not None
    try:
        said = b""
        while b"Ctrl+C" not in said:  # said when it begins to serve
            line = server.stdout.readline()
            assert line, "the server stopped at its start"
            said += line
        trusted = ssl.create_default_context(cafile=str(data / CERTIFICATE))
        assert fingerprint(data / CERTIFICATE).encode() in said
        assert b"https://127.0.0.1" in said
        assert first_answer(port, trusted) < 400
        with pytest.raises(ssl.SSLCertVerificationError):
            first_answer(port, ssl.create_default_context())
    finally:
        server.terminate()
        server.wait(20)
        server.stdout.close()


def first_answer(port, context):
    """Status of the first answer; the server listens a moment after it has said so."""
    until = time.monotonic() + 60
    while time.monotonic() < until:
        link = http.client.HTTPSConnection("127.0.0.1", port, timeout=20, context=context)
        with closing(link):
            try:
                link.request("GET", "/results/")
                with link.getresponse() as answer:
                    answer.read()
                    return answer.status
            except ConnectionError:
                continue
    raise TimeoutError
