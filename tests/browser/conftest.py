"""A real server, and a real Chromium.

The data folder after the first run is made once in a session, by the first run itself.  A server on
a copy of it serves one test after the other; between them its tables go back to what they were.
Tests marked ``begins_with("unbegun")`` do the first run by hand.  Tests marked
``begins_with("invented_event")`` or ``"invented_season"`` find it there; that a press of a button
brings it is for the tests of the tour and of the drills.
"""

import http.cookiejar
import os
import re
import shutil
import socket
import sqlite3
import subprocess
import sys
import time
import urllib.error
import urllib.parse
import urllib.request
from collections.abc import Callable, Iterator
from contextlib import closing
from pathlib import Path
from typing import Any, NamedTuple

import pytest
from playwright.sync_api import APIResponse, Browser, BrowserContext, Page, expect, sync_playwright

CHROMIUM = Path("/usr/bin/chromium")
FLAGS = (
    "--no-sandbox --disable-quic --no-first-run --disable-background-networking "
    "--disable-component-update --disable-sync"
).split()
SOFTWARE_GL = "--use-gl=angle --use-angle=swiftshader --enable-unsafe-swiftshader".split()
AXE = Path(__file__).parent / "axe" / "axe.min.js"
LEAD = "Juniper"
PASSWORD = "four quiet otters swim"
DATABASE = "nearmark.sqlite3"
TOKEN = re.compile(r'name="csrfmiddlewaretoken" value="(\w+)"')
MISSING_NAMES = Path(__file__).parents[2] / "tools" / "missing_names.py"
START_S = 60
"""A cold start on a busy machine; a usual one takes 2 s."""

VIEWS: dict[str, dict[str, Any]] = {
    "laptop": {"viewport": {"width": 1280, "height": 850}},
    "phone": {"viewport": {"width": 390, "height": 844}},
    "tablet": {"viewport": {"width": 820, "height": 1180}},
}

TABLET: dict[str, Any] = {
    "viewport": {"width": 810, "height": 1080},
    "has_touch": True,
    "is_mobile": True,
}

# The outbox tries again after at most 30 s, and on a busy machine a restart takes as long.
expect.set_options(timeout=40_000)


def pytest_configure(config: pytest.Config) -> None:
    config.addinivalue_line("markers", "begins_with(made): a data folder that this fixture makes")


# Not for the whole session: its event loop would keep the other tests from the database.
@pytest.fixture(scope="package")
def chromium() -> Iterator[Browser]:
    if not CHROMIUM.exists():
        if os.environ.get("CI") == "true":
            pytest.fail(f"{CHROMIUM} is missing")
        pytest.skip(f"no browser: {CHROMIUM} is missing")
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(
            executable_path=CHROMIUM, args=[*FLAGS, "--disable-gpu"]
        )
        yield browser
        browser.close()


@pytest.fixture(scope="package")
def with_gl(chromium: Browser) -> Iterator[Browser]:
    """A browser that draws three dimensions, by software."""
    browser = chromium.browser_type.launch(executable_path=CHROMIUM, args=[*FLAGS, *SOFTWARE_GL])
    yield browser
    browser.close()


def free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return int(probe.getsockname()[1])


