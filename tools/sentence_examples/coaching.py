"""What is said to pupils and pairs of a season."""

from dataclasses import replace
from datetime import date, timedelta
from functools import cache

import numpy as np

from nearmark.coaching.act_fits import PLAIN_FACTORS
from nearmark.coaching.acts import SIDE_ACTS, Act, Step
from nearmark.coaching.advice import Trial
from nearmark.coaching.assignment import Assignment
from nearmark.coaching.attempt import Attempt, Layers, Scoop, Sides
from nearmark.coaching.body_reference import BodyReference
from nearmark.coaching.calculator_task import CalculatorTask, check_product
from nearmark.coaching.deciders import Mode
from nearmark.coaching.home_tasks import HomeTask
from nearmark.coaching.jar_reading import KnownJar
from nearmark.coaching.lean import Aim, lean
from nearmark.coaching.measure_plan import measure_plan, measuring_routine
from nearmark.coaching.pair_habits import PairReading, read_pair
from nearmark.coaching.practice_plan import PlannedItem
from nearmark.coaching.progress import Best, Month, Progress
from nearmark.coaching.pupil_habit import PupilHabit, read_club
from nearmark.coaching.scoop_ladder import NextRung, Rung, Why
from nearmark.coaching.seen_truth import KnownThing, Thing
from nearmark.coaching.slips import find_slip
from nearmark.station import Station
from nearmark.words import (
    coaching_advice,
    coaching_certificate,
    coaching_child,
    coaching_habits,
    coaching_jars,
    coaching_ladder,
    coaching_lean,
    coaching_pairs,
    coaching_progress,
    coaching_steps,
    coaching_things,
    home_tasks,
    measuring,
    sides,
)
from sentence_examples.facts import Examples

DAY = date(2027, 2, 3)
MASS, COUNT, VOLUME = Station.MASS, Station.COUNT, Station.VOLUME
BOX, JAR = Sides(12, 8, 5, (12.5, 8, 5)), Layers(25, 10, 37, 10.54)
SHIFTS = [factor for factor in PLAIN_FACTORS if factor != 1]


def jar(estimate: float, parts: Layers | None = None, partner: float | None = None) -> Attempt:
    """An attempt at a jar of 303."""
    return Attempt(DAY, "Ada", COUNT, "jar", estimate, 303, parts=parts, partner=partner)


def box(estimate: float, parts: Sides | None = None, true: float = 500) -> Attempt:
    """An attempt at a box."""
    return Attempt(DAY, "Ada", VOLUME, "box", estimate, true, parts=parts)


def scoop(net_g: float, cup_g: float) -> Attempt:
    """A scoop of 100 g."""
    return Attempt(DAY, "Ada", MASS, "rice", net_g, 100, parts=Scoop(cup_g, 0.8))


def trial(station: Station, *steps: Step, n: int = 8, least: float = 4.0) -> Trial:
    """Some steps that gain."""
    return Trial(station, steps, n, 66.0, 93.0, least)


@cache
def habits() -> dict[str, PupilHabit]:
    """A pupil of each manner, by name."""
    ratios = {
        "once": [0.9],
        "high": [1.2, 1.22, 1.18, 1.21, 1.19],
        "perhaps": [1.22, 1.02, 1.17, 0.99, 1.12],
        "sound": [1.01, 0.99, 1.02, 0.98, 1.0],
        "few": [0.9, 1.1],
        "slip": [1.0, 10.0, 0.98, 1.02],
        "slips": [1.0, 10.0, 0.98, 1.02, 9.8, 1.0, 0.97, 1.01],
    }
    log = [
        Attempt(DAY + timedelta(weeks=i), name, COUNT, f"jar {i}", 1000 * ratio, 1000)
        for name, own in ratios.items()
        for i, ratio in enumerate(own)
    ]
    for name, n_again in (("again", 1), ("often", 3)):
        log += [
            Attempt(DAY + timedelta(weeks=i), name, COUNT, "jar", 900 + i, 1000)
            for i in range(1 + n_again)
        ]
    cups = ((112, 8.6), (108, 8.6), (115, 8.7), (50, 182), (52, 182), (47, 182))
    log += [
        replace(scoop(net, cup), pupil="cup", day=DAY + timedelta(weeks=i))
        for i, (net, cup) in enumerate(cups)
    ]
    # Each alone: what is usual in a club would draw them together.
    names = {each.pupil for each in log}
    return {name: read_club(a for a in log if a.pupil == name)[name][0] for name in names}


@cache
def pair_readings() -> dict[str, PairReading]:
    """Pairs of which one decides, both do, and none is clear."""
    ratios = {
        "one": ([1.0, 0.98, 1.03, 1.0, 1.02, 0.97], [0.6, 0.55, 0.62, 0.58, 0.6, 0.57]),
        "both": ([0.8, 0.82, 0.79, 0.81, 0.8, 0.78], [1.2, 1.19, 1.21, 1.18, 1.22, 1.2]),
        "early": ([0.9], [0.92]),
        "low": ([0.7, 0.72, 0.69] * 3, [0.68, 0.7, 0.72] * 3),
    }
    found = {}
    for name, both in ratios.items():
        log = [
            Attempt(DAY + timedelta(weeks=i), who, COUNT, f"jar {i}", 1000 * x, 1000, pair="S1")
            for who, own in zip(("Milo", "Wren"), both, strict=True)
            for i, x in enumerate(own)
        ]
        club = read_club(log)
        (found[name],) = read_pair(club["Milo"], club["Wren"], np.random.default_rng(1))
    return found


