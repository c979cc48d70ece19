"""Which places a page shows: those of all pairs, of one division, or of the schools."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final
from urllib.parse import urlencode

from nearmark.contest.division_results import by_division
from nearmark.contest.rank_tally import PODIUM
from nearmark.contest.results import Results
from nearmark.contest.school_totals import (
    SchoolResult,
    school_rankings,
    school_totals,
    short_schools,
)
from nearmark.words.divisions import all_pairs, division_schools, schools_title
from nearmark.words.school_totals import few_pairs, school_rule

DIVISION: Final = "division"
SCHOOLS: Final = "schools"
"""Names in the address."""


@dataclass(frozen=True, slots=True)
class Choice:
    """One ranking that a page can show."""

    name: str
    query: str  # of the address, with its question mark
    is_chosen: bool


@dataclass(frozen=True, slots=True)
class SchoolTable:
    """Schools that are ranked among themselves."""

    title: str
    schools: tuple[SchoolResult, ...]
    few: str  # those with few pairs, and how they count; empty: there are none
    # The total of a school tells that of its pairs: not where only the first places are published.
    shows_points: bool

    @property
    def podium(self) -> tuple[SchoolResult, ...]:
        """The schools on the first three places."""
        return tuple(one for one in self.schools if one.place and one.place <= PODIUM)


@dataclass(frozen=True, slots=True)
class Shown:
    """What a page shows."""

    outcome: Results  # of all pairs, or of one division
    is_schools: bool
    choices: tuple[Choice, ...]  # empty where there is nothing to choose

    @property
    def key(self) -> tuple[str, bool]:
        """What tells it from the other choices."""
        return self.outcome.division, self.is_schools

    @property
    def big_screen(self) -> str:
        """The same places on the screen of the hall: query of the address."""
        division = {DIVISION: self.outcome.division} if self.outcome.division else {}
        schools = {SCHOOLS: "1"} if self.is_schools else {}
        return f"?{urlencode({'screen': 'big'} | division | schools)}"

    @property
    def title(self) -> str:
        """Name of what was chosen; empty where there is nothing to choose."""
        return next((one.name for one in self.choices if one.is_chosen), "")


def shown(outcome: Results, asked: Mapping[str, str]) -> Shown:
    """What was asked for; what is not there is answered with the first choice.

    ``asked``: the query of the address. Where divisions cannot be compared there is no ranking of
    all pairs, and the first division comes first.
    """
    cuts = by_division(outcome)
    together = (outcome,) if outcome.is_comparable or not cuts else ()
    found = (*together, *cuts)
    wanted = asked.get(DIVISION, "")
    ranking = next((one for one in found if one.division == wanted), found[0])
    has_schools = outcome.event.rules.school_total is not None
    is_schools = has_schools and SCHOOLS in asked
    more = {"screen": asked["screen"]} if "screen" in asked else {}

    def choice(name: str, query: dict[str, str], *, is_chosen: bool) -> Choice:
        return Choice(name, f"?{urlencode(query | more)}", is_chosen)

    choices = [
        choice(
            one.division or all_pairs(),
            {DIVISION: one.division},
            is_chosen=not is_schools and one.division == ranking.division,
        )
        for one in found
    ]
    if has_schools:
        choices.append(choice(schools_title(), {SCHOOLS: "1"}, is_chosen=is_schools))
    return Shown(ranking, is_schools, tuple(choices) if len(choices) > 1 else ())


def school_tables(outcome: Results, *, last_place: int | None = None) -> tuple[SchoolTable, ...]:
    """The schools by their rule, by division where ranked apart; behind ``last_place`` none."""
    rule = outcome.event.rules.school_total
    if rule is None:
        return ()
    tables = []
    for ranking in school_rankings(outcome):
        found = school_totals(ranking)
        short = short_schools(found, rule)
        title = division_schools(ranking.division) if ranking.division else schools_title()
        if last_place is not None:
            found = tuple(one for one in found if one.place and one.place <= last_place)
            tables.append(SchoolTable(title, found, "", shows_points=False))
            continue
        few = few_pairs(short, rule) if short else ""
        tables.append(SchoolTable(title, found, few, shows_points=True))
    return tuple(tables)


def rule_of_schools(outcome: Results) -> str:
    """The rule in one sentence; empty when schools are not ranked."""
    rule = outcome.event.rules.school_total
    return school_rule(rule) if rule else ""
