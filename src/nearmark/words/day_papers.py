"""What each paper of the day is called, what it is for, and how it is printed."""

from enum import StrEnum
from typing import Final

from nearmark.words.translation import message, say


class PaperKind(StrEnum):
    """One printed thing; the value is the name of its file and of its address."""

    SCREENS_DOWN = "if-the-screens-die"
    RUN_SHEET = "run-sheet"
    ROLE_SHEETS = "role-sheets"
    WHO_WHEN = "who-goes-when"
    CHECK_IN = "check-in"
    ANSWER_SHEETS = "answer-sheets"
    SPARE = "answer-sheet-spare"
    RULES = "station-rules"
    LABELS = "labels"
    CUPS = "cup-numbers"
    PLACE_CARDS = "place-cards"
    BADGES = "helper-badges"
    TALLY = "tally-forms"
    MERGING = "merging-sheet"
    SCHOOL_LETTER = "letter-schools"
    FAMILY_LETTER = "letter-families"
    KEY_SHEET = "key-sheet"
    SCORE_TABLES = "score-tables"
    ANNOUNCER = "announcer-list"
    AWARDS = "award-certificates"
    PARTICIPATION = "participation-certificates"
    PRESS = "press-line"


_TITLES: Final = {
    PaperKind.SCREENS_DOWN: message("If the screens die"),
    PaperKind.RUN_SHEET: message("Run sheet"),
    PaperKind.ROLE_SHEETS: message("Run sheets of the roles"),
    PaperKind.WHO_WHEN: message("Who goes when"),
    PaperKind.CHECK_IN: message("Check-in list"),
    PaperKind.ANSWER_SHEETS: message("Answer sheets"),
    PaperKind.SPARE: message("Spare answer sheet"),
    PaperKind.RULES: message("Station rules"),
    PaperKind.LABELS: message("Labels"),
    PaperKind.CUPS: message("Cup numbers"),
    PaperKind.PLACE_CARDS: message("Place cards"),
    PaperKind.BADGES: message("Helper badges"),
    PaperKind.TALLY: message("Tally forms"),
    PaperKind.MERGING: message("Merging sheet"),
    PaperKind.SCHOOL_LETTER: message("Letters to schools"),
    PaperKind.FAMILY_LETTER: message("Letter to families"),
    PaperKind.KEY_SHEET: message("Key sheet"),
    PaperKind.SCORE_TABLES: message("Score tables"),
    PaperKind.ANNOUNCER: message("Announcer's list"),
    PaperKind.AWARDS: message("Certificates of award"),
    PaperKind.PARTICIPATION: message("Certificates of participation"),
    PaperKind.PRESS: message("For the press"),
}
_WHAT_FOR: Final = {
    PaperKind.SCREENS_DOWN: message(
        "who does what when no screen works; on top of everything, for every helper to see"
    ),
    PaperKind.RUN_SHEET: message("the day by the clock, with who does what and room for names"),
    PaperKind.ROLE_SHEETS: message(
        "one for each helper: the steps of the role, and a line for each heat"
    ),
    PaperKind.WHO_WHEN: message("one page for each school: its pairs and their heats"),
    PaperKind.CHECK_IN: message("the door: who is expected, who came, whose sheet is back"),
    PaperKind.ANSWER_SHEETS: message(
        "one leaf a pair, heat by heat, with its code and QR; scratch work behind"
    ),
    PaperKind.SPARE: message("a spoilt sheet, or a pair that comes unannounced"),
    PaperKind.RULES: message("the wall of each station"),
    PaperKind.LABELS: message(
        "two of each item, one on the thing and one on the table; they say nothing of the key"
    ),
    PaperKind.CUPS: message("one on each cup, before the cup is weighed empty"),
    PaperKind.PLACE_CARDS: message("one for each place to scoop at"),
    PaperKind.BADGES: message("one for each helper: the role, and a line for the name"),
    PaperKind.TALLY: message(
        "helpers: two readings, a third, points and totals of each heat, tares of the cups"
    ),
    PaperKind.MERGING: message(
        "helpers: the totals of all heats on one list, and how they become places"
    ),
    PaperKind.SCHOOL_LETTER: message(
        "the schools, some weeks before: what the day is, what to bring, what is kept"
    ),
    PaperKind.FAMILY_LETTER: message(
        "families, through the schools: what the day is, allergens, what is kept and deleted"
    ),
    PaperKind.KEY_SHEET: message("the lead: every key; it stays sealed until release"),
    PaperKind.SCORE_TABLES: message(
        "the points desk, after the envelope is open: which answer earns how many points"
    ),
    PaperKind.ANNOUNCER: message("who reads the places out, from third to first, ties in words"),
    PaperKind.AWARDS: message("each pair that gets an award; with names, each child"),
    PaperKind.PARTICIPATION: message("each pair that took part; with names, each child"),
    PaperKind.PRESS: message("what may be told of the day, without a name"),
}
_HOW: Final = {
    PaperKind.SCREENS_DOWN: message("once for each desk"),
    PaperKind.RUN_SHEET: message("once for each desk"),
    PaperKind.ROLE_SHEETS: message("once"),
    PaperKind.WHO_WHEN: message("once"),
    PaperKind.CHECK_IN: message("once"),
    PaperKind.ANSWER_SHEETS: message("on both sides"),
    PaperKind.SPARE: message("on both sides, ten copies"),
    PaperKind.RULES: message("once"),
    PaperKind.LABELS: message("once, on plain paper to cut or on label sheets"),
    PaperKind.CUPS: message("once, then cut"),
    PaperKind.PLACE_CARDS: message("once, on thick paper, then cut"),
    PaperKind.BADGES: message("once, on plain paper to cut or on label sheets"),
    PaperKind.TALLY: message("once; not for the children's eyes"),
    PaperKind.MERGING: message("once"),
    PaperKind.SCHOOL_LETTER: message("once, after the blanks are filled in"),
    PaperKind.FAMILY_LETTER: message("once for each family, after the blanks are filled in"),
    PaperKind.KEY_SHEET: message("once, folded, in a sealed envelope"),
    PaperKind.SCORE_TABLES: message("once, in the envelope of the key sheet"),
    PaperKind.ANNOUNCER: message("once, kept face down"),
    PaperKind.AWARDS: message("once, on thick paper"),
    PaperKind.PARTICIPATION: message("once, on thick paper, two a page to cut"),
    PaperKind.PRESS: message("once"),
}


