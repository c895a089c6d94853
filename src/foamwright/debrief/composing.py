"""Channels of a recording out of what columns were taken as."""

from collections.abc import Mapping

import numpy as np

from foamwright.debrief.judging_power import LACKING_PAIRS
from foamwright.debrief.positions import Track, track_of
from foamwright.debrief.recording import CHANNELS
from foamwright.physics.arrays import Grid

NOWHERE = 1e-6
"""A latitude and longitude both smaller are a receiver without a fix [rad]."""
ALL_AROUND = ("course", "heading")
BOTH_WAYS = ("roll", "pitch")
FEWEST_STEPS = 3
SLOW_STEP = 0.3
"""Between positions, from which on a circle is a polygon whose corners count [s]."""
LIKE_STEPS = 1.25
"""Neighbouring steps no further apart than this are taken as even."""
JOINED = 1e-6
"""Steps no further apart than this follow on each other [s]."""
LEAST_VOLTAGE = 1.0
"""Below it power says nothing of current [V]."""


def without_a_fix(channels: Mapping[str, Grid]) -> dict[str, Grid]:
    """Return channels with positions at nowhere taken out."""
    found = dict(channels)
    if {"latitude", "longitude"} <= set(found):
        nowhere = (np.abs(found["latitude"]) < NOWHERE) & (np.abs(found["longitude"]) < NOWHERE)
        for name in ("latitude", "longitude"):
            found[name] = np.where(nowhere, np.nan, found[name])
    return found


def along_the_path(time: Grid, channels: Mapping[str, Grid]) -> tuple[Grid, Grid]:
    """Return speed and course over the ground in each row, from the positions around it.

    A row further than a step of the positions from any has none.
    """
    track = track_of(time, channels["latitude"], channels["longitude"])
    if track.speed.size < FEWEST_STEPS:
        empty = np.full(time.shape, np.nan)
        return empty, empty
    at, velocity = _around_corners(track)
    north, east = (np.interp(time, at, along) for along in velocity)
    place = np.clip(np.searchsorted(track.end, time), 0, track.end.size - 1)
    inside = (time >= track.start[place] - 1e-9) & (time <= track.end[place] + 1e-9)
    speed = np.where(inside, np.hypot(north, east), np.nan)
    return speed, np.where(inside, np.arctan2(east, north), np.nan)


def _around_corners(track: Track) -> tuple[Grid, Grid]:
    """Return times [s] (m,) and velocities north and east [m s^-1] (2, m), right in a circle too.

    A step is a chord: where each turns by 40 degrees, the mean of the two at a position misses
    nine per cent of the speed, which would be taken for wind. What is missed to third order is
    given back from the steps on either side, by Taylor's series; a steady wind stays as it is.
    """
    took = track.end - track.start
    longer, shorter = np.maximum(took[1:], took[:-1]), np.minimum(took[1:], took[:-1])
    even = (longer <= LIKE_STEPS * shorter) & (shorter >= SLOW_STEP)
    even &= np.abs(track.start[1:] - track.end[:-1]) < JOINED
    amid = track.speed * np.array([np.cos(track.course), np.sin(track.course)])
    bend = 2.0 * amid[:, 1:-1] - amid[:, :-2] - amid[:, 2:]
    amid[:, 1:-1] += np.where(even[:-1] & even[1:], bend / 24.0, 0.0)
    four = even[:-2] & even[1:-1] & even[2:]
    corner = (9.0 * (amid[:, 1:-2] + amid[:, 2:-1]) - amid[:, :-3] - amid[:, 3:]) / 16.0
    at = np.concatenate([track.middle, track.end[1:-2][four]])
    order = np.argsort(at, kind="stable")
    return at[order], np.concatenate([amid, corner[:, four]], axis=1)[:, order]


def with_path(time: Grid, channels: dict[str, Grid]) -> tuple[str, ...]:
    """Add speed and course of the positions where neither was recorded; return what was made."""
    if not {"latitude", "longitude"} <= set(channels):
        return ()
    lacking = [name for name in ("ground_speed", "course") if name not in channels]
    if not lacking:
        return ()
    made = dict(zip(("ground_speed", "course"), along_the_path(time, channels), strict=True))
    channels |= {name: made[name] for name in lacking if np.isfinite(made[name]).any()}
    return tuple(f"the {name.replace('_', ' ')} is made of the positions" for name in lacking)


def with_shaft(channels: dict[str, Grid], pole_pairs: int | None) -> tuple[str, ...]:
    """Add the propeller's speed where only electrical revolutions were logged; return what is told.

    Undivided they would teach a motor that there is not.
    """
    if "electrical_rotation_speed" not in channels or "rotation_speed" in channels:
        return ()
    if pole_pairs is None:
        return (f"electrical revolutions are left out: {LACKING_PAIRS}",)
    channels["rotation_speed"] = channels["electrical_rotation_speed"] / pole_pairs
    return (f"the propeller speed is electrical revolutions over {pole_pairs} pole pairs",)


def composed(
    time: Grid, settled: Mapping[str, Grid], pole_pairs: int | None = None
) -> tuple[dict[str, Grid], tuple[str, ...]]:
    """Return the channels of a recording, and what was made of several columns.

    `pole_pairs` of the motor are what electrical revolutions are divided by.
    """
    found, told = without_a_fix(settled), []
    if {"north_speed", "east_speed"} <= set(found):
        north, east = found["north_speed"], found["east_speed"]
        if "ground_speed" not in found:
            found["ground_speed"] = np.hypot(north, east)
            told.append("the ground speed is made of the speeds north and east")
        if "course" not in found:
            found["course"] = np.arctan2(east, north)
            told.append("the course is made of the speeds north and east")
    if "sink_rate" in found and "climb_rate" not in found:
        found["climb_rate"] = -found["sink_rate"]
    if "cell_voltage" in found and "voltage" not in found:
        found["voltage"] = found["cell_voltage"]
    told += with_shaft(found, pole_pairs)
    if {"power", "voltage"} <= set(found) and "current" not in found:
        volts = np.where(found["voltage"] > LEAST_VOLTAGE, found["voltage"], np.nan)
        found["current"] = found["power"] / volts
        told.append("the current is the power over the voltage")
    told += with_path(time, found)
    for name in set(ALL_AROUND) & set(found):
        found[name] = found[name] % (2 * np.pi)
    for name in set(BOTH_WAYS) & set(found):
        found[name] = np.remainder(found[name] + np.pi, 2 * np.pi) - np.pi
    return {name: values for name, values in found.items() if name in CHANNELS}, tuple(told)
