"""Scoring a day by hand: the forms, the score tables, the merging of all heats, and ties."""

from collections.abc import Sequence
from enum import StrEnum
from fractions import Fraction
from typing import Final

from nearmark.contest.rules import RuleSet, TieBreak
from nearmark.words.numbers import both
from nearmark.words.translation import message, say


class FormText(StrEnum):
    """One text of the forms on which a day is scored by hand."""

    FORMS = "forms"
    FIRST = "first"
    SECOND = "second"
    DIFFERENCES = "differences"
    SCORES = "scores"
    TARES = "tares"
    MERGING = "merging"
    TABLE = "table"
    FOOT_FORMS = "foot_forms"
    FOOT_MERGING = "foot_merging"
    FOOT_TABLE = "foot_table"
    CLERK = "clerk"
    TIME = "time"
    READER = "reader"
    WORKED_OUT = "worked_out"
    CHECKED = "checked"
    READ_ALONE = "read_alone"
    WHERE_THEY_DIFFER = "where_they_differ"
    ACCEPTED_ONLY = "accepted_only"
    TARE_OFF = "tare_off"
    PAIR = "pair"
    ITEM = "item"
    HEAT = "heat"
    DIVISION = "division"
    ONE = "one"
    TWO = "two"
    THIRD = "third"
    WHY = "why"
    CUP = "cup"
    GROSS = "gross"
    TARE = "tare"
    NET = "net"
    PIECES = "pieces"
    ACCEPTED = "accepted"
    POINTS = "points"
    TOTAL = "total"
    PLACE = "place"
    READ_BACK = "read_back"
    EXAMPLE = "example"
    PART = "part"
    FIRST_PLACES = "first_places"
    NOT_PLACED = "not_placed"
    SEALED = "sealed"
    LOWER = "lower"
    HIGHER = "higher"
    COUNTS = "counts"
    OPENED = "opened"
    WITNESS = "witness"


_TEXTS: Final = {
    FormText.FORMS: message("Tally forms"),
    FormText.FIRST: message("First reading"),
    FormText.SECOND: message("Second reading"),
    FormText.DIFFERENCES: message("Third reading"),
    FormText.SCORES: message("Scores and totals"),
    FormText.TARES: message("Tares of the cups, in g"),
    FormText.MERGING: message("Merging sheet: from totals to places"),
    FormText.TABLE: message("Score tables"),
    FormText.FOOT_FORMS: message("tally forms, helpers only"),
    FormText.FOOT_MERGING: message("merging sheet, helpers only"),
    FormText.FOOT_TABLE: message("score tables, sealed with the key sheet"),
    FormText.CLERK: message("clerk"),
    FormText.TIME: message("time"),
    FormText.READER: message("third reader"),
    FormText.WORKED_OUT: message("worked out by"),
    FormText.CHECKED: message("checked by"),
    FormText.READ_ALONE: message(
        "Read the sheet and nothing else: not the other reading. B: left blank. X: cannot be read."
    ),
    FormText.WHERE_THEY_DIFFER: message(
        "One line for each answer where the two readings differ. A third person reads the sheet "
        "and writes the value that counts, and why."
    ),
    FormText.ACCEPTED_ONLY: message(
        "Accepted: both readings are alike, or the third reading. Net = gross \N{MINUS SIGN} tare; "
        "the list of tares is at the end. Find the points in the score table of the item. The "
        "total is the sum of the points."
    ),
    FormText.TARE_OFF: message(
        "Helpers only. Take the tare off the gross mass of the cup with that number."
    ),
    FormText.PAIR: message("pair"),
    FormText.ITEM: message("item"),
    FormText.HEAT: message("heat"),
    FormText.DIVISION: message("division"),
    FormText.ONE: message("first"),
    FormText.TWO: message("second"),
    FormText.THIRD: message("third: counts"),
    FormText.WHY: message("why"),
    FormText.CUP: message("cup"),
    FormText.GROSS: message("gross, g"),
    FormText.TARE: message("tare, g"),
    FormText.NET: message("net, g"),
    FormText.PIECES: message("pieces"),
    FormText.ACCEPTED: message("accepted"),
    FormText.POINTS: message("points"),
    FormText.TOTAL: message("total"),
    FormText.PLACE: message("place"),
    FormText.READ_BACK: message("read back"),
    FormText.EXAMPLE: message("example"),
    FormText.PART: message("part"),
    FormText.FIRST_PLACES: message("The first places, after the check"),
    FormText.NOT_PLACED: message("not placed"),
    FormText.SEALED: message("Sealed until release: keep it with the key sheet."),
    FormText.LOWER: message("answer"),
    FormText.HIGHER: message("or answer"),
    FormText.COUNTS: message("counts"),
    FormText.OPENED: message("Opened by, time"),
    FormText.WITNESS: message("Witness"),
}


