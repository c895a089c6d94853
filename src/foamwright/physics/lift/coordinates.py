"""Thickness and camber of a section given by its outline."""

from dataclasses import dataclass

import numpy as np

from foamwright.physics.arrays import Grid
from foamwright.physics.lift.thin_airfoil import ThinAirfoil, from_slope, stations

READ_AT = 401
"""Chord stations at which the outline is read, crowded towards both edges."""

SLOPE_STATIONS = 400
"""Stations of the mean line handed to thin-airfoil theory."""


@dataclass(frozen=True, kw_only=True, slots=True)
class SectionOutline:
    """What the outline of one section says, lengths over chord."""

    thickness: float
    """Greatest thickness."""
    thickness_position: float
    """Its place."""
    camber: float
    """Greatest camber by size, negative when the mean line sags."""
    camber_position: float
    """Its place."""
    trailing_edge: float
    """Thickness of the trailing edge."""
    theory: ThinAirfoil
    """Thin-airfoil theory of the mean line; it sees reflex where camber alone does not."""
    outside: bool
    """True where the points are no outline from trailing edge over the top and back."""


def outline(points: Grid) -> SectionOutline:
    """Return thickness and camber of an outline.

    Parameters
    ----------
    points : (k, 2) [-]
        From the trailing edge over the top to the nose and back below, any scale and angle.

    Returns
    -------
    SectionOutline [-]

    Valid
    -----
    Each side single-valued along the chord; thickness is measured across the chord.

    Source
    ------
    own-derivation
    """
    placed = _on_unit_chord(points)
    nose = int(np.argmin(placed[:, 0]))
    # Points listed from below would show the sections upside down, so the sides are checked.
    x = 0.5 * (1.0 - np.cos(np.linspace(0.0, np.pi, READ_AT)))
    upper, rising_upper = _side(placed[: nose + 1][::-1], x)
    lower, rising_lower = _side(placed[nose:], x)
    thickness, camber = upper - lower, 0.5 * (upper + lower)
    thickest, highest = int(np.argmax(thickness)), int(np.argmax(np.abs(camber)))
    wanted = stations(SLOPE_STATIONS)
    slope = np.interp(wanted, x, np.gradient(camber, x))
    return SectionOutline(
        thickness=float(thickness[thickest]),
        thickness_position=float(x[thickest]),
        camber=float(camber[highest]),
        camber_position=float(x[highest]),
        trailing_edge=float(thickness[-1]),
        theory=from_slope(slope[None, :]),
        outside=bool(not (rising_upper and rising_lower) or thickness.min() < -1e-3),
    )


def _on_unit_chord(points: Grid) -> Grid:
    """Return the outline turned and scaled so that the chord runs from 0 to 1."""
    tail = 0.5 * (points[0] + points[-1])
    nose = points[np.argmax(np.sum((points - tail) ** 2, axis=1))]
    along = tail - nose
    chord = float(np.hypot(*along))
    cosine, sine = along / chord
    turned: Grid = (points - nose) @ np.array([[cosine, -sine], [sine, cosine]]) / chord
    return turned


def _side(points: Grid, x: Grid) -> tuple[Grid, bool]:
    """Return one side's height at x and whether it runs from nose to tail without turning back."""
    rising = np.maximum.accumulate(points[:, 0]) + 1e-12 * np.arange(points.shape[0])
    single = bool(np.all(np.diff(points[:, 0]) > -1e-4)) and points.shape[0] > 2
    return np.interp(x, rising, points[:, 1]), single
