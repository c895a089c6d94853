"""Readings that hang on the airspeed, brought to one speed that both sides flew."""

import math
from collections.abc import Sequence
from dataclasses import replace

from foamwright.debrief.observed import Flown, Reading
from foamwright.debrief.wanted import EXPONENT

ALIKE = math.log(1.2)
"""Speeds farther apart than this are not brought to one (logarithm)."""

Sides = tuple[Sequence[Flown], Sequence[Flown]]


def at_like_speed(
    name: str, power: float, sides: Sides, *, at_lowest: bool = False
) -> tuple[Sides, float | None]:
    """Return the sides with readings of one name at one speed, and that speed [m s^-1].

    Each is brought there by a power of the speed, whose doubt widens its sd; those too far off
    are left out. Where no speed is told nothing is changed; where none is shared, nothing is left.
    It is the speed that most flights flew, or (`at_lowest`) that of the lowest reading of all that
    both sides flew at.
    """
    told = [_speeds(name, side) for side in sides]
    if not all(told):
        return sides, None
    speed = _of_lowest(name, sides) if at_lowest else _shared(name, sides, _all(told))
    if speed is None:
        return ((), ()), None
    before, after = (
        tuple(_brought(flight, name, power, speed) for flight in side) for side in sides
    )
    return (before, after), speed


def _all(told: Sequence[Sequence[float]]) -> list[float]:
    """Return the speeds of both sides in order."""
    return sorted({speed for side in told for speed in side})


def _of_lowest(name: str, sides: Sides) -> float | None:
    """Return the speed of the lowest reading near which both sides have one; None without any."""
    flights = [flight for side in sides for flight in side]
    told = [one for flight in flights for one in flight.readings if one.name == name and one.speed]
    lowest_first = (one.speed for one in sorted(told, key=lambda one: one.value) if one.speed)
    return next(
        (
            speed
            for speed in lowest_first
            if all(any(_nearest(name, f, speed) <= ALIKE for f in side) for side in sides)
        ),
        None,
    )


def _speeds(name: str, side: Sequence[Flown]) -> list[float]:
    """Return the airspeeds at which one side has readings."""
    return [
        one.speed for flight in side for one in flight.readings if one.name == name and one.speed
    ]


def _shared(name: str, sides: Sides, candidates: Sequence[float]) -> float | None:
    """Return the speed near which most flights of both sides have a reading; None without any.

    Of several such, the one to which they lie nearest.
    """
    best: tuple[int, float] | None = None
    found = None
    for speed in candidates:
        off = [[_nearest(name, flight, speed) for flight in side] for side in sides]
        near = [[one for one in side if one <= ALIKE] for side in off]
        if not all(near):
            continue
        score = (sum(map(len, near)), -sum(sum(side) for side in near))
        if best is None or score > best:
            best, found = score, speed
    return found


def _nearest(name: str, flight: Flown, speed: float) -> float:
    """Return how far the nearest reading of a flight lies from a speed, as a logarithm."""
    return min((abs(math.log(speed / one)) for one in _speeds(name, (flight,))), default=math.inf)


def _brought(flight: Flown, name: str, power: float, speed: float) -> Flown:
    """Return a flight with its readings of one name brought to a speed."""
    readings = (
        _scaled(one, power, speed)
        for one in flight.readings
        if one.name == name and one.speed and abs(math.log(speed / one.speed)) <= ALIKE
    )
    return replace(flight, readings=tuple(readings))


def _scaled(reading: Reading, power: float, speed: float) -> Reading:
    """Return a reading as it would be at another speed."""
    way = power * math.log(speed / reading.speed) if reading.speed else 0.0
    factor = math.exp(way)
    own = EXPONENT * abs(way) * reading.value
    return replace(
        reading,
        value=factor * reading.value,
        sd=factor * math.hypot(reading.sd, own),
        speed=speed,
    )
