"""A pupil gets another name: everything stays the pupil's, and the old name stays nowhere."""

from datetime import date
from pathlib import Path

import pytest
from django.db import connection
from django.utils import timezone

from nearmark.site.models import Change, Club, Pupil
from nearmark.site.season.pupil_actions import rename_pupil
from nearmark.site.season.retention_actions import delete_pupil


def rename(coach, pupil, name):
    return coach.post(f"/season/pupil/{pupil.pk}/rename/", {"name": name})


def test_a_pupil_is_renamed_with_every_attempt_and_back_again(coach, club, pair, log, text_of):
    quillon = club.pupils.get(name="Quillon")
    log(club, "Quillon", [0.9, 1.1])
    page = f"/season/pupil/{quillon.pk}/"
    before = text_of(coach.get(page))
    assert "2 attempts" in before

    assert rename(coach, quillon, " K  7 ").status_code == 302

    told = text_of(coach.get(page))
    assert "<h1>K 7</h1>" in told
    assert "2 attempts" in told, "what was worked out before the rename is not lost"
    assert "Quillon" not in told
    assert "K 7" in coach.get(f"/season/{club.pk}/log.csv").content.decode()
    rename(coach, quillon, "Quillon")
    assert "2 attempts" in text_of(coach.get(page))
    club.pupils.get(name="Quillon")


def test_the_history_tells_it_by_number_and_holds_neither_name(coach, club):
    quillon = club.pupils.get(name="Quillon")
    rename(coach, quillon, "Zephyrine")

    line = Change.objects.get(what__contains="renamed")

    assert (line.who, f"pupil {quillon.pk}" in line.what) == ("coach one", True)
    every = " ".join(f"{c.what} {c.old} {c.new} {c.why}" for c in Change.objects.all())
    assert "quillon" not in every.casefold()
    assert "zephyrine" not in every.casefold()


@pytest.mark.parametrize(
    ("name", "what"),
    [
        ("", "required"),
        ("   ", "required"),
        ("ADA", "in the club already"),
        ("Quillon", "the name already"),
        ("x" * 41, "longer than 40"),
        ("x" * 101, "at most 100"),
    ],
)
def test_what_is_no_new_name_is_asked_again(coach, club, text_of, name, what):
    answer = rename(coach, club.pupils.get(name="Quillon"), name)

    assert answer.status_code == 422
    assert what in text_of(answer)
    assert [pupil.name for pupil in club.pupils.all()] == ["Ada", "Bo", "Quillon"]


def test_only_the_case_of_a_name_can_be_mended(coach, club):
    rename(coach, club.pupils.get(name="Quillon"), "quillon")

    assert club.pupils.filter(name="quillon").exists()


@pytest.mark.django_db(transaction=True)
def test_no_byte_of_an_old_name_stays_nor_of_the_new_one_after_deleting(transactional_db, log):
    """Beside the file itself its write-ahead log: both are read byte by byte."""
    if connection.vendor != "sqlite":
        pytest.skip("the file of SQLite is read")
    made = Club.objects.create(name="Bytes", keep_until=date(2027, 5, 5), made_at=timezone.now())
    child = Pupil.objects.create(club=made, name="Zyxquillonovic")
    log(made, child.name, [0.9, 1.1])

    def found(name: bytes) -> int:
        file = Path(str(connection.settings_dict["NAME"]))
        whole = file.read_bytes() + Path(f"{file}-wal").read_bytes()
        return whole.count(name)

    assert found(b"Zyxquillonovic") > 0
    rename_pupil(child, "Wvutsrqponic", by="Juniper")
    assert found(b"Zyxquillonovic") == 0
    assert found(b"Wvutsrqponic") > 0
    delete_pupil(child, is_sure=True, by="Juniper")
    assert found(b"Zyxquillonovic") + found(b"Wvutsrqponic") == 0
