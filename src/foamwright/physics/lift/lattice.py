"""Vortex lattice: linear loads of a set of surfaces per unit of each state.

Axes x aft, y right, z up. Speed one, everything linear in the states:

- ``constant``: twist and mean line at no angle of attack, one;
- ``alpha``, ``beta`` [rad]: flow from below, flow from the right;
- ``p``, ``q``, ``r``: pb/2V, qc/2V, rb/2V about the reference point; right wing down, nose up,
  nose right positive;
- one per flap name [rad]: trailing edge down positive on wings; on a fin that points up,
  trailing edge to the right.

Coefficients: CL up, CY to the right, Cl right wing down, Cm nose up, Cn nose right positive.
Products of states (side force with lift, roll from yaw at lift) are left out.
"""

from dataclasses import dataclass

import numpy as np

from foamwright.physics.arrays import Flags, Grid, Samples
from foamwright.physics.lift.influence import normalwash, wakewash
from foamwright.physics.lift.panels import (
    OFF_PLANE,
    Indices,
    Panels,
    Strips,
    Surface,
    cut,
    flap_names,
)

STATES = ("constant", "alpha", "beta", "p", "q", "r")
"""The states before the flaps, in this order."""
COEFFICIENTS = ("CL", "CY", "Cl", "Cm", "Cn")
"""Order of the last axis of the coefficients."""
LIFT, SIDE, ROLL, PITCH, YAW = range(5)
"""Positions in that axis."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Reference:
    """What coefficients are made dimensionless with."""

    area: Samples
    """Reference area, (g,) [m^2]."""
    chord: Samples
    """Reference chord, (g,) [m]."""
    span: Samples
    """Reference span, (g,) [m]."""
    point: Samples
    """Moments and rates are about this point, (g, 3) [m]."""


@dataclass(frozen=True, kw_only=True, slots=True)
class LatticeResult:
    """Loads per unit state; strips of a mirrored surface come right half first, then left."""

    reference: Reference
    """As given."""
    state_names: tuple[str, ...]
    """The states: `STATES`, then the flap names."""
    coefficients: Samples
    """CL, CY, Cl, Cm, Cn per unit state, (g, states, 5) [-]."""
    induced: Samples
    """Symmetric Q with CDi = u Q u for states u, from the far wake, (g, states, states) [-]."""
    strip_lift: Samples
    """Local lift coefficient, normal force on q times the strip's area, (g, k, states) [-]."""
    strip_area: Samples
    """Area of the strips, (g, k) [m^2]."""
    strip_chord: Samples
    """Mean chord of the strips, (g, k) [m]."""
    strip_x: Samples
    """Quarter-chord point of the strips, (g, k) [m]."""
    strip_y: Samples
    """The same to the right, (g, k) [m]."""
    strip_z: Samples
    """The same upwards, (g, k) [m]."""
    strip_normal: Samples
    """Direction of the strips' lift in y and z, (g, k, 2) [-]."""
    strip_surface: Indices
    """Which surface the strips belong to, (k,)."""
    strip_flap: Indices
    """First flap name that moves on the strip, -1 where there is none, (k,)."""
    strip_deflection: Grid
    """Flap deflection of the strip per unit of each state, (k, states) [-]."""
    outside: Flags
    """Where an unmirrored surface leaves the plane of symmetry, (g,)."""


def unit_loads(surfaces: tuple[Surface, ...], reference: Reference) -> LatticeResult:
    """Return the loads of all surfaces per unit of each state.

    Parameters
    ----------
    surfaces : Surface
        All surfaces, the same batch of g geometries in each.
    reference : Reference
        Area, lengths and moment point.

    Returns
    -------
    LatticeResult [-]

    Valid
    -----
    Attached flow, small angles, low Mach number, wakes straight along x. Sixty panels give
    slopes and the neutral point within 1 % of a fine lattice; pitch damping and flap power
    need four rows for 5 %.

    Source
    ------
    katz-plotkin-2001, lan-1974
    """
    names = flap_names(surfaces)
    strips, panels = cut(surfaces)
    onset = _onset(strips, panels, reference)
    right, left = _circulation(strips, panels, onset)
    at = panels.strip[:, None] == np.arange(strips.surface.size)
    strip_right, strip_left = (
        np.einsum("gps,pm->gms", part, at.astype(float)) for part in (right, left)
    )
    order = _order(strips)
    lift = (
        _both(strip_right, strip_left, order)
        * 2.0
        / _both(strips.chord, strips.chord, order)[..., None]
    )
    sign = np.asarray([-1.0, 1.0])
    normal = strips.along[..., ::-1] * sign
    gains = _both(strips.gain_right[None], strips.gain_left[None], order)[0]
    deflection = np.pad(gains, ((0, 0), (len(STATES), 0)))
    moved = deflection != 0.0
    place = _both(strips.quarter, strips.quarter * np.asarray([1.0, -1.0, 1.0]), order)
    return LatticeResult(
        reference=reference,
        state_names=STATES + names,
        coefficients=_coefficients(panels, (right, left), reference),
        induced=_induced(strips, (strip_right, strip_left), reference.area),
        strip_lift=lift,
        strip_area=_both(strips.chord * strips.width, strips.chord * strips.width, order),
        strip_chord=_both(strips.chord, strips.chord, order),
        strip_x=place[..., 0],
        strip_y=place[..., 1],
        strip_z=place[..., 2],
        strip_normal=_both(normal, normal * sign, order),
        strip_surface=np.tile(strips.surface, 2)[order],
        strip_flap=np.where(moved.any(axis=1), moved.argmax(axis=1) - len(STATES), -1),
        strip_deflection=deflection,
        outside=_off_plane(surfaces),
    )


