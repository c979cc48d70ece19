"""A rule set is a checked value: what cannot be is refused by the name of the setting."""

from fractions import Fraction

import pytest

from nearmark.contest.rules import RuleSet, StationRule, TieBreak, default_stations
from nearmark.errors import InputError
from nearmark.station import Station


@pytest.mark.parametrize(
    ("setting", "value"),
    [
        ("name", " "),
        ("version", 0),
        ("full_score", Fraction(0)),
        ("zero_at", Fraction(0)),
        ("free_within", Fraction(-1)),
        ("free_within", Fraction(1)),
        ("highest_score", Fraction(0)),
        ("blank_score", Fraction(-1)),
        ("blank_score", Fraction(101)),
        ("target_mass_g", Fraction(0)),
        ("decimals", -1),
        ("decimals", 7),
        ("u_limit", 0.0),
        ("u_limit", 1.0),
        ("u_limit", float("nan")),
        ("tie_breaks", (TieBreak.WORST_ITEM, TieBreak.WORST_ITEM)),
        ("stations", {}),
        ("stations", {Station.COUNT: StationRule()}),
    ],
)
def test_an_impossible_setting_is_named_with_its_mend(setting, value):
    with pytest.raises(InputError) as refusal:
        RuleSet(**{setting: value})

    assert refusal.value.where == f"rule set, {setting}"
    assert refusal.value.mend.startswith("Give ")


def test_a_blank_cannot_score_more_than_the_cap():
    with pytest.raises(InputError, match="blank_score"):
        RuleSet(highest_score=Fraction(50), blank_score=Fraction(60))


@pytest.mark.parametrize(
    ("weight", "lowest", "highest"), [(0, 0, 1), (-1, 0, 1), (1, -1, 1), (1, 5, 5), (1, 6, 5)]
)
def test_a_station_needs_a_weight_and_limits_in_order(weight, lowest, highest):
    with pytest.raises(InputError, match="of a station"):
        StationRule(Fraction(weight), Fraction(lowest), Fraction(highest))


def test_the_message_shows_a_value_as_people_write_it():
    with pytest.raises(InputError, match=r"got worst item, worst item"):
        RuleSet(tie_breaks=(TieBreak.WORST_ITEM, TieBreak.WORST_ITEM))


def test_every_station_weighs_one_in_the_default():
    # common practice, no source: percent accuracies of all items are added
    assert {rule.weight for rule in default_stations().values()} == {1}


@pytest.mark.parametrize("decimals", [0, 6])
def test_the_limits_themselves_are_possible(decimals):
    assert RuleSet(decimals=decimals).decimals == decimals
    assert RuleSet(highest_score=Fraction(50), blank_score=Fraction(50)).blank_score == 50
