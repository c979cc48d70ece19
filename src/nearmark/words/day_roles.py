"""Who does what on the day: the roles of helpers, their steps, and the day on paper."""

from enum import StrEnum
from typing import Final

from nearmark.words.translation import message, say


class Role(StrEnum):
    """What one or two helpers do on the day."""

    LEAD = "lead"
    DOOR = "door"
    CLOCK = "clock"
    PLACES = "places"
    SCALE = "scale"
    FIRST_CLERK = "first_clerk"
    SECOND_CLERK = "second_clerk"
    THIRD_READER = "third_reader"
    POINTS = "points"
    RUNNER = "runner"


_TITLES: Final = {
    Role.LEAD: message("Lead"),
    Role.DOOR: message("Door"),
    Role.CLOCK: message("Timekeeper"),
    Role.PLACES: message("Places"),
    Role.SCALE: message("Scale desk"),
    Role.FIRST_CLERK: message("First clerk"),
    Role.SECOND_CLERK: message("Second clerk"),
    Role.THIRD_READER: message("Third reader"),
    Role.POINTS: message("Points desk"),
    Role.RUNNER: message("Runner"),
}
_SHORT: Final = {
    Role.LEAD: message(
        "Keeps the sealed envelope. Opens it in front of two witnesses when all answers are in."
    ),
    Role.DOOR: message('Ticks who comes. Gives a new pair a spare sheet and a code marked "new".'),
    Role.CLOCK: message(
        "Starts and ends each heat by watch and voice. Writes both times on the check-in list."
    ),
    Role.PLACES: message(
        "One helper for four places. Keeps things in place, refills, never helps with an answer."
    ),
    Role.SCALE: message(
        "Two people. Weigh each cup once; write cup number and gross mass into the framed fields."
    ),
    Role.FIRST_CLERK: message("Copies every sheet to the form of first readings."),
    Role.SECOND_CLERK: message(
        "Copies every sheet to the form of second readings, without seeing the first one."
    ),
    Role.THIRD_READER: message("Reads the sheet where the two differ. That reading counts."),
    Role.POINTS: message(
        "Two people. Copy points from the score tables, add up, check each other, merge the heats."
    ),
    Role.RUNNER: message("Carries and counts sheets and cups. Nothing lies on two desks at once."),
}
_STEPS: Final = {
    Role.LEAD: (
        message("Before: say who does what, and give each helper this folder's sheet of the role."),
        message("Show allergens and small parts, and who gives first aid. Follow local rules."),
        message("During: decide what is in doubt, and write down what you decided and why."),
        message("After: open the envelope before witnesses. Read the places from third to first."),
    ),
    Role.DOOR: (
        message("Before: put the answer sheets in the order of the list. Sharpen pencils."),
        message('Each pair: find the code, tick "arrived", give out its own sheet.'),
        message('A pair that is not on the list: a spare sheet and the next code marked "new".'),
        message("After each heat: count the sheets given out and write the number down."),
    ),
    Role.CLOCK: (
        message("Before: compare your watch with the lead's. Try your voice in the hall."),
        message("Start: say that it begins, and how long it lasts. Write the time down."),
        message("Say when five minutes are left. At the end: pencils down, hand in."),
        message("Late pairs get no extra time, unless the lead says so for all."),
    ),
    Role.PLACES: (
        message("Before each heat: fill the bowls, wipe the places, turn the labels to the front."),
        message("Give each place one numbered cup. The number goes with the pair."),
        message('Answer "how does it work", never "is this right". Nobody lifts or opens a thing.'),
        message("Spilt pieces: sweep at once. Somebody may slip, and small pieces choke."),
    ),
    Role.SCALE: (
        message(
            "Before: level the scale, zero it, weigh the check mass, write down what it shows."
        ),
        message("Each cup once: empty pan, zero, cup on, wait, one reads and the other writes."),
        message("Write what the display shows, with its decimals. Take off nothing by hand."),
        message("A doubt: put the cup aside with its sheet and call the lead."),
    ),
    Role.FIRST_CLERK: (
        message("Before: one form for each heat, your name on it."),
        message("Copy from the sheet, digit by digit. B for blank, X for what cannot be read."),
        message("Never guess and never correct. Never look at the other clerk's form."),
        message("Put your initials on the sheet, and give it on."),
    ),
    Role.SECOND_CLERK: (
        message("Sit where you cannot see the first clerk's form."),
        message("Copy from the sheet, digit by digit. B for blank, X for what cannot be read."),
        message("Never guess and never correct. Do not talk about a number before both are done."),
        message("Put your initials on the sheet, and give it on."),
    ),
    Role.THIRD_READER: (
        message("Lay both forms side by side and go down line by line."),
        message("Where they differ: read the sheet, not the forms. Write what counts, and why."),
        message("Two forms alike are accepted, also when the number looks odd. Tell the lead."),
        message("Put your initials on the sheet in the last field."),
    ),
    Role.POINTS: (
        message("Copy accepted answers to the page of scores. At a cup: gross minus tare."),
        message("When the envelope is open: find each answer in its table and copy the points."),
        message("Add up. The other person adds up again, from the bottom to the top."),
        message("Copy all totals to the merging sheet, and follow its steps."),
    ),
    Role.RUNNER: (
        message("From the places to the scale desk, then to the clerks: one heat at a time."),
        message("Count the sheets at each desk. Tell the door when one is missing."),
        message("A cup is carried level, with its sheet. Glass and full buckets are for adults."),
        message("After the last heat: all sheets in one box, and the box to the lead."),
    ),
}


