"""event.toml: the settings of an event and its instruments, read and written by one definition."""

import math
import re
import tomllib
from collections.abc import Callable, Mapping
from dataclasses import dataclass, fields
from datetime import date
from typing import Any

import tomli_w

from nearmark.contest.event import Event
from nearmark.errors import InputError, Problem
from nearmark.event_folder.problems import Problems, nearest
from nearmark.event_folder.table import REQUIRED
from nearmark.event_folder.toml_slips import toml_slip
from nearmark.measurement.instruments import Instrument, certified_gain_u

FILE = "event.toml"
FORMAT = 1
"""Version of the folder's format; raised when an older Nearmark could misread a newer folder."""

MAX_SIZE = 2**63
MAX_TEXT_CHARACTERS = 1_000
MAX_CHARACTERS = 100_000
MAX_DOTS = 100
"""In one line: the time tomllib takes for a dotted key grows with the square of its length."""

MAX_LEVELS = 8


@dataclass(frozen=True, slots=True)
class Setting:
    """One setting of a TOML file."""

    name: str
    read: Callable[[Any], Any]  # raises ``InputError`` (callable value -> value)
    about: str
    empty: object = REQUIRED  # what a setting left out means; ``REQUIRED`` when it may not be


def parsed(name: str, text: str, problems: Problems) -> dict[str, Any] | None:
    """The mapping a TOML text means.

    ``name``: file name, for the problems.
    """
    if len(text) > MAX_CHARACTERS or any(line.count(".") > MAX_DOTS for line in text.split("\n")):
        what = f"is longer than {MAX_CHARACTERS:,} characters, or a line has {MAX_DOTS} dots"
        problems.add(Problem(name, 0, "", "", what, "Keep only the settings of this event"))
        return None
    row, mend = 0, "Compare with docs/reference/event-folder.md"
    try:
        mapping = tomllib.loads(text)
    except RecursionError:
        what = "is nested too deeply"
    except ValueError as error:
        said = str(error)
        at = re.search(r" \(at line (\d+), column \d+\)", said)
        row = int(at[1]) if at else 0
        what = f"is not valid TOML: {said[: at.start()] if at else said}"
        slip = toml_slip(text.split("\n")[row - 1]) if at else None
        what, mend = slip or (what, mend)
    else:
        if not _is_deeper(mapping, MAX_LEVELS):
            return mapping
        what = "is nested too deeply"
    problems.add(Problem(name, row, "", "", what[:200], mend))
    return None


def _is_deeper(value: object, levels: int) -> bool:
    """Whether tables and lists stand in each other more than ``levels`` deep."""
    if not isinstance(value, dict | list):
        return False
    parts = value.values() if isinstance(value, dict) else value
    return levels == 0 or any(_is_deeper(part, levels - 1) for part in parts)


def _text(value: object) -> str:
    if not isinstance(value, str):
        raise InputError("must be text", mend="Put it in quotes")
    if len(value) > MAX_TEXT_CHARACTERS:
        raise InputError("is too long", mend=f"At most {MAX_TEXT_CHARACTERS:,} characters")
    return value


def _name(value: object) -> str:
    if not _text(value).strip():
        raise InputError("is blank", mend="Write a name")
    return str(value)


def _format(value: object) -> int:
    if value != FORMAT or isinstance(value, bool):
        raise InputError(f"must be {FORMAT}", mend="A higher number needs a newer Nearmark")
    return FORMAT


def _day(value: object) -> date:
    if isinstance(value, str):
        try:
            return date.fromisoformat(value)
        except ValueError:
            pass
    if type(value) is not date:
        raise InputError("is not a day", mend="Write year-month-day, such as 2027-05-08")
    return value


def _seed(value: object) -> int:
    if isinstance(value, bool) or not isinstance(value, int) or not 0 <= value < MAX_SIZE:
        raise InputError(
            "must be a whole number of zero or more", mend="Write digits, such as 20270508"
        )
    return value


def _number(value: object) -> float:
    if isinstance(value, bool) or not isinstance(value, int | float) or not abs(value) < MAX_SIZE:
        raise InputError("is not a finite number", mend="Write it with a point, such as 0.1")
    return float(value)


def _capacity(value: object) -> float:
    if _number(value) <= 0:
        raise InputError("must be above zero", mend="Leave it out when it is not stated")
    return _number(value)


def _certificate(value: object) -> float:
    """The ``gain_u`` that a certificate states."""
    wanted = {"U", "k", "reading"}
    if not isinstance(value, dict) or set(value) != wanted:
        raise InputError(
            "is not a table of U, k and reading",
            mend="Write certificate = { U = 0.2, k = 2, reading = 1000 }",
        )
    return certified_gain_u(*(_number(value[name]) for name in ("U", "k", "reading")))


def _unit(value: object) -> str:
    if value not in ("g", "cm"):
        raise InputError("must be g or cm", mend='Write unit = "g" for a scale, "cm" for a ruler')
    return str(value)


