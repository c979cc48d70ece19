"""Places in a division, totals of schools, awards."""

from fractions import Fraction

from nearmark.contest.awards import Award, DivisionAwards
from nearmark.contest.division_results import DivisionPlace
from nearmark.contest.event import Division, Pair
from nearmark.contest.rules import SchoolRule, SchoolTotal, TieBreak
from nearmark.contest.school_totals import SchoolResult
from nearmark.words import awards, divisions, school_totals, standings
from sentence_examples.facts import Examples

BEST = SchoolTotal(SchoolRule.BEST, 3)
MEAN = SchoolTotal(SchoolRule.MEAN, 2)


def divisions_said() -> Examples:
    """What is said of divisions and schools."""
    short = (SchoolResult("Fernhollow", 7, Fraction(500), ("P01",), 1),)
    return {
        standings.not_comparable: [()],
        divisions.division_place_words: [
            DivisionPlace("grade 3", 2, 14, is_shared=False),
            DivisionPlace("grade 3", 2, 14, is_shared=True),
        ],
        divisions.all_pairs: [()],
        divisions.schools_title: [()],
        divisions.division_schools: ["grade 3"],
        divisions.division_facts: [(3, 14, ("C2",)), (0, 1, ())],
        school_totals.school_rule: [
            BEST,
            SchoolTotal(SchoolRule.BEST, 1),
            MEAN,
            SchoolTotal(SchoolRule.MEAN, 1),
        ],
        school_totals.few_pairs: [(short, BEST), (short, MEAN)],
    }


def awards_said() -> Examples:
    """What is said of awards."""
    one, two = Pair("P07", "Fernhollow", ("a", "b")), Pair("P12", "Quillbank", ("c", "d"))
    shared, alone = Award(1, (one, two)), Award(3, (one,))

    def found(*given: Award, places: int = 3, breaks: tuple[TieBreak, ...] = ()) -> DivisionAwards:
        run_off = "Both scoop 100 g once more; the nearer cup is called first."
        return DivisionAwards(Division("grade 3", places), given, breaks, run_off)

    return {
        awards.awarded_places: [found(), found(places=1), found(places=0)],
        awards.certificates: [found(shared, alone), found(alone)],
        awards.certificates_in_all: [0, 1, 9],
        awards.tie_rule: [found(), found(breaks=tuple(TieBreak))],
        awards.award_line: [alone, shared],
        awards.run_off_needed: [found(shared)],
        awards.run_off_decides: [()],
    }
