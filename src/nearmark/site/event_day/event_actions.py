"""Making, bringing and taking away a whole event."""

from collections.abc import Mapping
from datetime import date
from typing import Final

import numpy as np

from nearmark.contest.event import Event
from nearmark.contest.heat_times import HeatState
from nearmark.errors import InputError, RuleError
from nearmark.event_folder.problems import Problems
from nearmark.event_folder.reader import FILES, event_of
from nearmark.measurement.instruments import Instrument
from nearmark.site.common import clock
from nearmark.site.common.writing import writing
from nearmark.site.event.answer_models import AnswerEntry
from nearmark.site.event.current import open_event
from nearmark.site.event.history import note
from nearmark.site.event.load import current_event, rules_of, rules_text, save_event
from nearmark.site.event.models import EventRecord
from nearmark.site.event_day.heats.state import run_clock
from nearmark.site.event_day.rules.actions import rules_called
from nearmark.words.numbers import plural
from nearmark.words.rules import rules_words

_NAMES: Final = {file.name for file in FILES}
_MAX_SEED: Final = 2**31


def make_event(name: str, day: date, venue: str, rules: str, *, by: str) -> EventRecord:
    """Begin an event with a bench scale and a ruler, which can be described better later.

    ``rules``: name of a rule set.
    """
    event = Event(
        name=name,
        day=day,
        venue=venue,
        rules=rules_called(rules),
        seed=drawn_seed(),
        instruments=(
            Instrument("bench scale", "g", 0.1),
            Instrument("ruler", "cm", 0.1),
        ),
    )
    return keep_event(event, by=by, what="made the event")


def drawn_seed() -> int:
    """A public seed for a new event."""
    return int(np.random.default_rng().integers(_MAX_SEED))


def refuse_while_a_heat_runs(record: EventRecord) -> None:
    """Refuse to leave an event while the clock of any of its rooms runs."""
    present = clock.steady_now()
    for run in record.heat_runs.filter(stopped_at=None):
        if run_clock(run, present).state is not HeatState.OVER:
            raise RuleError(
                f"{run.called} of {record.name} has not ended",
                where="event",
                mend="Stop its clock first",
            )


def change_event(
    name: str, day: date, venue: str, rules: str, *, by: str, why: str = ""
) -> list[str]:
    """Change what the event is called, when and where it is, and its rule set.

    ``rules``: name of a rule set; empty: as before. Returns what was changed. Raises
    InputError if nothing would change or the rule set is not known. Raises RuleError if the results
    are out, or the rule set is another one although answers are in.
    """
    with writing():
        record = open_event()
        before, after = _facts(record), {"name": name, "day": f"{day:%Y-%m-%d}", "place": venue}
        old_rules = rules_of(record)
        after["rule set"] = before["rule set"]
        if rules:
            chosen = rules_called(rules)
            if chosen != old_rules:
                _refuse_after_answers(record)
                after["rule set"] = rules_words(chosen)
                record.rules_toml = rules_text(chosen)
                if chosen.heat_places or record.heat_places == old_rules.usual_places:
                    record.heat_places = chosen.usual_places
        changed = [what for what in after if before[what] != after[what]]
        if not changed:
            raise InputError("is as before", where="event", mend="Change something, then save")
        record.name, record.day, record.venue = name, day, venue
        record.save(update_fields=["name", "day", "venue", "rules_toml", "heat_places"])
        for what in changed:
            old, new = before[what], after[what]
            note(record, by, f"changed the {what} of the event", old=old, new=new, why=why)
    return changed


def _facts(record: EventRecord) -> dict[str, str]:
    return {
        "name": record.name,
        "day": f"{record.day:%Y-%m-%d}",
        "place": record.venue,
        "rule set": rules_words(rules_of(record)),
    }


def _refuse_after_answers(record: EventRecord) -> None:
    n_in = AnswerEntry.objects.filter(pair__event=record, struck_at=None).count()
    if n_in:
        raise RuleError(
            f"{plural(n_in, 'answer')} read under the present one",
            where="rule set",
            mend="The children answered under these rules. For other rules begin another event",
        )


def event_from_files(files: Mapping[str, bytes]) -> Event:
    """The event that uploaded files stand for; FilesError with every problem of every file."""
    ours = {name: content for name, content in files.items() if name in _NAMES}
    missing = [f.name for f in FILES if f.required and f.name not in ours]
    if missing:
        raise InputError(
            "is missing among the files",
            where="event folder",
            value=", ".join(missing),
            mend="Choose all files of the folder at once",
        )
    return event_of(ours, Problems())


def keep_event(event: Event, *, by: str, what: str, is_practice: bool = False) -> EventRecord:
    """Keep a whole event and open it; RuleError while a heat of the present one runs."""
    with writing():
        present = current_event()
        if present is not None:
            refuse_while_a_heat_runs(present)
        record = save_event(event, by=by, now=clock.now(), is_practice=is_practice)
        note(record, by, what, new=event.name)
    return record
