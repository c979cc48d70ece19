"""Rule sets made here, and all that an event may choose from."""

import tomllib
from dataclasses import replace

from nearmark.contest.rule_files import rules_from_mapping, shipped_rules
from nearmark.contest.rules import RuleSet
from nearmark.errors import InputError
from nearmark.site.common import clock
from nearmark.site.common.writing import writing
from nearmark.site.event.history import note
from nearmark.site.event.load import rules_text
from nearmark.site.event.models import RuleSetRecord
from nearmark.words.rules import rules_words


def known_rules() -> dict[str, RuleSet]:
    """The newest version of every rule set by name: shipped ones first, then those made here."""
    made = {
        row.name: rules_from_mapping(tomllib.loads(row.rules_toml))
        for row in RuleSetRecord.objects.order_by("name", "version")
    }
    return shipped_rules() | made


def rules_called(name: str) -> RuleSet:
    """The newest version of one rule set. Raises InputError if there is none of this name."""
    known = known_rules()
    if name not in known:
        raise InputError(
            "is not a known rule set", where="rule set", value=name[:60], mend="Choose one"
        )
    return known[name]


def keep_rules(rules: RuleSet, *, by: str) -> RuleSet:
    """Keep a rule set as the next version of its name; InputError if the newest says the same."""
    with writing():
        newest = known_rules().get(rules.name)
        if newest is not None and replace(rules, version=newest.version) == newest:
            raise InputError(
                f"is as version {newest.version}", where="rule set", mend="Change something first"
            )
        kept = replace(rules, version=1 if newest is None else newest.version + 1)
        RuleSetRecord.objects.create(
            name=kept.name,
            version=kept.version,
            rules_toml=rules_text(kept),
            made_at=clock.now(),
            made_by=by,
        )
        note(None, by, "made a rule set", new=rules_words(kept))
    return kept