class Server:
    """``nearmark serve`` as a person starts it; it can be stopped and started again."""

    script = MISSING_NAMES

    def __init__(self, data: Path) -> None:
        self.data = data
        self.port = free_port()
        self.url = f"http://127.0.0.1:{self.port}"
        self.process: subprocess.Popen[bytes] | None = None
        self.missing = data.parent / "missing-names.txt"

    def start(self) -> None:
        command = [sys.executable, str(self.script), str(self.missing), "serve", "--local"]
        command += ["--data", str(self.data), "--port", str(self.port)]
        # Where compiled modules are not kept, to compile them is half of a start.
        left_out = ("DJANGO", "PYTHONDONTWRITEBYTECODE")
        environment = {k: v for k, v in os.environ.items() if not k.startswith(left_out)}
        environment["NEARMARK_POUR_AHEAD"] = "0"  # the machine is busy with the tests
        self.process = subprocess.Popen(
            command, env=environment, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL
        )
        until = time.monotonic() + START_S
        while not self.answers():
            assert self.process.poll() is None, "the server stopped at its start"
            assert time.monotonic() < until, "the server did not start"
            self.pause()

    def check_names(self) -> None:
        """No template asked for a name that its page does not give."""
        missing = self.missing.read_text("utf-8").splitlines() if self.missing.exists() else []
        self.missing.unlink(missing_ok=True)
        assert missing == []

    def pause(self) -> None:
        try:
            assert self.process is not None
            self.process.wait(0.1)
        except subprocess.TimeoutExpired:
            pass

    def answers(self) -> bool:
        try:
            with urllib.request.urlopen(self.url + "/results/", timeout=5):
                return True
        except (urllib.error.URLError, ConnectionError, TimeoutError):
            return False

    def stop(self) -> None:
        if self.process is not None:
            self.process.terminate()
            self.process.wait(20)

    def goes_back(self, folder: Path) -> bool:
        """Make every row as in ``folder``, beside the running server as another process would.

        The triggers draw the revisions anew, so that the server forgets what it remembers.  False
        if that cannot be: the server has stopped, or is still at work on what a test asked for.
        """
        if self.process is None or self.process.poll() is not None:
            return False
        with closing(sqlite3.connect(self.data / DATABASE, timeout=20)) as now:
            now.isolation_level = None
            now.execute("ATTACH ? AS begun", [str(folder / DATABASE)])
            now.execute("BEGIN IMMEDIATE")
            if now.execute("SELECT 1 FROM site_job WHERE state = 'running'").fetchone():
                return False
            tables = "SELECT name FROM begun.sqlite_master WHERE type = 'table'"
            for (table,) in now.execute(tables).fetchall():
                now.execute(f"DELETE FROM main.{table}")
                now.execute(f"INSERT INTO main.{table} SELECT * FROM begun.{table}")
            see_devices(now)
            now.execute("COMMIT")
        return True

    def copy_to(self, folder: Path) -> Path:
        """The data as they are now, to begin with."""
        shutil.copytree(self.data, folder, ignore=shutil.ignore_patterns(f"{DATABASE}*"))
        with (
            closing(sqlite3.connect(self.data / DATABASE)) as now,
            closing(sqlite3.connect(folder / DATABASE)) as copy,
        ):
            now.backup(copy)
        return folder


def see_devices(database: sqlite3.Connection) -> None:
    """Let every device be seen now: one that was not for 20 minutes would ask for its PIN."""
    database.execute("UPDATE main.site_device SET seen_at = strftime('%Y-%m-%d %H:%M:%f', 'now')")


class Ready(NamedTuple):
    """A data folder to begin with, and the cookies of those who are in, by name."""

    folder: Path
    cookies: dict[str, list[Any]]
    opens: str = "/event/"  # the page on which the lead is


@pytest.fixture(scope="session")
def first_run(tmp_path_factory: pytest.TempPathFactory) -> tuple[Ready, Ready]:
    """Before and after it: done once over HTTP as a browser without script does it."""
    folder = tmp_path_factory.mktemp("ready")
    running = Server(folder / "data")
    running.start()
    before = Ready(running.copy_to(folder / "before"), {}, opens="/")
    jar = http.cookiejar.CookieJar()
    ask = urllib.request.build_opener(urllib.request.HTTPCookieProcessor(jar)).open
    try:
        with ask(running.url + "/first-run/") as page:
            token = TOKEN.search(page.read().decode())
        assert token
        form = {"csrfmiddlewaretoken": token[1], "name": LEAD, "password": PASSWORD}
        form["again"] = PASSWORD
        with ask(running.url + "/first-run/", urllib.parse.urlencode(form).encode()) as page:
            assert page.url == running.url + "/event/"
    finally:
        running.stop()
    kept = [{"name": c.name, "value": c.value, "domain": c.domain, "path": "/"} for c in jar]
    return before, Ready(running.data, {LEAD: kept})


