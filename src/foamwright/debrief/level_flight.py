"""Current and voltage in level flight, one point a speed, and the charge of a steady flight."""

from dataclasses import dataclass

import numpy as np

from foamwright.debrief.gusts import left_in_mean
from foamwright.debrief.outcome import Figure, Observation, Segment, Share
from foamwright.debrief.scene import Scene
from foamwright.debrief.wind import mean_heading
from foamwright.physics.arrays import Grid
from foamwright.physics.numerics.normal import TENTH

SETTLED, LEAST = 4.0, 6.0
"""What a cruise takes to settle, and what has to be left of it [s]."""
CLIMBING, SPEEDING = 0.3, 0.15
"""Climb or sink [m s^-1] and change of airspeed [m s^-2] that still count as steady."""
BIN = 2.0
"""Speeds this near are one point [m s^-1]: three hundred rows do not count three hundred times."""
SENSOR, DIVIDER = 0.05, 0.01
"""Of a current sensor and a voltage divider nobody calibrated, relative; common practice, no
source."""
CHARGER = 0.03
"""Of what a charger puts back, relative; common practice, no source."""
SLOPE = 2.0
"""Power with which the current follows the airspeed: what an error of the speed makes of it."""
GLIDE = 7.0
"""Glide ratio that tells what share of the power a climb is; common practice, no source."""
STEADY = 0.7
"""Share of the flight in level flight from which its charge is that of level flight."""
EVEN = 0.15
"""Airspeeds scattered by less, relative, count as one."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Level:
    """One point of level flight."""

    speed: float
    """Airspeed [m s^-1]."""
    speed_sd: float
    """[m s^-1]."""
    current: float
    """[A]."""
    sd: float
    """Of the current at that speed, the sensor's scale with it [A]."""
    voltage: float | None
    """Of the pack [V]."""
    seconds: float
    """How long it was flown [s]."""
    where: str
    """Segments it was read from."""


@dataclass(frozen=True, kw_only=True, slots=True)
class _Stretch:
    """One settled cruise."""

    speed: float
    current: float
    voltage: float
    seconds: float
    climb: float
    north: float
    """Of the mean of the unit vectors of its headings, like east."""
    east: float
    name: str


def read_level(scene: Scene) -> Share:
    """Return current and voltage at every airspeed that was held level, and the steady charge."""
    if scene.airspeed is None or not scene.recording.has("current"):
        return Share()
    if not {"height", "climb_rate"} & set(scene.recording.channels):
        reason = "neither height nor climb rate is in the log, so nothing tells what was level"
        return Share(not_said=(f"the current in level flight: {reason}",))
    points = level_points(scene)
    if not points:
        reason = f"no straight stretch of {SETTLED + LEAST:.0f} s with speed and height held"
        return Share(not_said=(f"the current in level flight: {reason}",))
    charge = steady_charge(scene)
    seen = tuple(
        Observation(
            name="cruise_current",
            value=point.current,
            sd=point.sd,
            segment=point.where,
            speed=point.speed,
            time=point.seconds,
        )
        for point in points
    )
    figures = tuple(figure for point in points for figure in _told(point))
    return Share(observations=seen if charge is None else (*seen, charge), figures=figures)


def level_points(scene: Scene) -> tuple[Level, ...]:
    """Return the points of level flight, slowest first; near speeds are taken together."""
    found = [_stretch(scene, one) for one in scene.segments if one.kind == "cruise"]
    stretches = sorted((one for one in found if one is not None), key=lambda one: one.speed)
    bins: list[list[_Stretch]] = []
    for one in stretches:
        if bins and one.speed - bins[-1][0].speed < BIN:
            bins[-1].append(one)
        else:
            bins.append([one])
    return tuple(_point(scene, together) for together in bins)


def _stretch(scene: Scene, segment: Segment) -> _Stretch | None:
    """Return the settled part of a cruise, or None where speed or height was not held.

    Where nothing tells the climb it is no level flight either: a glide looks like a cruise then.
    """
    if segment.end - segment.start < SETTLED + LEAST or scene.airspeed is None:
        return None
    log = scene.recording
    first, last = np.searchsorted(log.time, [segment.start + SETTLED, segment.end])
    rows = slice(int(first), int(last) + 1)
    time, speed = log.time[rows], scene.airspeed[rows]
    climb = _climb(scene, rows)
    current = _mean(log.channel("current")[rows])
    faster = _slope(time, speed)
    gusty = scene.gusts.strength / float(np.ptp(time))
    if current is None or current <= 0.0 or faster is None or climb is None:
        return None
    if abs(climb) > CLIMBING or abs(faster) > SPEEDING + gusty:
        return None
    volts = _mean(log.channels["voltage"][rows]) if log.has("voltage") else None
    heading = (0.0, 0.0) if scene.wind is None else mean_heading(log, scene.wind, rows)
    return _Stretch(
        speed=float(np.nanmean(speed)),
        current=current,
        voltage=np.nan if volts is None else volts,
        seconds=float(np.ptp(time)),
        climb=climb,
        north=heading[0],
        east=heading[1],
        name=segment.name,
    )


