"""The mean wind from ground velocity alone: the circle that the headings draw around it."""

import numpy as np
from scipy.ndimage import median_filter
from scipy.optimize import least_squares

from foamwright.debrief.gusts import FAR, Gusts, clipped, gusts_in
from foamwright.debrief.outcome import Wind
from foamwright.debrief.recording import Recording
from foamwright.debrief.segments import FLYING, find_segments
from foamwright.physics.arrays import Flags, Grid
from foamwright.physics.numerics.normal import TENTH

LEAST_SPAN = np.radians(90.0)
"""Below this the circle is not determined; the fit error passes the wind itself [rad]."""
LEAST_COURSES = np.radians(75.0)
"""Below this the courses over the ground draw no circle [rad]."""
CLEAR = 3.0
"""A circle is told from a cloud when it is so many times larger than the scatter around it."""
CELLS, CELL = 72, np.radians(5.0)
"""Headings are counted in cells of five degrees."""
GLITCH = 5
"""A heading less than half of so many rows long is none."""
ENDS = 4.0
"""By so many sigma gusts widen an arc, two at either end."""
HOLE, FAST = 3.0, np.radians(90.0)
"""Rows farther apart than that, in time [s] or heading, do not tell what lies between."""
PERIOD = 0.2
"""Rows nearer than this tell nothing new [s]."""
FOLLOWS = 3.0
"""In which a speed follows the throttle, to 1/e [s]; common practice, no source."""
SLOW = 15.0
"""An airspeed that changes otherwise than by gusts hangs together for that time [s]."""
MOST = 0.9
"""Share of rows in which the throttle has to stand to be used."""
ADVICE = "Fly two full circles next time"
"""What a refusal ends with."""


def find_wind(recording: Recording) -> tuple[Wind | None, str]:
    """Return the mean wind, or None and the reason why it cannot be told."""
    if not recording.has("ground_speed", "course"):
        nose = recording.has("ground_speed", "heading")
        told = "; if its heading is the course over the ground, say so" if nose else ""
        return None, f"the wind: the log holds no ground speed with course{told}"
    rows = _rows(recording)
    if rows.size < 30:
        return None, "the wind: less than six seconds of flight with ground speed and course"
    time = recording.time[rows]
    speed, course = recording.channel("ground_speed")[rows], recording.channel("course")[rows]
    ground = speed[:, None] * np.stack([np.cos(course), np.sin(course)], axis=1)
    proxy = _proxy(recording, rows)
    fitted = _fit(ground, proxy)
    air = ground - fitted[:2]
    scatter = float(np.sqrt(np.mean(_residual(fitted, ground, proxy) ** 2)))
    # A circle no larger than what scatters around it is gusts, not headings.
    cloud = fitted[2] < max(FLYING, CLEAR * scatter)
    # The courses are looked at too: a wind found wrong makes headings that were never flown.
    if cloud or _turned(ground, time, scatter) < LEAST_COURSES:
        return None, f"the wind: the ground velocities draw no circle but a cloud. {ADVICE}"
    span = _turned(air, time, scatter)
    if span < LEAST_SPAN:
        said = f"the headings cover {np.degrees(span):.0f} degrees; from 90 on it can be told"
        return None, f"the wind: {said}. {ADVICE}"
    residual = _residual(fitted, ground, proxy)
    slopes = _slopes(fitted, ground, proxy)
    cov = _covariance(slopes, residual, time, _gusts(recording, fitted))
    return _banded(fitted, cov, span), ""


def heading_span(heading: Grid, time: Grid) -> float:
    """Return the angle that headings (k,) at times (k,) [s] cover [rad]: all but the widest hole.

    However fast it was turned, what lies between one row and the next was passed; a row alone
    far from its neighbours is none.
    """
    turned = np.unwrap(heading)
    turned = median_filter(turned, size=GLITCH, mode="nearest")
    flown = np.zeros(CELLS, dtype=bool)
    low, high = np.minimum(turned[1:], turned[:-1]), np.maximum(turned[1:], turned[:-1])
    passed = (np.diff(time) <= HOLE) & (high - low < FAST)
    for first, last in zip(*(np.floor(end[passed] / CELL) for end in (low, high)), strict=True):
        flown[np.arange(int(first), int(last) + 1) % CELLS] = True
    if not flown.any():
        return 0.0
    at = np.flatnonzero(flown)
    holes = np.diff(np.concatenate([at, at[:1] + CELLS])) - 1
    return float(2.0 * np.pi - CELL * holes.max())


def airspeed(recording: Recording, wind: Wind | None) -> Grid | None:
    """Return the airspeed (k,) [m s^-1]: ground velocity less wind, else the pitot's, else None."""
    if wind is not None:
        speed, course = recording.channel("ground_speed"), recording.channel("course")
        return np.hypot(speed * np.cos(course) - wind.north, speed * np.sin(course) - wind.east)
    return recording.channels.get("airspeed")


