"""The charge a described flight takes, leg by leg."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from foamwright.physics.arrays import Flags, Samples
from foamwright.physics.drive.equilibrium import Drive, Operating, at_throttle, at_thrust
from foamwright.physics.flight.level import DragCurve, at_speeds

STEPS = 8
"""Steps of one leg; voltage and resistance are taken anew in the middle of each."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Leg:
    """A while of one flight state: level at a speed, or at a throttle."""

    seconds: Samples
    """How long (n,) [s]."""
    speed: Samples
    """Through the air (n,) [m s^-1]."""
    throttle: float | None = None
    """Held [-], whatever the plane does with it; none where level flight is held."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Course:
    """What a flight took out of the pack."""

    used: Samples
    """(n,) [A s]."""
    left: Samples
    """Share of the charge, not below nothing (n,) [-]."""
    lowest_voltage: Samples
    """Of the pack under load (n,) [V]."""
    holds: Flags
    """Whether every leg could be flown; elsewhere the numbers mean little (n,)."""
    flat: Flags
    """Whether more was taken than the pack holds (n,)."""


@dataclass(frozen=True, kw_only=True, slots=True)
class _Step:
    """The drive through a part of a leg, (n,)."""

    current: Samples
    voltage: Samples
    holds: Flags


def charge_used(curve: DragCurve, drive: Drive, legs: Sequence[Leg], start: float) -> Course:
    """Return what a flight takes out of the pack.

    Each leg is taken in eight steps, each at the charge of its middle.

    Parameters
    ----------
    curve : DragCurve
        Drag of n samples.
    drive : Drive
        n samples.
    legs : Leg
        One after the other.
    start : float [-]
        Share left in the pack at first.

    Returns
    -------
    Course [A s]

    Source
    ------
    own-derivation
    """
    capacity = drive.pack.capacity
    used = np.zeros(capacity.shape)
    lowest = np.full(capacity.shape, np.inf)
    holds = np.ones(capacity.shape, dtype=bool)
    for leg in legs:
        span = leg.seconds / STEPS
        now = _through(curve, drive, leg, start - used / capacity)
        for _ in range(STEPS):
            middle = start - (used + 0.5 * now.current * span) / capacity
            now = _through(curve, drive, leg, middle)
            used = used + now.current * span
            holds = holds & now.holds
        last = _through(curve, drive, leg, start - used / capacity)
        lowest = np.minimum(lowest, np.minimum(now.voltage, last.voltage))
    left = start - used / capacity
    return Course(
        used=used,
        left=np.maximum(left, 0.0),
        lowest_voltage=lowest,
        holds=holds,
        flat=left < 0.0,
    )


def _through(curve: DragCurve, drive: Drive, leg: Leg, share: Samples) -> _Step:
    """Return the drive in one leg at a share of the charge."""
    charge = np.clip(share, 0.0, 1.0)
    if leg.throttle is not None:
        state = at_throttle(drive, leg.speed[:, None], leg.throttle, charge)
        return _step(state, np.ones(leg.speed.shape, dtype=bool))
    carried = np.where(curve.flyable, curve.drag, np.nan)
    drag = at_speeds(curve.speed, carried, leg.speed)
    reached = (leg.speed >= curve.speed[0]) & (leg.speed <= curve.speed[-1])
    return _step(at_thrust(drive, leg.speed[:, None], drag[:, None], charge), reached)


def _step(state: Operating, reached: Flags) -> _Step:
    """Return the one column of a state."""
    return _Step(
        current=state.pack_current[:, 0],
        voltage=state.pack_voltage[:, 0],
        holds=state.holds[:, 0] & reached,
    )
