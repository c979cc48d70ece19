import json
import queue

import pytest

from nearmark.cli import progress
from nearmark.cli.main import main
from nearmark.packing import jar_from_bytes

WORDS = ["jar", "sphere", "--count", "80", "--width", "10", "--vessel", "cylinder:5x9"]


@pytest.mark.slow
def test_a_jar_is_told_and_written(tmp_path, capsys):
    out = tmp_path / "peas.jar"
    main([*WORDS, "--seed", "3", "--out", str(out), "--json"])
    told = json.loads(capsys.readouterr().out)
    jar = jar_from_bytes(out.read_bytes())

    assert told["census"]["count"] == jar.request.n_grains == 80
    assert told["rest"]["kinetic"] == jar.rest.kinetic < 1e-6
    assert jar.request.seed == 3


@pytest.mark.slow
def test_a_person_reads_how_far_the_usual_method_is_off(capsys):
    main(WORDS)
    text = capsys.readouterr().out

    assert "80 pieces (round piece)" in text
    assert "surface x layers" in text


@pytest.mark.parametrize(
    ("words", "message"),
    [
        (["--vessel", "barrel:5x9"], "One of: cylinder, box, cup, jar"),
        (["--vessel", "cylinder:5"], "a cylinder takes 2 measures"),
        (["--count", "30000"], "must be from 1 to 20,000"),
        (["--width", "ten"], "--width: not a number"),
        (["--out", "no/such/folder/x.jar"], "--out: cannot be written"),
    ],
)
def test_bad_words_are_refused_with_a_mend(words, message, capsys, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    with pytest.raises(SystemExit) as exit_:
        main([*WORDS, *words])

    assert exit_.value.code == 2
    assert message in capsys.readouterr().err


def test_compiling_is_said_when_the_work_does_not_begin_at_once(monkeypatch):
    monkeypatch.setattr(progress, "FIRST_WAIT_S", 0.0)
    said: queue.SimpleQueue[str] = queue.SimpleQueue()
    bar = progress.progress_bar(quiet=True)
    monkeypatch.setattr(bar.console, "print", said.put)
    with progress.compiling_said(bar):
        assert "once on this computer" in said.get(timeout=20)


def test_work_that_begins_at_once_is_not_called_compiling(capsys):
    with progress.progress_bar() as bar, progress.compiling_said(bar) as begun:
        begun()
    assert capsys.readouterr() == ("", "")
