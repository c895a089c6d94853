"""What can be observed of a plane, and what the model says to it, one value a sample."""

import datetime as dt
from collections.abc import Callable, Mapping
from dataclasses import dataclass

import numpy as np

from foamwright.model.computable import ComputablePlane
from foamwright.model.drag import PlaneDrag
from foamwright.model.drawn_current import SENSOR_SCALE, drawn_at
from foamwright.model.performance import FRESH, MIDDLE
from foamwright.physics.arrays import Samples
from foamwright.physics.drive.pack import pack_resistance, pack_voltage
from foamwright.plane.gear import Propeller
from foamwright.problems import CallProblem

FULL_STICK = 0.95
"""From here a throttle counts as full [-]."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Observation:
    """One thing observed, at the bench or in flight."""

    name: str
    """One of `OBSERVABLE`."""
    value: float
    """[SI of its dimension]."""
    spread: float
    """One standard deviation of the reading [SI]."""
    speed: float | None = None
    """Airspeed it belongs to [m s^-1], where it needs one."""
    time: float | None = None
    """How long it took [s], where it needs that."""
    throttle: float = 1.0
    """[-]."""
    mass: float | None = None
    """What the plane weighed then [kg], where that was told."""
    temperature: float | None = None
    """Of the air then [K], where that was told."""
    rotation_speed: float | None = None
    """Of the propeller [s^-1], where it needs that."""
    voltage: float | None = None
    """Of the pack under that load [V], where it needs that."""

    def __post_init__(self) -> None:
        """Refuse what nobody can observe."""
        if self.name not in OBSERVABLE:
            known = ", ".join(OBSERVABLE)
            raise CallProblem(f"nothing is known of an observation '{self.name}'", expected=known)
        good = np.isfinite(self.value) and np.isfinite(self.spread) and self.spread > 0.0
        if not good or (OBSERVABLE[self.name].relative and self.value <= 0.0):
            raise CallProblem(
                f"{self.name} = {self.value:g} ± {self.spread:g} is no observation",
                expected="a positive value with a positive spread",
            )


@dataclass(frozen=True, kw_only=True, slots=True)
class Source:
    """One test or flight: where some observations come from."""

    name: str
    """The words for it: "static test of 2026-05-01"."""
    kind: str
    """`test` or `flight`."""
    day: dt.date
    """When."""
    observations: tuple[Observation, ...]
    """What was observed."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Observable:
    """One kind of observation."""

    label: str
    """The words for it."""
    dimension: str
    """Which dimension of `quantity` it has."""
    discrepancy: float
    """What the model misses beyond its inputs, the same in every such observation: relative, or
    absolute where `relative` is not set."""
    predict: Callable[[ComputablePlane, Observation], Samples]
    """The model's samples (n,)."""
    drive: bool = False
    """Whether it needs a complete drive."""
    needs: tuple[str, ...] = ()
    """Which of speed, time, rotation speed and voltage the observation has to tell."""
    relative: bool = True
    """Whether spreads are relative: it is positive and compared by its logarithm."""
    bound: bool = False
    """Whether it is no more than an upper bound of what the model tells."""
    misses: str = ""
    """The kind whose discrepancy it shares, where that is not its own."""
    weighs: bool = False
    """Whether mass and air of that flight count, where they were told."""


def at_rest(name: str) -> Callable[[ComputablePlane, Observation], Samples]:
    """Return the prediction of one reading at the bench."""

    def predict(computed: ComputablePlane, _: Observation) -> Samples:
        found: Samples = getattr(computed.bench_state, name)[:, 0]
        factor = computed.complete_drive.current_factor
        return found * factor if name == "pack_current" else found

    return predict


def flying(name: str) -> Callable[[ComputablePlane, Observation], Samples]:
    """Return the prediction of one figure at top speed."""

    def predict(computed: ComputablePlane, _: Observation) -> Samples:
        found: Samples = getattr(computed.full_throttle, name)
        return found

    return predict


def voltage_at_top(computed: ComputablePlane, _: Observation) -> Samples:
    """Return the pack's voltage at top speed (n,) [V]."""
    pack = computed.complete_drive.drive.pack
    left = np.full(computed.samples, FRESH)
    sag = pack_resistance(pack, left) * computed.full_throttle.top_current
    return pack_voltage(pack, left) - sag


def drag_at(computed: ComputablePlane, seen: Observation) -> PlaneDrag:
    """Return the drag at the speed of an observation."""
    return computed.drag_at(np.array([seen.speed or 0.0]))


