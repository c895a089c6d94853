"""Three-constant motor with commutation: speed constant, resistance, no-load current.

Handing the current from winding to winding takes voltage in proportion to speed times current
(the overlap of a commutated bridge). It slows a loaded motor beyond its resistance, without loss:
the torque for each ampere grows by as much.
"""

from dataclasses import dataclass, field

import numpy as np

from foamwright.physics.arrays import Samples

COPPER_TEMPERATURE = 0.00393
"""Growth of copper's resistance per kelvin about 20 degC [K^-1], IEC 60028."""

IRON_STEADY = 0.5
"""Share of the no-load current that does not grow with speed: common practice, no source."""

PRINTED_KV = 0.94
"""Kv under way over the printed one, mean of nine bench motors (cao-strawson-2018). This and the
three below are the likeliest for all runs at full command at once, with resistance from size at its
40 %; tools/compare_motors.py --constants finds them again."""

PRINTED_KV_SPREAD = 0.06
"""Relative standard deviation of the same for a new motor [-]: 0.052 of the nine, with the
uncertainty of mean and scatter of so few."""

COMMUTATION = 0.30
"""Commutation inductance times Kv squared times mass to the two thirds, median
[rad kg^(2/3) V^-1 A^-1 s^-1]; inductance goes as turns squared, Kv as one over turns."""

COMMUTATION_LN = 0.27
"""ln standard deviation of the same for a new motor [-]: 0.23 of the nine. Motor by motor the
scatter looks like 0.8, most of it fitting noise that trades with Kv and resistance."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Motor:
    """A motor of n samples."""

    speed_constant: Samples
    """Kv (n,) [rad s^-1 V^-1]."""
    resistance: Samples
    """Winding, warm (n,) [ohm]."""
    no_load_current: Samples
    """At the no-load speed below (n,) [A]."""
    no_load_speed: Samples
    """Where it was taken (n,) [rad s^-1]."""
    commutation: Samples = field(default_factory=lambda: np.zeros(1))
    """Voltage lost to commutation per speed and current (n,) [V s rad^-1 A^-1]."""


def torque_constant(speed_constant: Samples) -> Samples:
    """Return torque per current.

    Parameters
    ----------
    speed_constant : (n,) [rad s^-1 V^-1]
        Kv.

    Returns
    -------
    (n,) [N m A^-1]

    Source
    ------
    drela-2007
    """
    return 1.0 / speed_constant


def loss_current(motor: Motor, speed: Samples) -> Samples:
    """Return the current that friction and iron take: half of it steady, half with speed.

    Parameters
    ----------
    motor : Motor
        n samples.
    speed : (n, ...) [rad s^-1]
        Of the shaft.

    Returns
    -------
    (n, ...) [A]

    Source
    ------
    drela-2007, common-practice
    """
    ratio = speed / _across(motor.no_load_speed, speed)
    share = IRON_STEADY + (1.0 - IRON_STEADY) * ratio
    return _across(motor.no_load_current, speed) * share


def current_for_torque(motor: Motor, torque: Samples, speed: Samples) -> Samples:
    """Return the motor current that gives a torque at the shaft.

    Torque and loss together are I / Kv + X I^2 with the commutation X.

    Parameters
    ----------
    motor : Motor
        n samples.
    torque : (n, ...) [N m]
        At the shaft.
    speed : (n, ...) [rad s^-1]
        Of the shaft.

    Returns
    -------
    (n, ...) [A]

    Source
    ------
    drela-2007
    """
    direct = torque * _across(motor.speed_constant, torque) + loss_current(motor, speed)
    growth = _across(motor.speed_constant * motor.commutation, torque)
    return 2.0 * direct / (1.0 + np.sqrt(np.maximum(1.0 + 4.0 * growth * direct, 0.0)))


def shaft_torque(motor: Motor, current: Samples, speed: Samples) -> Samples:
    """Return the torque at the shaft at a motor current.

    Parameters
    ----------
    motor : Motor
        n samples.
    current : (n, ...) [A]
        Motor current.
    speed : (n, ...) [rad s^-1]
        Of the shaft.

    Returns
    -------
    (n, ...) [N m]

    Source
    ------
    drela-2007, own-derivation
    """
    growth = _across(motor.speed_constant * motor.commutation, current)
    useful = current * (1.0 + growth * current) - loss_current(motor, speed)
    return useful / _across(motor.speed_constant, current)


def voltage_for_speed(motor: Motor, current: Samples, speed: Samples) -> Samples:
    """Return the voltage at the motor for a current and speed.

    Parameters
    ----------
    motor : Motor
        n samples.
    current : (n, ...) [A]
        Motor current.
    speed : (n, ...) [rad s^-1]
        Of the shaft.

    Returns
    -------
    (n, ...) [V]

    Source
    ------
    drela-2007
    """
    back = speed / _across(motor.speed_constant, speed)
    lag = speed * _across(motor.commutation, speed)
    return back + current * (_across(motor.resistance, current) + lag)


def warm_resistance(resistance: Samples, rise: Samples) -> Samples:
    """Return a winding's resistance that many kelvin warmer.

    Parameters
    ----------
    resistance : (n,) [ohm]
        Near 20 degC.
    rise : (n,) [K]
        Warmer than that.

    Returns
    -------
    (n,) [ohm]

    Source
    ------
    iec-60028
    """
    return resistance * (1.0 + COPPER_TEMPERATURE * rise)


def mass_from_stator(diameter: Samples, height: Samples) -> Samples:
    """Return a usual motor's mass from its stator: 0.0135 g a cubic millimetre within 15 %.

    Parameters
    ----------
    diameter : (n,) [m]
        Of the stator.
    height : (n,) [m]
        Of the stator.

    Returns
    -------
    (n,) [kg]

    Source
    ------
    common-practice
    """
    return 13.5e3 * 0.25 * np.pi * diameter**2 * height


def resistance_from_size(speed_constant: Samples, mass: Samples) -> Samples:
    """Return a usual winding's resistance, (16460 / (rpm/V x grams))^2 within 40 %.

    Parameters
    ----------
    speed_constant : (n,) [rad s^-1 V^-1]
        Kv.
    mass : (n,) [kg]
        Of the motor.

    Returns
    -------
    (n,) [ohm]

    Source
    ------
    common-practice
    """
    turns = speed_constant * 60.0 / (2.0 * np.pi)
    return (16460.0 / (turns * mass * 1e3)) ** 2


def commutation_from_size(speed_constant: Samples, mass: Samples) -> Samples:
    """Return a usual motor's voltage lost to commutation per speed and current, within 30 %.

    Parameters
    ----------
    speed_constant : (n,) [rad s^-1 V^-1]
        Kv, printed.
    mass : (n,) [kg]
        Of the motor.

    Returns
    -------
    (n,) [V s rad^-1 A^-1]

    Valid
    -----
    From outrunners of 14 to 34 g and 2000 to 2800 rpm/V; elsewhere the scaling carries it.

    Source
    ------
    cao-strawson-2018, own-derivation
    """
    return COMMUTATION / (speed_constant**2 * mass ** (2.0 / 3.0))


def _across(samples: Samples, like: Samples) -> Samples:
    """Return (n,) samples shaped to go along the first axis of another array."""
    return samples.reshape(samples.shape + (1,) * (like.ndim - samples.ndim))
