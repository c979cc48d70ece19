"""The pour planner and the purchase list."""

import csv
import io

import numpy as np
import pytest
from PIL import Image

from nearmark.kit import (
    BANDS,
    Scooping,
    grams_to_pour,
    material,
    predicted_count,
    purchase_list,
    random_pour,
    trial_pour,
    vessel,
)
from nearmark.site.jobs import worker
from nearmark.site.models import Change, Job, PourRow
from nearmark.words.kit_plans import brim_words, trial_words

ASK = {
    "item": "C2",
    "material": "elbow-pasta",
    "vessel": "",
    "band": "chosen",
    "pieces": "2874",
    "piece_mass_g": "0,358",
}
BUY = {"places": "12", "pairs": "80", "scoop": ["split-pea"], "package-split-pea": "900"}


def test_a_chosen_count_gives_the_grams_of_the_core(lead):
    page = lead.get("/kit/pour/", ASK).content.decode()

    expected = grams_to_pour(
        2874, material("elbow-pasta"), scale_step_g=0.1, piece_mass_g=0.358
    ).mass_g
    assert f"Pour {expected:f} g" in page
    assert not PourRow.objects.exists()


def test_a_drawn_count_can_be_drawn_again_from_its_seed_and_is_in_no_history_line(lead, demo):
    lead.post("/kit/pour/keep/", ASK | {"band": "medium", "pieces": ""})

    row = PourRow.objects.get()
    assert row.pieces == random_pour(BANDS["medium"], np.random.default_rng(row.seed))
    change = Change.objects.first()
    assert f"seed {row.seed}" in change.new
    assert str(row.pieces) not in change.new
    page = lead.get("/kit/pour/").content.decode()
    # The count stands folded away, once.
    assert page.count(f"<strong>{row.pieces}</strong>") == 1
    assert page.index("Show the count") < page.index(f"<strong>{row.pieces}</strong>")


def test_a_new_plan_replaces_the_one_before_and_both_stay(lead, demo):
    lead.post("/kit/pour/keep/", ASK)
    lead.post("/kit/pour/keep/", ASK | {"pieces": "1200"})

    assert [r.pieces for r in PourRow.objects.filter(struck_at=None)] == [1200]
    assert PourRow.objects.count() == 2
    live = PourRow.objects.get(struck_at=None)
    assert lead.post(f"/kit/pour/{live.pk}/strike/", {"why": ""}).status_code == 422
    lead.post(f"/kit/pour/{live.pk}/strike/", {"why": "no time"})
    assert not PourRow.objects.filter(struck_at=None).exists()


def test_a_drawn_count_always_fits_its_vessel(lead):
    for _ in range(5):
        lead.post("/kit/pour/keep/", ASK | {"band": "medium", "pieces": "", "vessel": "jar-1000"})

    jar, pasta = vessel("jar-1000"), material("elbow-pasta")
    grams = [float(r.mass_g) for r in PourRow.objects.all()]
    sure = pasta.bulk_density.relative_u
    assert all(g / pasta.bulk_density.value * (1 - 2 * sure) <= jar.volume_cm3 for g in grams)


@pytest.mark.slow
@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"pieces": ""}, "Give the count"),
        ({"pieces": "20000", "vessel": "jar-1000"}, "Choose a larger vessel"),
        ({"pieces": "1.5"}, "Whole pieces only"),
        ({"pieces": "99999999"}, "At most 1000000"),
        ({"material": "gold"}, "Select a valid choice"),
        ({"item": "B1"}, "Select a valid choice"),
    ],
)
def test_a_plan_that_cannot_be_is_refused(lead, change, words):
    answer = lead.post("/kit/pour/keep/", ASK | change)

    assert answer.status_code == 422
    assert words in answer.content.decode()
    assert not PourRow.objects.exists()


def test_an_own_container_is_chosen_like_any_other(lead, demo):
    tub = {"code": "tub", "name": "our tub", "shape": "box", "tare_g": "120"}
    sizes = {"first_cm": "20", "second_cm": "15", "third_cm": "10"}

    refused = lead.post("/kit/pour/vessel/", tub | sizes | {"third_cm": ""})
    lead.post("/kit/pour/vessel/", tub | sizes)
    page = lead.get("/kit/pour/", ASK | {"vessel": "tub"}).content.decode()

    assert refused.status_code == 422
    assert "fills our tub to about" in page


def test_the_purchase_list_is_that_of_the_core(lead):
    peas = material("split-pea")
    (expected,) = purchase_list([peas], Scooping(12, 80), package_g={"split-pea": 900.0})

    table = lead.get("/kit/purchase/list.csv", BUY).content.decode("utf-8-sig")
    page = lead.get("/kit/purchase/", BUY).content.decode()
    pdf = lead.get("/kit/purchase/list.pdf", BUY)

    (row,) = csv.DictReader(io.StringIO(table))
    assert (row["packages"], row["needed_g"]) == (
        str(expected.packages),
        f"{expected.mass_g:.0f}",
    )
    assert f'data-label="packages">{expected.packages}<' in page
    assert pdf.content.startswith(b"%PDF")