def form_text(part: FormText) -> str:
    """A heading, a column or an instruction of the forms."""
    return say(_TEXTS[part])


def form_texts() -> dict[str, str]:
    """All texts of the forms by name, as the templates ask for them.

    >>> form_texts()["checked"]
    'checked by'
    """
    return {part.value: form_text(part) for part in FormText}


def score_formula(rules: RuleSet) -> str:
    """The score of one answer, for a calculator with four functions.

    >>> score_formula(RuleSet()).partition(";")[0]
    'off = difference of answer and key ÷ key'
    """
    span = rules.zero_at - rules.free_within
    facts = {
        "full": exact_text(rules.full_score),
        "zero": exact_text(rules.zero_at),
        "divided": "" if span == 1 else f" ÷ {exact_text(span)}",
    }
    best = rules.best_score
    if best == rules.full_score and not rules.free_within:
        return say(
            "off = difference of answer and key ÷ key; score = {full} \N{MULTIPLICATION SIGN} "
            "({zero} \N{MINUS SIGN} off){divided}, never below 0.",
            **facts,
        )
    return say(
        "off = difference of answer and key ÷ key; score = {full} \N{MULTIPLICATION SIGN} "
        "({zero} \N{MINUS SIGN} off){divided}, never below 0 and never above {most}.",
        most=exact_text(best),
        **facts,
    )


def exact_text(number: Fraction) -> str:
    """A number as a decimal where one is exact, else as a fraction.

    >>> exact_text(Fraction(3, 2)), exact_text(Fraction(1, 3))
    ('1.5', '(1/3)')
    """
    decimal = f"{float(number):.6g}"
    return decimal if Fraction(decimal) == number else f"({number})"


def missing_earns(points: str) -> str:
    """True of an answer that is blank or cannot be read."""
    return say("Left blank or unreadable: {points} points.", points=points)


def invented_example(keys: Sequence[str]) -> str:
    """What the solved line of a form is worked out against; never a key of the event.

    >>> invented_example(["400 pieces"])
    'The line "example" is invented: as if the true value were 400 pieces.'
    """
    return say('The line "example" is invented: as if the true value were {keys}.', keys=both(keys))


def points_times(times: str) -> str:
    """What a column of points is called when the item does not count once.

    >>> points_times("1.5").split()[::2]
    ['points', '1.5']
    """
    return say("points \N{MULTIPLICATION SIGN} {times}", times=times)


def merging_steps(rules: RuleSet) -> tuple[str, ...]:
    """How the totals of all heats become places, under the rule set in force."""
    return (
        say(
            "Copy the total of each pair from the forms. A second person reads it back and ticks "
            "the box."
        ),
        say(
            "The highest total is place 1, the next one place 2, and so on. Equal totals share a "
            "place, and the next place counts everybody before it: 1, 2, 2, 4."
        ),
        tie_words(rules.tie_breaks),
        say(
            "The score tables say how near two totals may be before their order is unsure. Work "
            "out such pairs again with all decimals: {formula}",
            formula=score_formula(rules),
        ),
    )


def divisions_apart() -> str:
    """True of an event with divisions: each has places of its own."""
    return say("Rank each division by itself: write its places in the order of its own totals.")


_TIES: Final = {
    TieBreak.MASS_TOTAL: message("more points at the mass station"),
    TieBreak.COUNT_TOTAL: message("more points at the count station"),
    TieBreak.VOLUME_TOTAL: message("more points at the volume station"),
    TieBreak.WORST_ITEM: message("more points, before the weight, at the pair's own worst item"),
    TieBreak.ITEMS_AT_90: message("more items with 90 points or more"),
}
_TIE_COLUMNS: Final = {
    TieBreak.MASS_TOTAL: message("mass points"),
    TieBreak.COUNT_TOTAL: message("count points"),
    TieBreak.VOLUME_TOTAL: message("volume points"),
    TieBreak.WORST_ITEM: message("worst item"),
    TieBreak.ITEMS_AT_90: message("items at 90"),
}


def tie_words(breaks: Sequence[TieBreak]) -> str:
    """What the rule set does with equal totals.

    >>> tie_words([])
    'The rule set breaks no ties: pairs with equal totals share the place.'
    """
    if not breaks:
        return say("The rule set breaks no ties: pairs with equal totals share the place.")
    ways = [say(_TIES[tie]) for tie in breaks]
    if len(ways) == 1:
        return say(
            "Equal totals: {way} goes first. Still equal: they share the place.", way=ways[0]
        )
    listed = "; ".join(f"{n}. {way}" for n, way in enumerate(ways, start=1))
    return say(
        "Equal totals: look at these in order, the first that differs decides. {ways}. Still "
        "equal: they share the place.",
        ways=listed,
    )


def tie_column(tie: TieBreak) -> str:
    """What the column of a tie-break is called."""
    return say(_TIE_COLUMNS[tie])
