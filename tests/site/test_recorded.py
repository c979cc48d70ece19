"""What others rely on stays as it was recorded: addresses, access, tables, files and JSON.

The record was made once, before the folders of the site were put in order by feature, and is
changed on purpose only: ``python -m pytest tests/site/test_recorded.py`` names what differs, and
``NEARMARK_RECORD=1`` writes it anew.  Words are left out: they may be made better at any time.
"""

import hashlib
import json
import os
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
import tomli_w
from django.apps import apps
from django.urls import URLPattern, get_resolver

from nearmark.cli import main
from nearmark.contest.proof.canonical import canonical
from nearmark.contest.proof.release import pair_leaves
from nearmark.contest.results import results
from nearmark.contest.rule_files import rules_as_mapping
from nearmark.demo import larkspur_valley
from nearmark.event_folder.results_export import result_tables
from nearmark.event_folder.writer import contents_of, write_event
from nearmark.site.door.access import ACCESS

RECORDED = Path(__file__).parents[1] / "data" / "recorded"


def hold(name: str, lines: list[str]) -> None:
    path = RECORDED / f"{name}.txt"
    if os.environ.get("NEARMARK_RECORD"):
        path.write_text("\n".join(lines) + "\n", encoding="utf-8")
    known = path.read_text(encoding="utf-8").splitlines()
    assert lines == known, "if this is meant, record it anew: NEARMARK_RECORD=1"


def shape(value: Any, where: str = "") -> Iterator[str]:
    """Every number, truth and code of a JSON document with its place; sentences as "words"."""
    if isinstance(value, dict):
        for key in sorted(value):
            yield from shape(value[key], f"{where}.{key}")
    elif isinstance(value, list):
        yield f"{where} of {len(value)}"
        for entry in value[:3]:
            yield from shape(entry, f"{where}[]")
    elif isinstance(value, str) and " " in value:
        yield f"{where} words"
    elif isinstance(value, float):
        yield f"{where} {value:.9g}"
    else:
        yield f"{where} {json.dumps(value)}"


def test_addresses_and_their_names() -> None:
    routes = [p for p in get_resolver().url_patterns if isinstance(p, URLPattern)]
    hold("addresses", sorted(f"{p.name} {p.pattern}" for p in routes))


def test_who_may_open_what() -> None:
    hold(
        "access",
        sorted(
            f"{name}: {' '.join(sorted(a.always))} | {' '.join(sorted(a.after_release))}"
            f" | {a.only_own_clubs}"
            for name, a in ACCESS.items()
        ),
    )


def test_tables_and_columns() -> None:
    hold(
        "tables",
        sorted(
            f"{model._meta.db_table}.{field.column} {field.get_internal_type()}"
            for model in apps.get_app_config("site").get_models()
            for field in model._meta.local_concrete_fields
        ),
    )


def test_files_of_an_event_folder() -> None:
    contents = contents_of(larkspur_valley())
    hold(
        "event-folder",
        [f"{name} {hashlib.sha256(contents[name]).hexdigest()}" for name in sorted(contents)],
    )


def test_exported_tables_and_proof_of_an_event_without_divisions() -> None:
    """Byte for byte: what only some contests have leaves no trace in the others."""
    outcome = results(larkspur_valley())
    leaves = "\n".join(canonical(leaf).decode() for leaf in pair_leaves(outcome.pairs, "5a17"))
    rules = tomli_w.dumps(rules_as_mapping(outcome.event.rules))
    contents = {
        **{f"{table.name}.csv": table.csv for table in result_tables(outcome)},
        "leaves": leaves.encode(),
        "rules": rules.encode(),
    }
    hold(
        "exports",
        [f"{name} {hashlib.sha256(contents[name]).hexdigest()}" for name in sorted(contents)],
    )


COMMANDS = {
    "score": ("score", "FOLDER"),
    "check": ("check", "FOLDER"),
    "key": ("key", "FOLDER"),
    "heats": ("heats", "FOLDER"),
}


@pytest.mark.parametrize("name", COMMANDS)
def test_json_of_a_command(name: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    folder = tmp_path / "event"
    write_event(larkspur_valley(), folder)
    main([*(str(folder) if word == "FOLDER" else word for word in COMMANDS[name]), "--json"])
    hold(f"json-{name}", list(shape(json.loads(capsys.readouterr().out))))
