"""Profile drag and maximum lift of the whole plane from its strips.

The lattice gives the lift of every strip, linear in the states; the sections say what that lift
costs and where it ends. Maximum lift is the critical section's on the linear loading: a coupled
solution stops converging there and only gives a lower bound.
"""

from dataclasses import dataclass

import numpy as np

from foamwright.physics.arrays import Flags, Grid, Samples
from foamwright.physics.lift.lattice import LatticeResult
from foamwright.physics.lift.section import (
    SectionTable,
    chosen_strips,
    drag_at_lift,
    flap_drag,
    maximum_lift,
)

FLAP_LIMIT_SHARE = 0.5
"""Share of its own lift that a lowered flap adds to a section's maximum: common practice."""

STALL_PASSES = 4
"""Passes between stall speed and Reynolds number; the third changes less than 0.1 %."""

NO_STALL = 100.0
"""Amount of the growing states [rad] given to a strip that does not stall with them."""

CACHED_POINTS = 40_000
"""Points a block: bigger ones fall out of cache and take four times as long."""


@dataclass(frozen=True, kw_only=True, slots=True)
class StripLoading:
    """Linear loading and size of m strips."""

    lift: Grid
    """(m, s) local lift coefficient per unit of each of s states."""
    area: Grid
    """(m,) [m^2]."""
    chord: Grid
    """(m,) [m]."""
    upright: Grid
    """(m,) upward part of the direction of the strip's lift, 1 for a level wing."""
    deflection: Grid
    """(m, s) flap deflection of the strip per unit of each state."""
    reference_area: float
    """[m^2] what coefficients of the plane refer to."""


@dataclass(frozen=True, kw_only=True, slots=True)
class StripFlow:
    """The flow of n samples at k speeds."""

    amplitudes: Samples
    """(n, k, s) amplitude of every state."""
    speed: Samples
    """(k,) or (n, k) [m s^-1]."""
    kinematic_viscosity: Samples
    """(n,) [m^2 s^-1]."""


@dataclass(frozen=True, kw_only=True, slots=True)
class StallCase:
    """How the plane is brought to its stall."""

    amplitudes: Samples
    """(n, s) amplitude of every state before the growing one is added: flaps, trim, basic load."""
    growing: Samples
    """(s,) states that grow together towards the stall, e.g. 1 for angle of attack."""
    loading: Samples
    """(n,) [Pa] weight over reference area."""
    density: Samples
    """(n,) [kg m^-3]."""
    kinematic_viscosity: Samples
    """(n,) [m^2 s^-1]."""
    limit_offset: Samples
    """(n,) added to every section's maximum lift: its spread, sample by sample."""
    checked: Flags
    """(m,) strips whose stall counts; leave out fins and a tail that may stall first."""


def strip_loading(result: LatticeResult, geometry: int) -> StripLoading:
    """Return the strips of one geometry of a lattice, in the lattice's order of states.

    Parameters
    ----------
    result : LatticeResult
        Loads per unit state.
    geometry : int
        Which of the batch.

    Returns
    -------
    StripLoading [-]

    Source
    ------
    own-derivation
    """
    return StripLoading(
        lift=result.strip_lift[geometry],
        area=result.strip_area[geometry],
        chord=result.strip_chord[geometry],
        upright=result.strip_normal[geometry, :, 1],
        deflection=result.strip_deflection,
        reference_area=float(result.reference.area[geometry]),
    )


def local_lift(strips: StripLoading, amplitudes: Samples) -> Samples:
    """Return the lift coefficient of every strip.

    Parameters
    ----------
    strips : StripLoading
        Loading of m strips.
    amplitudes : (..., s) [-]
        Amplitude of every state.

    Returns
    -------
    (..., m) [-]

    Source
    ------
    own-derivation
    """
    lift: Samples = amplitudes @ strips.lift.T
    return lift


def log_chord_reynolds(chord: Grid, speed: Samples, kinematic_viscosity: Samples) -> Samples:
    """Return ln Re of every strip for n samples at k speeds.

    Parameters
    ----------
    chord : (m,) [m]
        Strip chords.
    speed : (k,) [m s^-1]
        Airspeed, or (n, k).
    kinematic_viscosity : (n,) [m^2 s^-1]
        Of the air.

    Returns
    -------
    (n, k, m) [-]

    Source
    ------
    own-derivation
    """
    flow = np.log(speed) - np.log(kinematic_viscosity)[:, None]
    numbers: Samples = flow[:, :, None] + np.log(chord)
    return numbers


