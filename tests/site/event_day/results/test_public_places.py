"""The lead chooses up to which place everybody sees the standings."""

import io
import re

import pypdf
import pytest

from nearmark.site.models import CorrectionRecord

RELEASE = {"why": "all is settled", "shows_feedback": "on"}
ROW = re.compile(r'class="n"><strong>(\d+)</strong></td><th scope="row">(\w+)<')


def placed(page: str) -> list[tuple[int, str]]:
    return [(int(place), code) for place, code in ROW.findall(page)]


def release(lead, last: str) -> None:
    assert lead.post("/standings/release/", RELEASE | {"public_places": last}).status_code == 302


@pytest.mark.parametrize("address", ["/results/", "/results/?screen=big", "/results/release/1/"])
def test_everybody_sees_the_places_up_to_the_last_chosen(lead, client, source_of, address):
    release(lead, "10")

    shown = placed(source_of(client.get(address)))

    assert shown
    assert max(place for place, _ in shown) <= 10
    assert min(place for place, _ in shown) == 1


def test_without_a_choice_all_places_are_public_and_nobody_without_one(lead, client, source_of):
    release(lead, "")

    page = source_of(client.get("/results/"))

    assert len(placed(page)) == 47
    assert "published the places" not in page


@pytest.mark.slow
def test_a_shared_last_place_is_shown_whole(lead, client, demo, source_of):
    release(lead, "")
    every = placed(source_of(client.get("/results/")))
    tied = next(place for place, _ in every if [p for p, _ in every].count(place) > 1)
    lead.post("/standings/withhold/", {"why": "to publish fewer places"})

    release(lead, str(tied))

    shown = placed(source_of(client.get("/results/")))
    assert shown == [line for line in every if line[0] <= tied]
    assert [p for p, _ in shown].count(tied) > 1


@pytest.mark.slow
def test_a_tie_behind_the_last_public_place_is_not_said(lead, client, source_of):
    release(lead, "")
    every = placed(source_of(client.get("/results/")))
    tied = max(place for place, _ in every if [p for p, _ in every].count(place) > 1)
    said = f"Place {tied} is shared by"
    assert tied > 3
    assert said in source_of(client.get("/results/"))
    lead.post("/standings/withhold/", {"why": "to publish fewer places"})

    release(lead, "3")

    assert said not in source_of(client.get("/results/"))


@pytest.mark.slow
def test_the_page_of_a_pair_does_not_say_a_place_that_is_not_public(lead, client, source_of):
    release(lead, "")
    every = placed(source_of(client.get("/results/")))
    lead.post("/standings/withhold/", {"why": "to publish fewer places"})
    release(lead, "10")

    for place, code in (every[0], every[-1]):
        page = source_of(client.get(f"/results/pair/?code={code}"))
        pdf = pypdf.PdfReader(io.BytesIO(client.get(f"/results/pair/page.pdf?code={code}").content))
        text = pdf.pages[0].extract_text()
        assert (" of 47" in page) is (place <= 10)
        assert (" of 47" in text) is (place <= 10)


@pytest.mark.slow
def test_corrections_do_not_say_places_that_are_not_public(lead, client, demo, source_of):
    release(lead, "")
    every = placed(source_of(client.get("/results/")))
    lead.post("/standings/withhold/", {"why": "to publish fewer places"})
    demo.releases.all().delete()
    release(lead, "10")
    first, last = every[0][1], every[-1][1]
    CorrectionRecord.objects.create(
        event=demo,
        release=demo.releases.first(),
        what="The key of C2",
        why="weighed again",
        moved=[
            f"{first}: place 1 as before; 2.0 points before, 3.0 now",
            f"{last}: place 46 before, 47 now; 1.0 points as before",
        ],
        at=demo.releases.first().at,
        by="Juniper",
    )

    page = source_of(client.get("/results/"))

    assert f"{first}: place 1" in page
    assert f"{last}: place" not in page


@pytest.mark.parametrize("wrong", ["2", "-1", "ten"])
def test_a_last_place_that_makes_no_sense_is_refused(lead, demo, wrong):
    answer = lead.post("/standings/release/", RELEASE | {"public_places": wrong})

    assert answer.status_code == 422
    demo.refresh_from_db()
    assert demo.released_at is None
