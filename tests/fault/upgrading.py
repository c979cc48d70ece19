"""Bring data folders up to date as the server does at its start, and use the event as a lead does.

A line of JSON comes in for each folder: ``{"data": ..., "port": ..., "what": ...}``; a line of JSON
goes out.
Each folder gets a process of its own.  What they import is imported here, once: Django is set up
without a folder, and each process reads the settings anew for its own.
"""

import contextlib
import gc
import io
import json
import os
import sqlite3
import sys
import traceback
from contextlib import closing
from pathlib import Path
from typing import Any

import django
import django.test
from django.conf import settings
from django.core.management import call_command
from django.db import connections
from django.template import engines
from django.urls import get_resolver
from django.utils.functional import empty

from nearmark.site.server.serving import Served, prepare

PASSWORD = "four quiet otters swim"
"""Of the lead of every dump."""


CONFIGURED = "nearmark.site.server.configured"


def import_the_site() -> None:
    """Everything that answers a request; nothing of a folder."""
    os.environ["DJANGO_SETTINGS_MODULE"] = CONFIGURED
    os.environ.pop("NEARMARK_DATA", None)
    django.setup()
    get_resolver().url_patterns  # noqa: B018 - reading it imports every view
    django.test.Client().handler.load_middleware()
    engines.all()
    forget_the_settings()


def forget_the_settings() -> None:
    """Let the next who asks read them, and what is made of them, from the environment."""
    sys.modules.pop(CONFIGURED)
    settings._wrapped = empty
    for alias in connections.settings:
        connections[alias].close()
        del connections[alias]
    connections._settings = None  # type: ignore[attr-defined]  # the stubs leave it out
    del connections.settings


def upgraded(data: Path, port: int) -> dict[str, Any]:
    """What came of it; ``upgraded.sqlite3`` in the folder is the database before it was used."""
    prepare(Served(data, port, "127.0.0.1", is_local=True, hosts=("testserver",)))
    with (
        closing(sqlite3.connect(data / "nearmark.sqlite3")) as database,
        closing(sqlite3.connect(data / "upgraded.sqlite3")) as copy,
    ):
        database.backup(copy)
    return used()


def due(data: Path, port: int) -> dict[str, Any]:
    """The migrations that the models ask for and nobody wrote; the folder is brought up to date."""
    prepare(Served(data, port, "127.0.0.1", is_local=True))
    said = io.StringIO()
    with contextlib.suppress(SystemExit):  # as it ends when there is one
        call_command("makemigrations", "--check", "--dry-run", stdout=said)
    return {"due": said.getvalue().strip()}


ASKED = {"use": upgraded, "due": due}


def used() -> dict[str, Any]:
    """The lead signs in with the password of then, looks at every room and saves an answer."""
    from nearmark.site.models import (  # noqa: PLC0415 - a model needs a site that is set up
        AnswerEntry,
        Club,
        EventRecord,
        PracticePair,
        Pupil,
    )

    lead = django.test.Client()
    door = lead.post("/sign-in/", {"name": "Juniper", "password": PASSWORD}).status_code
    event = EventRecord.objects.get()
    pair, item = event.pairs.get(code="P01"), event.items.get(code="B2")
    lead.post("/standings/withhold/", {"why": "one more sheet was found"})
    name = f"{pair.pk}-{item.pk}"
    posted = {f"v-{name}": "1357", f"k-{name}": "5" * 32, "pair": "P01", "reader": "1"}
    saved = lead.post("/entry/save/", posted).status_code
    addresses = ["/event/", "/standings/", "/kit/", f"/kit/{item.pk}/", "/points/", "/season/"]
    addresses += [f"/season/{club.pk}/" for club in Club.objects.all()]
    addresses += [f"/season/pair/{pair.pk}/" for pair in PracticePair.objects.all()[:1]]
    addresses += [f"/season/pupil/{pupil.pk}/" for pupil in Pupil.objects.all()[:1]]
    return {
        "sign in": door,
        "save": saved,
        "saved": [str(row.value) for row in AnswerEntry.objects.filter(pair=pair, item=item)],
        "pages": {address: lead.get(address).status_code for address in addresses},
    }


def in_a_process_of_its_own(what: str, data: Path, port: int) -> str:
    """One line of JSON."""
    reader, writer = os.pipe()
    if (child := os.fork()) == 0:
        try:
            told = ASKED[what](data, port)
        except BaseException:  # noqa: BLE001 - a child says whatever ended it
            told = {"broke": traceback.format_exc()}
        os.write(writer, json.dumps(told).encode())
        os._exit(0)
    os.close(writer)
    with open(reader, encoding="utf-8") as said:  # noqa: PTH123 - a number, no path
        line = said.read()
    os.waitpid(child, 0)
    return line or json.dumps({"broke": "it ended without a word"})


if __name__ == "__main__":
    import_the_site()
    gc.disable()  # a child lives two seconds: a fifth of them would be a search for garbage
    for line in sys.stdin:
        asked = json.loads(line)
        data = Path(asked["data"])
        print(in_a_process_of_its_own(asked["what"], data, asked["port"]), flush=True)
