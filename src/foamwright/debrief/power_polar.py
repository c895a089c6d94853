"""The drag polar out of the pack's power: where all of a flight's energy went.

Energy height changes by what the drive gives less what drag takes. Both are integrated along the
flight and fitted to the energy height itself, not to its slope: gusts and the noise of the height
then stay what they are, errors of single moments, and do not pile up.

How much of the pack's power becomes thrust is known to 13 % only, and that is one to one in the
drag area; a glide in the same flight needs no power and settles it.
"""

from dataclasses import dataclass

import numpy as np

from foamwright.debrief.evidence import slope_over
from foamwright.debrief.gusts import UPRIGHT
from foamwright.debrief.level_flight import level_points
from foamwright.debrief.outcome import Figure, Observation, Share
from foamwright.debrief.polar import glide_ratio
from foamwright.debrief.scene import Scene
from foamwright.physics.air.atmosphere import GRAVITY
from foamwright.physics.arrays import Flags, Grid
from foamwright.physics.numerics.normal import TENTH

EFFICIENCY, EFFICIENCY_SD = 0.50, 0.065
"""Thrust times airspeed over the power of the pack, in cruise: a propeller of a pitch of 0.6 to
1 diameter gives 0.60 +- 0.06 at its best (brandt-selig-2011), motor and controller 0.80 +- 0.05
(common practice, no source)."""
UNEVEN, FOR = 0.06, 15.0
"""How far that efficiency strays from its mean, relative, and for how long at a time [s]; common
practice, no source."""
STANDBY = 3.0
"""Power of everything but the motor where no glide shows it [W]; common practice, no source."""
ASPECT, ROUGHLY = 0.75 * 5.5, 0.5
"""Aspect ratio times span efficiency of small planes, and its spread, relative; common practice,
no source."""
LEFT_OUT = ("bench", "launch", "climb", "landing", "crash")
"""Segments in which the drive works elsewhere, or on which there are forces of the ground."""
CLIMBING, OVER = 1.0, 4.0
"""A faster climb, over so much time, is left out [m s^-1], [s]."""
SHORTEST, LONGEST = 8, 90
"""Stretches are cut to so many seconds."""
WIND_FELT = 1.5
"""Power with which an error of the wind enters the drag area: glides and dashes go one way, with
up to the cube of the speed, circles do without the wind."""
AROUND = 4
"""Seconds to either side over which gusts are averaged out of the airspeed."""
ENOUGH = 60
"""Fewer seconds tell no polar."""
HEIGHT_NOISE = 0.5
"""Of a height against the one before [m]; common practice, no source."""
OFF = 0.03
"""Throttle up to which the motor stands."""
LOOSE = 0.3
"""A drag area whose one sigma is a larger share of it is not told."""


@dataclass(frozen=True, kw_only=True, slots=True)
class PowerPolar:
    """What the power tells of drag."""

    speed: float
    """Mean airspeed of the rows used [m s^-1]."""
    area: float
    """Drag area at that speed, level [m^2]."""
    sd: float
    """[m^2]."""
    induced: float
    """Induced drag times dynamic pressure at a load of one [N Pa]."""
    induced_sd: float
    """[N Pa]."""
    efficiency: float
    """Thrust times airspeed over the pack's power [-]."""
    efficiency_sd: float
    """[-]."""
    glided: bool
    """Whether a glide was in it."""


@dataclass(frozen=True, kw_only=True, slots=True)
class _Seconds:
    """Means over a second, one stretch after the other."""

    stretch: Grid
    """Number of the stretch of each (k,)."""
    speed: Grid
    """Airspeed with the gusts in it [m s^-1]."""
    smooth: Grid
    """Airspeed with most of them taken out [m s^-1]."""
    energy: Grid
    """Energy height [m]."""
    load: Grid
    power: Grid
    """Of the pack [W]."""
    running: Flags
    """Whether the motor runs."""


