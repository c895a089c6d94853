"""Centre and inertia of a plane made of boxes, and what a swing and two scales tell of it.

Axes: x aft, y to the right, z up; inertia tensors have products of inertia with a minus sign.
"""

import numpy as np

from foamwright.physics.arrays import Flags, Samples

GRAVITY = 9.80665
"""Standard acceleration of free fall [m s^-2]."""

HALF_SWING_LN = 0.35
"""How far from a quarter of the listed inertia a swing still looks like half swings [ln]: nearer
than that to a quarter, it lies more than twice the list's own error from the whole."""

ROLL_GYRATION_GLIDER = (0.26, 0.02)
"""Radius of gyration in roll over half the span, body-heavy gliders: middle and sd [-]; common
practice, range 0.22 to 0.30."""

ROLL_GYRATION_WING = (0.375, 0.0225)
"""The same for foam flying wings: middle and sd [-]; common practice, range 0.33 to 0.42."""

PITCH_GYRATION = (0.40, 0.025)
"""Radius of gyration in pitch over half the length: middle and sd [-]; common practice, range
0.35 to 0.45."""


def centre(masses: Samples, positions: Samples) -> Samples:
    """Return the centre of mass.

    Parameters
    ----------
    masses : (n, k) [kg]
        One mass an item.
    positions : (n, k, 3) [m]
        The middle of each item.

    Returns
    -------
    (n, 3) [m]

    Source
    ------
    own-derivation
    """
    moments: Samples = np.sum(masses[..., None] * positions, axis=-2)
    total: Samples = np.sum(masses, axis=-1)
    return moments / total[..., None]


def cuboid_inertia(mass: Samples, size: Samples) -> Samples:
    """Return the three moments of inertia of a solid box about its own middle.

    Parameters
    ----------
    mass : (n,) [kg]
        Mass, evenly spread; more axes are kept.
    size : (n, 3) [m]
        Lengths along x, y, z.

    Returns
    -------
    (n, 3) [kg m^2]

    Source
    ------
    own-derivation
    """
    squares = size**2
    across: Samples = np.sum(squares, axis=-1, keepdims=True) - squares
    return mass[..., None] * across / 12.0


def cylinder_inertia(mass: Samples, radius: Samples, length: Samples) -> Samples:
    """Return the moments of inertia of a solid cylinder that lies along x.

    Parameters
    ----------
    mass : (n,) [kg]
        Mass, evenly spread.
    radius : (n,) [m]
        Radius.
    length : (n,) [m]
        Length along x.

    Returns
    -------
    (n, 3) [kg m^2]
        About x (its axis), y, z, through its middle.

    Source
    ------
    own-derivation
    """
    axial = mass * radius**2 / 2.0
    transverse = mass * (3.0 * radius**2 + length**2) / 12.0
    return np.stack(np.broadcast_arrays(axial, transverse, transverse), axis=-1)


def rod_inertia(mass: Samples, length: Samples) -> Samples:
    """Return the moment of inertia of a slender rod across its middle.

    Parameters
    ----------
    mass : (n,) [kg]
        Mass, evenly spread.
    length : (n,) [m]
        Length.

    Returns
    -------
    (n,) [kg m^2]

    Valid
    -----
    Length at least ten diameters: 1 % low there.

    Source
    ------
    own-derivation
    """
    return mass * length**2 / 12.0


def parallel_axis(mass: Samples, distance: Samples) -> Samples:
    """Return what a moment of inertia gains when its axis moves away from the centre of mass.

    Parameters
    ----------
    mass : (n,) [kg]
        Mass.
    distance : (n,) [m]
        From the axis through the centre of mass to the new one, which is parallel.

    Returns
    -------
    (n,) [kg m^2]

    Source
    ------
    own-derivation
    """
    return mass * distance**2


def inertia(masses: Samples, positions: Samples, sizes: Samples) -> Samples:
    """Return the inertia tensor about the centre of mass, each item a solid box.

    Parameters
    ----------
    masses : (n, k) [kg]
        One mass an item.
    positions : (n, k, 3) [m]
        The middle of each item.
    sizes : (n, k, 3) [m]
        Lengths along x, y, z; (k, 3) if all samples share them, zeros for points.

    Returns
    -------
    (n, 3, 3) [kg m^2]

    Source
    ------
    own-derivation
    """
    arms = positions - centre(masses, positions)[..., None, :]
    second: Samples = np.swapaxes(masses[..., None] * arms, -1, -2) @ arms
    each = cuboid_inertia(np.ones(sizes.shape[:-1]), sizes)
    own: Samples = (masses[..., None, :] @ each)[..., 0, :]
    square: Samples = np.trace(second, axis1=-2, axis2=-1)
    identity = np.eye(3)
    return (square[..., None, None] + own[..., None, :]) * identity - second


