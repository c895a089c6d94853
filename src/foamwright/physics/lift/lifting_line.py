"""Lifting line of a straight tapered wing by Fourier series, exact in the number of terms."""

from dataclasses import dataclass

import numpy as np

from foamwright.physics.arrays import Samples

TERMS = 100
"""Odd terms of the series; as many collocation points on a half span."""


@dataclass(frozen=True, kw_only=True, slots=True)
class LiftingLine:
    """What a finite wing makes of its section."""

    slope: Samples
    """Lift slope, (n,) [rad^-1]."""
    slope_excess: Samples
    """Glauert's tau: loss of slope beyond the elliptic wing's, (n,) [-]."""
    drag_excess: Samples
    """Glauert's delta: induced drag beyond the elliptic wing's, (n,) [-]."""


def lifting_line(aspect_ratio: Samples, taper: Samples, section_slope: Samples) -> LiftingLine:
    """Return slope and induced drag of an untwisted straight tapered wing.

    Parameters
    ----------
    aspect_ratio : (n,) [-]
        Span squared over area.
    taper : (n,) [-]
        Tip chord over root chord, above zero.
    section_slope : (n,) [rad^-1]
        Lift slope in two dimensions.

    Returns
    -------
    LiftingLine [-]

    Valid
    -----
    Unswept, aspect ratio above about 4.

    Source
    ------
    glauert-1926
    """
    order = np.arange(1, 2 * TERMS, 2)
    angle = np.pi / 2.0 * np.arange(1, TERMS + 1) / TERMS
    # Chord over span, times a quarter of the section's slope.
    root = 2.0 / (aspect_ratio * (1.0 + taper))
    chord = root[:, None] * (1.0 - (1.0 - taper[:, None]) * np.cos(angle))
    weight = section_slope[:, None] * chord / 4.0
    sine = np.sin(angle)
    matrix = np.sin(np.outer(angle, order)) * (weight[:, :, None] * order + sine[:, None])
    series = np.linalg.solve(matrix, (weight * sine)[..., None])[..., 0]
    slope = np.pi * aspect_ratio * series[:, 0]
    ratio = np.pi * aspect_ratio / section_slope
    return LiftingLine(
        slope=slope,
        slope_excess=(section_slope / slope - 1.0) * ratio - 1.0,
        drag_excess=np.sum(order[1:] * (series[:, 1:] / series[:, :1]) ** 2, axis=1),
    )
