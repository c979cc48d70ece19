"""Rule sets as mappings: exact, strict, round trip."""

import tomllib
from fractions import Fraction

import pytest
import tomli_w

from nearmark.contest.rule_files import rules_as_mapping, rules_from_mapping, shipped_rules
from nearmark.contest.rules import RuleSet, Station
from nearmark.errors import InputError


@pytest.mark.parametrize("name", shipped_rules())
def test_a_shipped_rule_set_survives_toml(name):
    rules = shipped_rules()[name]

    text = tomli_w.dumps(rules_as_mapping(rules))

    assert rules_from_mapping(tomllib.loads(text)) == rules


def test_the_default_is_shipped_as_it_stands_in_code():
    assert shipped_rules()["percent accuracy"] == RuleSet()


def test_a_tenth_in_a_file_is_a_tenth():
    assert rules_from_mapping({"free_within": 0.1}).free_within == Fraction(1, 10)


def test_a_weight_may_be_a_fraction():
    rules = rules_from_mapping({"stations": {"count": {"weight": "1/3"}}})

    assert rules.stations[Station.COUNT].weight == Fraction(1, 3)


@pytest.mark.parametrize(
    ("mapping", "named"),
    [
        ({"zero_a": 1}, "Did you mean zero_at?"),
        ({"zero_at": "half"}, "zero_at"),
        ({"zero_at": 0}, "zero_at"),
        ({"zero_at": float("nan")}, "zero_at"),
        ({"zero_at": True}, "zero_at"),
        ({"zero_at": "1/0"}, "zero_at"),
        ({"free_within": 2}, "free_within"),
        ({"version": "one"}, "version"),
        ({"version": 0}, "version"),
        ({"tie_breaks": ["coin toss"]}, "tie_breaks"),
        ({"tie_breaks": "worst item"}, "tie_breaks"),
        ({"tie_breaks": ["worst item", "worst item"]}, "tie_breaks"),
        ({"stations": {"smell": {}}}, "stations"),
        ({"stations": {}}, "stations"),
        ({"stations": {"count": {"weigth": 2}}}, "Did you mean weight?"),
        ({"stations": {"count": {"weight": -1}}}, "count"),
        ({"solo_allowed": "yes"}, "solo_allowed"),
        ({"decimals": 9}, "decimals"),
        ({"u_limit": 1}, "u_limit"),
        ({"name": "  "}, "name"),
    ],
)
def test_a_setting_that_cannot_be_is_named(mapping, named):
    with pytest.raises(InputError) as refusal:
        rules_from_mapping(mapping)

    assert named in str(refusal.value)