def read_power(scene: Scene) -> Share:
    """Return drag area and induced factor by the power, and the efficiency that goes with them.

    They teach only where neither a glide nor a level cruise did: those are the same rows.
    """
    found = power_polar(scene)
    if found is None:
        return Share()
    reach = TENTH * found.sd
    how = "power and glide" if found.glided else "power, the drive's efficiency taken as usual"
    figures = [
        Figure(
            name="drag_area_power",
            label=f"drag area by {how}",
            value=found.area,
            low=found.area - reach,
            high=found.area + reach,
            unit="m^2",
        ),
        Figure(
            name="drag_area_power_speed",
            label="the airspeed it is for",
            value=found.speed,
            low=found.speed,
            high=found.speed,
            unit="m s^-1",
        ),
    ]
    if found.glided:
        figures.append(_efficiency(found))
    figures += _factor(scene, found)
    return Share(figures=tuple(figures), observations=_taught(scene, found))


def _efficiency(found: PowerPolar) -> Figure:
    """Return the share of the pack's power that became thrust times airspeed."""
    reach = TENTH * found.efficiency_sd
    return Figure(
        name="drive_efficiency",
        label="share of the pack's power that pulls",
        value=found.efficiency,
        low=found.efficiency - reach,
        high=found.efficiency + reach,
        unit="-",
    )


def _factor(scene: Scene, found: PowerPolar) -> list[Figure]:
    """Return the induced factor, drag coefficient over lift coefficient squared, if it is told."""
    mass, wing = scene.facts.mass, scene.facts.wing_area
    if mass is None or wing is None or found.induced_sd > LOOSE * found.induced:
        return []
    over = wing / (mass * GRAVITY) ** 2
    reach = TENTH * found.induced_sd
    return [
        Figure(
            name="induced_factor",
            label="induced factor: drag coefficient over lift coefficient squared",
            value=over * found.induced,
            low=over * (found.induced - reach),
            high=over * (found.induced + reach),
            unit="-",
        )
    ]


def _taught(scene: Scene, found: PowerPolar) -> tuple[Observation, ...]:
    """Return the drag area as an observation where nothing else says the same."""
    if scene.airspeed is None or level_points(scene):
        return ()
    if glide_ratio(scene.recording, scene.airspeed, scene.wind, scene.segments, gusts=scene.gusts):
        return ()
    return (
        Observation(
            name="drag_area",
            value=found.area,
            sd=found.sd,
            segment="whole log, by power",
            speed=found.speed,
        ),
    )


def power_polar(scene: Scene) -> PowerPolar | None:
    """Return the polar that power, speed, height and load of a flight agree on, or None."""
    mass = scene.facts.mass
    seconds = _seconds(scene)
    if mass is None or seconds is None or seconds.speed.size < ENOUGH or not seconds.running.any():
        return None
    weight = mass * GRAVITY
    # A gust looks like speed in the energy and in the drag at once: left in, it lowers the drag.
    pressure = 0.5 * scene.facts.air_density * seconds.smooth**2
    still = seconds.power[~seconds.running]
    glided = still.size >= SHORTEST
    standby = float(np.median(still)) if glided else STANDBY
    drawn = np.where(seconds.running, np.maximum(seconds.power - standby, 0.0), 0.0)
    terms = np.stack(
        [
            -pressure * seconds.smooth,
            -(seconds.load**2) * seconds.smooth / pressure,
            drawn,
        ],
        axis=1,
    )
    information, toward = _gathered(scene, seconds, terms / weight)
    guess, spread = _before(scene, weight)
    known = np.diag(1.0 / spread**2)
    covariance: Grid = np.asarray(np.linalg.inv(information + known), dtype=np.float64)
    found: Grid = covariance @ (toward + known @ guess)
    return _told(scene, seconds, found, covariance, glided=glided)


def _before(scene: Scene, weight: float) -> tuple[Grid, Grid]:
    """Return drag area, induced drag and efficiency before the flight, and their spreads."""
    wing = scene.facts.wing_area
    area, wide = 0.02, 1.0
    induced = 1.0 if wing is None else weight**2 / (np.pi * ASPECT * wing)
    spread = 1e6 if wing is None else ROUGHLY * induced
    return np.array([area, induced, EFFICIENCY]), np.array([wide, spread, EFFICIENCY_SD])