def with_gain(name: str, gain: float) -> PairReading:
    """A clear pair whose way brings so much."""
    reading = pair_readings()[name]
    advice = replace(reading.advice, gain=gain)
    return replace(reading, advice=advice, replayed={})


def sides_said() -> Examples:
    """Phrases that sentences on practice share."""
    return {
        sides.side_words: [0.88, 1.0, 1.05, 2.2],
        sides.amount_text: [10.54, 1609.0],
        sides.unit_text: ["cm3", "pieces", "g"],
        sides.kind_words: [*((station, "") for station in Station), (COUNT, "small")],
    }


def home_tasks_said() -> Examples:
    """Tasks to do at home."""
    say = (home_tasks.task_title, home_tasks.task_words, home_tasks.task_fields)
    return {each: list(HomeTask) for each in say}


def lean_said() -> Examples:
    """How far to lean."""
    return {
        coaching_lean.lean_words: [
            lean(0.3),
            lean(0.1),
            lean(0.1, bias=0.05, aim=Aim.NINETY),
            lean(0),
            lean(0.4, bias=-0.2),
            lean(0.3, bias=-0.3),
        ],
        coaching_lean.worth_words: [
            lean(0.3),
            lean(0.1),
            lean(0.1, bias=0.05, aim=Aim.NINETY),
            lean(0.2, aim=Aim.NINETY),
        ],
    }


def steps_said() -> Examples:
    """What to do differently."""
    plain = [act for act in Act if act not in (Act.TRIM, Act.SHIFT)]
    return {
        coaching_steps.step_words: [
            *((Step(act, 0.75), COUNT) for act in plain),
            *((Step(Act.TRIM, factor), COUNT) for factor in SHIFTS),
            *((Step(Act.SHIFT, factor), MASS) for factor in SHIFTS),
            (Step(Act.SHIFT, 0.8), COUNT),
        ],
        coaching_steps.trim_words: [0.8],
        coaching_steps.one_step_words: [
            (Step(Act.HOLD_CUP, 0.3), scoop(50, 182)),
            *((Step(act, 0.8), box(480, BOX)) for act in SIDE_ACTS),
            (Step(Act.LAYER, 25 / 37), jar(250, JAR)),
            (Step(Act.LAYERS, 10 / 10.54), jar(250, JAR)),
            (Step(Act.MULTIPLY), box(96, BOX)),
            (Step(Act.FIGURES), box(500, BOX)),
            (Step(Act.OWN_PRODUCT), box(400, BOX)),
            (Step(Act.OWN_ANSWER), jar(300, JAR, 300)),
        ],
        coaching_steps.sum_text: [JAR, BOX],
        coaching_steps.slip_words: [
            *(find_slip(n, BOX) for n in (4800, 96, 25, 960, 240, 392, 768, 3333)),
            find_slip(387, Sides(13.5, 7, 4)),
        ],
    }


def advice_said() -> Examples:
    """What would have gained most."""
    missed = [0.3, 0.7, 1.4, 2.4]
    return {
        coaching_advice.trial_words: [
            trial(MASS, Step(Act.HOLD_CUP, 0.36)),
            trial(COUNT, Step(Act.LAYER, 0.7), Step(Act.TRIM, 0.8)),
            trial(VOLUME, Step(Act.HAND, 1.09), n=3, least=-1.0),
        ],
        coaching_advice.attempt_words: [
            *(scoop(100 * ratio, 8.6) for ratio in missed),
            *(jar(303 * ratio) for ratio in (*missed, 0.1, 10, 1.01)),
            *(box(500 * ratio) for ratio in missed),
            box(96, BOX),
            jar(250, JAR),
            replace(jar(303), is_known=True),
            scoop(62, 310),
        ],
        coaching_advice.no_advice_words: [([],), ([jar(300)] * 9,)],
    }


def habits_said() -> Examples:
    """How a pupil reads, and why something comes next."""
    item = PlannedItem(COUNT, "small", 1.13, 4, 2, is_overdue=False)
    own = habits()
    scoops = own["cup"].scoops
    assert scoops is not None
    return {
        coaching_habits.habit_words: [own["high"]],
        coaching_habits.bias_words: [own[n] for n in ("once", "high", "perhaps", "sound", "cup")],
        coaching_habits.scatter_words: [own["high"]],
        coaching_habits.few_words: [own["few"]],
        coaching_habits.cup_words: [scoops],
        coaching_habits.grams_words: [12.4, -50.0, 0.2],
        coaching_habits.left_out_words: [own[n] for n in ("slip", "slips", "again", "often")],
        coaching_habits.outlook_words: [own["high"], own["cup"]],
        coaching_habits.reason_words: [
            item,
            replace(item, n=1, ago=1),
            replace(item, ago=0),
            replace(item, n=0),
        ],
    }


