"""Rule sets as plain mappings, as a TOML file holds them, and the sets that are shipped."""

import re
import tomllib
from collections.abc import Callable, Iterable, Mapping
from dataclasses import replace
from difflib import get_close_matches
from fractions import Fraction
from importlib import resources
from typing import Any, TypeVar

from nearmark.contest.rules import (
    RuleSet,
    SchoolRule,
    SchoolTotal,
    StationRule,
    TieBreak,
    default_stations,
)
from nearmark.errors import InputError
from nearmark.station import Station

_Kind = TypeVar("_Kind", Station, TieBreak, SchoolRule)

_FRACTIONS = ("full_score", "zero_at", "free_within", "blank_score", "target_mass_g")
_HEATS = ("heat_minutes", "heat_places")
_STATION_FRACTIONS = ("weight", "lowest", "highest")

# Digits are bounded, and powers of ten are for floats only: 1e999999999 as text would take minutes.
_NUMBER = re.compile(r"[+-]?(\d{1,40}(\.\d{1,40})?|\d{1,40}/0*[1-9]\d{0,39})", re.ASCII)


def rules_from_mapping(mapping: Mapping[str, Any]) -> RuleSet:
    """Read a rule set; settings left out keep their default.

    >>> rules_from_mapping({"name": "half marks", "zero_at": "1/2"}).zero_at
    Fraction(1, 2)

    Parameters
    ----------
    mapping : mapping setting -> value
        As TOML gives it.  Exact numbers may be written 1, 1.5 or "1/3".  A station, or a setting
        of a station, that is left out keeps its default too.

    Raises
    ------
    InputError : if a setting is unknown or its value impossible; the message names the setting
    """
    _refuse_unknown(mapping, _SETTINGS, "rule set")
    settings = {
        name: _SETTINGS[name](value, f"rule set, {name}") for name, value in mapping.items()
    }
    return RuleSet(**settings)


def rules_as_mapping(rules: RuleSet) -> dict[str, Any]:
    """Write a rule set out in full, every setting named, as TOML holds it; reads back equal.

    What only some contests have (such as school totals or a run-off) is left out where not used.

    >>> rules_from_mapping(rules_as_mapping(RuleSet())) == RuleSet()
    True
    """
    highest = {} if rules.highest_score is None else {"highest_score": _plain(rules.highest_score)}
    return {
        "name": rules.name,
        "version": rules.version,
        **{name: _plain(getattr(rules, name)) for name in _FRACTIONS},
        **highest,
        "tie_breaks": [t.value for t in rules.tie_breaks],
        "decimals": rules.decimals,
        "u_limit": rules.u_limit,
        "solo_allowed": rules.solo_allowed,
        **_only_used(rules),
        "stations": {
            station.value: {name: _plain(getattr(rule, name)) for name in _STATION_FRACTIONS}
            | ({} if rule.u_limit is None else {"u_limit": rule.u_limit})
            for station, rule in rules.stations.items()
        },
    }


def _only_used(rules: RuleSet) -> dict[str, Any]:
    school = rules.school_total
    return {
        **{name: n for name in _HEATS if (n := getattr(rules, name)) is not None},
        **({"run_off": rules.run_off} if rules.run_off else {}),
        **({"school_total": {"rule": school.rule.value, "pairs": school.pairs}} if school else {}),
    }


def shipped_rules() -> dict[str, RuleSet]:
    """The rule sets that come with Nearmark, by name, the default first.

    >>> next(iter(shipped_rules()))
    'percent accuracy'
    """
    folder = resources.files("nearmark.contest") / "rule_sets"
    files = sorted(f.name for f in folder.iterdir() if f.name.endswith(".toml"))
    read = [rules_from_mapping(tomllib.loads((folder / name).read_text("utf-8"))) for name in files]
    default = RuleSet().name
    return {r.name: r for r in sorted(read, key=lambda r: (r.name != default, r.name))}


def _plain(value: Fraction) -> int | str:
    return value.numerator if value.denominator == 1 else str(value)


def _refuse_unknown(mapping: Mapping[str, Any], known: Iterable[str], where: str) -> None:
    names = sorted(known)
    for name in mapping:
        if name not in names:
            raise InputError(
                "unknown setting", where=where, value=name, mend=_nearest(str(name), names)
            )


