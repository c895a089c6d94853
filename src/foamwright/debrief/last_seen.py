"""What the log last knew of an aeroplane: where, how high, how fast, which way."""

from dataclasses import dataclass

import numpy as np

from foamwright.debrief.geodesy import Spot
from foamwright.debrief.positions import track_of
from foamwright.debrief.recording import Recording
from foamwright.debrief.segments import FLYING
from foamwright.physics.arrays import Flags, Grid
from foamwright.problems import CallProblem

STANDING = 2.5
"""Slower over the ground may be lying there [m s^-1]."""
LOOK_BACK, TURN_BACK = 1.0, 2.0
"""Speed and climb are means over this before the last fix, the turn over that [s]."""
LYING = 1.5
"""It has to lie so long before the log ends [s]."""
NEAR_GROUND = 10.0
"""A height this near the launch ground may be the ground [m]; common practice, no source."""
STILL = 1.0
"""A height that changes less while lying is held [m]."""
FIX_SPREAD = 4.0
"""Of a small receiver in the open, north or east [m], one sigma; common practice, no source."""
HEIGHT_SPREAD = 5.0
"""Of a height above the launch ground [m], one sigma; common practice, no source."""
LONGEST_DRIFT = 15.0
"""A height is not taken to get less sure for longer than this [s]; common practice, no source."""
HELD = 10.0
"""A height that is the same for longer in flight is no longer measured [s]."""
DRIFT = 2.0
"""How fast the height gets unsure while it is not told [m s^-1]; common practice, no source."""
LATE_HOLE = 30.0
"""A hole so near the end is told [s]."""


@dataclass(frozen=True, kw_only=True, slots=True)
class LastSeen:
    """The end of a log."""

    spot: Spot
    """The last fix."""
    fix_time: float
    """When the position last changed [s]."""
    fix_spread: float
    """One sigma of it, north or east [m]."""
    stale: float
    """From the last fix to the last row [s]."""
    height: float | None
    """Above the launch ground at the last row [m]; none where the log holds no height."""
    height_spread: float
    """One sigma of it [m]."""
    north: float | None
    """Speed over the ground, north part [m s^-1]; none where it cannot be told."""
    east: float | None
    """East part [m s^-1]."""
    climb: float | None
    """[m s^-1]; none where it cannot be told."""
    turn: float
    """Change of course, clockwise positive [rad s^-1]; 0 where it cannot be told."""
    grounded: bool
    """Whether the aeroplane lay on the ground when the log ended."""
    start: Spot | None
    """The first fix, taken as the place of the take-off; none where nobody told it."""
    hole: float
    """The longest hole in the last half minute [s]; 0 without one."""
    assumed: tuple[str, ...]
    """What was assumed."""
    logged: bool = True
    """Whether a log told all this, not somebody who read it off a screen."""

    @property
    def speed(self) -> float | None:
        """Speed over the ground [m s^-1]."""
        if self.north is None or self.east is None:
            return None
        return float(np.hypot(self.north, self.east))

    @property
    def course(self) -> float | None:
        """Course over the ground, clockwise from north [deg]."""
        if self.north is None or self.east is None:
            return None
        return float(np.degrees(np.arctan2(self.east, self.north)) % 360.0)


def last_seen(recording: Recording) -> LastSeen:
    """Return what the log last knew; raises CallProblem where it holds no position."""
    known = known_fixes(recording)
    row = last_move(recording, known)
    time, end = float(recording.time[row]), float(recording.time[-1])
    velocity = velocity_at(recording, row)
    height, spread, told = height_at_end(recording)
    grounded = lies(recording, height)
    return LastSeen(
        spot=spot_at(recording, row),
        fix_time=time,
        fix_spread=fix_spread(recording, row),
        stale=0.0 if grounded else end - time,
        height=height,
        height_spread=spread,
        north=None if velocity is None else velocity[0],
        east=None if velocity is None else velocity[1],
        climb=climb_at(recording, end),
        turn=turn_at(recording, row),
        grounded=grounded,
        start=spot_at(recording, int(known[0])),
        hole=late_hole(recording),
        assumed=told,
    )


def known_fixes(recording: Recording) -> np.ndarray:
    """Return the rows with a position; raises CallProblem where there is none."""
    if not recording.has("latitude", "longitude"):
        raise CallProblem(
            "the log holds no position",
            expected="a log with latitude and longitude; say which columns with --take",
        )
    lat, lon = recording.channel("latitude"), recording.channel("longitude")
    known = np.flatnonzero(np.isfinite(lat) & np.isfinite(lon))
    if known.size == 0:
        raise CallProblem(
            "the receiver never found a position in this log",
            expected="a log in which latitude and longitude are there in some rows",
        )
    return known


def last_move(recording: Recording, known: np.ndarray) -> int:
    """Return the row in which the position last changed: held on, it is no news."""
    lat, lon = recording.channel("latitude")[known], recording.channel("longitude")[known]
    moved = np.flatnonzero((np.diff(lat) != 0.0) | (np.diff(lon) != 0.0))
    return int(known[moved[-1] + 1]) if moved.size else int(known[0])


def spot_at(recording: Recording, row: int) -> Spot:
    """Return the position in a row."""
    return Spot(
        latitude=float(np.degrees(recording.channel("latitude")[row])),
        longitude=float(np.degrees(recording.channel("longitude")[row])),
    )


def fix_spread(recording: Recording, row: int) -> float:
    """Return how sure the receiver was of a row, never surer than a small receiver is."""
    claimed = recording.channels.get("position_error")
    if claimed is None or not np.isfinite(claimed[row]):
        return FIX_SPREAD
    return float(max(FIX_SPREAD, float(claimed[row]) / np.sqrt(2.0)))