def test_what_is_planned_to_be_poured_is_bought_too(lead, demo):
    lead.post("/kit/pour/keep/", ASK)

    table = lead.get("/kit/purchase/list.csv", BUY | {"package-elbow-pasta": "500"})

    rows = {
        r["material"]: r for r in csv.DictReader(io.StringIO(table.content.decode("utf-8-sig")))
    }
    # 1028.9 g and 5 % for spillage, in packages of 500 g.
    assert rows["Elbow pasta"]["needed_g"] == "1080"
    assert rows["Elbow pasta"]["packages"] == "3"


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"places": "0"}, "greater than or equal to 1"),
        ({"scoop": []}, "Choose at least one material"),
        ({"package-split-pea": "big"}, "not a number"),
        ({"package-split-pea": "0"}, "above zero"),
    ],
)
def test_a_list_that_cannot_be_made_says_why(lead, change, words):
    page = lead.get("/kit/purchase/", BUY | change)
    table = lead.get("/kit/purchase/list.csv", BUY | change)

    assert words in page.content.decode()
    assert table.status_code == 422


def test_the_list_has_costs_cups_and_boxes_for_the_car(lead, source_of):
    ask = BUY | {"price-split-pea": "1,10", "currency": "EUR", "bucket_l": "2", "limit_kg": "9"}

    page = source_of(lead.get("/kit/purchase/", ask))
    table = lead.get("/kit/purchase/list.csv", ask).content.decode("utf-8-sig")

    (row,) = csv.DictReader(io.StringIO(table))
    assert row["cost"] == f"{1.1 * int(row['packages']):.2f}"
    assert f"Together {row['cost']} EUR." in page
    assert "Cups 1 to 88: 80 for the pairs and 8 spare." in page
    assert "of at most 9 kg" in page
    assert "fill it again once" in page
    assert "Your local rules may say less." in page
    assert lead.get("/kit/purchase/list.pdf", ask).content.startswith(b"%PDF")


@pytest.mark.parametrize(
    "change", [{"price-split-pea": "dear"}, {"limit_kg": "30"}, {"heavy": "101"}, {"bucket_l": "x"}]
)
def test_costs_and_boxes_that_cannot_be_are_refused(lead, change):
    assert lead.get("/kit/purchase/list.csv", BUY | change).status_code == 422


def try_the_plan(lead, ask) -> Job:
    lead.post("/kit/pour/keep/", ask)
    assert lead.post(f"/kit/pour/{PourRow.objects.last().pk}/try/").status_code == 302
    assert worker.run_next()
    return Job.objects.get()


@pytest.mark.slow
def test_a_plan_is_poured_on_the_computer_and_seen_without_its_count(lead, demo):
    ask = ASK | {"pieces": "317", "material": "chickpea", "vessel": "jar-500", "piece_mass_g": ""}

    job = try_the_plan(lead, ask)

    expected = trial_pour(317, material("chickpea"), vessel("jar-500"))
    brim = predicted_count(material("chickpea"), vessel("jar-500").volume_cm3, walls=expected.walls)
    assert job.told == f"{trial_words(expected)} {brim_words(brim)}"
    picture = Image.open(io.BytesIO(bytes(job.file.content)))
    assert (picture.format, picture.width > picture.height) == ("PNG", True)
    page = lead.get("/kit/pour/").content.decode()
    assert trial_words(expected) in page.replace("\N{NO-BREAK SPACE}", " ")
    assert f'src="/jobs/{job.pk}/result"' in page
    assert "317" not in job.told


@pytest.mark.slow
def test_a_trial_that_cannot_be_says_why(lead, demo):
    cubes = {"pieces": "150", "material": "wood-cube-10", "piece_mass_g": "", "vessel": "jar-1000"}

    job = try_the_plan(lead, ASK | cubes)

    assert (job.state, "no simulated piece is like it" in job.told) == ("failed", True)
    assert "no simulated piece is like it" in lead.get("/kit/pour/").content.decode()


def test_a_plan_without_a_container_or_given_up_is_not_poured(lead, demo):
    lead.post("/kit/pour/keep/", ASK)
    row = PourRow.objects.get()

    assert lead.post(f"/kit/pour/{row.pk}/try/").status_code == 409
    assert lead.post("/kit/pour/999999/try/").status_code == 409
    assert "on the computer first" not in lead.get("/kit/pour/").content.decode()
    assert not Job.objects.exists()


@pytest.mark.parametrize("address", ["/kit/cautions/", "/kit/materials/", "/kit/purchase/"])
def test_a_page_defers_to_local_rules_once(lead, demo, address):
    """Four times a material, nobody reads it."""
    page = lead.get(address).content.decode()

    assert page.count("ollow your local rules") == 1
