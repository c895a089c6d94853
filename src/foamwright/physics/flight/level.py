"""Level flight: where thrust meets drag, and what each speed costs."""

from dataclasses import dataclass

import numpy as np

from foamwright.physics.arrays import Flags, Grid, Samples
from foamwright.physics.drive.equilibrium import Drive, Operating, at_throttle, at_thrust


@dataclass(frozen=True, kw_only=True, slots=True)
class DragCurve:
    """Drag in steady level flight."""

    speed: Grid
    """(k,) [m s^-1], rising."""
    drag: Samples
    """(n, k) [N]."""
    flyable: Flags
    """Whether the wing carries the weight at that speed (n, k)."""


@dataclass(frozen=True, kw_only=True, slots=True)
class TopSpeed:
    """The fastest level flight; nothing where the plane cannot fly level."""

    speed: Samples
    """(n,) [m s^-1]; not a number where no speed can be held."""
    beyond: Flags
    """Whether it is faster still than the grid (n,)."""
    full: Operating
    """The drive at full throttle on the grid, (n, k)."""


def crossing(speed: Grid, excess: Samples) -> tuple[Samples, Flags]:
    """Return the last speed at which an excess turns from positive to negative.

    Parameters
    ----------
    speed : (k,) [m s^-1]
        Rising.
    excess : (n, k) [N]
        Thrust less drag; not a number where the plane cannot fly.

    Returns
    -------
    (n,) [m s^-1], (n,) [-]
        Not a number where it is never positive; the last speed and a flag where it still is
        positive there.

    Source
    ------
    own-derivation
    """
    positive = np.nan_to_num(excess, nan=-1.0) > 0.0
    some = positive.any(axis=1)
    last = speed.size - 1 - np.argmax(positive[:, ::-1], axis=1)
    beyond = some & (last == speed.size - 1)
    left = np.minimum(last, speed.size - 2)
    rows = np.arange(excess.shape[0])
    a, b = excess[rows, left], excess[rows, left + 1]
    fraction = np.clip(a / np.where(a == b, 1.0, a - b), 0.0, 1.0)
    found = speed[left] + fraction * (speed[left + 1] - speed[left])
    found = np.where(beyond, speed[-1], found)
    return np.where(some, found, np.nan), beyond


def at_speeds(grid: Grid, values: Samples, speed: Samples) -> Samples:
    """Return values on a speed grid at one speed a sample, linear in between.

    Parameters
    ----------
    grid : (k,) [m s^-1]
        Rising.
    values : (n, k) [unit]
        On the grid.
    speed : (n,) [m s^-1]
        Where to read; not a number stays so.

    Returns
    -------
    (n,) [unit]

    Source
    ------
    own-derivation
    """
    here = np.clip(np.nan_to_num(speed, nan=grid[0]), grid[0], grid[-1])
    left = np.clip(np.searchsorted(grid, here, side="right") - 1, 0, grid.size - 2)
    fraction = (here - grid[left]) / (grid[left + 1] - grid[left])
    rows = np.arange(values.shape[0])
    between = values[rows, left] * (1.0 - fraction) + values[rows, left + 1] * fraction
    return np.where(np.isfinite(speed), between, np.nan)


def top_speed(curve: DragCurve, drive: Drive, charge: float) -> TopSpeed:
    """Return the fastest level flight at full throttle.

    Parameters
    ----------
    curve : DragCurve
        Drag of n samples.
    drive : Drive
        n samples.
    charge : float [-]
        Share left in the pack.

    Returns
    -------
    TopSpeed [m s^-1]

    Source
    ------
    own-derivation
    """
    full = at_throttle(drive, curve.speed[None, :], 1.0, charge)
    excess = np.where(curve.flyable, full.thrust - curve.drag, np.nan)
    speed, beyond = crossing(curve.speed, excess)
    return TopSpeed(speed=speed, beyond=beyond, full=full)


def level_states(curve: DragCurve, drive: Drive, charge: float) -> Operating:
    """Return the drive's state in level flight at every speed of the curve.

    Parameters
    ----------
    curve : DragCurve
        Drag of n samples.
    drive : Drive
        n samples.
    charge : float [-]
        Share left in the pack.

    Returns
    -------
    Operating [-]

    Source
    ------
    own-derivation
    """
    return at_thrust(drive, curve.speed[None, :], curve.drag, charge)


def cheapest_speed(speed: Grid, cost: Samples) -> Samples:
    """Return the speed of least cost, refined by a parabola through three grid points.

    Parameters
    ----------
    speed : (k,) [m s^-1]
        Rising.
    cost : (n, k) [unit]
        What each speed costs; infinite where it cannot be held.

    Returns
    -------
    (n,) [m s^-1]
        Not a number where no speed can be held.

    Source
    ------
    own-derivation
    """
    rows = np.arange(cost.shape[0])
    least = np.argmin(cost, axis=1)
    some = np.isfinite(cost[rows, least])
    middle = np.clip(least, 1, speed.size - 2)
    y0, y1, y2 = cost[rows, middle - 1], cost[rows, middle], cost[rows, middle + 1]
    x0, x1, x2 = speed[middle - 1], speed[middle], speed[middle + 1]
    smooth = np.isfinite(y0) & np.isfinite(y1) & np.isfinite(y2)
    y0, y1, y2 = (np.where(smooth, y, 0.0) for y in (y0, y1, y2))
    d1, d2 = (y1 - y0) / (x1 - x0), (y2 - y1) / (x2 - x1)
    bend = (d2 - d1) / (x2 - x0)
    vertex = 0.5 * (x0 + x1) - 0.5 * d1 / np.where(bend > 0, bend, 1.0)
    refined = np.where(smooth & (bend > 0), np.clip(vertex, x0, x2), speed[least])
    return np.where(some, refined, np.nan)


def level_cost(curve: DragCurve, states: Operating, slowest: Samples) -> tuple[Samples, Samples]:
    """Return pack current and current per speed where level flight holds, else infinite.

    Parameters
    ----------
    curve : DragCurve
        Drag of n samples.
    states : Operating
        The drive in level flight on the curve's speeds.
    slowest : (n,) [m s^-1]
        Slowest speed allowed, a margin above the stall.

    Returns
    -------
    (n, k) [A], (n, k) [A s m^-1]

    Source
    ------
    own-derivation
    """
    holds = curve.flyable & states.holds & (curve.speed >= slowest[:, None])
    current = np.where(holds, states.pack_current, np.inf)
    return current, current / curve.speed