def before(recording: Recording, end: float, reach: float) -> Flags:
    """Return the rows of some time before an end, those behind a hole left out (k,)."""
    start = end - reach
    for gap in recording.gaps:
        if start < gap.end <= end:
            start = gap.end
    return np.asarray((recording.time >= start - 1e-9) & (recording.time <= end + 1e-9))


def velocity_at(recording: Recording, row: int) -> tuple[float, float] | None:
    """Return the speed north and east up to a row; from the positions where nothing else tells."""
    end = float(recording.time[row])
    if recording.has("ground_speed", "course"):
        speed, course = recording.channel("ground_speed"), recording.channel("course")
        rows = before(recording, end, LOOK_BACK) & np.isfinite(speed) & np.isfinite(course)
        if rows.any():
            return (
                float(np.mean(speed[rows] * np.cos(course[rows]))),
                float(np.mean(speed[rows] * np.sin(course[rows]))),
            )
    path = track_of(recording.time, recording.channel("latitude"), recording.channel("longitude"))
    late = path.end > end - 2.0 * LOOK_BACK
    if not late.any():
        return None
    speed, course = path.speed[late], path.course[late]
    return float(np.mean(speed * np.cos(course))), float(np.mean(speed * np.sin(course)))


def turn_at(recording: Recording, row: int) -> float:
    """Return how fast the course changed up to a row [rad s^-1]; 0 where it cannot be told."""
    if not recording.has("ground_speed", "course"):
        return 0.0
    course, speed = recording.channel("course"), recording.channel("ground_speed")
    rows = before(recording, float(recording.time[row]), TURN_BACK)
    rows &= np.isfinite(course) & (np.nan_to_num(speed) > FLYING)
    time = recording.time[rows]
    if time.size < 3 or np.ptp(time) < 0.5 * TURN_BACK:
        return 0.0
    return slope(time, np.unwrap(course[rows]))


def slope(time: Grid, values: Grid) -> float:
    """Return the slope of a line through values (k,) over time (k,)."""
    away = time - time.mean()
    return float(away @ values / (away @ away))


def climb_at(recording: Recording, end: float) -> float | None:
    """Return the climb rate at the end [m s^-1], of the height where no sensor told it."""
    rows = before(recording, end, LOOK_BACK)
    if recording.has("climb_rate"):
        known = recording.channel("climb_rate")[rows]
        if np.isfinite(known).any():
            return float(np.nanmean(known))
    if not recording.has("height"):
        return None
    height = recording.channel("height")
    rows = before(recording, end, 2.0 * LOOK_BACK) & np.isfinite(height)
    if np.count_nonzero(rows) < 3 or np.ptp(recording.time[rows]) < LOOK_BACK:
        return None
    return slope(recording.time[rows], height[rows])


def height_at_end(recording: Recording) -> tuple[float | None, float, tuple[str, ...]]:
    """Return the height above the launch ground at the end, its spread, and what was assumed."""
    height = recording.channels.get("height")
    if height is None or not np.isfinite(height).any():
        return None, 0.0, ()
    known = np.flatnonzero(np.isfinite(height))
    moved = np.flatnonzero(np.diff(height[known]) != 0.0)
    last = int(known[moved[-1] + 1]) if moved.size else int(known[-1])
    ground, told = launch_ground(recording)
    late = float(recording.time[-1] - recording.time[last])
    reached = float(height[last]) - ground
    silent = late > (LOOK_BACK if known[-1] == last else HELD)
    if silent and not lies(recording, reached):
        # Nobody knows how it went on: less sure by the second, faster where it moved fast.
        rate = climb_at(recording, float(recording.time[last])) or 0.0
        spread = float(np.hypot(HEIGHT_SPREAD, max(DRIFT, abs(rate)) * min(late, LONGEST_DRIFT)))
        told = (*told, f"the height was last told {late:.0f} s before the log ends")
        return reached, spread, told
    return reached, HEIGHT_SPREAD, told


def launch_ground(recording: Recording) -> tuple[float, tuple[str, ...]]:
    """Return the height of the launch ground as the sensor tells it, and what was assumed."""
    height = recording.channel("height")
    known = np.isfinite(height)
    speed = recording.channels.get("ground_speed")
    if speed is not None:
        flying = np.flatnonzero(np.nan_to_num(speed) > FLYING)
        first = int(flying[0]) if flying.size else recording.time.size
        waiting = known & (np.arange(recording.time.size) < first)
        if waiting.any():
            return float(np.median(height[waiting])), ()
    lowest = float(np.min(height[known]))
    return lowest, ("the lowest height of the log is taken as the ground at the take-off",)


def lies(recording: Recording, height: float | None) -> bool:
    """Return whether the aeroplane lay on the ground when the log ended."""
    speed = recording.channels.get("ground_speed")
    if speed is None:
        return False
    reach = max(LYING, 3.0 * recording.step)
    rows = before(recording, float(recording.time[-1]), reach) & np.isfinite(speed)
    if np.count_nonzero(rows) < 3 or np.ptp(recording.time[rows]) < 0.6 * LYING:
        return False
    if float(speed[rows].max()) > STANDING:
        return False
    if height is None:
        return True
    told = recording.channel("height")[rows]
    held = np.isfinite(told).any() and float(np.nanmax(told) - np.nanmin(told)) < STILL
    # Standing still against a strong wind is flying: the height then says so.
    return bool(abs(height) < NEAR_GROUND or (held and float(speed[rows].max()) < 0.5 * STANDING))


def late_hole(recording: Recording) -> float:
    """Return the longest hole in the last half minute [s]."""
    since = float(recording.time[-1]) - LATE_HOLE
    return max((gap.end - gap.start for gap in recording.gaps if gap.end > since), default=0.0)
