"""Every form of every page with every hostile value: a clear answer, nothing leaked, still up.

The forms are taken from the pages themselves, so that a new one is tried without a word here.
"""

import html
import os
import re
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from html.parser import HTMLParser

import numpy as np
import pytest
from django.conf import settings as django_settings
from django.db import transaction
from django.test import Client
from django.urls import get_resolver

from nearmark.site.models import Club, DrillSeat, Pupil
from nearmark.site.season.demo import fill_demo_season

SCRIPT = "<script>alert(1)</script>"
HOSTILE = {
    "beyond every number": "1e999",
    "400 digits": "1" + "0" * 400,
    "beyond 64 bits": "9" * 20,
    "not a number": "NaN",
    "without end": "-Infinity",
    "below zero": "-1",
    "too small": "1e-999",
    "digits of another script": "\u0663\u0664",
    "a null": "1\x002",
    "script": SCRIPT,
    "formula": '=HYPERLINK("http://evil.example","x")',
    "path": "../../../../etc/passwd",
    "long": "x" * 70_000,
    "odd signs": "\u202e\ufeff\u2028\U0001f4a5'\";--%s{{7*7}}",
}
TURNS = 6
"""A form gets every sixth kind, the next form the next ones.  With 1 each gets all, which takes a
minute: all passed when this was written."""

NO_FIELDS = {"csrfmiddlewaretoken"}
ENDS_THE_SESSION = {"/sign-out/", "/lock/"}
LEAKS = re.compile(
    "Traceback|site-packages|nearmark/site/|sqlite|django\\.|OperationalError|" + "/tmp/",
    re.IGNORECASE,
)

WORDS = re.compile('role="alert"|errorlist|aria-invalid="true"|"mend"|"refused"')


@dataclass(frozen=True)
class Found:
    """A form as a browser would send it."""

    action: str
    fields: tuple[tuple[str, str], ...]
    method: str = "post"

    @property
    def kind(self) -> tuple[str, tuple[str, ...]]:
        """Forms that differ in a number only are tried once."""
        names = tuple(sorted({re.sub(r"\d+", "0", name) for name, _ in self.fields}))
        return re.sub(r"\d+", "0", self.action), names


class Forms(HTMLParser):
    """The forms of a page."""

    def __init__(self, address: str, methods: set[str]) -> None:
        super().__init__()
        self.methods = methods
        self.method = ""
        self.address = address
        self.found: list[Found] = []
        self.action: str | None = None
        self.fields: dict[str, str] = {}
        self.select = ""

    def handle_starttag(self, tag: str, attributes: list[tuple[str, str | None]]) -> None:
        given = {name: value or "" for name, value in attributes}
        method = given.get("method", "get").casefold()
        if tag == "form" and method in self.methods:
            self.method = method
            self.action, self.fields = given.get("action") or self.address, {}
        elif tag in {"input", "textarea", "button"} and given.get("name"):
            self.fields.setdefault(given["name"], given.get("value", ""))
        elif tag == "select" and given.get("name"):
            self.select = given["name"]
            self.fields.setdefault(self.select, "")
        elif tag == "option" and self.select and not self.fields.get(self.select):
            self.fields[self.select] = given.get("value", "")

    def handle_endtag(self, tag: str) -> None:
        if tag == "form" and self.action is not None:
            fields = tuple((n, v) for n, v in self.fields.items() if n not in NO_FIELDS)
            self.found.append(Found(html.unescape(self.action), fields, self.method))
            self.action = None


@pytest.fixture
def full(lead: Client, demo) -> Client:
    """The lead, at an event and a season with something in every room."""
    if not Club.objects.exists():
        fill_demo_season(today=date(2027, 5, 8), by="Juniper")
    lead.raise_request_exception = False
    return lead


def addresses(demo) -> Iterator[str]:
    """Every address that can be opened, with the numbers of things that are there."""
    club, pupil = Club.objects.first(), Pupil.objects.first()
    seat = DrillSeat.objects.first()
    known = {
        "item_id": demo.items.get(code="C3").pk,
        "pair_id": demo.pairs.first().pk,
        "club_id": club.pk if club else 1,
        "pupil_id": pupil.pk if pupil else 1,
        "seat_id": seat.pk if seat else 1,
    }
    for pattern in get_resolver("nearmark.site.server.urls").url_patterns:
        yield "/" + re.sub(
            r"<(?:(\w+):)?(\w+)>",
            lambda m: str(known.get(m[2], "sample" if m[1] == "str" else 1)),
            str(pattern.pattern),
        )


def forms(client: Client, demo, methods: tuple[str, ...] = ("post",)) -> list[Found]:
    found: dict[tuple[str, tuple[str, ...]], Found] = {}
    for address in sorted(set(addresses(demo)) - ENDS_THE_SESSION):
        answer = client.get(address)
        if answer.headers.get("Content-Type", "").startswith("text/html") and not answer.streaming:
            page = Forms(address, set(methods))
            page.feed(answer.content.decode())
            for form in page.found:
                found.setdefault(form.kind, form)
    return [form for form in found.values() if form.action not in ENDS_THE_SESSION]


