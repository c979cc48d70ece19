"""Papers for children, printed by a coach in the language that the address asks for."""

import io
import re

import pypdf
import pytest
from bracketed import CODE, untranslated_text

from nearmark.kit.materials import materials
from nearmark.site.drills import actions as drills
from nearmark.site.drills.actions import Plan
from nearmark.site.models import Club, DrillKind
from nearmark.station import Station


def text_of_pdf(answer) -> str:
    assert answer.headers["Content-Type"] == "application/pdf"
    pages = pypdf.PdfReader(io.BytesIO(answer.content)).pages
    return "\n".join(page.extract_text() for page in pages)


@pytest.fixture
def written(club, log, brackets) -> Club:
    """A club whose pupils have a log, while every message comes in brackets."""
    for station, size in ((Station.COUNT, "small"), (Station.VOLUME, ""), (Station.MASS, "")):
        log(club, "Ada", [0.8, 0.9, 1.2, 1.02], station=station, size=size)
    return club


def names(club: Club) -> set[str]:
    found = {club.name, "coach one", *(pupil.name for pupil in club.pupils.all())}
    return (
        found
        | {thing.name for thing in club.things.all()}
        | {"cm", " g", "jar of week", "Jar of week"}
    )


def test_a_home_sheet_has_no_english_left(coach, written):
    pupil = written.pupils.get(name="Ada")

    answer = coach.get(f"/pupils/{pupil.pk}/home-sheet.pdf?language={CODE}")

    assert untranslated_text(text_of_pdf(answer), names(written)) == []


@pytest.mark.parametrize("asked", ["", "names=on&"])
def test_certificates_of_the_season_have_no_english_left(coach, written, asked):
    address = f"/season/{written.pk}/certificates.pdf?{asked}language={CODE}"

    assert untranslated_text(text_of_pdf(coach.get(address)), names(written)) == []


def test_slips_have_no_english_left(coach, written):
    drill = drills.open_drill(
        written,
        Plan("Monday", DrillKind.DRILL, list(written.things.all()), list(written.pupils.all())),
        by="coach one",
    )

    text = text_of_pdf(coach.get(f"/drills/{drill.pk}/codes.pdf?language={CODE}"))

    # A name, a code, an address.
    pupils = "|".join(pupil.name for pupil in written.pupils.all())
    rest = re.sub(rf"(?m)^(?:{pupils}|[2-9A-Z]{{4}}|testserver/drill/)$", "", text)
    assert untranslated_text(rest, names(written)) == []


def test_the_language_of_a_paper_changes_no_page(coach, written):
    pupil = written.pupils.get(name="Ada")

    answer = coach.get(f"/pupils/{pupil.pk}/home-sheet.pdf?language={CODE}")

    assert "language" not in answer.cookies
    assert '<html lang="en"' in coach.get(f"/season/{written.pk}/").content.decode()


def test_a_home_sheet_is_spanish_on_one_page(coach, club, log):
    log(club, "Ada", [0.8, 0.9, 1.2, 1.02])
    pupil = club.pupils.get(name="Ada")

    answer = coach.get(f"/pupils/{pupil.pk}/home-sheet.pdf?language=es")

    assert "Tres cosas para probar en casa" in text_of_pdf(answer)
    assert len(pypdf.PdfReader(io.BytesIO(answer.content)).pages) == 1


@pytest.mark.slow
def test_labels_of_bags_have_no_english_left(coach, written):
    names = {known.code: known.name for known in materials()}
    address = "/bags/labels.pdf?" + "&".join(f"m={code}" for code in names)

    text = text_of_pdf(coach.get(f"{address}&grams=100&language={CODE}"))

    assert untranslated_text(text, {*names.values(), " g"}) == []
