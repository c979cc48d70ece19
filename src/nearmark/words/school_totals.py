"""How schools are ranked, and which of them have few pairs."""

from collections.abc import Sequence

from nearmark.contest.rules import SchoolRule, SchoolTotal
from nearmark.contest.school_totals import SchoolResult
from nearmark.words.translation import say, say_count


def school_rule(rule: SchoolTotal) -> str:
    """The rule for the total of a school, in one sentence."""
    if rule.rule is SchoolRule.BEST:
        return say_count(
            "The total of a school is that of its best pair; guests and absent pairs do not count.",
            "The total of a school is the sum of its best {n} pairs; a pair that it lacks counts "
            "as zero, guests and absent pairs do not count.",
            rule.pairs,
        )
    return say_count(
        "The total of a school is the mean of all its pairs; guests and absent pairs do not count.",
        "The total of a school is the mean of all its pairs; one with fewer than {n} has no "
        "place, guests and absent pairs do not count.",
        rule.pairs,
    )


def few_pairs(schools: Sequence[SchoolResult], rule: SchoolTotal) -> str:
    """True of schools with fewer pairs than the rule names; says how they count."""
    named = ", ".join(say("{school} ({n})", school=one.school, n=one.n_pairs) for one in schools)
    if rule.rule is SchoolRule.BEST:
        return say(
            "Fewer than {n} pairs, and the rest counts as zero: {schools}.",
            n=rule.pairs,
            schools=named,
        )
    return say("Fewer than {n} pairs, and so no place: {schools}.", n=rule.pairs, schools=named)
