"""The main job on the demo event: folder in, keys, places, pages out."""

import json
from dataclasses import replace
from pathlib import Path

import openpyxl
import pypdf
import pytest

from nearmark.cli import main
from nearmark.contest import results
from nearmark.contest.doubts import doubts
from nearmark.demo import larkspur_valley
from nearmark.event_folder import read_event, write_event
from nearmark.words.doubts import doubt_json, doubt_sentence
from nearmark.words.open_points import point_words


@pytest.fixture(scope="module")
def folder(tmp_path_factory):
    path = tmp_path_factory.mktemp("event") / "larkspur-valley"
    write_event(larkspur_valley(), path)
    return path


def told(capsys, *words):
    main([*map(str, words), "--json"])
    return json.loads(capsys.readouterr().out)


def test_the_demo_is_the_same_every_time():
    assert larkspur_valley() == larkspur_valley()
    assert larkspur_valley(1) != larkspur_valley(2)


@pytest.mark.slow
def test_the_demo_has_what_it_promises(folder):
    event = read_event(folder)
    outcome = results(event)

    assert len({p.school for p in event.pairs}) == 12
    assert sum(p.is_solo for p in event.pairs) == 3
    assert len(event.pairs) == 49
    totals = [line.total for line in outcome.pairs if line.place is not None]
    assert len(set(totals)) < len(totals)
    assert sum("third person" in point_words(point) for point in outcome.open_points) == 1
    assert {a.status.value for a in event.answers} == {"answered", "blank", "illegible"}
    assert not outcome.keys["C3"].fit


@pytest.mark.parametrize("seed", range(12))
def test_the_planted_trouble_survives_any_seed(seed):
    outcome = results(larkspur_valley(seed))

    by_code = {line.pair.code: line for line in outcome.pairs}
    assert by_code["P05"].total == by_code["P15"].total
    assert by_code["P33"].items == ()


def test_score_gives_places_and_how_sure_they_are(capsys, folder):
    outcome = told(capsys, "score", folder, "--draws", 1000)

    places = [pair["place"] for pair in outcome["pairs"] if pair["place"]]
    assert places[0] == 1
    assert places == sorted(places)
    assert [item["item"] for item in outcome["pairs"][0]["items"]] == [
        *("M1", "C1", "C2", "C3", "B1", "B2")
    ]
    confidence = outcome["confidence"]
    assert 0 <= confidence["podium_order"] <= confidence["podium_set"] <= 1
    assert 0 <= confidence["winner"] <= 1
    assert isinstance(confidence["remeasure_first"], list)


def test_score_is_the_same_twice(capsys, folder):
    first = told(capsys, "score", folder, "--draws", 1000)

    assert told(capsys, "score", folder, "--draws", 1000) == first


def test_the_suspect_key_is_found_with_its_slip(capsys, folder):
    checks = {c["item"]: c for c in told(capsys, "check", folder)["key_check"]}

    assert checks["C1"]["flagged"]
    assert "digits 1 and 2 of the key exchanged (241 for 421)" in checks["C1"]["words"]
    assert not any(c["flagged"] for code, c in checks.items() if code != "C1")


def test_keys_name_what_is_not_fit(capsys, folder):
    keys = {k["item"]: k for k in told(capsys, "key", folder)["keys"]}

    assert keys["M1"]["key"] == 100
    assert keys["C2"]["fit"]
    assert not keys["C3"]["fit"]
    assert keys["C3"]["decision"]["by"] == "lead Juniper"
    assert keys["C3"]["assigned_value"]["advice"]


@pytest.mark.slow
def test_print_writes_the_feedback_in_the_language_of_the_children(capsys, folder, tmp_path):
    told(capsys, "print", folder, "--to", tmp_path, "--language", "es")

    def text(name: str) -> str:
        return str(pypdf.PdfReader(tmp_path / name).pages[0].extract_text())

    assert "Pareja P01" in text("feedback.pdf")
    assert "Standings" in text("standings.pdf")


def test_print_names_the_languages_there_are(capsys, folder, tmp_path):
    with pytest.raises(SystemExit) as end:
        main(["print", str(folder), "--to", str(tmp_path / "new"), "--language", "xx"])

    assert end.value.code == 2
    assert "en or es" in capsys.readouterr().err
    assert not (tmp_path / "new").exists()


