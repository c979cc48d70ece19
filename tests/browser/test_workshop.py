"""A workshop for coaches: twelve adults join by the code on a projector, without names.

The first and the last have a phone with a browser; the ten between post what a phone would post.
"""

import re
from collections.abc import Callable, Iterator, Sequence
from typing import Any

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, expect

pytestmark = pytest.mark.begins_with("invented_season")

PROJECTOR: dict[str, Any] = {"viewport": {"width": 1920, "height": 1080}}
N_JOINERS = 12
HAZELNUTS = (120, 150, 160, 170, 180, 190, 200, 205, 215, 230, 260, 1960)
"""Of 196; the last one slipped by a factor of ten."""
GUESSES = {
    "Jar": HAZELNUTS,
    "Cer": range(2400, 3480, 90),
    "Elb": range(80, 128, 4),
}
"""First letters of a thing -> what each of the twelve says; a scoop is typed by who weighs it."""


@pytest.fixture
def devices(chromium: Browser, server, views) -> Iterator[Callable[[], BrowserContext]]:
    """Phones that nobody has signed in on, with no page open yet."""
    opened = []

    def make() -> BrowserContext:
        context = chromium.new_context(base_url=server.url, has_touch=True, **views["phone"])
        context.set_default_timeout(20_000)
        opened.append(context)
        return context

    yield make
    for context in opened:
        context.close()


class PlainPhone:
    """A phone as the server sees it: its posts, and the page that comes back."""

    def __init__(self, device: BrowserContext) -> None:
        self.device = device
        device.request.get("/drill/")

    def post(self, address: str, **fields: str) -> str:
        token = next(c["value"] for c in self.device.cookies() if c["name"] == "csrftoken")
        answer = self.device.request.post(address, form={"csrfmiddlewaretoken": token, **fields})
        assert answer.ok, answer.text()
        return answer.text()


def open_workshop(lead: Page, *things: str, jar: str = "") -> None:
    if jar:
        lead.goto("/jars/shelf/")
        lead.get_by_role("button", name=re.compile("ready|shelf", re.IGNORECASE)).first.click()
    lead.goto("/drills/")
    lead.get_by_role("link", name="Open a drill").click()
    lead.get_by_label("Title").fill("Workshop")
    lead.get_by_label("Kind").select_option("room")
    for thing in filter(None, (*things, jar)):
        lead.get_by_label(re.compile(thing)).check()
    for box in lead.locator("[name=sitting]").all():
        box.uncheck()
    lead.get_by_label("Anyone in the room may join").check()
    lead.get_by_label("Together: seconds").fill("600")
    lead.get_by_role("button", name="Open it").click()
    lead.get_by_role("link", name="Open the screen for the room").click()
    expect(lead.get_by_text("0 have joined")).to_be_visible()


def join(phone: Page, address: str, code: str) -> None:
    phone.goto(f"{address}?code={code}")
    phone.get_by_role("button", name="Begin").click()
    expect(phone.get_by_role("heading", level=1)).to_contain_text("You are seat")


def go_on(wall: Page, key: str = "PageDown") -> None:
    """One press on the projector's computer, without a mouse; the screen has gone on."""
    before = wall.locator("[name=seen]").input_value()
    wall.locator("body").press(key)
    expect(wall.locator("[name=seen]")).not_to_have_value(before)


def guess(phone: Page, number: float) -> None:
    phone.locator("form.answering [name=estimate]").fill(f"{number:g}")
    phone.get_by_role("button", name="That is my guess").tap()
    expect(phone.get_by_text("It is saved.")).to_be_visible()


def test_a_guess_that_is_typed_and_not_sent_arrives_when_the_guesses_close(
    lead: Page, devices: Callable[[], BrowserContext]
):
    open_workshop(lead, "jar of hazelnuts")
    phone = devices().new_page()
    join(phone, "/drill/", lead.locator(".bigcode").inner_text())
    phone.get_by_label("Number of your table").fill("2")
    phone.get_by_role("button", name="Save the table").tap()
    expect(phone.get_by_text("Seat 1, table 2")).to_be_visible()
    go_on(lead)
    go_on(lead)
    field = phone.locator("form.answering [name=estimate]")
    expect(field).to_be_visible()
    field.fill("180")
    go_on(lead)

    expect(phone.get_by_text("Your guess: 180 pieces")).to_be_visible()
    expect(lead.get_by_text("One guess: 180 pieces.")).to_be_visible()


