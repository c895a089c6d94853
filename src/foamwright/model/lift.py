"""Lift, moment and induced drag of the plane: the lattice with the errors of each sample."""

from dataclasses import dataclass

import numpy as np

from foamwright.model import spreads
from foamwright.model.ensemble import Draws
from foamwright.model.planform import Planform
from foamwright.model.sections import kept_strips, plane_sections
from foamwright.model.surfaces import PITCH, Drawn
from foamwright.physics.arrays import Flags, Samples
from foamwright.physics.lift.body import (
    apparent_mass_factor,
    body_fineness,
    body_moment_slope,
)
from foamwright.physics.lift.lattice import LatticeResult, Reference, unit_loads
from foamwright.physics.lift.section import SectionTable
from foamwright.physics.lift.stability import neutral_point
from foamwright.physics.lift.strips import StripLoading
from foamwright.physics.lift.trim import LinearPitch
from foamwright.plane.airframe import Airframe

LIFT, MOMENT = 0, 3
"""Columns of the lattice's coefficients."""

CONSTANT, ALPHA = 0, 1
"""States of the lattice that every plane has."""

TAIL_EFFICIENCY = (0.90, 0.05)
"""Share of the flow a tail in the wing's and body's wake gets, and spread; common practice."""

SECTION_SLOPE = (0.93, spreads.LIFT_SLOPE_LN)
"""Measured over inviscid section lift slope at Re 60-200 k, and ln spread (E387 and plate rows
of the published wind-tunnel tests: 0.095-0.105 per degree against 0.1097)."""

FLAP_POWER = (0.70, 0.15)
"""Flap effect at low Reynolds number over inviscid, and spread (design figure from section
calculations and common practice: real surfaces reach 60-80 %)."""

BODY_MOMENT_LN = 0.35
"""ln spread of the body's moment: it is small, but slender-body theory is rough on stubby pods."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Lift:
    """Linear lift and moment of n samples; coefficients refer to the drawn wing."""

    area: float
    """Area of the drawn wing [m^2]."""
    aspect_ratio: float
    """Of the drawn wing [-]."""
    mean_chord: Samples
    """Mean aerodynamic chord (n,) [m]."""
    neutral_point: Samples
    """x where the margin is nothing (n,) [m]."""
    pitch: LinearPitch
    """Lift and moment lines of n samples."""
    flap_power: Samples
    """What is left of the controls' inviscid power (n,) [-]."""
    steerable: bool
    """Whether something trims in pitch; else pitch's third column moves nothing."""
    induced: Samples
    """Induced drag form in (constant, alpha, pitch) (n, 3, 3) [-]."""
    strips: StripLoading
    """Loading of the right half and the fins."""
    sections: SectionTable
    """Their sections."""
    main: Flags
    """Whether the strip belongs to the main wing (m,)."""
    pitch_damping: Samples
    """Cm per qc/2V about the lattice's reference point (n,) [-]."""
    lattice: LatticeResult
    """Loads of the drawn plane and of each ruler's error, before the errors of the model."""
    assumed: tuple[str, ...]
    """What was assumed."""


def body_moment(airframe: Airframe) -> float:
    """Return the moment of all bodies over dynamic pressure per angle of attack [m^3]."""
    total = 0.0
    for body in airframe.bodies:
        x = np.array([[s.x.value for s in body.stations]])
        width = np.array([[s.width.value for s in body.stations]])
        height = np.array([[s.height.value for s in body.stations]])
        fineness = np.maximum(body_fineness(x, width, height), 1.01)
        factor = apparent_mass_factor(fineness)
        total += float(body_moment_slope(x, width, factor)[0])
    return total


def reference_of(plan: Planform, drawn: Drawn) -> Reference:
    """Return the drawn wing's reference lengths for every geometry of the batch.

    All geometries are referred to the same wing, so that what a chord error adds in area is
    added in lift.
    """
    count = 1 + len(drawn.errors)
    point = np.array([float(plan.mean_edge.mean() + 0.25 * plan.mean_chord.mean()), 0.0, 0.0])
    return Reference(
        area=np.full(count, plan.area.mean()),
        chord=np.full(count, plan.mean_chord.mean()),
        span=np.full(count, plan.span.mean()),
        point=np.repeat(point[None], count, axis=0),
    )


def tail_loss(result: LatticeResult, airframe: Airframe, states: list[int]) -> Samples:
    """Return (g, states, 2) CL and Cm that tails in the wake lose per unit of lost efficiency."""
    behind = [
        index
        for index, surface in enumerate(airframe.surfaces)
        if surface.role in ("tail", "vee tail")
    ]
    chosen = np.isin(result.strip_surface, behind)
    reference = result.reference
    load = (
        result.strip_lift[:, chosen][:, :, states]
        * (result.strip_area[:, chosen] * result.strip_normal[:, chosen, 1])[..., None]
        / reference.area[:, None, None]
    )
    arm = (result.strip_x[:, chosen] - reference.point[:, :1]) / reference.chord[:, None]
    lift = load.sum(axis=1)
    moment = -(load * arm[..., None]).sum(axis=1)
    return np.stack([lift, moment], axis=-1)


