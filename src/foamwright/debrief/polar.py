"""Speeds of the aeroplane through the air, segment by segment."""

import numpy as np

from foamwright.debrief.gusts import UPRIGHT, USUAL, Gusts, left_in_mean, left_in_slope
from foamwright.debrief.outcome import Facts, Figure, Observation, Segment, Share, Wind
from foamwright.debrief.recording import Recording
from foamwright.debrief.scene import Scene
from foamwright.debrief.wind import off_by_wind
from foamwright.physics.air.atmosphere import GRAVITY
from foamwright.physics.arrays import Grid
from foamwright.physics.numerics.normal import TENTH

SETTLED = 1.5
"""What a dash and a glide take to settle [s]."""
LEAST = 1.5
"""Shorter settled stretches are not read [s]."""
DELAYED = 0.5
"""What throttle and motor take to be there [s]."""
TIMES = np.geomspace(0.7, 3.0, 12)
"""In which the speed of a light aeroplane may come near its end, to 1/e [s]."""
UNSTEADY = 1.5
"""A dash whose band is so many times wider than that of the surest is left out."""
ROWS = 200
"""So many rows of a glide are plenty."""
NOSE = np.radians(8.0)
"""Farther from its pitch in cruise the nose tells of no level dash: it is some four degrees lower
when fast, and a tenth of the airspeed is six [rad]."""
NOSE_ALONE = 0.05
"""Of a top speed that the nose alone calls level, one sigma [-]: a path three degrees off adds a
sixth to the pull where the drag is a third of the weight, and the speed follows by a third of it,
since pull falls while drag rises. Own derivation."""
UNTOLD = (
    "the top speed: the log tells no height, climb rate or pitch, and so not whether a dash was "
    "level or a dive; log one of them, height above all, or say which column holds it"
)
HEIGHT_NOISE = 0.5
"""Of a height against the one before [m]; common practice, no source."""


def read_polar(scene: Scene) -> Share:
    """Return what dashes and glides show, and what they cannot."""
    flown = scene.airspeed
    if flown is None or not np.isfinite(flown).any():
        return Share(
            not_said=("speeds through the air: they need the wind or a measured airspeed",)
        )
    told = levelness(scene.recording)
    dashes = top_speed(scene.recording, flown, scene.wind, scene.segments, gusts=scene.gusts)
    fast = dashes if told else ()
    glides = glide_ratio(scene.recording, flown, scene.wind, scene.segments, gusts=scene.gusts)
    areas = (drag_area(glide, (speed, off), scene.facts) for glide, speed, off in glides)
    seen = (
        *fast,
        *(glide for glide, _, _ in glides),
        *(area for area in areas if area is not None),
    )
    missing = unread(scene.recording, fast=bool(fast), glides=bool(glides))
    if dashes and not told:
        missing = (UNTOLD, *missing[1:])
    return Share(
        observations=seen,
        figures=tuple(level_or_not(one) for one in dashes[:1] if not told),
        not_said=missing,
    )


def level_or_not(dash: Observation) -> Figure:
    """Return the speed of a dash of which nothing tells whether it was level."""
    reach = TENTH * dash.sd
    return Figure(
        name="full_throttle_speed",
        label=f"speed through the air at full throttle, level or not, {dash.segment}",
        value=dash.value,
        low=dash.value - reach,
        high=dash.value + reach,
        unit="m s^-1",
    )


def unread(recording: Recording, *, fast: bool, glides: bool) -> tuple[str, ...]:
    """Return what was not read of dashes and glides, and why."""
    missing = []
    if not fast:
        why = lacking(recording, "throttle")
        missing.append(
            f"the top speed: {why or 'no level full throttle stretch of 3 s without a hole'}"
        )
    if not glides:
        why = lacking(recording, "throttle", "height")
        missing.append(
            f"the glide ratio: {why or 'no settled throttle-off stretch of 3 s without a hole'}"
        )
    return tuple(missing)


def lacking(recording: Recording, *names: str) -> str:
    """Return that the log has no channel of some names; empty where it has them all."""
    gone = [name for name in names if not recording.has(name)]
    return f"the log tells no {' and no '.join(gone)}" if gone else ""


