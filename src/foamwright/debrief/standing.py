"""Full throttle while standing still before the launch: a bench reading on the field."""

import numpy as np

from foamwright.debrief.outcome import Observation, Segment, Share
from foamwright.debrief.scene import Scene
from foamwright.physics.arrays import Flags

FULL = 0.95
"""Throttle from which it counts as full."""
STANDING = 1.5
"""Faster over the ground is not standing still [m s^-1]: what a receiver at rest shows."""
RUN_UP = 0.7
"""What motor and pack take to settle [s]."""
LEAST = 1.0
"""What has to be left of it [s]."""
BEFORE_LAUNCH = 0.5
"""So long before it flies the throw may have begun [s]."""
SPREADS = {"current": 0.05, "voltage": 0.01, "rotation_speed": 0.015}
"""Relative one sigma: of sensors nobody calibrated; of the propeller's speed, that a breeze on it
changes. Common practice, no source."""


def read_standing(scene: Scene) -> Share:
    """Return current, voltage and propeller speed at full throttle, standing still."""
    log = scene.recording
    if not log.has("throttle", "ground_speed"):
        return Share()
    segment = _longest(scene)
    if segment is None:
        return Share()
    inside = (log.time >= segment.start + RUN_UP) & (log.time <= segment.end)
    found = []
    for channel, relative in SPREADS.items():
        values = log.channels[channel][inside] if log.has(channel) else np.zeros(0)
        if np.count_nonzero(np.isfinite(values)) < 3:
            continue
        value = float(np.nanmean(values))
        if value > 0.0:
            found.append(
                Observation(
                    name=f"static_{channel}", value=value, sd=relative * value, segment=segment.name
                )
            )
    return Share(observations=tuple(found))


def _longest(scene: Scene) -> Segment | None:
    """Return the longest run-up at full throttle before the first flight, or None."""
    log = scene.recording
    aloft = [one.start for one in scene.segments if one.kind != "bench"]
    until = min(aloft, default=float(log.time[-1]) + 1.0) - BEFORE_LAUNCH
    told = (log.channel("throttle") >= FULL) & (log.time <= until)
    told &= np.nan_to_num(log.channel("ground_speed"), nan=np.inf) < STANDING
    runs = [run for part in log.stretches() for run in _runs(told, part, log.time)]
    long = [run for run in runs if run.end - run.start >= RUN_UP + LEAST]
    return max(long, key=lambda run: run.end - run.start, default=None)


def _runs(told: Flags, part: slice, time: np.ndarray) -> list[Segment]:
    """Return the runs of marked rows in one stretch without a gap."""
    marked = np.concatenate([[False], told[part], [False]]).astype(int)
    starts, ends = (np.flatnonzero(np.diff(marked) == sign) for sign in (1, -1))
    first = part.start or 0
    return [
        Segment(kind="bench", start=float(time[first + a]), end=float(time[first + b - 1]))
        for a, b in zip(starts, ends, strict=True)
    ]
