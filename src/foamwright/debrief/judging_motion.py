"""Judging positions, speeds, courses, heights by each other."""

from dataclasses import replace

import numpy as np

from foamwright.debrief.evidence import (
    CORRELATED,
    airspeed_factor,
    course_error,
    fitted_slope,
    mean_between,
    slope_over,
    smoothed,
    speed_ratio,
    turned,
    typical_ratio,
    unit_of_ratio,
)
from foamwright.debrief.judging import (
    CONTRADICTED,
    UNIT_GUESSED,
    Bench,
    Verdict,
    big,
    borne_out,
    by_size,
    in_unit,
    number,
    options_by_size,
    si,
    stated,
    words,
)
from foamwright.debrief.logged_units import DEGREE, UNITS
from foamwright.debrief.naming import Meaning
from foamwright.physics.arrays import Grid
from foamwright.quantity import in_units, show

SPEEDS = ("m/s", "km/h", "kn", "mph", "ft/s", "cm/s", "dm/s", "mm/s")
EARTH = 6.371e6
REACH = (20.0, 60e3)
"""How far a foam plane's positions lie apart [m]."""
CRAB = np.radians(12.0)
"""Median angle between a course and the path that is still the same thing."""


def position(bench: Bench, values: Grid, meaning: Meaning) -> Verdict:
    """Judge a latitude or longitude: by its size and by how far the flight reaches."""
    most = 90.0 if meaning.taken_as == "latitude" else 180.0
    size = big(values)
    if meaning.unit:
        found = stated(values, meaning)
        possible = size * found.factor <= np.radians(most) * 1.0001
        return found if possible else replace(found, sure=CONTRADICTED)
    if size > most:
        return whole_numbers(bench, size, meaning)
    known, units = values[np.isfinite(values)], bench.expected.units
    apart = float(np.percentile(known, 99) - np.percentile(known, 1)) if known.size else 0.0
    if apart * EARTH < REACH[1] and size <= np.radians(most) and apart * DEGREE * EARTH < REACH[0]:
        far = show(apart * EARTH, "length", units)
        because = f"as radians they reach over {far}, as degrees over hardly any"
        return in_unit("rad", meaning.taken_as, 0.85, because)
    far = show(apart * DEGREE * EARTH, "length", units)
    sure = 0.97 if apart * DEGREE * EARTH < REACH[1] else CONTRADICTED
    return in_unit("deg", meaning.taken_as, sure, f"as degrees they reach over {far}")


def whole_numbers(bench: Bench, size: float, meaning: Meaning) -> Verdict:
    """Judge a position in whole numbers, by the larger of its two halves."""
    beside = ((name, most) for name, most in (("latitude", 90.0), ("longitude", 180.0)))
    shares = [big(bench.written[name]) / most for name, most in beside if name in bench.written]
    share = max([*shares, size / (90.0 if meaning.taken_as == "latitude" else 180.0)])
    because = f"it reaches {number(size)}"
    if 1e6 < share <= 1e7:
        return in_unit("1e-7 deg", meaning.taken_as, 0.95, f"{because}, 1e-7 degrees")
    if share <= 1e6:
        because += ", which may be 1e-7 or 1e-6 degrees"
        return in_unit("1e-7 deg", meaning.taken_as, UNIT_GUESSED, because)
    return in_unit("1e-7 deg", meaning.taken_as, CONTRADICTED, f"{because}, which is nowhere")


def too_fast(bench: Bench, values: Grid) -> str:
    """Return that a speed as written would pass the pitch speed, where it would."""
    limit = bench.expected.pitch_speed
    size = big(values)
    if limit is None or size <= limit:
        return ""
    return (
        f"; {number(size)} as m/s would pass the pitch speed of the power train, "
        f"{show(limit, 'speed', bench.expected.units)}"
    )


