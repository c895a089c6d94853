"""Angle of attack and elevator for steady flight from linear coefficients."""

from dataclasses import dataclass

import numpy as np

from foamwright.physics.arrays import Flags, Samples
from foamwright.physics.lift.lattice import LIFT, PITCH

SINGULAR = 1e-6
"""Least share of its size that the determinant must keep [-]."""


@dataclass(frozen=True, kw_only=True, slots=True)
class LinearPitch:
    """Lift and pitching moment as lines in angle of attack and elevator."""

    lift: Samples
    """CL at rest, per alpha, per deflection, (n, 3) [-, rad^-1, rad^-1]."""
    moment: Samples
    """Cm at rest, per alpha, per deflection, bodies included, (n, 3) [-, rad^-1, rad^-1]."""
    about: Samples
    """Place the moments are about, (n,) [m]."""
    chord: Samples
    """Reference chord, (n,) [m]."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Trim:
    """Steady flight."""

    alpha: Samples
    """Angle of attack, (n, k) [rad]."""
    deflection: Samples
    """Elevator, trailing edge down positive, (n, k) [rad]."""
    powerless: Flags
    """Where the elevator moves lift and moment as alpha does: no answer, (n, k)."""


def linear_pitch(coefficients: Samples, state: int, about: Samples, chord: Samples) -> LinearPitch:
    """Return the pitch lines out of the lattice's coefficients.

    Parameters
    ----------
    coefficients : (n, states, 5) [-]
        As from the lattice; add the body's moment to the alpha state first.
    state : int
        Position of the elevator among the states.
    about : (n,) [m]
        Place the moments are about.
    chord : (n,) [m]
        Reference chord.

    Returns
    -------
    LinearPitch [-]

    Source
    ------
    own-derivation
    """
    lines = coefficients[:, [0, 1, state]]
    return LinearPitch(lift=lines[..., LIFT], moment=lines[..., PITCH], about=about, chord=chord)


def trim(pitch: LinearPitch, centre: Samples, lift: Samples, outside_moment: Samples) -> Trim:
    """Return angle of attack and elevator that give a lift without a moment.

    Parameters
    ----------
    pitch : LinearPitch
        Lift and moment lines.
    centre : (n,) [m]
        Centre of mass.
    lift : (n, k) [-]
        Lift coefficient wanted.
    outside_moment : (n, k) [-]
        Cm of thrust and other things about the centre of mass, nose up positive.

    Returns
    -------
    Trim [rad]

    Valid
    -----
    Below stall. The body's forces along x are not in the moment; the lift acts square to x.

    Source
    ------
    nelson-1998
    """
    arm = ((centre - pitch.about) / pitch.chord)[:, None]
    moment = pitch.moment + arm * pitch.lift
    lift_0, lift_a, lift_d = (pitch.lift[:, i, None] for i in range(3))
    moment_0, moment_a, moment_d = (moment[:, i, None] for i in range(3))
    wanted, carried = lift - lift_0, -moment_0 - outside_moment
    determinant = lift_a * moment_d - moment_a * lift_d
    size = np.abs(lift_a * moment_d) + np.abs(moment_a * lift_d)
    powerless = np.abs(determinant) <= SINGULAR * size
    divisor = np.where(powerless, np.nan, determinant)
    return Trim(
        alpha=(wanted * moment_d - carried * lift_d) / divisor,
        deflection=(carried * lift_a - wanted * moment_a) / divisor,
        powerless=np.broadcast_to(powerless, lift.shape),
    )