def top_speed(
    recording: Recording,
    airspeed: Grid,
    wind: Wind | None,
    segments: tuple[Segment, ...],
    *,
    gusts: Gusts = USUAL,
) -> tuple[Observation, ...]:
    """Return the top speed with its current and voltage, from the fastest of the surest dashes.

    A dash is read as a speed that comes near its end exponentially, so that one cut short is
    neither taken for slow nor for sure. Dashes that climb or sink by more than a tenth of their
    airspeed are left out. Where the nose alone tells that, the band is wider; where nothing tells
    it (`levelness`), a dive is as fast as it likes.
    """
    by_nose = levelness(recording) == "pitch"
    found = []
    for segment in segments:
        rows = _settled(recording, segment)
        level = rows is not None and _level(recording, airspeed, rows, segments)
        if segment.kind != "dash" or rows is None or not level:
            continue
        ending = _ending(recording, airspeed, segment, gusts)
        if ending is not None:
            speed, own = ending
            steep = NOSE_ALONE * speed if by_nose else 0.0
            sd = float(np.linalg.norm((own, off_by_wind(recording, wind, rows), steep)))
            found.append((speed, sd, segment, rows))
    if not found:
        return ()
    surest = min(sd for _, sd, _, _ in found)
    sure = [dash for dash in found if dash[1] <= UNSTEADY * surest]
    speed, sd, segment, rows = max(sure, key=lambda dash: dash[0])
    seen = [Observation(name="top_speed", value=speed, sd=sd, segment=segment.name, speed=speed)]
    for channel, relative in (("current", 0.05), ("voltage", 0.01)):
        value = _mean(recording, channel, rows)
        if value is not None and value > 0.0:
            name = f"top_speed_{channel}"
            seen.append(
                Observation(name=name, value=value, sd=relative * value, segment=segment.name)
            )
    return tuple(seen)


def _ending(
    recording: Recording, airspeed: Grid, segment: Segment, gusts: Gusts
) -> tuple[float, float] | None:
    """Return the airspeed a dash comes near, and one sigma of it by gusts [m s^-1]."""
    first, last = np.searchsorted(recording.time, [segment.start + DELAYED, segment.end])
    time, speed = recording.time[first : last + 1], airspeed[first : last + 1]
    known = np.isfinite(speed)
    if np.count_nonzero(known) < 10:
        return None
    time, speed = time[known] - time[known][0], speed[known]
    best = (np.inf, 0.0, 0.0)
    for fall in TIMES:
        terms = np.column_stack([np.ones(time.size), np.exp(-time / fall)])
        inverse = np.linalg.inv(terms.T @ terms)
        found = inverse @ (terms.T @ speed)
        left = float(np.sum((speed - terms @ found) ** 2))
        if left < best[0]:
            # Over the sigma of a plain mean: what not knowing how far it had settled costs.
            best = (left, float(found[0]), float(np.sqrt(time.size * inverse[0, 0])))
    return best[1], best[2] * left_in_mean(gusts, float(time[-1]))


def glide_ratio(
    recording: Recording,
    airspeed: Grid,
    wind: Wind | None,
    segments: tuple[Segment, ...],
    *,
    gusts: Gusts = USUAL,
) -> tuple[tuple[Observation, float, float], ...]:
    """Return the glide ratio of every settled glide with the airspeed it was flown at [m s^-1].

    The third is one sigma that the wind gives that airspeed.

    The sink is taken from the change of energy height, so that slowing down is not taken for
    gliding well. Its band holds gusts along, which look like energy, and the air's own rise.
    """
    if not recording.has("height"):
        return ()
    found = []
    for segment in segments:
        rows = _settled(recording, segment)
        if segment.kind != "glide" or rows is None:
            continue
        glide = _glide(recording, airspeed, rows, gusts)
        if glide is None:
            continue
        flown, sink, sd = glide
        if sink > 0.0 and sd < 0.3 * sink:
            seconds = float(np.ptp(recording.time[rows]))
            by_wind = off_by_wind(recording, wind, rows)
            off = float(np.hypot(left_in_mean(gusts, seconds), by_wind))
            value = flown / sink
            seen = Observation(
                name="glide_ratio",
                value=value,
                sd=float(np.hypot(sd / sink, off / flown)) * value,
                segment=segment.name,
                speed=flown,
            )
            found.append((seen, flown, by_wind))
    return tuple(found)


