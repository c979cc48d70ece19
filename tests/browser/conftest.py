"""A real server on a data folder of its own, and a real Chromium.

A data folder after the first run is made once in a session, by the first run itself, and copied
for each test; the libraries that the server imports are imported once, and every server is a fork
of that process.  Tests marked ``first_run`` have neither: the command as a person types it, on an
empty folder, and the first run by hand.
"""

import http.cookiejar
import multiprocessing
import os
import re
import shutil
import socket
import subprocess
import sys
import time
import urllib.error
import urllib.parse
import urllib.request
from collections.abc import Callable, Iterator
from multiprocessing.context import ForkServerContext, ForkServerProcess
from pathlib import Path
from typing import NamedTuple

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, sync_playwright

from nearmark.cli import main

CHROMIUM = Path("/usr/bin/chromium")
FLAGS = (
    "--no-sandbox --disable-gpu --disable-quic --no-first-run --disable-background-networking "
    "--disable-component-update --disable-sync"
).split()
LEAD = "Juniper"
PASSWORD = "four quiet otters swim"
START_S = 60
"""A cold start on a busy machine; a usual one takes 2 s."""

STOP_S = 20

VIEWS = {
    "laptop": {"viewport": {"width": 1280, "height": 850}},
    "phone": {"viewport": {"width": 390, "height": 844}},
    "night": {"viewport": {"width": 1280, "height": 850}, "color_scheme": "dark"},
}

PRELOADED = (
    "nearmark.cli.serve",
    "nearmark.coaching",
    "nearmark.contest.results",
    "nearmark.demo",
    "nearmark.event_folder.pairs_import",
    "nearmark.packing",
    "nearmark.printing",
    "django.contrib.staticfiles.handlers",
    "django.core.handlers.wsgi",
    "django.db.backends.sqlite3.base",
    "django.db.migrations.executor",
    "django.forms",
    "django.views.decorators.http",
    "whitenoise.middleware",
)
"""What costs the time of a start; nothing of the site itself, which reads its settings first."""


def pytest_configure(config: pytest.Config) -> None:
    config.addinivalue_line("markers", "first_run: an empty folder and the first run by hand")


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Everything in this folder drives a browser."""
    for item in items:
        if Path(__file__).parent in item.path.parents:
            item.add_marker(pytest.mark.browser)


# Not for the whole session: its event loop would keep the other tests from the database.
@pytest.fixture(scope="module")
def chromium() -> Iterator[Browser]:
    if not CHROMIUM.exists():
        if os.environ.get("CI") == "true":
            pytest.fail(f"{CHROMIUM} is missing")
        pytest.skip(f"no browser: {CHROMIUM} is missing")
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=CHROMIUM, args=FLAGS)
        yield browser
        browser.close()


def free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return int(probe.getsockname()[1])


class Server:
    """``nearmark serve``; it can be stopped and started again.

    Parameters
    ----------
    data : Path
    preloaded : ForkServerContext or None
        Where the libraries are imported already; ``None``: the command as a person types it.
    """

    def __init__(self, data: Path, preloaded: ForkServerContext | None = None) -> None:
        self.data = data
        self.preloaded = preloaded
        self.port = free_port()
        self.url = f"http://127.0.0.1:{self.port}"
        self.process: subprocess.Popen[bytes] | ForkServerProcess | None = None

    def start(self) -> None:
        words = ["serve", "--local", "--data", str(self.data), "--port", str(self.port)]
        if self.preloaded is not None:
            self.process = self.preloaded.Process(target=main, args=(words,))
            self.process.start()
        else:
            environment = {k: v for k, v in os.environ.items() if not k.startswith("DJANGO")}
            self.process = subprocess.Popen(
                [sys.executable, "-m", "nearmark.cli", *words],
                env=environment,
                stdout=subprocess.DEVNULL,
                stderr=subprocess.DEVNULL,
            )
        until = time.monotonic() + START_S
        while not self.answers():
            assert not self.has_ended(0.05), "the server stopped at its start"
            assert time.monotonic() < until, "the server did not start"

    def has_ended(self, within_s: float) -> bool:
        """Whether the process is over, after waiting for that at most so long."""
        if isinstance(self.process, subprocess.Popen):
            try:
                self.process.wait(within_s)
            except subprocess.TimeoutExpired:
                return False
            return True
        assert self.process is not None
        self.process.join(within_s)
        return not self.process.is_alive()

    def answers(self) -> bool:
        try:
            with urllib.request.urlopen(self.url + "/results/", timeout=5):
                return True
        except (urllib.error.URLError, ConnectionError, TimeoutError):
            return False

    def stop(self) -> None:
        if self.process is not None:
            self.process.terminate()
            assert self.has_ended(STOP_S), "the server did not stop"


@pytest.fixture(scope="session")
def preloaded() -> ForkServerContext:
    """A process that has imported the libraries; servers are forks of it."""
    context = multiprocessing.get_context("forkserver")
    context.set_forkserver_preload(["__main__", *PRELOADED])
    return context


class Ready(NamedTuple):
    """A data folder after the first run, and the cookies of the lead's browser."""

    folder: Path
    cookies: list[dict[str, str]]


