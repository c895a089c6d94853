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
