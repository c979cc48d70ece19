"""What is said at the desks of the day: check-in, scale, answers, the clock of a room."""

import string
from enum import StrEnum
from typing import Final

from nearmark.contest.event import AnswerStatus, PairStatus
from nearmark.contest.heat_times import HeatState
from nearmark.words.answers import status_name
from nearmark.words.heats import heat_text
from nearmark.words.translation import digits, message, say, say_count


class DeskText(StrEnum):
    """A sentence that the script of a desk says by itself, its facts filled in there."""

    UNKNOWN_CODE = "unknown_code"
    NO_PAIR = "no_pair"
    SECOND_SHEET = "second_sheet"
    TYPE_ANSWERS = "type_answers"
    CHANGE_IT = "change_it"
    CHANGE = "change"
    AS_IT_IS = "as_it_is"
    SEND_AGAIN = "send_again"
    DISCARD = "discard"
    UNDO = "undo"
    TAKE_BACK = "take_back"
    TAKEN_BACK = "taken_back"
    TYPE_AGAIN = "type_again"
    IS_TAKEN_BACK = "is_taken_back"
    REFUSED = "refused"
    SAVED = "saved"
    IS_SAVED = "is_saved"
    IS_KEPT = "is_kept"
    WAITING = "waiting"
    WAITING_STATE = "waiting_state"
    REFUSED_STATE = "refused_state"
    ASKED_STATE = "asked_state"
    READ_BY_TWO = "read_by_two"
    DRAFT = "draft"
    STILL_TO_TYPE = "still_to_type"
    ALL_READ = "all_read"
    N_LEFT = "n_left"
    CUP_OF = "cup_of"
    N_WAITING = "n_waiting"
    N_REFUSED = "n_refused"
    N_ASKED = "n_asked"
    NOT_DONE = "not_done"
    NO_LINK = "no_link"


_TEXTS: Final = {
    DeskText.UNKNOWN_CODE: message(
        "This device does not know this code, and the server does not answer. Read the code again."
    ),
    DeskText.NO_PAIR: message("No pair has this code."),
    DeskText.SECOND_SHEET: message(
        "{code}: all of this sheet is read. If you hold a second sheet with this code, do not type "
        "it: clip both together and give them to the lead."
    ),
    DeskText.TYPE_ANSWERS: message("{code}: type its answers"),
    DeskText.CHANGE_IT: message("Change it"),
    DeskText.CHANGE: message("Change"),
    DeskText.AS_IT_IS: message("Save it as it is"),
    DeskText.SEND_AGAIN: message("Send it again"),
    DeskText.DISCARD: message("Discard"),
    DeskText.UNDO: message("Undo"),
    DeskText.TAKE_BACK: message("Take back {title}"),
    DeskText.TAKEN_BACK: message("taken back"),
    DeskText.TYPE_AGAIN: message("{title}: taken back. Type it again."),
    DeskText.IS_TAKEN_BACK: message("{title}: taken back"),
    DeskText.REFUSED: message("{title}: {shown}. Refused: {words}"),
    DeskText.SAVED: message("saved"),
    DeskText.IS_SAVED: message("{title}: {value} saved"),
    DeskText.IS_KEPT: message("{title}: {shown}, kept on this device until the server answers"),
    DeskText.WAITING: message("waiting to be sent"),
    DeskText.WAITING_STATE: message("waiting"),
    DeskText.REFUSED_STATE: message("refused"),
    DeskText.ASKED_STATE: message("asked"),
    DeskText.READ_BY_TWO: message("read by two people"),
    DeskText.DRAFT: message("typed, not sent yet"),
    DeskText.STILL_TO_TYPE: message("Still to type: {items}"),
    DeskText.ALL_READ: message("All of this sheet is read."),
    DeskText.N_LEFT: message("{n} of {total} left"),
    DeskText.CUP_OF: message("{pair}, cup {cup}"),
    DeskText.N_WAITING: message("{n} waiting to be sent, kept on this device"),
    DeskText.N_REFUSED: message("{n} refused, see below"),
    DeskText.N_ASKED: message("{n} to look at again"),
    DeskText.NOT_DONE: message("That was not done. Load the page again."),
    DeskText.NO_LINK: message("No link to the server: nothing was done. Try again."),
}


def desk_text(part: DeskText) -> str:
    """A sentence for the script of a desk; what is in braces is filled in there."""
    named = {name for _, name, _, _ in string.Formatter().parse(_TEXTS[part]) if name}
    return say(_TEXTS[part], **{name: f"{{{name}}}" for name in named})


