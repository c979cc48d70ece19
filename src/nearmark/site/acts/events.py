"""Making, bringing and taking away a whole event; releasing its results."""

from collections.abc import Mapping
from datetime import date
from typing import Final

import numpy as np

from nearmark.contest.event import Event
from nearmark.contest.rule_files import shipped_rules
from nearmark.contest.rules import RuleSet
from nearmark.errors import InputError, RuleError
from nearmark.event_folder.problems import Problems
from nearmark.event_folder.reader import FILES, event_of
from nearmark.measurement.instruments import Instrument
from nearmark.site import clock
from nearmark.site.acts.history import note
from nearmark.site.acts.points import keep_closing
from nearmark.site.acts.proofs import prove
from nearmark.site.acts.reasons import need_reason
from nearmark.site.acts.releases import TAKEN_BACK, keep_release, tell_return
from nearmark.site.event_store import current_event, rules_of, rules_text, save_event
from nearmark.site.models import AnswerEntry, EventRecord
from nearmark.site.standing_results import current_results
from nearmark.site.writing import writing

_NAMES: Final = {file.name for file in FILES}
_LARGEST_SEED: Final = 2**31


def make_event(name: str, day: date, venue: str, rules: str, *, by: str) -> EventRecord:
    """Begin an event with a bench scale and a ruler, which can be described better later.

    Parameters
    ----------
    name, venue : str
    day : date
    rules : str
        Name of a shipped rule set.
    by : str

    Raises
    ------
    InputError, RuleError
    """
    known = shipped_rules()
    if rules not in known:
        raise InputError("is not a shipped rule set", where="rules", value=rules)
    event = Event(
        name=name,
        day=day,
        venue=venue,
        rules=known[rules],
        seed=int(np.random.default_rng().integers(_LARGEST_SEED)),
        instruments=(
            Instrument("bench scale", "g", 0.1),
            Instrument("ruler", "cm", 0.1),
        ),
    )
    return keep_event(event, by=by, what="made the event")


def change_event(
    name: str, day: date, venue: str, rules: str, *, by: str, why: str = ""
) -> list[str]:
    """Change what the event is called, when and where it is, and its rule set.

    Parameters
    ----------
    name, venue : str
    day : date
    rules : str
        Name of a shipped rule set; empty: as before.
    by, why : str

    Returns
    -------
    list of str
        What was changed.

    Raises
    ------
    InputError
        If nothing would change or the rule set is not known.
    RuleError
        If the results are out, or the rule set is another one although answers are in.
    """
    with writing():
        record = open_event()
        before, after = _facts(record), {"name": name, "day": f"{day:%Y-%m-%d}", "place": venue}
        old_rules = rules_of(record)
        if rules:
            known = shipped_rules()
            if rules not in known:
                raise InputError("is not a shipped rule set", where="rule set", value=rules)
            after["rule set"] = _named(known[rules])
            if known[rules] == old_rules:
                after["rule set"] = before["rule set"]
            else:
                _refuse_after_answers(record)
                record.rules_toml = rules_text(known[rules])
        changed = [what for what in after if before[what] != after[what]]
        if not changed:
            raise InputError("is as before", where="event", mend="Change something, then save")
        record.name, record.day, record.venue = name, day, venue
        record.save(update_fields=["name", "day", "venue", "rules_toml"])
        for what in changed:
            old, new = before[what], after[what]
            note(record, by, f"changed the {what} of the event", old=old, new=new, why=why)
    return changed


def _facts(record: EventRecord) -> dict[str, str]:
    return {
        "name": record.name,
        "day": f"{record.day:%Y-%m-%d}",
        "place": record.venue,
        "rule set": _named(rules_of(record)),
    }


def _named(rules: RuleSet) -> str:
    return f"{rules.name}, version {rules.version}"


def _refuse_after_answers(record: EventRecord) -> None:
    n_in = AnswerEntry.objects.filter(pair__event=record, struck_at=None).count()
    if n_in:
        raise RuleError(
            f"{n_in} answer{'' if n_in == 1 else 's'} were read under the present one",
            where="rule set",
            mend="The children answered under these rules. For other rules begin another event in"
            " another data folder: nearmark serve --data FOLDER",
        )


def event_from_files(files: Mapping[str, bytes]) -> Event:
    """The event that uploaded files stand for.

    Parameters
    ----------
    files : mapping of file name -> bytes
        Others than an event's are left alone.

    Raises
    ------
    FilesError
        With every problem of every file.
    """
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


def keep_event(event: Event, *, by: str, what: str) -> EventRecord:
    """Keep a whole event; one that has answers is never replaced.

    Parameters
    ----------
    event : Event
    by, what : str
        Who, and the words for the history.

    Raises
    ------
    RuleError
    """
    with writing():
        if current_event() is not None:
            raise RuleError(
                "there is an event here already",
                mend="Start another one with another data folder: nearmark serve --data FOLDER",
            )
        record = save_event(event, by=by, now=clock.now())
        note(record, by, what, new=event.name)
    return record


def open_event() -> EventRecord:
    """The current event, free to be changed.

    Raises
    ------
    RuleError
        If there is none, or its results are out.
    """
    return open_for_change(current_event())


def open_for_change(record: EventRecord | None) -> EventRecord:
    """An event that was just looked up, free to be changed.

    Parameters
    ----------
    record : EventRecord or None

    Raises
    ------
    RuleError
        If there is none, or its results are out.
    """
    if record is None:
        raise RuleError("there is no event yet", mend="Set one up first")
    if record.released_at is not None:
        raise RuleError(
            "the results are out: nothing of the event can be changed",
            mend="The lead takes the results back first, with a reason",
        )
    return record


def release(
    *,
    by: str,
    why: str,
    shows_names: bool,
    shows_feedback: bool = False,
    public_places: int | None = None,
) -> None:
    """Make the standings public.

    Parameters
    ----------
    by : str
    why : str
        Needed while something is still open; closes what can be closed.
    shows_names : bool
        Whether children's names stand beside the codes.
    shows_feedback : bool
        Whether everybody may open the page of a pair by its code.
    public_places : int or None
        The last place that everybody sees; ``None``: all.

    Raises
    ------
    RuleError
    """
    with writing():
        record = open_event()
        outcome = current_results(record)
        n_open = len(outcome.open_points)
        if n_open and not why:
            raise RuleError(
                f"{n_open} point{'' if n_open == 1 else 's'} still open",
                mend="Settle them, or give the reason for releasing all the same",
            )
        for point in outcome.open_points:
            if point.can_close:
                keep_closing(record, point, by=by, why=why)
        kept = keep_release(record, outcome, by=by)
        record.released_at, record.released_by = kept.at, by
        record.shows_names, record.shows_feedback = shows_names, shows_feedback
        record.public_places = public_places
        record.save()
        tell_return(record, kept, by=by)
        which = f", places to {public_places}" if public_places else ""
        note(record, by, "released the results", new=f"{n_open} open points{which}", why=why)
        prove(kept)


def withhold(*, by: str, why: str) -> None:
    """Take the standings back, so that something can be corrected.

    Parameters
    ----------
    by, why : str

    Raises
    ------
    RuleError, InputError
    """
    need_reason(why, "Say what has to be corrected")
    with writing():
        record = current_event()
        if record is None or record.released_at is None:
            raise RuleError("the results are not out")
        record.released_at, record.released_by = None, ""
        record.save()
        note(record, by, TAKEN_BACK, why=why)
