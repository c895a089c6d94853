"""How launches end: chance by throttle and angle, by who steers, and what a change would do."""

import dataclasses
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from foamwright.model.launch_inputs import off_the_line
from foamwright.model.launch_setup import LaunchSetup, Steers, power_at, release_of, throw_of
from foamwright.physics.arrays import Flags, Grid, Samples
from foamwright.physics.flight.launch import Flown, flown, longest_step
from foamwright.physics.flight.launch_plane import Throw, chosen, joined, single

ANGLES: Grid = np.deg2rad(np.arange(0.0, 31.0, 5.0))
"""Angles of the map [rad]."""

CELL = 64
"""Throws in each cell of the map: a chance of one half is within 6 points, smoothed within 3."""

MOST_AT_ONCE = 10000
"""Throws followed at once: more would not fit beside each other where a processor is quick."""

EVERYBODY: tuple[Steers, ...] = ("hands off", "pilot", "stabiliser")
"""Who may steer."""


@dataclass(frozen=True, kw_only=True, slots=True)
class LaunchMap:
    """Chance of a clean launch by throttle and angle."""

    throttle: Grid
    """(t,) [-]."""
    angle: Grid
    """(a,) [rad]."""
    chance: Grid
    """(t, a) [-]."""
    best_throttle: float
    """[-]."""
    best_angle: float
    """[rad]."""


@dataclass(frozen=True, kw_only=True, slots=True)
class LaunchPlan:
    """How one plane is thrown, before anything flies but the map."""

    map: LaunchMap
    """By throttle and angle, steered as the plane file says."""
    throttle: float
    """As written, or the map's best [-]."""
    angle: float | None
    """The map's best [rad]; none where it is written."""
    steers: Steers
    """Who steers, as the plane file says."""
    throws: Mapping[Steers, Throw]
    """All samples by who steers."""

    def hook(self, setup: LaunchSetup) -> tuple[Samples, Flags] | None:
        """Return largest acceleration on a bungee and whether the hook bears it; or none."""
        line = off_the_line(setup.inputs, setup.plane.mass)
        if line is None:
            return None
        limit, holds = setup.inputs.hook_limit, line.leaves & line.steady
        return line.acceleration, holds if limit is None else holds & (line.hook_force <= limit)


@dataclass(frozen=True, kw_only=True, slots=True)
class Launch:
    """How the launches of one plane end."""

    map: LaunchMap
    """By throttle and angle, steered as the plane file says."""
    throttle: float
    """Of the throws below: as written, or the map's best [-]."""
    angle: float | None
    """Of the throws below: the map's best [rad]; none where it is written."""
    steers: Steers
    """Who steers, as the plane file says."""
    flown: dict[Steers, Flown]
    """All samples by who steers."""
    torque_aileron: Samples
    """Aileron that holds the torque at the speed of release (n,) [rad]."""
    release_speed: Samples
    """Through the air (n,) [m s^-1]."""
    hook: tuple[Samples, Flags] | None
    """Largest acceleration on a bungee (n,) [m s^-2], and whether the hook bears it (n,)."""

    @property
    def clean(self) -> Flags:
        """Which launches are clean (n,), steered as the plane file says."""
        found = self.flown[self.steers].clean
        return found if self.hook is None else found & self.hook[1]


def parted(result: Flown, sizes: Sequence[int]) -> list[Flown]:
    """Return what became of several batches that were flown as one."""
    ends = np.cumsum(sizes)
    parts = []
    for end, size in zip(ends, sizes, strict=True):
        cut = slice(int(end) - size, int(end))
        parts.append(
            Flown(
                clearance=result.clearance[cut],
                height=result.height[cut],
                airspeed=result.airspeed[cut],
                climb=result.climb[cut],
                bank=result.bank[cut],
                time=result.time[cut],
                state=result.state[:, cut],
                clean=result.clean[cut],
            )
        )
    return parts


@dataclass(frozen=True, kw_only=True, slots=True)
class Batch:
    """Throws that are followed with one step."""

    throw: Throw
    """n throws in single precision."""
    step: float
    """Their longest step [s]."""


def batch_of(throws: Sequence[Throw]) -> Batch:
    """Return several throws as one batch, whose step suits nearly all of them."""
    throw = single(joined(list(throws)))
    return Batch(throw=throw, step=longest_step(throw))


def batches_flown(batches: Sequence[Batch]) -> list[Flown]:
    """Return what becomes of several batches, each as if it were alone.

    They are followed together, for many throws cost hardly more than a few; not more at once than
    a processor has at hand.
    """
    sizes = [batch.throw.plane.mass.size for batch in batches]
    loads = np.cumsum(sizes) // MOST_AT_ONCE
    found: list[Flown] = []
    for load in np.unique(loads):
        some = [batch for batch, own in zip(batches, loads, strict=True) if own == load]
        counts = [batch.throw.plane.mass.size for batch in some]
        steps = np.repeat([batch.step for batch in some], counts)
        result = flown(joined([batch.throw for batch in some]), step=steps)
        found += parted(result, counts)
    return found


def all_flown(throws: Sequence[Throw]) -> list[Flown]:
    """Return what becomes of several throws, followed as one batch."""
    (found,) = batches_flown([batch_of(throws)])
    return parted(found, [throw.plane.mass.size for throw in throws])


