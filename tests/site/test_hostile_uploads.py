"""Every file and list that the site takes, changed in every way: a clear answer, or all of it.

The ways to change a file are those of ``tests/property/changes.py``.
"""

import importlib.util
import io
import os
import re
from collections.abc import Callable, Iterator
from datetime import date
from functools import cache
from pathlib import Path
from typing import Any

import openpyxl
import pytest
from django.apps import apps
from django.conf import settings as django_settings
from django.core.files.uploadedfile import SimpleUploadedFile
from django.db import transaction
from django.test import Client
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from PIL import Image

import nearmark.charts
from nearmark.demo import larkspur_valley
from nearmark.demo_season import practice_season
from nearmark.event_folder.practice_log_writer import practice_log_text
from nearmark.event_folder.writer import contents_of
from nearmark.site.models import AdjudicationEntry, AnswerEntry, Club, EventRecord, RevisionRow
from nearmark.site.season.demo import fill_demo_season

N_DRAWN = int(os.environ.get("NEARMARK_DRAWN_INPUTS", "40"))
PATH = Path(__file__).parents[1] / "property" / "changes.py"
LEAKS = re.compile("Traceback|site-packages|nearmark/site/|OperationalError|" + "/tmp/")
LIST = "school,first,second\nOtterbrook,Finn,Gita\nQuillbank,Hana,Ivo\n"
LOG = practice_log_text(practice_season()[:12])
CUPS = "61 8.6\n62 8.5\n63 8.7\n"
ODD = (
    "",
    "-1",
    "nan",
    "1e308",
    "9" * 20,
    "\u0663",
    "\u202e1",
    "\x1b[2J",
    "=1+1",
    "x" * 2_000,
    "\0",
)


def bytes_of(save: Any) -> bytes:
    written = io.BytesIO()
    save(written)
    return written.getvalue()


@cache
def workbook() -> bytes:
    """Made once: it carries the time at which it was made."""
    book = openpyxl.Workbook()
    for row in LIST.splitlines():
        book.active.append(row.split(","))
    return bytes_of(book.save)


def photo() -> bytes:
    return bytes_of(lambda file: Image.new("RGB", (220, 220), (200, 180, 120)).save(file, "PNG"))


JAR = Path(nearmark.charts.__file__).parent / "ready_jars" / "small-bean.jar"
PHOTO = {"what": "jar of beans", "count": "312", "checked_by": "Rowan", "no_faces": "on"}
TAKEN: dict[str, tuple[str, str, str, Callable[[], bytes], dict[str, str]]] = {
    "pairs": ("/pairs/import/", "file", ".csv", LIST.encode, {}),
    "pasted pairs": ("/pairs/import/", "text", ".csv", LIST.encode, {}),
    "workbook of pairs": ("/pairs/import/", "file", ".xlsx", workbook, {}),
    "log": ("/season/{club}/import/", "file", ".csv", LOG.encode, {}),
    "pasted log": ("/season/{club}/import/", "text", ".csv", LOG.encode, {}),
    "cups": (
        "/kit/cups/paste/",
        "lines",
        ".csv",
        CUPS.encode,
        {"instrument": "bench scale"},
    ),
    "jar": ("/jars/shelf/import/", "files", ".jar", JAR.read_bytes, {}),
    "photo": ("/jars/shelf/photo/", "photo", ".png", photo, PHOTO),
    "proof": ("/verify/", "proof", ".txt", lambda: b'{"leaf": {}, "index": "0", "path": []}', {}),
}
"""What is given -> address, field, ending, content, other fields."""

TYPED = {"text", "lines", "proof"}


@pytest.fixture(scope="session")
def changed() -> Any:
    spec = importlib.util.spec_from_file_location("changes", PATH)
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module.changed


@pytest.fixture
def full(lead: Client, demo) -> Client:
    """The lead, with an event and a season."""
    if not Club.objects.exists():
        fill_demo_season(today=date(2027, 5, 8), by="Juniper")
    lead.raise_request_exception = False
    return lead


def rows() -> dict[str, Any]:
    """How many rows every table has, and the revision of the event."""
    counts: dict[str, Any] = {
        model.__name__: model._default_manager.count()
        for model in apps.get_app_config("site").get_models()
    }
    return counts | {"revision": [*RevisionRow.objects.values()]}


def faults(client: Client, address: str, sent: dict[str, Any]) -> Iterator[str]:
    """What is wrong with the answer, and with what was kept."""
    before = rows()
    answer = client.post(address, sent)
    shown = b"" if answer.streaming else answer.content
    text = shown.decode(errors="replace")
    if answer.status_code >= 500:
        yield f"status {answer.status_code}"
    if leaked := LEAKS.search(text):
        yield f"leaks {leaked[0]!r}"
    if str(django_settings.SECRET_KEY) in text:
        yield "leaks the key"
    if answer.status_code != 302 and rows() != before:
        yield f"status {answer.status_code}, and yet something was kept"
    preview = re.search(
        r'name="good"[^>]*>(.*?)</textarea>|name="good" value="([^"]*)"', text, re.DOTALL
    )
    if preview:
        good = {"good": preview[1] or preview[2] or ""}
        yield from faults(client, f"{address}all/", good)


@pytest.mark.slow
@settings(
    max_examples=N_DRAWN,
    suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow],
)
@given(st.data())
def test_no_upload_breaks_the_site_or_is_half_kept(full, changed, data):
    address, field, ending, content, others = TAKEN[data.draw(st.sampled_from(list(TAKEN)))]
    given_bytes = content()
    for _ in range(1 if ending == ".xlsx" else data.draw(st.integers(1, 2))):
        given_bytes = changed(data.draw, ending, given_bytes, st.sampled_from(ODD) | st.text())
    name = data.draw(st.sampled_from(["list", "../x", "\u202ex", "", "a" * 300])) + ending
    value = (
        given_bytes.decode("utf-8", "replace")
        if field in TYPED
        else SimpleUploadedFile(name or "x", given_bytes)
    )
    with transaction.atomic():
        at = address.format(club=Club.objects.get().pk)
        found = [*faults(full, at, {**others, field: value})]
        transaction.set_rollback(True)

    assert found == [], (at, given_bytes[:200])


@pytest.mark.slow
@settings(
    max_examples=max(1, N_DRAWN // 4),
    suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow],
)
@given(st.data())
def test_no_event_folder_breaks_the_site_or_is_half_kept(full, changed, data):
    files = {n: c.encode() if isinstance(c, str) else c for n, c in EVENT.items()}
    for name in data.draw(st.lists(st.sampled_from(sorted(files)), min_size=1, max_size=2)):
        odd = st.sampled_from(ODD) | st.text()
        files[name] = changed(data.draw, Path(name).suffix, files[name], odd)
    with transaction.atomic():
        for table in (AdjudicationEntry, AnswerEntry, EventRecord):
            table.objects.all().delete()
        sent = {"files": [SimpleUploadedFile(name, content) for name, content in files.items()]}
        found = [*faults(full, "/event/import/", sent)]
        transaction.set_rollback(True)

    assert found == []


EVENT = contents_of(larkspur_valley())
