"""The airspeed by the propeller: its speed, volts and amps tell how fast it meets the air."""

import numpy as np

from foamwright.debrief.level_flight import level_points
from foamwright.debrief.outcome import Figure, Observation, Remark, Share
from foamwright.debrief.propeller_rows import (
    CHANNELS,
    Seconds,
    airspeeds,
    curve_error,
    luck,
    over_rest,
    spread_out,
    steady_seconds,
)
from foamwright.debrief.scene import Scene
from foamwright.debrief.segments import FLYING
from foamwright.model.drive import DriveModel
from foamwright.physics.arrays import Samples
from foamwright.physics.drive.at_revolutions import Turning, current_drawn, falling
from foamwright.quantity import show, show_band

LEAST = 5
"""Fewer seconds tell no airspeed."""
LOOSE = 0.3
"""Half a band wider than this share of the airspeed says nothing of use."""
PITOT = 0.03
"""Of a pitot nobody calibrated, relative; common practice, no source."""
LOADED = 0.4
"""Power over that at rest from which a current is the propeller's, not the motor's friction."""
ADVANCE, TURNED = 0.1, 0.25
"""Steps of advance ratio and of ln propeller speed within which seconds are one point."""
TOGETHER = 3
"""Fewer seconds are no point."""
LOW, MIDDLE, HIGH = 0.1, 0.5, 0.9


def read_propeller(scene: Scene) -> Share:
    """Return the airspeed by the propeller, whether the other one agrees, and what it teaches."""
    model, why = _usable(scene)
    if model is None:
        return _unsaid(why) if why else Share()
    seconds = steady_seconds(scene.recording, scene.airspeed)
    if scene.airspeed is not None:
        seconds = seconds.taken(np.nan_to_num(seconds.airspeed) > FLYING)
    looked = spread_out(seconds)
    if len(looked) < LEAST:
        return _unsaid("the propeller hardly ever turned steadily")
    found, tells = airspeeds(model, looked)
    low, middle, high = np.quantile(found, (LOW, MIDDLE, HIGH), axis=0)
    tells &= 0.5 * (high - low) < LOOSE * middle
    seen = _observed(scene, model, seconds)
    if np.count_nonzero(tells) < LEAST:
        share = _unsaid("what is known of motor and propeller leaves its band too wide")
        return Share(not_said=share.not_said, observations=seen)
    figures, findings = _told(scene, looked.taken(tells), found[:, tells])
    return Share(figures=figures, findings=findings, observations=seen)


def _usable(scene: Scene) -> tuple[DriveModel | None, str]:
    """Return the drive that a log with the propeller's speed can use, or why there is none."""
    log, model = scene.recording, scene.facts.drive
    if not log.has("rotation_speed"):
        return None, ""
    lacking = [name for name in CHANNELS if not log.has(name)]
    if lacking:
        return None, f"the log has no {' and no '.join(lacking)}"
    return model, "motor, propeller, pack or speed controller of the plane are not complete"


def _unsaid(why: str) -> Share:
    """Return that the airspeed by the propeller cannot be told."""
    return Share(not_said=(f"the airspeed by the propeller: {why}",))


def _figure(name: str, label: str, unit: str, values: Samples) -> Figure:
    """Return the middle and band of samples (n,) as a figure."""
    low, middle, high = (float(one) for one in np.quantile(values, (LOW, MIDDLE, HIGH)))
    return Figure(name=name, label=label, value=middle, low=low, high=high, unit=unit)


def _told(
    scene: Scene, seconds: Seconds, found: Samples
) -> tuple[tuple[Figure, ...], tuple[Remark, ...]]:
    """Return the mean airspeed by the propeller over some seconds, and whether the other agrees."""
    mean = found.mean(axis=1)
    label = f"airspeed by the propeller, over {len(seconds)} steady seconds"
    own = _figure("propeller_airspeed", label, "m s^-1", mean)
    if scene.airspeed is None:
        return (own,), ()
    other = float(seconds.airspeed.mean())
    by = "the pitot" if scene.wind is None else "ground speed and wind"
    ratio = _figure(
        "propeller_airspeed_ratio",
        f"airspeed by the propeller over that by {by}",
        "-",
        mean / other * np.exp(_other_error(scene) * luck(mean.size, 2)),
    )
    apart = not ratio.low <= 1.0 <= ratio.high
    return (own, ratio), (_apart(scene, own, other, by),) if apart else ()


