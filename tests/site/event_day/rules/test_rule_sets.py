"""Rule sets made on the site: every version kept, impossible ones refused beside their field."""

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nearmark.contest.rule_files import shipped_rules
from nearmark.contest.rules import (
    MAX_DECIMALS,
    MAX_HEAT,
    RuleSet,
    SchoolRule,
    SchoolTotal,
    StationRule,
    TieBreak,
)
from nearmark.site.door.access import Role
from nearmark.site.event.load import rules_of
from nearmark.site.event_day.rules.actions import known_rules
from nearmark.site.event_day.rules.forms import RuleSetForm, first_values
from nearmark.site.models import EventRecord, RuleSetRecord
from nearmark.station import Station
from nearmark.words.rules import tie_break_words


@pytest.fixture
def lead(sign_in):
    return sign_in(Role.LEAD)


def typed(**changes) -> dict[str, object]:
    shown = {k: v for k, v in first_values(RuleSet()).items() if v is not None}
    return {**shown, "base": "percent accuracy", "act": "save", **changes}


names = st.text(st.characters(categories=("L", "N")), min_size=1, max_size=200)
limits = st.floats(1e-6, 0.5)
fractions = st.fractions(Fraction(1, 1000), 10_000_000, max_denominator=10_000)


@st.composite
def station_rules(draw: st.DrawFn) -> StationRule:
    lowest = draw(fractions)
    return StationRule(
        weight=draw(fractions),
        lowest=lowest,
        highest=lowest + draw(fractions),
        u_limit=draw(st.none() | limits),
    )


@st.composite
def rule_sets(draw: st.DrawFn) -> RuleSet:
    free, full = draw(fractions), draw(fractions)
    highest = draw(st.none() | fractions)
    heats = st.none() | st.integers(1, MAX_HEAT)
    schools = st.builds(SchoolTotal, st.sampled_from(SchoolRule), st.integers(1, 99))
    return RuleSet(
        name=draw(names),
        full_score=full,
        free_within=free,
        zero_at=free + draw(fractions),
        highest_score=highest,
        blank_score=draw(st.sampled_from([Fraction(0), min(full, highest or full) / 3])),
        target_mass_g=draw(fractions),
        stations={station: draw(station_rules()) for station in Station},
        tie_breaks=tuple(draw(st.lists(st.sampled_from(TieBreak), unique=True))),
        decimals=draw(st.integers(0, MAX_DECIMALS)),
        u_limit=draw(limits),
        solo_allowed=draw(st.booleans()),
        school_total=draw(st.none() | schools),
        run_off=draw(st.just("") | names),
        heat_minutes=draw(heats),
        heat_places=draw(heats),
    )


def sent(rules: RuleSet) -> dict[str, str]:
    """The form as a browser sends it, with nothing changed."""
    shown = {k: v for k, v in first_values(rules).items() if v is not None and v is not False}
    return {k: str(v) for k, v in shown.items()}


@pytest.mark.parametrize("rules", shipped_rules().values(), ids=lambda rules: rules.name)
def test_a_shipped_rule_set_goes_through_the_form_unchanged(rules):
    form = RuleSetForm(rules, sent(rules))

    assert form.is_valid(), form.errors
    assert form.rules() == replace(rules, version=1)


@pytest.mark.slow
@settings(max_examples=40, deadline=None)
@given(rule_sets())
def test_a_rule_set_saved_without_a_change_is_the_same_rule_set(rules):
    form = RuleSetForm(rules, sent(rules))

    assert form.is_valid(), form.errors
    assert form.rules() == rules


def test_all_tie_breaks_are_offered_in_the_words_of_the_awards(lead, source_of):
    page = source_of(lead.get("/rules/make/"))

    for breaker in TieBreak:
        assert page.count(f">{tie_break_words(breaker)}</option>") == len(TieBreak)


def test_a_new_rule_set_is_kept_and_its_next_version_beside_it(lead):
    first = lead.post("/rules/make/", typed(name="hall rules", count_weight="1/3", zero_at="80"))
    assert first.status_code == 302
    again = typed(name="hall rules", base="hall rules", zero_at="80", tie_break_1="worst item")
    assert lead.post("/rules/make/", again).status_code == 302

    assert [(r.name, r.version) for r in RuleSetRecord.objects.all()] == [
        ("hall rules", 1), ("hall rules", 2),
    ]  # fmt: skip
    newest = known_rules()["hall rules"]
    assert newest.zero_at == Fraction(4, 5)
    assert newest.tie_breaks == (TieBreak.WORST_ITEM,)
    assert newest.stations[Station.COUNT].weight == 1


def test_a_version_that_changes_nothing_is_refused(lead, source_of):
    answer = lead.post("/rules/make/", typed())

    assert answer.status_code == 422
    assert "is as version 1" in source_of(answer).lower()
    assert not RuleSetRecord.objects.exists()


def test_the_points_are_shown_before_anything_is_saved(lead, source_of):
    page = source_of(lead.post("/rules/make/", typed(name="half", zero_at="50", act="check")))

    # Zero from 50 % off: 10 % off is 80 points, a straight line by hand.
    assert "<td>80.00</td>" in page
    assert not RuleSetRecord.objects.exists()


@pytest.mark.parametrize(
    ("field", "value"),
    [
        ("zero_at", "0"),
        ("free_within", "100"),
        ("count_weight", "0"),
        ("volume_u_limit", "200"),
        ("u_limit", "x"),
        ("mass_weight", "a third"),
    ],
)
def test_an_impossible_setting_is_refused_beside_its_field(lead, source_of, field, value):
    answer = lead.post("/rules/make/", typed(name="odd", **{field: value}))

    assert answer.status_code == 422
    assert f'id="id_{field}_error"' in source_of(answer)
    assert not RuleSetRecord.objects.exists()


def test_an_event_is_begun_with_a_rule_set_made_here(lead, demo):
    lead.post("/rules/make/", typed(name="hall rules", heat_places="8", heat_minutes="25"))

    begun = {"name": "Small day", "day": "2027-06-01", "rules": "hall rules"}
    assert lead.post("/event/make/", begun).status_code == 302

    record = EventRecord.objects.exclude(pk=demo.pk).get()
    assert rules_of(record) == known_rules()["hall rules"]
    assert record.heat_places == 8
    record.pairs.create(code="P01", school="Fernhollow", members=["Ada"], heat="heat 1")
    assert 'value="25"' in lead.get("/clock/control/").content.decode()
