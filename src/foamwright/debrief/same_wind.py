"""Flights of one hour in one wind: dashes of like heading held against each other.

The wind is then known from all flights together, and what it is still off is the same in every
dash flown the same way: it drops out of their difference. What is left is how the wind itself
drifts from flight to flight.
"""

import math
from collections.abc import Sequence
from dataclasses import replace

from foamwright.debrief.observed import Flown, Reading
from foamwright.debrief.wanted import Wanted

DRIFT = 0.4
"""Of the mean wind from one flight to another of the same hour, one sigma of either part
[m s^-1]; common practice, no source."""
LIKE = math.radians(30.0)
"""Headings nearer than this are flown the same way."""
LEFT = 0.3
"""Share of the common wind's error that headings within that still leave in a difference."""
DIFFER = 2.5
"""Winds this many sigma apart are not one wind."""

Sides = tuple[Sequence[Flown], Sequence[Flown]]


def one_wind(flights: Sequence[Flown]) -> tuple[tuple[float, float], float] | None:
    """Return the wind of all flights together and its sigma [m s^-1]; None where they differ."""
    told = [(one.wind, one.wind_sd) for one in flights if one.wind and one.wind_sd > 0.0]
    if len(told) < 2:
        return None
    whole = sum(1.0 / sd**2 for _, sd in told)
    north, east = (sum(wind[k] / sd**2 for wind, sd in told) / whole for k in (0, 1))
    for wind, sd in told:
        if math.hypot(wind[0] - north, wind[1] - east) > DIFFER * math.hypot(sd, DRIFT):
            return None
    return (north, east), 1.0 / math.sqrt(whole)


def in_one_wind(name: str, wanted: Wanted, sides: Sides) -> Sides:
    """Return the sides with readings of one name taken in the wind of all of them.

    Only where both sides flew a like heading, and only flights whose own wind is less sure.
    """
    found = one_wind([*sides[0], *sides[1]])
    heading = _shared(name, sides)
    if found is None or heading is None or not wanted.airspeed:
        return sides
    wind, common = found
    left = math.hypot(DRIFT, LEFT * common)
    before, after = (
        tuple(_taken(flight, (name, heading), wanted, (wind, left)) for flight in side)
        for side in sides
    )
    return before, after


def _apart(one: float, other: float) -> float:
    """Return the angle between two headings [rad]."""
    return abs(math.remainder(one - other, 2.0 * math.pi))


def _headings(name: str, side: Sequence[Flown]) -> list[float]:
    """Return the headings at which one side has readings."""
    return [
        one.heading
        for flight in side
        for one in flight.readings
        if one.name == name and one.heading is not None
    ]


def _shared(name: str, sides: Sides) -> float | None:
    """Return the heading that most readings of both sides are near; None without any."""
    told = [_headings(name, side) for side in sides]
    many = [
        (min(near), sum(near), heading)
        for heading in (*told[0], *told[1])
        for near in [[sum(_apart(heading, h) <= LIKE for h in side) for side in told]]
    ]
    best = max(many, default=(0, 0, 0.0))
    return best[2] if best[0] > 0 else None


def _taken(
    flight: Flown,
    what: tuple[str, float],
    wanted: Wanted,
    wind: tuple[tuple[float, float], float],
) -> Flown:
    """Return a flight with its readings of a name and heading taken in the common wind."""
    name, heading = what
    near = [
        one
        for one in flight.readings
        if one.name == name and one.heading is not None and _apart(one.heading, heading) <= LIKE
    ]
    if not near or flight.wind is None or flight.wind_sd <= wind[1]:
        return flight
    moved = tuple(_moved(one, flight, wanted, wind) for one in near)
    return replace(flight, readings=moved, wind=wind[0], wind_sd=wind[1])


def _moved(
    one: Reading, flight: Flown, wanted: Wanted, wind: tuple[tuple[float, float], float]
) -> Reading:
    """Return a reading as the common wind makes it, or as it is where its own tells it better."""
    (north, east), left = wind
    speed = one.value if wanted.unit == "m s^-1" else one.speed
    if flight.wind is None or one.heading is None or not speed or one.wind_sd <= left:
        return one
    along = (north - flight.wind[0]) * math.cos(one.heading) + (east - flight.wind[1]) * math.sin(
        one.heading
    )
    slope = wanted.airspeed * one.value / speed
    own = max(one.sd**2 - (slope * one.wind_sd) ** 2, 0.0)
    return replace(
        one,
        value=one.value - slope * along,
        sd=math.sqrt(own + (slope * left) ** 2),
        wind_sd=left,
        speed=None if one.speed is None else one.speed - along,
    )
