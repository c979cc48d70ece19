"""Download, bring it, delete it for good; keep it no longer than meant."""

import csv
import html
import io
import re
import zipfile
from datetime import date, timedelta
from pathlib import Path

import pytest
from django.db import connection
from django.utils import timezone

from nearmark.site.models import (
    BodyReading,
    Change,
    Club,
    PracticeAttempt,
    PracticePair,
    Pupil,
)
from nearmark.site.season.retention_actions import delete_pupil

TODAY = date(2027, 5, 5)


def test_the_log_comes_back_as_it_was(coach, club, pair, text_of, round_post, coached):
    round_post(coach, club, {"Ada": {"estimate": "380", "layer": "38", "layers": "10"}})
    round_post(coach, club, {"Bo": "96.25"}, thing="rice")
    taken = coach.get(f"/season/{club.pk}/log.csv").content.decode()
    other = Club.objects.create(
        name="Quillbank", keep_until=club.keep_until, made_at=timezone.now()
    )
    coached(other)

    answer = coach.post(f"/season/{other.pk}/import/", {"text": taken})
    page = text_of(answer)
    assert "Keep 2 attempts?" in page
    assert "Ada, Bo" in page
    asked = html.unescape(answer.content.decode())
    good = re.search(r'name="good" value="([^"]*)"', asked, re.DOTALL)[1]
    coach.post(f"/season/{other.pk}/import/all/", {"good": good})

    again = coach.get(f"/season/{other.pk}/log.csv").content.decode()
    assert again == taken
    page = text_of(coach.post(f"/season/{other.pk}/import/", {"text": taken}))
    assert "Nothing new." in page
    coach.post(f"/season/{other.pk}/import/all/", {"good": good})
    assert other.attempts.count() == 2


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("", "is empty"),
        ("day,pupil\n1,2\n", "station"),
        ("day,pupil,station,thing,estimate,true\nx,Ada,count,jar,380,420\n", "Row 2, day"),
        ("day,pupil,station,thing,estimate,true\n2027-02-03,Ada,count,jar,0,420\n", "above zero"),
        (f"day,pupil,station,thing,estimate,true\n2027-02-03,{'x' * 50},count,j,3,4\n", "40 signs"),
    ],
)
def test_a_bad_log_is_named_row_by_row_and_nothing_is_kept(coach, club, text, told, text_of):
    answer = coach.post(f"/season/{club.pk}/import/", {"text": text})

    assert answer.status_code == 422
    assert told in text_of(answer)
    assert club.attempts.count() == 0


def test_everything_of_a_club_can_be_taken_away(coach, club, pair, log):
    log(club, "Ada", [0.9])
    BodyReading.objects.create(
        pupil=pair.first, reference="palm", reading_cm=6.9, day=timezone.localdate()
    )

    packed = zipfile.ZipFile(io.BytesIO(coach.get(f"/season/{club.pk}/club.zip").content))

    tables = {
        name: list(csv.reader(packed.read(name).decode().splitlines()))
        for name in packed.namelist()
        if name.endswith(".csv")
    }
    assert {name: len(rows) - 1 for name, rows in tables.items()} == {
        "practice-log.csv": 1, "struck-out.csv": 0, "hands.csv": 1,
        "pupils.csv": 3, "pairs.csv": 1, "things.csv": 3,
    }  # fmt: skip


def test_a_deleted_pupil_is_gone_and_in_no_line_of_the_history(coach, club, round_post):
    quillon = club.pupils.get(name="Quillon")
    coach.post(
        f"/season/{club.pk}/pairs/add/",
        {"first": quillon.pk, "second": club.pupils.get(name="Bo").pk, "code": "S1"},
    )
    round_post(coach, club, {"Quillon": "380", "Bo": "400"})
    round_post(coach, club, {"Quillon": "390"})
    row = club.attempts.filter(pupil=quillon).last()
    coach.post(f"/season/attempt/{row.pk}/strike/", {"why": "Quillon said 930"})
    coach.post(
        f"/season/pupil/{quillon.pk}/hand/",
        {"reference": "palm", "readings": "7", "day": "2027-02-03"},
    )

    unsure = coach.post(f"/season/pupil/{quillon.pk}/delete/")
    assert (unsure.status_code, club.pupils.count()) == (422, 3)
    coach.post(f"/season/pupil/{quillon.pk}/delete/", {"is_sure": "on"})

    assert list(club.pupils.values_list("name", flat=True)) == ["Ada", "Bo"]
    assert PracticeAttempt.objects.get().pupil.name == "Bo"
    assert not BodyReading.objects.exists()
    assert not PracticePair.objects.exists()
    lines = [f"{c.what} {c.old} {c.new} {c.why}" for c in Change.objects.all()]
    assert any("deleted a pupil" in line for line in lines)
    assert not [line for line in lines if "quillon" in line.casefold()]


@pytest.mark.django_db(transaction=True)
def test_no_byte_of_a_deleted_name_stays_in_the_database_file(transactional_db, log):
    """Beside the file itself its write-ahead log: both are read byte by byte."""
    made = Club.objects.create(name="Bytes", keep_until=TODAY, made_at=timezone.now())
    child = Pupil.objects.create(club=made, name="Zyxquillonovic")
    log(made, child.name, [0.9, 1.1])

    def found() -> int:
        file = Path(str(connection.settings_dict["NAME"]))
        whole = file.read_bytes() + Path(f"{file}-wal").read_bytes()
        return whole.count(b"Zyxquillonovic")

    assert found() > 0
    delete_pupil(child, is_sure=True, by="Juniper")
    assert found() == 0


def test_a_club_over_its_date_is_shown_and_deleted_by_one_press(coach, club, text_of, coached):
    Club.objects.filter(pk=club.pk).update(keep_until=timezone.localdate() - timedelta(days=1))
    other = Club.objects.create(
        name="Quillbank", keep_until=timezone.localdate(), made_at=timezone.now()
    )
    coached(other)
    page = text_of(coach.get("/season/"))
    assert "Over its date" in page
    assert "Quillbank</a> is kept until" in page

    coach.post("/season/overdue/delete/")

    assert list(Club.objects.all()) == [other]
    assert not Pupil.objects.exists()
    assert coach.post("/season/overdue/delete/").status_code == 409


def test_how_long_a_club_is_kept_can_be_changed_but_not_into_the_past(coach, club):
    address = f"/season/{club.pk}/keep/"
    later = timezone.localdate() + timedelta(days=500)

    assert coach.post(address, {"keep_until": "2020-01-01"}).status_code == 422
    coach.post(address, {"keep_until": later.isoformat()})

    club.refresh_from_db()
    assert club.keep_until == later


def test_a_club_is_deleted_only_when_sure(coach, club):
    assert coach.post(f"/season/{club.pk}/delete/").status_code == 422
    coach.post(f"/season/{club.pk}/delete/", {"is_sure": "on"})

    assert not Club.objects.exists()


@pytest.mark.parametrize(
    "address", ["/season/77/", "/season/pupil/77/", "/season/pair/77/", "/season/77/round/"]
)
def test_what_is_not_there_is_not_found(coach, address):
    assert coach.get(address).status_code == 404
