"""What drawn inputs of ``tests/property`` have found at the command line, kept as plain cases."""

import json

import pytest

from nearmark.cli import jars, main

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
