"""Lift and drag of thin cambered blade sections at low Reynolds number.

One set of numbers for all blades, fitted once to the open wind-tunnel data of the university
propeller database as a whole (tools/fit_propeller_sections.py), never to one propeller. So the
numbers are those of an effective section: they also hold what the strip model leaves out
(blade flex, hub, the curved inflow of wide blades).
"""

from dataclasses import dataclass

import numpy as np

from foamwright.physics.arrays import Samples
from foamwright.physics.drive.blade import TYPICAL_THICKNESS

REFERENCE_REYNOLDS = 1e5
"""Reynolds number at which the parameters are quoted."""


@dataclass(frozen=True, kw_only=True, slots=True)
class SectionParameters:
    """The numbers of the effective section; angles in radian."""

    lift_slope: float = 5.605
    """Lift slope [1/rad] at the reference Reynolds number."""
    slope_exponent: float = 0.0855
    """Growth of the lift slope with Reynolds number."""
    zero_lift_share: float = 0.814
    """Zero-lift angle over that of a thin circular arc, which is twice the camber."""
    stall_angle: float = 0.423
    """Angle from zero lift at which half the section has separated [rad]."""
    stall_width: float = 0.072
    """Width of the blend into stall [rad]."""
    plate_lift: float = 1.0
    """Lift of the separated section over sin(2a)/2 * 2, a flat plate's shape."""
    plate_drag: float = 1.5
    """Drag of the separated section over sin squared of the angle."""
    drag_least: float = 0.0199
    """Least drag at the reference Reynolds number."""
    drag_exponent: float = 0.2674
    """Growth of the drag towards low Reynolds number."""
    drag_curvature: float = 0.0923
    """Rise of the attached drag with the square of the lift above that of least drag."""
    drag_curvature_below: float = 0.5346
    """The same below it."""
    drag_lift: float = 0.2915
    """Lift coefficient of least drag, at the typical camber."""
    delay: float = 2.237
    """Strength of the delay of stall by rotation, over (c/r) squared."""
    width_slope: float = 0.441
    """Loss of lift slope with c/R."""
    width_camber: float = 3.613
    """Loss of effective camber with c/R: a wide blade works in its own curved inflow."""


SECTION = SectionParameters()
"""The fit to the data as a whole."""


@dataclass(frozen=True, kw_only=True, slots=True)
class SectionShape:
    """What the section model takes of a blade; all shapes broadcast together."""

    camber: Samples
    """(..., s) [-] Camber over chord."""
    thickness: Samples
    """(..., s) [-] Thickness over chord."""
    chord: Samples
    """(..., s) [-] Chord over the propeller's radius, c/R."""
    radius: Samples
    """(..., s) [-] r/R."""
    reynolds: Samples
    """(n, s) [-] Reynolds number of chord and local speed."""


@dataclass(frozen=True, kw_only=True, slots=True)
class SectionCurves:
    """A section model made ready for one set of stations: all that does not change with angle."""

    zero_lift: Samples
    """(n, s) [rad]"""
    slope: Samples
    """(n, s) [1/rad]"""
    drag: Samples
    """(n, s) [-] Least drag."""
    delayed: Samples
    """(n, s) [-] Share of the lost lift that rotation gives back, 0 to 1."""
    parameters: SectionParameters
    """The numbers used."""


def section_curves(shape: SectionShape, parameters: SectionParameters = SECTION) -> SectionCurves:
    """Return the part of the section model that depends on shape and Reynolds number.

    Parameters
    ----------
    shape : SectionShape
        Camber, thickness, chord over radius, Reynolds number.
    parameters : SectionParameters
        The effective section.

    Returns
    -------
    SectionCurves [-]

    Source
    ------
    brandt-selig-2011, deters-selig-2014
    """
    ratio = np.maximum(shape.reynolds, 2e3) / REFERENCE_REYNOLDS
    # Thicker sections pay about their thickness twice in attached drag (form factor 1 + 2 t/c).
    form = (1.0 + 2.0 * shape.thickness) / (1.0 + 2.0 * TYPICAL_THICKNESS)
    return SectionCurves(
        zero_lift=-2.0
        * parameters.zero_lift_share
        * shape.camber
        / (1.0 + parameters.width_camber * shape.chord),
        slope=parameters.lift_slope
        * ratio**parameters.slope_exponent
        / (1.0 + parameters.width_slope * shape.chord),
        drag=parameters.drag_least * form * ratio ** (-parameters.drag_exponent),
        delayed=np.tanh(parameters.delay * (shape.chord / shape.radius) ** 2),
        parameters=parameters,
    )


def lift_and_drag(curves: SectionCurves, angle: Samples) -> tuple[Samples, Samples]:
    """Return lift and drag coefficient at any angle of attack.

    Attached line, blended into a flat plate beyond stall; rotation gives back part of the lost
    lift near the root, faded out by 45 degrees so that the inflow equation keeps one root.

    Parameters
    ----------
    curves : SectionCurves
        The prepared section model.
    angle : (n, s) [rad]
        Angle between chord line and local flow.

    Returns
    -------
    (n, s) [-], (n, s) [-]

    Source
    ------
    brandt-selig-2011, deters-selig-2014
    """
    p = curves.parameters
    from_zero = angle - curves.zero_lift
    attached = curves.slope * from_zero
    # tanh form of the logistic blend, symmetric about zero lift.
    separated = 0.5 * (1.0 + np.tanh((np.abs(from_zero) - p.stall_angle) / (2 * p.stall_width)))
    sine, cosine = np.sin(angle), np.cos(angle)
    plate = 2.0 * p.plate_lift * sine * cosine
    lost = separated * (attached - plate)
    fade = np.clip((0.785 - np.abs(angle)) / 0.436, 0.0, 1.0)
    given_back = curves.delayed * fade * fade * (3.0 - 2.0 * fade)
    CL = attached - lost * (1.0 - given_back)
    away = attached - p.drag_lift
    curvature = np.where(away > 0, p.drag_curvature, p.drag_curvature_below)
    polar = 1.0 + curvature / p.drag_least * away * away
    CD = curves.drag * ((1.0 - separated) * polar + separated)
    return CL, CD + separated * p.plate_drag * sine * sine