def _glide(
    recording: Recording, airspeed: Grid, rows: slice, gusts: Gusts
) -> tuple[float, float, float] | None:
    """Return airspeed, sink of the energy height and its one sigma [m s^-1]."""
    time, height, speed = (
        recording.time[rows],
        recording.channel("height")[rows],
        airspeed[rows],
    )
    energy = height + speed**2 / (2.0 * GRAVITY)
    known = np.flatnonzero(np.isfinite(energy))
    known = known[:: max(1, known.size // ROWS)]
    if known.size < 10:
        return None
    flown, seconds = float(speed[known].mean()), float(np.ptp(time[known]))
    along = Gusts(strength=gusts.strength * flown / GRAVITY, time=gusts.time)
    rough = HEIGHT_NOISE * float(np.sqrt(12.0 / known.size)) / max(seconds, 1.0)
    # The slope of a line through a random walk scatters by 6/5 of its mean drift, in variance.
    rising = float(np.sqrt(1.2)) * UPRIGHT * left_in_mean(gusts, seconds)
    sd = float(np.sqrt(left_in_slope(along, time[known]) ** 2 + rough**2 + rising**2))
    return flown, -_line(time[known], energy[known])[0], sd


def drag_area(
    glide: Observation, airspeed: tuple[float, float], facts: Facts
) -> Observation | None:
    """Return the drag area of a glide [m^2]: weight over glide ratio over dynamic pressure.

    The airspeed [m s^-1] comes with the sd that the wind gives it; it enters once by the glide
    ratio and twice by the pressure. It teaches nothing beside the glide ratio it is made of.
    """
    if facts.mass is None:
        return None
    speed, off = airspeed
    value = facts.mass * GRAVITY / glide.value / (0.5 * facts.air_density * speed**2)
    sd = value * float(np.hypot(glide.sd / glide.value, 3.0 * off / speed))
    return Observation(
        name="drag_area", value=value, sd=sd, segment=glide.segment, speed=speed, teaches=False
    )


def _settled(recording: Recording, segment: Segment) -> slice | None:
    """Return the rows of a segment after it has settled, or None where too little is left."""
    if segment.end - segment.start < SETTLED + LEAST:
        return None
    first, last = np.searchsorted(recording.time, [segment.start + SETTLED, segment.end])
    return slice(int(first), int(last) + 1)


def levelness(recording: Recording) -> str:
    """Return the channel that tells whether a dash was level; empty where none does."""
    known = (
        name
        for name in ("climb_rate", "height", "pitch")
        if recording.has(name) and np.isfinite(recording.channel(name)).any()
    )
    return next(known, "")


def _level(
    recording: Recording, airspeed: Grid, rows: slice, segments: tuple[Segment, ...]
) -> bool:
    """Return whether the aeroplane flew level, as far as the log tells it.

    Where neither climb nor height was logged the nose tells it, against its mean in cruise. What
    was logged, but not in this dash, tells nothing of it; where nothing was logged at all, any dash
    will do, and is told as no more than that.
    """
    rise = _mean(recording, "climb_rate", rows)
    if rise is None and recording.has("height"):
        height = recording.channel("height")[rows]
        known = np.isfinite(height)
        if np.count_nonzero(known) > 2:
            rise = _line(recording.time[rows][known], height[known])[0]
    if rise is not None:
        flown = airspeed[rows][np.isfinite(airspeed[rows])]
        return bool(flown.size) and abs(rise) < 0.1 * float(np.mean(flown))
    if levelness(recording) == "pitch":
        nose, usual = _mean(recording, "pitch", rows), _cruising(recording, segments)
        return nose is not None and abs(nose - usual) < NOSE
    return not levelness(recording)


def _cruising(recording: Recording, segments: tuple[Segment, ...]) -> float:
    """Return the usual pitch in cruise [rad]; level with the sensor where nothing was cruised."""
    inside = np.zeros(recording.time.size, dtype=bool)
    for segment in segments:
        if segment.kind == "cruise":
            inside |= (recording.time >= segment.start) & (recording.time <= segment.end)
    known = recording.channel("pitch")[inside]
    known = known[np.isfinite(known)]
    return float(np.median(known)) if known.size else 0.0


def _mean(recording: Recording, name: str, rows: slice) -> float | None:
    """Return the mean of a channel over rows, or None where it was not logged."""
    values = recording.channels.get(name)
    if values is None or not np.isfinite(values[rows]).any():
        return None
    return float(np.nanmean(values[rows]))


def _line(time: Grid, values: Grid) -> tuple[float, float]:
    """Return the slope and the middle of a line."""
    centred = time - time.mean()
    return float(centred @ values) / float(centred @ centred), float(values.mean())
