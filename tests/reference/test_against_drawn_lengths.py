"""Plans of body references against draws, brute force and the figures of the model notes, 5."""

import itertools
import math

import numpy as np
import pytest

from nearmark.coaching.body_reference import BodyReference
from nearmark.coaching.measure_plan import EYE_SHARE, JOINT_CM, best_set, measure_plan, plans

HAND = [
    BodyReference(*row)
    for row in (
        ("thumb", 1.8, 0.03, 0.05),
        ("joint", 2.4, 0.03, 0.04),
        ("pinky", 4.8, 0.04, 0.06),
        ("index", 6.6, 0.05, 0.08),
        ("palm", 6.9, 0.06, 0.10),
        ("fist", 7.4, 0.08, 0.12),
        ("hand", 15.2, 0.08, 0.15),
        ("span", 17.4, 0.12, 0.40),
    )
]
WORKED = [
    # length, steps, fraction, sd
    (3, {"joint": 1}, 0.33, 0.168),
    (6, {"joint": 1, "thumb": 2}, 0, 0.165),
    (8, {"index": 1}, 0.78, 0.184),
    (10, {"index": 1, "thumb": 1}, 0.89, 0.202),
    (15, {"index": 2, "thumb": 1}, 0, 0.205),
    (20, {"hand": 1, "pinky": 1}, 0, 0.209),
    (25, {"hand": 1, "pinky": 2}, 0.04, 0.334),
]


@pytest.mark.parametrize(("length", "steps", "fraction", "sd"), WORKED)
def test_the_printed_plans(length, steps, fraction, sd):
    plan = measure_plan(length, HAND)

    assert {each.name: times for each, times in plan.steps if times} == steps
    assert plan.fraction == pytest.approx(fraction, abs=5e-3)
    assert plan.sd_cm == pytest.approx(sd, abs=5e-4)


@pytest.mark.parametrize("length", [8, 10, 20, 25])
def test_the_spread_of_a_plan_is_that_of_draws(length):
    plan, n = measure_plan(length, HAND), 400_000
    rng = np.random.default_rng(length)
    last, by_eye = plan.steps[-1][0], plan.fraction >= 0.02
    found = np.zeros(n)
    for reference, times in plan.steps:
        true = reference.length_cm + reference.u_cm * rng.standard_normal(n)
        share = plan.fraction if reference is last else 0.0
        found += (times + share) * true
        for _ in range(times):
            found += reference.repeat_cm * rng.standard_normal(n)
    joints = sum(times for _, times in plan.steps) + by_eye - 1
    for _ in range(joints):
        found += JOINT_CM * rng.standard_normal(n)
    found += JOINT_CM / math.sqrt(2) * rng.standard_normal(n)
    if by_eye:
        f = plan.fraction
        eye = EYE_SHARE * last.length_cm * math.sqrt(min(1, 4 * f * (1 - f) + 0.25))
        found += eye * rng.standard_normal(n)

    assert found.mean() == pytest.approx(length, abs=0.003)
    assert plan.sd_cm == pytest.approx(found.std(), rel=0.006)


def test_every_plan_adds_up_to_the_length_and_none_is_left_out():
    length = 13.0
    found = plans(length, HAND)

    for plan in found:
        laid = sum(each.length_cm * times for each, times in plan.steps)
        assert laid + plan.fraction * plan.steps[-1][0].length_cm == pytest.approx(length)
        assert plan.n_placements <= 5
    # Brute force: every number of whole placements of every pair, the rest by the shorter.
    wanted: set[tuple[str | int, ...]] = set()
    for one in HAND:
        times = int(length / one.length_cm)
        rest = length / one.length_cm - times
        if times + (rest >= 0.02) <= 5:
            wanted.add((one.name, times))
    for a, b in itertools.permutations(HAND, 2):
        if a.length_cm > b.length_cm:
            for first in range(1, 6):
                rest = length - first * a.length_cm
                second = int(max(rest, 0) / b.length_cm)
                by_eye = rest / b.length_cm - second >= 0.02
                if rest >= 0 and (second or by_eye) and first + second + by_eye <= 5:
                    wanted.add((a.name, first, b.name, second))
    ours = {
        tuple(part for each, times in plan.steps for part in (each.name, times)) for plan in found
    }

    assert ours == wanted


@pytest.mark.parametrize(
    ("n", "names", "rms", "worst"),
    [
        (1, ["index"], 5.41, 15.5),
        (2, ["thumb", "index"], 2.55, 5.8),
        (3, ["thumb", "joint", "index"], 2.28, 5.6),
    ],
)
def test_the_printed_sets_to_teach(n, names, rms, worst):
    chosen, found, largest = best_set(HAND, n)

    assert [each.name for each in chosen] == names
    assert 100 * found == pytest.approx(rms, abs=5e-3)
    assert 100 * largest == pytest.approx(worst, abs=0.05)


def test_growth_makes_a_volume_too_small_by_three_times_its_share():
    # 3.5 % a year (model notes): -0.88 % after one month, -2.6 % after three.
    for months, percent in ((1, 0.88), (3, 2.6)):
        grown = (1 + 0.035 * months / 12) ** -3
        assert 100 * (1 - grown) == pytest.approx(percent, abs=0.04)
