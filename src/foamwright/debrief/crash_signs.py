"""Signs in the last seconds of a flight: seen, not seen, or not to be told from this log."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass

import numpy as np

from foamwright.debrief.crash_look import Look, climb_of, longest, smoothed
from foamwright.physics.air.atmosphere import GRAVITY
from foamwright.physics.arrays import Flags, Grid

COLLAPSED = 0.82
"""Below this share of the lowest voltage before, the voltage collapsed."""
UP, OFF = 0.3, 0.03
"""Throttle that turns a motor well, and that counts as off [-]."""
DEAD = 0.15
"""Below this share of the current usual at such a throttle, the motor does not pull."""
SLOW, FAST = 0.85, 1.12
"""Of the slowest and fastest flown before."""
STEEP = np.radians(30.0)
"""A steeper path is a dive [rad]."""
HARD = 3.0 * GRAVITY
"""A smaller load breaks nothing [m s^-2]."""
MORE = 1.3
"""Of the largest load and of the fastest roll before."""
DROP = np.radians(70.0)
"""A wing that falls so far in a second has dropped [rad]."""
LOST, QUIET = 0.3, 6.0
"""Link quality that is lost [-]; how far below the weakest signal before [dB]."""
SHAKING, LOUDER, SWINGS = np.radians(60.0), 3.0, 4
"""Root mean square of a wobble [rad s^-1], over that before, and changes of sign in two seconds."""
BRISK, LOW = 2.5, 40.0
"""Wind from which a turn downwind matters [m s^-1], and the height below which [m]."""
AGAINST, WITH, SPENT = -0.3, 0.5, 0.9
"""Cosines of the course to the wind's that are against it and with it; airspeed left of that
flown against it [-]."""
ROWS = 5
"""Fewer rows tell nothing."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Sign:
    """A sign: the words for it, seen and missed, and how it is looked for."""

    seen: str
    """What is said where it was seen."""
    missed: str
    """What is said where it could have been seen and was not."""
    look: Callable[[Look], bool | None]
    """Whether it was seen; none where this log cannot tell."""


def enough(values: Grid | None, rows: Flags) -> Grid | None:
    """Return the known values in some rows; none where there are too few."""
    if values is None:
        return None
    known = values[rows & np.isfinite(values)]
    return known if known.size >= ROWS else None


def mean_of(look: Look, values: Grid | None, reach: float) -> Grid | None:
    """Return a channel smoothed over some seconds."""
    return None if values is None else smoothed(values, look.scene.recording.step, reach)


def voltage_collapsed(look: Look) -> bool | None:
    """Return whether the pack's voltage fell far below all before."""
    late = enough(look.channel("voltage"), look.late)
    before = enough(look.channel("voltage"), look.before)
    if late is None or before is None:
        return None
    return bool(np.sort(late)[1] < COLLAPSED * np.quantile(before, 0.01))


def motor_dead(look: Look) -> bool | None:
    """Return whether the motor took no current though the throttle was up."""
    throttle = look.channel("throttle")
    pull = look.channel("current")
    pull = look.channel("rotation_speed") if pull is None else pull
    if throttle is None or pull is None:
        return None
    asked = np.nan_to_num(throttle) > UP
    usual = enough(pull, look.before & asked)
    late = look.late & asked & np.isfinite(pull)
    if usual is None or np.count_nonzero(late) < ROWS:
        return None
    dead = look.late & asked & (pull < DEAD * float(np.median(usual)))
    return longest(dead[look.late], look.time[look.late], look.scene.recording.step) >= 0.8


def slower_than_ever(look: Look) -> bool | None:
    """Return whether it flew slower through the air than ever before."""
    speed = mean_of(look, look.airspeed, 0.5)
    late, before = enough(speed, look.late), enough(speed, look.before)
    if late is None or before is None:
        return None
    return bool(late.min() < SLOW * np.quantile(before, 0.02))


def faster_than_ever(look: Look) -> bool | None:
    """Return whether it flew faster through the air than ever before."""
    speed = mean_of(look, look.airspeed, 0.4)
    late, before = enough(speed, look.late), enough(speed, look.before)
    if late is None or before is None:
        return None
    return bool(late.max() > FAST * before.max())


def dived(look: Look) -> bool | None:
    """Return whether the path was steep for half a second, before the blow."""
    climb = mean_of(look, climb_of(look), 0.4)
    speed = look.channel("ground_speed")
    speed = look.airspeed if speed is None else speed
    if climb is None or speed is None or enough(climb, look.late) is None:
        return None
    # Over the ground a vertical dive stands still, so the angle is taken from both parts.
    steep = np.arctan2(-climb, np.maximum(np.nan_to_num(speed), 0.1)) > STEEP
    rows = look.late
    return longest(steep[rows], look.time[rows], look.scene.recording.step) >= 0.5