def role_title(role: Role) -> str:
    """What a role is called."""
    return say(_TITLES[role])


def role_short(role: Role) -> str:
    """What a role does, in a sentence or two."""
    return say(_SHORT[role])


def role_step(role: Role, number: int) -> str:
    """One step of a role, from 0."""
    return say(_STEPS[role][number])


def role_steps(role: Role) -> tuple[str, ...]:
    """What a role does, step by step."""
    return tuple(role_step(role, number) for number in range(len(_STEPS[role])))


class DayText(StrEnum):
    """One text of the pages on which the day is run."""

    DOWN = "down"
    DOWN_LEAD = "down_lead"
    DOWN_KEPT = "down_kept"
    WHO = "who"
    ROLE = "role"
    NAME = "name"
    DOES = "does"
    BACK = "back"
    FOLDER = "folder"
    RUN = "run"
    RUN_FOOT = "run_foot"
    ROLE_FOOT = "role_foot"
    TIME = "time"
    PLANNED = "planned"
    TRUE_START = "true_start"
    TRUE_END = "true_end"
    WHAT = "what"
    NOTE = "note"
    HEAT = "heat"
    HELPERS = "helpers"
    SCHOOLS = "schools"
    SCHOOLS_FOOT = "schools_foot"
    HOLDS_NAMES = "holds_names"
    PAIR = "pair"
    NAMES = "names"
    PAIRS = "pairs"
    NO_TIMES = "no_times"
    TIMES_PLAN = "times_plan"
    SEALED = "sealed"
    BADGES = "badges"
    HELPER = "helper"
    PLACE = "place"
    PLACE_CARDS = "place_cards"
    MY_NAME = "my_name"
    FOLLOW = "follow"
    CHECK_IN_LISTS = "check_in_lists"
    CHECK_IN = "check_in"
    CHECK_IN_FOOT = "check_in_foot"
    OPENED = "opened"
    START = "start"
    END = "end"
    SCHOOL = "school"
    ARRIVED = "arrived"
    HANDED_IN = "handed_in"
    AT = "at"
    NEW = "new"
    HOW_TO_TICK = "how_to_tick"
    N_OUT = "n_out"
    N_BACK = "n_back"
    CHECKED_BY = "checked_by"
    CUP_NUMBERS = "cup_numbers"
    CUP_FOOT = "cup_foot"
    CUP = "cup"
    RUN_OFF = "run_off"
    RUN_OFF_FOOT = "run_off_foot"
    RUN_OFF_FOR = "run_off_for"
    WROTE = "wrote"
    HOW_FAR = "how_far"
    CALLED_AS = "called_as"
    FIRST_HELPER = "first_helper"
    SECOND_HELPER = "second_helper"


