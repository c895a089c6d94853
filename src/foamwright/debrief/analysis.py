"""Read one flight: its segments, the wind, what the aeroplane did, and what cannot be said."""

import numpy as np

from foamwright.debrief.energy import charge_used, pack_resistance, sensor_scale
from foamwright.debrief.outcome import Analysis, Facts, Figure, Observation, Wind
from foamwright.debrief.polar import drag_area, glide_ratio, top_speed
from foamwright.debrief.recording import Recording
from foamwright.debrief.segments import find_segments
from foamwright.debrief.wind import airspeed, find_wind
from foamwright.physics.arrays import Grid

TENTH = 1.2815515655446004
"""Standard deviations from the middle of a normal to its 10 % and 90 % points."""
HOLES = 0.02
"""Share of rows missing from which it is said."""
WORDS = {
    "top_speed": ("top speed through the air", "m s^-1"),
    "top_speed_current": ("current at top speed", "A"),
    "top_speed_voltage": ("pack voltage at top speed", "V"),
    "glide_ratio": ("glide ratio", "-"),
    "drag_area": ("drag area in the glide", "m^2"),
    "pack_resistance": ("inner resistance of pack and leads", "ohm"),
}
"""Label and SI unit of what is observed."""


def analyse(recording: Recording, facts: Facts) -> Analysis:
    """Return everything that is read off one flight; what cannot be is said, never guessed."""
    wind, unsaid = find_wind(recording)
    flown = airspeed(recording, wind)
    segments = find_segments(recording, flown)
    seen, missing = _speeds(recording, facts, wind, flown)
    resistance = pack_resistance(recording)
    if resistance is not None and segments:
        whole = f"whole log from {recording.time[0]:.0f} s"
        seen += (
            Observation(
                name="pack_resistance", value=resistance.value, sd=resistance.sd, segment=whole
            ),
        )
    charge, remark = charge_used(recording, facts), sensor_scale(recording, facts)
    figures = (*(_figure(one) for one in seen), *(() if charge is None else (charge,)))
    return Analysis(
        segments=segments,
        wind=wind,
        figures=(*_air(wind), *figures),
        findings=() if remark is None else (remark,),
        not_said=tuple(word for word in (*_holes(recording), unsaid, *missing) if word),
        observations=seen,
    )


def _speeds(
    recording: Recording, facts: Facts, wind: Wind | None, flown: Grid | None
) -> tuple[tuple[Observation, ...], tuple[str, ...]]:
    """Return what dashes and glides show, and what they cannot."""
    if flown is None or not np.isfinite(flown).any():
        return (), ("speeds through the air: they need the wind or a measured airspeed",)
    segments = find_segments(recording, flown)
    fast = top_speed(recording, flown, wind, segments)
    glides = glide_ratio(recording, flown, wind, segments)
    missing = []
    if not fast:
        missing.append("the top speed: no level full throttle stretch of 3 s without a hole")
    if not glides:
        missing.append("the glide ratio: no settled throttle-off stretch of 3 s without a hole")
    areas = (drag_area(glide, speed, facts) for glide, speed in glides)
    seen = (*fast, *(glide for glide, _ in glides), *(area for area in areas if area is not None))
    return seen, tuple(missing)


def _holes(recording: Recording) -> tuple[str, ...]:
    """Return that rows are missing, where they are."""
    lost = 1.0 - recording.coverage
    if lost < HOLES:
        return ()
    return (f"what happened in {100.0 * lost:.0f} % of the time: no rows were recorded then",)


def _figure(seen: Observation) -> Figure:
    """Return an observation with its 80 % band."""
    label, unit = WORDS[seen.name]
    reach = TENTH * seen.sd
    return Figure(
        name=seen.name,
        label=label if seen.segment.startswith("whole") else f"{label}, {seen.segment}",
        value=seen.value,
        low=seen.value - reach,
        high=seen.value + reach,
        unit=unit,
    )


def _air(wind: Wind | None) -> tuple[Figure, ...]:
    """Return the mean airspeed as the wind fit found it."""
    if wind is None:
        return ()
    reach = TENTH * wind.airspeed_sd
    return (
        Figure(
            name="mean_airspeed",
            label="mean airspeed",
            value=wind.airspeed,
            low=wind.airspeed - reach,
            high=wind.airspeed + reach,
            unit="m s^-1",
        ),
    )