def before_blow(look: Look) -> Flags:
    """Return the late rows without those of the blow itself (k,)."""
    reach = 0.3 if look.struck else 0.0
    return np.asarray(look.late & (look.time < look.end - reach + 1e-9))


def loaded(look: Look) -> bool | None:
    """Return whether it pulled harder than ever before, the blow left out."""
    load = look.channel("up_acceleration")
    late, before = enough(load, before_blow(look)), enough(load, look.before)
    if late is None or before is None:
        return None
    return bool(np.abs(late).max() > max(MORE * np.abs(before).max(), HARD))


def wing_dropped(look: Look) -> bool | None:
    """Return whether it rolled farther in a second than ever before."""
    turned = rolled(look)
    if turned is None:
        return None
    late, before = enough(turned, before_blow(look)), enough(turned, look.before)
    if late is None or before is None:
        return None
    return bool(late.max() > max(DROP, MORE * np.quantile(before, 0.99)))


def rolled(look: Look) -> Grid | None:
    """Return how far it rolled in the second around each row (k,) [rad]."""
    roll, rate = look.channel("roll"), look.channel("roll_rate")
    step = look.scene.recording.step
    reach = max(1, round(0.5 / step))
    if roll is not None and np.count_nonzero(np.isfinite(roll)) > 2 * reach + ROWS:
        known = np.flatnonzero(np.isfinite(roll))
        angle = np.interp(look.time, look.time[known], np.unwrap(roll[known]))
    elif rate is not None and np.isfinite(rate).any():
        angle = np.cumsum(np.nan_to_num(rate)) * step
    else:
        return None
    if angle.size <= 2 * reach:
        return None
    inner = np.abs(angle[2 * reach :] - angle[: -2 * reach])
    return np.pad(inner, reach, mode="edge")


def link_lost(look: Look) -> bool | None:
    """Return whether the link was lost, by its quality or its signal."""
    found = []
    quality = mean_of(look, look.channel("link_quality"), 0.5)
    late, before = enough(quality, look.late), enough(quality, look.before)
    if late is not None and before is not None:
        found.append(bool(late.min() < min(LOST, float(np.quantile(before, 0.02)))))
    signal = mean_of(look, look.channel("signal_strength"), 0.5)
    late, before = enough(signal, look.late), enough(signal, look.before)
    if late is not None and before is not None:
        found.append(bool(late.min() < np.quantile(before, 0.01) - QUIET))
    return any(found) if found else None


def throttle_cut(look: Look) -> bool | None:
    """Return whether the throttle went from use to off and stayed there."""
    throttle = look.channel("throttle")
    late = enough(throttle, look.late)
    if late is None or throttle is None:
        return None
    last = look.late & (look.time > look.end - 1.0)
    ended = throttle[last & np.isfinite(throttle)]
    return bool(late.max() > 0.2 and ended.size > 0 and ended.max() <= OFF)


def wobbled(look: Look) -> bool | None:
    """Return whether a body rate swung to and fro, far larger than before."""
    rates = look.scene.rates
    if rates.step > 0.11:
        return None
    found = []
    for name in ("roll_rate", "pitch_rate"):
        values = rates.channels.get(name)
        if values is None:
            continue
        time, known = rates.time, np.isfinite(values)
        end = look.end - (0.3 if look.struck else 0.0)
        late = known & (time > end - 3.0) & (time <= end)
        before = known & (time < look.end - 10.0) & (time >= look.time[look.before][0])
        if np.count_nonzero(late) < 10 or np.count_nonzero(before) < 50:
            continue
        found.append(swings(values[late], rates.step, float(values[before].std())))
    return any(found) if found else None


