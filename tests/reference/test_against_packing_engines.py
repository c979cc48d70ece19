"""The same pieces from the same start in two independent physics engines.

Skipped for an engine that is not installed: rapier3d (Apache-2), mujoco (Apache-2).
"""

import math
from functools import cache

import numpy as np
import pytest

from nearmark.packing import PackingRequest, cylinder, grain_shape, solid
from nearmark.packing.bed import Bed, Method
from nearmark.packing.rain import Rain

AGREEMENT = 0.015
"""Of the packing fraction: scatter between seeds at 500 pieces is about 0.005."""

SEEDS = {("sphere", "rapier3d"): (1, 2)}
"""One seed, the first, where none is told: an engine may take ten seconds a bed."""

RADIUS, N, GRAVITY, PLANKS = 4.0, 500, 20.0, 48


def lattice(shape, seed):
    """A loose lattice at rest but for a small random motion; the start of both engines."""
    body = solid(shape)
    rng = np.random.default_rng(seed)
    step = 2.05 * body.reach
    m = int(RADIUS / step) + 1
    spots = [
        (i * step, j * step)
        for i in range(-m, m + 1)
        for j in range(-m, m + 1)
        if math.hypot(i * step, j * step) + body.reach < 0.98 * RADIUS
    ]
    layer = np.arange(N) // len(spots)
    xy = np.array(spots)[np.arange(N) % len(spots)]
    centres = np.column_stack([xy, 1.1 * body.reach + step * layer])
    turn = rng.uniform(0, math.pi, N)
    turns = np.column_stack([np.cos(turn), 0 * turn, 0 * turn, np.sin(turn)])
    velocities = np.zeros((N, 6))
    velocities[:, :3] = rng.normal(0, 0.1, (N, 3))
    return Rain(np.ones(N), centres, turns, velocities, np.zeros(N))