def desk_texts() -> dict[str, str]:
    """All sentences of the desks by name, as their scripts ask for them.

    >>> desk_texts()["n_left"]
    '{n} of {total} left'
    """
    return {part.value: desk_text(part) for part in DeskText}


_STATUS: Final = {
    PairStatus.ENTERED: message("entered"),
    PairStatus.ABSENT: message("absent"),
    PairStatus.GUEST: message("guest"),
    PairStatus.WITHDRAWN: message("withdrawn"),
}


def pair_status(status: PairStatus | str) -> str:
    """Whether a pair takes part, in one word."""
    return say(_STATUS[PairStatus(status)])


def marked_as(status: PairStatus | str) -> str:
    """Said behind a pair that does not take part."""
    return say("marked {status}", status=pair_status(status))


_ROLES: Final = {
    "lead": message("lead"),
    "scorer": message("scorer"),
    "coach": message("coach"),
    "public": message("public"),
}


def role_name(role: str) -> str:
    """What somebody is here for, in one word."""
    return say(_ROLES[role]) if role in _ROLES else role


def written_answer(status: AnswerStatus, value: str, cup: str) -> str:
    """What a paper or a display shows.

    >>> written_answer(AnswerStatus.ANSWERED, "104.3", "7")
    '104.3 in cup 7'
    """
    shown = digits(value) or status_name(status)
    return say("{value} in cup {cup}", value=shown, cup=cup) if cup else shown


def cup_saved(pair: str, gross: str, cup: str) -> str:
    """True of a cup that is saved.

    ``pair``: in words.
    """
    return say("{pair}: {gross} g in cup {cup} saved.", pair=pair, gross=gross, cup=cup)


def net_mass(net: str) -> str:
    """True of a cup with a tare; for the lead."""
    return say("Net {net} g.", net=net)


def cup_of_pair(pair: str, cup: str) -> str:
    """A hand-in, by the pair and its cup."""
    return say("{pair}, cup {cup}", pair=pair, cup=cup)


def is_taken_back(where: str) -> str:
    """True of a reading that was struck out by who made it."""
    return say("{where}: taken back.", where=where)


def can_be_weighed_again(pair: str) -> str:
    """True of a pair whose hand-in was struck out."""
    return say("{pair}: the cup can be weighed again.", pair=pair)


def is_decided(pair: str, item: str) -> str:
    """True of an answer on which a third person has decided."""
    return say("{pair}, {item} is decided.", pair=pair, item=item)


def read_in_two_ways(n: int) -> str:
    """The headline of the answers that wait for a third person."""
    if not n:
        return say("No differences")
    return say_count("{n} answer read in two ways", "{n} answers read in two ways", n)


def cups_handed_in(n_in: int, n_all: int) -> str:
    """How far the scale desk is."""
    return say("{n_in} of {n_all} cups are in", n_in=n_in, n_all=n_all)


def no_such_cell() -> str:
    """Said of an answer whose pair or item was removed meanwhile."""
    return say("This pair or item is not here any more.")


def load_again() -> str:
    """Said of a page that is out of date."""
    return say("Load the page again, then type it.")


def has_handed_in(pair: str, cup: str) -> tuple[str, str]:
    """Why another cup of a pair is refused, and what to do."""
    return (
        say("{pair} has handed in cup {cup} already: one hand-in a pair", pair=pair, cup=cup),
        say(
            "Look at the number on the cup. If {cup} was wrong, who weighed it takes it back, or "
            "the lead does",
            cup=cup,
        ),
    )


def takes_no_part(pair: str) -> str:
    """Said of a sheet of a pair that does not take part."""
    return say("{pair} is marked as not taking part", pair=pair)


def is_for_divisions(item: str, divisions: str) -> str:
    """Said of an answer that the division of its pair does not estimate."""
    return say("{item} is for {divisions}", item=item, divisions=divisions)


def pair_is_here(pair: str, school: str) -> str:
    """True of a pair that was just checked in."""
    return say("{pair} ({school}) is here.", pair=pair, school=school)


def pair_is_not_here(pair: str, school: str) -> str:
    """True of a pair whose check-in was taken back."""
    return say("{pair} ({school}) is not here.", pair=pair, school=school)


def pair_was_here(pair: str, at: str) -> str:
    """True of a pair that was checked in before.

    ``at``: time of day.
    """
    return say("{pair} is here already, since {at}.", pair=pair, at=at)


def lead_changes_status(status: PairStatus | str) -> str:
    """Said behind a pair that is here and is not meant to take part."""
    return say("It is {status}: the lead changes that.", status=pair_status(status))


def whole_school_was_here(school: str) -> str:
    """True of a school of which nobody was missing."""
    return say("{school}: everybody was here already.", school=school)


