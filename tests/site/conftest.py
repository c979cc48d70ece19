"""A site with the invented demo event, and one signed-in client a role."""

import io
import re
import uuid
from collections.abc import Callable, Iterator
from datetime import datetime, timedelta
from pathlib import Path
from typing import Any
from urllib.parse import urlencode

import pytest
from bracketed import CODE, write_catalogue
from django.conf import settings
from django.contrib.auth import BACKEND_SESSION_KEY, HASH_SESSION_KEY, SESSION_KEY
from django.contrib.sessions.backends.db import SessionStore
from django.db import connections
from django.template.base import Variable
from django.test import Client, override_settings
from django.utils import timezone
from missing_names import noting_resolve
from pytest_django.plugin import blocking_manager_key
from whitenoise.middleware import WhiteNoiseMiddleware

from nearmark.demo import larkspur_valley
from nearmark.site.common import clock
from nearmark.site.door import actions as doors
from nearmark.site.door.access import Role
from nearmark.site.door.visitor import DEVICE_IN_SESSION
from nearmark.site.event import snapshot
from nearmark.site.event.load import save_event
from nearmark.site.event_day.day_plan.runs import RUNS
from nearmark.site.models import Account, AdjudicationEntry, AnswerEntry, Club, EventRecord
from nearmark.words import languages

PASSWORD = "four quiet otters swim"
QUICK_HASHER = ["django.contrib.auth.hashers.MD5PasswordHasher"]
TOKEN = "a" * 32
DRAWN = re.compile(r'(?<=value=")\w{64}(?=")|[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}')
"""The tokens and keys on a page."""


@pytest.fixture(scope="session")
def django_db_modify_db_settings(tmp_path_factory):
    """A database file: threads share it as they do on the day, which memory does not allow."""
    if connections["default"].vendor == "sqlite":
        file = tmp_path_factory.mktemp("site") / "test.sqlite3"
        connections["default"].settings_dict["TEST"]["NAME"] = str(file)


@pytest.fixture(autouse=True)
def quick_hasher(settings):
    """Deliberately slow password hashes would make up most of the suite's time."""
    settings.PASSWORD_HASHERS = QUICK_HASHER
    settings.ALLOWED_HOSTS = ["testserver"]