def _climb(scene: Scene, rows: slice) -> float | None:
    """Return the mean climb of some rows [m s^-1]: the height's slope, else the logged climb."""
    log = scene.recording
    if log.has("height"):
        return _slope(log.time[rows], log.channel("height")[rows])
    return _mean(log.channel("climb_rate")[rows]) if log.has("climb_rate") else None


def _point(scene: Scene, together: list[_Stretch]) -> Level:
    """Return cruises of about one speed as one point, each with the weight of its time."""
    weights = np.array([one.seconds for one in together])
    seconds = float(weights.sum())

    def mean(name: str) -> float:
        values = np.array([getattr(one, name) for one in together])
        known = np.isfinite(values)
        if not known.any():
            return float("nan")
        return float(values[known] @ weights[known] / weights[known].sum())

    speed, current, voltage = mean("speed"), mean("current"), mean("voltage")
    wind = 0.0
    if scene.wind is not None:
        wind = scene.wind.sd_along(mean("north"), mean("east"))
    off = float(np.hypot(wind, left_in_mean(scene.gusts, seconds)))
    # What is climbed, or slowed down by, is power that level flight does not take.
    unsteady = mean("climb") * GLIDE / speed
    told = (SENSOR, SLOPE * off / speed, 0.5 * unsteady)
    first = together[0].name
    return Level(
        speed=speed,
        speed_sd=off,
        current=current,
        sd=current * float(np.sqrt(sum(one**2 for one in told))),
        voltage=voltage if np.isfinite(voltage) else None,
        seconds=seconds,
        where=first if len(together) == 1 else f"{first} and {len(together) - 1} more",
    )


def steady_charge(scene: Scene) -> Observation | None:
    """Return the charge of a flight that was mostly level at one speed, by the charger's word.

    The log's own sum is not held against the model beside the currents it is the sum of.
    """
    log, flown, charge = scene.recording, scene.airspeed, scene.facts.charge_put_back
    if charge is None or charge <= 0.0 or flown is None:
        return None
    aloft = [one for one in scene.segments if one.kind != "bench"]
    whole = sum(one.end - one.start for one in aloft)
    level = sum(one.end - one.start for one in aloft if one.kind == "cruise")
    if whole <= 0.0 or level < STEADY * whole:
        return None
    inside = (log.time >= aloft[0].start) & (log.time <= aloft[-1].end) & np.isfinite(flown)
    speed = float(np.mean(flown[inside]))
    scatter = float(np.std(flown[inside])) / speed
    if scatter > EVEN:
        return None
    # Full throttle at the launch, and turns, are in it: as much as was not level.
    unlike = 0.5 * (1.0 - level / whole)
    return Observation(
        name="charge_used",
        value=charge,
        sd=charge * float(np.hypot(CHARGER, np.hypot(unlike, scatter**2))),
        segment="whole flight",
        speed=speed,
        time=aloft[-1].end - aloft[0].start,
    )


def _told(point: Level) -> tuple[Figure, ...]:
    """Return airspeed and voltage of a point as figures; the current is one already."""
    found = [("cruise_speed", "airspeed held level", point.speed, point.speed_sd, "m s^-1")]
    if point.voltage is not None:
        sd = DIVIDER * point.voltage
        found.append(("cruise_voltage", "pack voltage in level flight", point.voltage, sd, "V"))
    return tuple(
        Figure(
            name=name,
            label=f"{label}, {point.where}",
            value=value,
            low=value - TENTH * sd,
            high=value + TENTH * sd,
            unit=unit,
        )
        for name, label, value, sd, unit in found
    )


def _mean(values: Grid) -> float | None:
    """Return the mean of what is known of values, or None."""
    return float(np.nanmean(values)) if np.isfinite(values).any() else None


def _slope(time: Grid, values: Grid) -> float | None:
    """Return the slope of a line through what is known of values, or None."""
    known = np.isfinite(values)
    if np.count_nonzero(known) < 5:
        return None
    centred = time[known] - time[known].mean()
    return float(centred @ values[known]) / float(centred @ centred)