def gyration_inertia(mass: Samples, span: Samples, length: Samples, ratios: Samples) -> Samples:
    """Return the inertia of a plane known by its span, length and radii of gyration only.

    Parameters
    ----------
    mass : (n,) [kg]
        Mass of what the ratios speak of.
    span : (n,) [m]
        Wing tip to wing tip.
    length : (n,) [m]
        Nose to tail.
    ratios : (n, 2) [-]
        Radius of gyration in roll over half the span, in pitch over half the length.

    Returns
    -------
    (n, 3) [kg m^2]
        Roll, pitch, yaw; yaw as the sum of both, as if all mass lay in one plane.

    Valid
    -----
    A guess within 25 % in roll and pitch where nothing was swung; yaw is a little high.

    Source
    ------
    common-practice
    """
    roll = mass * (ratios[..., 0] * span / 2.0) ** 2
    pitch = mass * (ratios[..., 1] * length / 2.0) ** 2
    return np.stack([roll, pitch, roll + pitch], axis=-1)


def two_scale_balance(
    front_reading: Samples, front_place: Samples, rear_reading: Samples, rear_place: Samples
) -> Samples:
    """Return where the centre of mass lies between two scales the plane rests on.

    Parameters
    ----------
    front_reading : (n,) [kg]
        What the scale under the front support shows.
    front_place : (n,) [m]
        Where along x the front support touches.
    rear_reading : (n,) [kg]
        What the scale under the rear support shows.
    rear_place : (n,) [m]
        Where along x the rear support touches.

    Returns
    -------
    (n,) [m]

    Source
    ------
    own-derivation
    """
    total = front_reading + rear_reading
    return (front_reading * front_place + rear_reading * rear_place) / total


def bifilar_inertia(
    mass: Samples, half_spacing: Samples, cord_length: Samples, period: Samples
) -> Samples:
    """Return the moment of inertia about the vertical of a plane swung on two parallel cords.

    Parameters
    ----------
    mass : (n,) [kg]
        Mass of what swings.
    half_spacing : (n,) [m]
        From each cord to the centre of mass, which hangs midway.
    cord_length : (n,) [m]
        Length of either cord.
    period : (n,) [s]
        Time of one full twist to and fro.

    Returns
    -------
    (n,) [kg m^2]

    Valid
    -----
    Small twists (under 20 degrees); air damping and added mass are left in.

    Source
    ------
    jardin-2007
    """
    return mass * GRAVITY * (half_spacing * period / (2.0 * np.pi)) ** 2 / cord_length


def bifilar_period(
    mass: Samples, half_spacing: Samples, cord_length: Samples, inertia: Samples
) -> Samples:
    """Return the time of one twist to expect on two parallel cords.

    Parameters
    ----------
    mass : (n,) [kg]
        Mass of what swings.
    half_spacing : (n,) [m]
        From each cord to the centre of mass.
    cord_length : (n,) [m]
        Length of either cord.
    inertia : (n,) [kg m^2]
        Moment of inertia about the vertical.

    Returns
    -------
    (n,) [s]

    Source
    ------
    jardin-2007
    """
    return 2.0 * np.pi / half_spacing * np.sqrt(inertia * cord_length / (mass * GRAVITY))


def half_swing_suspected(measured: Samples, listed: Samples) -> Flags:
    """Return where a swung inertia looks as if half swings had been counted as whole ones.

    The time of one swing then comes out half as long, and the inertia a quarter of what it is.

    Parameters
    ----------
    measured : (n,) [kg m^2]
        As swung.
    listed : (n,) [kg m^2]
        From the mass list.

    Returns
    -------
    (n,) [-]
        Whether a quarter is closer than the whole, on the scale of ratios.

    Valid
    -----
    Where the mass list is right within a factor of two; within 40 % of a quarter.

    Source
    ------
    own-derivation
    """
    return np.abs(np.log(4.0 * measured / listed)) < HALF_SWING_LN
