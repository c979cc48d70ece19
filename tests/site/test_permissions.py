"""Every address as every role, before and after release: the table is the truth, default deny."""

import re

import pytest
from django.http import HttpResponse, HttpResponseForbidden
from django.urls import URLPattern, get_resolver
from django.utils import timezone

from nearmark.site.door.access import ACCESS, OPEN_TO, Role, may_open
from nearmark.site.models import Device
from nearmark.site.server import middleware

ROUTES: dict[str, URLPattern] = {
    str(pattern.name): pattern
    for pattern in get_resolver("nearmark.site.server.urls").url_patterns
    if isinstance(pattern, URLPattern)
}

# Written here a second time, on purpose: a slip in the table must not slip through.
OPEN_TO_ALL = {"home", "first-run", "sign-in", "join", "public-results", "clock", "clock-now"}
OPEN_TO_ALL |= {"public-feedback", "public-feedback-pdf"}
OPEN_TO_ALL |= {"public-earlier"}
OPEN_TO_ALL |= {"practice-jars", "jar", "jar-part", "verify", "public-pair-proof"}
OPEN_TO_ALL |= {"help", "help-page", "help-search", "help-picture"}
OWN_CLUB = re.compile(r"<int:(club|pupil|pair|thing|attempt|reading|drill|seat|meeting)_id>")
KEEPERS = {
    *("jar-shelf", "jar-pouring", "jar-pour", "jar-stop", "jar-ready", "jar-import", "jar-photo"),
    *("jar-open", "jar-take-off", "jar-cards", "jar-cards-key", "box-page", "box-key"),
}
OPEN_TO_SIGNED_IN = {"sign-out", "lock", "unlock"}
ENTRY = {
    *("entry", "entry-save", "weigh-in", "differences", "difference-decide"),
    *("heats", "heat-check-in", "heat-roll-call"),
    *("clock-control", "clock-start", "clock-extend", "clock-stop"),
    *("clock-pause-all", "clock-resume-all", "announcer", "scale-checks"),
    *("clock-pause", "clock-resume", "audit-read", "audit-check"),
}
# A seat asks for its own code: see test_drills.
OPEN_TO_ALL |= {"seat-join", "seat", "seat-item", "seat-hand-in", "seat-leave", "calculator"}
OPEN_TO_ALL |= {"seat-table", "seat-room-now", "handout", "handbook-pdf"}
COACHES = {
    *("drills", "drill-club", "drill-open", "drill-live", "drill-state"),
    *("drill-room", "drill-room-now", "drill-room-go", "drill-door", "drill-slips"),
    *("drill-start", "drill-close", "drill-seat-code", "bags", "bags-labels", "home-sheet"),
}
SEASON = {name for name in ROUTES if name == "season" or name.startswith("season-")}
AFTER_RELEASE = {"standings", "standings-pdf", "kit-certificate", "feedback", "feedback-pdf"}
AFTER_RELEASE |= {
    "awards",
    "run-off-pdf",
    "exports",
    "results-csv",
    "results-xlsx",
    "released-folder",
}


def expected(name: str, role: Role, *, released: bool) -> bool:
    if role is Role.LEAD or name in OPEN_TO_ALL:
        return True
    if role is Role.PUBLIC:
        return False
    if name in OPEN_TO_SIGNED_IN or (role is Role.SCORER and name in ENTRY):
        return True
    if role is Role.COACH and name in COACHES | SEASON | KEEPERS:
        return True
    return released and name in AFTER_RELEASE


def addresses(demo) -> dict[str, str]:
    """Name of an address -> the address, filled; of most things there is none of that number."""
    known = {
        "<int:item_id>": demo.items.get(code="C3").pk,
        "<int:pair_id>": demo.pairs.first().pk,
        "<int:event_id>": demo.pk,
        "<str:token>": "forged",
        "<str:kind>": "sample",
        "<slug:name>": "labels",
    }
    return {
        name: "/" + re.sub(r"<.*?>", lambda m: str(known.get(m[0], 999_999)), str(route.pattern))
        for name, route in ROUTES.items()
    }


@pytest.fixture
def unmade(monkeypatch) -> set[str]:
    """Addresses behind the door that answer with nothing; whom it stops gets no page to read."""
    names: set[str] = set()
    decide = middleware.VisitorMiddleware.process_view

    def process_view(self, request, *given):
        stopped = decide(self, request, *given)
        if stopped is None and request.resolver_match.url_name in names:
            return HttpResponse(status=204)
        return stopped

    monkeypatch.setattr(middleware.VisitorMiddleware, "process_view", process_view)
    monkeypatch.setattr(middleware, "refused_role", lambda _: HttpResponseForbidden())
    return names


def test_the_table_names_exactly_the_addresses_there_are():
    assert set(ACCESS) == set(ROUTES)


def test_an_address_is_in_one_group_only():
    """A second one would open it to others, and nobody would see which counts."""
    assert sum(map(len, OPEN_TO.values())) == len(ACCESS)


@pytest.mark.slow
@pytest.mark.parametrize("released", [False, True], ids=["sealed", "released"])
@pytest.mark.parametrize("role", list(Role))
def test_every_address_opens_for_the_roles_of_the_table_only(sign_in, demo, unmade, role, released):
    client = sign_in(role)
    if released:  # whether a view lets in whom the door lets in was seen before the release
        unmade |= {name for name in ROUTES if name not in AFTER_RELEASE}
    demo.released_at = timezone.now() if released else None
    demo.save()
    wrong = []
    for name, address in sorted(addresses(demo).items()):
        for ask in (client.get, client.post):
            answer = ask(address)
            came_in = answer.status_code != 403 and not answer.headers.get(
                "Location", ""
            ).startswith("/sign-in/?next=")
            if came_in is not expected(name, role, released=released):
                wrong.append((name, ask.__name__, answer.status_code))
            if name in {"sign-out", "lock"}:
                client = sign_in(role)

    assert wrong == []


def test_what_a_coach_opens_by_a_number_of_a_club_opens_for_the_own_clubs_only():
    of_a_club = {
        name
        for name, access in ACCESS.items()
        if Role.COACH in access.always and OWN_CLUB.search(str(ROUTES[name].pattern))
    }

    assert of_a_club == {name for name, access in ACCESS.items() if access.only_own_clubs}


def test_an_address_nobody_put_in_the_table_opens_for_nobody():
    assert not any(may_open("forgotten", role, released=True) for role in Role)


def test_a_forged_role_in_the_post_changes_nothing(scorer, demo):
    answer = scorer.post("/standings/release/", {"role": "lead", "why": "because"})

    assert answer.status_code == 403
    demo.refresh_from_db()
    assert demo.released_at is None


def test_keys_are_on_no_page_a_scorer_can_open_before_release(scorer, demo, source_of):
    pages = ["/entry/", "/weigh-in/", "/differences/", "/results/"]
    keys = ["14312", "14\N{NO-BREAK SPACE}312", "2888", "3400"]

    seen = "".join(source_of(scorer.get(page)) for page in pages)

    assert not [key for key in keys if key in seen]


def test_a_revoked_device_is_out_at_its_next_request(lead, scorer):
    device = Device.objects.get(account__name="scorer one")

    lead.post(f"/devices/{device.pk}/revoke/")

    assert scorer.get("/entry/").headers["Location"].startswith("/sign-in/")
