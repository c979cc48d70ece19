"""A coach sees their own clubs and those that were given; no address of another club opens."""

import uuid
from datetime import timedelta

import pytest
from django.test import Client
from django.urls import URLPattern, get_resolver
from django.utils import timezone

from nearmark.coaching import Attempt
from nearmark.site.door.access import ACCESS, Role
from nearmark.site.drills import actions as drills
from nearmark.site.models import (
    Account,
    BodyReading,
    Change,
    Club,
    DrillKind,
    PracticePair,
    Pupil,
    Source,
    Thing,
)
from nearmark.site.season import club_access
from nearmark.site.season.attempt_actions import keep_attempt
from nearmark.site.season.models import Meeting
from nearmark.station import Station

ROUTES: dict[str, URLPattern] = {
    str(pattern.name): pattern
    for pattern in get_resolver("nearmark.site.server.urls").url_patterns
    if isinstance(pattern, URLPattern)
}
OF_A_CLUB = sorted(name for name, access in ACCESS.items() if access.only_own_clubs)


@pytest.fixture
def ash(sign_in) -> Client:
    return sign_in(Role.COACH, "Ash")


@pytest.fixture
def birch(sign_in) -> Client:
    return sign_in(Role.COACH, "Birch")


@pytest.fixture
def club(ash) -> Club:
    """A club that Ash began, with one of everything in it."""
    later = (timezone.localdate() + timedelta(days=300)).isoformat()
    ash.post("/season/make/", {"name": "Fernhollow", "keep_until": later})
    made = Club.objects.get()
    ada, bo = (Pupil.objects.create(club=made, name=name) for name in ("Ada", "Bo"))
    PracticePair.objects.create(club=made, code="S1", first=ada, second=bo)
    jar = Thing.objects.create(club=made, station="count", name="jar of peas", true=420)
    attempt = Attempt(timezone.localdate(), "Ada", Station.COUNT, "jar of peas", 400.0, 420.0)
    keep_attempt(uuid.uuid4(), club=made, pupil=ada, attempt=attempt, source=Source.ROUND, by="Ash")
    BodyReading.objects.create(pupil=ada, reference="palm", reading_cm=7, day=timezone.localdate())
    meeting = Meeting.objects.create(
        club=made,
        day=timezone.localdate(),
        made_at=timezone.now(),
        minutes=20,
        scales=1,
        warm_up="mass",
    )
    meeting.pupils.add(ada, bo)
    drills.open_drill(made, drills.Plan("Monday", DrillKind.DRILL, [jar], [ada, bo]), by="Ash")
    return made


def address(name: str, club: Club) -> str:
    ada, drill = club.pupils.first(), club.drills.first()
    filled = str(ROUTES[name].pattern)
    for part, row in (
        ("club", club),
        ("pupil", ada),
        ("pair", club.pairs.first()),
        ("thing", club.things.first()),
        ("attempt", club.attempts.first()),
        ("reading", ada.body_readings.first()),
        ("drill", drill),
        ("seat", drill.seats.first()),
        ("meeting", club.meetings.first()),
    ):
        filled = filled.replace(f"<int:{part}_id>", str(row.pk))
    return "/" + filled


def kept(club: Club) -> list[object]:
    """All that is in a club."""
    rows = (club.pupils, club.pairs, club.things, club.attempts, club.drills, club.meetings)
    seats = [seat.token for drill in club.drills.all() for seat in drill.seats.all()]
    return [list(each.values()) for each in rows] + [seats, list(Club.objects.values())]


@pytest.mark.slow
def test_another_coach_is_refused_at_every_address_of_the_club(club, birch, source_of):
    before, came_in = kept(club), []
    for name in OF_A_CLUB:
        for ask in (birch.get, birch.post):
            answer = ask(address(name, club), {"is_sure": "on", "names": "Eve"})
            page = source_of(answer)
            if answer.status_code != 403 or "Ask the lead" not in page or "Ada" in page:
                came_in.append((name, ask.__name__, answer.status_code))

    assert len(OF_A_CLUB) > 30
    assert came_in == []
    assert kept(club) == before


@pytest.mark.parametrize("role", [Role.COACH, Role.LEAD])
@pytest.mark.slow
def test_the_own_coach_and_the_lead_come_in_at_each_of_them(club, ash, sign_in, role):
    client = ash if role is Role.COACH else sign_in(role)
    shut = [
        name
        for name in OF_A_CLUB
        if "Not your club" in client.get(address(name, club)).content.decode(errors="replace")
    ]

    assert shut == []


