"""A flight as it is held beside others: observations with the conditions they were flown in."""

from dataclasses import replace

import numpy as np

from foamwright.debrief.observed import Flown, Reading
from foamwright.debrief.outcome import Analysis, Observation, Segment
from foamwright.debrief.recording import Recording
from foamwright.debrief.wanted import WANTED
from foamwright.debrief.wind import airspeed, off_by_wind

FEW = 50
"""Fewer rows of voltage with current tell no resistance."""
LEAST_CURRENT = 1.0
"""Currents that differ less than this tell none [A], one sigma."""
STRAIGHT = 0.95
"""Mean velocity over mean speed from which a segment counts as flown on one heading."""


def placed(recording: Recording, found: Analysis) -> tuple[Observation, ...]:
    """Return what was observed, each with the airspeed and the time of its segment."""
    flown = airspeed(recording, found.wind)
    parts = {segment.name: segment for segment in found.segments}
    told = []
    for one in found.observations:
        part, speed, time = parts.get(one.segment), one.speed, one.time
        if time is None and part is not None:
            time = part.end - part.start
        if speed is None and part is not None and flown is not None:
            known = flown[_inside(recording, part) & np.isfinite(flown)]
            speed = float(np.median(known)) if known.size else None
        told.append(replace(one, speed=speed, time=time))
    return tuple(told)


def flown_of(recording: Recording, found: Analysis) -> Flown:
    """Return a flight for comparison, with the conditions that its log tells."""
    parts = {segment.name: segment for segment in found.segments}
    measured = [one.value for one in found.observations if one.name == "pack_resistance"]
    resistance = measured[0] if measured else rough_resistance(recording)
    readings = []
    for one in placed(recording, found):
        if one.name not in WANTED or not (one.value > 0.0 and one.sd > 0.0):
            continue
        volts = _at_rest(recording, parts.get(one.segment), resistance)
        readings.append(
            Reading(
                name=one.name,
                value=one.value,
                sd=one.sd,
                wind_sd=_by_wind(recording, found, parts.get(one.segment)),
                speed=one.speed,
                heading=_heading(recording, found, parts.get(one.segment)),
                conditions={} if volts is None else {"voltage": volts},
            )
        )
    wind = found.wind
    if wind is None:
        return Flown(readings=tuple(readings))
    return Flown(readings=tuple(readings), wind_sd=wind.sd, wind=(wind.north, wind.east))


def _by_wind(recording: Recording, found: Analysis, part: Segment | None) -> float:
    """Return one sigma of the wind along where a segment was flown [m s^-1]."""
    if found.wind is None or part is None:
        return 0.0 if found.wind is None else found.wind.sd
    return off_by_wind(recording, found.wind, _inside(recording, part))


def _heading(recording: Recording, found: Analysis, part: Segment | None) -> float | None:
    """Return the heading of a segment by ground velocity and wind [rad]; None where it turned."""
    if part is None or found.wind is None or not recording.has("ground_speed", "course"):
        return None
    rows = _inside(recording, part)
    speed, course = recording.channel("ground_speed")[rows], recording.channel("course")[rows]
    north = speed * np.cos(course) - found.wind.north
    east = speed * np.sin(course) - found.wind.east
    known = np.isfinite(north) & np.isfinite(east)
    if not known.any():
        return None
    along = float(np.hypot(north[known].mean(), east[known].mean()))
    if along < STRAIGHT * float(np.hypot(north[known], east[known]).mean()):
        return None
    return float(np.arctan2(east[known].mean(), north[known].mean()))


def rough_resistance(recording: Recording) -> float | None:
    """Return the pack's resistance as levels of voltage and current tell it [ohm], or None.

    Good enough for the voltage at rest, where both sides share what it is off; it is not told.
    """
    if not recording.has("voltage", "current"):
        return None
    volts, amps = recording.channel("voltage"), recording.channel("current")
    known = np.isfinite(volts) & np.isfinite(amps)
    if np.count_nonzero(known) < FEW or float(amps[known].std()) < LEAST_CURRENT:
        return None
    volts, amps = volts[known], amps[known]
    used = np.cumsum(amps) / np.sum(np.abs(amps))
    parts = np.stack([np.ones(volts.size), used, used**2, amps], axis=1)
    slope = -float(np.linalg.lstsq(parts, volts, rcond=None)[0][3])
    return slope if slope > 0.0 else None


def _at_rest(recording: Recording, part: Segment | None, resistance: float | None) -> float | None:
    """Return the pack's voltage without load during a segment [V]; None where it is not known.

    The voltage under load would not do: what draws more sags more, and a correction by it would
    hand the change what it costs.
    """
    if part is None or resistance is None or not recording.has("voltage", "current"):
        return None
    rows = _inside(recording, part)
    rest = (recording.channel("voltage") + resistance * recording.channel("current"))[rows]
    known = rest[np.isfinite(rest)]
    return float(known.mean()) if known.size else None


def _inside(recording: Recording, part: Segment) -> np.ndarray:
    """Return which rows lie in a segment (k,)."""
    return np.asarray((recording.time >= part.start) & (recording.time <= part.end))