def _told(
    scene: Scene, seconds: _Seconds, found: Grid, covariance: Grid, *, glided: bool
) -> PowerPolar | None:
    """Return what was fitted at the mean airspeed, or None where it is worth nothing."""
    speed = float(seconds.speed.mean())
    pressure = 0.5 * scene.facts.air_density * speed**2
    over = np.array([1.0, 1.0 / pressure**2, 0.0])
    area = float(over @ found)
    wind = 0.0 if scene.wind is None else scene.wind.sd
    own = float(np.sqrt(over @ covariance @ over))
    sd = float(np.hypot(own, WIND_FELT * area * wind / speed))
    if area <= 0.0 or sd > LOOSE * area:
        return None
    return PowerPolar(
        speed=speed,
        area=area,
        sd=sd,
        induced=float(found[1]),
        induced_sd=float(np.sqrt(covariance[1, 1])),
        efficiency=float(found[2]),
        efficiency_sd=float(np.sqrt(covariance[2, 2])),
        glided=glided,
    )


def _gathered(scene: Scene, seconds: _Seconds, rates: Grid) -> tuple[Grid, Grid]:
    """Return the information (3, 3) and what it points to (3,), summed over the stretches."""
    information, toward = np.zeros((3, 3)), np.zeros(3)
    for number in np.unique(seconds.stretch):
        rows = seconds.stretch == number
        rate = rates[rows]
        grown = np.cumsum(0.5 * (rate[1:] + rate[:-1]), axis=0)
        terms = np.column_stack([np.vstack([np.zeros(3), grown]), np.ones(rate.shape[0])])
        factor = np.linalg.cholesky(_noise(scene, seconds.speed[rows], rate[:, 2]))
        white = np.linalg.solve(factor, np.column_stack([terms, seconds.energy[rows]]))
        # Where a stretch begins is not known: that column is taken out of all others.
        base = white[:, 3] / float(white[:, 3] @ white[:, 3])
        rest = white - np.outer(white[:, 3], base @ white)
        information += rest[:, :3].T @ rest[:, :3]
        toward += rest[:, :3].T @ rest[:, 4]
    return information, toward


def _noise(scene: Scene, speed: Grid, power: Grid) -> Grid:
    """Return the covariance of the energy height in one stretch (k, k) [m^2]."""
    time, gusts = np.arange(speed.size, dtype=float), scene.gusts
    apart = np.abs(time[:, None] - time[None, :])
    along = gusts.strength * speed / GRAVITY
    found = along[:, None] * along[None, :] * np.exp(-apart / gusts.time)
    first = np.minimum(time[:, None], time[None, :])
    # What the air rises or sinks by, and what the efficiency strays by, walk away with time.
    rising = 2.0 * gusts.time * (UPRIGHT * gusts.strength) ** 2
    straying = 2.0 * FOR * (UNEVEN * EFFICIENCY * float(power.mean())) ** 2
    return np.asarray(found + (rising + straying) * first + HEIGHT_NOISE**2 * np.eye(speed.size))


def _seconds(scene: Scene) -> _Seconds | None:
    """Return the means over a second of all flying that counts, or None where a channel lacks."""
    log, flown = scene.recording, scene.airspeed
    if flown is None or not log.has("height", "current", "voltage", "throttle"):
        return None
    power = log.channel("current") * log.channel("voltage")
    load = _load(scene, flown)
    energy = log.channel("height") + flown**2 / (2.0 * GRAVITY)
    throttle = log.channel("throttle")
    columns = np.stack([flown, energy, load, power, throttle], axis=1)
    good = np.isfinite(columns).all(axis=1)
    inside = np.zeros(log.time.size, dtype=bool)
    # In a climb on power the propeller works at less advance, and less well, than in cruise.
    rise = np.nan_to_num(slope_over(log.time, log.channel("height"), OVER))
    good &= (rise < CLIMBING) | (throttle <= OFF)
    for segment in scene.segments:
        if segment.kind not in LEFT_OUT:
            inside |= (log.time >= segment.start) & (log.time <= segment.end)
    return _joined(log.time, columns, _stretches(log.time, good & inside))