def _onset(strips: Strips, panels: Panels, reference: Reference) -> tuple[Samples, Samples]:
    """Return the normal onset flow at the right and left control points, (g, p, states)."""
    sides = []
    for mirror, gains in ((1.0, strips.gain_right), (-1.0, strips.gain_left)):
        along = strips.along[:, panels.strip]
        ny, nz = -mirror * along[..., 1], along[..., 0]
        arm = panels.control * np.asarray([1.0, mirror, 1.0]) - reference.point[:, None, :]
        x, y, z = arm[..., 0], arm[..., 1], arm[..., 2]
        per_span, per_chord = (
            2.0 / length[:, None] for length in (reference.span, reference.chord)
        )
        steady = (panels.incidence, nz, -ny)
        turning = ((y * nz - z * ny) * per_span, x * nz * per_chord, x * ny * per_span)
        flaps = panels.hinge[..., None] * gains[panels.strip]
        sides.append(np.concatenate([np.stack([*steady, *turning], axis=-1), flaps], axis=-1))
    return sides[0], sides[1]


def _circulation(
    strips: Strips, panels: Panels, onset: tuple[Samples, Samples]
) -> tuple[Samples, Samples]:
    """Circulation of the right and left horseshoes per unit state, (g, p, states).

    Two half problems instead of one: what both sides share and what they have opposed. A fin
    is its own twin: it carries nothing of the first and is counted once in the second.
    """
    right, left = onset
    twinned = strips.mirrored[panels.strip]
    own = normalwash(strips, panels, twin=False)
    twin = normalwash(strips, panels, twin=True) * twinned
    odd_onset = np.where(twinned[:, None], 0.5 * (right - left), right)
    odd = np.linalg.solve(own - twin, -odd_onset)
    even = np.zeros_like(odd)
    pairs = np.flatnonzero(twinned)
    if pairs.size:
        matrix = (own + twin)[:, pairs[:, None], pairs]
        even[:, pairs] = np.linalg.solve(matrix, -0.5 * (right + left)[:, pairs])
    return even + odd, np.where(twinned[:, None], even - odd, 0.0)


def _coefficients(
    panels: Panels, circulation: tuple[Samples, Samples], reference: Reference
) -> Samples:
    total = np.zeros((*circulation[0].shape[:1], circulation[0].shape[2], 5))
    bound = panels.end - panels.start
    middle = 0.5 * (panels.end + panels.start)
    for mirror, gamma in zip((1.0, -1.0), circulation, strict=True):
        arm = middle * np.asarray([1.0, mirror, 1.0]) - reference.point[:, None, :]
        up, aside = 2.0 * bound[..., 1], -2.0 * mirror * bound[..., 2]
        x, y, z = arm[..., 0], arm[..., 1], arm[..., 2]
        loads = np.stack([up, aside, z * aside - y * up, -x * up, -x * aside], axis=-1)
        total += np.einsum("gps,gpk->gsk", gamma, loads)
    one = np.ones_like(reference.span)
    length = np.stack([one, one, reference.span, reference.chord, reference.span], axis=-1)
    return np.asarray(total / (reference.area[:, None] * length)[:, None, :])


def _induced(strips: Strips, circulation: tuple[Samples, Samples], area: Samples) -> Samples:
    """Drag of the far wake as a form in the states; a fin has no left half."""
    right, left = circulation
    own = wakewash(strips, twin=False) * strips.width[..., None]
    twin = wakewash(strips, twin=True) * strips.width[..., None]
    form = np.zeros((right.shape[0], right.shape[2], right.shape[2]))
    for here, there in ((right, left), (left, right)):
        wash = own @ here + twin @ there
        form -= np.swapaxes(here, 1, 2) @ wash
    return np.asarray(0.5 * (form + np.swapaxes(form, 1, 2)) / area[:, None, None])


def _order(strips: Strips) -> Indices:
    """Positions in right then left strips so that surfaces follow each other."""
    count = strips.surface.size
    kept = np.concatenate([np.arange(count), count + np.flatnonzero(strips.mirrored)])
    return np.asarray(kept[np.argsort(np.tile(strips.surface, 2)[kept], kind="stable")])


def _both(right: Samples, left: Samples, order: Indices) -> Samples:
    return np.concatenate([right, left], axis=1)[:, order]


def _off_plane(surfaces: tuple[Surface, ...]) -> Flags:
    outside = np.zeros(surfaces[0].chord.shape[0], dtype=bool)
    for surface in surfaces:
        if not surface.mirrored:
            place = surface.leading_edge
            length = np.ptp(place[..., 2], axis=1)
            outside |= np.abs(place[..., 1]).max(axis=1) > OFF_PLANE * length
    return outside