def school_here(school: str, words: str) -> str:
    """Said before those of a school who were just checked in."""
    return say("{school}: {words}", school=school, words=words)


def pairs_here(n_heats: int, n_here: int, n_pairs: int) -> str:
    """The headline of the check-in."""
    if not n_heats:
        return say("Heats")
    return say_count(
        "{n} heat, {n_here} of {n_pairs} pairs here",
        "{n} heats, {n_here} of {n_pairs} pairs here",
        n_heats,
        n_here=n_here,
        n_pairs=n_pairs,
    )


def pairs_missing(n: int) -> str:
    """Said before the schools of which somebody is missing."""
    return say_count(
        "Or a whole school, {n} pair missing", "Or a whole school, {n} pairs missing", n
    )


def without_heat(n: int) -> str:
    """True of pairs that are in no heat."""
    return say_count("{n} pair without a heat", "{n} pairs without a heat", n)


def runs_until(ends: str) -> str:
    """How far a running heat is.

    ``ends``: time of day.
    """
    return say("runs until {ends}", ends=ends)


_PROGRESS: Final = {
    "without a room": message("without a room"),
    "paused": message("paused"),
    "over": message("over"),
    "next": message("next"),
}


def progress_words(state: str) -> str:
    """How far a heat is that does not run."""
    return say(_PROGRESS[state])


def new_heat(heat: str) -> str:
    """A heat that nobody is in yet."""
    return say("{heat}, a new one", heat=heat_text(heat))


def heat_so_far(heat: str, n_pairs: int, places: int) -> str:
    """A heat to choose, and how many are in it."""
    if not n_pairs:
        return heat_text(heat)
    return say("{heat}: {n} of {places}", heat=heat_text(heat), n=n_pairs, places=places)


def is_in_heat(pair: str, heat: str) -> str:
    """True of a pair that was moved."""
    return say("{pair} is in {heat}.", pair=pair, heat=heat_text(heat))


def changed_places(pair: str, other: str) -> str:
    """True of two pairs that were swapped."""
    return say("{pair} and {other} have changed places.", pair=pair, other=other)


def has_new_heat(n: int) -> str:
    """True of pairs after heats were filled."""
    if not n:
        return say("Every pair had its heat.")
    return say_count("{n} pair has a new heat.", "{n} pairs have a new heat.", n)


def taken_in(pair: str, heat: str, why: str) -> str:
    """True of a pair that came unannounced.

    ``why``: this heat; empty: it was chosen by hand.
    """
    if why:
        return say(
            "{pair} is in {heat} ({why}) and is here. Give them a spare sheet.",
            pair=pair,
            heat=heat_text(heat),
            why=why,
        )
    return say(
        "{pair} is in {heat} and is here. Give them a spare sheet.",
        pair=pair,
        heat=heat_text(heat),
    )


def heat_has_started(heat: str, minutes: int) -> str:
    """True of a heat that was just started."""
    return say("{heat} has started: {minutes} min.", heat=heat, minutes=minutes)


def heat_has_minutes(heat: str, minutes: int) -> str:
    """True of a heat that was given more time."""
    return say("{heat} now has {minutes} min.", heat=heat, minutes=minutes)


def heat_is_paused(heat: str) -> str:
    """True of a heat that was just paused."""
    return say("{heat} is paused: the time does not run.", heat=heat)


def heat_goes_on(heat: str) -> str:
    """True of a heat that was just resumed."""
    return say("{heat} goes on.", heat=heat)


def heat_is_stopped(heat: str) -> str:
    """True of a heat that was just ended."""
    return say("{heat} is stopped.", heat=heat)


def heat_in_the_way(heat: str, state: HeatState) -> str:
    """Why another heat cannot start in this room."""
    if state is HeatState.PAUSED:
        return say("{heat} is paused", heat=heat)
    return say("{heat} is still running", heat=heat)


def pauses_nothing(heat: str, state: HeatState) -> str:
    """Why a heat cannot be paused."""
    if state is HeatState.PAUSED:
        return say("{heat} is paused already", heat=heat)
    return say("{heat} is over already", heat=heat)


def is_not_paused(heat: str) -> str:
    """Why a heat cannot go on."""
    return say("{heat} is not paused", heat=heat)


def paper_is_alike(pair: str) -> str:
    """True of a sheet of the audit on which everything is as it was typed."""
    return say("{pair} is saved: the paper says what was typed.", pair=pair)


def paper_differs(pair: str, item: str) -> str:
    """True of a sheet of the audit on which an answer is not as it was typed."""
    return say(
        "{pair} is saved: {item} is not what was typed. The lead puts it right.",
        pair=pair,
        item=item,
    )