def ground_speed(bench: Bench, values: Grid, meaning: Meaning) -> Verdict:
    """Judge a speed over the ground: against the positions, then the pitch speed."""
    second = too_fast(bench, values)
    ratio = speed_ratio(bench.time, values, bench.track) if bench.track else float("nan")
    if np.isfinite(ratio):
        match = unit_of_ratio(ratio, "speed", SPEEDS)
        one, own = in_units(1.0, "speed", bench.expected.units)
        because = f"it shows {number(1 / (one * ratio))} where the positions move 1 {own}{second}"
        if match is not None:
            return borne_out(meaning, match.unit, because)
        found = stated(values, meaning) if meaning.unit else by_size(values, meaning)
        return replace(found, sure=min(found.sure, CONTRADICTED), because=f"{because}: no unit")
    if meaning.unit:
        found = stated(values, meaning)
        limit = bench.expected.pitch_speed
        if limit is not None and big(si(values, found)) > 1.6 * limit:
            return replace(found, sure=CONTRADICTED, because=found.because + second)
        return found
    found = by_size(values, meaning)
    return replace(found, sure=min(found.sure, UNIT_GUESSED), because=found.because + second)


def airspeed(bench: Bench, values: Grid, meaning: Meaning) -> Verdict:
    """Judge an airspeed: against the speed over the ground."""
    known = bench.known.get("ground_speed")
    if known is None and bench.track is not None and bench.track.speed.size:
        known = np.interp(bench.time, bench.track.middle, bench.track.speed)
    if known is None:
        return stated(values, meaning) if meaning.unit else by_size(values, meaning)
    ratio = typical_ratio(known, values)
    if meaning.unit:
        found = stated(values, meaning)
        off = ratio / found.factor if np.isfinite(ratio) else 1.0
        if 0.4 < off < 2.5:
            return found
        return replace(
            found,
            sure=UNIT_GUESSED,
            because=f"{found.because}, but the speed over "
            f"the ground is {number(off)} times as high",
        )
    factor = in_circles(bench, values)
    match = unit_of_ratio(factor, "speed", SPEEDS)
    if match is None:
        return by_size(values, meaning)
    because = f"in circles, the wind taken out, the ground passes at {number(factor)} times it"
    return in_unit(match.unit, meaning.taken_as, 0.9, because)


def in_circles(bench: Bench, values: Grid) -> float:
    """Return metres a second of a written airspeed from the velocity over the ground."""
    track = bench.track
    if track is not None:
        written = mean_between(bench.time, values, track.start, track.end)
        north, east = track.speed * np.cos(track.course), track.speed * np.sin(track.course)
        return airspeed_factor(north, east, written)
    if not {"ground_speed", "course"} <= set(bench.known):
        return float("nan")
    speed, way = bench.known["ground_speed"], bench.known["course"]
    return airspeed_factor(speed * np.cos(way), speed * np.sin(way), values)


def component(bench: Bench, values: Grid, meaning: Meaning) -> Verdict:
    """Judge a speed north or east: both together are the speed over the ground."""
    north, east = bench.written.get("north_speed"), bench.written.get("east_speed")
    if north is None or east is None:
        found = stated(values, meaning) if meaning.unit else by_size(values, meaning)
        return replace(found, sure=min(found.sure, UNIT_GUESSED))
    whole = np.hypot(north, east)
    as_speed = Meaning(taken_as="ground_speed", unit=meaning.unit, strength=meaning.strength)
    found = ground_speed(bench, whole, as_speed)
    if meaning.strength < 0.8 and bench.track is not None:
        off = course_error(bench.time, np.arctan2(east, north), bench.track)
        if off < CRAB:
            return replace(found, because=f"{found.because}; its course is that of the path")
        return replace(found, sure=min(found.sure, CONTRADICTED))
    return found if meaning.strength >= 0.8 else replace(found, sure=min(found.sure, UNIT_GUESSED))


def course(bench: Bench, values: Grid, meaning: Meaning) -> Verdict:
    """Judge a course: against the path of the positions, then by its span."""
    options = (meaning.unit,) if meaning.unit else ("deg", "rad", "cdeg", "ddeg", "1e-6 deg")
    if bench.track is not None:
        off = {
            unit: course_error(bench.time, values * UNITS["angle"][unit][0], bench.track)
            for unit in options
        }
        best = min(off, key=lambda unit: off[unit] if np.isfinite(off[unit]) else np.inf)
        if off[best] < CRAB:
            because = (
                f"it follows the path of the positions to {number(off[best] / DEGREE)} degrees"
            )
            return in_unit(best, meaning.taken_as, 0.97, because)
        if np.isfinite(off[best]):
            found = turning(values, meaning)
            because = f"the path of the positions lies {number(off[best] / DEGREE)} degrees off"
            return replace(found, sure=CONTRADICTED, because=because)
    return turning(values, meaning)