def paper_title(kind: PaperKind) -> str:
    """What a paper is called."""
    return say(_TITLES[kind])


def paper_is_for(kind: PaperKind) -> str:
    """What a paper is for; it follows its title."""
    return say(_WHAT_FOR[kind])


def how_to_print(kind: PaperKind) -> str:
    """How often a paper is printed, and on what."""
    return say(_HOW[kind])


def folder_made(n_open: int, n_sealed: int) -> str:
    """True of the day's papers, made in one folder.

    >>> folder_made(16, 2)
    '16 documents and all of them in one; 2 more for the lead alone, sealed until release'
    """
    return say(
        "{n_open} documents and all of them in one; {n_sealed} more for the lead alone, sealed "
        "until release",
        n_open=n_open,
        n_sealed=n_sealed,
    )


def grid_words(wide_mm: float, high_mm: float, rows: int, columns: int) -> str:
    """Ready-cut labels by their measures.

    >>> grid_words(99.05, 67.75, 4, 2)
    'Labels of 99 x 68 mm, 4 rows of 2'
    """
    return say(
        "Labels of {wide} x {high} mm, {rows} rows of {columns}",
        wide=f"{wide_mm:.0f}",
        high=f"{high_mm:.0f}",
        rows=rows,
        columns=columns,
    )
