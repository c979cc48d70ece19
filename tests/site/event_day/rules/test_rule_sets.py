"""Rule sets made on the site: every version kept, impossible ones refused beside their field."""

from fractions import Fraction

import pytest

from nearmark.contest.rule_files import shipped_rules
from nearmark.contest.rules import RuleSet, SchoolRule, SchoolTotal, TieBreak
from nearmark.site.door.access import Role
from nearmark.site.event.load import rules_of
from nearmark.site.event_day.rules.actions import known_rules
from nearmark.site.event_day.rules.forms import RuleSetForm, first_values
from nearmark.site.models import EventRecord, RuleSetRecord
from nearmark.station import Station


@pytest.fixture
def lead(sign_in):
    return sign_in(Role.LEAD)


def typed(**changes) -> dict[str, object]:
    shown = {k: v for k, v in first_values(RuleSet()).items() if v is not None}
    return {**shown, "base": "percent accuracy", "act": "save", **changes}


OWN = RuleSet(
    "own",
    heat_minutes=25,
    run_off="Each scoops 100 g once more.",
    school_total=SchoolTotal(SchoolRule.BEST, 3),
)


@pytest.mark.parametrize("rules", [*shipped_rules().values(), OWN], ids=lambda rules: rules.name)
def test_a_rule_set_goes_through_the_form_unchanged(rules):
    shown = {k: v for k, v in first_values(rules).items() if v is not None and v is not False}
    form = RuleSetForm({k: str(v) for k, v in shown.items()})

    assert form.is_valid(), form.errors
    assert form.rules(rules) == RuleSet(
        **{f: getattr(rules, f) for f in RuleSet.__dataclass_fields__ if f != "version"}
    )


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
