"""The standings in the terminal: of all pairs, of each division, of the schools; the awards."""

from collections.abc import Sequence

from rich.console import Console
from rich.table import Table
from rich.text import Text

from nearmark.contest import PairResult, RankConfidence, Results
from nearmark.contest.awards import awards
from nearmark.contest.division_results import by_division
from nearmark.contest.event import Item
from nearmark.contest.school_totals import school_rankings, school_totals, short_schools
from nearmark.contest.scoring import points_text
from nearmark.words.awards import (
    award_line,
    awarded_places,
    certificates,
    run_off_decides,
    run_off_needed,
    tie_rule,
)
from nearmark.words.school_totals import few_pairs, school_rule
from nearmark.words.standings import StandingWords, score_text, standing_words


def show_places(out: Console, outcome: Results, confidence: RankConfidence | None) -> None:
    """Print the ties and the table of one ranking; nothing where pairs cannot be compared."""
    if not outcome.is_comparable:
        return
    words = standing_words(outcome, confidence)
    for tie in words.ties:
        out.print(Text(tie, "bold"))
    out.print(_table(outcome, confidence, words))


def show_divisions(out: Console, outcome: Results, confidence: RankConfidence) -> None:
    """Print the places of each division, and how sure they are."""
    for cut in by_division(outcome):
        out.print(Text(f"\n{cut.division}", "bold underline"))
        sure = confidence.of_division(cut.division)
        show_places(out, cut, sure)
        words = standing_words(cut, sure)
        for line in (words.headline, *words.margin):
            if line:
                out.print(line)


def show_schools(out: Console, outcome: Results) -> None:
    """Print the totals of the schools, if the rule set ranks them."""
    rules = outcome.event.rules
    if rules.school_total is None:
        return
    for ranking in school_rankings(outcome):
        found = school_totals(ranking)
        title = f"Schools, {ranking.division}" if ranking.division else "Schools"
        out.print(Text(f"\n{title}", "bold underline"))
        table = Table(box=None, pad_edge=False)
        table.add_column("place", justify="right", min_width=6)
        table.add_column("school", no_wrap=True)
        table.add_column("total", justify="right", style="bold", min_width=6)
        table.add_column("pairs that count")
        for one in found:
            total = points_text(one.total, rules.decimals)
            table.add_row(str(one.place or "-"), one.school, total, " ".join(one.counted))
        out.print(table)
        short = short_schools(found, rules.school_total)
        if short:
            out.print(few_pairs(short, rules.school_total))
    out.print(school_rule(rules.school_total))


def show_awards(out: Console, outcome: Results) -> None:
    """Print who gets an award in each division, the first place last, as it is announced."""
    for found in awards(outcome) if outcome.event.divisions else ():
        out.print(Text(f"\nAwards, {found.division.name}", "bold underline"))
        for award in found.announced:
            out.print(f"  {award_line(award)}")
        if found.awards:
            out.print(f"{awarded_places(found)} {certificates(found)} {tie_rule(found)}")
        if found.shared_first and found.run_off:
            out.print(Text(f"{run_off_needed(found)} {run_off_decides()}", "bold"))


def _table(outcome: Results, confidence: RankConfidence | None, words: StandingWords) -> Table:
    has_divisions = bool(outcome.event.divisions) and not outcome.division
    # The scores are in the table of each division: beside its name they leave no room.
    items = () if has_divisions else outcome.event.items
    table = Table(box=None, pad_edge=False)
    table.add_column("place", justify="right", min_width=6)
    table.add_column("pair", min_width=4)
    if has_divisions:
        table.add_column("division", no_wrap=True)
        table.add_column("there", justify="right")
    table.add_column("school", no_wrap=True)
    for item in items:
        table.add_column(item.code, justify="right", min_width=5, no_wrap=True)
    table.add_column("total", justify="right", style="bold", min_width=6)
    if words.share:
        table.add_column("stays", justify="right", min_width=6)
    for line in outcome.pairs:
        held = confidence and words.share and confidence.place_stands(line.pair.code)
        table.add_row(
            *_row(outcome, line, items, has_divisions=has_divisions),
            *((f"{held:.0%}",) if isinstance(held, float) else ()),
        )
    return table


def _row(
    outcome: Results, line: PairResult, items: Sequence[Item], *, has_divisions: bool
) -> list[str]:
    decimals = outcome.event.rules.decimals
    scores = {s.item: s for s in line.items}
    there = (line.pair.division, str(line.division_place or "")) if has_divisions else ()
    return [
        str(line.place) if line.place else line.pair.status.value,
        line.pair.code,
        *there,
        line.pair.school,
        *(score_text(scores.get(item.code), 1) for item in items),
        points_text(line.total, decimals),
    ]
