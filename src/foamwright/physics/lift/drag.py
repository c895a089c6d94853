"""Drag area of everything that is not a lifting surface: body, protrusions, holes, seams.

A build-up of common shapes, right to about a quarter; flights narrow it. Every part is a drag
area (drag over dynamic pressure), so parts add and no reference area is needed.
"""

from dataclasses import dataclass

import numpy as np

from foamwright.physics.arrays import Flags, Samples

DRAG_AREA_LN_SD = 0.30
"""Spread of the total's logarithm: build-ups of model bodies miss by a quarter or more."""

TRANSITION_REYNOLDS = 5.0e5
"""Where a smooth plate turns turbulent on its own; rough foam turns sooner."""

CUBE_DRAG = 1.05
"""Box face to the wind, on its frontal area (hoerner-1965)."""

ROUNDED_BOX_DRAG = 0.6
"""Camera with rounded edges or behind a ramp, on its frontal area (common-practice)."""

CYLINDER_DRAG = 1.1
"""Rod across the wind at Re 1e3 to 2e5, on diameter times length (hoerner-1965)."""

SPHERE_DRAG = 0.47
"""Ball below its critical Reynolds number, on its frontal area (hoerner-1965)."""

PLATE_DRAG = 1.17
"""Plate square to the wind, on its area: horns, plates of mounts (hoerner-1965)."""

POD_DRAG = 0.15
"""Streamlined pod or fairing, on its frontal area (hoerner-1965)."""

STEP_DRAG = 0.4
"""Forward-facing step of a seam or tape edge, on height times length (hoerner-1965)."""

GAP_DRAG = 0.5
"""Open hinge gap across the wind, on width times length (common-practice)."""

POCKET_DRAG = 0.10
"""Open pocket with gear in it, on its opening (common-practice; an empty one is nearer 0.03)."""

SKID_DRAG = 0.3
"""Skid or landing runner along the wind, on its frontal area (common-practice)."""

COOLING_DRAG = 0.7
"""Air taken in and let out across the wind, on the inlet area (common-practice)."""

INTERFERENCE = 0.10
"""Share added where parts meet each other and the wing (common-practice)."""


