"""Time, CPU and memory to settle jars; growth with the number of pieces; ratio to general engines.

    python benchmarks/packing.py            1,000 / 5,000 / 20,000 pieces of three shapes
    python benchmarks/packing.py --quick    without 20,000
    python benchmarks/packing.py --engine   2,000 pieces also in rapier3d and mujoco (if installed)
    python benchmarks/packing.py --halving  change of the fraction when the time step is halved

Each settling runs in a process of its own, so that its peak memory is its own.
"""

import argparse
import json
import math
import os
import subprocess
import sys
import time
from dataclasses import replace
from pathlib import Path
from typing import Any

import numpy as np
from scipy.spatial import cKDTree

from nearmark.packing import PackingRequest, census, cylinder, grain_shape, settle, solid
from nearmark.packing.shapes import Solid

SHAPES = ("sphere", "rice", "nut")
GOALS_S = {("sphere", 20_000): 15.0, ("rice", 20_000): 60.0}
GOAL_MB = 500
GOAL_RATIO = {"sphere": (1.0, 50.0), "rice": (5.0, 50.0), "nut": (5.0, 50.0)}
GRAVITY = 20.0
REST, OVERLAP = 1e-6, 0.015
"""The same for all engines: kinetic energy in m g w a piece; largest overlap, widths (spheres)."""

MIN_S, MAX_S = 120.0, 900.0
"""A general engine is given as long as would settle the question of the goal, within these."""

BYTES_A_CONTACT, SWEEPS, CONTACTS = 52 + 16 + 8 + 2 * 2 * 64, 4, 3.2
"""Of balls in a sweep: row read and impulse written, names of the two pieces, a line of the cache
for speed and shove of each, read and written; sweeps a step; contacts a piece."""


def jar_request(code: str, n: int) -> PackingRequest:
    """As high as it is wide, with room to spare."""
    shape = grain_shape(code)
    diameter = (n * solid(shape).volume / 0.55 * 4 / math.pi) ** (1 / 3)
    vessel = cylinder(diameter / 10, 2 * diameter / 10)
    return PackingRequest(shape, n, 1.0, vessel, seed=1)


def peak_mb() -> float:
    """Most memory of this process; getrusage would tell the parent's, if that had more."""
    told = dict(line.split(":", 1) for line in Path("/proc/self/status").read_text().splitlines())
    return int(told["VmHWM"].split()[0]) / 1024


def one(code: str, n: int) -> dict[str, object]:
    """Settle once in this process, after the kernels are compiled."""
    settle(jar_request(code, 60))
    wall, cpu = time.perf_counter(), time.process_time()
    jar = settle(jar_request(code, n))
    return {
        "wall": time.perf_counter() - wall,
        "cpu": time.process_time() - cpu,
        "mb": peak_mb(),
        "steps": jar.rest.steps,
        "overlap_max": jar.rest.overlap_max,
        "kinetic": jar.rest.kinetic,
    }


def colliders(r: Any, body: Solid) -> list[Any]:
    """The parts of one piece; parts that overlap weigh twice, which moves no fraction much."""
    if body.n_drawn == 1 and not body.ends.any():
        return [r.Collider.ball(float(body.radii[0]))]
    return [
        r.Collider.capsule_from_endpoints(r.Vec3(*a), r.Vec3(*b), float(radius))
        for a, b, radius in zip(body.starts, body.ends, body.radii, strict=True)
    ]


