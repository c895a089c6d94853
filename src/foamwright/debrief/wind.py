"""The mean wind from ground velocity alone: the circle that the headings draw around it."""

import numpy as np
from scipy.optimize import least_squares
from scipy.stats import t as student

from foamwright.debrief.gusts import FAR, around, gusts_of
from foamwright.debrief.outcome import Wind
from foamwright.debrief.recording import Recording
from foamwright.debrief.segments import FLYING
from foamwright.physics.arrays import Grid

LEAST_SPAN = np.radians(90.0)
"""Below this the circle is not determined; the fit error passes the wind itself [rad]."""
LEAST_COURSES = np.radians(60.0)
"""Below this the courses over the ground draw no circle [rad]."""
CLEAR = 3.0
"""A circle is told from a cloud when it is so many times larger than the scatter around it."""
ROWS, CELLS, CELL = 5, 72, np.radians(5.0)
"""A heading counts as flown after a second in its cell of five degrees."""
PERIOD = 0.2
"""Rows nearer than this tell nothing new [s]."""
FOLLOWS = 3.0
"""In which a speed follows the throttle, to 1/e [s]; common practice, no source."""
WINDOW, SLOW = 30.0, 15.0
"""What changes within that window is gusts; what is slower hangs together for that time [s]."""
MOST = 0.9
"""Share of rows in which the throttle has to stand to be used."""
BAND = 0.9
"""Quantile of the upper end of an 80 % band."""
ADVICE = "Fly two full circles next time"
"""What a refusal ends with."""


def find_wind(recording: Recording) -> tuple[Wind | None, str]:
    """Return the mean wind, or None and the reason why it cannot be told."""
    if not recording.has("ground_speed", "course"):
        return None, "the wind: the log holds no ground speed with course"
    rows = _rows(recording)
    if rows.size < 30:
        return None, "the wind: less than six seconds of flight with ground speed and course"
    time = recording.time[rows]
    speed, course = recording.channel("ground_speed")[rows], recording.channel("course")[rows]
    ground = speed[:, None] * np.stack([np.cos(course), np.sin(course)], axis=1)
    proxy = _proxy(recording, rows)
    fitted = _fit(ground, proxy)
    air = ground - fitted[:2]
    # The courses are looked at too: a wind found wrong makes headings that were never flown.
    if heading_span(course) < LEAST_COURSES or _cloud(fitted, ground, proxy):
        return None, f"the wind: the ground velocities draw no circle but a cloud. {ADVICE}"
    span = heading_span(np.arctan2(air[:, 1], air[:, 0]))
    if span < LEAST_SPAN:
        said = f"the headings cover {np.degrees(span):.0f} degrees; from 90 on it can be told"
        return None, f"the wind: {said}. {ADVICE}"
    return _banded(fitted, ground, proxy, time), ""


def heading_span(heading: Grid) -> float:
    """Return the angle that headings (k,) cover [rad]: the whole less the widest hole."""
    cells = np.floor(np.mod(heading, 2.0 * np.pi) / CELL).astype(int) % CELLS
    flown = np.flatnonzero(np.bincount(cells, minlength=CELLS) >= ROWS)
    if flown.size == 0:
        return 0.0
    holes = np.diff(np.concatenate([flown, flown[:1] + CELLS])) - 1
    return float(2.0 * np.pi - CELL * holes.max())


def airspeed(recording: Recording, wind: Wind | None) -> Grid | None:
    """Return the airspeed (k,) [m s^-1]: ground velocity less wind, else the pitot's, else None."""
    if wind is not None:
        speed, course = recording.channel("ground_speed"), recording.channel("course")
        return np.hypot(speed * np.cos(course) - wind.north, speed * np.sin(course) - wind.east)
    return recording.channels.get("airspeed")


def _rows(recording: Recording) -> np.ndarray:
    """Return the rows used: flying, finite, thinned to the period, gaps left out by nature."""
    speed, course = recording.channel("ground_speed"), recording.channel("course")
    good = np.isfinite(speed) & np.isfinite(course) & (speed > FLYING)
    rows = np.flatnonzero(good)
    if rows.size == 0:
        return rows
    ticks = np.floor(recording.time[rows] / PERIOD)
    return np.asarray(rows[np.concatenate([[True], np.diff(ticks) > 0])])


def _proxy(recording: Recording, rows: np.ndarray) -> Grid | None:
    """Return what stands for changes of airspeed, centred (k,): the throttle, if it was logged.

    The speed follows it after a while.
    """
    values = recording.channels.get("throttle")
    if values is None or np.mean(np.isfinite(values)) < MOST:
        return None
    known = np.isfinite(values)
    filled = np.interp(recording.time, recording.time[known], values[known])
    lagged = _lagged(recording.time, filled)[rows]
    if lagged.std() < 0.02:
        return None
    return np.asarray(lagged - lagged.mean())


