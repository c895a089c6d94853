"""What the plane does under power: full throttle, cruise, endurance, one value a sample."""

from dataclasses import dataclass

import numpy as np

from foamwright.model.drag import PlaneDrag
from foamwright.model.drive import DriveModel
from foamwright.physics.arrays import Flags, Samples
from foamwright.physics.drive.equilibrium import Operating, at_throttle
from foamwright.physics.drive.pack import pack_resistance, pack_voltage
from foamwright.physics.flight.climb import fastest_climb
from foamwright.physics.flight.level import (
    DragCurve,
    at_speeds,
    cheapest_speed,
    level_cost,
    level_states,
    top_speed,
)

FULL, FRESH, MIDDLE, EMPTY = 1.0, 0.9, 0.6, 0.2
"""Charge left at which bench, top speed, cruise and sag are told [-]: straight from the charger,
first minutes, half way, landing."""

CRUISE_MARGIN = 1.2
"""Slowest cruise over stall speed; common practice."""


@dataclass(frozen=True, kw_only=True, slots=True)
class FullThrottle:
    """All (n,); not a number where a sample cannot fly level."""

    top_speed: Samples
    """[m s^-1]."""
    top_current: Samples
    """[A]."""
    top_revolutions: Samples
    """[s^-1]."""
    top_drag: Samples
    """[N]."""
    top_efficiency: Samples
    """Of the propeller [-]."""
    pitch_speed: Samples
    """Printed pitch times revolutions at top speed [m s^-1]."""
    static_thrust: Samples
    """Standing still, fresh pack [N]."""
    static_revolutions: Samples
    """[s^-1]."""
    static_voltage: Samples
    """Of the pack under that load [V]."""
    current_max: Samples
    """Largest pack current [A]."""
    motor_current_max: Samples
    """Largest motor current [A]."""
    pack_voltage_min: Samples
    """Pack as low as it is flown [V]."""
    climb_rate: Samples
    """Fastest steady climb [m s^-1]; 0 where it cannot fly level."""
    climb_speed: Samples
    """Airspeed of that climb [m s^-1]."""
    lasts: Samples
    """How long the charge lasts at top speed [s]."""
    beyond: Flags
    """Where the top speed lies beyond the grid."""
    assumed: tuple[str, ...]
    """What was assumed."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Cruise:
    """All (n,); not a number where a sample cannot fly level."""

    speed: Samples
    """Of best range [m s^-1]."""
    current: Samples
    """[A]."""
    efficiency: Samples
    """Thrust power over the motor side's pack power [-]."""
    gear_share: Samples
    """Share of the current that the gear takes [-]."""
    endurance: Samples
    """[s]."""
    distance: Samples
    """In still air [m]."""
    energy_per_way: Samples
    """[J m^-1]."""
    loiter_speed: Samples
    """Of least current [m s^-1]."""
    loiter_endurance: Samples
    """[s]."""


@dataclass(frozen=True, kw_only=True, slots=True)
class LevelPoints:
    """Level flight at given speeds, (n, k)."""

    throttle: Samples
    current: Samples
    power: Samples
    revolutions: Samples
    angle_of_attack: Samples
    thrust: Samples
    efficiency: Samples
    holds: Flags


def drag_curve(drag: PlaneDrag, maximum_lift: Samples) -> DragCurve:
    """Return the drag with who is above the stall."""
    return DragCurve(
        speed=drag.speed,
        drag=drag.drag,
        flyable=drag.lift_coefficient <= maximum_lift[:, None],
    )


def usable_charge(model: DriveModel) -> Samples:
    """Return the charge that is flown (n,) [A s]."""
    return model.usable * model.drive.pack.capacity


