"""What the drive draws at known revolutions, and the airspeed that goes with what it draws.

A log that has the propeller's speed, volts and amps tells the power at the shaft without knowing
the throttle; the power coefficient falls with advance ratio, and so tells the airspeed.
"""

from dataclasses import dataclass

import numpy as np

from foamwright.physics.arrays import Flags, Grid, Samples
from foamwright.physics.drive.controller import current_gain
from foamwright.physics.drive.equilibrium import TWO_PI, Drive
from foamwright.physics.drive.motor import current_for_torque, voltage_for_speed
from foamwright.physics.drive.propeller import (
    Multipliers,
    PropellerTable,
    coefficients,
    power_coefficient,
)
from foamwright.physics.numerics.roots import bracketed_root

MOST_DUTY = 1.5
"""A motor that wants more than so many times the pack's voltage is none the pack turns [-]."""

NEAR = 1e-4
"""Tolerance of the airspeed, relative to where it is looked for."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Turning:
    """k states of a drive as they were logged."""

    revolutions: Grid
    """Of the propeller (k,) [s^-1]."""
    voltage: Grid
    """Of the pack under load (k,) [V]."""


def current_drawn(drive: Drive, airspeed: Samples, turning: Turning) -> Samples:
    """Return the current from the pack, with the gear's draw.

    Parameters
    ----------
    drive : Drive
        n samples.
    airspeed : (n, k) [m s^-1]
        Along the propeller's axis; or (1, k), the same for all samples.
    turning : Turning
        k logged states.

    Returns
    -------
    (n, k) [A]

    Valid
    -----
    While the propeller pulls. Faster, tables say little, and a controller brakes or does not.

    Source
    ------
    drela-2007, own-derivation
    """
    table, turns = drive.propeller, np.maximum(turning.revolutions, 1e-3)[None, :]
    ratio = airspeed / (turns * table.diameter)
    CP = power_coefficient(table, ratio, np.broadcast_to(turns, ratio.shape), _along(drive))
    torque = CP * drive.density[:, None] * turns**2 * table.diameter**5 / TWO_PI
    speed = np.broadcast_to(TWO_PI * turns, torque.shape)
    current = current_for_torque(drive.motor, torque, speed)
    wanted = voltage_for_speed(drive.motor, current, speed)
    wanted += current * drive.controller.resistance[:, None]
    duty = np.clip(wanted / turning.voltage, 0.0, MOST_DUTY)
    drawn = current_gain(duty, drive.controller.part_loss[:, None]) * current
    return np.asarray(drawn + drive.gear_power[:, None] / turning.voltage)


def airspeed_of(drive: Drive, current: Samples, turning: Turning) -> tuple[Samples, Flags]:
    """Return the airspeed at which the drive draws a current, and where none does.

    Where it draws more than at any airspeed that is 0; where it draws less, the speed at which the
    propeller stops pulling.

    Parameters
    ----------
    drive : Drive
        n samples.
    current : (n, k) [A]
        From the pack, with the gear's draw; or (1, k), the same for all samples.
    turning : Turning
        k logged states.

    Returns
    -------
    (n, k) [m s^-1], (n, k) [-]

    Source
    ------
    own-derivation, ntouros-2025
    """
    scale = drive.multipliers.advance[:, None] * turning.revolutions * drive.propeller.diameter
    first, last = falling(drive.propeller, turning.revolutions)
    low, high = scale * first, scale * last
    wanted = np.broadcast_to(current, low.shape)

    def residual(airspeed: Samples) -> Samples:
        return current_drawn(drive, airspeed, turning) - wanted

    found, missed = bracketed_root(residual, low, high, tolerance=NEAR, most=40)
    return np.where(missed & (residual(low) < 0.0), 0.0, found), missed


def falling(table: PropellerTable, revolutions: Grid) -> tuple[Grid, Grid]:
    """Return between which advance ratios the power coefficient falls while the propeller pulls.

    Parameters
    ----------
    table : PropellerTable
        The propeller.
    revolutions : (k,) [s^-1]
        Speed, which sets the Reynolds number.

    Returns
    -------
    (k,) [-], (k,) [-]

    Source
    ------
    own-derivation
    """
    axis = np.broadcast_to(
        table.advance_ratio[:, None], (table.advance_ratio.size, revolutions.size)
    )
    turns = np.broadcast_to(revolutions, axis.shape)
    CT, CP, _ = coefficients(table, axis, turns)
    pulls = CT > 0.0
    first = np.argmax(np.where(pulls, CP, -np.inf), axis=0)
    past = np.arange(axis.shape[0])[:, None] >= first
    last = np.argmin(np.where(pulls & past, CP, np.inf), axis=0)
    return table.advance_ratio[first], table.advance_ratio[last]


def _along(drive: Drive) -> Multipliers:
    """Return the multipliers of the samples, shaped to go along (n, k) points."""
    return Multipliers(
        advance=drive.multipliers.advance[:, None],
        thrust=drive.multipliers.thrust[:, None],
        power=drive.multipliers.power[:, None],
    )
