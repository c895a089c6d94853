"""Wing and tail in closed form: the textbook's moment balance, angles from zero lift."""

from dataclasses import dataclass

import numpy as np

from foamwright.physics.arrays import Samples


@dataclass(frozen=True, kw_only=True, slots=True)
class TailedPlane:
    """A wing with its body, and a tail behind; all (n,)."""

    moment_at_centre: Samples
    """Cm of wing and body about their aerodynamic centre [-]."""
    slope: Samples
    """CL of wing and body per angle [rad^-1]."""
    centre_aft: Samples
    """Centre of mass behind the aerodynamic centre of wing and body, in chords [-]."""
    tail_volume: Samples
    """Tail area times its arm over wing area times chord [-]."""
    tail_slope: Samples
    """CL of the tail per angle, on its own area [rad^-1]."""
    tail_setting: Samples
    """Nose-down angle of the tail to the wing's zero-lift line, and downwash at rest [rad]."""
    downwash_slope: Samples
    """Downwash at the tail per angle [-]."""


def moment_slope(plane: TailedPlane) -> Samples:
    """Return the pitching moment about the centre of mass per angle.

    Parameters
    ----------
    plane : TailedPlane
        Wing and tail.

    Returns
    -------
    (n,) [rad^-1]

    Source
    ------
    anderson-introduction
    """
    tail = plane.tail_volume * plane.tail_slope * (1.0 - plane.downwash_slope)
    return np.asarray(plane.slope * plane.centre_aft - tail)


def moment_at_rest(plane: TailedPlane) -> Samples:
    """Return the pitching moment about the centre of mass without lift of the wing.

    Parameters
    ----------
    plane : TailedPlane
        Wing and tail.

    Returns
    -------
    (n,) [-]

    Source
    ------
    anderson-introduction
    """
    tail = plane.tail_volume * plane.tail_slope * plane.tail_setting
    return np.asarray(plane.moment_at_centre + tail)


def trim_angle(plane: TailedPlane) -> Samples:
    """Return the angle from zero lift at which the plane flies hands off.

    Parameters
    ----------
    plane : TailedPlane
        Wing and tail.

    Returns
    -------
    (n,) [rad]

    Source
    ------
    anderson-introduction
    """
    return np.asarray(-moment_at_rest(plane) / moment_slope(plane))


def margin(plane: TailedPlane) -> Samples:
    """Return the static margin on the lift slope of wing and body, in chords.

    Parameters
    ----------
    plane : TailedPlane
        Wing and tail.

    Returns
    -------
    (n,) [-]

    Source
    ------
    anderson-introduction
    """
    return np.asarray(-moment_slope(plane) / plane.slope)
