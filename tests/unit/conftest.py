"""The command line, run in this process."""

import json

import pytest

from nearmark.cli import main


@pytest.fixture
def run(capsys):
    """Run words of the command line; gives (exit status, standard output, standard error)."""

    def run_words(*words):
        status = 0
        try:
            main(words)
        except SystemExit as end:
            status = int(end.code or 0)
        return status, *capsys.readouterr()

    return run_words


@pytest.fixture
def told(run):
    """Run words with --json and give the object printed."""

    def run_json(*words):
        status, out, err = run(*words, "--json")
        assert status == 0, err
        return json.loads(out)

    return run_json
