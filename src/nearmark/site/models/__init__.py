"""The tables of the site."""

from nearmark.site.common.revision_model import RevisionRow
from nearmark.site.door.models import Account, Attempt, Device, JoinCode
from nearmark.site.drills.models import (
    Drill,
    DrillAnswer,
    DrillItem,
    DrillKind,
    DrillSeat,
    RoomPhase,
    RoomScreen,
)
from nearmark.site.event.answer_models import (
    AdjudicationEntry,
    AnswerEntry,
    AuditEntry,
    ClosedPoint,
    DecisionEntry,
)
from nearmark.site.event.history_model import Change
from nearmark.site.event.models import (
    CupRecord,
    DivisionRecord,
    EventRecord,
    HeatWishRecord,
    InstrumentRecord,
    ItemRecord,
    MaterialRecord,
    PairRecord,
    RoomRecord,
    RuleSetRecord,
)
from nearmark.site.event.reading_models import BoxRow, HandCountRow, KitRow, SampleRow, WeighingRow
from nearmark.site.event_day.heats.models import HeatRun
from nearmark.site.event_day.heats.plan_models import HeatDay, HeatDraft
from nearmark.site.event_day.results.audit_models import AuditCheck, AuditDraw
from nearmark.site.event_day.results.models import CorrectionRecord, Release
from nearmark.site.event_day.results.proof_models import ReleaseProof
from nearmark.site.jars.models import JarKind, JarPart, JarSwitch, PracticeJar
from nearmark.site.jobs.models import Job, JobFile, JobState
from nearmark.site.kit.models import PourRow, VesselRecord
from nearmark.site.kit.seal_models import KeySeal
from nearmark.site.season.meeting_models import Meeting, MeetingPlace
from nearmark.site.season.models import (
    BodyReading,
    Club,
    PracticeAttempt,
    PracticePair,
    Pupil,
    Source,
    Thing,
    ThingChange,
)

__all__ = [
    "Account",
    "AdjudicationEntry",
    "AnswerEntry",
    "Attempt",
    "AuditCheck",
    "AuditDraw",
    "AuditEntry",
    "BodyReading",
    "BoxRow",
    "Change",
    "ClosedPoint",
    "Club",
    "CorrectionRecord",
    "CupRecord",
    "DecisionEntry",
    "Device",
    "DivisionRecord",
    "Drill",
    "DrillAnswer",
    "DrillItem",
    "DrillKind",
    "DrillSeat",
    "EventRecord",
    "HandCountRow",
    "HeatDay",
    "HeatDraft",
    "HeatRun",
    "HeatWishRecord",
    "InstrumentRecord",
    "ItemRecord",
    "JarKind",
    "JarPart",
    "JarSwitch",
    "Job",
    "JobFile",
    "JobState",
    "JoinCode",
    "KeySeal",
    "KitRow",
    "MaterialRecord",
    "Meeting",
    "MeetingPlace",
    "PairRecord",
    "PourRow",
    "PracticeAttempt",
    "PracticeJar",
    "PracticePair",
    "Pupil",
    "Release",
    "ReleaseProof",
    "RevisionRow",
    "RoomPhase",
    "RoomRecord",
    "RoomScreen",
    "RuleSetRecord",
    "SampleRow",
    "Source",
    "Thing",
    "ThingChange",
    "VesselRecord",
    "WeighingRow",
]