def _other_error(scene: Scene) -> float:
    """Return what the airspeed by wind or pitot is off, relative."""
    return PITOT if scene.wind is None else scene.wind.airspeed_sd / scene.wind.airspeed


def _apart(scene: Scene, own: Figure, other: float, by: str) -> Remark:
    """Return that the propeller tells another airspeed."""
    units = scene.facts.units
    meter = (
        "the pitot: its tube clear, its hose tight"
        if scene.wind is None
        else "the wind of this flight: circles tell it best"
    )
    return Remark(
        what=f"by its propeller the plane flew {show(own.value, 'speed', units)}, by {by}"
        f" {show(other, 'speed', units)}",
        because=f"propeller speed, volts and amps put it at"
        f" {show_band(own.low, own.high, 'speed', units)}, eight in ten, in the same seconds",
        check_first=(
            "the propeller: whole, and the one the plane file names",
            "the current sensor: against the charge the charger puts back",
            meter,
        ),
    )


def _observed(scene: Scene, model: DriveModel, seconds: Seconds) -> tuple[Observation, ...]:
    """Return the current at each propeller speed and airspeed that were flown together.

    They teach only where no level flight does: those are the same amps.
    """
    table = model.drive.propeller
    if scene.airspeed is None:
        return ()
    advance = seconds.airspeed / (seconds.turning.revolutions * table.diameter)
    _, last = falling(table, seconds.turning.revolutions)
    loaded = over_rest(table, seconds.airspeed, seconds.turning) > LOADED
    seconds, advance = seconds.taken(loaded & (advance < last)), advance[loaded & (advance < last)]
    turned = np.log(seconds.turning.revolutions)
    cells = np.stack([np.floor(advance / ADVANCE), np.floor(turned / TURNED)], axis=1)
    places, owner = np.unique(cells, axis=0, return_inverse=True)
    teaches = not level_points(scene)
    return tuple(
        _point(scene, model, seconds.taken(owner.ravel() == number), teaches=teaches)
        for number in range(places.shape[0])
        if np.count_nonzero(owner == number) >= TOGETHER
    )


def _point(scene: Scene, model: DriveModel, seconds: Seconds, *, teaches: bool) -> Observation:
    """Return some seconds of about one state as one observation."""
    # Power goes with powers of speed, so that geometric means belong together.
    speed, turns, volts, amps = (
        float(np.exp(np.log(values).mean()))
        for values in (
            seconds.airspeed,
            seconds.turning.revolutions,
            seconds.turning.voltage,
            seconds.current,
        )
    )
    turning = Turning(revolutions=np.array([turns]), voltage=np.array([volts]))
    own = curve_error(model.drive.propeller, np.array([speed]), turning)[0]
    off = float(np.hypot(own, _slope(model, speed, turning) * _other_error(scene)))
    return Observation(
        name="propeller_current",
        value=amps,
        sd=amps * off,
        segment=f"whole log, {len(seconds)} steady seconds",
        speed=speed,
        time=float(len(seconds)),
        rotation_speed=turns,
        voltage=volts,
        teaches=teaches,
    )


def _slope(model: DriveModel, speed: float, turning: Turning) -> float:
    """Return by which power of the airspeed the current falls."""
    around = speed * np.array([0.97, 1.03])
    slower, faster = (
        float(np.median(current_drawn(model.drive, np.array([[one]]), turning))) for one in around
    )
    return float(np.log(max(faster, 1e-6) / max(slower, 1e-6)) / np.log(around[1] / around[0]))
