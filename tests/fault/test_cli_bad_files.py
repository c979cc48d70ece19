"""What drawn inputs of ``tests/property`` have found at the command line, kept as plain cases."""

import json
import ssl
from datetime import UTC, datetime

import pytest

from nearmark.cli import jars, main
from nearmark.site.server.own_certificate import own_certificate

pytestmark = pytest.mark.fault


def refusal(capsys, *words):
    """The error that a command prints, and what the person at the terminal sees."""
    with pytest.raises(SystemExit) as ended:
        main([*words, "--json"])
    shown = capsys.readouterr()
    assert ended.value.code == 2, shown.err
    return json.loads(shown.out)["error"], shown.err


def test_control_signs_of_a_mistyped_word_are_shown_not_obeyed(capsys):
    error, shown = refusal(capsys, "key", "event", "\u2066\x1b[2J")

    assert r"\u2066\x1b[2J" in error["what"]
    assert r"\u2066" in shown
    assert not {"\u2066", "\x1b"} & set(shown)


@pytest.mark.parametrize("command", ["backup", "restore"])
def test_a_name_too_long_for_a_file_is_refused(capsys, tmp_path, command):
    (tmp_path / "site").mkdir()
    error, _ = refusal(capsys, command, "x" * 300, "--data", str(tmp_path / "site"))
    longer, _ = refusal(capsys, command, str(tmp_path / "a"), "--data", "x" * 300)

    assert error["mend"]
    assert longer["mend"]


def test_a_percentage_out_of_range_says_what_to_write(capsys):
    words = ["--count", "400", "--material", "chickpea", "--resolution", "0.1", "--limit", "-1"]
    error, _ = refusal(capsys, "plan", *words)

    assert error["mend"] == "Write a number such as 1.5"


def test_a_certificate_that_is_none_is_refused_before_the_server_says_where_it_is(capsys, tmp_path):
    (tmp_path / "a.pem").write_text("not a certificate")
    pem = str(tmp_path / "a.pem")
    data = tmp_path / "data"
    words = ["--data", str(data), "--local", "--certificate", pem, "--certificate-key", pem]
    error, _ = refusal(capsys, "serve", *words)

    assert error["where"] == "--certificate and --certificate-key"
    assert not data.exists()


@pytest.mark.parametrize("host", ["a..b", "x" * 80, "\u202e\u2066"])
def test_a_host_that_is_no_name_is_refused(capsys, tmp_path, host):
    words = ["--data", str(tmp_path / "data"), "--local", "--https", "--host", host]
    error, _ = refusal(capsys, "serve", *words)

    assert error["where"] == "--host"
    assert not (tmp_path / "data").exists()


def test_a_damaged_key_of_its_own_is_made_anew(tmp_path):
    now = datetime(2027, 5, 8, tzinfo=UTC)
    certificate, key = own_certificate(tmp_path, ["t\u00e4lchen.local"], now=now)
    made = certificate.read_bytes()
    assert own_certificate(tmp_path, ["t\u00e4lchen.local"], now=now)[0].read_bytes() == made
    key.write_bytes(b"damaged")

    certificate, key = own_certificate(tmp_path, ["t\u00e4lchen.local"], now=now)

    assert certificate.read_bytes() != made
    ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER).load_cert_chain(certificate, key)


@pytest.mark.parametrize("content", [None, b"\xff\xfe"])
def test_a_proof_that_cannot_be_read_is_refused_with_a_mend(capsys, tmp_path, content):
    if content is not None:
        (tmp_path / "proof.txt").write_bytes(content)
    error, _ = refusal(capsys, "verify", "--pair-proof", str(tmp_path / "proof.txt"))

    assert error["where"] == "--pair-proof"
    assert error["mend"]


@pytest.mark.parametrize(
    ("file", "content"),
    [
        ("library.toml", b"count = "),
        ("library.toml", b"\xff"),
        ("jars-key.csv", b"file,count\njar-001.jar\n"),
        ("jars-key.csv", b'file\n"'),
        ("jars.csv", None),
    ],
)
def test_a_damaged_library_is_refused_and_left_as_it_is(
    capsys, tmp_path, monkeypatch, file, content
):
    monkeypatch.setattr(jars, "_make", lambda *_, **__: 0)
    words = ["jars", "make", "--count", "1", "--out", str(tmp_path)]
    main([*words, "--json"])
    capsys.readouterr()
    (tmp_path / file).unlink()
    if content is None:
        (tmp_path / file).mkdir()
    else:
        (tmp_path / file).write_bytes(content)
    before = {path: path.is_dir() or path.read_bytes() for path in tmp_path.iterdir()}

    error, _ = refusal(capsys, *words)

    assert error["where"] == file
    assert "--out" in error["mend"]
    assert {path: path.is_dir() or path.read_bytes() for path in tmp_path.iterdir()} == before
