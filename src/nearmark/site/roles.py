"""Who may do what: one table, default deny."""

from dataclasses import dataclass
from enum import StrEnum
from types import MappingProxyType
from typing import Final


class Role(StrEnum):
    """What somebody is here for."""

    LEAD = "lead"
    SCORER = "scorer"
    COACH = "coach"
    PUBLIC = "public"


@dataclass(frozen=True, slots=True)
class Access:
    """Who may open one address.

    Attributes
    ----------
    always : set of Role
    after_release : set of Role
        Those for whom it opens when the lead releases the results.
    """

    always: frozenset[Role]
    after_release: frozenset[Role] = frozenset()

    def allows(self, role: Role, *, released: bool) -> bool:
        """Whether a role may open the address now.

        Parameters
        ----------
        role : Role
        released : bool
        """
        return role in self.always or (released and role in self.after_release)


_EVERYBODY = Access(frozenset(Role))
_SIGNED_IN = Access(frozenset({Role.LEAD, Role.SCORER, Role.COACH}))
_ENTRY = Access(frozenset({Role.LEAD, Role.SCORER}))
_SEASON = Access(frozenset({Role.LEAD, Role.COACH}))
_LEAD = Access(frozenset({Role.LEAD}))
_LEAD_THEN_COACH = Access(frozenset({Role.LEAD}), frozenset({Role.SCORER, Role.COACH}))

ACCESS: Final = MappingProxyType(
    {
        # the door
        "home": _EVERYBODY,
        "first-run": _EVERYBODY,
        "sign-in": _EVERYBODY,
        "sign-out": _SIGNED_IN,
        "join": _EVERYBODY,
        "lock": _SIGNED_IN,
        "unlock": _SIGNED_IN,
        "public-results": _EVERYBODY,
        # open to everybody as far as the lead has opened it: the page itself asks
        "public-feedback": _EVERYBODY,
        "public-feedback-pdf": _EVERYBODY,
        # event day
        "overview": _LEAD,
        "event-make": _LEAD,
        "event-import": _LEAD,
        "event-demo": _LEAD,
        "event-export": _LEAD,
        "pairs": _LEAD,
        "pair-add": _LEAD,
        "pair-status": _LEAD,
        "pair-import": _LEAD,
        "pair-import-confirm": _LEAD,
        "heats": _ENTRY,
        "heat-fill": _LEAD,
        "heat-move": _LEAD,
        "heat-swap": _LEAD,
        "heat-check-in": _ENTRY,
        "clock": _EVERYBODY,
        "clock-now": _EVERYBODY,
        "clock-control": _ENTRY,
        "clock-start": _ENTRY,
        "clock-extend": _ENTRY,
        "clock-stop": _ENTRY,
        "entry": _ENTRY,
        "entry-save": _ENTRY,
        "weigh-in": _ENTRY,
        "differences": _ENTRY,
        "difference-decide": _ENTRY,
        "standings": _LEAD_THEN_COACH,
        "standings-pdf": _LEAD_THEN_COACH,
        "key-sheet-pdf": _LEAD,
        "feedback": _LEAD_THEN_COACH,
        "feedback-pdf": _LEAD_THEN_COACH,
        "release": _LEAD,
        "withhold": _LEAD,
        "history": _LEAD,
        "devices": _LEAD,
        "device-code": _LEAD,
        "device-revoke": _LEAD,
        "jobs": _LEAD,
        "jobs-state": _LEAD,
        "job-ask": _LEAD,
        "job-cancel": _LEAD,
        "job-again": _LEAD,
        "job-file": _LEAD,
        # kit
        "kit": _LEAD,
        "kit-item-add": _LEAD,
        "kit-instrument-add": _LEAD,
        "kit-cup-add": _LEAD,
        "kit-item": _LEAD,
        "kit-reading-add": _LEAD,
        "kit-reading-strike": _LEAD,
        "kit-decide": _LEAD,
        "kit-certificate": _LEAD_THEN_COACH,
        # drills; the pages of a seat ask for its code themselves
        "seat-join": _EVERYBODY,
        "seat": _EVERYBODY,
        "seat-item": _EVERYBODY,
        "seat-hand-in": _EVERYBODY,
        "seat-leave": _EVERYBODY,
        "calculator": _EVERYBODY,
        "drills": _SEASON,
        "drill-club": _SEASON,
        "drill-open": _SEASON,
        "drill-live": _SEASON,
        "drill-state": _SEASON,
        "drill-start": _SEASON,
        "drill-close": _SEASON,
        "drill-seat-code": _SEASON,
        "bags": _SEASON,
        "bags-labels": _SEASON,
        "home-sheet": _SEASON,
        # season
        "season": _SEASON,
        "season-club-make": _SEASON,
        "season-demo": _SEASON,
        "season-delete-overdue": _SEASON,
        "season-club": _SEASON,
        "season-pupil-add": _SEASON,
        "season-pair-add": _SEASON,
        "season-club-keep": _SEASON,
        "season-club-delete": _SEASON,
        "season-things": _SEASON,
        "season-thing-add": _SEASON,
        "season-thing-retire": _SEASON,
        "season-round": _SEASON,
        "season-round-save": _SEASON,
        "season-round-done": _SEASON,
        "season-attempt-strike": _SEASON,
        "season-log": _SEASON,
        "season-log-csv": _SEASON,
        "season-club-zip": _SEASON,
        "season-import": _SEASON,
        "season-import-confirm": _SEASON,
        "season-pupil": _SEASON,
        "season-hand-add": _SEASON,
        "season-hand-drop": _SEASON,
        "season-pupil-delete": _SEASON,
        "season-pupil-zip": _SEASON,
        "season-pair": _SEASON,
        "season-pair-trained": _SEASON,
        "season-pair-end": _SEASON,
    }
)
"""Name of an address -> who may open it.  An address that is not here opens for nobody."""


def may_open(name: str, role: Role, *, released: bool) -> bool:
    """Whether a role may open an address.

    Parameters
    ----------
    name : str
        Name of the address.
    role : Role
    released : bool
        Whether the results are out.

    Examples
    --------
    >>> may_open("kit", Role.LEAD, released=False), may_open("kit", Role.SCORER, released=True)
    (True, False)
    >>> may_open("an address nobody thought of", Role.LEAD, released=True)
    False
    """
    access = ACCESS.get(name)
    return access is not None and access.allows(role, released=released)
