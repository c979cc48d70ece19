"""How boxes are read, where samples came from, batches of cups: in the folder and back."""

from dataclasses import replace
from decimal import Decimal

import pytest

from nearmark.contest.event import (
    AnswerReading,
    AnswerStatus,
    ContainerWeighing,
    SamplesFrom,
)
from nearmark.contest.results import results
from nearmark.demo import larkspur_valley
from nearmark.errors import FilesError
from nearmark.event_folder import read_event, write_event
from nearmark.kit.box_faces import BoxFaces, Faces

DEMO = larkspur_valley()
OLD_ITEMS = "code,station,name,material,weight\nC1,count,jar,,\nB1,volume,tea box,,\n"
NEW = OLD_ITEMS.replace("weight\n", "weight,samples_from,faces,wall_cm,bulge_cm\n", 1)


def changed(event, code, **known):
    items = (replace(i, **known) if i.code == code else i for i in event.items)
    return replace(event, items=tuple(items))


def folder(tmp_path, items, **files):
    (tmp_path / "event.toml").write_text(
        'format = 1\nname = "L"\nday = 2027-05-08\n[instruments.s]\nunit = "g"\nresolution = 0.1\n'
    )
    (tmp_path / "pairs.csv").write_text("code,school,member_1\nP1,Fernhollow,Ada\n")
    (tmp_path / "items.csv").write_text(items)
    for name, text in files.items():
        (tmp_path / f"{name}.csv").write_text(text)
    return tmp_path


def test_what_is_known_of_boxes_and_samples_comes_back_equal(tmp_path):
    event = changed(DEMO, "C2", samples_from=SamplesFrom.CONTAINER, mixing_u=Decimal("0.02"))
    ruler = replace(event.instruments[1], zero_u=0.05)
    event = replace(event, instruments=(event.instruments[0], ruler))
    box = BoxFaces(Faces.OUTSIDE, wall_cm=Decimal("0.15"), bulge_cm=Decimal("0.10"))
    event = changed(event, "B1", box=box)
    lone = ContainerWeighing("C1", None, Decimal("96.40"), "bench scale")
    event = replace(event, containers=(*event.containers, lone))

    write_event(event, tmp_path)

    assert read_event(tmp_path) == event


def test_a_folder_from_before_these_columns_still_reads(tmp_path):
    weighings = "item,gross_g,tare_g,instrument\nC1,273.2,96.4,s\n"

    event = read_event(folder(tmp_path, OLD_ITEMS, container_weighings=weighings))

    assert [(i.samples_from, i.box) for i in event.items] == [(None, BoxFaces())] * 2
    assert event.containers[0].gross_g == Decimal("273.2")


@pytest.mark.parametrize(
    ("row", "column"),
    [
        ("C1,count,jar,,,,inside,,", "faces"),
        ("C1,count,jar,,,,,,0.1", "bulge_cm"),
        ("B1,volume,box,,,lot,,,", "samples_from"),
        ("B1,volume,box,,,,inside,0.2,", "wall_cm"),
        ("B1,volume,box,,,,,0.2,", "wall_cm"),
        ("B1,volume,box,,,,above,,", "faces"),
    ],
)
def test_what_does_not_belong_together_is_refused_with_its_place(tmp_path, row, column):
    with pytest.raises(FilesError) as refused:
        read_event(folder(tmp_path, NEW.splitlines()[0] + "\n" + row + "\n"))

    assert [(p.file, p.row, p.column) for p in refused.value.problems] == [("items.csv", 2, column)]


def test_a_weighing_of_nothing_is_refused(tmp_path):
    weighings = "item,gross_g,tare_g,instrument\nC1,,,s\n"

    with pytest.raises(FilesError, match="so is tare_g"):
        read_event(folder(tmp_path, OLD_ITEMS, container_weighings=weighings))


def test_an_answer_may_name_the_batch_of_its_cup(tmp_path):
    answers = [
        AnswerReading(
            DEMO.pairs[0].code, "M1", n, clerk, AnswerStatus.ANSWERED, Decimal("108.6"), "thin"
        )
        for n, clerk in ((1, "Ash"), (2, "Birch"))
    ]
    event = replace(DEMO, answers=tuple(answers), adjudications=())

    write_event(event, tmp_path)

    read = read_event(tmp_path)
    assert read == event
    net = results(read).answers[DEMO.pairs[0].code, "M1"]
    assert net.question is None


def test_a_batch_that_no_cup_is_of_is_refused(tmp_path):
    cups = "number,tare_g,instrument,batch\n1,8.6,s,thin\n"
    answers = "pair,item,reading,clerk,status,value,cup\nP1,M1,1,Ash,answered,108.6,thick\n"
    items = OLD_ITEMS + "M1,mass,scoop,,\n"

    with pytest.raises(FilesError, match="names no cup"):
        read_event(folder(tmp_path, items, cups=cups, answers=answers))


def test_a_certificate_of_a_scale_is_read_as_the_calibration_it_states(tmp_path):
    at = folder(tmp_path, OLD_ITEMS)
    stated = "certificate = { U = 0.2, k = 2, reading = 1000 }\n"
    (at / "event.toml").write_text((at / "event.toml").read_text() + stated)

    event = read_event(at)
    write_event(event, tmp_path / "again")

    assert event.instruments[0].gain_u == 0.0001
    assert read_event(tmp_path / "again").instruments == event.instruments


@pytest.mark.parametrize(
    ("stated", "says"),
    [
        ("certificate = { U = 0.2, k = 2 }", "is not a table of U, k and reading"),
        ("certificate = { U = 0.2, k = 0, reading = 9 }", "must be above zero"),
        ("certificate = { U = 0.2, k = 2, reading = 0 }", "must be above zero"),
        ("certificate = { U = 1, k = 2, reading = 9 }\ngain_u = 0.1", "gain_u and a certificate"),
    ],
)
def test_half_a_certificate_or_two_calibrations_are_refused(tmp_path, stated, says):
    at = folder(tmp_path, OLD_ITEMS)
    (at / "event.toml").write_text((at / "event.toml").read_text() + stated + "\n")

    with pytest.raises(FilesError, match=says):
        read_event(at)


def test_mixing_is_asked_of_what_is_counted_only(tmp_path):
    header = "code,station,name,material,weight,samples_from,faces,wall_cm,bulge_cm,mixing_u\n"

    with pytest.raises(FilesError, match="mixing_u"):
        read_event(folder(tmp_path, header + "B1,volume,box,,,,,,,0.02\n"))