def full_throttle(
    model: DriveModel, drag: PlaneDrag, maximum_lift: Samples, *, pitch: float, weight: Samples
) -> FullThrottle:
    """Return what full throttle does, flying and standing still."""
    curve = drag_curve(drag, maximum_lift)
    drive, factor = model.drive, model.current_factor
    top = top_speed(curve, drive, FRESH)
    climb = fastest_climb(curve, top.full.thrust, weight)
    still = np.array([[0.0]])
    static = at_throttle(model.at_rest, still, 1.0, FULL)
    low = at_throttle(model.at_rest, still, 1.0, EMPTY)

    def at_top(values: Samples) -> Samples:
        return at_speeds(curve.speed, values, top.speed)

    revolutions = at_top(top.full.revolutions)
    current = at_top(top.full.pack_current) * factor
    shaft = 2.0 * np.pi * top.full.revolutions * top.full.torque
    drawn = np.concatenate([static.pack_current, top.full.pack_current], axis=1)
    through = np.concatenate([static.motor_current, top.full.motor_current], axis=1)
    # What the currents miss, the sag misses too.
    missed = (factor - 1.0) * low.pack_current[:, 0]
    resistance = pack_resistance(drive.pack, np.full(factor.shape, EMPTY))
    return FullThrottle(
        top_speed=top.speed,
        top_current=current,
        top_revolutions=revolutions,
        top_drag=at_top(curve.drag),
        top_efficiency=at_top(top.full.thrust * curve.speed / np.maximum(shaft, 1e-9)),
        pitch_speed=pitch * revolutions,
        static_thrust=static.thrust[:, 0],
        static_revolutions=static.revolutions[:, 0],
        static_voltage=static.pack_voltage[:, 0],
        current_max=drawn.max(axis=1) * factor,
        motor_current_max=through.max(axis=1) * factor,
        pack_voltage_min=low.pack_voltage[:, 0] - missed * resistance,
        climb_rate=climb.rate,
        climb_speed=climb.speed,
        lasts=usable_charge(model) / current,
        beyond=top.beyond,
        assumed=extrapolated(top.full, drive.propeller.diameter),
    )


def cruise(model: DriveModel, drag: PlaneDrag, maximum_lift: Samples, stall: Samples) -> Cruise:
    """Return the cruise of best range and the loiter of least current."""
    curve = drag_curve(drag, maximum_lift)
    drive, factor = model.drive, model.current_factor
    states = level_states(curve, drive, MIDDLE)
    current, per_way = level_cost(curve, states, CRUISE_MARGIN * stall)
    speed = cheapest_speed(curve.speed, per_way)
    loiter = cheapest_speed(curve.speed, current)

    def at(values: Samples, place: Samples) -> Samples:
        return at_speeds(curve.speed, values, place)

    charge = usable_charge(model)
    drawn = at(states.pack_current, speed) * factor
    gear = drive.gear_power / pack_voltage(drive.pack, np.full(factor.shape, MIDDLE))
    endurance = charge / drawn
    return Cruise(
        speed=speed,
        current=drawn,
        efficiency=at(states.efficiency, speed),
        gear_share=gear * factor / drawn,
        endurance=endurance,
        distance=endurance * speed,
        energy_per_way=drawn * at(states.pack_voltage, speed) / speed,
        loiter_speed=loiter,
        loiter_endurance=charge / (at(states.pack_current, loiter) * factor),
    )


def extrapolated(full: Operating, diameter: float) -> tuple[str, ...]:
    """Return what of the propeller's state lies beyond the data behind it."""
    said = []
    tip = np.pi * diameter * float(np.median(full.revolutions)) / 340.0
    small = diameter <= 5.6 * 0.0254
    if small and tip > 0.26:
        said.append(
            f"propeller tips at Mach {tip:.2f}: small propellers were measured to 0.26 only, so "
            "this extrapolates"
        )
    if tip > 0.75:
        said.append(f"propeller tips at Mach {tip:.2f}: losses to shocks are not modelled")
    if float(np.mean(full.outside)) > 0.05:
        said.append("some samples leave the propeller's table; its edge value was held")
    return tuple(said)


def level_points(model: DriveModel, drag: PlaneDrag, maximum_lift: Samples) -> LevelPoints:
    """Return level flight at the speeds of a drag curve."""
    curve = drag_curve(drag, maximum_lift)
    states = level_states(curve, model.drive, MIDDLE)
    current = states.pack_current * model.current_factor[:, None]
    return LevelPoints(
        throttle=states.throttle,
        current=current,
        power=current * states.pack_voltage,
        revolutions=states.revolutions,
        angle_of_attack=drag.alpha,
        thrust=states.thrust,
        efficiency=states.efficiency,
        holds=curve.flyable & states.holds,
    )
