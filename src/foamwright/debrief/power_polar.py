"""The drag polar out of the pack's power: where all of a flight's energy went.

Energy height changes by what the drive gives less what drag takes. Both are integrated along the
flight and fitted to the energy height itself, not to its slope: gusts and the noise of the height
then stay what they are, errors of single moments, and do not pile up.

How much of the pack's power becomes thrust is known to 13 % only, and that is one to one in the
drag area; a glide in the same flight needs no power and settles it.
"""

from dataclasses import dataclass, replace

import numpy as np

from foamwright.debrief.by_second import AROUND, SHORTEST, Seconds, seconds_of_flight, window
from foamwright.debrief.energy_fit import Stretch, fitted
from foamwright.debrief.gusts import UPRIGHT, covariance_of_means
from foamwright.debrief.level_flight import level_points
from foamwright.debrief.outcome import Figure, Observation, Share
from foamwright.debrief.polar import glide_ratio
from foamwright.debrief.scene import Scene
from foamwright.debrief.wind import airspeed
from foamwright.physics.air.atmosphere import GRAVITY
from foamwright.physics.arrays import Grid
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
ENOUGH = 60
"""Fewer seconds tell no polar."""
HEIGHT_NOISE = 0.5
"""Of a height against the one before [m]; common practice, no source."""
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
    seconds = seconds_of_flight(scene)
    if mass is None or seconds is None or seconds.speed.size < ENOUGH or not seconds.running.any():
        return None
    told = _fitted(scene, seconds, mass)
    if told is None:
        return None
    found, covariance, glided = told
    speed = float(seconds.speed.mean())
    pressure = 0.5 * scene.facts.air_density * speed**2
    over = np.array([1.0, 1.0 / pressure**2, 0.0])
    area = float(over @ found)
    others = _in_other_winds(scene, mass)
    if others is None:
        return None
    off = [float(over @ moved) - area for moved in others]
    sd = float(np.sqrt(over @ covariance @ over + np.sum(np.square(off))))
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


def _in_other_winds(scene: Scene, mass: float) -> list[Grid] | None:
    """Return the fit in winds that are one sigma off along either axis of its covariance.

    None where it cannot be told in one of them: the band would leave that wind's part out.

    How much of the wind's error reaches the drag area hangs on the headings flown: circles do
    without it, glides one way feel it up to its cube.
    """
    wind = scene.wind
    if wind is None:
        return []
    both, mixed, other = wind.covariance
    squares, axes = np.linalg.eigh(np.array([[both, mixed], [mixed, other]]))
    found = []
    for square, (north, east) in zip(np.maximum(squares, 0.0), axes.T, strict=True):
        step = float(np.sqrt(square))
        moved = replace(wind, north=wind.north + step * north, east=wind.east + step * east)
        other_scene = replace(scene, wind=moved, airspeed=airspeed(scene.recording, moved))
        seconds = seconds_of_flight(other_scene)
        told = None if seconds is None else _fitted(other_scene, seconds, mass)
        if told is None:
            return None
        found.append(told[0])
    return found


def _fitted(scene: Scene, seconds: Seconds, mass: float) -> tuple[Grid, Grid, bool] | None:
    """Return drag area, induced drag and efficiency (3,), their covariance, whether it glided.

    None where gusts drown them.
    """
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
    # Were these taken with a gust in them, they would go with it and not even out.
    calm = 0.5 * scene.facts.air_density * seconds.calm**2
    felt = np.stack([-3.0 * calm, seconds.load**2 / calm, np.zeros(calm.size)], axis=1)
    told = fitted(_parts(scene, seconds, terms / weight, felt / weight), *_before(scene, weight))
    return None if told is None else (*told, glided)


def _before(scene: Scene, weight: float) -> tuple[Grid, Grid]:
    """Return drag area, induced drag and efficiency before the flight, and their spreads."""
    wing = scene.facts.wing_area
    area, wide = 0.02, 1.0
    induced = 1.0 if wing is None else weight**2 / (np.pi * ASPECT * wing)
    spread = 1e6 if wing is None else ROUGHLY * induced
    return np.array([area, induced, EFFICIENCY]), np.array([wide, spread, EFFICIENCY_SD])


def _parts(scene: Scene, seconds: Seconds, rates: Grid, felt: Grid) -> list[Stretch]:
    """Return the stretches with all that gusts and strays do in them."""
    found = []
    for number in np.unique(seconds.stretch):
        rows = seconds.stretch == number
        size = int(np.count_nonzero(rows))
        found.append(
            Stretch(
                energy=seconds.energy[rows],
                rates=rates[rows],
                felt=felt[rows],
                smoothing=window(size, AROUND),
                gusts=scene.gusts.strength**2
                * covariance_of_means(seconds.heading[rows], scene.gusts.time),
                along=seconds.calm[rows] / GRAVITY,
                noise=_strays(scene, rates[rows, 2]),
            )
        )
    return found


def _strays(scene: Scene, power: Grid) -> Grid:
    """Return the covariance of the energy height by all but gusts along the way (k, k) [m^2]."""
    time, gusts = np.arange(power.size, dtype=float), scene.gusts
    first = np.minimum(time[:, None], time[None, :])
    # What the air rises or sinks by, and what the efficiency strays by, walk away with time.
    rising = 2.0 * gusts.time * (UPRIGHT * gusts.strength) ** 2
    straying = 2.0 * FOR * (UNEVEN * EFFICIENCY * float(power.mean())) ** 2
    return np.asarray((rising + straying) * first + HEIGHT_NOISE**2 * np.eye(power.size))
