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


class Job(StrEnum):
    """What a helper does on the day: which pages the menu shows, and the first of them.

    At the door, the scale and the answers it narrows the menu, not the role: a helper who is asked
    to help elsewhere may.  A clock and an announcer open the addresses of ``JOB_OPENS`` alone.
    """

    CHECK_IN = "check-in"
    WEIGH_IN = "weigh-in"
    CLOCK = "clock"
    ANSWERS = "answers"
    ANNOUNCER = "announcer"


JOB_PAGES: Final = MappingProxyType(
    {
        Job.CHECK_IN: ("heats", "clock-control"),
        Job.WEIGH_IN: ("weigh-in",),
        Job.CLOCK: ("clock-control", "heats"),
        Job.ANSWERS: ("entry", "differences"),
        Job.ANNOUNCER: ("announcer",),
    }
)
"""Names of the addresses of a job, the first one first."""

HELP: Final = frozenset({"help", "help-page", "help-search", "help-picture"})
"""Open to everybody, with every job, on a locked device and before there is an account."""

_DOOR: Final = HELP | {"home", "sign-in", "sign-out", "join", "lock", "unlock"}

JOB_OPENS: Final = MappingProxyType(
    {
        Job.CLOCK: _DOOR
        | {
            *("clock", "clock-now", "clock-control", "clock-start", "clock-extend", "clock-stop"),
            *("clock-pause", "clock-resume", "clock-pause-all", "clock-resume-all"),
            *("heats", "heat-check-in", "heat-roll-call", "public-results"),
        },
        Job.ANNOUNCER: _DOOR
        | {
            *("announcer", "clock", "clock-now", "standings", "standings-pdf"),
            *("awards", "run-off-pdf"),
            *("public-results", "public-earlier"),
        },
    }
)
"""All that somebody with this job may open; what the role does not open stays shut."""


@dataclass(frozen=True, slots=True)
class Access:
    """Who may open one address."""

    always: frozenset[Role]
    # Those for whom it opens when the lead releases the results.
    after_release: frozenset[Role] = frozenset()
    # Whether it belongs to a club, so that a coach may open it only for their own clubs.
    only_own_clubs: bool = False

    def allows(self, role: Role, *, released: bool) -> bool:
        """Whether a role may open the address now."""
        return role in self.always or (released and role in self.after_release)