def air_heading(recording: Recording, wind: Wind | None) -> Grid | None:
    """Return where the aeroplane moves through the air (k,) [rad], or as it was logged, or None."""
    if wind is None or not recording.has("ground_speed", "course"):
        return recording.channels.get("heading", recording.channels.get("course"))
    speed, course = recording.channel("ground_speed"), recording.channel("course")
    return np.asarray(
        np.arctan2(speed * np.sin(course) - wind.east, speed * np.cos(course) - wind.north)
    )


def _gusts(recording: Recording, fitted: Grid) -> Gusts:
    """Return the gusts in the air of a fit."""
    speed, course = recording.channel("ground_speed"), recording.channel("course")
    north, east = speed * np.cos(course) - fitted[0], speed * np.sin(course) - fitted[1]
    flown = np.hypot(north, east)
    segments = find_segments(recording, flown)
    return gusts_in(recording, flown, segments, np.arctan2(east, north))


def off_by_wind(recording: Recording, wind: Wind | None, rows: slice | Flags) -> float:
    """Return one sigma that the wind gives the mean airspeed of some rows [m s^-1].

    0 where a pitot told it.
    """
    return 0.0 if wind is None else wind.sd_along(*mean_heading(recording, wind, rows))


def mean_heading(recording: Recording, wind: Wind, rows: slice | Flags) -> tuple[float, float]:
    """Return the mean of the unit vectors of some rows' headings, north and east.

    A wind found wrong adds on one heading what it takes on the other: over full circles the mean
    is nought, on a straight leg it is as long as one.
    """
    speed, course = (recording.channel(name)[rows] for name in ("ground_speed", "course"))
    north, east = speed * np.cos(course) - wind.north, speed * np.sin(course) - wind.east
    flown = np.hypot(north, east)
    known = np.isfinite(flown) & (flown > 0.0)
    if not known.any():
        return 0.0, 0.0
    return float(np.mean(north[known] / flown[known])), float(np.mean(east[known] / flown[known]))


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


def _turned(velocity: Grid, time: Grid, scatter: float) -> float:
    """Return the angle that velocities (k, 2) turned through [rad], less what gusts add to it."""
    span = heading_span(np.arctan2(velocity[:, 1], velocity[:, 0]), time)
    speed = float(np.median(np.hypot(velocity[:, 0], velocity[:, 1])))
    return max(0.0, span - ENDS * scatter / speed) if span < 2.0 * np.pi - CELL else span


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


def _covariance(slopes: Grid, residual: Grid, time: Grid, gusts: Gusts) -> Grid:
    """Return the covariance of a fit (p, p).

    What is left of it are gusts, and airspeeds that change slowly. On circles the slow ones cancel
    while the heading goes round; in straight flight they do not. Gusts blow along and across
    alike, so on a heading that turns one that lasts is felt for a while only.
    """
    weight = 1.0 / np.sqrt(1.0 + residual**2)
    entering = float(np.mean((weight * residual) ** 2))
    # The robust loss takes as large a share off gusts as off all else; what a fit of a short
    # flight took of them is given back.
    share = gusts.strength**2 / float(np.mean(clipped(residual) ** 2))
    blown, slow = share * entering, max(0.0, 1.0 - share) * entering
    middle = blown * _related(slopes, time, gusts.time, slopes[:, :2])
    middle += slow * _related(slopes, time, SLOW)
    # The robust loss bends: its slope, weight cubed, is what a fit gives way by, not its weight.
    bread = np.linalg.pinv((slopes * weight[:, None] ** 3).T @ slopes)
    return np.asarray(bread @ middle @ bread)


def _related(slopes: Grid, time: Grid, holds: float, along: Grid | None = None) -> Grid:
    """Return what noise of unit strength with a correlation time sums to in the slopes (p, p).

    Noise that has a direction counts by the cosine between the vectors (k, 2) it acts along.
    """
    found: Grid = slopes.T @ slopes
    for lag in range(1, min(round(FAR * holds / PERIOD), time.size - 1) + 1):
        apart = time[lag:] - time[:-lag]
        share = np.where(apart <= FAR * holds, np.exp(-apart / holds), 0.0)
        if along is not None:
            share = share * np.sum(along[lag:] * along[:-lag], axis=1)
        both = (slopes[lag:] * share[:, None]).T @ slopes[:-lag]
        found = found + both + both.T
    return found


def _banded(fitted: Grid, cov: Grid, span: float) -> Wind:
    """Return the wind with its band."""
    speed = float(np.hypot(fitted[0], fitted[1]))
    along = fitted[:2] / max(speed, 1e-9)
    reach = TENTH * float(np.sqrt(max(float(along @ cov[:2, :2] @ along), 0.0)))
    return Wind(
        speed=speed,
        low=max(0.0, speed - reach),
        high=speed + reach,
        from_direction=float(np.mod(np.arctan2(-fitted[1], -fitted[0]), 2.0 * np.pi)),
        north=float(fitted[0]),
        east=float(fitted[1]),
        sd=float(np.sqrt(np.max(np.linalg.eigvalsh(cov[:2, :2])))),
        covariance=(float(cov[0, 0]), float(cov[0, 1]), float(cov[1, 1])),
        airspeed=float(fitted[2]),
        airspeed_sd=float(np.sqrt(max(cov[2, 2], 0.0))),
        heading_span=span,
    )