def _table(value: object) -> dict[str, Any]:
    if not isinstance(value, dict):
        raise InputError("is not a table", mend='Write [instruments."bench scale"]')
    return value


SETTINGS = (
    Setting("format", _format, "version of this format: 1"),
    Setting("name", _name, "name of the event"),
    Setting("day", _day, "day of the event, year-month-day"),
    Setting("venue", _text, "where it is", empty=""),
    Setting("seed", _seed, "public seed of every random draw", empty=0),
    Setting("instruments", _table, "one table per scale or ruler", empty={}),
)

INSTRUMENT_SETTINGS = (
    Setting("unit", _unit, "g for a scale, cm for a ruler"),
    Setting("resolution", _number, "smallest step it shows, in its unit"),
    Setting("gain_u", _number, "relative standard uncertainty of its scale factor", empty=0.0),
    Setting(
        "linearity_u", _number, "standard uncertainty that is not common, in its unit", empty=0.0
    ),
    Setting(
        "zero_u",
        _number,
        "standard uncertainty of its zero, common to all readings, in its unit",
        empty=0.0,
    ),
    Setting(
        "certificate",
        _certificate,
        "instead of gain_u: { U, k, reading } as its calibration certificate states them",
        empty=None,
    ),
    Setting("capacity", _capacity, "largest reading it can show, in its unit", empty=math.inf),
)


def read_settings(text: str | None, problems: Problems) -> dict[str, Any] | None:
    """Read event.toml into fields of ``Event``.

    Returns: ``name``, ``day``, ``venue``, ``seed``, ``instruments``; ``None`` when something is
    wrong.
    """
    mapping = None if text is None else parsed(FILE, text, problems)
    if mapping is None:
        return None
    values = _values(mapping, SETTINGS, "", problems)
    given = mapping.get("instruments", {})
    tables = given.items() if isinstance(given, dict) else ()
    instruments = [_instrument(name, table, problems) for name, table in tables]
    if values is None or None in instruments:
        return None
    del values["format"]
    return values | {"instruments": tuple(instruments)}


def _instrument(name: str, table: object, problems: Problems) -> Instrument | None:
    where = f"instruments.{name}"
    if not isinstance(table, dict):
        mend = f'Write [instruments."{name}"] and its settings below'
        problems.add(Problem(FILE, 0, where, str(table)[:99], "is not a table", mend))
        return None
    values = _values(table, INSTRUMENT_SETTINGS, f"{where}.", problems)
    if values is None:
        return None
    certified = values.pop("certificate")
    if certified is not None and values["gain_u"]:
        mend = "Keep the one you trust; gain_u is what is written back"
        problems.add(Problem(FILE, 0, where, "", "has gain_u and a certificate", mend))
        return None
    if certified is not None:
        values["gain_u"] = certified
    try:
        return Instrument(_name(name), **values)
    except InputError as refused:
        problems.add(Problem(FILE, 0, where, str(refused.value), refused.what, refused.mend))
        return None


def _values(
    mapping: Mapping[str, Any], settings: tuple[Setting, ...], prefix: str, problems: Problems
) -> dict[str, Any] | None:
    """The checked values of a table; ``None`` when one is wrong."""
    values: dict[str, Any] = {}
    known = [setting.name for setting in settings]
    wrong = [
        (name, "", "is not a setting", nearest(name, known))
        for name in mapping
        if name not in known
    ]
    for setting in settings:
        if setting.name in mapping:
            try:
                values[setting.name] = setting.read(mapping[setting.name])
            except InputError as refused:
                shown = repr(mapping[setting.name]) if not _is_huge(mapping[setting.name]) else ""
                wrong.append((setting.name, shown, refused.what, refused.mend))
        elif setting.empty is REQUIRED:
            wrong.append((setting.name, "", "is missing", f"Write it: {setting.about}"))
        else:
            values[setting.name] = setting.empty
    for name, shown, what, mend in wrong:
        problems.add(Problem(FILE, 0, f"{prefix}{name}"[:99], shown, what, mend))
    return None if wrong else values


def _is_huge(value: object) -> bool:
    """Whether Python would refuse to print it: a whole number of thousands of digits."""
    return isinstance(value, int) and abs(value) >= MAX_SIZE


def settings_text(event: Event) -> str:
    """The text of event.toml.

    Raises InputError if the seed is out of range.
    """
    instruments = {
        instrument.name: {
            field.name: value
            for field in fields(instrument)
            if field.name != "name" and (value := getattr(instrument, field.name)) != math.inf
        }
        for instrument in event.instruments
    }
    return tomli_w.dumps(
        {
            "format": FORMAT,
            "name": event.name,
            "day": event.day,
            "venue": event.venue,
            "seed": _seed(event.seed),
            "instruments": instruments,
        }
    )
