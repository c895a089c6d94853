"""The last seconds of a flight that ended badly, or in mid-air, beside the flight before them."""

from dataclasses import dataclass

import numpy as np

from foamwright.debrief.last_seen import launch_ground, lies
from foamwright.debrief.outcome import Wind
from foamwright.debrief.scene import Scene
from foamwright.debrief.segments import FLYING
from foamwright.debrief.wind import airspeed, find_wind
from foamwright.physics.arrays import Flags, Grid

LAST = 10.0
"""How much of the end is looked at [s]."""
CLEAR = 8.0
"""Higher above the launch ground is in the air [m]."""
SOON = 1.5
"""Sinking that would reach the ground so soon is a fall, however low it is [s]."""
FALLING = 4.0
"""A landing sinks slower [m s^-1]; common practice, no source."""
LEAST_BEFORE = 15.0
"""With less flight before the end nothing tells what is usual [s]."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Look:
    """What is looked at."""

    scene: Scene
    end: float
    """The blow, or the end of the log [s]."""
    struck: bool
    """Whether the log shows the blow; else it ends in the air."""
    late: Flags
    """Rows of the last seconds (k,)."""
    before: Flags
    """Rows of flight before them (k,)."""
    wind: Wind | None
    """Of the flight before the end, which the fall has no part in; none where it cannot be told."""
    airspeed: Grid | None
    """By that wind, or by the pitot (k,) [m s^-1]; none where neither tells it."""

    def channel(self, name: str) -> Grid | None:
        """Return a channel (k,); none where it was not recorded."""
        return self.scene.recording.channels.get(name)

    @property
    def time(self) -> Grid:
        """Time of the rows (k,) [s]."""
        return self.scene.recording.time


def look_at(scene: Scene) -> Look | None:
    """Return the end of a flight where it struck the ground, or the log stops in the air."""
    recording = scene.recording
    time = recording.time
    crash = next((part for part in reversed(scene.segments) if part.kind == "crash"), None)
    if crash is None and not in_the_air(scene):
        return None
    end = float(time[-1]) if crash is None else crash.end
    speed = recording.channels.get("ground_speed", scene.airspeed)
    if speed is None:
        return None
    flying = np.nan_to_num(speed) > FLYING
    before = flying & (time < end - LAST)
    if np.count_nonzero(before) * recording.step < LEAST_BEFORE:
        return None
    late = (time >= end - LAST) & (time <= end + 1e-9)
    wind, _ = find_wind(recording.between(float(time[0]), end - LAST))
    wind = scene.wind if wind is None else wind
    return Look(
        scene=scene,
        end=end,
        struck=crash is not None,
        late=late,
        before=before,
        wind=wind,
        airspeed=airspeed(recording, wind),
    )


def in_the_air(scene: Scene) -> bool:
    """Return whether the log stops in flight: high up, or sinking too fast to land."""
    recording = scene.recording
    speed = recording.channels.get("ground_speed", scene.airspeed)
    if speed is None or np.nan_to_num(speed[-5:]).max() <= FLYING:
        return False
    height = recording.channels.get("height")
    if height is None or not np.isfinite(height).any():
        return scene.segments == () or scene.segments[-1].kind not in {"landing", "bench"}
    ground, _ = launch_ground(recording)
    known = np.flatnonzero(np.isfinite(height))
    above = float(height[known[-1]]) - ground
    if lies(recording, above):
        return False
    late = known[recording.time[known] >= recording.time[-1] - 1.0]
    took = float(np.ptp(recording.time[late])) if late.size > 1 else 0.0
    sink = float(height[late[0]] - height[late[-1]]) / took if took > 0.0 else 0.0
    return above > CLEAR or (sink > FALLING and above < SOON * sink)


def smoothed(values: Grid, step: float, reach: float) -> Grid:
    """Return means over some time around each row (k,); a row without a value has none."""
    rows = max(1, round(reach / step))
    known = np.isfinite(values)
    window = np.ones(rows)
    count = np.convolve(known, window, "same")
    total = np.convolve(np.where(known, values, 0.0), window, "same")
    return np.where(count > 0.5 * rows, total / np.maximum(count, 1.0), np.nan)


def climb_of(look: Look) -> Grid | None:
    """Return the climb rate (k,) [m s^-1], of the height where no sensor told it."""
    told = look.channel("climb_rate")
    if told is not None:
        return told
    height = look.channel("height")
    if height is None or np.count_nonzero(np.isfinite(height)) < 5:
        return None
    known = np.isfinite(height)
    even = np.interp(look.time, look.time[known], height[known])
    return np.asarray(np.gradient(smoothed(even, look.scene.recording.step, 0.5), look.time))


def longest(seen: Flags, time: Grid, step: float) -> float:
    """Return for how long something was seen without a break [s]; a hole breaks it."""
    most = run = 0.0
    last = None
    for moment, there in zip(time, seen, strict=True):
        near = last is not None and moment - last <= 3.0 * step
        run = (run + step if near and there else step) if there else 0.0
        last, most = moment, max(most, run)
    return most
