"""Blade-element momentum for propellers: one residual a station, valid at rest too."""

from dataclasses import dataclass

import numpy as np

from foamwright.physics.arrays import Flags, Samples
from foamwright.physics.drive.blade import Blade, quadrature
from foamwright.physics.drive.blade_sections import (
    SECTION,
    SectionCurves,
    SectionParameters,
    SectionShape,
    lift_and_drag,
    section_curves,
)
from foamwright.physics.numerics.roots import bracketed_root

LEAST_ANGLE = 1e-5
"""Lower end of the bracket of the inflow angle [rad]."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Operation:
    """Where a propeller works."""

    advance_ratio: Samples
    """(n,) [-] J = V / (n D)."""
    revolutions: Samples
    """(n,) [s^-1]"""
    kinematic_viscosity: Samples
    """(n,) [m^2 s^-1]"""


@dataclass(frozen=True, kw_only=True, slots=True)
class _Stations:
    """The stations of all points, made ready for the residual; speeds over tip speed."""

    axial: Samples
    tangential: Samples
    twist: Samples
    solidity: Samples
    tip_exponent: Samples
    curves: SectionCurves


def _prepare(blade: Blade, operation: Operation, parameters: SectionParameters) -> _Stations:
    x = blade.radius[None, :]
    axial = operation.advance_ratio[:, None] / np.pi
    tip_speed = np.pi * operation.revolutions * blade.diameter
    # Speed without induction: the induced part changes Reynolds number by a few per cent only.
    speed = tip_speed[:, None] * np.hypot(axial, x)
    length = blade.chord * 0.5 * blade.diameter[:, None]
    shape = SectionShape(
        camber=blade.camber,
        thickness=blade.thickness,
        chord=blade.chord,
        radius=x,
        reynolds=speed * length / operation.kinematic_viscosity[:, None],
    )
    return _Stations(
        axial=axial,
        tangential=x,
        twist=blade.twist,
        solidity=blade.blade_count[:, None] * blade.chord / (2 * np.pi * x),
        tip_exponent=0.5 * blade.blade_count[:, None] * (1.0 - x) / x,
        curves=section_curves(shape, parameters),
    )


def _flow(stations: _Stations, inflow: Samples) -> tuple[Samples, Samples, Samples, Samples]:
    """Return cn, ct and the axial and tangential momentum factors at an inflow angle."""
    sine, cosine = np.sin(inflow), np.cos(inflow)
    CL, CD = lift_and_drag(stations.curves, stations.twist - inflow)
    normal = CL * cosine - CD * sine
    tangential = CL * sine + CD * cosine
    loss = (2 / np.pi) * np.arccos(np.exp(-stations.tip_exponent / sine))
    load = stations.solidity / (4.0 * loss)
    return normal, tangential, sine * sine - load * normal, sine * cosine + load * tangential


def blade_element(
    blade: Blade, operation: Operation, parameters: SectionParameters = SECTION
) -> tuple[Samples, Samples, Flags]:
    """Return thrust and power coefficient of a batch of operating points.

    The residual V (sin cos + s ct/4F) - W r (sin^2 - s cn/4F) never divides by the airspeed, so
    the propeller at rest needs no case of its own; wind-milling comes out a little past zero
    thrust, as far as the momentum theory holds.

    Parameters
    ----------
    blade : Blade
        One propeller for all points, or one each.
    operation : Operation
        Advance ratio, speed, viscosity.
    parameters : SectionParameters
        The effective section.

    Returns
    -------
    (n,) [-], (n,) [-], (n,) [-]
        CT, CP, and which points have a station without a root.

    Valid
    -----
    Momentum theory: from rest to a little past zero thrust; not the brake state.

    Source
    ------
    ning-2014, brandt-selig-2011
    """
    stations = _prepare(blade, operation, parameters)
    shape = np.broadcast_shapes(stations.axial.shape, stations.twist.shape, (1, blade.radius.size))

    def residual(inflow: Samples) -> Samples:
        _, _, through, around = _flow(stations, inflow)
        return stations.axial * around - stations.tangential * through

    inflow, rootless = bracketed_root(
        residual,
        np.full(shape, LEAST_ANGLE),
        np.full(shape, 0.5 * np.pi),
        tolerance=1e-6,
    )
    normal, tangential, through, around = _flow(stations, inflow)
    # Local speed from both components, so that neither needs to be non-zero.
    square = (
        (stations.axial**2 + stations.tangential**2)
        * np.sin(inflow) ** 2
        / np.maximum(through**2 + around**2, 1e-12)
    )
    _, width = quadrature(blade.radius.size)
    pressure = square * blade.chord * width
    blades = blade.blade_count
    CT = np.pi**2 / 8 * blades * np.sum(pressure * normal, axis=1)
    CP = np.pi**3 / 8 * blades * np.sum(pressure * tangential * stations.tangential, axis=1)
    return CT, CP, np.any(rootless, axis=1)