def _nearest(name: str, known: list[str]) -> str:
    near = get_close_matches(name.casefold(), known, n=1)
    return f"Did you mean {near[0]}?" if near else f"Use one of: {', '.join(known)}"


def _fraction(value: object, where: str) -> Fraction:
    mend = 'Write a number such as 1, 1.5 or "1/3"'
    if isinstance(value, bool) or not isinstance(value, int | float | str):
        raise InputError("not a number", where=where, value=value, mend=mend)
    if isinstance(value, int):
        return Fraction(value)
    if isinstance(value, str) and not _NUMBER.fullmatch(value):
        raise InputError("not a number", where=where, value=value, mend=mend)
    try:
        # A float is read as the decimal it prints as: 0.1 in the file is one tenth.
        return Fraction(repr(value) if isinstance(value, float) else value)
    except ValueError:
        raise InputError("not a finite number", where=where, value=value, mend=mend) from None


def _text(value: object, where: str) -> str:
    if not isinstance(value, str):
        raise InputError("not text", where=where, value=value, mend="Put it in quotes")
    return value


def _whole(value: object, where: str) -> int:
    if isinstance(value, bool) or not isinstance(value, int):
        raise InputError("not a whole number", where=where, value=value, mend="Write it like 2")
    return value


def _number(value: object, where: str) -> float:
    return float(_fraction(value, where))


def _yes_or_no(value: object, where: str) -> bool:
    if not isinstance(value, bool):
        raise InputError(
            "neither true nor false", where=where, value=value, mend="Write true or false"
        )
    return value


def _one_of(kind: type[_Kind], value: object, where: str) -> _Kind:
    names = [member.value for member in kind]
    if value not in names:
        raise InputError("unknown name", where=where, value=value, mend=_nearest(str(value), names))
    return kind(value)


def _tie_breaks(value: object, where: str) -> tuple[TieBreak, ...]:
    if not isinstance(value, list):
        raise InputError("not a list", where=where, value=value, mend='Write ["worst item"]')
    return tuple(_one_of(TieBreak, name, where) for name in value)


def _stations(value: object, where: str) -> dict[Station, StationRule]:
    if not isinstance(value, Mapping):
        raise InputError("not a table", where=where, value=value, mend="Write [stations.count]")
    stations = default_stations()
    for name, rule in value.items():
        station = _one_of(Station, name, where)
        stations[station] = _station(rule, f"{where}.{name}", stations[station])
    return stations


def _school_total(value: object, where: str) -> SchoolTotal:
    if not isinstance(value, Mapping) or "rule" not in value:
        mend = 'Write { rule = "best", pairs = 3 }'
        raise InputError("not a rule for schools", where=where, value=value, mend=mend)
    _refuse_unknown(value, ("rule", "pairs"), where)
    return SchoolTotal(
        _one_of(SchoolRule, value["rule"], f"{where}.rule"),
        _whole(value.get("pairs", 1), f"{where}.pairs"),
    )


def _station(value: object, where: str, default: StationRule) -> StationRule:
    if not isinstance(value, Mapping):
        raise InputError("not a table", where=where, value=value, mend="Write weight = 1 under it")
    _refuse_unknown(value, _STATION, where)
    given = {name: _STATION[name](number, f"{where}.{name}") for name, number in value.items()}
    try:
        return replace(default, **given)
    except InputError as refusal:
        raise InputError(
            refusal.what, where=where, value=refusal.value, mend=refusal.mend
        ) from None


_STATION: dict[str, Callable[[object, str], Any]] = {
    **dict.fromkeys(_STATION_FRACTIONS, _fraction),
    "u_limit": _number,
}
_SETTINGS: dict[str, Callable[[object, str], Any]] = {
    "name": _text,
    "version": _whole,
    **dict.fromkeys(_FRACTIONS, _fraction),
    "highest_score": _fraction,
    "tie_breaks": _tie_breaks,
    "decimals": _whole,
    "u_limit": _number,
    "solo_allowed": _yes_or_no,
    "run_off": _text,
    "school_total": _school_total,
    **dict.fromkeys(_HEATS, _whole),
    "stations": _stations,
}
