"""What a motor can do: speed, torque, best efficiency, most power in closed form; what it bears.

The closed forms have a constant no-load current and no commutation, as a first estimate on paper.
"""

import numpy as np

from foamwright.physics.arrays import Samples

BURST_LN = 0.23
"""ln spread of the ten-second current of a motor's mass [-]: 0.19 between classes, 0.13 in one."""

LASTING_LN = 0.25
"""ln spread of the current it bears on and on [-]: as above, and 0.5 to 0.6 A a gram."""


def speed_at(voltage: Samples, current: Samples, constants: tuple[float, float]) -> Samples:
    """Return the shaft speed at a voltage and current.

    Parameters
    ----------
    voltage : (n,) [V]
        At the motor.
    current : (n,) [A]
        Motor current.
    constants : (2,) [rad s^-1 V^-1, ohm]
        Kv and resistance.

    Returns
    -------
    (n,) [rad s^-1]

    Source
    ------
    drela-2007
    """
    speed_constant, resistance = constants
    return speed_constant * (voltage - current * resistance)


def torque_at(current: Samples, no_load_current: float, speed_constant: float) -> Samples:
    """Return the shaft torque at a motor current, with a constant no-load current.

    Parameters
    ----------
    current : (n,) [A]
        Motor current.
    no_load_current : float [A]
        I0.
    speed_constant : float [rad s^-1 V^-1]
        Kv.

    Returns
    -------
    (n,) [N m]

    Source
    ------
    drela-2007
    """
    return (current - no_load_current) / speed_constant


def efficiency_at(
    voltage: Samples, current: Samples, no_load_current: Samples, resistance: Samples
) -> Samples:
    """Return shaft power over electrical power, (1 - I0 / I) (1 - I R / V).

    Parameters
    ----------
    voltage : (n,) [V]
        At the motor.
    current : (n,) [A]
        Motor current.
    no_load_current : (n,) [A]
        I0.
    resistance : (n,) [ohm]
        Winding.

    Returns
    -------
    (n,) [-]

    Source
    ------
    drela-2007
    """
    return (1.0 - no_load_current / current) * (1.0 - current * resistance / voltage)


def linear_torque(stall_torque: Samples, no_load_speed: Samples, speed: Samples) -> Samples:
    """Return torque on the straight line from stall to no-load speed.

    Parameters
    ----------
    stall_torque : (n,) [N m]
        At rest.
    no_load_speed : (n,) [rad s^-1]
        Where none is left.
    speed : (n,) [rad s^-1]
        Of the shaft.

    Returns
    -------
    (n,) [N m]

    Source
    ------
    drela-2007
    """
    return stall_torque * (1.0 - speed / no_load_speed)


def best_current(voltage: Samples, no_load_current: Samples, resistance: Samples) -> Samples:
    """Return the current of best efficiency, sqrt(V I0 / R).

    Parameters
    ----------
    voltage : (n,) [V]
        At the motor.
    no_load_current : (n,) [A]
        I0.
    resistance : (n,) [ohm]
        Winding.

    Returns
    -------
    (n,) [A]

    Source
    ------
    drela-2007
    """
    return np.sqrt(voltage * no_load_current / resistance)


def best_efficiency(voltage: Samples, no_load_current: Samples, resistance: Samples) -> Samples:
    """Return the best efficiency, (1 - sqrt(I0 R / V))^2.

    Parameters
    ----------
    voltage : (n,) [V]
        At the motor.
    no_load_current : (n,) [A]
        I0.
    resistance : (n,) [ohm]
        Winding.

    Returns
    -------
    (n,) [-]

    Source
    ------
    drela-2007
    """
    return (1.0 - np.sqrt(no_load_current * resistance / voltage)) ** 2


def greatest_power(
    voltage: Samples, no_load_current: Samples, resistance: Samples
) -> tuple[Samples, Samples]:
    """Return the greatest shaft power and the current it takes.

    Parameters
    ----------
    voltage : (n,) [V]
        At the motor.
    no_load_current : (n,) [A]
        I0.
    resistance : (n,) [ohm]
        Winding.

    Returns
    -------
    (n,) [W], (n,) [A]

    Source
    ------
    drela-2007
    """
    current = 0.5 * (voltage / resistance + no_load_current)
    return (voltage - current * resistance) * (current - no_load_current), current


def burst_current(mass: Samples) -> Samples:
    """Return what a usual open motor bears for ten seconds, 1.04 A a gram.

    Parameters
    ----------
    mass : (n,) [kg]
        Of the motor.

    Returns
    -------
    (n,) [A]

    Valid
    -----
    Small fast outrunners of 4 to 35 g. Slow ones for large propellers (a 2212 near 1000 rpm/V)
    bear a third of it only.

    Source
    ------
    common-practice
    """
    return 1040.0 * mass


def lasting_current(mass: Samples) -> Samples:
    """Return what a usual motor in an airframe with some air bears on and on, 0.55 A a gram.

    Parameters
    ----------
    mass : (n,) [kg]
        Of the motor.

    Returns
    -------
    (n,) [A]

    Valid
    -----
    Small fast outrunners of 4 to 35 g, as for the ten-second current.

    Source
    ------
    common-practice
    """
    return 550.0 * mass
