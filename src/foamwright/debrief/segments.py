"""Cut a flight into stretches of one kind of flying, never across a hole."""

import itertools

import numpy as np

from foamwright.debrief.outcome import Segment
from foamwright.debrief.recording import Recording
from foamwright.physics.arrays import Flags, Grid

LONGEST_HOLE = 0.5
"""A segment never spans more time than this without rows [s]."""
FLYING = 4.0
"""Slower over the ground, or through the air, is not flying [m s^-1]."""
TURNING = np.radians(8.0)
"""Faster change of course is a turn [rad s^-1]."""
CLIMBING = 1.5
"""Faster is a climb [m s^-1]."""
LAUNCH = 3.0
"""What the launch takes [s]."""
LANDING = 8.0
"""What the landing takes [s]."""
SHORTEST = 2.0
"""A shorter stretch of one kind is left out; launch and crash are kept [s]."""
HARD_STOP = 40.0
"""Slowing down harder than a belly landing does [m s^-2]."""
FULL, OFF, SLOW = 0.95, 0.03, 0.7
"""Throttle from and up to which it counts as full and off; share of the median airspeed."""


def find_segments(recording: Recording, airspeed: Grid | None) -> tuple[Segment, ...]:
    """Return the segments of a flight in time order.

    `airspeed` (k,) [m s^-1] is None where it is not known; no slow flight is told then.
    """
    kinds = _kinds(recording, airspeed)
    cut = np.diff(recording.time) > LONGEST_HOLE
    change = np.flatnonzero(cut | (kinds[1:] != kinds[:-1])) + 1
    edges = [0, *(int(i) for i in change), recording.time.size]
    found = []
    for a, b in itertools.pairwise(edges):
        kind = str(kinds[a])
        start, end = float(recording.time[a]), float(recording.time[b - 1])
        kept = kind in {"launch", "crash", "landing"} or end - start >= SHORTEST
        if kind and kept:
            found.append(Segment(kind=kind, start=start, end=end))
    return tuple(found)


def _kinds(recording: Recording, airspeed: Grid | None) -> np.ndarray:
    """Return the kind of each row (k,), empty where nothing tells."""
    time = recording.time
    kinds = np.full(time.size, "", dtype="<U12")
    speed = recording.channels.get("ground_speed", airspeed)
    if speed is None:
        return kinds
    flying = np.nan_to_num(speed) > FLYING
    kinds[flying] = "cruise"
    kinds[np.isfinite(speed) & ~flying] = "bench"
    for kind, told in _signs(recording, airspeed):
        kinds[flying & told] = kind
    if flying.any():
        _ends(kinds, recording, speed, flying)
    return kinds


def _signs(recording: Recording, airspeed: Grid | None) -> list[tuple[str, Flags]]:
    """Return the marks of each kind of flying, the later ones ruling."""
    signs: list[tuple[str, Flags]] = []
    if airspeed is not None:
        usual = airspeed[airspeed > FLYING]
        slow = airspeed < SLOW * float(np.median(usual)) if usual.size else airspeed < 0.0
        signs.append(("slow flight", slow))
    if recording.has("climb_rate"):
        signs.append(("climb", recording.channel("climb_rate") > CLIMBING))
    if recording.has("throttle"):
        throttle = recording.channel("throttle")
        signs += [("dash", throttle >= FULL), ("glide", throttle <= OFF)]
    if recording.has("course"):
        signs.append(("turn", np.abs(_course_rate(recording)) > TURNING))
    return signs


def _course_rate(recording: Recording) -> Grid:
    """Return how fast the course changes (k,) [rad s^-1], over two seconds, within its stretch."""
    course, rate = recording.channel("course"), np.zeros(recording.time.size)
    holes = np.flatnonzero(np.diff(recording.time) > LONGEST_HOLE) + 1
    reach = max(1, round(1.0 / recording.step))
    for rows in np.split(np.arange(recording.time.size), holes):
        good = rows[np.isfinite(course[rows])]
        if good.size < 2 * reach + 1:
            continue
        turned, time = np.unwrap(course[good]), recording.time[good]
        inner = (turned[2 * reach :] - turned[: -2 * reach]) / (
            time[2 * reach :] - time[: -2 * reach]
        )
        rate[good] = np.pad(inner, reach, mode="edge")
    return rate


def _ends(kinds: np.ndarray, recording: Recording, speed: Grid, flying: Flags) -> None:
    """Mark launch and landing, or crash, where the log shows the ground before and after."""
    time, rows = recording.time, np.flatnonzero(flying)
    first, last = int(rows[0]), int(rows[-1])
    if first > 0 and time[first] - time[first - 1] <= LONGEST_HOLE:
        kinds[flying & (time < time[first] + LAUNCH)] = "launch"
    if last + 1 >= time.size:
        return
    before = speed[(time >= time[last] - 0.5) & (time <= time[last])]
    hard = float(np.nanmax(before)) - float(np.nan_to_num(speed[last + 1]))
    took = float(time[last + 1] - time[last])
    crashed = took <= LONGEST_HOLE and hard / max(took, 0.2) > HARD_STOP
    ending = flying & (time > time[last] - (2.0 if crashed else LANDING))
    kinds[ending] = "crash" if crashed else "landing"
