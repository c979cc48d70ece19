"""The standings in the terminal: of all pairs, of each division, of the schools; the awards."""

from collections.abc import Sequence

from rich.console import Console
from rich.text import Text

from nearmark.cli.table import Column, show_table
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
from nearmark.words.numbers import probability_text
from nearmark.words.school_totals import few_pairs, school_rule
from nearmark.words.standings import StandingWords, score_text, standing_words


def show_places(out: Console, outcome: Results, confidence: RankConfidence | None) -> None:
    """Print the ties and the table of one ranking; nothing where pairs cannot be compared."""
    if not outcome.is_comparable:
        return
    words = standing_words(outcome, confidence)
    for tie in words.ties:
        out.print(Text(tie, "bold"))
    _show_table(out, outcome, confidence, words)


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
        columns = (
            Column("place", right=True),
            Column("school", wraps=True),
            Column("total", right=True, style="bold"),
            Column("pairs that count", wraps=True),
        )
        rows = [
            (
                *(str(one.place or "-"), one.school),
                *(points_text(one.total, rules.decimals), " ".join(one.counted)),
            )
            for one in found
        ]
        show_table(out, columns, rows)
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


def _show_table(
    out: Console, outcome: Results, confidence: RankConfidence | None, words: StandingWords
) -> None:
    has_divisions = bool(outcome.event.divisions) and not outcome.division
    # The scores are in the table of each division: beside its name they leave no room.
    items = () if has_divisions else outcome.event.items
    columns = (
        Column("place", right=True),
        Column("pair"),
        *((Column("division", wraps=True), Column("there", right=True)) if has_divisions else ()),
        Column("school", wraps=True),
        *(Column(item.code, right=True, may_go=True) for item in items),
        Column("total", right=True, style="bold"),
        *((Column("stays", right=True),) if words.share else ()),
    )
    rows = []
    for line in outcome.pairs:
        cells = _row(outcome, line, items, has_divisions=has_divisions)
        if words.share:
            held = confidence and confidence.place_stands(line.pair.code)
            cells.append(probability_text(held) if isinstance(held, float) else "")
        rows.append(cells)
    show_table(out, columns, rows)


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