def engine(code: str, n: int, most_s: float) -> dict[str, object]:
    """The same pieces in rapier3d until the same rest, or until the time is up."""
    import rapier3d as r  # noqa: PLC0415 - only here

    request = jar_request(code, n)
    body = solid(request.shape)
    radius, planks = request.vessel.width_cm * 5, 48
    world = r.PhysicsWorld(gravity=r.Vec3(0, 0, -GRAVITY))
    world.integration_parameters.dt = 1 / 120
    world.add_collider(r.Collider.cuboid(200, 200, 1).translation(r.Vec3(0, 0, -1)).friction(0.3))
    half = 1.3 * radius * math.tan(math.pi / planks)
    for k in range(planks):
        a = 2 * math.pi * k / planks
        at = r.Vec3((radius + 1) * math.cos(a), (radius + 1) * math.sin(a), 490)
        plank = r.Collider.cuboid(1, half, 500).translation(at).rotation(r.Vec3(0, 0, a))
        world.add_collider(plank.friction(0.3))
    step = 2.05 * body.reach
    m = int(radius / step) + 1
    spots = [
        (i * step, j * step)
        for i in range(-m, m + 1)
        for j in range(-m, m + 1)
        if math.hypot(i * step, j * step) + body.reach < 0.98 * radius
    ]
    rng = np.random.default_rng(1)
    handles = []
    for i in range(n):
        x, y = spots[i % len(spots)]
        z = 1.1 * body.reach + step * (i // len(spots))
        piece = r.RigidBody.dynamic().translation(r.Vec3(x, y, z))
        piece = piece.linvel(r.Vec3(*rng.normal(0, 1, 3))).rotation(r.Vec3(0, 0, rng.uniform(0, 3)))
        piece = piece.linear_damping(1.0).angular_damping(1.0)
        forms = [form.density(1.0).friction(0.3) for form in colliders(r, body)]
        handles.append(world.add_body(piece, forms))
    bodies, steps = world.rigid_bodies, 0
    wall, cpu = time.perf_counter(), time.process_time()
    kinetic = deepest = math.inf
    while (kinetic > REST or deepest > OVERLAP) and time.perf_counter() - wall < most_s:
        for _ in range(60):
            world.step()
        steps += 60
        energy = sum(bodies[h].kinetic_energy() for h in handles)
        kinetic = energy / (n * body.volume * GRAVITY)
        if kinetic <= REST:
            places = [bodies[h].translation for h in handles]
            deepest = overlap(np.array([(p.x, p.y, p.z) for p in places]), code)
    return {
        "wall": time.perf_counter() - wall,
        "cpu": time.process_time() - cpu,
        "steps": steps,
        "kinetic": kinetic,
        "overlap_max": deepest,
    }


def overlap(centres: np.ndarray, code: str) -> float:
    """Largest overlap of spheres of one width; of longer pieces it is not looked at."""
    if code != "sphere":
        return 0.0
    pairs = cKDTree(centres).query_pairs(1.0, output_type="ndarray")
    if not len(pairs):
        return 0.0
    return float(1 - np.linalg.norm(centres[pairs[:, 0]] - centres[pairs[:, 1]], axis=1).min())


def second_engine(code: str, n: int, most_s: float) -> dict[str, object]:
    """The same pieces in mujoco, likewise."""
    import mujoco  # noqa: PLC0415 - only here

    request = jar_request(code, n)
    body = solid(request.shape)
    radius, planks, step = request.vessel.width_cm * 5, 48, 2.05 * body.reach
    wide = 1.3 * radius * math.tan(math.pi / planks)
    walls = "".join(
        f'<geom type="box" size="1 {wide} 500" euler="0 0 {a}" '
        f'pos="{(radius + 1) * math.cos(a)} {(radius + 1) * math.sin(a)} 490"/>'
        for a in (2 * math.pi * k / planks for k in range(planks))
    )
    m = int(radius / step) + 1
    spots = [
        (i * step, j * step)
        for i in range(-m, m + 1)
        for j in range(-m, m + 1)
        if math.hypot(i * step, j * step) + body.reach < 0.98 * radius
    ]
    forms = "".join(
        f'<geom type="capsule" fromto="{" ".join(map(str, (*a, *b)))}" size="{radius}"/>'
        if (a != b).any()
        else f'<geom type="sphere" size="{radius}"/>'
        for a, b, radius in zip(body.starts, body.ends, body.radii, strict=True)
    )
    pieces = "".join(
        f'<body pos="{spots[i % len(spots)][0]} {spots[i % len(spots)][1]} '
        f'{1.1 * body.reach + step * (i // len(spots))}"><freejoint/>{forms}</body>'
        for i in range(n)
    )
    model = mujoco.MjModel.from_xml_string(
        f'<mujoco><compiler angle="radian"/><option timestep="0.004" gravity="0 0 {-GRAVITY}" '
        'solver="CG" iterations="30" cone="elliptic"/>'
        '<default><geom density="1" condim="3" friction="0.3 0 0" solref="0.01 1"/></default>'
        f'<worldbody><geom type="plane" size="200 200 1"/>{walls}{pieces}</worldbody></mujoco>'
    )
    data = mujoco.MjData(model)
    speeds = data.qvel.reshape(n, 6)
    speeds[:, :3] = np.random.default_rng(1).normal(0, 1, (n, 3))
    wall, cpu, steps = time.perf_counter(), time.process_time(), 0
    kinetic = deepest = math.inf
    while (kinetic > REST or deepest > OVERLAP) and time.perf_counter() - wall < most_s:
        for _ in range(20):
            mujoco.mj_step(model, data)
            speeds *= 1 - model.opt.timestep
        steps += 20
        # Moving only: a lower bound, in the engine's favour.
        kinetic = float((speeds[:, :3] ** 2).sum(axis=1).mean() / 2 / GRAVITY)
        deepest = overlap(data.qpos.reshape(n, 7)[:, :3], code) if kinetic <= REST else math.inf
    return {
        "wall": time.perf_counter() - wall,
        "cpu": time.process_time() - cpu,
        "steps": steps,
        "kinetic": kinetic,
        "overlap_max": deepest,
    }


ENGINES = {"rapier3d": engine, "mujoco": second_engine}


def bandwidth() -> float:
    """Bytes a second of one core that copies an array far larger than the caches."""
    a = np.ones(20_000_000)
    b = np.empty_like(a)
    best = math.inf
    for _ in range(5):
        start = time.perf_counter()
        np.copyto(b, a)
        best = min(best, time.perf_counter() - start)
    return 3 * a.nbytes / best  # read, read for ownership, write


def in_process(*words: str) -> dict[str, float]:
    run = subprocess.run(
        # -P: this folder holds a site.py that is not the module of that name.
        [sys.executable, "-P", __file__, *words],
        check=True,
        stdout=subprocess.PIPE,
        text=True,
    )
    told: dict[str, float] = json.loads(run.stdout)
    return told


def main() -> None:
    ask = argparse.ArgumentParser()
    ask.add_argument("--one", nargs=2)
    ask.add_argument("--rival", nargs=4)
    ask.add_argument("--quick", action="store_true")
    ask.add_argument("--engine", action="store_true")
    ask.add_argument("--halving", action="store_true")
    ask.add_argument("--halve", action="store_true", help=argparse.SUPPRESS)
    args = ask.parse_args()
    if args.one:
        print(json.dumps(one(args.one[0], int(args.one[1]))))
        return
    if args.rival:
        name, code, n, most_s = args.rival
        print(json.dumps(ENGINES[name](code, int(n), float(most_s))))
        return
    if args.halving:
        # -P as in in_process.
        subprocess.run([sys.executable, "-P", __file__, "--halve"], check=True)
        return
    if args.halve:
        halving()
        return
    print(f"load average before: {os.getloadavg()[0]:.1f} on {os.cpu_count()} cores")
    limit = bandwidth() / (BYTES_A_CONTACT * SWEEPS * CONTACTS)
    print(
        f"copying: {bandwidth() / 1e9:.1f} GB/s a core; if all that the sweeps touch came from "
        f"memory, a core could do {limit / 1e6:.2f} million piece-steps of balls a second"
    )
    table(args.quick)
    if args.engine:
        against_engine()


def table(quick: bool) -> None:  # noqa: FBT001 - read from one flag
    sizes = (1000, 5000) if quick else (1000, 5000, 20_000)
    for code in SHAPES:
        seen = {n: in_process("--one", code, str(n)) for n in sizes}
        for n, told in seen.items():
            per_step = 1e6 * told["cpu"] / told["steps"] / n
            goal = GOALS_S.get((code, n))
            print(
                f"{code:7s}{n:7,d}  wall {told['wall']:6.1f} s  cpu {told['cpu']:6.1f} s  "
                f"{told['mb']:4.0f} MB (goal {GOAL_MB})  {told['steps']:6,.0f} steps  "
                f"{1 / per_step:.2f} M piece-steps a cpu second  "
                f"overlap max {told['overlap_max']:.4f} widths"
                + (f"  goal {goal:.0f} s" if goal else "")
            )
        slope = np.polyfit(np.log(sizes), np.log([seen[n]["cpu"] for n in sizes]), 1)[0]
        print(f"{code:7s} cpu grows as n^{slope:.2f} (goal < 1.2; the depth of the bed included)")


def against_engine() -> None:
    for code, goals in GOAL_RATIO.items():
        ours = in_process("--one", code, "2000")
        for name, goal in zip(ENGINES, goals, strict=True):
            most_s = min(MAX_S, max(MIN_S, 1.05 * goal * ours["cpu"]))
            theirs = in_process("--rival", name, code, "2000", str(most_s))
            rested = theirs["kinetic"] <= REST and theirs["overlap_max"] <= OVERLAP
            end = "at rest" if rested else f"GIVEN UP after {most_s:.0f} s, not at rest and clean"
            bound = "" if rested else "at least "
            print(
                f"{code}, 2,000: ours {ours['wall']:.1f} s (cpu {ours['cpu']:.1f}); {name} "
                f"{theirs['wall']:.1f} s (cpu {theirs['cpu']:.1f}), {end}, kinetic "
                f"{theirs['kinetic']:.1e}, overlap {theirs['overlap_max']:.3f}; ratio of cpu "
                f"{bound}{theirs['cpu'] / ours['cpu']:.1f} (goal {goal:g})",
                flush=True,
            )


def halving(n_seeds: int = 24, n: int = 2000) -> None:
    """Seed against the same seed, so that what seeds differ by falls out."""
    from nearmark.packing.bed import Method  # noqa: PLC0415 - only here

    request = PackingRequest(grain_shape("sphere"), n, 10.0, cylinder(12.0, 60.0))
    changes = []
    for seed in range(n_seeds):
        seen = []
        for step in (Method().step, Method().step / 2):
            jar = settle(replace(request, seed=seed), method=Method(step=step))
            seen.append((1 / jar.centres_cm[:, 2].mean(), census(jar).bulk_fraction))
        changes.append([100 * (half / whole - 1) for whole, half in zip(*seen, strict=True)])
    mean = np.mean(changes, axis=0)
    error = np.std(changes, axis=0, ddof=1) / math.sqrt(n_seeds)
    for what, m, e in zip(("1 / mean height", "bulk fraction"), mean, error, strict=True):
        print(f"half the step, {n_seeds} seeds of {n:,}: {what} {m:+.2f} % +- {e:.2f} %")


if __name__ == "__main__":
    main()