def current_at(computed: ComputablePlane, seen: Observation) -> Samples:
    """Return the current in level flight (n,) [A], none where it cannot fly so."""
    points = computed.level_points(np.array([seen.speed or 0.0]))
    return np.where(points.holds, points.current, np.nan)[:, 0]


def current_turning(computed: ComputablePlane, seen: Observation) -> Samples:
    """Return the current at an airspeed and a propeller speed, whatever the throttle (n,) [A]."""
    told = (seen.speed, seen.rotation_speed, seen.voltage)
    return drawn_at(computed.complete_drive, *(np.nan if one is None else one for one in told))


def charge_in(computed: ComputablePlane, seen: Observation) -> Samples:
    """Return the charge that level flight takes in a time (n,) [A s]."""
    return current_at(computed, seen) * (seen.time or 0.0)


def glide_at(computed: ComputablePlane, seen: Observation) -> Samples:
    """Return lift over drag (n,) [-]."""
    return computed.weight / drag_at(computed, seen).drag[:, 0]


def drag_area_at(computed: ComputablePlane, seen: Observation) -> Samples:
    """Return drag over dynamic pressure (n,) [m^2]."""
    found = drag_at(computed, seen)
    pressure = 0.5 * computed.air.density * found.speed[0] ** 2
    area: Samples = found.drag[:, 0] / pressure
    return area


def resistance(computed: ComputablePlane, _: Observation) -> Samples:
    """Return the pack's resistance with its leads (n,) [ohm]."""
    return pack_resistance(computed.complete_drive.drive.pack, np.full(computed.samples, MIDDLE))


def mass(computed: ComputablePlane, _: Observation) -> Samples:
    """Return the mass of the plane ready to fly (n,) [kg]."""
    return computed.masses.all_up


def balance_place(computed: ComputablePlane, _: Observation) -> Samples:
    """Return where it balances (n,) [m]."""
    return computed.masses.centre[:, 0]


def stall(computed: ComputablePlane, seen: Observation) -> Samples:
    """Return the stall speed at the mass and in the air of that flight (n,) [m s^-1]."""
    found = computed.stall_speed
    if seen.mass is not None:
        found = found * np.sqrt(seen.mass / computed.masses.all_up)
    if seen.temperature is not None:
        found = found * np.sqrt(seen.temperature / computed.air.temperature)
    return found


def slowest_level(computed: ComputablePlane, seen: Observation) -> Samples:
    """Return the slowest speed that can be flown level (n,) [m s^-1]: its motor carries along."""
    return UNDER_POWER * stall(computed, seen)


def roll_lag(computed: ComputablePlane, seen: Observation) -> Samples:
    """Return how late the roll rate follows the aileron at a speed, all lags together (n,) [s].

    The stabiliser's delay and the time constant of the roll: a log tells their sum well, and
    hardly which is which.
    """
    loop = computed.rate_loop
    if loop is None or loop.roll is None:
        return np.full(computed.samples, np.nan)
    return loop.delay + 1.0 / (loop.roll_damping * (seen.speed or np.nan))


CURRENT_MISSED = 0.08
"""Relative discrepancy of one kind of current [-]: with the 10 % that all currents share (an input
of the model) it comes to 13 %, as in flights of a real plane (prototype measurement)."""

UNDER_POWER = 0.98
"""Slowest level speed over the stall speed without power [-]: level at the stall the pull is a
fifth of the weight and points some twelve degrees up, which carries 4 % of it. Own derivation."""