@dataclass(frozen=True, kw_only=True, slots=True)
class BodyShape:
    """A body as drag sees it."""

    length: Samples
    """(n,) [m]."""
    diameter: Samples
    """(n,) [m] of the circle of the same greatest cross-section."""
    wetted_area: Samples
    """(n,) [m^2]."""
    base_area: Samples
    """(n,) [m^2] blunt cut at the rear, 0 for a pointed tail."""
    laminar_share: Samples
    """(n,) share of the length with laminar flow, 0 for rough foam with a blunt nose."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Protrusions:
    """Areas of what sticks out or gapes, n samples each; zero where there is none."""

    cubes: Samples
    """(n,) [m^2] frontal area of sharp boxes."""
    rounded: Samples
    """(n,) [m^2] frontal area of rounded boxes."""
    rods: Samples
    """(n,) [m^2] diameter times length of antennas, pushrods, masts."""
    balls: Samples
    """(n,) [m^2] frontal area of antenna caps and other balls."""
    plates: Samples
    """(n,) [m^2] area of control horns and plates square to the wind."""
    pods: Samples
    """(n,) [m^2] frontal area of streamlined pods."""
    pockets: Samples
    """(n,) [m^2] opening of uncovered pockets."""
    seams: Samples
    """(n,) [m^2] height times length of steps across the wind."""
    gaps: Samples
    """(n,) [m^2] width times length of unsealed hinge gaps."""
    skids: Samples
    """(n,) [m^2] frontal area of skids."""
    inlets: Samples
    """(n,) [m^2] cooling inlets."""


@dataclass(frozen=True, kw_only=True, slots=True)
class DragAreas:
    """Drag area of each group [m^2], n samples at k speeds."""

    body: Samples
    """(n, k)."""
    protrusions: Samples
    """(n, 1) camera, antennas, horns, pods, skids."""
    openings: Samples
    """(n, 1) pockets, gaps, inlets."""
    seams: Samples
    """(n, 1)."""
    interference: Samples
    """(n, k)."""
    total: Samples
    """(n, k) with a spread of `DRAG_AREA_LN_SD` in its logarithm."""


def laminar_friction(reynolds: Samples) -> Samples:
    """Return the mean friction coefficient of one side of a laminar plate.

    Parameters
    ----------
    reynolds : (...) [-]
        On the length.

    Returns
    -------
    (...) [-]

    Valid
    -----
    Reynolds number above about 1e3.

    Source
    ------
    blasius-1908
    """
    friction: Samples = 1.328 / np.sqrt(reynolds)
    return friction


def turbulent_friction(reynolds: Samples) -> Samples:
    """Return the mean friction coefficient of one side of a fully turbulent plate.

    Parameters
    ----------
    reynolds : (...) [-]
        On the length.

    Returns
    -------
    (...) [-]

    Valid
    -----
    Reynolds number 5e5 to 1e7; a rough plate is turbulent from about 5e4, with less certainty.

    Source
    ------
    schlichting-1979
    """
    friction: Samples = 0.074 * reynolds**-0.2
    return friction


def mixed_friction(reynolds: Samples, laminar_share: Samples) -> Samples:
    """Return the mean friction coefficient of a plate that is laminar over its front share.

    Parameters
    ----------
    reynolds : (...) [-]
        On the length.
    laminar_share : (...) [-]
        Share of the length before transition; never past the Reynolds number where a smooth
        plate turns by itself.

    Returns
    -------
    (...) [-]

    Source
    ------
    blasius-1908, schlichting-1979
    """
    share = np.clip(np.minimum(laminar_share, TRANSITION_REYNOLDS / reynolds), 1e-6, 1.0)
    front = share * reynolds
    # The turbulent part behaves as if it had begun at the nose, less what it did not do there.
    swapped = share * (turbulent_friction(front) - laminar_friction(front))
    friction: Samples = turbulent_friction(reynolds) - np.where(share > 1e-5, swapped, 0.0)
    return friction


def body_form_factor(fineness: Samples) -> Samples:
    """Return drag of a streamlined body over flat-plate friction of the same wetted area.

    Parameters
    ----------
    fineness : (...) [-]
        Length over diameter.

    Returns
    -------
    (...) [-]

    Valid
    -----
    Fineness above about 3.

    Source
    ------
    hoerner-1965
    """
    slimness = 1.0 / fineness
    factor: Samples = 1.0 + 1.5 * slimness**1.5 + 7.0 * slimness**3
    return factor


def base_drag(friction_over_base: Samples) -> Samples:
    """Return the drag coefficient of a blunt base, on its area.

    Parameters
    ----------
    friction_over_base : (...) [-]
        Friction drag area of the body ahead of it over the base area.

    Returns
    -------
    (...) [-]

    Source
    ------
    hoerner-1965
    """
    drag: Samples = 0.029 / np.sqrt(friction_over_base)
    return drag


def body_drag_area(
    body: BodyShape, speed: Samples, kinematic_viscosity: Samples
) -> tuple[Samples, Flags]:
    """Return the drag area of a body, nose into the wind.

    Parameters
    ----------
    body : BodyShape
        Sizes of n samples.
    speed : (k,) [m s^-1]
        Airspeed, or (n, k).
    kinematic_viscosity : (n,) [m^2 s^-1]
        Of the air.

    Returns
    -------
    (n, k) [m^2]
        Drag area.
    (n, k) [-]
        True where the body is stubbier than 3 diameters or slower than Reynolds number 3e4.

    Source
    ------
    hoerner-1965, blasius-1908, schlichting-1979
    """
    reynolds = speed * (body.length / kinematic_viscosity)[:, None]
    friction = mixed_friction(reynolds, body.laminar_share[:, None])
    fineness = (body.length / body.diameter)[:, None]
    skin = friction * body.wetted_area[:, None]
    cut = np.maximum(body.base_area, 1e-9)[:, None]
    area = skin * body_form_factor(fineness) + base_drag(skin / cut) * cut
    outside: Flags = (fineness < 3.0) | (reynolds < 3.0e4)
    return area, outside


def protrusion_drag_areas(parts: Protrusions) -> tuple[Samples, Samples, Samples]:
    """Return the drag areas of what sticks out, of openings and of seams.

    Parameters
    ----------
    parts : Protrusions
        Areas of n samples.

    Returns
    -------
    (n,) [m^2]
        What sticks out.
    (n,) [m^2]
        Pockets, hinge gaps, cooling inlets.
    (n,) [m^2]
        Seams.

    Source
    ------
    hoerner-1965, common-practice
    """
    sticking = (
        CUBE_DRAG * parts.cubes
        + ROUNDED_BOX_DRAG * parts.rounded
        + CYLINDER_DRAG * parts.rods
        + SPHERE_DRAG * parts.balls
        + PLATE_DRAG * parts.plates
        + POD_DRAG * parts.pods
        + SKID_DRAG * parts.skids
    )
    openings = POCKET_DRAG * parts.pockets + GAP_DRAG * parts.gaps + COOLING_DRAG * parts.inlets
    return sticking, openings, STEP_DRAG * parts.seams


def drag_areas(
    body: BodyShape, parts: Protrusions, speed: Samples, kinematic_viscosity: Samples
) -> tuple[DragAreas, Flags]:
    """Return the drag area of everything but the lifting surfaces, part by part.

    Parameters
    ----------
    body : BodyShape
        Sizes of n samples.
    parts : Protrusions
        Areas of n samples.
    speed : (k,) [m s^-1]
        Airspeed, or (n, k).
    kinematic_viscosity : (n,) [m^2 s^-1]
        Of the air.

    Returns
    -------
    DragAreas [m^2]
        The middle estimate; multiply the total by its spread sample by sample.
    (n, k) [-]
        True where the body is outside what the formulas hold for.

    Source
    ------
    hoerner-1965, common-practice
    """
    skin, outside = body_drag_area(body, speed, kinematic_viscosity)
    sticking, openings, seams = (part[:, None] for part in protrusion_drag_areas(parts))
    plain = skin + sticking + openings + seams
    areas = DragAreas(
        body=skin,
        protrusions=sticking,
        openings=openings,
        seams=seams,
        interference=INTERFERENCE * plain,
        total=(1.0 + INTERFERENCE) * plain,
    )
    return areas, outside