def middle_fraction(heights, volume):
    """Fraction between 15 % and 80 % of the height of the bed, by centres."""
    top = np.sort(heights)[-N // 20]
    inside = (heights > 0.15 * top) & (heights < 0.8 * top)
    return volume * inside.sum() / (math.pi * RADIUS**2 * 0.65 * top)


@cache
def ours(code, seed, friction):
    """The fraction of the bed under test, poured once for both engines."""
    shape = grain_shape(code)
    start = lattice(shape, seed)
    request = PackingRequest(
        shape, N, 10.0, cylinder(2 * RADIUS, 90.0), friction=friction, wall_friction=friction
    )
    bed = Bed(request, solid(shape), start, Method(fall_speed=100.0))
    while bed.steps % 10 or bed.time < 15 or bed.energy()[0] > 1e-6:
        bed.advance(0.07 if bed.time < 15 else 1.0)
        assert bed.time < 200
    return middle_fraction(bed.x[:, 2], solid(shape).volume)


def in_rapier(shape, start, friction):
    engine = pytest.importorskip("rapier3d", reason="rapier3d is not installed")
    body = solid(shape)
    world = engine.PhysicsWorld(gravity=engine.Vec3(0, 0, -GRAVITY))
    world.integration_parameters.dt = 1 / 240
    floor = engine.Collider.cuboid(9, 9, 1).translation(engine.Vec3(0, 0, -1))
    world.add_collider(floor.friction(friction))
    half = 1.3 * RADIUS * math.tan(math.pi / PLANKS)
    for k in range(PLANKS):
        a = 2 * math.pi * k / PLANKS
        at = engine.Vec3((RADIUS + 1) * math.cos(a), (RADIUS + 1) * math.sin(a), 90)
        plank = engine.Collider.cuboid(1, half, 95).translation(at)
        world.add_collider(plank.rotation(engine.Vec3(0, 0, a)).friction(friction))
    handles = []
    for x, q, v in zip(start.centres, start.turns, start.velocities, strict=True):
        piece = engine.RigidBody.dynamic().translation(engine.Vec3(*x))
        piece = piece.linvel(engine.Vec3(*(v[:3] * math.sqrt(GRAVITY)))).linear_damping(0.3)
        piece = piece.rotation(engine.Vec3(0, 0, 2 * math.acos(q[0]))).angular_damping(0.3)
        if body.reach == 0.5:
            form = engine.Collider.ball(0.5)
        else:
            form = engine.Collider.capsule_x(float(body.ends[0, 0]), 0.5)
        handles.append(world.add_body(piece, [form.density(1.0).friction(friction)]))
    bodies = world.rigid_bodies
    for _ in range(60):
        for _ in range(60):
            world.step()
        kinetic = np.mean([bodies[h].kinetic_energy() for h in handles])
        if kinetic < 1e-5 * GRAVITY * body.volume:  # with 1e-6 the fraction is the same
            break
    heights = np.array([bodies[h].translation.z for h in handles])
    return middle_fraction(heights, body.volume)


def mujoco_scene(shape, start, friction):
    """The vessel of planks and the pieces, as the engine's own description."""
    wide = 1.3 * RADIUS * math.tan(math.pi / PLANKS)
    far = RADIUS + 1
    planks = "".join(
        f'<geom type="box" size="1 {wide} 95" euler="0 0 {a}" '
        f'pos="{far * math.cos(a)} {far * math.sin(a)} 90"/>'
        for a in (2 * math.pi * k / PLANKS for k in range(PLANKS))
    )
    half = float(solid(shape).ends[0, 0])
    if half:
        form = f'type="capsule" size="0.5" fromto="{-half} 0 0 {half} 0 0"'
    else:
        form = 'type="sphere" size="0.5"'
    bodies = "".join(
        f'<body pos="{x[0]} {x[1]} {x[2]}" quat="{q[0]} {q[1]} {q[2]} {q[3]}"><freejoint/>'
        f'<geom {form} density="1"/></body>'
        for x, q in zip(start.centres, start.turns, strict=True)
    )
    return (
        f'<mujoco><compiler angle="radian"/><option timestep="0.004" gravity="0 0 {-GRAVITY}" '
        'solver="CG" iterations="30" cone="elliptic"/>'
        # Stiff and critically damped, so that a bed eight widths deep hardly overlaps.
        f'<default><geom condim="3" friction="{friction} 0 0" solref="0.01 1"/></default>'
        f'<worldbody><geom type="plane" size="20 20 1"/>{planks}{bodies}</worldbody></mujoco>'
    )


def in_mujoco(shape, start, friction):
    engine = pytest.importorskip("mujoco", reason="mujoco is not installed")
    model = engine.MjModel.from_xml_string(mujoco_scene(shape, start, friction))
    data = engine.MjData(model)
    speeds = data.qvel.reshape(N, 6)
    speeds[:, :3] = start.velocities[:, :3] * math.sqrt(GRAVITY)
    for k in range(1500):
        engine.mj_step(model, data)
        # The same damping as of the other engine; this one has none for free bodies.
        speeds *= 1 - 0.3 * model.opt.timestep
        # From here its soft contacts creep: 0.004 more if it goes on to a tenth of it.
        if k > 500 and (speeds[:, :3] ** 2).sum(axis=1).mean() / 2 < 1e-4 * GRAVITY:
            break
    return middle_fraction(data.qpos.reshape(N, 7)[:, 2], solid(shape).volume)


ENGINES = {"rapier3d": in_rapier, "mujoco": in_mujoco}


@pytest.mark.slow
@pytest.mark.parametrize("engine", list(ENGINES))
@pytest.mark.parametrize("code", ["sphere", "capsule"])
def test_an_independent_engine_gives_the_same_packing_fraction(code, engine):
    shape = grain_shape(code)
    seeds = SEEDS.get((code, engine), (1,))

    mine = np.mean([ours(code, seed, 0.3) for seed in seeds])
    other = np.mean([ENGINES[engine](shape, lattice(shape, seed), 0.3) for seed in seeds])

    assert mine == pytest.approx(other, abs=AGREEMENT)