def faults(
    client: Client, action: str, sent: dict[str, str], method: str = "post"
) -> Iterator[str]:
    """What is wrong with the answer to a form, which is then taken back."""
    with transaction.atomic():
        answer = getattr(client, method)(action, sent)
        transaction.set_rollback(True)
    shown = b"" if answer.streaming else answer.content
    text = shown.decode(errors="replace")
    if answer.status_code >= 500:
        yield f"status {answer.status_code}"
    if leaked := LEAKS.search(text):
        yield f"leaks {leaked[0]!r}"
    if django_settings.SECRET_KEY in text:
        yield "leaks the key"
    if SCRIPT in text:
        yield "runs the script"
    if answer.status_code in {409, 422} and not WORDS.search(text):
        yield f"status {answer.status_code} without words"


@pytest.mark.slow
def test_no_form_breaks_when_every_field_is_hostile(full, demo):
    found = forms(full, demo)
    wrong = [
        (form.action, kind, fault)
        for n, form in enumerate(found)
        for kind in list(HOSTILE)[n % TURNS :: TURNS]
        for fault in faults(full, form.action, dict.fromkeys(dict(form.fields), HOSTILE[kind]))
    ]

    assert wrong == []
    assert len(found) > 30, "there are forms to try"


@pytest.mark.slow
def test_no_form_breaks_when_one_field_is_hostile(full, demo):
    wrong, turn = [], 0
    values = list(HOSTILE.values())
    for form in forms(full, demo):
        for name, _ in form.fields:
            turn += 1  # every field gets one, neighbours get others
            sent = dict(form.fields) | {name: values[turn % len(values)]}
            wrong += [
                (form.action, name, sent[name][:20], f) for f in faults(full, form.action, sent)
            ]

    assert wrong == []


@pytest.mark.slow
@pytest.mark.parametrize("kind", ["script", "a null"])
def test_no_page_breaks_at_a_hostile_question(full, demo, kind):
    asked = dict.fromkeys(
        ("heat", "next", "code", "pair", "item", "page", "q", "by"), HOSTILE[kind]
    )
    wrong = []
    for address in sorted(set(addresses(demo)) - ENDS_THE_SESSION):
        answer = full.get(address, asked)
        text = "" if answer.streaming else answer.content.decode(errors="replace")
        # The help says on purpose what the file of the database is called.
        leaks = LEAKS.search(text) and not address.startswith("/help/")
        if answer.status_code >= 500 or leaks or SCRIPT in text:
            wrong.append((address, answer.status_code))

    assert wrong == []


@pytest.mark.slow
@pytest.mark.parametrize("number", ["99999999999999999999", "0", "1" + "0" * 300])
def test_a_number_of_nothing_in_an_address_is_not_found(full, demo, number):
    wrong = []
    for pattern in get_resolver("nearmark.site.server.urls").url_patterns:
        if "<int:" in str(pattern.pattern):
            address = "/" + re.sub(r"<int:\w+>", number, str(pattern.pattern))
            address = re.sub(r"<str:\w+>", "sample", address)
            for ask in (full.get, full.post):
                with transaction.atomic():
                    status = ask(address).status_code
                    transaction.set_rollback(True)
                if not 300 <= status < 500:
                    wrong.append((address[:60], status))

    assert wrong == []


@pytest.mark.slow
@pytest.mark.parametrize("method", ["put", "trace"])
def test_other_methods_change_nothing_and_break_nothing(full, demo, method):
    wrong = []
    for address in sorted(set(addresses(demo)) - ENDS_THE_SESSION):
        with transaction.atomic():
            status = getattr(full, method)(address).status_code
            transaction.set_rollback(True)
        if status >= 500:
            wrong.append((address, status))

    assert wrong == []


N_DRAWN = int(os.environ.get("NEARMARK_DRAWN_INPUTS", "60"))
"""10,000 were drawn once: ``docs/develop/reliability.md``."""

SIGNS = [
    *(" ", "\t", "\n", "\N{NO-BREAK SPACE}", "0", "1", "9", "12", "3.", ".5", ",", ".", "-", "+"),
    *("e", "E", "_", "x", "\N{SUPERSCRIPT TWO}", "\N{ARABIC-INDIC DIGIT THREE}", "\N{MINUS SIGN}"),
    *("%", "/", ":", ";", "'", '"', "<", ">", "&", "=", "\\", "\x00", "\x1b", "\x7f", "\ufeff"),
    *("\u202e", "\U0001f4a5", "P01", "C1", "g", "cm", "1,234", "1.234,5", "None", "true", "[]"),
    *("{}", "2027-02-30", "24:60", "99999999999999999999", "\ud7ff", "a" * 300),
]


@pytest.mark.slow
def test_no_form_breaks_when_one_field_is_drawn_from_odd_signs(full, demo):
    rng = np.random.default_rng(20270508)
    found = [form for form in forms(full, demo, ("post", "get")) if form.fields]
    wrong = []
    for _ in range(N_DRAWN):
        form = found[rng.integers(len(found))]
        name = form.fields[rng.integers(len(form.fields))][0]
        value = "".join(rng.choice(SIGNS, rng.integers(0, 5)))
        sent = dict(form.fields) | {name: value}
        problems = [*faults(full, form.action, sent, form.method)]
        wrong += [(form.action, name, value, problem) for problem in problems]

    assert wrong == []
    assert {form.method for form in found} == {"get", "post"}
