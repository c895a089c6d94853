"""How far a surface should twist under a weight hung beside its spar."""

import numpy as np

from foamwright.model.computable import ComputablePlane
from foamwright.model.ensemble import Draws
from foamwright.model.section_left import CARBON_OVER_FOAM
from foamwright.model.solid import SurfaceSolid
from foamwright.physics.air.atmosphere import GRAVITY
from foamwright.physics.arrays import Samples
from foamwright.physics.frame.torsion import torsion_constant, twist
from foamwright.plane.bench_records import Hang

CARBON = 127e9
"""Modulus of the pultruded rod that the foams are told against [Pa]."""

POISSON = 0.3
"""Of closed-cell foams, about a third; handbook, from memory."""

FOAM_LN = 0.35
"""Spread of a foam's modulus: a factor of two between the softest and the stiffest; common
practice, no source."""

SKIN_LN = 0.3
"""What skin, tape, glued rods and hinge cuts do to it; common practice, no source."""

ALONG, ACROSS = 41, 201
"""Cuts along the span, places across the chord."""


def planned_twist(planned: ComputablePlane, hang: Hang, draws: Draws) -> Samples | None:
    """Return the twist that was to be seen (n,) [rad].

    None where the plane has no such wing or tail any more, or where it is a fin, which is not cut.
    """
    solid = hung_on(planned, hang)
    if solid is None:
        return None
    place = places(solid, hang)
    share = np.linspace(0.0, 1.0, ACROSS)
    constants = np.array([constant(solid, y, share) for y in place])
    modulus = CARBON / CARBON_OVER_FOAM[planned.plane.airframe.foam] / (2.0 * (1.0 + POISSON))
    foam = draws.factor(FOAM_LN, key="bench.hang.foam", label="stiffness of the foam")
    skin = draws.factor(SKIN_LN, key="bench.hang.skin", label="skin, tape and rods in torsion")
    torque = np.full(draws.samples, hang.load.value * GRAVITY * hang.arm.value)
    return twist(torque, place, (modulus * foam * skin)[:, None] * constants)


def hung_on(planned: ComputablePlane, hang: Hang) -> SurfaceSolid | None:
    """Return the surface a weight was hung on, as solid foam; none where it is not looked at."""
    surfaces = planned.plane.airframe.surfaces
    index = next((i for i, surface in enumerate(surfaces) if surface.name == hang.surface), None)
    if index is None or surfaces[index].role == "fin" or hang.at.value <= 0.0:
        return None
    outline = planned.outlines.get(index)
    return SurfaceSolid(surfaces[index], None if outline is None else outline.points)


def places(solid: SurfaceSolid, hang: Hang) -> np.ndarray:
    """Return the places along the span (k,) [m] between the root and the load."""
    return np.asarray(solid.y[0] + np.linspace(0.0, hang.at.value, ALONG))


def constant(solid: SurfaceSolid, y: float, share: np.ndarray) -> float:
    """Return the torsion constant of the foam at a distance from the middle [m^4]."""
    _, chord = solid.station(min(y, float(solid.y[-1])))
    nearest = np.full(share.size, int(np.abs(solid.y - y).argmin()))
    upper, lower = solid.sides(share, nearest)
    thickness = np.maximum(upper - lower, 0.0) * chord
    return float(torsion_constant(share * chord, thickness[None, :])[0])
