"""Drag of the whole plane against speed: sections, induced, body and what sticks out."""

from dataclasses import dataclass

import numpy as np

from foamwright.model import spreads
from foamwright.model.air import AirState
from foamwright.model.ensemble import Draws
from foamwright.model.foam import is_mirrored, span_coordinate
from foamwright.model.lift import Lift
from foamwright.physics.arrays import Flags, Grid, Samples
from foamwright.physics.lift.correction import (
    BARE_FOAM_DRAG_FACTOR,
    BARE_FOAM_DRAG_FACTOR_SD,
    SECTION_DRAG_LN_SD,
)
from foamwright.physics.lift.drag import (
    DRAG_AREA_LN_SD,
    INTERFERENCE,
    BodyShape,
    Protrusions,
    body_drag_area,
    drag_areas,
    protrusion_drag_areas,
)
from foamwright.physics.lift.strips import StripFlow, profile_drag
from foamwright.physics.lift.trim import Trim, trim
from foamwright.plane.airframe import Body
from foamwright.plane.boxes import box_size
from foamwright.plane.plane import Plane

FINISHES: dict[str, tuple[float, float, float]] = {
    "clean": (1.0, 0.0, 0.35),
    "taped": (BARE_FOAM_DRAG_FACTOR, 0.15e-3, 0.1),
    "rough": (1.3, 0.5e-3, 0.0),
}
"""Factor on section drag, height of steps across the wind [m], laminar share of the body, by
finish: judgement, common practice, no source."""

SHAPES = {
    "block": "cubes",
    "rod": "rods",
    "plate": "plates",
    "faired": "pods",
    "dome": "balls",
}
"""Which field of the drag build-up a protrusion's shape goes to."""

HINGE_GAP = 1.0e-3
"""Width of an open hinge gap [m]; common practice, no source."""

HIGHEST_EFFICIENCY = 1.2
"""Span efficiency no such plane exceeds [-]: 1 for the best planar wing, a little more with tip
fins; own derivation."""

GUESSED_DRAG = (0.045, 0.75)
"""Zero-lift drag coefficient and span efficiency behind the thrust-line moment only."""


@dataclass(frozen=True, kw_only=True, slots=True)
class PlaneDrag:
    """Drag of n samples at k speeds in steady level flight."""

    speed: Grid
    """(k,) [m s^-1]."""
    drag: Samples
    """(n, k) [N]."""
    lift_coefficient: Samples
    """(n, k) [-] on the drawn wing."""
    alpha: Samples
    """(n, k) [rad]."""
    deflection: Samples
    """Pitch control, trailing edge down positive (n, k) [rad]."""
    profile: Samples
    """Section drag coefficient (n, k) [-]."""
    induced: Samples
    """Induced drag coefficient (n, k) [-]."""
    parasite: Samples
    """Coefficient of body and all that sticks out (n, k) [-]."""
    outside: Flags
    """Where sections or bodies leave what they were checked for (n, k)."""


def body_shape(body: Body, laminar_share: float, samples: int) -> BodyShape:
    """Return a body as drag sees it, the same for all samples."""
    x = np.array([s.x.value for s in body.stations])
    width = np.array([s.width.value for s in body.stations])
    height = np.array([s.height.value for s in body.stations])
    # Between an ellipse's girth and a box's: foam bodies have rounded corners.
    girth = 0.5 * (np.pi * np.sqrt(0.5 * (width**2 + height**2)) + 2.0 * (width + height))
    section = 0.9 * width * height
    tail = float(section[-1])

    def every(value: float) -> Samples:
        return np.full(samples, value)

    return BodyShape(
        length=every(float(x[-1] - x[0])),
        diameter=every(float(np.sqrt(4.0 * section.max() / np.pi))),
        wetted_area=every(float(np.trapezoid(girth, x))),
        base_area=every(tail if tail > 0.05 * section.max() else 0.0),
        laminar_share=every(laminar_share),
    )


def protrusions(plane: Plane, samples: int) -> Protrusions:
    """Return what sticks out or gapes, the same for all samples; its spread is the total's."""
    areas = dict.fromkeys(Protrusions.__dataclass_fields__, 0.0)
    airframe = plane.airframe
    for part in airframe.protrusions:
        areas[SHAPES[part.shape]] += part.frontal_area.value * part.count
    for item in plane.items:
        if item.protrudes is None:
            continue
        size = box_size(item)
        width = 0.012 if size is None else size[1]
        shape = "rods" if item.kind in ("antenna", "rod") else "rounded"
        areas[shape] += item.protrudes.value * width * item.count
    hinged = 0.0
    for surface in airframe.surfaces:
        along = float(span_coordinate(surface)[-1])
        twins = 2.0 if is_mirrored(surface) else 1.0
        for control in surface.controls:
            hinged += twins * along * (control.end.value - control.start.value)
            areas["plates"] += twins * 0.5 * 5e-3 * 10e-3  # half a horn of 5 x 10 mm in the wind
    if airframe.hinge_gaps == "open":
        areas["gaps"] += hinged * HINGE_GAP
    if airframe.open_pockets is not None:
        areas["pockets"] += airframe.open_pockets.value
    step = FINISHES[airframe.finish][1]
    widths = [max(s.width.value for s in body.stations) for body in airframe.bodies]
    spans = sum(
        float(span_coordinate(s)[-1]) * (2.0 if is_mirrored(s) else 1.0) for s in airframe.surfaces
    )
    areas["seams"] += step * (spans + 3.0 * sum(widths))
    return Protrusions(**{name: np.full(samples, value) for name, value in areas.items()})