OBSERVABLE: Mapping[str, Observable] = {
    "static_thrust": Observable(
        label="thrust, standing still",
        dimension="pull",
        discrepancy=0.03,
        predict=at_rest("thrust"),
        drive=True,
    ),
    "static_current": Observable(
        label="current, standing still",
        dimension="current",
        discrepancy=CURRENT_MISSED,
        predict=at_rest("pack_current"),
        drive=True,
    ),
    "static_voltage": Observable(
        label="pack voltage under that load",
        dimension="voltage",
        discrepancy=0.01,
        predict=at_rest("pack_voltage"),
        drive=True,
    ),
    "static_rotation_speed": Observable(
        label="propeller speed, standing still",
        dimension="rotation speed",
        discrepancy=0.02,
        predict=at_rest("revolutions"),
        drive=True,
    ),
    "top_speed": Observable(
        label="top speed",
        dimension="speed",
        discrepancy=0.03,
        predict=flying("top_speed"),
        drive=True,
    ),
    "top_speed_current": Observable(
        label="current at top speed",
        dimension="current",
        discrepancy=CURRENT_MISSED,
        predict=flying("top_current"),
        drive=True,
    ),
    "top_speed_voltage": Observable(
        label="pack voltage at top speed",
        dimension="voltage",
        discrepancy=0.015,
        predict=voltage_at_top,
        drive=True,
    ),
    "cruise_current": Observable(
        label="current in level flight",
        dimension="current",
        discrepancy=CURRENT_MISSED,
        predict=current_at,
        drive=True,
        needs=("speed",),
    ),
    "propeller_current": Observable(
        label="current at a propeller speed",
        dimension="current",
        discrepancy=SENSOR_SCALE,
        predict=current_turning,
        drive=True,
        needs=("speed", "rotation_speed", "voltage"),
    ),
    "charge_used": Observable(
        label="charge used",
        dimension="charge",
        discrepancy=CURRENT_MISSED,
        predict=charge_in,
        drive=True,
        needs=("speed", "time"),
    ),
    "stall_speed": Observable(
        label="stall speed", dimension="speed", discrepancy=0.03, predict=stall, weighs=True
    ),
    "lowest_speed": Observable(
        label="lowest speed held level",
        dimension="speed",
        discrepancy=0.03,
        predict=slowest_level,
        bound=True,
        misses="stall_speed",
        weighs=True,
    ),
    "glide_ratio": Observable(
        label="glide ratio",
        dimension="number",
        discrepancy=0.05,
        predict=glide_at,
        needs=("speed",),
    ),
    "drag_area": Observable(
        label="drag area",
        dimension="area",
        discrepancy=0.05,
        predict=drag_area_at,
        needs=("speed",),
    ),
    "pack_resistance": Observable(
        label="resistance of the pack",
        dimension="resistance",
        discrepancy=0.05,
        predict=resistance,
        drive=True,
    ),
    "roll_lag": Observable(
        label="lag from aileron to roll rate",
        dimension="time",
        discrepancy=0.10,
        predict=roll_lag,
        needs=("speed",),
    ),
    "all_up_mass": Observable(
        label="all-up mass", dimension="mass", discrepancy=0.002, predict=mass
    ),
    "balance_place": Observable(
        label="where it balances",
        dimension="length",
        discrepancy=0.001,
        predict=balance_place,
        relative=False,
    ),
}
"""What can be observed, by name. Discrepancies are common practice, no source, where not told."""


def unpredictable(computed: ComputablePlane, seen: Observation) -> str:
    """Return why the model can say nothing to an observation; empty if it can."""
    kind = OBSERVABLE[seen.name]
    incomplete = computed.drive_missing if kind.drive else ()
    lacking = [name for name in kind.needs if getattr(seen, name) is None]
    reasons = {
        "the drive is not complete: add " + ", ".join(incomplete): incomplete,
        f"it wants its {' and '.join(lacking).replace('_', ' ')} told": lacking,
        "the plane has flaps, and nothing tells whether they were down": (
            kind.bound and has_flaps(computed)
        ),
        "only full throttle is compared: nobody knows what a stick half way means": (
            seen.throttle < FULL_STICK
        ),
        "it is the static_reading of the plane file, which is used already": (
            is_in_plane_file(computed, seen)
        ),
    }
    return next((reason for reason, holds in reasons.items() if holds), "")


def has_flaps(computed: ComputablePlane) -> bool:
    """Return whether the plane can fly slower than its clean stall, which the model tells."""
    surfaces = computed.plane.airframe.surfaces
    return any(control.role == "flap" for surface in surfaces for control in surface.controls)


READINGS = {
    "static_thrust": "thrust",
    "static_current": "current",
    "static_voltage": "voltage",
    "static_rotation_speed": "rotation_speed",
}
"""Keys of a propeller's static_reading by the observation they are."""


def is_in_plane_file(computed: ComputablePlane, seen: Observation) -> bool:
    """Return whether a bench reading was written into the plane file as well: it counts once."""
    for item in computed.plane.items:
        if isinstance(item, Propeller) and item.static_reading and seen.name in READINGS:
            written = getattr(item.static_reading, READINGS[seen.name])
            return written is not None and abs(written.value / seen.value - 1.0) < 1e-3
    return False


def predicted(computed: ComputablePlane, seen: Observation) -> Samples:
    """Return what the model says to an observation, one value a sample (n,) [SI]."""
    return OBSERVABLE[seen.name].predict(computed, seen)
