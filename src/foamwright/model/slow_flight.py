"""Stall, approach and glide of the plane, one value a sample."""

from dataclasses import dataclass

import numpy as np

from foamwright.model.air import AirState
from foamwright.model.drag import PlaneDrag
from foamwright.model.ensemble import Draws
from foamwright.model.lift import Lift
from foamwright.physics.arrays import Samples
from foamwright.physics.flight.slow import (
    approach_speed,
    banked_factor,
    glide,
    sink,
    stall_speed,
)
from foamwright.physics.lift.correction import SECTION_CLMAX_SD
from foamwright.physics.lift.strips import StallCase, critical_section_lift

STALL_LN = 0.06
"""ln spread of the largest lift beyond the sections' own: which strip goes first, seams, cut-outs;
with the sections' 0.10 it comes to the 12 % promised."""

SLENDER = (2.5, 3.5)
"""Aspect ratios below and above which a wing stalls as a slender one, or strip by strip."""

SLENDER_LIFT = (0.70, 0.07)
"""Largest usable lift coefficient of a slender wing, and spread: it flies on to 25 degrees with
huge drag, its tips long past their own stall; common practice (0.6-0.8 at aspect ratio 2)."""

BANK = float(np.deg2rad(45.0))


@dataclass(frozen=True, kw_only=True, slots=True)
class SlowFlight:
    """All (n,)."""

    maximum_lift: Samples
    """On the drawn wing [-]."""
    stall_speed: Samples
    """[m s^-1]."""
    approach_speed: Samples
    """[m s^-1]."""
    stall_speed_banked: Samples
    """Banked 45 degrees [m s^-1]."""
    glide_ratio: Samples
    """[-]."""
    glide_speed: Samples
    """[m s^-1]."""
    sink_rate: Samples
    """Least, motor off [m s^-1]."""
    assumed: tuple[str, ...]


def trimmed_growth(lift: Lift, centre: Samples) -> tuple[Samples, Samples]:
    """Return base states (n, 3) and the growing states (3,) on the way to the stall.

    The pitch control that balances the plane moves with the angle of attack; its slope is the
    middle plane's, its zero is each sample's.
    """
    base = np.zeros((centre.size, 3))
    base[:, 0] = 1.0
    growing = np.array([0.0, 1.0, 0.0])
    if not lift.steerable:
        return base, growing
    arm = ((centre - lift.pitch.about) / lift.pitch.chord)[:, None]
    moment = lift.pitch.moment + arm * lift.pitch.lift
    base[:, 2] = -moment[:, 0] / moment[:, 2] * lift.flap_power
    growing[2] = float(np.median(-moment[:, 1] / moment[:, 2] * lift.flap_power))
    return base, growing


def maximum_lift(
    lift: Lift, air: AirState, draws: Draws, *, weight: Samples, centre: Samples
) -> tuple[Samples, tuple[str, ...]]:
    """Return the largest trimmed lift coefficient (n,), and what was assumed."""
    offset = SECTION_CLMAX_SD * draws.normal("model.section_stall", "stall of the wing section")
    factor = draws.factor(STALL_LN, key="model.stall", label="stall of the wing as a whole")
    base, growing = trimmed_growth(lift, centre)
    case = StallCase(
        amplitudes=base,
        growing=growing,
        loading=weight / lift.area,
        density=air.density,
        kinematic_viscosity=air.kinematic_viscosity,
        limit_offset=offset,
        checked=lift.main,
    )
    found, _, outside = critical_section_lift(lift.strips, lift.sections, case)
    said = []
    slender = float(np.interp(lift.aspect_ratio, SLENDER, (1.0, 0.0)))
    if slender > 0.0:
        usable = SLENDER_LIFT[0] + SLENDER_LIFT[1] / SECTION_CLMAX_SD * offset
        found = slender * usable + (1.0 - slender) * found
        said.append(
            f"slender wing (aspect ratio {lift.aspect_ratio:.1f}): usable lift coefficient "
            f"{SLENDER_LIFT[0]:.2f} ± {SLENDER_LIFT[1]:.2f}; it flies on beyond it with huge drag"
        )
    if float(np.mean(outside)) > 0.05:
        said.append("stall at a Reynolds number beyond the section data; its edge value was held")
    return np.maximum(found, 0.2) * factor, tuple(said)


def slow_flight(
    highest: tuple[Samples, tuple[str, ...]],
    lift: Lift,
    drag: PlaneDrag,
    *,
    air: AirState,
    weight: Samples,
) -> SlowFlight:
    """Return stall, approach and glide."""
    largest, said = highest
    stall = stall_speed(weight / lift.area, largest, air.density)
    carries = drag.lift_coefficient <= largest[:, None]
    held = np.where(carries, drag.drag, np.inf)
    ratio, speed = glide(drag.speed, held, weight)
    lowest, _ = sink(drag.speed, held, weight)
    return SlowFlight(
        maximum_lift=largest,
        stall_speed=stall,
        approach_speed=approach_speed(stall, np.zeros_like(stall)),
        stall_speed_banked=stall * float(banked_factor(np.array([BANK]))[0]),
        glide_ratio=ratio,
        glide_speed=speed,
        sink_rate=lowest,
        assumed=(*said, *air.assumed),
    )
