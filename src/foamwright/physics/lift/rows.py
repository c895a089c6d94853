"""Rows of panels along a chord, with slopes that make a few of them exact in two dimensions.

A vortex at a quarter and a control point at three quarters of a row give a flat plate exactly,
but a mean line and a flap only with many rows. So the slope seen by the rows is adjusted until
the row lattice of the section alone gives the lift and moment of thin-aerofoil theory.
"""

from dataclasses import dataclass
from functools import cache

import numpy as np

from foamwright.physics.arrays import Grid
from foamwright.physics.lift.flaps import flap_effectiveness, flap_pitching_moment
from foamwright.physics.lift.thin_airfoil import four_digit

CAMBER_POSITION = 0.4
"""Chord fraction of the highest point of the mean line, as in NACA 2412 and 4412 [-]."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Rows:
    """The rows of one strip, from the leading edge to the trailing edge."""

    vortex: Grid
    """Bound vortices, (c,) of the chord [-]."""
    control: Grid
    """Control points, (c,) of the chord [-]."""
    mean_line: Grid
    """Slope of the mean line per camber, (c,) [-]."""
    flap: Grid
    """Angle to the flow per flap deflection, (c,) [-]; nothing without a flap."""


@cache
def rows(count: int, chord_fraction: float) -> Rows:
    """Return the rows of a strip, split at the hinge of its flap.

    Parameters
    ----------
    count : int
        Number of rows, at least two with a flap.
    chord_fraction : float [-]
        Chord behind the hinge over the whole chord: 0 for no hinge, 1 for an all-moving surface.

    Returns
    -------
    Rows [-]

    Source
    ------
    katz-plotkin-2001, own-derivation
    """
    split = 0.0 < chord_fraction < 1.0
    aft = int(np.clip(np.rint(count * chord_fraction), 1, count - 1)) if split else 0
    hinge = 1.0 - chord_fraction if split else 1.0
    edges = np.concatenate(
        [np.linspace(0.0, hinge, count - aft + 1), np.linspace(hinge, 1.0, aft + 1)[1:]]
    )
    vortex = 0.75 * edges[:-1] + 0.25 * edges[1:]
    control = 0.25 * edges[:-1] + 0.75 * edges[1:]
    loads = _section_loads(vortex, control)
    flap = np.full(count, 1.0 if chord_fraction >= 1.0 else 0.0)
    if split:
        # Besides the rows behind the hinge, the row ahead of it sees a little of the deflection.
        basis = np.zeros((count, 2))
        basis[count - aft :, 0] = basis[count - aft - 1, 1] = 1.0
        fraction = np.asarray(chord_fraction)
        goal = [2.0 * np.pi * flap_effectiveness(fraction), flap_pitching_moment(fraction)]
        flap = _fitted(loads, basis, np.asarray(goal))
    return Rows(vortex=vortex, control=control, mean_line=_mean_line(control, loads), flap=flap)


def _section_loads(vortex: Grid, control: Grid) -> Grid:
    """Lift and quarter-chord moment per angle of the flow at each control point, (2, c)."""
    wash = 1.0 / (2.0 * np.pi * (control[:, None] - vortex))
    read = np.stack([np.full_like(vortex, 2.0), 2.0 * (0.25 - vortex)])
    return np.asarray(np.linalg.solve(wash.T, read.T).T)


def _mean_line(control: Grid, loads: Grid) -> Grid:
    """Slope at the control points, with a constant and a tilt added."""
    p = CAMBER_POSITION
    slope = 2.0 * (p - control) / np.where(control < p, p, 1.0 - p) ** 2
    line = four_digit(np.ones(1), np.full(1, p))
    goal = np.concatenate([-2.0 * np.pi * line.zero_lift, line.moment])
    terms = min(2, control.size)
    basis = np.stack([np.ones_like(control), control], axis=1)[:, :terms]
    # Flow meets a rising slope from above: an angle is minus a slope.
    return np.asarray(slope - _fitted(loads[:terms], basis, (goal + loads @ slope)[:terms]))


def _fitted(loads: Grid, basis: Grid, goal: Grid) -> Grid:
    """Return the mix of the basis angles that carries the goal."""
    return np.asarray(basis @ np.linalg.solve(loads @ basis, goal))