def parasite_area(plane: Plane, speed: Grid, air: AirState, draws: Draws) -> tuple[Samples, Flags]:
    """Return the drag area of all but the lifting surfaces (n, k) [m^2], and who is outside."""
    finish = FINISHES[plane.airframe.finish]
    shapes = [body_shape(body, finish[2], draws.samples) for body in plane.airframe.bodies]
    stuck = protrusions(plane, draws.samples)
    viscosity = air.kinematic_viscosity
    outside = np.zeros((draws.samples, speed.size), dtype=bool)
    if shapes:
        areas, outside = drag_areas(shapes[0], stuck, speed, viscosity)
        total = areas.total
    else:  # a bare wing
        found = np.sum(protrusion_drag_areas(stuck), axis=0)[:, None]
        total = np.broadcast_to((1.0 + INTERFERENCE) * found, outside.shape)
    for shape in shapes[1:]:
        more, beyond = body_drag_area(shape, speed, viscosity)
        total = total + more
        outside = outside | beyond
    factor = draws.factor(
        DRAG_AREA_LN_SD, key="model.parasite_drag", label="drag of body and protrusions"
    )
    return total * factor[:, None], outside


def trimmed(lift: Lift, centre: Samples, wanted: Samples, thrust_arm: Samples) -> Trim:
    """Return level-flight trim (n, k) for lift coefficients wanted.

    `thrust_arm` (n,) is how far the thrust line passes above the centre of gravity [m]; its
    moment is taken with a guessed drag, since the true drag follows from the trim.
    """
    guess, efficiency = GUESSED_DRAG
    drag = guess + wanted**2 / (np.pi * lift.aspect_ratio * efficiency)
    outside = -drag * (thrust_arm / lift.pitch.chord)[:, None]
    if lift.steerable:
        return trim(lift.pitch, centre, wanted, outside)
    alpha = (wanted - lift.pitch.lift[:, :1]) / lift.pitch.lift[:, 1:2]
    still = np.zeros_like(wanted)
    return Trim(alpha=alpha, deflection=still, powerless=np.zeros(wanted.shape, dtype=bool))


def plane_drag(
    plane: Plane,
    lift: Lift,
    air: AirState,
    draws: Draws,
    *,
    load: tuple[Samples, Samples, Samples],
    speed: Grid,
) -> PlaneDrag:
    """Return the drag in steady level flight at (k,) speeds.

    `load` is weight (n,) [N], centre of gravity (n,) [m] and thrust arm (n,) [m].
    """
    weight, centre, arm = load
    pressure = 0.5 * air.density[:, None] * speed**2
    wanted = weight[:, None] / (pressure * lift.area)
    steady = trimmed(lift, centre, wanted, arm)
    # The lattice's strips are inviscid: a deflection counts with what is left of its power.
    bend = steady.deflection * lift.flap_power[:, None]
    states = at_lift(lift, np.stack([np.ones_like(wanted), steady.alpha, bend], axis=-1), wanted)
    flow = StripFlow(amplitudes=states, speed=speed, kinematic_viscosity=air.kinematic_viscosity)
    profile, outside = profile_drag(lift.strips, lift.sections, flow)
    factor, _, _ = FINISHES[plane.airframe.finish]
    rough = draws.around(
        factor,
        BARE_FOAM_DRAG_FACTOR_SD * (factor if factor > 1.0 else 0.5),
        key="model.foam_finish",
        label="drag of the foam's surface",
    )
    sections = draws.factor(
        SECTION_DRAG_LN_SD, key="model.section_drag", label="drag of the wing section"
    )
    profile = profile * (rough * sections)[:, None]
    # First order in the ruler's errors is not always a drag: it is kept above the least possible.
    induced = np.maximum(
        np.einsum("nks,nst,nkt->nk", states, lift.induced, states, optimize=True),
        wanted**2 / (np.pi * lift.aspect_ratio * HIGHEST_EFFICIENCY),
    )
    area, beyond = parasite_area(plane, speed, air, draws)
    parasite = area / lift.area
    workmanship = draws.factor(spreads.DRAG_LN, key="model.drag", label="drag as a whole")
    total = (profile + induced + parasite) * workmanship[:, None]
    return PlaneDrag(
        speed=speed,
        drag=total * pressure * lift.area,
        lift_coefficient=wanted,
        alpha=steady.alpha,
        deflection=steady.deflection,
        profile=profile,
        induced=induced,
        parasite=parasite,
        outside=outside | beyond,
    )


def at_lift(lift: Lift, states: Samples, wanted: Samples) -> Samples:
    """Return the states (n, k, 3) with alpha adjusted so that the strips carry the lift wanted.

    The strips are the drawn plane's; a sample's own slope, tail flow and flap power moved its
    angle of attack, but the load on the sections is what the weight asks.
    """
    weights = lift.strips.area * lift.strips.upright / lift.strips.reference_area
    carried = lift.strips.lift.T @ weights
    given = states @ carried
    states = states.copy()
    states[..., 1] += (wanted - given) / carried[1]
    return states