def profile_drag(
    strips: StripLoading, table: SectionTable, flow: StripFlow
) -> tuple[Samples, Flags]:
    """Return the profile drag coefficient of all strips together.

    Parameters
    ----------
    strips : StripLoading
        Loading of m strips.
    table : SectionTable
        Sections of the same strips.
    flow : StripFlow
        States, speeds and air.

    Returns
    -------
    (n, k) [-]
        Referred to the reference area; the stated spread and surface factor are the caller's.
    (n, k) [-]
        True where any strip leaves its table or passes its maximum lift.

    Source
    ------
    own-derivation
    """
    samples, speeds = flow.amplitudes.shape[:2]
    speed = np.broadcast_to(flow.speed, (samples, speeds))
    total: Samples = np.empty((samples, speeds))
    outside: Flags = np.empty((samples, speeds), dtype=bool)
    hinged = np.flatnonzero(np.any(strips.deflection != 0.0, axis=1) & _has_flap(table))
    step = max(1, CACHED_POINTS // max(1, speeds * strips.chord.size))
    for start in range(0, samples, step):
        part = slice(start, start + step)
        block = StripFlow(
            amplitudes=flow.amplitudes[part],
            speed=speed[part],
            kinematic_viscosity=flow.kinematic_viscosity[part],
        )
        total[part], outside[part] = _block_drag(strips, table, block, hinged)
    return total, outside


def _block_drag(
    strips: StripLoading, table: SectionTable, flow: StripFlow, hinged: np.ndarray
) -> tuple[Samples, Flags]:
    """Return profile drag and flags of a block small enough to stay in cache."""
    lift = local_lift(strips, flow.amplitudes)
    numbers = log_chord_reynolds(strips.chord, flow.speed, flow.kinematic_viscosity)
    drag, outside = drag_at_lift(table, numbers, lift)
    if hinged.size:
        bend = flow.amplitudes @ strips.deflection[hinged].T
        part = chosen_strips(table, hinged)
        drag[..., hinged] *= flap_drag(part, numbers[..., hinged], lift[..., hinged], bend)
    outside |= _past_limits(table, lift)
    total: Samples = drag @ (strips.area / strips.reference_area)
    beyond: Flags = np.any(outside, axis=-1)
    return total, beyond


def _has_flap(table: SectionTable) -> Flags:
    flapped: Flags = np.any(table.flap_log_drag != 0.0, axis=(1, 2, 3))
    return flapped


def _past_limits(table: SectionTable, lift: Samples) -> Flags:
    """Return where a strip is past its best maximum at any Reynolds number: certainly stalled."""
    past: Flags = (lift > table.maximum.max(axis=1)) | (lift < table.minimum.min(axis=1))
    return past


def critical_section_lift(
    strips: StripLoading, table: SectionTable, case: StallCase
) -> tuple[Samples, Samples, Flags]:
    """Return the plane's lift coefficient when its first checked strip reaches maximum lift.

    Parameters
    ----------
    strips : StripLoading
        Loading of m strips.
    table : SectionTable
        Sections of the same strips.
    case : StallCase
        Weight, air, flaps and what grows.

    Returns
    -------
    (n,) [-]
        Maximum lift coefficient on the reference area.
    (n,) [-]
        Index of the critical strip.
    (n,) [-]
        True where the Reynolds number leaves the table or no lift is left.

    Valid
    -----
    Wings of aspect ratio above about 3; a slender delta flies on past it on its edge vortices.

    Source
    ------
    abbott-1959
    """
    basic = local_lift(strips, case.amplitudes)
    additional = strips.lift @ case.growing
    weights = strips.area * strips.upright / strips.reference_area
    plane_basic, plane_additional = basic @ weights, additional @ weights
    offset = case.limit_offset[:, None] + _flap_limit(strips, case)
    counted = case.checked & (additional > 0.0)
    highest: Samples = np.full(case.loading.shape, 0.8)
    for _ in range(STALL_PASSES):
        speed = np.sqrt(2.0 * case.loading / (case.density * np.maximum(highest, 0.1)))
        reynolds = (speed / case.kinematic_viscosity)[:, None] * strips.chord
        room = maximum_lift(table, reynolds) + offset - basic
        reach = np.where(counted, room / np.where(counted, additional, 1.0), NO_STALL)
        critical = np.argmin(reach, axis=1)
        amount = np.take_along_axis(reach, critical[:, None], axis=1)[:, 0]
        highest = plane_basic + amount * plane_additional
    beyond = np.log(reynolds[:, case.checked])
    outside = (beyond < table.log_reynolds[0]) | (beyond > table.log_reynolds[-1])
    return highest, critical, outside.any(axis=1) | ~((highest > 0.1) & (amount < NO_STALL))


def _flap_limit(strips: StripLoading, case: StallCase) -> Samples:
    """Return what deflected flaps add to the maximum lift of their own strips, (n, m)."""
    moving = np.any(strips.deflection != 0.0, axis=0)
    own = np.any(strips.deflection != 0.0, axis=1)
    flap_lift = (case.amplitudes * moving) @ strips.lift.T
    shift: Samples = FLAP_LIMIT_SHARE * flap_lift * own
    return shift
