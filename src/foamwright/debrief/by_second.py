"""A flight by the second: airspeed, energy height, load and the pack's power."""

from dataclasses import dataclass

import numpy as np

from foamwright.debrief.evidence import slope_over
from foamwright.debrief.recording import Recording
from foamwright.debrief.scene import Scene
from foamwright.debrief.wind import air_heading
from foamwright.physics.air.atmosphere import GRAVITY
from foamwright.physics.arrays import Flags, Grid

LEFT_OUT = ("bench", "launch", "climb", "landing", "crash")
"""Segments in which the drive works elsewhere, or on which there are forces of the ground."""
CLIMBING, OVER = 1.0, 4.0
"""A faster climb, over so much time, is left out [m s^-1], [s]."""
SHORTEST, LONGEST = 8, 90
"""Stretches are cut to so many seconds."""
AROUND, LONG = 4, 20
"""Seconds to either side over which gusts are averaged out of the airspeed: most, and all."""
OFF = 0.03
"""Throttle up to which the motor stands."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Seconds:
    """Means over a second, one stretch after the other."""

    stretch: Grid
    """Number of the stretch of each (k,)."""
    speed: Grid
    """Airspeed with the gusts in it [m s^-1]."""
    smooth: Grid
    """Airspeed with most of them taken out [m s^-1]."""
    calm: Grid
    """Airspeed without them, and without what it did in between [m s^-1]."""
    energy: Grid
    """Energy height [m]."""
    load: Grid
    power: Grid
    """Of the pack [W]."""
    running: Flags
    """Whether the motor runs."""
    heading: Grid
    """Through the air [rad]."""


def seconds_of_flight(scene: Scene) -> Seconds | None:
    """Return the means over a second of all flying that counts, or None where a channel lacks."""
    log, flown = scene.recording, scene.airspeed
    if flown is None or not log.has("height", "current", "voltage", "throttle"):
        return None
    power = log.channel("current") * log.channel("voltage")
    heading = air_heading(log, scene.wind)
    load = _load(log, flown, heading)
    energy = log.channel("height") + flown**2 / (2.0 * GRAVITY)
    throttle = log.channel("throttle")
    turned = np.zeros(flown.size) if heading is None else np.nan_to_num(heading)
    columns = np.stack(
        [flown, energy, load, power, throttle, np.cos(turned), np.sin(turned)], axis=1
    )
    good = np.isfinite(columns).all(axis=1)
    inside = np.zeros(log.time.size, dtype=bool)
    # In a climb on power the propeller works at less advance, and less well, than in cruise.
    rise = np.nan_to_num(slope_over(log.time, log.channel("height"), OVER))
    good &= (rise < CLIMBING) | (throttle <= OFF)
    for segment in scene.segments:
        if segment.kind not in LEFT_OUT:
            inside |= (log.time >= segment.start) & (log.time <= segment.end)
    return _joined(log.time, columns, _stretches(log.time, good & inside))


def _joined(time: Grid, columns: Grid, stretches: list[slice]) -> Seconds | None:
    """Return columns (k, 7) of stretches as means over a second, or None where too few."""
    parts: list[Grid] = []
    numbers: list[Grid] = []
    for part in stretches:
        means = _means(time[part], columns[part])
        for start in range(0, means.shape[0], LONGEST):
            piece = means[start : start + LONGEST]
            if piece.shape[0] >= SHORTEST:
                numbers.append(np.full(piece.shape[0], float(len(parts))))
                parts.append(piece)
    if not parts:
        return None
    joined = np.vstack(parts)
    return Seconds(
        stretch=np.concatenate(numbers),
        speed=joined[:, 0],
        smooth=np.concatenate([window(part.shape[0], AROUND) @ part[:, 0] for part in parts]),
        calm=np.concatenate([window(part.shape[0], LONG) @ part[:, 0] for part in parts]),
        energy=joined[:, 1],
        load=joined[:, 2],
        power=joined[:, 3],
        running=joined[:, 4] > OFF,
        heading=np.arctan2(joined[:, 6], joined[:, 5]),
    )


def _stretches(time: Grid, good: Flags) -> list[slice]:
    """Return the runs of good rows without a hole."""
    cut = np.flatnonzero(np.diff(time) > 0.5) + 1
    found = []
    for rows in np.split(np.arange(time.size), cut):
        marked = np.concatenate([[False], good[rows], [False]]).astype(int)
        starts, ends = (np.flatnonzero(np.diff(marked) == sign) for sign in (1, -1))
        found += [
            slice(int(rows[0] + a), int(rows[0] + b)) for a, b in zip(starts, ends, strict=True)
        ]
    return found


def _means(time: Grid, columns: Grid) -> Grid:
    """Return the means over whole seconds (s, c)."""
    number = np.floor(time - time[0] + 1e-9).astype(int)
    counts = np.bincount(number).astype(float)
    sums = [np.bincount(number, weights=column) for column in columns.T]
    full = counts >= 0.5 * np.median(counts)
    return np.asarray(np.stack(sums, axis=1)[full] / counts[full, None])


def window(size: int, around: int) -> Grid:
    """Return what takes the mean of so many seconds around each to either side (k, k)."""
    at = np.arange(size)
    inside = np.abs(at[:, None] - at[None, :]) <= around
    return np.asarray(inside / inside.sum(axis=1, keepdims=True))


def _load(log: Recording, flown: Grid, heading: Grid | None) -> Grid:
    """Return the load (k,): by the logged bank, else by how fast the heading turns."""
    if log.has("roll"):
        return np.asarray(1.0 / np.clip(np.cos(log.channel("roll")), 0.25, 1.0))
    if heading is None:
        return np.ones(flown.size)
    reach = max(1, round(1.0 / log.step))
    turned = np.unwrap(np.nan_to_num(heading))
    if turned.size < 2 * reach + 1:
        return np.ones(flown.size)
    inner = (turned[2 * reach :] - turned[: -2 * reach]) / np.maximum(
        log.time[2 * reach :] - log.time[: -2 * reach], 1e-6
    )
    rate = np.pad(inner, reach, mode="edge")
    return np.asarray(np.minimum(np.hypot(1.0, flown * rate / GRAVITY), 4.0))
