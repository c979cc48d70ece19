"""Time, CPU and memory to settle jars; growth with the number of pieces; ratio to a general engine.

    python benchmarks/packing.py            1,000 / 5,000 / 20,000 pieces of three shapes
    python benchmarks/packing.py --quick    without 20,000
    python benchmarks/packing.py --engine   2,000 pieces also in rapier3d (must be installed)

Each settling runs in a process of its own, so that its peak memory is its own.
"""

import argparse
import json
import math
import os
import resource
import subprocess
import sys
import time

import numpy as np

from nearmark.packing import PackingRequest, cylinder, grain_shape, settle, solid

SHAPES = ("sphere", "rice", "nut")
GOALS_S = {("sphere", 20_000): 15.0, ("rice", 20_000): 60.0}
GOAL_MB, GOAL_RATIO = 500, {"sphere": 1.0, "rice": 5.0}
GRAVITY = 20.0


def jar_request(code: str, n: int) -> PackingRequest:
    """As high as it is wide, with room to spare."""
    shape = grain_shape(code)
    diameter = (n * solid(shape).volume / 0.55 * 4 / math.pi) ** (1 / 3)
    vessel = cylinder(diameter / 10, 2 * diameter / 10)
    return PackingRequest(shape, n, 1.0, vessel, seed=1)


def one(code: str, n: int) -> dict[str, object]:
    """Settle once in this process, after the kernels are compiled."""
    settle(jar_request(code, 60))
    wall, cpu = time.perf_counter(), time.process_time()
    jar = settle(jar_request(code, n))
    return {
        "wall": time.perf_counter() - wall,
        "cpu": time.process_time() - cpu,
        "mb": resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024,
        "steps": jar.rest.steps,
        "overlap_max": jar.rest.overlap_max,
        "kinetic": jar.rest.kinetic,
    }


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
        long = float(body.ends[0, 0])
        form = r.Collider.capsule_x(long, 0.5) if long else r.Collider.ball(0.5)
        handles.append(world.add_body(piece, [form.density(1.0).friction(0.3)]))
    bodies, steps = world.rigid_bodies, 0
    wall, cpu = time.perf_counter(), time.process_time()
    kinetic = math.inf
    while kinetic > 1e-6 and time.perf_counter() - wall < most_s:
        for _ in range(60):
            world.step()
        steps += 60
        energy = sum(bodies[h].kinetic_energy() for h in handles)
        kinetic = energy / (n * body.volume * GRAVITY)
    return {
        "wall": time.perf_counter() - wall,
        "cpu": time.process_time() - cpu,
        "steps": steps,
        "kinetic": kinetic,
    }


def in_process(*words: str) -> dict[str, float]:
    run = subprocess.run(
        # -P: this folder holds a coverage.py that is not the module of that name.
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
    ask.add_argument("--rapier", nargs=3)
    ask.add_argument("--quick", action="store_true")
    ask.add_argument("--engine", action="store_true")
    args = ask.parse_args()
    if args.one:
        print(json.dumps(one(args.one[0], int(args.one[1]))))
        return
    if args.rapier:
        print(json.dumps(engine(args.rapier[0], int(args.rapier[1]), float(args.rapier[2]))))
        return
    print(f"load average before: {os.getloadavg()[0]:.1f} on {os.cpu_count()} cores")
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
                f"{per_step:.2f} us cpu a piece-step  overlap max {told['overlap_max']:.4f} widths"
                + (f"  goal {goal:.0f} s" if goal else "")
            )
        slope = np.polyfit(np.log(sizes), np.log([seen[n]["cpu"] for n in sizes]), 1)[0]
        print(f"{code:7s} cpu grows as n^{slope:.2f} (goal < 1.2; the depth of the bed included)")


def against_engine() -> None:
    for code, goal in GOAL_RATIO.items():
        ours = in_process("--one", code, "2000")
        theirs = in_process("--rapier", code, "2000", str(max(60.0, 8 * ours["wall"])))
        rested = "at rest" if theirs["kinetic"] <= 1e-6 else "STILL NOT at rest"
        print(
            f"{code}, 2,000: ours {ours['wall']:.1f} s (cpu {ours['cpu']:.1f}); rapier3d "
            f"{theirs['wall']:.1f} s (cpu {theirs['cpu']:.1f}), {rested}, kinetic "
            f"{theirs['kinetic']:.1e}; ratio of cpu {theirs['cpu'] / ours['cpu']:.1f} "
            f"(goal {goal:g})"
        )


if __name__ == "__main__":
    main()
