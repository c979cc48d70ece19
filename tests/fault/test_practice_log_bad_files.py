"""A practice log with something wrong: the row, the column, the value and the mend are named."""

from pathlib import Path

import pytest

from nearmark.coaching.attempt import Layers, Scoop, Sides
from nearmark.errors import FilesError, InputError
from nearmark.event_folder.practice_log import read_practice_log
from nearmark.station import Station

HEAD = "day,pupil,station,thing,estimate,true,layer,layers,length_cm,width_cm,height_cm,cup_g"
GOOD = "2027-02-03,Ada,count,jar of beans,380,420,38,10,,,,"
BAD = {
    "a day in another order": ("03/02/2027,Ada,count,jar,380,420,,,,,,", "day", "is not a date"),
    "no pupil": ("2027-02-03,,count,jar,380,420,,,,,,", "pupil", "is empty"),
    "an unknown station": ("2027-02-03,Ada,weight,jar,380,420,,,,,,", "station", "must be one of"),
    "an estimate of zero": ("2027-02-03,Ada,count,jar,0,420,,,,,,", "estimate", "above zero"),
    "a true value below zero": ("2027-02-03,Ada,count,jar,5,-4,,,,,,", "true", "below zero"),
    "no number": ("2027-02-03,Ada,count,jar,many,420,,,,,,", "estimate", "not a number"),
    "a million times off": (
        "2027-02-03,Ada,count,jar,99999999999,1,,,,,,",
        "estimate",
        "million times off",
    ),
    "one part without the other": (
        "2027-02-03,Ada,count,jar,380,420,38,,,,,",
        "layers",
        "is empty although layer is given",
    ),
    "parts of another station": (
        "2027-02-03,Ada,count,jar,380,420,,,12,8,5,",
        "length_cm",
        "although the station is count",
    ),
}


@pytest.fixture
def log(tmp_path):
    def write(*rows, head=HEAD):
        path = tmp_path / "season.csv"
        path.write_text("\n".join([head, *rows]) + "\n", encoding="utf-8")
        return path

    return write


@pytest.mark.parametrize(("row", "column", "what"), BAD.values(), ids=BAD)
def test_a_bad_row_is_named_exactly(log, row, column, what):
    with pytest.raises(FilesError) as refused:
        read_practice_log(log(GOOD, row))

    (problem,) = refused.value.problems
    assert (problem.file, problem.row, problem.column) == ("season.csv", 3, column)
    assert what in problem.what
    assert problem.mend


def test_every_bad_row_is_named_at_once(log):
    with pytest.raises(FilesError) as refused:
        read_practice_log(log(*(row for row, _, _ in BAD.values())))

    assert [problem.row for problem in refused.value.problems] == list(range(2, 2 + len(BAD)))


def test_a_missing_file_is_said(tmp_path):
    with pytest.raises(InputError, match="is not there"):
        read_practice_log(tmp_path / "none.csv")


def test_a_missing_folder_is_said(tmp_path):
    with pytest.raises(InputError, match="is not there"):
        read_practice_log(tmp_path / "none" / "season.csv")


def test_a_folder_instead_of_a_file_is_said(tmp_path):
    with pytest.raises(InputError):
        read_practice_log(Path(tmp_path))


def test_a_heading_alone_is_said(log):
    with pytest.raises(InputError, match="holds no row"):
        read_practice_log(log())


def test_an_unknown_heading_is_said(log):
    with pytest.raises(FilesError, match="Did you mean thing"):
        read_practice_log(log(head=HEAD.replace("thing", "thin")))


def test_a_good_row_becomes_an_attempt(log):
    (attempt,) = read_practice_log(log(GOOD))

    assert (attempt.pupil, attempt.station, attempt.estimate) == ("Ada", Station.COUNT, 380.0)
    assert attempt.parts == Layers(38.0, 10.0)


def test_parts_of_every_station_are_read(log):
    head = (
        "day,pupil,station,thing,estimate,true,cup_g,density_g_cm3,length_cm,width_cm,height_cm,"
        "length_true_cm,width_true_cm,height_true_cm"
    )
    cup, box, other = read_practice_log(
        log(
            "2027-02-03,Ada,mass,beans,92,100,8.5,0.8,,,,,,",
            "2027-02-03,Ada,volume,box,480,500,,,12,8,5,12.5,8,5",
            "2027-02-03,Ada,volume,box,480,500,,,,,,,,",
            head=head,
        )
    )

    assert cup.parts == Scoop(8.5, 0.8)
    assert box.parts == Sides(12, 8, 5, (12.5, 8, 5))
    assert other.parts is None
