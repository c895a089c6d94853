"""What a search starts from beside the log: the wind, and how the plane glides."""

import re

import numpy as np

from foamwright.debrief.falls import Air, Glider, parabolic
from foamwright.debrief.recording import Recording
from foamwright.debrief.wind import find_wind
from foamwright.model.computable import ComputablePlane
from foamwright.problems import CallProblem, QuantityProblem
from foamwright.quantity import read, show

WRITTEN_WIND = 1.5
"""Spread of a typed wind without one, either part [m s^-1]; common practice, no source."""
CHANGING = 1.0
"""How far the wind of the last minute is off that of the flight [m s^-1]; common practice, no
source."""
NO_WIND = 3.0
"""Either part of a wind nobody knows [m s^-1], one sigma; common practice, no source."""
PLAIN_RATIO, PLAIN_SPEED = (6.0, 0.3), (11.0, 0.25)
"""Glide ratio [-] and its speed [m s^-1] of a small foam plane, with the scatter of their natural
logarithms; common practice, no source."""
SPEEDS = 200
"""Of the glide, at how many it is told."""
POINTS = {
    name: 22.5 * place
    for place, name in enumerate(
        ["N", "NNE", "NE", "ENE", "E", "ESE", "SE", "SSE", "S"]
        + ["SSW", "SW", "WSW", "W", "WNW", "NW", "NNW"]
    )
}
"""Points of the compass [deg]."""
WIND = re.compile(r"^\s*(?P<speed>\S.*?)\s+from\s+(?P<where>\d{1,3}(?:\.\d+)?|[A-Za-z]{1,3})\s*$")
EXAMPLE = 'write for instance --wind "4 m/s from 250", degrees clockwise from north, or "from WSW"'


def point_of(bearing: float) -> str:
    """Return the nearest of sixteen points of the compass."""
    return tuple(POINTS)[round(bearing / 22.5) % len(POINTS)]


def typed_wind(text: str) -> Air:
    """Return a wind as typed; raises CallProblem."""
    match = WIND.match(re.sub(r"\s*(?:deg|°)\s*$", "", text))
    if match is None:
        raise CallProblem(f"--wind '{text}' is no wind", expected=EXAMPLE)
    try:
        speed = read(match["speed"], "speed", limits=(0.0, 60.0))
    except QuantityProblem as problem:
        raise CallProblem(f"--wind: {problem}", expected=EXAMPLE) from problem
    where = match["where"].upper()
    degrees = POINTS.get(where)
    if degrees is None:
        if not where[0].isdigit():
            raise CallProblem(f"--wind: no point of the compass '{where}'", expected=EXAMPLE)
        degrees = float(where)
    if degrees > 360.0:
        raise CallProblem(f"--wind: {where} degrees are more than a circle", expected=EXAMPLE)
    turn = np.radians(degrees)
    return Air(
        north=float(-speed.value * np.cos(turn)),
        east=float(-speed.value * np.sin(turn)),
        spread=WRITTEN_WIND if speed.spread is None else speed.spread,
    )


def air_of(recording: Recording, typed: str | None, units: str = "metric") -> tuple[Air, str]:
    """Return the wind, typed or from the log, and where it comes from in words."""
    if typed is not None:
        return typed_wind(typed), "the wind is the one you gave"
    wind, unsaid = find_wind(recording)
    if wind is not None:
        air = Air(north=wind.north, east=wind.east, spread=float(np.hypot(wind.sd, CHANGING)))
        return air, "the wind is the mean one the log shows"
    why = unsaid.partition(". ")[0]
    return unknown_air(f"the log does not tell {why}; ", units)


def unknown_air(why: str, units: str) -> tuple[Air, str]:
    """Return what is taken of a wind that nobody knows, and that in words after `why`."""
    most = show(2.0 * NO_WIND, "speed", units)
    words = f"{why}up to {most} from anywhere is taken: say it with --wind"
    return Air(north=0.0, east=0.0, spread=NO_WIND), words


def unlogged_air(typed: str | None, units: str = "metric") -> tuple[Air, str]:
    """Return the wind as typed, where there is no log that could tell it."""
    if typed is not None:
        return typed_wind(typed), "the wind is the one you gave"
    return unknown_air("no wind was given: ", units)


def glider_of(computed: ComputablePlane, draw: np.random.Generator) -> tuple[Glider, str]:
    """Return how the plane glides, and where that comes from in words."""
    slow, drag = computed.slow_flight, computed.drag
    known = np.isfinite(slow.glide_ratio) & np.isfinite(slow.glide_speed) & (slow.glide_ratio > 0.0)
    if known.mean() > 0.5:
        ratio = computed.weight[:, None] / drag.drag
        speeds = np.linspace(float(drag.speed[0]), float(drag.speed[-1]), SPEEDS)
        even = np.stack([np.interp(speeds, drag.speed, row) for row in ratio[known]])
        # Slower than the best glide it would mush or stall; nothing here flies there.
        return (
            Glider(speeds=speeds, ratio=even, best=slow.glide_speed[known]),
            "the plane glides as its model has it, between its best glide and the speed it had",
        )
    ratios, fast = (
        middle * np.exp(scatter * draw.normal(size=computed.samples))
        for middle, scatter in (PLAIN_RATIO, PLAIN_SPEED)
    )
    words = "the plane file does not tell how it glides: a best glide ratio of 4 to 9 taken"
    return parabolic(ratios, fast), words