def smoothed(chance: Grid) -> Grid:
    """Return the map with each cell averaged with its neighbours, those across corners less."""
    padded = np.pad(chance, 1, mode="edge")
    rows = 0.25 * padded[:-2] + 0.5 * padded[1:-1] + 0.25 * padded[2:]
    found: Grid = 0.25 * rows[:, :-2] + 0.5 * rows[:, 1:-1] + 0.25 * rows[:, 2:]
    return found


def map_throws(setup: LaunchSetup, steers: Steers) -> list[Throw]:
    """Return the throws of the map, cell by cell."""
    first = np.arange(setup.samples) < CELL
    throttles = [float(throttle) for throttle in setup.power.throttle]
    alike = throw_of(setup, steers, throttle=throttles[0], first=CELL)
    powers = [chosen(power_at(setup, throttle), first) for throttle in throttles]
    releases = [chosen(release_of(setup, float(angle)), first) for angle in ANGLES]
    return [
        dataclasses.replace(alike, power=power, release=release)
        for power in powers
        for release in releases
    ]


def launch_map(setup: LaunchSetup, steers: Steers) -> LaunchMap:
    """Return the chance by throttle and angle."""
    (found,) = batches_flown([batch_of(map_throws(setup, steers))])
    return map_of(setup, found)


def map_of(setup: LaunchSetup, found: Flown) -> LaunchMap:
    """Return the map of throws that were flown cell by cell.

    The best cell is looked for in the smoothed map; among equals the one with the least throttle
    and the angle nearest to the middle of the equals.
    """
    shape = (setup.power.throttle.size, ANGLES.size)
    chance = smoothed(found.clean.reshape(*shape, -1).mean(axis=-1))
    equal = chance >= chance.max() - 0.5 / CELL
    row = int(np.argmax(equal.any(axis=1)))
    columns = np.flatnonzero(equal[row])
    return LaunchMap(
        throttle=setup.power.throttle,
        angle=ANGLES,
        chance=chance,
        best_throttle=float(setup.power.throttle[row]),
        best_angle=float(ANGLES[columns[len(columns) // 2]]),
    )


def torque_aileron(setup: LaunchSetup, throttle: float, airspeed: Samples) -> Samples:
    """Return the aileron (n,) [rad] that holds the torque at (n,) airspeeds [m s^-1]."""
    throw = throw_of(setup, "hands off", throttle=throttle)
    power, air = throw.power, throw.air
    fast = np.minimum(airspeed, power.fastest)
    torque = power.torque_constant + fast * (power.torque_linear + fast * power.torque_square)
    pressure = 0.5 * setup.plane.density * airspeed**2
    power_of_roll = air.Clda if setup.travel.rolls else np.abs(air.Cldr)
    hold = pressure * air.area * air.span * power_of_roll
    return np.where(hold > 0.0, torque / np.maximum(hold, 1e-9), np.nan)


@dataclass(frozen=True, kw_only=True, slots=True)
class Written:
    """What the plane file tells of the throw."""

    steers: Steers
    """Who steers."""
    throttle: float | None
    """[-]; none where it is not told."""
    angle: bool
    """Whether it tells the angle."""


def launch_plan(setup: LaunchSetup, found: LaunchMap, written: Written) -> LaunchPlan:
    """Return how one plane is thrown."""
    throttle = found.best_throttle if written.throttle is None else written.throttle
    if written.throttle is None and written.angle:
        throttle = best_at(found, float(np.median(setup.inputs.angle)))
    angle = None if written.angle else found.best_angle
    return LaunchPlan(
        map=found,
        throttle=throttle,
        angle=angle,
        steers=written.steers,
        throws={who: throw_of(setup, who, throttle=throttle, angle=angle) for who in EVERYBODY},
    )


def plan_alone(setup: LaunchSetup, written: Written) -> LaunchPlan:
    """Return how one plane is thrown, its map flown for nobody else."""
    return launch_plan(setup, launch_map(setup, written.steers), written)


def steered_batch(plan: LaunchPlan) -> Batch:
    """Return the throws of who steers, as the plane file says.

    With the step that all who may steer have together, so that they end as in `launch_of`.
    """
    step = batch_of(list(plan.throws.values())).step
    return Batch(throw=single(plan.throws[plan.steers]), step=step)


def clean_of(setup: LaunchSetup, plan: LaunchPlan, found: Flown) -> Flags:
    """Return which launches are clean (n,) of those of `steered_batch`."""
    hook = plan.hook(setup)
    return found.clean if hook is None else found.clean & hook[1]


def clean_alone(setup: LaunchSetup, plan: LaunchPlan) -> Flags:
    """Return which launches are clean (n,), flown for nobody else."""
    (found,) = batches_flown([steered_batch(plan)])
    return clean_of(setup, plan, found)


def launch_of(setup: LaunchSetup, plan: LaunchPlan) -> Launch:
    """Return how the launches of one plane end, whoever steers."""
    results = dict(zip(plan.throws, all_flown(list(plan.throws.values())), strict=True))
    release = plan.throws[plan.steers].release
    airspeed = release.speed + release.head_wind
    return Launch(
        map=plan.map,
        throttle=plan.throttle,
        angle=plan.angle,
        steers=plan.steers,
        flown=results,
        torque_aileron=torque_aileron(setup, plan.throttle, np.maximum(airspeed, 1.0)),
        release_speed=airspeed,
        hook=plan.hook(setup),
    )


def best_at(found: LaunchMap, angle: float) -> float:
    """Return the least throttle with the best chance at an angle [rad]."""
    row = np.array([np.interp(angle, found.angle, chances) for chances in found.chance])
    return float(found.throttle[int(np.argmax(row >= row.max() - 0.5 / CELL))])
