"""Bring data folders up to date as the server does at its start, and use the event as a lead does.

A line of JSON comes in for each folder: ``{"data": ..., "port": ...}``; a line of JSON goes out.
Each folder gets a process of its own, for a site is set up once in a process; what they import is
imported here, once.
"""

import gc
import json
import os
import sqlite3
import sys
import traceback
from contextlib import closing
from pathlib import Path
from typing import Any

import django.contrib.auth.hashers
import django.contrib.contenttypes.management
import django.core.handlers.wsgi
import django.template.loader_tags
import django.test

import nearmark.contest.results
import nearmark.event_folder.results_workbook
import nearmark.packing.jar_file
import nearmark.printing.certificate  # noqa: F401
from nearmark.site.server.serving import Served, prepare

PASSWORD = "four quiet otters swim"
"""Of the lead of every dump."""


def upgraded(data: Path, port: int) -> dict[str, Any]:
    """What came of it; ``upgraded.sqlite3`` in the folder is the database before it was used."""
    prepare(Served(data, port, "127.0.0.1", is_local=True, hosts=("testserver",)))
    with (
        closing(sqlite3.connect(data / "nearmark.sqlite3")) as database,
        closing(sqlite3.connect(data / "upgraded.sqlite3")) as copy,
    ):
        database.backup(copy)
    return used()


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


def in_a_process_of_its_own(data: Path, port: int) -> str:
    """One line of JSON."""
    reader, writer = os.pipe()
    if (child := os.fork()) == 0:
        try:
            told = upgraded(data, port)
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
    gc.disable()  # a child lives two seconds: a fifth of them would be a search for garbage
    for line in sys.stdin:
        asked = json.loads(line)
        print(in_a_process_of_its_own(Path(asked["data"]), asked["port"]), flush=True)
