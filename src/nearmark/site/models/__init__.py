"""The tables of the site."""

from nearmark.site.models.event import (
    CupRecord,
    EventRecord,
    InstrumentRecord,
    ItemRecord,
    MaterialRecord,
    PairRecord,
)
from nearmark.site.models.heat_run import HeatRun
from nearmark.site.models.history import Change
from nearmark.site.models.jars import JarKind, JarPart, JarSwitch, PracticeJar
from nearmark.site.models.jobs import Job, JobFile, JobState
from nearmark.site.models.kit_readings import (
    BoxRow,
    HandCountRow,
    KitRow,
    SampleRow,
    WeighingRow,
)
from nearmark.site.models.ledger import AdjudicationEntry, AnswerEntry, DecisionEntry
from nearmark.site.models.people import Account, Attempt, Device, JoinCode

__all__ = [
    "Account",
    "AdjudicationEntry",
    "AnswerEntry",
    "Attempt",
    "BoxRow",
    "Change",
    "CupRecord",
    "DecisionEntry",
    "Device",
    "EventRecord",
    "HandCountRow",
    "HeatRun",
    "InstrumentRecord",
    "ItemRecord",
    "JarKind",
    "JarPart",
    "JarSwitch",
    "Job",
    "JobFile",
    "JobState",
    "JoinCode",
    "KitRow",
    "MaterialRecord",
    "PairRecord",
    "PracticeJar",
    "SampleRow",
    "WeighingRow",
]