def swings(values: Grid, step: float, usual: float) -> bool:
    """Return whether values swing to and fro in any two seconds of them."""
    rows = max(8, round(2.0 / step))
    for start in range(0, max(values.size - rows, 0) + 1, max(1, rows // 4)):
        part = values[start : start + rows]
        part = part - part.mean()
        size = float(np.sqrt(np.mean(part**2)))
        # Only swings of their own size count, or noise around zero would.
        strong = np.sign(part[np.abs(part) > 0.5 * size])
        turns = np.count_nonzero(np.diff(strong))
        if size > max(SHAKING, LOUDER * usual) and turns >= SWINGS:
            return True
    return False


def turned_downwind(look: Look) -> bool | None:
    """Return whether it turned from against the wind to with it, low, and lost airspeed."""
    wind, speed = look.wind, mean_of(look, look.airspeed, 0.5)
    course = look.channel("course")
    if wind is None or speed is None or course is None:
        return None
    rows = before_blow(look) & np.isfinite(course) & np.isfinite(speed)
    if np.count_nonzero(rows) < 2 * ROWS:
        return None
    along = np.cos(course[rows] - np.arctan2(wind.east, wind.north))
    against, downwind = np.flatnonzero(along < AGAINST), np.flatnonzero(along > WITH)
    if not (against.size and downwind.size and against[0] < downwind[-1]):
        return False
    had, left = float(np.quantile(speed[rows][against], 0.9)), float(speed[rows][-ROWS:].mean())
    return bool(wind.speed >= BRISK and is_low(look) and left < SPENT * had)


def is_low(look: Look) -> bool:
    """Return whether it flew low in the end; where no height was logged it may have."""
    height = look.channel("height")
    if height is None or not np.isfinite(height[look.late]).any():
        return True
    return float(np.nanmedian(height[look.late])) - float(np.nanmin(height)) < LOW


def stopped_in_the_air(look: Look) -> bool:
    """Return whether the log stops in the air."""
    return not look.struck


def steady_descent(look: Look) -> bool | None:
    """Return whether it sank steadily with its wings fairly level, as it is flown."""
    climb = mean_of(look, climb_of(look), 0.5)
    if climb is None:
        return None
    rows = look.late & (look.time > look.end - 4.0) & np.isfinite(climb)
    if look.struck:
        rows &= look.time < look.end - 0.3
    if np.count_nonzero(rows) < 3:
        return None
    sink, roll = -climb[rows], look.channel("roll")
    level = roll is None or not np.isfinite(roll[rows]).any()
    level = level or float(np.nanmax(np.abs(roll[rows]))) < np.radians(50.0)  # type: ignore[index]
    return bool(level and 0.8 < sink.mean() < 8.0 and sink.std() < 2.0)


SIGNS: Mapping[str, Sign] = {
    "voltage": Sign(
        seen="the pack's voltage fell far below all before",
        missed="the pack's voltage held",
        look=voltage_collapsed,
    ),
    "motor": Sign(
        seen="the motor did not pull though the throttle was up",
        missed="the motor pulled as the throttle asked",
        look=motor_dead,
    ),
    "slow": Sign(
        seen="it flew slower than ever before",
        missed="it was no slower than before",
        look=slower_than_ever,
    ),
    "fast": Sign(
        seen="it flew faster than ever before",
        missed="it was no faster than before",
        look=faster_than_ever,
    ),
    "dive": Sign(
        seen="its path went down more steeply than 30 degrees",
        missed="its path was never steep",
        look=dived,
    ),
    "load": Sign(
        seen="it pulled harder than ever before",
        missed="the load on the wing was nothing new",
        look=loaded,
    ),
    "roll": Sign(
        seen="a wing dropped faster than it ever rolled before",
        missed="no wing dropped",
        look=wing_dropped,
    ),
    "link": Sign(
        seen="the radio link broke down",
        missed="the radio link held",
        look=link_lost,
    ),
    "cut": Sign(
        seen="the throttle went to nothing and stayed there",
        missed="the throttle was not cut",
        look=throttle_cut,
    ),
    "wobble": Sign(
        seen="it swung to and fro far more than before",
        missed="it did not swing to and fro",
        look=wobbled,
    ),
    "downwind": Sign(
        seen="it turned downwind, low, and lost airspeed",
        missed="no low turn downwind cost it airspeed",
        look=turned_downwind,
    ),
    "stops": Sign(
        seen="the log stops in the air",
        missed="the log went on to the blow",
        look=stopped_in_the_air,
    ),
    "steady": Sign(
        seen="it sank steadily, as if flown",
        missed="it did not sink steadily",
        look=steady_descent,
    ),
}
"""What is looked for."""

ALARMS = ("voltage", "motor", "link", "wobble")
"""One of these tells that something went wrong, though the log only stops in the air."""
HINTS = ("slow", "fast", "dive", "load", "roll")
"""So do two of these: one alone is flying."""


def alarmed(signs: Mapping[str, bool | None]) -> bool:
    """Return whether signs tell that something went wrong, be there a blow or not."""
    hints = sum(bool(signs[name]) for name in HINTS)
    return any(signs[name] for name in ALARMS) or hints > 1


def signs_of(look: Look) -> dict[str, bool | None]:
    """Return which signs were seen, missed, or not to be told."""
    return {name: sign.look(look) for name, sign in SIGNS.items()}