@pytest.fixture(scope="session")
def unbegun(first_run: tuple[Ready, Ready]) -> Ready:
    """A site that nobody has begun."""
    return first_run[0]


@pytest.fixture(scope="session")
def ready(first_run: tuple[Ready, Ready]) -> Ready:
    """A site with a lead and nothing else."""
    return first_run[1]


def after_a_press(ready: Ready, running: Server, page: str, button: str) -> Ready:
    """What the lead has after a button that sends an empty form; ``running`` is as ``ready``."""
    kept = {"Cookie": "; ".join(f"{c['name']}={c['value']}" for c in ready.cookies[LEAD])}
    with urllib.request.urlopen(urllib.request.Request(running.url + page, headers=kept)) as shown:
        token = TOKEN.search(shown.read().decode())
    assert token
    form = urllib.parse.urlencode({"csrfmiddlewaretoken": token[1]}).encode()
    with urllib.request.urlopen(
        urllib.request.Request(running.url + button, form, headers=kept)
    ) as shown:
        opens = urllib.parse.urlsplit(shown.url).path
    return ready._replace(folder=running.copy_to(running.data.parent / opens[1:-1]), opens=opens)


@pytest.fixture(scope="session")
def invented_event(ready: Ready, shared: Callable[[Ready], Server]) -> Ready:
    """The lead has opened the invented event."""
    return after_a_press(ready, shared(ready), "/event/", "/event/demo/")


@pytest.fixture(scope="session")
def invented_season(ready: Ready, shared: Callable[[Ready], Server]) -> Ready:
    """The lead has opened the invented season, and is at its club."""
    return after_a_press(ready, shared(ready), "/season/", "/season/demo/")


@pytest.fixture
def begun(request: pytest.FixtureRequest) -> Ready:
    """What a test begins with; a file of tests may have its own."""
    marker = request.node.get_closest_marker("begins_with")
    made = request.getfixturevalue(marker.args[0] if marker else "ready")
    assert isinstance(made, Ready)
    return made


@pytest.fixture(scope="session")
def shared(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Callable[[Ready], Server]]:
    """The server of the test before, with the rows of this folder; or a first one.

    All folders come from ``ready``, so that its key opens every cookie.
    """
    now: Server | None = None

    def begin(begun: Ready) -> Server:
        nonlocal now
        if now is not None:
            if now.goes_back(begun.folder):
                return now
            now.stop()
        now = Server(tmp_path_factory.mktemp("shared") / "data")
        shutil.copytree(begun.folder, now.data)
        with closing(sqlite3.connect(now.data / DATABASE)) as database, database:
            see_devices(database)
        now.start()
        return now

    yield begin
    if now is not None:
        now.stop()


@pytest.fixture
def server(request: pytest.FixtureRequest, chromium: Browser) -> Iterator[Server]:
    """A site in its first state; not started where there is no browser to ask it."""
    del chromium
    running = request.getfixturevalue("shared")(request.getfixturevalue("begun"))
    yield running
    running.check_names()


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
def views() -> dict[str, dict[str, Any]]:
    """Sizes and colour modes in which every page is looked at."""
    return VIEWS


@pytest.fixture
def violations() -> Callable[[Page], list[str]]:
    """What axe finds on a page as it is, and whether it runs off the side.

    With ``NEARMARK_SHOTS`` a picture of each goes into that folder, to be looked at.
    """
    shots = os.environ.get("NEARMARK_SHOTS")

    def look(page: Page) -> list[str]:
        page.emulate_media(reduced_motion="reduce")  # a fading message has little contrast yet
        if shots:
            width = page.viewport_size["width"] if page.viewport_size else 0
            name = re.sub(r"\W+", "-", urllib.parse.urlsplit(page.url).path).strip("-")
            file = f"{name}-{width}-{time.monotonic_ns() // 10**6}.png"
            page.screenshot(path=Path(shots) / file, full_page=True)
        # The policy lets no script in, so axe goes in by the debugger, not by a tag.
        if page.evaluate("typeof axe") == "undefined":
            page.evaluate(AXE.read_text(encoding="utf-8"))
        found = page.evaluate("axe.run().then(r => r.violations)")
        return off_the_side(page) + [
            f"{page.url} {v['id']}: {node['target']} {node['html'][:120]}"
            for v in found
            for node in v["nodes"]
        ]

    return look