@pytest.fixture(scope="session")
def ready(tmp_path_factory: pytest.TempPathFactory, preloaded: ForkServerContext) -> Ready:
    """The first run, done once over HTTP as a browser without script does it."""
    running = Server(tmp_path_factory.mktemp("ready") / "data", preloaded)
    running.start()
    jar = http.cookiejar.CookieJar()
    ask = urllib.request.build_opener(urllib.request.HTTPCookieProcessor(jar)).open
    try:
        with ask(running.url + "/first-run/") as page:
            token = re.search(r'name="csrfmiddlewaretoken" value="(\w+)"', page.read().decode())
        assert token
        form = {"csrfmiddlewaretoken": token[1], "name": LEAD, "password": PASSWORD}
        form["again"] = PASSWORD
        with ask(running.url + "/first-run/", urllib.parse.urlencode(form).encode()) as page:
            assert page.url == running.url + "/event/"
    finally:
        running.stop()
    return Ready(running.data, [{"name": c.name, "value": str(c.value)} for c in jar])


@pytest.fixture
def is_first_run(request: pytest.FixtureRequest) -> bool:
    return request.node.get_closest_marker("first_run") is not None


@pytest.fixture
def server(
    request: pytest.FixtureRequest, tmp_path: Path, chromium: Browser, *, is_first_run: bool
) -> Iterator[Server]:
    """A site of its own; not started where there is no browser to ask it."""
    del chromium
    if is_first_run:
        running = Server(tmp_path / "data")
    else:
        shutil.copytree(request.getfixturevalue("ready").folder, tmp_path / "data")
        running = Server(tmp_path / "data", request.getfixturevalue("preloaded"))
    running.start()
    yield running
    running.stop()


@pytest.fixture
def context(chromium: Browser, server: Server) -> Iterator[BrowserContext]:
    opened = chromium.new_context(base_url=server.url, **VIEWS["laptop"])
    opened.set_default_timeout(20_000)
    yield opened
    opened.close()


@pytest.fixture
def page(context: BrowserContext) -> Iterator[Page]:
    """A page on which nothing may be refused by the content security policy."""
    opened = context.new_page()
    said: list[str] = []
    opened.on("console", lambda m: said.append(m.text) if "Content Security" in m.text else None)
    yield opened
    assert said == []


@pytest.fixture
def views() -> dict[str, dict[str, object]]:
    """Sizes and colour modes in which every page is looked at."""
    return VIEWS


@pytest.fixture
def lead(request: pytest.FixtureRequest, page: Page, server: Server, *, is_first_run: bool) -> Page:
    """The lead's page after the first run; by hand where a test is marked so."""
    if is_first_run:
        begin_by_hand(page)
    else:
        cookies = request.getfixturevalue("ready").cookies
        page.context.add_cookies([cookie | {"url": server.url} for cookie in cookies])
        page.goto("/event/")
    return page


def begin_by_hand(page: Page) -> None:
    page.goto("/")
    page.get_by_label("Your name").fill(LEAD)
    page.get_by_label("Password", exact=True).fill(PASSWORD)
    page.get_by_label("Password again").fill(PASSWORD)
    page.get_by_role("button", name="Begin").click()


@pytest.fixture
def scorer(chromium: Browser, server: Server, lead: Page) -> Iterator[Callable[[str], Page]]:
    """Another device that joins by a code which the lead's page shows."""
    opened: list[BrowserContext] = []

    def join(name: str) -> Page:
        lead.goto("/devices/")
        lead.get_by_label("The device is for a").select_option("scorer")
        lead.get_by_role("button", name="Make a code").click()
        code = lead.locator(".bigcode").inner_text()
        context = chromium.new_context(base_url=server.url, **VIEWS["phone"])
        context.set_default_timeout(20_000)
        opened.append(context)
        page = context.new_page()
        page.goto("/join/")
        page.get_by_label("Code").fill(code)
        page.get_by_label("Your name").fill(name)
        page.get_by_label("A PIN of your own").fill("4711")
        page.get_by_role("button", name="Join").click()
        return page

    yield join
    for context in opened:
        context.close()