def test_the_lists_show_the_own_clubs_only(club, ash, birch, lead, source_of):
    pages = ("/season/", "/drills/", "/bags/")
    for client, sees in ((ash, True), (lead, True), (birch, False)):
        for page in pages:
            assert ("Fernhollow" in client.get(page).content.decode()) is sees, page
    names = birch.get(f"/bags/?m=rice&grams=100&club={club.pk}")
    assert names.status_code == 422
    assert "Ada" not in source_of(names)


def test_a_coach_deletes_no_club_of_another_that_is_over_its_date(club, birch, ash):
    Club.objects.update(keep_until=timezone.localdate() - timedelta(days=1))

    assert birch.post("/season/overdue/delete/").status_code == 409
    assert Club.objects.exists()
    assert ash.post("/season/overdue/delete/").status_code == 302
    assert not Club.objects.exists()


def test_the_lead_gives_a_club_and_takes_it_back(club, ash, birch, lead):
    where, page = f"/season/{club.pk}/coaches/", f"/season/{club.pk}/"
    number = Account.objects.get(name="Birch").pk

    assert birch.post(where, {"coach": number}).status_code == 403
    assert ash.post(where, {"coach": number}).status_code == 403
    lead.post(where, {"coach": number})
    assert birch.get(page).status_code == 200
    assert ash.get(page).status_code == 200
    assert "with Ash, Birch" in lead.get(page).content.decode()
    lead.post(where, {"away": number})
    assert birch.get(page).status_code == 403
    assert [c.new or c.old for c in Change.objects.filter(what__contains="coach")] == ["Birch"] * 2


@pytest.mark.parametrize("number", ["", "999999", "<b>", "9" * 40])
def test_a_club_is_given_to_coaches_only(club, lead, scorer, number):
    for given in (number, str(Account.objects.get(name="scorer one").pk)):
        assert lead.post(f"/season/{club.pk}/coaches/", {"coach": given}).status_code == 422
    assert [coach.name for coach in club.coaches.all()] == ["Ash"]


def test_a_club_from_before_is_the_lead_s_until_it_is_given(birch, lead, demo):
    day = timezone.localdate() + timedelta(days=9)
    old = Club.objects.create(name="Quillbank", keep_until=day, made_at=timezone.now())

    assert birch.get(f"/season/{old.pk}/").status_code == 403
    assert "Only you can open this club" in lead.get(f"/season/{old.pk}/").content.decode()


def test_every_number_in_an_address_of_a_club_leads_to_a_club():
    numbers = {key for name in OF_A_CLUB for key in ROUTES[name].pattern.converters}

    assert numbers == set(club_access.CLUB_OF)


# Coming back.


def code_on(page) -> str:
    text = page.content.decode()
    return text.split('class="bigcode">')[1].split("<")[0]


def test_a_coach_who_comes_back_by_a_code_has_the_own_clubs_again(demo, lead):
    first = Client()
    code = code_on(lead.post("/devices/code/", {"role": "coach"}))
    first.post("/join/", {"code": code, "name": "Ash", "pin": "1234"})
    later = (timezone.localdate() + timedelta(days=300)).isoformat()
    first.post("/season/make/", {"name": "Fernhollow", "keep_until": later})
    number = Account.objects.get(name="Ash").pk
    page = lead.post("/devices/code/", {"role": "scorer", "again": number})
    code, second = code_on(page), Client()

    wrong = second.post("/join/", {"code": code, "name": "Birch", "pin": "8888"})
    right = second.post("/join/", {"code": code, "name": "ash", "pin": "8888"})

    assert wrong.status_code == 422
    assert "Write Ash" in wrong.content.decode()
    assert right.status_code == 302
    assert "Fernhollow" in second.get("/season/").content.decode()
    assert Account.objects.filter(role="coach").count() == 1
    # The tablet of last week is out, and the code was for once.
    assert first.get("/season/").headers["Location"].startswith("/sign-in/")
    assert Client().post("/join/", {"code": code, "name": "Ash", "pin": "9"}).status_code == 422
    assert Account.objects.get(name="Ash").check_password("8888")


def test_no_code_opens_an_account_with_a_password_again(lead, ash):
    number = Account.objects.get(name="Ash").pk

    assert lead.post("/devices/code/", {"role": "coach", "again": number}).status_code == 422
