"""A propeller blade as stations, and the blade a label stands for."""

from dataclasses import dataclass

import numpy as np

from foamwright.physics.arrays import Grid, Samples

TYPICAL_CAMBER = 0.05
"""Camber over chord of thin moulded blades, taken where nobody measured it; the section model
was fitted with this value, so only a departure from it carries information."""
TYPICAL_THICKNESS = 0.08
"""Thickness over chord taken where nobody measured it, on the same footing."""
ROOT = 0.15
"""Where the lifting part of a blade begins, as a share of the radius."""
STATIONS = 20
"""Quadrature points along a blade: 0.4 % of static thrust with equal elements, less here."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Blade:
    """The shape of one blade, on stations that a batch of b propellers shares (b may be 1)."""

    diameter: Samples
    """(b,) [m]"""
    blade_count: Samples
    """(b,) [-]"""
    radius: Grid
    """(s,) [-] r/R of the stations, rising."""
    chord: Samples
    """(b, s) [-] c/R."""
    twist: Samples
    """(b, s) [rad] Blade angle between chord line and plane of rotation."""
    camber: Samples
    """(b, s) [-] Camber over chord."""
    thickness: Samples
    """(b, s) [-] Thickness over chord."""


@dataclass(frozen=True, kw_only=True, slots=True)
class BladeStations:
    """One measured blade: what ruler and pitch gauge gave."""

    radius: Grid
    """(m,) [-] r/R, rising."""
    chord: Grid
    """(m,) [-] c/R."""
    twist: Grid
    """(m,) [rad]"""
    camber: Grid | None = None
    """(m,) [-] Camber over chord; the typical one when not measured."""
    thickness: Grid | None = None
    """(m,) [-] Thickness over chord; the typical one when not measured."""


def quadrature(count: int = STATIONS) -> tuple[Grid, Grid]:
    """Return Gauss-Legendre stations between root and tip, and their widths.

    Parameters
    ----------
    count : int
        Number of stations.

    Returns
    -------
    (s,) [-], (s,) [-]

    Source
    ------
    own-derivation
    """
    nodes, weights = np.polynomial.legendre.leggauss(count)
    half = 0.5 * (1.0 - ROOT)
    return ROOT + half * (nodes + 1.0), half * weights


def measured_blade(
    stations: BladeStations, diameter: float, blade_count: float, count: int = STATIONS
) -> Blade:
    """Return a measured blade on the quadrature stations, ends held.

    Parameters
    ----------
    stations : BladeStations
        The measured stations of one blade.
    diameter : float [m]
        Diameter of the propeller.
    blade_count : float [-]
        Number of blades.
    count : int
        Number of quadrature stations.

    Returns
    -------
    Blade [-]

    Source
    ------
    own-derivation
    """
    radius, _ = quadrature(count)

    def at(values: Grid | None, typical: float) -> Samples:
        if values is None:
            return np.full((1, count), typical)
        return np.interp(radius, stations.radius, values)[None, :]

    return Blade(
        diameter=np.array([diameter]),
        blade_count=np.array([blade_count]),
        radius=radius,
        chord=at(stations.chord, 0.0),
        twist=at(stations.twist, 0.0),
        camber=at(stations.camber, TYPICAL_CAMBER),
        thickness=at(stations.thickness, TYPICAL_THICKNESS),
    )


LABEL_RADIUS = np.array([0.15, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.75, 0.8, 0.9, 0.95, 1.0])
"""Stations of the typical blade [-]."""
LABEL_CHORD = np.array([0.69, 0.81, 1.05, 1.09, 1.13, 1.14, 1.06, 1.0, 0.94, 0.75, 0.59, 0.15])
"""Median chord of the measured blades over that at 75 % radius."""
LABEL_PITCH = np.array([0.50, 0.70, 0.83, 0.90, 0.94, 0.98, 1.0, 1.0, 1.01, 1.01, 0.97, 0.82])
"""Median geometric pitch of the measured blades over that at 75 % radius."""
LABEL_DIAMETER = 8 * 0.0254
"""Diameter the label fits are centred on [m]."""
LABEL_PITCH_RATIO = 0.7
"""Pitch over diameter the label fits are centred on [-]."""
PRINTED_PITCH = 1.05
"""Geometric pitch at 75 % radius over the printed one: median of the measured blades; they
scatter by 0.15 to 0.2 about it, which the multipliers of the label carry."""


def label_blade(diameter: float, pitch: float, blade_count: float, count: int = STATIONS) -> Blade:
    """Return the typical blade of a label: diameter, printed pitch, blade count.

    Shape and width are medians of the measured blades: small ones are wider. The label is not
    the propeller: `label_spread` says by how much.

    Parameters
    ----------
    diameter : float [m]
        Printed diameter.
    pitch : float [m]
        Printed pitch.
    blade_count : float [-]
        Number of blades.
    count : int
        Number of quadrature stations.

    Returns
    -------
    Blade [-]

    Source
    ------
    uiuc-propellers
    """
    ratio = pitch / diameter
    width = 0.165 * (diameter / LABEL_DIAMETER) ** -0.32 * np.exp(0.3 * (ratio - LABEL_PITCH_RATIO))
    tangent = PRINTED_PITCH * ratio * LABEL_PITCH / (np.pi * LABEL_RADIUS)
    return measured_blade(
        BladeStations(radius=LABEL_RADIUS, chord=width * LABEL_CHORD, twist=np.arctan(tangent)),
        diameter,
        blade_count,
        count,
    )
