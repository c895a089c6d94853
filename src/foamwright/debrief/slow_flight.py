"""The lowest airspeed flown at a load of one, and whether it was the stall."""

from dataclasses import dataclass

import numpy as np

from foamwright.debrief.gusts import left_in_mean
from foamwright.debrief.outcome import Observation, Share
from foamwright.debrief.recording import Recording
from foamwright.debrief.scene import Scene
from foamwright.debrief.wind import off_by_wind
from foamwright.physics.air.atmosphere import GRAVITY
from foamwright.physics.arrays import Flags, Grid
from foamwright.quantity import show

HELD = 2.0
"""A speed counts as flown when it was held for so long [s]."""
LOAD = 0.1
"""How far the load may be from one."""
BANK = np.radians(20.0)
"""More bank is more load; at this it is 6 % [rad]."""
SINKING = 1.0
"""Faster sink or climb is no level flight [m s^-1]."""
BREAK = 2.5
"""Time after the lowest speed in which a stall shows [s]."""
DROPS, FALLS = 2.0, 2.5
"""Height that is lost then, and sink that is reached [m], [m s^-1]."""
NODS = np.radians(8.0)
"""How far the nose goes down [rad]."""
UNLOADS = 0.75
"""Load that is not reached any more."""
CLOSED = 0.1
"""A throttle that falls by more makes the drop no stall."""
NEARLY = 0.5
"""Speeds so near the lowest are looked behind for a stall [m s^-1]."""
AS_SLOW = 1.5
"""Speeds within so many sigma of the lowest may have been the lowest but for the gusts."""
SLOW = 0.8
"""Share of the mean airspeed under which a flight was flown slowly at all."""
OFF_THE_GROUND = 5.0
"""Lower above the lowest row it may be the landing [m]."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Lowest:
    """The lowest speed flown level."""

    row: int
    """Last row it was held in."""
    speed: float
    """Without what gusts make the lowest of many look lower [m s^-1]."""
    sd: float
    """[m s^-1]."""
    broke: str
    """How the stall showed right after it; empty where it did not."""


def read_slow(scene: Scene) -> Share:
    """Return the lowest speed flown level; it is the stall only where a break is seen.

    Without a break it is no more than an upper bound of the stall speed, and teaches as one.
    """
    found = lowest_speed(scene)
    if found is None:
        return Share()
    at = f"at {scene.recording.time[found.row]:.0f} s"
    seen = Observation(
        name="stall_speed" if found.broke else "lowest_speed",
        value=found.speed,
        sd=found.sd,
        segment=f"break {at}: {found.broke}" if found.broke else at,
        speed=found.speed,
    )
    said = "the stall speed: it was flown down to no break; nose or height have to drop"
    return Share(observations=(seen,), not_said=() if found.broke else (said,))


def lowest_speed(scene: Scene) -> Lowest | None:
    """Return the lowest airspeed held level at a load of one, or None."""
    log, flown = scene.recording, scene.airspeed
    if flown is None or not log.has("height"):
        return None
    height = log.channel("height")
    climb = _rate(log, height)
    fine = _fine(scene, flown, height, climb)
    speeds = _held(log, flown, fine)
    if not np.isfinite(speeds).any():
        return None
    least = float(speeds.min())
    if least > SLOW * float(np.nanmean(flown[fine])):
        return None
    gusty = left_in_mean(scene.gusts, HELD)

    def off(row: int) -> float:
        """Return one sigma of the speed held up to a row."""
        rows = slice(max(0, row + 1 - max(2, round(HELD / log.step))), row + 1)
        return float(np.hypot(gusty, off_by_wind(log, scene.wind, rows)))

    # A stall may come some time after the lowest speed: every row about as slow is looked behind.
    for row in map(int, np.flatnonzero(speeds < least + NEARLY)):
        broke = _broke(scene, row, climb)
        if broke:
            return Lowest(row=row, speed=float(speeds[row]), sd=off(row), broke=broke)
    seconds = log.step * float(np.count_nonzero(speeds < least + AS_SLOW * gusty))
    apart = HELD + scene.gusts.time
    lowest = int(np.argmin(speeds))
    return Lowest(
        row=lowest,
        speed=least + gusty * lowest_of(seconds / apart),
        sd=off(lowest),
        broke="",
    )


def lowest_of(count: float) -> float:
    """Return how many sigma the lowest of so many unrelated readings lies too low (blom-1958)."""
    from scipy.special import ndtri  # noqa: PLC0415 - slow to import, only needed here

    several = max(count, 1.0)
    return float(ndtri((several - 0.375) / (several + 0.25)))


def _held(log: Recording, flown: Grid, fine: Flags) -> Grid:
    """Return the mean airspeed of the time up to each row (k,), infinite where it was not held."""
    size = max(2, round(HELD / log.step))
    held = np.full(flown.size, np.inf)
    for part in log.stretches():
        if flown[part].size < size:
            continue
        speeds = np.lib.stride_tricks.sliding_window_view(flown[part], size).mean(axis=1)
        good = np.lib.stride_tricks.sliding_window_view(fine[part], size).all(axis=1)
        held[part][size - 1 :] = np.where(good & np.isfinite(speeds), speeds, np.inf)
    return held


def _fine(scene: Scene, flown: Grid, height: Grid, climb: Grid) -> Flags:
    """Return the rows in level flight at a load of one, clear of the ground (k,)."""
    log = scene.recording
    fine = np.isfinite(flown) & (np.abs(climb) < SINKING)
    fine &= height > float(np.nanmin(height)) + OFF_THE_GROUND
    for segment in scene.segments:
        if segment.kind in ("bench", "launch", "landing", "crash", "turn"):
            fine &= (log.time < segment.start) | (log.time > segment.end)
    if log.has("up_acceleration"):
        size = max(1, round(1.0 / log.step))
        load = np.convolve(log.channel("up_acceleration"), np.ones(size) / size, mode="same")
        fine &= np.abs(load / GRAVITY - 1.0) < LOAD
    if log.has("roll"):
        fine &= np.abs(log.channel("roll")) < BANK
    return np.asarray(fine)


def _rate(log: Recording, height: Grid) -> Grid:
    """Return the climb rate (k,) [m s^-1]: the logged one, else over a second of height."""
    if log.has("climb_rate"):
        return log.channel("climb_rate")
    reach = max(1, round(0.5 / log.step))
    inner = (height[2 * reach :] - height[: -2 * reach]) / np.maximum(
        log.time[2 * reach :] - log.time[: -2 * reach], 1e-6
    )
    if inner.size == 0:
        return np.full(height.size, np.nan)
    return np.pad(inner, reach, mode="edge")


def _broke(scene: Scene, row: int, climb: Grid) -> str:
    """Return how a stall shows after a row, empty where none does.

    The height has to drop without the throttle being closed; nose or load have to say the same
    where they were logged.
    """
    log = scene.recording
    after = slice(row, int(np.searchsorted(log.time, log.time[row] + BREAK)) + 1)
    height = log.channel("height")[after]
    if height.size < 3 or np.any(np.diff(log.time[after]) > 0.5):
        return ""
    lost = float(height[0] - np.nanmin(height))
    drops = lost >= DROPS and float(np.nanmin(climb[after])) <= -FALLS
    around = slice(int(np.searchsorted(log.time, log.time[row] - HELD)), after.stop)
    if not drops or _fallen(log, "throttle", around) > CLOSED:
        return ""
    said = f"{show(lost, 'elevation', scene.facts.units)} were lost in {BREAK:.1f} s"
    if log.has("pitch"):
        return f"{said}, the nose went down" if _fallen(log, "pitch", after) >= NODS else ""
    if log.has("up_acceleration"):
        load = float(np.nanmin(log.channel("up_acceleration")[after])) / GRAVITY
        return f"{said} at a load of {load:.1f}" if load < UNLOADS else ""
    return ""


def _fallen(log: Recording, name: str, after: slice) -> float:
    """Return how far a channel fell below its first value, nothing where it was not logged."""
    if not log.has(name):
        return 0.0
    values = log.channel(name)[after]
    return float(values[0] - np.nanmin(values))