def off_the_side(page: Page) -> list[str]:
    """Whether a page as it is runs off the side."""
    wider = page.evaluate(
        "document.documentElement.scrollWidth - document.documentElement.clientWidth"
    )
    return [f"{page.url} runs {wider} px off the side"] if wider > 0 else []


@pytest.fixture
def in_every_view(
    violations: Callable[[Page], list[str]], views: dict[str, dict[str, Any]]
) -> Callable[[Page], list[str]]:
    """What axe finds on one page as it is: by day on a laptop and by night on a phone.

    The page is loaded once: only the style sheet knows the view.  A tablet has nothing that the
    other two have not, so only its width is asked.
    """

    def look(page: Page) -> list[str]:
        found, before = [], page.viewport_size
        for name in ("laptop", "phone"):
            page.emulate_media(color_scheme="dark" if name == "phone" else "light")
            page.set_viewport_size(views[name]["viewport"])
            found += [f"{name}: {each}" for each in violations(page)]
        page.set_viewport_size(views["tablet"]["viewport"])
        found += [f"tablet: {each}" for each in off_the_side(page)]
        page.emulate_media(color_scheme="light")
        if before:
            page.set_viewport_size(before)
        return found

    return look


@pytest.fixture
def lead(page: Page, begun: Ready) -> Page:
    """The lead's page; of a site that nobody has begun, the one of the first run."""
    page.context.add_cookies(begun.cookies.get(LEAD, []))
    page.goto(begun.opens)
    return page


def begin_by_hand(page: Page) -> None:
    """The first run; a lead's page is there."""
    page.get_by_label("Your name").fill(LEAD)
    page.get_by_label("Password", exact=True).fill(PASSWORD)
    page.get_by_label("Password again").fill(PASSWORD)
    page.get_by_role("button", name="Begin").click()


def send(context: BrowserContext, page: str, to: str, **fields: str) -> APIResponse:
    """Send a form of a page with the device's cookies, and draw neither of the two pages."""
    token = TOKEN.search(context.request.get(page).text())
    assert token
    answer = context.request.post(to, form={"csrfmiddlewaretoken": token[1], **fields})
    assert answer.ok, answer.text()
    return answer


def code_for_helper(lead: Page) -> str:
    """A code by which one more device may join, for any job."""
    said = send(lead.context, "/devices/", "/devices/code/", role="scorer", job="").text()
    code = re.search(r'class="bigcode[^>]*>\s*([^<]+?)\s*<', said)
    assert code
    return code[1]


@pytest.fixture
def scorer(chromium: Browser, server: Server, lead: Page) -> Iterator[Callable[[str], Page]]:
    """Another device that joins by a code of the lead's; by hand it does in test_menu."""
    opened: list[BrowserContext] = []

    def join(name: str) -> Page:
        code = code_for_helper(lead)
        context = chromium.new_context(base_url=server.url, **VIEWS["phone"])
        context.set_default_timeout(20_000)
        opened.append(context)
        joined = send(context, "/join/", "/join/", code=code, name=name, pin="4711")
        page = context.new_page()
        page.goto(joined.url)
        return page

    yield join
    for context in opened:
        context.close()


@pytest.fixture
def tablet(
    chromium: Browser, server: Server, scorer: Callable[[str], Page]
) -> Iterator[Callable[[str], Page]]:
    """A tablet of a person who joined by code."""
    opened: list[BrowserContext] = []

    def of(name: str) -> Page:
        state = scorer(name).context.storage_state()
        context = chromium.new_context(base_url=server.url, storage_state=state, **TABLET)
        context.set_default_timeout(20_000)
        opened.append(context)
        return context.new_page()

    yield of
    for context in opened:
        context.close()
