"""A flight as it was recorded: channels in SI on one clock, gaps kept as gaps."""

import itertools
from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from foamwright.physics.arrays import Grid
from foamwright.problems import CallProblem

CHANNELS: Mapping[str, str] = {
    "latitude": "rad",
    "longitude": "rad",
    "height": "m",
    "ground_speed": "m s^-1",
    "course": "rad",
    "climb_rate": "m s^-1",
    "airspeed": "m s^-1",
    "voltage": "V",
    "current": "A",
    "charge_used": "C",
    "throttle": "-",
    "rotation_speed": "s^-1",
    "roll": "rad",
    "pitch": "rad",
    "heading": "rad",
    "roll_rate": "rad s^-1",
    "pitch_rate": "rad s^-1",
    "yaw_rate": "rad s^-1",
    "roll_rate_wanted": "rad s^-1",
    "pitch_rate_wanted": "rad s^-1",
    "yaw_rate_wanted": "rad s^-1",
    "aileron": "-",
    "elevator": "-",
    "rudder": "-",
    "forward_acceleration": "m s^-2",
    "side_acceleration": "m s^-2",
    "up_acceleration": "m s^-2",
    "satellites": "-",
    "position_error": "m",
    "signal_strength": "dB",
    "link_quality": "-",
    "temperature": "K",
}
"""Every channel a recording may hold, with its SI unit.

Courses and headings run clockwise from north; roll right wing down, pitch nose up, yaw nose right
positive; stick and surface shares run -1 to 1, throttle 0 to 1, link quality 0 to 1;
up acceleration is the load the wing feels, +9.8 in level flight; position error is the one sigma
the receiver claims, horizontal.
"""


@dataclass(frozen=True, kw_only=True, slots=True)
class Gap:
    """A stretch in which nothing was recorded."""

    start: float
    """Last time before it [s]."""
    end: float
    """First time after it [s]."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Recording:
    """One flight."""

    time: Grid
    """Since the first row, rising (k,) [s]."""
    channels: Mapping[str, Grid]
    """By name as in `CHANNELS`, SI; NaN where a channel has no value in that row (k,)."""
    gaps: tuple[Gap, ...] = ()
    """Where rows are missing: nothing may be drawn or integrated across as if measured."""
    step: float = 0.1
    """Usual time between rows [s]."""

    @property
    def coverage(self) -> float:
        """Share of the time between the first and last row that was recorded."""
        whole = float(self.time[-1] - self.time[0]) if self.time.size > 1 else 0.0
        missing = sum(gap.end - gap.start - self.step for gap in self.gaps)
        return 1.0 if whole <= 0.0 else max(0.0, 1.0 - missing / whole)

    def has(self, *names: str) -> bool:
        """Return whether every one of some channels was recorded."""
        return all(name in self.channels for name in names)

    def channel(self, name: str) -> Grid:
        """Return a channel (k,); raises CallProblem where it was not recorded."""
        if name not in self.channels:
            known = ", ".join(sorted(self.channels))
            raise CallProblem(f"the log holds no {name.replace('_', ' ')}", expected=known)
        return self.channels[name]

    def between(self, start: float, end: float) -> "Recording":
        """Return the rows from one time to another [s], with the gaps inside."""
        chosen = (self.time >= start) & (self.time <= end)
        return Recording(
            time=self.time[chosen],
            channels={name: values[chosen] for name, values in self.channels.items()},
            gaps=tuple(gap for gap in self.gaps if gap.end > start and gap.start < end),
            step=self.step,
        )

    def stretches(self) -> tuple[slice, ...]:
        """Return the runs of rows without a gap in between."""
        ends = np.searchsorted(self.time, [gap.end for gap in self.gaps])
        edges = [0, *(int(end) for end in ends), self.time.size]
        return tuple(slice(a, b) for a, b in itertools.pairwise(edges) if b > a)