def turning(values: Grid, meaning: Meaning) -> Verdict:
    """Judge an angle all around by the numbers that full turns reach."""
    if meaning.unit:
        return stated(values, meaning)
    span = float(np.nanmax(values) - np.nanmin(values))
    for unit, turn in (("rad", 2 * np.pi), ("deg", 360.0), ("ddeg", 3600.0), ("cdeg", 36000.0)):
        if 0.55 * turn < span <= 1.01 * turn:
            because = f"a whole turn is {number(turn)}, and it spans {number(span)}"
            sure = min(0.9, meaning.strength)
            return in_unit(unit, meaning.taken_as, sure, because)
    if 7.0 < span < 360.0:
        because = f"it spans {number(span)}, too much for radians"
        return in_unit("deg", meaning.taken_as, min(0.85, meaning.strength), because)
    return by_size(values, meaning, ("deg", "rad"))


def height(bench: Bench, values: Grid, meaning: Meaning) -> Verdict:
    """Judge a height: its change against a climb rate that is written too."""
    climb = bench.written.get("climb_rate")
    if meaning.unit:
        return stated(values, meaning)
    if climb is None:
        return by_size(values, meaning, options_by_size(values, "height") or ("m",))
    change = slope_over(bench.time, values, 3.0)
    slope, agreed = fitted_slope(smoothed(bench.time, climb, 3.0), change)
    if agreed > CORRELATED:
        match = unit_of_ratio(slope, "length", ("m", "ft", "cm", "mm", "dm"), near=0.15)
        if match is not None and "climb_rate" in bench.known:
            because = f"its change is the climb rate to {abs(match.off) * 100:.0f} %"
            return in_unit(match.unit, "height", 0.92, because)
        if match is not None and match.unit == "m":
            return in_unit("m", "height", 0.82, "its change is the climb rate, both as metres")
    return by_size(values, meaning, options_by_size(values, "height") or ("m",))


def climb(bench: Bench, values: Grid, meaning: Meaning) -> Verdict:
    """Judge a climb rate, sign included: against the change of height."""
    known = bench.known.get("height")
    found = stated(values, meaning) if meaning.unit else by_size(values, meaning)
    if known is None:
        return found
    up = -1.0 if meaning.taken_as == "sink_rate" else 1.0
    slope, agreed = fitted_slope(
        slope_over(bench.time, known, 3.0), up * smoothed(bench.time, values, 3.0)
    )
    if abs(agreed) < CORRELATED:
        return found
    match = unit_of_ratio(abs(slope), "speed", (*SPEEDS, "ft/min"), near=0.15)
    if match is None:
        return found
    because = f"the height changes by it to {abs(match.off) * 100:.0f} %"
    if agreed < 0:
        because = f"the height changes against it: {words(meaning.taken_as)} with its sign turned"
        sure = 0.9 if meaning.strength < 0.85 else CONTRADICTED
        turned_over = in_unit(match.unit, meaning.taken_as, sure, because)
        return replace(turned_over, factor=-turned_over.factor)
    return borne_out(meaning, match.unit, because, 0.95)


def heading(bench: Bench, values: Grid, meaning: Meaning) -> Verdict:
    """Judge a heading: one that never leaves the path in all directions is a course."""
    found = turning(values, meaning)
    if bench.track is None or found.sure < UNIT_GUESSED:
        return found
    off = course_error(bench.time, turned(si(values, found)), bench.track)
    if off < np.radians(2.5) and np.ptp(np.unwrap(bench.track.course)) > np.pi:
        because = f"it follows the path to {number(off / DEGREE)} degrees, as only a course does"
        return replace(found, sure=CONTRADICTED, because=because)
    if off < np.radians(50.0):
        because = f"{found.because}; the path lies {number(off / DEGREE)} degrees beside it"
        return replace(found, sure=max(found.sure, 0.88), because=because)
    return found