_TEXTS: Final = {
    DayText.DOWN: message("If the screens die"),
    DayText.DOWN_LEAD: message(
        "Go on with paper. Tell the helpers, not the hall: for children nothing changes."
    ),
    DayText.DOWN_KEPT: message(
        "What was typed and shown as saved is kept. From now on only paper counts."
    ),
    DayText.WHO: message("Who does what"),
    DayText.ROLE: message("role"),
    DayText.NAME: message("name"),
    DayText.DOES: message("does"),
    DayText.BACK: message(
        "When a screen is back: type every sheet in, by two people as usual. The places are the "
        "same. Keep every sheet until the results are final."
    ),
    DayText.FOLDER: message("What is in this folder"),
    DayText.RUN: message("Run sheet"),
    DayText.RUN_FOOT: message("run sheet"),
    DayText.ROLE_FOOT: message("run sheet of a role"),
    DayText.TIME: message("time"),
    DayText.PLANNED: message("planned"),
    DayText.TRUE_START: message("started"),
    DayText.TRUE_END: message("ended"),
    DayText.WHAT: message("what"),
    DayText.NOTE: message("to note"),
    DayText.HEAT: message("heat"),
    DayText.HELPERS: message("Helpers"),
    DayText.SCHOOLS: message("Who goes when"),
    DayText.SCHOOLS_FOOT: message("who goes when, one page for each school"),
    DayText.HOLDS_NAMES: message("holds children's names: destroy after the day"),
    DayText.PAIR: message("pair"),
    DayText.NAMES: message("names"),
    DayText.PAIRS: message("pairs"),
    DayText.NO_TIMES: message("Times: write them in when they are known."),
    DayText.TIMES_PLAN: message("Times are a plan: on the day the clock in the room counts."),
    DayText.SEALED: message("Sealed envelope: key sheet and score tables. With the lead."),
    DayText.BADGES: message("Helper badges"),
    DayText.HELPER: message("Helper"),
    DayText.PLACE: message("Place"),
    DayText.PLACE_CARDS: message("Place cards"),
    DayText.MY_NAME: message("name"),
    DayText.FOLLOW: message("Follow your local rules for children, food, glass and heavy things."),
    DayText.CHECK_IN_LISTS: message("Check-in lists"),
    DayText.CHECK_IN: message("Check-in"),
    DayText.CHECK_IN_FOOT: message("check-in"),
    DayText.OPENED: message("doors"),
    DayText.START: message("start"),
    DayText.END: message("end"),
    DayText.SCHOOL: message("school"),
    DayText.ARRIVED: message("arrived"),
    DayText.HANDED_IN: message("handed in"),
    DayText.AT: message("at"),
    DayText.NEW: message("new"),
    DayText.HOW_TO_TICK: message(
        'The sign behind the hyphen belongs to the code. Tick "handed in" when sheet and cup are '
        "here, and write the time. A pair that comes unannounced gets a spare sheet, a code marked "
        '"new" and its line.'
    ),
    DayText.N_OUT: message("Sheets given out, number"),
    DayText.N_BACK: message("Sheets back, number"),
    DayText.CHECKED_BY: message("Checked by"),
    DayText.CUP_NUMBERS: message("Cup numbers"),
    DayText.CUP_FOOT: message("cup numbers: stick each on the cup before it is weighed empty"),
    DayText.CUP: message("cup"),
    DayText.RUN_OFF: message("Run-off"),
    DayText.RUN_OFF_FOOT: message("run-off · for helpers"),
    DayText.RUN_OFF_FOR: message("Run-off for first place"),
    DayText.WROTE: message("what they wrote or scooped"),
    DayText.HOW_FAR: message("how far off"),
    DayText.CALLED_AS: message("called as"),
    DayText.FIRST_HELPER: message("first helper"),
    DayText.SECOND_HELPER: message("second helper"),
}


def day_text_of(part: DayText) -> str:
    """A heading, a column or an instruction of the pages on which the day is run."""
    return say(_TEXTS[part])


def day_texts() -> dict[str, str]:
    """All of them by name, as the templates ask for them.

    >>> day_texts()["down"]
    'If the screens die'
    """
    return {part.value: day_text_of(part) for part in DayText}


class Moment(StrEnum):
    """What happens on the day beside the heats."""

    SET_UP = "set_up"
    BRIEFING = "briefing"
    CHECK_IN = "check_in"
    BETWEEN = "between"
    READINGS = "readings"
    OPENING = "opening"
    MERGING = "merging"
    PLACES = "places"
    TIDY = "tidy"


_MOMENTS: Final = {
    Moment.SET_UP: message("Set up places, containers, boxes, scale desk, clerks' tables"),
    Moment.BRIEFING: message("Brief the helpers; each gets the run sheet of the role"),
    Moment.CHECK_IN: message("Doors open, check-in"),
    Moment.BETWEEN: message("After each heat: count sheets, wipe places, refill, new cups"),
    Moment.READINGS: message("First, second and third readings of the last heat are done"),
    Moment.OPENING: message("Open the sealed envelope before witnesses; copy the points"),
    Moment.MERGING: message("Merge the heats, check ties, sign"),
    Moment.PLACES: message("Announce the places, from third to first; give out certificates"),
    Moment.TIDY: message("Tidy up; sheets into one box; what holds names goes with the lead"),
}


def moment_words(moment: Moment) -> str:
    """What happens at a moment of the day."""
    return say(_MOMENTS[moment])


def heat_counted(heat: str, counted: str) -> str:
    """A heat with who is in it.

    >>> heat_counted("Heat 1", "12 sheets, 23 children")
    'Heat 1: 12 sheets, 23 children'
    """
    return say("{heat}: {counted}", heat=heat, counted=counted)


def from_to(start: str, end: str) -> str:
    """Planned start and end of a heat.

    >>> from_to("09:00", "09:30")
    '09:00 to 09:30'
    """
    return say("{start} to {end}", start=start, end=end)
