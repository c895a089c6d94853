"""What the plane does under power: full throttle, cruise, endurance, one value a sample."""

from dataclasses import dataclass

import numpy as np

from foamwright.model.drag import PlaneDrag
from foamwright.model.drive import DriveModel
from foamwright.physics.arrays import Flags, Samples
from foamwright.physics.drive.equilibrium import Operating, at_throttle
from foamwright.physics.drive.pack import pack_voltage
from foamwright.physics.flight.level import (
    DragCurve,
    at_speeds,
    cheapest_speed,
    level_cost,
    level_states,
    top_speed,
)

FRESH, MIDDLE = 0.9, 0.6
"""Charge left at which top speed and cruise are told [-]: the first minutes, half way."""

CRUISE_MARGIN = 1.2
"""Slowest cruise over stall speed; common practice."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Performance:
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
    """Full throttle, standing still, fresh pack [N]."""
    static_revolutions: Samples
    """[s^-1]."""
    current_max: Samples
    """Largest pack current at full throttle [A]."""
    motor_current_max: Samples
    """Largest motor current [A]."""
    pack_voltage_min: Samples
    """Full throttle, pack as low as it is flown [V]."""
    cruise_speed: Samples
    """Of best range [m s^-1]."""
    cruise_current: Samples
    """[A]."""
    cruise_efficiency: Samples
    """Thrust power over the motor side's pack power [-]."""
    gear_share: Samples
    """Share of the cruise current that the gear takes [-]."""
    endurance: Samples
    """At cruise [s]."""
    distance: Samples
    """At cruise in still air [m]."""
    energy_per_way: Samples
    """At cruise [J m^-1]."""
    loiter_speed: Samples
    """Of least current [m s^-1]."""
    loiter_endurance: Samples
    """[s]."""
    full_throttle_time: Samples
    """[s]."""
    usable: Samples
    """Share of the charge that is flown [-]."""
    beyond: Flags
    """Where the top speed lies beyond the grid."""
    assumed: tuple[str, ...]
    """What was assumed."""


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


def performance(
    model: DriveModel, drag: PlaneDrag, maximum_lift: Samples, stall: Samples, pitch: float
) -> Performance:
    """Return the plane's performance under power."""
    curve = drag_curve(drag, maximum_lift)
    drive = model.drive
    top = top_speed(curve, drive, FRESH)
    still = np.array([[0.0]])
    static = at_throttle(drive, still, 1.0, FRESH)
    low = at_throttle(drive, still, 1.0, 0.2)
    cruise = level_states(curve, drive, MIDDLE)
    current, per_way = level_cost(curve, cruise, CRUISE_MARGIN * stall)
    cruise_speed = cheapest_speed(curve.speed, per_way)
    loiter_speed = cheapest_speed(curve.speed, current)
    factor = model.current_factor

    def at(values: Samples, speed: Samples) -> Samples:
        return at_speeds(curve.speed, values, speed)

    charge = usable_charge(model)
    volts = at(cruise.pack_voltage, cruise_speed)
    cruise_current = at(cruise.pack_current, cruise_speed) * factor
    endurance = charge / cruise_current
    top_revolutions = at(top.full.revolutions, top.speed)
    top_current = at(top.full.pack_current, top.speed) * factor
    shaft = 2.0 * np.pi * top.full.revolutions * top.full.torque
    gear_current = drive.gear_power / pack_voltage(drive.pack, np.full(factor.shape, MIDDLE))
    full = np.concatenate([static.pack_current, top.full.pack_current], axis=1)
    motor_full = np.concatenate([static.motor_current, top.full.motor_current], axis=1)
    sag = low.pack_voltage[:, 0] - (factor - 1.0) * low.pack_current[:, 0] * drive.pack.cells * (
        drive.pack.cell_resistance
    )
    return Performance(
        top_speed=top.speed,
        top_current=top_current,
        top_revolutions=top_revolutions,
        top_drag=at(curve.drag, top.speed),
        top_efficiency=at(top.full.thrust * curve.speed / np.maximum(shaft, 1e-9), top.speed),
        pitch_speed=pitch * top_revolutions,
        static_thrust=static.thrust[:, 0],
        static_revolutions=static.revolutions[:, 0],
        current_max=full.max(axis=1) * factor,
        motor_current_max=motor_full.max(axis=1) * factor,
        pack_voltage_min=sag,
        cruise_speed=cruise_speed,
        cruise_current=cruise_current,
        cruise_efficiency=at(cruise.efficiency, cruise_speed),
        gear_share=gear_current * factor / cruise_current,
        endurance=endurance,
        distance=endurance * cruise_speed,
        energy_per_way=cruise_current * volts / cruise_speed,
        loiter_speed=loiter_speed,
        loiter_endurance=charge / (at(cruise.pack_current, loiter_speed) * factor),
        full_throttle_time=charge / top_current,
        usable=model.usable,
        beyond=top.beyond,
        assumed=extrapolated(top.full, drive.propeller.diameter),
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
