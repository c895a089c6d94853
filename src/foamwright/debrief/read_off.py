"""What is read straight off a recording or off the recorded screen: no wind, no model."""

from dataclasses import dataclass

import numpy as np

from foamwright.debrief.recording import Recording
from foamwright.physics.arrays import Grid

LONGEST_HOLD = 0.5
"""A value is not taken to last longer than this [s]."""
MOMENT = 1.0
"""Peaks are means over this, so that one odd row makes none [s]."""
DOPPLER = 0.15
"""Of a speed over the ground in the open [m s^-1]; common practice, no source."""
SENSOR = 0.05
"""Of a current sensor nobody calibrated, relative; common practice, no source."""
VOLT = 0.01
"""Of a voltage divider, relative; common practice, no source."""
HEIGHT = 3.0
"""Of a height [m]; common practice, no source."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Reading:
    """One number that was read."""

    name: str
    """The JSON name."""
    label: str
    """The words for it."""
    value: float
    """[SI]."""
    spread: float
    """One standard deviation [SI]."""
    unit: str
    """The SI unit."""
    dimension: str
    """Which dimension of `quantity` it has."""
    speed: float | None = None
    """Airspeed it belongs to [m s^-1], where it needs one."""
    time: float | None = None
    """How long it took [s], where it needs that."""
    rotation_speed: float | None = None
    """Of the propeller [s^-1], where it needs that."""
    voltage: float | None = None
    """Of the pack under that load [V], where it needs that."""


def peak(recording: Recording, name: str, *, low: bool = False) -> float | None:
    """Return the highest (or lowest) mean over a moment that lies in no gap; none if unknown."""
    found = []
    for part in recording.stretches():
        time, values = recording.time[part], recording.channels[name][part]
        known = np.isfinite(values)
        if np.count_nonzero(known) > 1 and np.ptp(time[known]) >= MOMENT:
            found.append(moments(time[known], values[known]))
    if not found:
        return None
    means = np.concatenate(found)
    return float(means.min() if low else means.max())


def moments(time: Grid, values: Grid) -> Grid:
    """Return the mean over the moment after each row that has one."""
    sums = np.concatenate(([0.0], np.cumsum(0.5 * (values[1:] + values[:-1]) * np.diff(time))))
    start = time[time <= time[-1] - MOMENT + 1e-9]
    after = np.interp(start + MOMENT, time, sums)
    return np.asarray((after - np.interp(start, time, sums)) / MOMENT)


def integrated(recording: Recording) -> float | None:
    """Return the charge under the recorded current, gaps left out [C]; none without a current."""
    if not recording.has("current"):
        return None
    total = 0.0
    for part in recording.stretches():
        time, values = recording.time[part], recording.channels["current"][part]
        known = np.isfinite(values)
        at, held = time[known], values[known]
        if at.size > 1:
            steps = np.minimum(np.diff(at), max(LONGEST_HOLD, 2 * recording.step))
            total += float(np.sum(0.5 * (held[1:] + held[:-1]) * steps))
    return total


def counted(recording: Recording) -> float | None:
    """Return how far the counter of charge ran [C]; none without one."""
    if not recording.has("charge_used"):
        return None
    values = recording.channels["charge_used"]
    known = values[np.isfinite(values)]
    return float(known[-1] - known[0]) if known.size > 1 else None


def charge(recording: Recording) -> float | None:
    """Return the charge a log tells [C]: counted, which gaps do not harm, else integrated."""
    found = counted(recording)
    return integrated(recording) if found is None else found


PEAKS = (
    ("top_ground_speed", "top speed over the ground", "ground_speed", "m s^-1", "speed"),
    ("highest_current", "highest current", "current", "A", "current"),
    ("lowest_voltage", "lowest pack voltage", "voltage", "V", "voltage"),
    ("highest_rotation", "highest propeller speed", "rotation_speed", "s^-1", "rotation speed"),
)


def spread_of(channel: str, value: float) -> float:
    """Return the standard deviation of a peak of a channel [SI]."""
    own = {"ground_speed": DOPPLER, "current": SENSOR * abs(value), "voltage": VOLT * abs(value)}
    return max(own.get(channel, 0.005 * abs(value)), 1e-6)


def readings_of(recording: Recording) -> tuple[Reading, ...]:
    """Return what a recording tells without a model or the wind."""
    lasted = float(recording.time[-1] - recording.time[0])
    found = [
        Reading(
            name="recorded_time",
            label="from the first row to the last",
            value=lasted,
            spread=max(recording.step, 1e-3),
            unit="s",
            dimension="time",
        )
    ]
    for name, label, channel, unit, dimension in PEAKS:
        value = (
            peak(recording, channel, low=name.startswith("lowest"))
            if recording.has(channel)
            else None
        )
        if value is not None:
            found.append(
                Reading(
                    name=name,
                    label=label,
                    value=value,
                    spread=spread_of(channel, value),
                    unit=unit,
                    dimension=dimension,
                )
            )
    return (*found, *risen(recording), *drawn(recording))


def risen(recording: Recording) -> tuple[Reading, ...]:
    """Return how far above its first height the flight went."""
    if not recording.has("height"):
        return ()
    height = recording.channels["height"]
    known = height[np.isfinite(height)]
    return (
        Reading(
            name="greatest_height",
            label="greatest height above the first row",
            value=float(known.max() - known[0]),
            spread=HEIGHT,
            unit="m",
            dimension="elevation",
        ),
    )


def drawn(recording: Recording) -> tuple[Reading, ...]:
    """Return the charge the log tells."""
    value = charge(recording)
    if value is None or value <= 0:
        return ()
    return (
        Reading(
            name="charge_logged",
            label="charge the log counts",
            value=value,
            spread=SENSOR * value,
            unit="A s",
            dimension="charge",
        ),
    )
