"""Rule sets as mappings: exact, strict, round trip."""

import json
import re
import tomllib
from dataclasses import fields, replace
from fractions import Fraction
from importlib import resources
from pathlib import Path

import pytest
import tomli_w

from nearmark.contest.rule_files import rules_as_mapping, rules_from_mapping, shipped_rules
from nearmark.contest.rules import RuleSet, TieBreak
from nearmark.errors import InputError
from nearmark.station import Station


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


def test_a_weight_left_out_keeps_the_default_of_its_station():
    rules = rules_from_mapping({"stations": {"count": {"weight": 2}}})

    default = RuleSet().stations
    assert rules.stations[Station.COUNT] == replace(default[Station.COUNT], weight=Fraction(2))
    assert rules.stations[Station.MASS] == default[Station.MASS]


def test_each_file_of_the_folder_is_another_rule_set():
    folder = resources.files("nearmark.contest") / "rule_sets"

    assert len(shipped_rules()) == sum(f.name.endswith(".toml") for f in folder.iterdir()) == 3


def test_the_shipped_examples_use_what_the_default_leaves_alone():
    balanced, beginners = (shipped_rules()[n] for n in ("balanced stations", "beginners"))

    assert {rule.weight for rule in balanced.stations.values()} == {
        1,
        Fraction(1, 3),
        Fraction(1, 2),
    }
    assert (balanced.highest_score, len(balanced.tie_breaks)) == (99, 2)
    assert (beginners.free_within, beginners.zero_at) == (Fraction(1, 20), Fraction(4, 5))
    assert not beginners.solo_allowed


@pytest.mark.parametrize(
    ("mapping", "named"),
    [
        ({"zero_a": 1}, "Did you mean zero_at?"),
        ({"Zero_At": 1}, "Did you mean zero_at?"),
        ({"xyz": 1}, "Use one of: blank_score"),
        ({"zero_at": "half"}, "rule set, zero_at"),
        ({"zero_at": 0}, "rule set, zero_at"),
        ({"zero_at": float("nan")}, "rule set, zero_at"),
        ({"zero_at": float("-inf")}, "rule set, zero_at"),
        ({"zero_at": True}, "rule set, zero_at"),
        ({"zero_at": [1]}, "rule set, zero_at"),
        ({"zero_at": "1/0"}, "rule set, zero_at"),
        ({"free_within": 2}, "rule set, free_within"),
        ({"version": "one"}, "rule set, version"),
        ({"version": True}, "rule set, version"),
        ({"version": 0}, "rule set, version"),
        ({"tie_breaks": ["coin toss"]}, "rule set, tie_breaks"),
        ({"tie_breaks": ["worst items"]}, "Did you mean worst item?"),
        ({"tie_breaks": [["worst item"]]}, "rule set, tie_breaks"),
        ({"tie_breaks": "worst item"}, 'Write ["worst item"]'),
        ({"tie_breaks": ["worst item", "worst item"]}, "rule set, tie_breaks"),
        ({"stations": {"counts": {}}}, "Did you mean count?"),
        ({"stations": 3}, "rule set, stations"),
        ({"stations": {"count": 2}}, "rule set, stations.count"),
        ({"stations": {"count": {"weihgt": 2}}}, "Did you mean weight?"),
        ({"stations": {"count": {"weight": -1}}}, "rule set, stations.count"),
        ({"stations": {"count": {"highest": 5}}}, "rule set, stations.count"),
        ({"solo_allowed": "yes"}, "Write true or false"),
        ({"decimals": 9}, "rule set, decimals"),
        ({"u_limit": 1}, "rule set, u_limit"),
        ({"name": "  "}, "rule set, name"),
        ({"name": 3}, "Put it in quotes"),
    ],
)
def test_a_setting_that_cannot_be_is_named(mapping, named):
    with pytest.raises(InputError) as refusal:
        rules_from_mapping(mapping)

    assert named in str(refusal.value)
    assert refusal.value.mend


@pytest.mark.parametrize("text", ["1e999999999", "9" * 5000, "1/" + "9" * 41, "0x10", "1_000", ""])
def test_a_number_as_text_is_digits_a_point_or_a_fraction(text):
    # As text, a power of ten could ask for more digits than the machine has.
    with pytest.raises(InputError, match="full_score"):
        rules_from_mapping({"full_score": text})


DOCS = (Path(__file__).parents[2] / "docs" / "reference" / "rules.md").read_text(encoding="utf-8")


@pytest.mark.parametrize("setting", [field.name for field in fields(RuleSet)])
def test_every_setting_and_its_default_stands_in_the_docs(setting):
    row = re.search(rf"^\| `{setting}` \| (?P<default>[^|]+) \|", DOCS, re.MULTILINE)

    assert row, f"docs/reference/rules.md has no row for {setting}"
    written = rules_as_mapping(RuleSet()).get(setting)
    if setting != "stations":
        expected = "none" if written is None else f"`{json.dumps(written)}`"
        assert row["default"] == expected


@pytest.mark.parametrize("setting", ["weight", "lowest", "highest"])
def test_the_docs_give_the_defaults_of_each_station(setting):
    (row,) = re.findall(rf"^\| `{setting}` \|(.+)\|", DOCS, re.MULTILINE)

    written = [Fraction(cell.split()[0]) for cell in row.split("|")[:3]]
    stations = RuleSet().stations
    assert written == [getattr(stations[station], setting) for station in Station]


@pytest.mark.parametrize("name", [*TieBreak, *Station])
def test_every_name_a_setting_can_have_stands_in_the_docs(name):
    assert f"`{name}`" in DOCS or f"`[stations.{name}]`" in DOCS


def test_the_example_of_the_docs_is_a_rule_set():
    (example,) = re.findall(r"^```toml\n(.*?)^```", DOCS, re.MULTILINE | re.DOTALL)

    assert rules_from_mapping(tomllib.loads(example)).version == 2


def test_a_station_may_state_its_own_limit_of_u():
    rules = rules_from_mapping({"u_limit": 0.01, "stations": {"volume": {"u_limit": 0.02}}})

    assert [rules.u_limit_at(station) for station in Station] == [0.01, 0.01, 0.02]
    assert rules_from_mapping(rules_as_mapping(rules)) == rules
    assert shipped_rules()["beginners"].u_limit_at(Station.VOLUME) == 0.02


@pytest.mark.parametrize("limit", [0, 1, -0.1, 2])
def test_a_limit_of_a_station_that_cannot_be_is_refused_by_name(limit):
    with pytest.raises(InputError, match=r"stations\.volume"):
        rules_from_mapping({"stations": {"volume": {"u_limit": limit}}})
