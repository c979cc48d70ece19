"""Where two readings differ: a third person reads the paper."""

from dataclasses import dataclass

from django.http import HttpRequest, HttpResponse
from django.utils.translation import gettext as _

from nearmark.contest.answers import AnswerState
from nearmark.contest.event import AnswerReading, AnswerStatus
from nearmark.errors import InputError
from nearmark.site.common.responses import done, post_only, show
from nearmark.site.door.visitor import visitor_of
from nearmark.site.event.current import required_event
from nearmark.site.event.results_cache import current_results
from nearmark.site.event_day.answers.actions import PaperAnswer, adjudicate
from nearmark.site.event_day.answers.sheet import BLANK, ILLEGIBLE, read_cell
from nearmark.station import Station
from nearmark.words.desk import is_decided, read_in_two_ways, written_answer
from nearmark.words.translation import ENGLISH, language_in_force, spoken_in

WHY_PICKED = "the paper shows it"
"""The reason where the third person touches one of the two readings."""


@dataclass(frozen=True, slots=True)
class Choice:
    """One of the two readings, to be touched."""

    pick: str  # what is sent: the value as a reader types it, and the cup behind a stroke
    words: str

    @classmethod
    def of(cls, reading: AnswerReading) -> "Choice":
        """The choice that a reading is."""
        typed = BLANK if reading.status is AnswerStatus.BLANK else ILLEGIBLE
        typed = typed if reading.value is None else f"{reading.value:f}"
        value = "" if reading.value is None else f"{reading.value:f}"
        words = written_answer(reading.status, value, reading.cup)
        return cls(f"{typed}/{reading.cup}", words)


@dataclass(frozen=True, slots=True)
class Difference:
    """One answer read in two ways."""

    pair: str
    item: str
    name: str
    choices: tuple[Choice, ...]
    needs_cup: bool
    is_own: bool


@dataclass(frozen=True, slots=True)
class DifferencesView:
    """Every answer that waits for a third person."""

    title: str
    headline: str
    differences: list[Difference]


def differences(request: HttpRequest) -> HttpResponse:
    """Every answer that waits for a third person."""
    record = required_event()
    outcome = current_results(record)
    event = outcome.event
    names = {item.code: item for item in event.items}
    reader = visitor_of(request).name
    found = []
    for answer in outcome.answers.values():
        if answer.state is not AnswerState.CONFLICT:
            continue
        readings = tuple(r for r in event.answers if (r.pair, r.item) == (answer.pair, answer.item))
        item = names[answer.item]
        found.append(
            Difference(
                answer.pair,
                answer.item,
                item.name,
                tuple(dict.fromkeys(map(Choice.of, readings))),
                needs_cup=item.station is Station.MASS,
                is_own=any(r.clerk == reader for r in readings),
            )
        )
    view = DifferencesView(_("Differences"), read_in_two_ways(len(found)), found)
    return show(request, "event_day/answers/differences", view)


@post_only
def difference_decide(request: HttpRequest) -> HttpResponse:
    """Decide one of them."""
    given = request.POST
    picked, _, cup = given.get("pick", "").partition("/")
    text = picked or given.get("value", "")
    if not text.strip():
        raise InputError("is empty", where="what the paper shows", mend="Type it, b or ?")
    # What is picked was not typed: its point is a decimal point in every language.
    with spoken_in(ENGLISH if picked else language_in_force()):
        seen = read_cell(text)
    cup = cup if picked else given.get("cup", "")
    written = PaperAnswer(seen.status, seen.value, cup.strip()[:200])
    pair, item = given.get("pair", ""), given.get("item", "")
    why = given.get("why", "").strip()[:200] or (WHY_PICKED if picked else "")
    adjudicate(pair, item, written, by=visitor_of(request).name, why=why)
    return done(request, is_decided(pair, item), "differences")
