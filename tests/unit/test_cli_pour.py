"""``nearmark pour --try``: a planned container on the computer, from the command line."""

import json

import pytest

from nearmark.cli import main
from nearmark.kit import material, predicted_count, trial_pour, vessel

pytestmark = pytest.mark.slow

ASK = ["pour", "--material", "marble-16", "--count", "40", "--piece-mass", "5.3"]


def test_a_trial_tells_what_the_core_tells(capsys):
    main([*ASK, "--vessel", "jar-500", "--try", "--json"])

    told = json.loads(capsys.readouterr().out)["trial"]
    seen = trial_pour(40, material("marble-16").with_own(piece_mass_g=5.3), vessel("jar-500"))
    assert told["height_cm"] == seen.height_cm
    assert told["product"] == seen.product
    assert told["walls_share"] == seen.walls.share
    brim = predicted_count(
        material("marble-16").with_own(piece_mass_g=5.3),
        vessel("jar-500").volume_cm3,
        walls=seen.walls,
    )
    assert told["brim_pieces"] == brim.pieces


def test_without_a_trial_the_json_is_as_it_was(capsys):
    main([*ASK, "--json"])

    assert "trial" not in json.loads(capsys.readouterr().out)


def test_a_trial_for_nowhere_says_what_is_missing(capsys):
    with pytest.raises(SystemExit) as ended:
        main([*ASK, "--try"])

    assert ended.value.code == 2
    assert "--vessel" in capsys.readouterr().err


@pytest.mark.parametrize("quiet", [True, False])
def test_a_person_is_told_in_words(capsys, quiet):
    main([*ASK, "--vessel", "jar-500", *(["--try"] if not quiet else [])])

    assert ("Poured on the computer" in capsys.readouterr().out) is not quiet