@pytest.fixture(autouse=True)
def no_missing_name(monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    """No template of the site asks for a name that its page does not give."""
    missing: list[str] = []
    monkeypatch.setattr(Variable, "resolve", noting_resolve(missing.append))
    yield
    assert missing == [], "give the name in the view record, or take it out of the template"


@pytest.fixture(autouse=True)
def no_days_beside(monkeypatch):
    """Hundreds of simulated days beside each page that is opened would slow all tests down."""
    monkeypatch.setattr(RUNS, "_begin", lambda _: None)


@pytest.fixture(autouse=True, scope="session")
def static_files_at_hand():
    """A new client makes a new handler, which would look up every static file of the site again."""
    look_up = WhiteNoiseMiddleware.add_files_from_finders
    found: dict[str, Any] = {}

    def once(server: WhiteNoiseMiddleware) -> None:
        if not found:
            look_up(server)
            found.update(server.files)
        server.files.update(found)

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(WhiteNoiseMiddleware, "add_files_from_finders", once)
        yield


@pytest.fixture(autouse=True)
def event_at_hand(monkeypatch):
    """The event as ``fill`` wrote it is not read anew by each test; its revision says if it is."""
    monkeypatch.setattr(snapshot, "_LAST", begun.get("desk", snapshot.EventSnapshot(None, None)))


class FakeClock:
    """A clock that a test moves."""

    def __init__(self) -> None:
        self.time = timezone.now()

    def __call__(self) -> datetime:
        return self.time

    def forward(self, **span: float) -> None:
        self.time += timedelta(**span)


@pytest.fixture
def fake_clock(monkeypatch) -> FakeClock:
    moved = FakeClock()
    monkeypatch.setattr(clock, "now", moved)
    return moved


@pytest.fixture(scope="session")
def django_db_setup(django_db_setup, django_db_blocker):
    """The invented event and a lead, written once; every test's changes are rolled back."""
    with django_db_blocker.unblock():
        fill()


@pytest.hookimpl(wrapper=True)
def pytest_runtest_teardown(item: pytest.Item, nextitem: pytest.Item | None):
    """Write them again after a test whose rows were committed, for its clean-up takes all away."""
    result = yield
    if commits(item) and nextitem is not None and not commits(nextitem):
        with item.config.stash[blocking_manager_key].unblock():
            EventRecord.objects.exists() or fill()
    return result


def commits(item: pytest.Item) -> bool:
    return "transactional_db" in getattr(item, "fixturenames", ())


begun: dict[str, snapshot.EventSnapshot] = {}


def fill() -> EventRecord:
    """The invented event and a lead's account."""
    with override_settings(PASSWORD_HASHERS=QUICK_HASHER):
        Account.objects.make("Juniper", Role.LEAD, PASSWORD)
    made = save_event(larkspur_valley(), by="Juniper", now=timezone.now())
    begun["desk"] = snapshot.snapshot_now()
    return made


@pytest.fixture
def demo(db) -> EventRecord:
    """The invented event in the database, with a lead's account."""
    return EventRecord.objects.get()


@pytest.fixture
def nobody(db) -> None:
    """A site at its first start: no account, no event."""
    drop_event()
    Account.objects.all().delete()


def drop_event() -> None:
    """Take the event out, which the site itself never does."""
    for table in (AdjudicationEntry, AnswerEntry, EventRecord):
        table.objects.all().delete()


def session_of(account: Account) -> SessionStore:
    """What the door leaves in the database when somebody came in by a browser."""
    device = doors.open_device(account, "browser on device", address="127.0.0.1")
    session = SessionStore()
    session[SESSION_KEY] = str(account.pk)
    session[BACKEND_SESSION_KEY] = "django.contrib.auth.backends.ModelBackend"
    session[HASH_SESSION_KEY] = account.get_session_auth_hash()
    session[DEVICE_IN_SESSION] = device.pk
    session.create()
    return session


SignIn = Callable[..., Client]


@pytest.fixture
def sign_in(demo) -> SignIn:
    """Sign a role in; a second person of a role by another name.

    By the rows that the door writes: that the door writes them is proven in ``tests/site/door``.
    """

    def come(role: Role, name: str = "") -> Client:
        client = Client()
        if role is Role.PUBLIC:
            return client
        name = name or ("Juniper" if role is Role.LEAD else f"{role} one")
        account = Account.objects.filter(name=name).first()
        session = session_of(account or Account.objects.make(name, role, PASSWORD))
        client.cookies[settings.SESSION_COOKIE_NAME] = session.session_key
        return client

    return come


@pytest.fixture
def coached(db) -> Callable[[Club], Club]:
    """Give a club to the coach that ``sign_in`` signs in."""

    def give(club: Club) -> Club:
        name = f"{Role.COACH} one"
        found = Account.objects.filter(name=name).first()
        club.coaches.add(found or Account.objects.make(name, Role.COACH, PASSWORD))
        return club

    return give


@pytest.fixture
def lead(sign_in) -> Client:
    return sign_in(Role.LEAD)


@pytest.fixture
def scorer(sign_in) -> Client:
    return sign_in(Role.SCORER)


@pytest.fixture
def source_of() -> Callable[[Any], str]:
    """The page of an answer without its tokens and keys, which are drawn anew and spell anything.

    To be asked whenever a test looks for a few letters or digits that must not be there, or for
    words beside a tag: line breaks and spaces that only lay the source out are left out too.
    """

    def source(answer: Any) -> str:
        words = " ".join(DRAWN.sub("", answer.content.decode()).split())
        return re.sub(r"(<[a-z][^<>]*>) | (?=</)|(?<=>) (?=<)", r"\1", words)

    return source


@pytest.fixture
def entry_environ() -> Callable[..., dict[str, Any]]:
    """What a server hands to the site for one post of the entry page."""

    def environ(client: Client, fields: dict[str, str], **more: Any) -> dict[str, Any]:
        body = urlencode({"csrfmiddlewaretoken": TOKEN, **fields}).encode()
        return {
            **client._base_environ(),  # type: ignore[attr-defined]  # what its own requests have
            "REQUEST_METHOD": "POST",
            "PATH_INFO": "/entry/save/",
            "CONTENT_TYPE": "application/x-www-form-urlencoded",
            "CONTENT_LENGTH": str(len(body)),
            "HTTP_ACCEPT": "application/json",
            "HTTP_HOST": "testserver",
            "HTTP_COOKIE": f"sessionid={client.cookies['sessionid'].value}; csrftoken={TOKEN}",
            "wsgi.input": io.BytesIO(body),
            **more,
        }

    return environ


@pytest.fixture
def empty_event(demo) -> EventRecord:
    """The demo event before any answer was read."""
    AdjudicationEntry.objects.all().delete()
    AnswerEntry.objects.all().delete()
    return demo


@pytest.fixture
def committed_event(transactional_db) -> EventRecord:
    """The demo event without answers, committed, for tests with threads."""
    # Another such test's clean-up takes the session's rows away.
    event = EventRecord.objects.first() or fill()
    AdjudicationEntry.objects.all().delete()
    AnswerEntry.objects.all().delete()
    return event


@pytest.fixture
def no_event(demo) -> None:
    """A lead and no event."""
    drop_event()


@pytest.fixture
def cell_post(demo) -> Callable[..., dict[str, str]]:
    """What a sheet posts for one answer."""

    def post(pair: str, item: str, value: str, *, key: uuid.UUID | None = None) -> dict[str, str]:
        name = f"{demo.pairs.get(code=pair).pk}-{demo.items.get(code=item).pk}"
        return {f"v-{name}": value, f"k-{name}": str(key or uuid.uuid4()), "pair": pair}

    return post


@pytest.fixture(scope="session")
def bracket_folder(tmp_path_factory) -> Path:
    import translations  # noqa: PLC0415 - it needs Django

    folder = tmp_path_factory.mktemp("translations")
    write_catalogue(translations.template_catalogue(), folder)
    return folder


@pytest.fixture
def brackets(monkeypatch, bracket_folder) -> Client:
    """Somebody from nowhere, to whom every translated message comes in brackets."""
    monkeypatch.setattr(languages, "FOLDER", bracket_folder)
    return Client(headers={"accept-language": CODE})


@pytest.fixture
def spanish() -> Client:
    return Client(headers={"accept-language": "es-MX,es;q=0.9,en;q=0.5"})
