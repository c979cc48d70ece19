import csv
import json
import tomllib

import pytest

from nearmark.cli.main import main
from nearmark.errors import InputError
from nearmark.kit import BANDS, random_pour
from nearmark.packing import (
    SHAPES,
    LibraryPlan,
    census,
    jar_from_bytes,
    library_request,
    made,
    settle,
)
from nearmark.packing.request import check_request

pytestmark = pytest.mark.slow

WORDS = ["jars", "make", "--count", "2", "--shape", "sphere", "--seed", "11", "--workers", "1"]


def small(rng):
    return random_pour(BANDS["small"], rng)


def test_a_jar_of_a_library_depends_on_seed_and_number_only():
    plan = LibraryPlan(50, tuple(SHAPES), 3)
    longer = LibraryPlan(500, tuple(SHAPES), 3)

    assert library_request(plan, 7, small) == library_request(longer, 7, small)
    assert library_request(plan, 7, small) != library_request(plan, 8, small)


@pytest.mark.parametrize("band", BANDS)
def test_every_jar_drawn_can_be_packed_and_has_a_count_of_its_band(band):
    plan, (low, high) = LibraryPlan(200, tuple(SHAPES), 5), BANDS[band]
    for k in range(200):
        request = library_request(plan, k, lambda rng: random_pour(BANDS[band], rng))
        check_request(request)
        assert low <= request.n_grains <= high


@pytest.fixture(scope="module")
def library(tmp_path_factory):
    out = tmp_path_factory.mktemp("jars")
    main([*WORDS, "--out", str(out)])
    return out


def test_the_list_for_all_tells_no_count_and_the_key_tells_it(library):
    names = ["jar-001.jar", "jar-002.jar"]
    with (library / "jars.csv").open() as lines:
        told = list(csv.DictReader(lines))
    with (library / "jars-key.csv").open() as lines:
        key = list(csv.DictReader(lines))

    assert sorted(p.name for p in library.iterdir()) == [
        *names, "jars-key.csv", "jars.csv", "library.toml",
    ]  # fmt: skip
    assert [row["file"] for row in told] == [row["file"] for row in key] == names
    assert list(told[0]) == ["file", "shape", "width_mm", "vessel", "sha256"]
    for row in key:
        jar = jar_from_bytes((library / row["file"]).read_bytes())
        assert int(row["count"]) == jar.request.n_grains
        assert float(row["bias"]) == census(jar).bias


def test_a_jar_of_another_process_is_the_same_as_one_made_here(library):
    request = library_request(LibraryPlan(2, ("sphere",), 11), 0, small)

    assert made(request)[0] == (library / "jar-001.jar").read_bytes()


def test_a_second_run_makes_nothing_and_mends_what_was_changed(library, capsys):
    before = {p.name: p.read_bytes() for p in library.iterdir()}
    main([*WORDS, "--out", str(library), "--json"])
    assert json.loads(capsys.readouterr().out)["made"] == 0

    (library / "jar-002.jar").write_bytes(b"cut short")
    main([*WORDS, "--out", str(library), "--json"])
    assert json.loads(capsys.readouterr().out)["made"] == 1
    assert {p.name: p.read_bytes() for p in library.iterdir()} == before


def test_other_options_for_the_same_folder_are_refused(library, capsys):
    with pytest.raises(SystemExit) as exit_:
        main([*WORDS, "--out", str(library), "--band", "large"])

    assert exit_.value.code == 2
    assert "begun with other options" in capsys.readouterr().err
    assert tomllib.loads((library / "library.toml").read_text())["band"] == "small"


def test_an_address_where_nothing_answers_is_refused(tmp_path, capsys, monkeypatch):
    distributed = pytest.importorskip("distributed", reason="distributed is not installed")

    def refused(*_args, **_more):
        raise OSError("refused")

    monkeypatch.setattr(distributed, "Client", refused)
    with pytest.raises(SystemExit) as exit_:
        main([*WORDS, "--out", str(tmp_path / "new"), "--scheduler", "tcp://127.0.0.1:1"])

    assert exit_.value.code == 2
    assert "no scheduler answers there" in capsys.readouterr().err


def test_a_jar_that_overflows_is_tried_with_the_next_seed(monkeypatch):
    request = library_request(LibraryPlan(2, ("sphere",), 11), 0, lambda _: 40)
    real, seeds = settle, []

    def first_fails(asked):
        seeds.append(asked.seed)
        if len(seeds) == 1:
            raise InputError("the vessel overflows", where="n_grains")
        return real(asked)

    monkeypatch.setattr("nearmark.packing.library.settle", first_fails)

    assert made(request)[1].count == 40
    assert seeds == [request.seed, request.seed + 1]