def pairs_said() -> Examples:
    """Who of a pair decides."""
    return {
        coaching_pairs.mode_words: [(mode, "Milo", "Wren") for mode in Mode],
        coaching_pairs.pair_words: [
            *pair_readings().values(),
            *(with_gain(name, gain) for name in ("one", "both") for gain in (0.2, 1.0, 9.0)),
        ],
        coaching_pairs.score_words: [
            Assignment({COUNT: Mode.FIRST}, 84.2, chance, 0.0) for chance in (0.034, 0.0)
        ],
        coaching_pairs.teach_words: [pair_readings()["low"]],
        coaching_pairs.replay_words: [pair_readings()[name] for name in ("one", "both", "early")],
    }


def jars_said() -> Examples:
    """What a jar says, and sums to do."""
    task = CalculatorTask(BOX)
    return {
        coaching_jars.jar_words: [(KnownJar(303, 37, 10.54), 250, 25, 10)],
        coaching_jars.method_words: [
            KnownJar(100, 10, 10.1),
            KnownJar(400, 84, 7.0),
            KnownJar(400, 40, 8.0),
        ],
        coaching_jars.vessel_words: [("bean", "cup"), ("bean", "cylinder")],
        coaching_jars.task_words: [task, CalculatorTask(Layers(42, 9))],
        coaching_jars.checked_words: [
            (task, check_product(task, written)) for written in (480, 4800, 700)
        ],
    }


def measuring_said() -> Examples:
    """How to take a length with the hand."""
    palm, thumb = BodyReference("palm", 7.1, 0.06, 0.1), BodyReference("thumb", 2, 0.03, 0.05)
    routine = measuring_routine([palm, thumb])
    assert routine is not None
    return {
        measuring.plan_words: [
            measure_plan(length, [palm, thumb]) for length in (2.4, 2.9, 3.2, 6.0, 6.2, 6.3)
        ],
        measuring.routine_words: [routine],
        measuring.measure_again: ["5 April 2027"],
        measuring.mark_nothing: [()],
    }


def things_said() -> Examples:
    """Who knows a true value already."""
    beans = Thing(COUNT, "small", "jar of beans", 420)
    known = [KnownThing(beans, who, 6) for who in ((), ("Ada",), ("Ada", "Bo"))]
    return {
        coaching_things.known_words: known,
        coaching_things.warning_words: known[1:],
    }


def progress_said() -> Examples:
    """First month against last, and a pupil's best."""

    def at(station: Station, first: float, last: float, u: float = 2.0, n: int = 1) -> Progress:
        one, other = (Month(4, mean, ((u**2, 9),)) for mean in (first, last))
        return Progress(station, one, other, n, n)

    better, lower, same = at(COUNT, 62, 81), at(VOLUME, 81, 62, n=2), at(MASS, 70, 74, n=6)
    alike = Progress(MASS, Month(3, 0.0), Month(3, 0.0), 1, 1)
    early = [Progress(station, Month(2, 60.0), Month(0, float("nan")), 0, 1) for station in Station]
    tried = Attempt(DAY, "Ada", COUNT, "jar of beans", 412, 420)
    return {
        coaching_progress.progress_words: [
            better,
            lower,
            same,
            alike,
            early[0],
            at(COUNT, 95.2, 96.9, 0.3),
        ],
        coaching_progress.of_words: [same],
        coaching_progress.headline_words: [([better, lower, same],), (early,)],
        coaching_progress.best_words: [Best(tried, 98.1, 12), Best(tried, 98.1, 1)],
        coaching_certificate.practice_words: [(30, 10), (1, 1)],
        coaching_certificate.station_title: list(Station),
        coaching_certificate.closest_words: [
            Best(each, points, n)
            for each, points in ((tried, 98.1), (box(480), 96.0), (tried, 20.0))
            for n in (12, 1)
        ],
        coaching_certificate.better_words: [better],
    }


def ladder_said() -> Examples:
    """The scoop ladder."""
    return {
        coaching_ladder.rung_words: [(2, "rice into a tin cup", 100)],
        coaching_ladder.why_words: [NextRung(Rung(0, 50), why, 22.4) for why in Why],
        coaching_ladder.try_words: [(100, 87, 87), (50, 56, 88)],
        coaching_ladder.comparison_words: [("cup 1", "cup 3", 173.4)],
    }


def child_said() -> Examples:
    """How a child reads, to the child."""
    item = PlannedItem(COUNT, "small", 1.13, 4, 2, is_overdue=False)
    own = habits()
    return {
        coaching_child.child_habit_words: [
            own[n] for n in ("once", "high", "perhaps", "sound", "cup")
        ],
        coaching_child.child_reason_words: [item, replace(item, n=1), replace(item, n=0)],
    }