def _joined(time: Grid, columns: Grid, stretches: list[slice]) -> _Seconds | None:
    """Return columns (k, 5) of stretches as means over a second, or None where too few."""
    parts: list[Grid] = []
    numbers: list[Grid] = []
    for part in stretches:
        means = _means(time[part], columns[part])
        for start in range(0, means.shape[0], LONGEST):
            piece = means[start : start + LONGEST]
            if piece.shape[0] >= SHORTEST:
                numbers.append(np.full(piece.shape[0], float(len(parts))))
                parts.append(piece)
    if not parts:
        return None
    joined = np.vstack(parts)
    return _Seconds(
        stretch=np.concatenate(numbers),
        speed=joined[:, 0],
        smooth=np.concatenate([_smooth(part[:, 0]) for part in parts]),
        energy=joined[:, 1],
        load=joined[:, 2],
        power=joined[:, 3],
        running=joined[:, 4] > OFF,
    )


def _stretches(time: Grid, good: Flags) -> list[slice]:
    """Return the runs of good rows without a hole."""
    cut = np.flatnonzero(np.diff(time) > 0.5) + 1
    found = []
    for rows in np.split(np.arange(time.size), cut):
        marked = np.concatenate([[False], good[rows], [False]]).astype(int)
        starts, ends = (np.flatnonzero(np.diff(marked) == sign) for sign in (1, -1))
        found += [
            slice(int(rows[0] + a), int(rows[0] + b)) for a, b in zip(starts, ends, strict=True)
        ]
    return found


def _means(time: Grid, columns: Grid) -> Grid:
    """Return the means over whole seconds (s, c)."""
    number = np.floor(time - time[0] + 1e-9).astype(int)
    counts = np.bincount(number).astype(float)
    sums = [np.bincount(number, weights=column) for column in columns.T]
    full = counts >= 0.5 * np.median(counts)
    return np.asarray(np.stack(sums, axis=1)[full] / counts[full, None])


def _smooth(speed: Grid) -> Grid:
    """Return the mean of speeds (k,) over the seconds around each."""
    sums = np.concatenate([[0.0], np.cumsum(speed)])
    at = np.arange(speed.size)
    first, last = np.maximum(at - AROUND, 0), np.minimum(at + AROUND + 1, speed.size)
    return np.asarray((sums[last] - sums[first]) / (last - first))


def _load(scene: Scene, flown: Grid) -> Grid:
    """Return the load (k,): by the logged bank, else by how fast the heading turns."""
    log = scene.recording
    if log.has("roll"):
        return np.asarray(1.0 / np.clip(np.cos(log.channel("roll")), 0.25, 1.0))
    heading = _heading(scene)
    if heading is None:
        return np.ones(flown.size)
    reach = max(1, round(1.0 / log.step))
    turned = np.unwrap(np.nan_to_num(heading))
    if turned.size < 2 * reach + 1:
        return np.ones(flown.size)
    inner = (turned[2 * reach :] - turned[: -2 * reach]) / np.maximum(
        log.time[2 * reach :] - log.time[: -2 * reach], 1e-6
    )
    rate = np.pad(inner, reach, mode="edge")
    return np.asarray(np.minimum(np.hypot(1.0, flown * rate / GRAVITY), 4.0))


def _heading(scene: Scene) -> Grid | None:
    """Return where the aeroplane moves through the air (k,) [rad], or None."""
    log, wind = scene.recording, scene.wind
    if wind is None or not log.has("ground_speed", "course"):
        return log.channels.get("heading", log.channels.get("course"))
    speed, course = log.channel("ground_speed"), log.channel("course")
    return np.asarray(
        np.arctan2(speed * np.sin(course) - wind.east, speed * np.cos(course) - wind.north)
    )