def pitch_lines(
    result: LatticeResult, airframe: Airframe, drawn: Drawn, draws: Draws
) -> tuple[Samples, Samples, Samples]:
    """Return CL and Cm at rest, per alpha, per pitch deflection (n, 3), and flap power (n,)."""
    names = result.state_names
    steerable = PITCH in names
    states = [CONSTANT, ALPHA, names.index(PITCH) if steerable else CONSTANT]
    lines = np.stack(
        [result.coefficients[:, states, LIFT], result.coefficients[:, states, MOMENT]], axis=-1
    )
    lost = draws.around(
        1.0 - TAIL_EFFICIENCY[0],
        TAIL_EFFICIENCY[1],
        key="model.tail_flow",
        label="flow at the tail",
    )
    both = drawn.at_samples(lines, draws) - lost[:, None, None] * drawn.at_samples(
        tail_loss(result, airframe, states), draws
    )
    slope = SECTION_SLOPE[0] * draws.factor(
        SECTION_SLOPE[1], key="model.lift_slope", label="lift slope at low Reynolds number"
    )
    both = both * slope[:, None, None]
    power = draws.around(
        FLAP_POWER[0], FLAP_POWER[1], key="model.flap_power", label="power of the controls"
    )
    both[:, 2] *= power[:, None] if steerable else 0.0
    return both[..., 0], both[..., 1], power


def loading_of(result: LatticeResult, kept: np.ndarray, area: float) -> StripLoading:
    """Return the kept strips as loading of the drawn plane in (constant, alpha, pitch)."""
    names = result.state_names
    steerable = PITCH in names
    states = [CONSTANT, ALPHA, names.index(PITCH) if steerable else CONSTANT]
    lift = result.strip_lift[0][kept][:, states].copy()
    deflection = result.strip_deflection[kept][:, states].copy()
    if not steerable:
        lift[:, 2] = 0.0
        deflection[:, 2] = 0.0
    # Mirrored strips stand for their twins too.
    twins = np.where(result.strip_y[0, kept] > 1e-6, 2.0, 1.0)
    return StripLoading(
        lift=lift,
        area=result.strip_area[0, kept] * twins,
        chord=result.strip_chord[0, kept],
        upright=result.strip_normal[0, kept, 1],
        deflection=deflection,
        reference_area=area,
    )


def induced_form(result: LatticeResult, drawn: Drawn, draws: Draws) -> Samples:
    """Return the induced drag form in (constant, alpha, pitch) of n samples (n, 3, 3)."""
    names = result.state_names
    steerable = PITCH in names
    states = [CONSTANT, ALPHA, names.index(PITCH) if steerable else CONSTANT]
    form = result.induced[:, states][:, :, states].copy()
    if not steerable:
        form[:, 2, :] = 0.0
        form[:, :, 2] = 0.0
    factor = draws.factor(spreads.INDUCED_LN, key="model.induced", label="induced drag")
    return drawn.at_samples(form, draws) * factor[:, None, None]


def undrawn(airframe: Airframe, *, steerable: bool) -> tuple[str, ...]:
    """Return what is left out because it was not drawn."""
    said = []
    if not airframe.bodies:
        said.append("no body drawn: its drag and its moment are left out")
    if not steerable:
        said.append(
            "no elevator, elevon or V-tail control drawn: trim drag left out, and trimmed lift; a "
            "tailless wing stalls about a tenth faster than told"
        )
    return tuple(said)


def lift_of(airframe: Airframe, plan: Planform, drawn: Drawn, draws: Draws) -> Lift:
    """Return the plane's lift for all samples."""
    reference = reference_of(plan, drawn)
    result = unit_loads(drawn.surfaces, reference)
    area, chord = float(reference.area[0]), float(reference.chord[0])
    lift, moment, power = pitch_lines(result, airframe, drawn, draws)
    steerable = PITCH in result.state_names
    body = body_moment(airframe) * draws.factor(
        BODY_MOMENT_LN, key="model.body_moment", label="moment of the body"
    )
    moment[:, ALPHA] += body / (area * chord)
    about = np.full(draws.samples, reference.point[0, 0])
    model_error = draws.around(
        0.0, spreads.NEUTRAL_POINT, key="model.neutral_point", label="neutral point of the model"
    )
    # The model's own error enters as moment, so that trim and margin see the same plane.
    moment[:, ALPHA] -= model_error * lift[:, ALPHA]
    reference_chord = np.full(draws.samples, chord)
    kept = kept_strips(result)
    main = [i for i, s in enumerate(airframe.surfaces) if s.role in ("wing", "strake")] or [0]
    assumed = [*drawn.assumed, *undrawn(airframe, steerable=steerable)]
    sections = plane_sections(airframe, result, kept, drawn.outlines)
    beyond = dict.fromkeys(
        airframe.surfaces[i].name for i in result.strip_surface[kept][sections.outside]
    )
    assumed += [
        f"{name}: thickness or camber beyond the section data; its edge value was held"
        for name in beyond
    ]
    damping = result.coefficients[:, result.state_names.index("q"), MOMENT]
    return Lift(
        area=area,
        aspect_ratio=float(reference.span[0]) ** 2 / area,
        mean_chord=plan.mean_chord,
        neutral_point=neutral_point(lift[:, ALPHA], moment[:, ALPHA], about, reference_chord),
        pitch=LinearPitch(lift=lift, moment=moment, about=about, chord=reference_chord),
        flap_power=power,
        steerable=steerable,
        induced=induced_form(result, drawn, draws),
        strips=loading_of(result, kept, area),
        sections=sections,
        main=np.isin(result.strip_surface[kept], main),
        pitch_damping=drawn.at_samples(damping, draws),
        lattice=result,
        assumed=tuple(assumed),
    )
