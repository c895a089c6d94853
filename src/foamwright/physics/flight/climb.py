"""Climb: what thrust beyond drag lifts."""

from dataclasses import dataclass

import numpy as np

from foamwright.physics.arrays import Flags, Samples
from foamwright.physics.flight.level import DragCurve, at_speeds, cheapest_speed

STEEP = 0.5
"""Sine of the climb angle up to which lift may be taken as weight: 30 degrees."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Climb:
    """The fastest steady climb; zero with `climbs` false where a plane cannot fly level."""

    rate: Samples
    """(n,) [m s^-1]."""
    speed: Samples
    """Along the path (n,) [m s^-1]."""
    climbs: Flags
    """Whether thrust exceeds drag at any speed that can be flown (n,)."""
    steep: Flags
    """Where it is steeper than the formula holds (n,)."""


def climb_rates(curve: DragCurve, thrust: Samples, weight: Samples) -> tuple[Samples, Flags]:
    """Return the rate of climb at every speed of a curve, V (T - D) / W.

    Parameters
    ----------
    curve : DragCurve
        Drag of n samples.
    thrust : (n, k) [N]
        At the curve's speeds.
    weight : (n,) [N]
        Of the plane.

    Returns
    -------
    (n, k) [m s^-1], (n, k) [-]
        Not above the speed itself; and where it is too steep for the formula. Speeds that cannot
        be flown have minus infinity.

    Valid
    -----
    Climbs up to 30 degrees: drag is taken from level flight, so a steeper one is told too low.

    Source
    ------
    anderson-introduction
    """
    excess = np.where(curve.flyable, thrust - curve.drag, -np.inf)
    sine = np.minimum(excess / weight[:, None], 1.0)
    return curve.speed * sine, sine > STEEP


def fastest_climb(curve: DragCurve, thrust: Samples, weight: Samples) -> Climb:
    """Return the fastest climb and its speed.

    Parameters
    ----------
    curve : DragCurve
        Drag of n samples.
    thrust : (n, k) [N]
        At the curve's speeds.
    weight : (n,) [N]
        Of the plane.

    Returns
    -------
    Climb [m s^-1]

    Source
    ------
    anderson-introduction
    """
    rates, steep = climb_rates(curve, thrust, weight)
    rows = np.arange(rates.shape[0])
    best = np.argmax(rates, axis=1)
    climbs = rates[rows, best] > 0.0
    speed = np.where(climbs, cheapest_speed(curve.speed, -rates), 0.0)
    finite = np.where(np.isfinite(rates), rates, 0.0)
    # Between nodes the line is lower than the curve: the node itself may be higher.
    rate = np.maximum(at_speeds(curve.speed, finite, speed), rates[rows, best])
    return Climb(
        rate=np.where(climbs, rate, 0.0),
        speed=speed,
        climbs=climbs,
        steep=climbs & steep[rows, best],
    )
