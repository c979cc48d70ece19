"""Awards: how many, what a shared place brings, and what a run-off decides."""

from nearmark.contest.awards import Award, DivisionAwards
from nearmark.words.numbers import both, capital
from nearmark.words.rules import tie_break_words
from nearmark.words.standings import place_name
from nearmark.words.translation import say, say_count


def awarded_places(found: DivisionAwards) -> str:
    """How many places of a division get an award."""
    if not found.division.awarded_places:
        return say("No place gets an award.")
    return say_count(
        "First place gets an award.",
        "The first {n} places get an award.",
        found.division.awarded_places,
    )


def certificates(found: DivisionAwards) -> str:
    """How many certificates the awards of a division need."""
    return say_count(
        "That is {n} certificate: pairs who share a place each get one.",
        "That is {n} certificates: pairs who share a place each get one.",
        found.n_certificates,
    )


def certificates_in_all(n: int) -> str:
    """How many certificates the awards of all divisions need."""
    if not n:
        return say("Nobody has an award yet.")
    return say_count(
        "{n} certificate in all. The first place is called last.",
        "{n} certificates in all. The first place is called last.",
        n,
    )


def tie_rule(found: DivisionAwards) -> str:
    """The tie rule of the rule set: what separates equal totals, and what happens then."""
    if not found.tie_breaks:
        return say("Equal totals share the better place.")
    return say(
        "Equal totals are separated by {figures}; who is equal in that too shares the better "
        "place.",
        figures=say(", then ").join(map(tie_break_words, found.tie_breaks)),
    )


def award_line(award: Award) -> str:
    """Who is called for one place."""
    return say(
        "{place}: {pairs}",
        place=capital(place_name(award.place)),
        pairs=both([f"{pair.code} ({pair.school})" for pair in award.pairs]),
    )


def run_off_needed(found: DivisionAwards) -> str:
    """True of a division whose first place is shared, under a rule set with a run-off."""
    return say(
        "{pairs} share first place. Run-off: {run_off}",
        pairs=both([pair.code for pair in found.shared_first]),
        run_off=found.run_off,
    )


def run_off_decides() -> str:
    """What a run-off decides, and what it leaves as it is."""
    return say(
        "The run-off decides who is called first. Totals and places stay as they are: in the "
        "standings first place is still shared."
    )
