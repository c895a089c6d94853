"""The motor: its label, size and what was measured made into samples."""

import numpy as np

from foamwright.model.drive_parts import DriveParts
from foamwright.model.ensemble import Draws
from foamwright.physics.arrays import Samples
from foamwright.physics.drive.equilibrium import TWO_PI
from foamwright.physics.drive.motor import (
    COMMUTATION_LN,
    PRINTED_KV,
    PRINTED_KV_SPREAD,
    Motor,
    commutation_from_size,
    mass_from_stator,
    resistance_from_size,
    warm_resistance,
)
from foamwright.physics.drive.motor_limits import BURST_LN, burst_current
from foamwright.plane import gear
from foamwright.quantity import Quantity

WINDING_RISE = (40.0, 15.0)
"""How much warmer than printed a winding runs, and spread [K]; common practice."""

KV_MEASURED = 0.015
"""Relative spread of a measured Kv that states none; common practice."""

RESISTANCE_LN = 0.4
"""ln spread of a resistance from the motor's size; common practice."""

NO_LOAD_SHARE = (30.0, 0.5)
"""No-load current at 10 V a kilogram of motor, and ln spread [A kg^-1]; common practice."""


def told(
    quantity: Quantity | None, relative: float, draws: Draws, *, key: str, label: str
) -> Samples | None:
    """Return what the file or the stock tells (n,), `relative` its spread where none is told."""
    if quantity is None:
        return None
    return draws.written(quantity, relative * quantity.value, key=key, label=label)


def motor_of(parts: DriveParts, draws: Draws) -> tuple[Motor, Samples, list[str]]:
    """Return the motor, its ten-second current (n,) [A], and what was assumed."""
    item = parts.motor
    base = f"items.{item.name}"
    kv, assumed = speed_constant_of(parts, draws)
    mass = motor_mass(item)
    printed = np.full(draws.samples, TWO_PI * parts.kv.value)
    key, label = f"{base}.resistance", "motor resistance"
    cold = told(item.resistance, 0.15, draws, key=key, label=label)
    if cold is None:
        factor = draws.factor(RESISTANCE_LN, key=key, label=label)
        cold = resistance_from_size(printed, mass) * factor
        assumed.append(f"{item.name}: resistance from its size and Kv, within 40 %")
    key, label = f"{base}.no_load_current", "no-load current"
    idle = told(item.no_load_current, 0.25, draws, key=key, label=label)
    if idle is None:
        idle = NO_LOAD_SHARE[0] * mass * draws.factor(NO_LOAD_SHARE[1], key=key, label=label)
        assumed.append(f"{item.name}: no-load current from its mass")
    key, label = f"{base}.burst_current", "what the motor bears"
    burst = told(item.burst_current, 0.12, draws, key=key, label=label)
    if burst is None:
        burst = burst_current(mass) * draws.factor(BURST_LN, key=key, label=label)
        assumed.append(f"{item.name}: ten-second current from its mass")
    rise = draws.around(
        WINDING_RISE[0], WINDING_RISE[1], key="model.winding", label="motor temperature"
    )
    lag = draws.factor(COMMUTATION_LN, key="model.commutation", label="commutation of the motor")
    volts = 10.0 if item.no_load_voltage is None else item.no_load_voltage.value
    motor = Motor(
        speed_constant=kv,
        resistance=warm_resistance(cold, rise),
        no_load_current=idle,
        no_load_speed=kv * volts,
        commutation=commutation_from_size(printed, mass) * lag,
    )
    return motor, burst, assumed


def speed_constant_of(parts: DriveParts, draws: Draws) -> tuple[Samples, list[str]]:
    """Return the true Kv (n,) [rad s^-1 V^-1], and what was assumed of a printed one."""
    key, label, written = f"items.{parts.motor.name}.kv", "true Kv of the motor", parts.kv.value
    if parts.motor.kv_measured:
        return TWO_PI * draws.written(parts.kv, KV_MEASURED * written, key=key, label=label), []
    true = PRINTED_KV * written
    text = (
        f"{parts.motor.name}: true Kv {PRINTED_KV:.0%} ± {PRINTED_KV_SPREAD:.0%} of the printed "
        "one, as on a bench of nine small motors"
    )
    return TWO_PI * draws.around(true, PRINTED_KV_SPREAD * true, key=key, label=label), [text]


def motor_mass(item: gear.Motor) -> Samples:
    """Return the mass a motor's unknown numbers are guessed from (1,) [kg]."""
    if item.stator_diameter is not None and item.stator_height is not None:
        size = np.array([item.stator_diameter.value]), np.array([item.stator_height.value])
        return mass_from_stator(*size)
    return np.array([0.02 if item.mass is None else item.mass.value])