def _lagged(time: Grid, values: Grid) -> Grid:
    """Return values (k,) as what follows them with the usual lag of a speed."""
    found = np.empty(values.size)
    found[0] = values[0]
    shares = 1.0 - np.exp(-np.diff(time) / FOLLOWS)
    for row, share in enumerate(shares):
        found[row + 1] = found[row] + share * (values[row + 1] - found[row])
    return found


def _cloud(fitted: Grid, ground: Grid, proxy: Grid | None) -> bool:
    """Return whether the circle is no larger than what scatters around it: gusts, not headings."""
    spread = float(np.sqrt(np.mean(_residual(fitted, ground, proxy) ** 2)))
    return bool(fitted[2] < max(FLYING, CLEAR * spread))


def _residual(guess: Grid, ground: Grid, proxy: Grid | None) -> Grid:
    """Return how far each ground velocity lies off the circle (k,) [m s^-1]."""
    away = np.hypot(ground[:, 0] - guess[0], ground[:, 1] - guess[1]) - guess[2]
    return np.asarray(away if proxy is None else away - guess[3] * proxy)


def _slopes(guess: Grid, ground: Grid, proxy: Grid | None) -> Grid:
    """Return the derivatives of the residual by wind, airspeed and share of the proxy (k, p)."""
    air = ground - guess[:2]
    inward = -air / np.maximum(np.hypot(air[:, 0], air[:, 1]), 1e-9)[:, None]
    still = -np.ones((ground.shape[0], 1))
    parts = [inward, still] if proxy is None else [inward, still, -proxy[:, None]]
    return np.concatenate(parts, axis=1)


def _fit(ground: Grid, proxy: Grid | None) -> Grid:
    """Return wind north and east, mean airspeed and the proxy's share, by a robust circle fit."""
    middle = np.median(ground, axis=0)
    start = [0.0, 0.0, float(np.hypot(ground[:, 0], ground[:, 1]).mean())]
    start[:2] = 0.5 * middle
    guess = np.array(start if proxy is None else [*start, 0.0])
    found = least_squares(_residual, guess, _slopes, args=(ground, proxy), loss="soft_l1")
    return np.asarray(found.x)


def _covariance(slopes: Grid, residual: Grid, time: Grid) -> tuple[Grid, float]:
    """Return the covariance of a fit (p, p), and how long its residuals hang together [s].

    They are gusts, of that flight's own strength and time, and airspeeds that change slowly. On
    circles the slow ones cancel while the heading goes round; in straight flight they do not.
    """
    weight = 1.0 / np.sqrt(1.0 + residual**2)
    entering = weight * residual
    quick = entering - around(entering, time, WINDOW)
    gusts = gusts_of(quick, time, PERIOD, WINDOW)
    slow = max(float(np.mean(entering**2)) - gusts.strength**2, 0.0)
    middle = gusts.strength**2 * _related(slopes, time, gusts.time)
    middle += slow * _related(slopes, time, SLOW)
    # The robust loss bends: its slope, weight cubed, is what a fit gives way by, not its weight.
    bread = np.linalg.pinv((slopes * weight[:, None] ** 3).T @ slopes)
    return np.asarray(bread @ middle @ bread), gusts.time


def _related(slopes: Grid, time: Grid, holds: float) -> Grid:
    """Return what noise of unit strength with a correlation time sums to in the slopes (p, p)."""
    found: Grid = slopes.T @ slopes
    for lag in range(1, min(round(FAR * holds / PERIOD), time.size - 1) + 1):
        apart = time[lag:] - time[:-lag]
        share = np.where(apart <= FAR * holds, np.exp(-apart / holds), 0.0)
        both = (slopes[lag:] * share[:, None]).T @ slopes[:-lag]
        found = found + both + both.T
    return found


def _banded(fitted: Grid, ground: Grid, proxy: Grid | None, time: Grid) -> Wind:
    """Return the wind with its band, from the scatter that is left."""
    air = ground - fitted[:2]
    residual = _residual(fitted, ground, proxy)
    cov, together = _covariance(_slopes(fitted, ground, proxy), residual, time)
    blocks = max(PERIOD * time.size / (2.0 * together), fitted.size + 1.5)
    cov = cov * blocks / (blocks - fitted.size)
    speed = float(np.hypot(fitted[0], fitted[1]))
    along = fitted[:2] / max(speed, 1e-9)
    spread = float(np.sqrt(max(float(along @ cov[:2, :2] @ along), 0.0)))
    reach = float(student.ppf(BAND, max(blocks - fitted.size, 1.5))) * spread
    return Wind(
        speed=speed,
        low=max(0.0, speed - reach),
        high=speed + reach,
        from_direction=float(np.mod(np.arctan2(-fitted[1], -fitted[0]), 2.0 * np.pi)),
        north=float(fitted[0]),
        east=float(fitted[1]),
        sd=float(np.sqrt(np.max(np.linalg.eigvalsh(cov[:2, :2])))),
        airspeed=float(fitted[2]),
        airspeed_sd=float(np.sqrt(max(cov[2, 2], 0.0))),
        heading_span=heading_span(np.arctan2(air[:, 1], air[:, 0])),
    )