_EVERYBODY = Access(frozenset(Role))
_SIGNED_IN = Access(frozenset({Role.LEAD, Role.SCORER, Role.COACH}))
_ENTRY = Access(frozenset({Role.LEAD, Role.SCORER}))
_SEASON = Access(frozenset({Role.LEAD, Role.COACH}))
_OWN_CLUB = Access(frozenset({Role.LEAD, Role.COACH}), only_own_clubs=True)
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
        "public-pair-proof": _EVERYBODY,
        "verify": _EVERYBODY,
        # what somebody reads who does not know how to come in
        "help": _EVERYBODY,
        "help-page": _EVERYBODY,
        "help-search": _EVERYBODY,
        "help-picture": _EVERYBODY,
        # event day
        "overview": _LEAD,
        "tour": _LEAD,
        "events": _LEAD,
        "event-begin": _LEAD,
        "event-open": _LEAD,
        "event-next": _LEAD,
        "event-figures": _LEAD,
        "event-delete": _LEAD,
        "rule-sets": _LEAD,
        "rule-set-make": _LEAD,
        "event-make": _LEAD,
        "event-change": _LEAD,
        "division-add": _LEAD,
        "division-change": _LEAD,
        "division-up": _LEAD,
        "division-remove": _LEAD,
        "pair-division": _LEAD,
        "room-add": _LEAD,
        "room-change": _LEAD,
        "room-remove": _LEAD,
        "event-import": _LEAD,
        "event-demo": _LEAD,
        "event-export": _LEAD,
        "pairs": _LEAD,
        "pair": _LEAD,
        "pair-change": _LEAD,
        "pair-story-pdf": _LEAD,
        "pair-add": _LEAD,
        "pair-room": _LEAD,
        "pair-status": _LEAD,
        "pair-import": _LEAD,
        "pair-import-confirm": _LEAD,
        "day-plan": _LEAD,
        "day-plan-save": _LEAD,
        "heats": _ENTRY,
        "heat-fill": _LEAD,
        "heat-move": _LEAD,
        "heat-swap": _LEAD,
        "heat-check-in": _ENTRY,
        "heat-roll-call": _ENTRY,
        "clock": _EVERYBODY,
        "clock-now": _EVERYBODY,
        "clock-control": _ENTRY,
        "clock-start": _ENTRY,
        "clock-extend": _ENTRY,
        "clock-pause-all": _ENTRY,
        "clock-resume-all": _ENTRY,
        "clock-pause": _ENTRY,
        "clock-resume": _ENTRY,
        "clock-stop": _ENTRY,
        "announcer": _ENTRY,
        "entry": _ENTRY,
        "entry-save": _ENTRY,
        "weigh-in": _ENTRY,
        "scale-checks": _ENTRY,
        # it says what cups hold together: that is not for every desk
        "buckets": _LEAD,
        "differences": _ENTRY,
        "difference-decide": _ENTRY,
        "standings": _LEAD_THEN_COACH,
        "awards": _LEAD_THEN_COACH,
        "run-off-pdf": _LEAD_THEN_COACH,
        "standings-pdf": _LEAD_THEN_COACH,
        "key-sheet-pdf": _LEAD,
        "feedback": _LEAD_THEN_COACH,
        "feedback-pdf": _LEAD_THEN_COACH,
        "release": _LEAD,
        "withhold": _LEAD,
        "history": _LEAD,
        "devices": _LEAD,
        "doctor": _LEAD,
        "device-code": _LEAD,
        "device-joined": _LEAD,
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
        "thing-add": _LEAD,
        "thing": _LEAD,
        "thing-remove": _LEAD,
        "seal": _LEAD,
        "scales": _LEAD,
        "cups": _LEAD,
        "cups-paste": _LEAD,
        "materials": _LEAD,
        "material-take": _LEAD,
        "cautions": _LEAD,
        "pour": _LEAD,
        "pour-keep": _LEAD,
        "pour-vessel": _LEAD,
        "pour-try": _LEAD,
        "pour-strike": _LEAD,
        "purchase": _LEAD,
        "purchase-csv": _LEAD,
        "purchase-pdf": _LEAD,
        "kit-item": _LEAD,
        "kit-reading-add": _LEAD,
        "kit-faces": _LEAD,
        "kit-reading-strike": _LEAD,
        "kit-decide": _LEAD,
        "kit-item-history": _LEAD,
        "kit-certificate": _LEAD_THEN_COACH,
        # drills; the pages of a seat ask for its code themselves
        "seat-join": _EVERYBODY,
        "seat": _EVERYBODY,
        "seat-item": _EVERYBODY,
        "seat-hand-in": _EVERYBODY,
        "seat-leave": _EVERYBODY,
        "seat-table": _EVERYBODY,
        "seat-room-now": _EVERYBODY,
        "handout": _EVERYBODY,
        "handbook-pdf": _EVERYBODY,
        "calculator": _EVERYBODY,
        "drills": _SEASON,
        "drill-club": _OWN_CLUB,
        "drill-open": _OWN_CLUB,
        "drill-live": _OWN_CLUB,
        "drill-state": _OWN_CLUB,
        "drill-door": _OWN_CLUB,
        "drill-slips": _OWN_CLUB,
        "drill-start": _OWN_CLUB,
        "drill-close": _OWN_CLUB,
        "drill-seat-code": _OWN_CLUB,
        "drill-room": _OWN_CLUB,
        "drill-room-now": _OWN_CLUB,
        "drill-room-go": _OWN_CLUB,
        "bags": _SEASON,
        "bags-labels": _SEASON,
        "home-sheet": _OWN_CLUB,
        # season
        "season": _SEASON,
        "season-club-make": _SEASON,
        "season-demo": _SEASON,
        "season-delete-overdue": _SEASON,
        "season-club": _OWN_CLUB,
        "season-pupil-add": _OWN_CLUB,
        "season-pair-add": _OWN_CLUB,
        "season-club-keep": _OWN_CLUB,
        "club-coaches": _LEAD,
        "season-club-delete": _OWN_CLUB,
        "season-things": _OWN_CLUB,
        "season-thing-add": _OWN_CLUB,
        "season-thing": _OWN_CLUB,
        # the keys of the event: the page itself asks whether they are out
        "season-keys": _OWN_CLUB,
        "season-thing-retire": _OWN_CLUB,
        "season-round": _OWN_CLUB,
        "season-round-save": _OWN_CLUB,
        "season-round-done": _OWN_CLUB,
        "season-round-saved": _OWN_CLUB,
        "season-attempt-strike": _OWN_CLUB,
        "season-meeting-plan": _OWN_CLUB,
        "season-meeting": _OWN_CLUB,
        "season-meeting-again": _OWN_CLUB,
        "season-meeting-start": _OWN_CLUB,
        "season-meeting-run": _OWN_CLUB,
        "season-meeting-now": _OWN_CLUB,
        "season-meeting-save": _OWN_CLUB,
        "season-meeting-type": _OWN_CLUB,
        "season-meeting-finish": _OWN_CLUB,
        "season-meeting-done": _OWN_CLUB,
        "season-meeting-pdf": _OWN_CLUB,
        "season-certificates": _OWN_CLUB,
        "season-log": _OWN_CLUB,
        "season-log-csv": _OWN_CLUB,
        "season-club-zip": _OWN_CLUB,
        "season-import": _OWN_CLUB,
        "season-import-confirm": _OWN_CLUB,
        "season-pupil": _OWN_CLUB,
        "season-hand-add": _OWN_CLUB,
        "season-hand-drop": _OWN_CLUB,
        "season-ladder": _OWN_CLUB,
        "season-ladder-add": _OWN_CLUB,
        "season-pupil-delete": _OWN_CLUB,
        "season-pupil-rename": _OWN_CLUB,
        "season-pupil-zip": _OWN_CLUB,
        "season-pair": _OWN_CLUB,
        "season-pair-trained": _OWN_CLUB,
        "season-pair-end": _OWN_CLUB,
        # paper, audit, corrections, exports
        "public-earlier": _EVERYBODY,
        "paper": _LEAD,
        "paper-file": _LEAD,
        "audit": _LEAD,
        "audit-draw": _LEAD,
        "audit-read": _ENTRY,
        "audit-check": _ENTRY,
        "points": _LEAD,
        "point-close": _LEAD,
        "point-reopen": _LEAD,
        "corrections": _LEAD,
        "correction-confirm": _LEAD,
        "exports": _LEAD_THEN_COACH,
        "results-csv": _LEAD_THEN_COACH,
        "results-xlsx": _LEAD_THEN_COACH,
        "released-folder": _LEAD_THEN_COACH,
        "weigh-in-undo": _LEAD,
        "heat-late": _LEAD,
        "heat-plan": _LEAD,
        "heat-day": _LEAD,
        "heat-plan-ask": _LEAD,
        "heat-draft-quick": _LEAD,
        "heat-draft-save": _LEAD,
        "heat-draft-leave": _LEAD,
        "heat-plan-undo": _LEAD,
        "heat-wish-add": _LEAD,
        "heat-wish-remove": _LEAD,
        "overview-missing": _LEAD,
        # practice jars: the page asks whether practice is open; a part asks for its signed pass
        "practice-jars": _EVERYBODY,
        "jar": _EVERYBODY,
        "jar-part": _EVERYBODY,
        "jar-shelf": _SEASON,
        "jar-pouring": _SEASON,
        "jar-pour": _SEASON,
        "jar-stop": _SEASON,
        "jar-ready": _SEASON,
        "jar-import": _SEASON,
        "jar-photo": _SEASON,
        "jar-open": _SEASON,
        "jar-take-off": _SEASON,
        "jar-everybody": _LEAD,
        "jar-cards": _SEASON,
        "jar-cards-key": _SEASON,
        "box-page": _SEASON,
        "box-key": _SEASON,
    }
)
"""Name of an address -> who may open it.  An address that is not here opens for nobody."""


def may_open(name: str, role: Role, *, released: bool, job: str = "") -> bool:
    """Whether a role may open an address.

    ``name``: name of the address. ``released``: whether the results are out. ``job``: of a helper;
    empty: none.

    >>> may_open("kit", Role.LEAD, released=False), may_open("kit", Role.SCORER, released=True)
    (True, False)
    >>> may_open("entry", Role.SCORER, released=False, job=Job.CLOCK)
    False
    >>> may_open("an address nobody thought of", Role.LEAD, released=True)
    False
    """
    access = ACCESS.get(name)
    if access is None or not access.allows(role, released=released):
        return False
    opens = JOB_OPENS.get(Job(job)) if job and role is Role.SCORER else None
    return opens is None or name in opens
