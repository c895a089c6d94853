"""Neutral point, margin, damping, and coefficients about another point.

Axes x aft, y right, z up; Cm nose up positive; states and columns as in the lattice.
"""

import numpy as np

from foamwright.physics.arrays import Samples
from foamwright.physics.lift.lattice import LIFT, PITCH, ROLL, SIDE, STATES, YAW, Reference

_ALPHA, _BETA, _P, _Q, _R = range(1, len(STATES))


def neutral_point(
    lift_slope: Samples, moment_slope: Samples, about: Samples, chord: Samples
) -> Samples:
    """Return where lift from angle of attack acts: at this balance the margin is nothing.

    Parameters
    ----------
    lift_slope : (n,) [rad^-1]
        CL per angle of attack.
    moment_slope : (n,) [rad^-1]
        Cm per angle of attack, bodies included.
    about : (n,) [m]
        Place the moment is about.
    chord : (n,) [m]
        Reference chord.

    Returns
    -------
    (n,) [m]

    Source
    ------
    nelson-1998
    """
    return np.asarray(about - moment_slope / lift_slope * chord)


def static_margin(neutral_point: Samples, centre: Samples, chord: Samples) -> Samples:
    """Return how far the balance lies ahead of the neutral point, in chords.

    Parameters
    ----------
    neutral_point : (n,) [m]
        Neutral point.
    centre : (n,) [m]
        Centre of mass.
    chord : (n,) [m]
        Reference chord.

    Returns
    -------
    (n,) [-]

    Source
    ------
    nelson-1998
    """
    return np.asarray((neutral_point - centre) / chord)


def rate_damping(derivative: Samples, density: Samples, speed: Samples, size: Samples) -> Samples:
    """Return the moment per rate of turn from a derivative such as Clp, Cmq or Cnr.

    Parameters
    ----------
    derivative : (n,) [-]
        Moment coefficient per pb/2V, qc/2V or rb/2V.
    density : (n,) [kg m^-3]
        Air density.
    speed : (n,) [m s^-1]
        Airspeed.
    size : (n,) [m^4]
        Area times the square of the length that makes rate and moment dimensionless.

    Returns
    -------
    (n,) [N m s rad^-1]

    Source
    ------
    nelson-1998
    """
    return np.asarray(0.25 * density * speed * size * derivative)


def about_another_point(coefficients: Samples, reference: Reference, point: Samples) -> Samples:
    """Return coefficients with moments and rates about another point.

    Parameters
    ----------
    coefficients : (n, states, 5) [-]
        As from the lattice, about the reference's point.
    reference : Reference
        What they were made dimensionless with.
    point : (n, 3) [m]
        The new point.

    Returns
    -------
    (n, states, 5) [-]

    Source
    ------
    own-derivation
    """
    dx, dy, dz = np.moveaxis(point - reference.point, -1, 0)
    span, chord = reference.span, reference.chord
    moved = coefficients.copy()
    # Turning about the new point is turning about the old one and drifting with it.
    drift_span, drift_chord = 2.0 / span, 2.0 / chord
    for state, by, drift in (
        (_P, _ALPHA, -dy * drift_span),
        (_P, _BETA, -dz * drift_span),
        (_Q, _ALPHA, -dx * drift_chord),
        (_R, _BETA, dx * drift_span),
    ):
        moved[:, state] += drift[:, None] * coefficients[:, by]
    up, aside = moved[..., LIFT], moved[..., SIDE]
    dx, dy, dz, span, chord = (item[:, None] for item in (dx, dy, dz, span, chord))
    moved[..., ROLL] += (dy * up - dz * aside) / span
    moved[..., PITCH] += dx * up / chord
    moved[..., YAW] += dx * aside / span
    return np.asarray(moved)
