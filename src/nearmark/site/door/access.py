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

OPEN_TO: Final = {
    _EVERYBODY: (
        # the door
        *("home", "first-run", "sign-in", "join", "public-results", "verify"),
        # as far as the lead has opened it: the page itself asks
        *("public-feedback", "public-feedback-pdf", "public-pair-proof"),
        # what somebody reads who does not know how to come in
        *("help", "help-page", "help-search", "help-picture"),
        # event day
        *("clock", "clock-now", "public-earlier"),
        # the pages of a seat ask for its code themselves
        *("seat-join", "seat", "seat-item", "seat-hand-in", "seat-leave", "seat-table"),
        *("seat-room-now", "handout", "handbook-pdf", "calculator"),
        # the page asks whether practice is open; a part asks for its signed pass
        *("practice-jars", "jar", "jar-part"),
    ),
    _SIGNED_IN: (
        # the door
        *("sign-out", "lock", "unlock"),
    ),
    _ENTRY: (
        # event day
        *("heats", "heat-check-in", "heat-roll-call", "clock-control", "clock-start"),
        *("clock-extend", "clock-pause-all", "clock-resume-all", "clock-pause", "clock-resume"),
        *("clock-stop", "announcer", "entry", "entry-save", "weigh-in", "scale-checks"),
        *("differences", "difference-decide", "audit-read", "audit-check"),
    ),
    _SEASON: (
        # drills
        *("drills", "bags", "bags-labels"),
        # season
        *("season", "season-club-make", "season-demo", "season-delete-overdue"),
        # practice jars
        *("jar-shelf", "jar-pouring", "jar-pour", "jar-stop", "jar-ready", "jar-import"),
        *("jar-photo", "jar-open", "jar-take-off", "jar-cards", "jar-cards-key", "box-page"),
        "box-key",
    ),
    _OWN_CLUB: (
        # drills
        *("drill-club", "drill-open", "drill-live", "drill-state", "drill-door", "drill-slips"),
        *("drill-start", "drill-close", "drill-seat-code", "drill-room", "drill-room-now"),
        *("drill-room-go", "home-sheet"),
        # season
        *("season-club", "season-pupil-add", "season-pair-add", "season-club-keep"),
        *("season-club-delete", "season-things", "season-thing-add", "season-thing"),
        *("season-thing-retire", "season-round", "season-round-save", "season-round-done"),
        *("season-round-saved", "season-attempt-strike", "season-meeting-plan"),
        *("season-meeting", "season-meeting-again", "season-meeting-start"),
        *("season-meeting-run", "season-meeting-now", "season-meeting-save"),
        *("season-meeting-type", "season-meeting-finish", "season-meeting-done"),
        *("season-meeting-pdf", "season-certificates", "season-log", "season-log-csv"),
        *("season-club-zip", "season-import", "season-import-confirm", "season-pupil"),
        *("season-hand-add", "season-hand-drop", "season-ladder", "season-ladder-add"),
        *("season-pupil-delete", "season-pupil-rename", "season-pupil-zip", "season-pair"),
        *("season-pair-trained", "season-pair-end"),
        # the keys of the event: the page itself asks whether they are out
        "season-keys",
    ),
    _LEAD_THEN_COACH: (
        # event day
        *("standings", "awards", "run-off-pdf", "standings-pdf", "feedback", "feedback-pdf"),
        *("exports", "results-csv", "results-xlsx", "released-folder"),
        # kit
        "kit-certificate",
    ),
    _LEAD: (
        # event day
        *("overview", "tour", "events", "event-begin", "event-open", "event-next"),
        *("event-figures", "event-delete", "rule-sets", "rule-set-make", "event-make"),
        *("event-change", "division-add", "division-change", "division-up", "division-remove"),
        *("pair-division", "room-add", "room-change", "room-remove", "event-import"),
        *("event-demo", "event-export", "pairs", "pair", "pair-change", "pair-story-pdf"),
        *("pair-add", "pair-room", "pair-status", "pair-import", "pair-import-confirm"),
        *("day-plan", "day-plan-save", "heat-fill", "heat-move", "heat-swap", "key-sheet-pdf"),
        *("release", "withhold", "history", "devices", "doctor", "device-code"),
        *("device-joined", "device-revoke", "jobs", "jobs-state", "job-ask", "job-cancel"),
        *("job-again", "job-file", "paper", "paper-file", "audit", "audit-draw", "points"),
        *("point-close", "point-reopen", "corrections", "correction-confirm", "weigh-in-undo"),
        *("heat-late", "heat-plan", "heat-day", "heat-plan-ask", "heat-draft-quick"),
        *("heat-draft-save", "heat-draft-leave", "heat-plan-undo", "heat-wish-add"),
        *("heat-wish-remove", "overview-missing"),
        # kit
        *("kit", "kit-item-add", "thing-add", "thing", "thing-remove", "seal", "scales"),
        *("cups", "cups-paste", "materials", "material-take", "cautions", "pour", "pour-keep"),
        *("pour-vessel", "pour-try", "pour-strike", "purchase", "purchase-csv", "purchase-pdf"),
        *("kit-item", "kit-reading-add", "kit-faces", "kit-reading-strike", "kit-decide"),
        "kit-item-history",
        # season
        "club-coaches",
        # practice jars
        "jar-everybody",
        # it says what cups hold together: that is not for every desk
        "buckets",
    ),
}
"""Who may open -> names of addresses."""

ACCESS: Final = MappingProxyType(
    {name: access for access, names in OPEN_TO.items() for name in names}
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
