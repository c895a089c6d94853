"""Speeds of the aeroplane through the air, segment by segment."""

import numpy as np

from foamwright.debrief.outcome import Facts, Observation, Segment, Share, Wind
from foamwright.debrief.recording import Recording
from foamwright.debrief.scene import Scene
from foamwright.physics.arrays import Grid

SETTLED = 1.5
"""What a dash and a glide take to settle [s]."""
LEAST = 1.5
"""Shorter settled stretches are not read [s]."""
GUSTS = 0.5
"""How far the mean of a short stretch strays by gusts [m s^-1]; common practice, no source."""


def read_polar(scene: Scene) -> Share:
    """Return what dashes and glides show, and what they cannot."""
    flown = scene.airspeed
    if flown is None or not np.isfinite(flown).any():
        return Share(
            not_said=("speeds through the air: they need the wind or a measured airspeed",)
        )
    fast = top_speed(scene.recording, flown, scene.wind, scene.segments)
    glides = glide_ratio(scene.recording, flown, scene.wind, scene.segments)
    missing = []
    if not fast:
        missing.append("the top speed: no level full throttle stretch of 3 s without a hole")
    if not glides:
        missing.append("the glide ratio: no settled throttle-off stretch of 3 s without a hole")
    off = 0.0 if scene.wind is None else scene.wind.sd
    areas = (drag_area(glide, (speed, off), scene.facts) for glide, speed in glides)
    seen = (*fast, *(glide for glide, _ in glides), *(area for area in areas if area is not None))
    return Share(observations=seen, not_said=tuple(missing))


def top_speed(
    recording: Recording, airspeed: Grid, wind: Wind | None, segments: tuple[Segment, ...]
) -> tuple[Observation, ...]:
    """Return the top speed with its current and voltage, from the fastest settled dash.

    Dashes that climb or sink by more than a tenth of their airspeed are left out.
    """
    best: tuple[float, Segment, slice] | None = None
    for segment in segments:
        rows = _settled(recording, segment)
        if segment.kind != "dash" or rows is None or not _level(recording, airspeed, rows):
            continue
        speed = float(np.nanmean(airspeed[rows]))
        if np.isfinite(speed) and (best is None or speed > best[0]):
            best = (speed, segment, rows)
    if best is None:
        return ()
    speed, segment, rows = best
    sd = float(np.hypot(GUSTS, 0.0 if wind is None else wind.sd))
    found = [Observation(name="top_speed", value=speed, sd=sd, segment=segment.name)]
    for channel, relative in (("current", 0.05), ("voltage", 0.01)):
        value = _mean(recording, channel, rows)
        if value is not None and value > 0.0:
            name = f"top_speed_{channel}"
            found.append(
                Observation(name=name, value=value, sd=relative * value, segment=segment.name)
            )
    return tuple(found)


def glide_ratio(
    recording: Recording, airspeed: Grid, wind: Wind | None, segments: tuple[Segment, ...]
) -> tuple[tuple[Observation, float], ...]:
    """Return the glide ratio of every settled glide with the airspeed it was flown at [m s^-1].

    The sink is taken from the change of energy height, so that slowing down is not taken for
    gliding well.
    """
    found = []
    for segment in segments:
        rows = _settled(recording, segment)
        if segment.kind != "glide" or rows is None or not recording.has("height"):
            continue
        time, height, speed = (
            recording.time[rows],
            recording.channel("height")[rows],
            airspeed[rows],
        )
        energy = height + speed**2 / (2.0 * 9.80665)
        known = np.isfinite(energy)
        if np.count_nonzero(known) < 10:
            continue
        slope, sd = _line(time[known], energy[known])
        flown = float(speed[known].mean())
        if slope < 0.0 and sd < 0.3 * -slope:
            own = np.hypot(sd / -slope, (0.0 if wind is None else wind.sd) / flown)
            value = flown / -slope
            sink = Observation(
                name="glide_ratio", value=value, sd=float(own) * value, segment=segment.name
            )
            found.append((sink, flown))
    return tuple(found)


def drag_area(
    glide: Observation, airspeed: tuple[float, float], facts: Facts
) -> Observation | None:
    """Return the drag area of a glide [m^2]: weight over glide ratio over dynamic pressure.

    The airspeed [m s^-1] comes with the sd that the wind gives it; it enters once by the glide
    ratio and twice by the pressure.
    """
    if facts.mass is None:
        return None
    speed, off = airspeed
    value = facts.mass * 9.80665 / glide.value / (0.5 * facts.air_density * speed**2)
    sd = value * float(np.hypot(glide.sd / glide.value, 3.0 * off / speed))
    return Observation(name="drag_area", value=value, sd=sd, segment=glide.segment)


def _settled(recording: Recording, segment: Segment) -> slice | None:
    """Return the rows of a segment after it has settled, or None where too little is left."""
    if segment.end - segment.start < SETTLED + LEAST:
        return None
    first, last = np.searchsorted(recording.time, [segment.start + SETTLED, segment.end])
    return slice(int(first), int(last) + 1)


def _level(recording: Recording, airspeed: Grid, rows: slice) -> bool:
    """Return whether the aeroplane flew level, as far as height or climb was logged."""
    rise = _mean(recording, "climb_rate", rows)
    if rise is None and recording.has("height"):
        height = recording.channel("height")[rows]
        known = np.isfinite(height)
        if np.count_nonzero(known) > 2:
            rise = _line(recording.time[rows][known], height[known])[0]
    return rise is None or abs(rise) < 0.1 * float(np.nanmean(airspeed[rows]))


def _mean(recording: Recording, name: str, rows: slice) -> float | None:
    """Return the mean of a channel over rows, or None where it was not logged."""
    values = recording.channels.get(name)
    if values is None or not np.isfinite(values[rows]).any():
        return None
    return float(np.nanmean(values[rows]))


def _line(time: Grid, values: Grid) -> tuple[float, float]:
    """Return the slope of a line and its one sigma, residuals taken to hang together for 1 s."""
    centred = time - time.mean()
    square = float(centred @ centred)
    slope = float(centred @ values) / square
    left = values - values.mean() - slope * centred
    together = max(1.0, 1.0 / max(float(np.median(np.diff(time))), 1e-3))
    free = max(time.size / together - 2.0, 1.0)
    return slope, float(
        np.sqrt(float(left @ left) / time.size / square * together) * np.sqrt((free + 2.0) / free)
    )
