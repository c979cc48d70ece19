"""Every page of the site leads to its own part of the help, and that part is there."""

import re

import pytest
from django.test import Client
from django.urls import URLPattern, get_resolver

from nearmark.site.door.access import Role
from nearmark.site.help.pages import help_pages
from nearmark.site.server.help_places import HELP_PLACES, NoLink, help_address

ROUTES = {
    str(pattern.name): str(pattern.pattern)
    for pattern in get_resolver("nearmark.site.server.urls").url_patterns
    if isinstance(pattern, URLPattern)
}
FILE = re.compile(r"\.(pdf|csv|zip|xlsx|txt|json)$")
NO_PAGES = {
    "home",  # leads on, to the first page of whoever asks
    *("sign-out", "lock"),  # would end the visit of this test; post only
    "overview-missing",  # a part of a page, which a script puts there
    *("drill-state", "drill-room-now", "seat-room-now", "season-meeting-now"),  # for scripts
    *("season-round-saved", "jar-part", "job-file", "help-picture"),  # for scripts; files
}
"""Addresses that answer a question and show no page of their own."""


def addresses(demo) -> dict[str, str]:
    """Name of an address -> the address, filled; of most things there is none of that number."""
    known = {
        "<int:item_id>": demo.items.get(code="C3").pk,
        "<int:pair_id>": demo.pairs.first().pk,
        "<int:event_id>": demo.pk,
        "<str:kind>": "scale",
        "<slug:name>": "site",
    }
    return {
        name: "/" + re.sub(r"<.*?>", lambda m: str(known.get(m[0], 999_999)), route)
        for name, route in ROUTES.items()
    }


def link(text: str) -> list[str]:
    return re.findall(r'<a class="help"\s+href="([^"]*)"', text)


@pytest.mark.slow
def test_every_address_with_a_page_is_in_the_table_and_no_other(sign_in, demo):
    lead = sign_in(Role.LEAD)
    pages = set()
    for name, address in addresses(demo).items():
        if FILE.search(ROUTES[name]) or name in NO_PAGES:
            continue
        # What is only acted upon refuses to be looked at; what is not there is a page all the same.
        if lead.get(address).status_code != 405:
            pages.add(name)

    assert pages == set(HELP_PLACES)


def test_every_part_of_the_help_in_the_table_is_there():
    lost = []
    for name, place in HELP_PLACES.items():
        if isinstance(place, NoLink) or not place:
            continue
        page, _, anchor = place.partition("#")
        sections = help_pages()[page].sections if page in help_pages() else ()
        if anchor not in {section.anchor for section in sections}:
            lost.append((name, place))

    assert lost == []


def test_a_page_without_a_link_says_why():
    assert all(place.why for place in HELP_PLACES.values() if isinstance(place, NoLink))


@pytest.mark.slow
def test_every_page_that_opens_has_the_link_of_the_table(sign_in, demo):
    lead = sign_in(Role.LEAD)
    wrong, n = [], 0
    for name, address in addresses(demo).items():
        if name not in HELP_PLACES:
            continue
        answer = lead.get(address)
        if answer.status_code != 200 or name == "thing":
            continue
        n += 1
        wanted = help_address(name, "")
        if link(answer.content.decode()) != ([wanted] if wanted else []):
            wrong.append((name, link(answer.content.decode()), wanted))

    assert wrong == []
    assert n > 40


TOLD = {
    name: place.partition("#")[::2]
    for name, place in HELP_PLACES.items()
    if not isinstance(place, NoLink) and place
}


def test_every_part_says_what_to_do_first_and_in_doubt():
    lacking = []
    for name, (page, anchor) in TOLD.items():
        section = next(each for each in help_pages()[page].sections if each.anchor == anchor)
        if not all(words in section.text for words in ("First", "In doubt")):
            lacking.append((name, section.title))

    assert lacking == []
    assert len(TOLD) > 60


def test_a_thing_has_the_help_of_its_kind(lead, demo):
    cup, scale = demo.cups.first(), demo.instruments.first()

    assert link(lead.get(f"/kit/thing/cup/{cup.pk}/").content.decode()) == ["/help/kit-room/#cups"]
    assert link(lead.get(f"/kit/thing/scale/{scale.pk}/").content.decode()) == [
        "/help/kit-room/#scales-and-rulers"
    ]


def test_a_refused_form_has_the_help_of_its_page(lead, demo):
    answer = lead.post("/pairs/add/", {})

    assert answer.status_code >= 400
    assert link(answer.content.decode()) == ["/help/event-day/#pairs"]


def test_a_page_that_is_not_there_leads_to_all_help(lead):
    assert link(lead.get("/nowhere/").content.decode()) == ["/help/"]


def test_before_the_first_account_the_help_is_one_touch_away(nobody):
    text = Client().get("/first-run/").content.decode()

    assert link(text) == ["/help/site/#the-first-account"]


def test_in_spanish_the_link_says_that_the_help_is_english(db):
    text = Client().get("/join/?language=es").content.decode()

    assert "Ayuda" in text
    assert 'hreflang="en" target="_blank"' in text