class Workshop:
    """Projector, coach and phones of one evening, and what axe found so far."""

    def __init__(
        self,
        coach: Page,
        wall: Page,
        device: Callable[[], BrowserContext],
        look: Callable[[Page], list[str]],
    ) -> None:
        self.coach, self.wall = coach, wall
        self.first, self.last = device().new_page(), device().new_page()
        self.between = [PlainPhone(device()) for _ in range(N_JOINERS - 2)]
        self.look = look
        self.found: list[str] = []

    def all_join(self, code: str) -> None:
        join(self.first, "/drill/", code)
        expect(self.first.get_by_role("heading", level=1)).to_have_text("You are seat 1")
        for seat, phone in enumerate(self.between, 2):
            assert f"You are seat {seat}" in phone.post("/drill/", code=code)
        join(self.last, "/drill/", code)
        expect(self.last.get_by_role("heading", level=1)).to_have_text(f"You are seat {N_JOINERS}")

    def all_guess(self, numbers: Sequence[int]) -> None:
        first, *between, last = numbers
        address = self.first.locator("form.answering").get_attribute("action") or ""
        guess(self.first, first)
        for phone, number in zip(self.between, between, strict=True):
            assert "It is saved." in phone.post(address, estimate=str(number))
        guess(self.last, last)

    def look_at(self, *pages: Page) -> None:
        for page in pages:
            self.found += self.look(page)

    def one_thing(self, *, key: str, looks: bool) -> str:
        """From *Look well* to the true value; its name."""
        wall, coach, first, last = self.wall, self.coach, self.first, self.last
        look_at = self.look_at if looks else lambda *_: None
        go_on(wall, key)
        name = wall.get_by_role("heading", level=1).inner_text()
        expect(first.get_by_role("heading", level=1)).to_have_text(name)
        look_at(wall)
        go_on(wall, "Enter")
        expect(wall.get_by_role("timer")).to_have_text(re.compile(r"^(10:00|9:\d\d)$"))
        expect(first.locator("form.answering")).to_be_visible()
        look_at(first)
        self.all_guess(GUESSES[name[:3]])
        expect(wall.get_by_text("12 of 12 have guessed")).to_be_visible()
        assert not re.search(r"\b196\b|2[\s,]?871", wall.inner_text("main"))
        look_at(wall, coach)
        go_on(wall)
        expect(wall.get_by_text("The middle of 12 guesses is")).to_be_visible()
        expect(first.get_by_text("The guesses are closed.")).to_be_visible()
        look_at(wall, first)
        expect(coach.get_by_role("button", name="Next step")).to_be_visible()
        while coach.get_by_role("button", name="Next step").count():
            before = coach.locator("[name=seen]").input_value()
            coach.get_by_role("button", name="Next step").click()
            expect(coach.locator("[name=seen]")).not_to_have_value(before)
        expect(wall.get_by_text("The middle of the room:")).to_be_visible()
        expect(last.locator(".own")).to_be_visible()
        look_at(wall, last, coach)
        return name


def test_twelve_join_guess_three_things_and_leave_with_the_handout(
    lead: Page, devices: Callable[[], BrowserContext], chromium, server, violations
):
    open_workshop(lead, "jar of hazelnuts", "cereal box", "elbow pasta into a paper cup")
    projector = chromium.new_context(
        base_url=server.url, storage_state=lead.context.storage_state(), **PROJECTOR
    )
    wall = projector.new_page()
    wall.goto(lead.url)
    code = wall.locator(".bigcode").inner_text()
    room = Workshop(lead, wall, devices, violations)
    room.look_at(lead, wall)
    room.all_join(code)
    expect(wall.get_by_text("12 have joined")).to_be_visible()
    room.look_at(room.first)

    names = {room.one_thing(key=" ", looks=True)}
    # The middle is 195: the root of 190 x 200.
    expect(wall.get_by_text("The true value: 196 pieces.")).to_be_visible()
    expect(wall.get_by_text("99 points. It is closer than 12 of 12")).to_be_visible()
    names |= {room.one_thing(key="PageDown", looks=False) for _ in range(2)}
    assert len(names) == 3

    lead.get_by_role("button", name="Next thing").click()
    expect(wall.get_by_text("How each of you reads is on your own phone")).to_be_visible()
    expect(wall.locator(".things li")).to_have_count(3)
    last = room.last
    expect(last.get_by_role("heading", level=1)).to_have_text("How you read")
    expect(last.get_by_text("High: 3 of your 3 guesses")).to_be_visible()
    room.look_at(wall, last, lead)
    last.get_by_role("link", name="How to coach").tap()
    expect(last.get_by_role("heading", name="The scoop, and the heavy cup")).to_be_visible()
    wall.goto("/handout/")
    room.look_at(last, wall)
    papers = [wall.pdf(format=paper) for paper in ("A4", "Letter")]
    projector.close()

    assert [len(re.findall(rb"/Type\s*/Page\b", paper)) for paper in papers] == [2, 2]
    assert room.found == []