@pytest.mark.slow
def test_print_writes_every_page(capsys, folder, tmp_path):
    pages = [Path(p) for p in told(capsys, "print", folder, "--to", tmp_path)["pages"]]

    assert [p.name for p in pages] == [
        *(f"certificate-{code}.pdf" for code in ("C1", "C2", "C3", "B1", "B2")),
        *("key-sheet.pdf", "score-tables.pdf", "standings.pdf", "feedback.pdf"),
        *("announcer-list.pdf", "award-certificates.pdf", "participation-certificates.pdf"),
        "press-line.pdf",
    ]
    assert all(p.read_bytes().startswith(b"%PDF-") for p in pages)


def test_the_demo_refuses_a_folder_with_other_files(capsys, tmp_path):
    (tmp_path / "thesis.txt").write_text("years of work", encoding="utf-8")

    with pytest.raises(SystemExit) as end:
        main(["demo", str(tmp_path)])

    assert end.value.code == 2
    assert "holds other files" in capsys.readouterr().err
    assert [p.name for p in tmp_path.iterdir()] == ["thesis.txt"]


def test_every_problem_of_a_folder_is_named_at_once(capsys, tmp_path):
    broken = tmp_path / "broken"
    write_event(larkspur_valley(), broken)
    rows = (broken / "answers.csv").read_text(encoding="utf-8").splitlines()
    rows[3] = rows[3].replace("424", "4o4")
    rows[8] = rows[8].replace("P01", "P99")
    (broken / "answers.csv").write_text("\n".join(rows), encoding="utf-8")

    with pytest.raises(SystemExit) as end:
        main(["score", str(broken)])

    told_off = capsys.readouterr().err
    assert end.value.code == 2
    assert "answers.csv, row 4, column value" in told_off
    assert "answers.csv, row 9, column pair" in told_off


def test_an_imported_folder_with_a_slip_is_asked_about_in_the_same_words_everywhere(
    capsys, tmp_path
):
    day = larkspur_valley()
    sample = next(s for s in day.samples if s.item == "C2")
    slip = replace(sample, mass_g=10 * sample.mass_g)
    day = replace(day, samples=tuple(slip if s is sample else s for s in day.samples))
    write_event(day, tmp_path / "event")

    (doubt,) = [d for d in doubts(day) if d.item == "C2"]
    asked = told(capsys, "key", tmp_path / "event")["doubts"]
    assert doubt_json(doubt) in asked
    assert doubt_sentence(doubt) in told(capsys, "check", tmp_path / "event")["open_points"]
    main(["key", str(tmp_path / "event")])
    assert doubt_sentence(doubt) in capsys.readouterr().out


def test_check_says_the_cautions_of_a_material_that_is_not_in_the_catalogue(run, tmp_path):
    folder = tmp_path / "event"
    write_event(larkspur_valley(), folder)
    with (folder / "materials.csv").open("a", encoding="utf-8") as materials:
        materials.write("bean,Runner beans,,,\n")

    _, said, _ = run("check", str(folder))
    (own,) = json.loads(run("check", str(folder), "--json")[1])["own_materials"]

    assert "Cautions of Runner beans" in said
    assert "use that code: mung-bean" in said
    assert "Raw: never taste" in said
    assert "Follow your local rules." in said
    assert any("never taste" in each for each in own["cautions"])


def test_the_export_holds_a_workbook_that_may_stay_in_the_event_folder(run, tmp_path, small_event):
    folder = tmp_path / "event"
    write_event(small_event, folder)

    status, _, _ = run("score", str(folder), "--draws", "100", "--export", str(folder))

    sheets = openpyxl.load_workbook(folder / "results.xlsx").sheetnames
    assert status == 0
    assert {"standings", "keys"} <= {name.casefold() for name in sheets}
    assert run("score", str(folder), "--draws", "100")[0] == 0


def test_a_folder_without_a_proof_is_not_asked_to_be_compared(folder, capsys):
    with pytest.raises(SystemExit):
        main(["verify", str(folder)])
    told = capsys.readouterr().out

    assert "Take the event folder from the site after the results are released" in told
    assert "Compare it" not in told


def test_one_file_is_one_file(tmp_path, capsys):
    main(["handbook", "--handout", "--to", str(tmp_path / "two-pages.pdf")])

    assert "1 PDF file in" in capsys.readouterr().out
