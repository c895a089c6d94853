"""The numbers read off the recorded screen after landing: `top speed = 27 m/s, ...`."""

import difflib
import re
from collections.abc import Mapping
from dataclasses import dataclass, replace

from foamwright.debrief.read_off import Reading
from foamwright.problems import CallProblem, InputProblem
from foamwright.quantity import Quantity, read


@dataclass(frozen=True, kw_only=True, slots=True)
class Kind:
    """One number a screen or a charger shows."""

    name: str
    """The JSON name; those a model can be held against are named as it names them."""
    label: str
    dimension: str
    unit: str
    relative: float
    """Usual standard deviation, relative."""
    least: float = 0.0
    """And at least [SI]."""


KINDS: Mapping[str, Kind] = {
    "top speed": Kind(
        name="top_speed",
        label="top speed, wind in it",
        dimension="speed",
        unit="m s^-1",
        relative=0.05,
        least=1.5,
    ),
    "stall speed": Kind(
        name="stall_speed",
        label="stall speed",
        dimension="speed",
        unit="m s^-1",
        relative=0.08,
        least=0.7,
    ),
    "average speed": Kind(
        name="average_speed",
        label="average speed",
        dimension="speed",
        unit="m s^-1",
        relative=0.08,
    ),
    "current at full throttle": Kind(
        name="top_speed_current",
        label="current at full throttle",
        dimension="current",
        unit="A",
        relative=0.06,
        least=0.1,
    ),
    "voltage at full throttle": Kind(
        name="top_speed_voltage",
        label="pack voltage at full throttle",
        dimension="voltage",
        unit="V",
        relative=0.015,
    ),
    "cruise current": Kind(
        name="cruise_current",
        label="current in level flight",
        dimension="current",
        unit="A",
        relative=0.1,
    ),
    "static current": Kind(
        name="static_current",
        label="current standing still at full throttle",
        dimension="current",
        unit="A",
        relative=0.06,
    ),
    "used": Kind(
        name="charge_used",
        label="charge used",
        dimension="charge",
        unit="A s",
        relative=0.06,
    ),
    "put back": Kind(
        name="charge_put_back",
        label="charge the charger put back",
        dimension="charge",
        unit="A s",
        relative=0.03,
    ),
    "lowest voltage": Kind(
        name="lowest_voltage",
        label="lowest pack voltage",
        dimension="voltage",
        unit="V",
        relative=0.015,
    ),
    "highest current": Kind(
        name="highest_current",
        label="highest current",
        dimension="current",
        unit="A",
        relative=0.06,
    ),
    "greatest height": Kind(
        name="greatest_height",
        label="greatest height",
        dimension="elevation",
        unit="m",
        relative=0.0,
        least=5.0,
    ),
    "flight time": Kind(
        name="flight_time", label="flight time", dimension="time", unit="s", relative=0.02
    ),
    "mass": Kind(
        name="all_up_mass", label="all-up mass", dimension="mass", unit="kg", relative=0.005
    ),
    "air temperature": Kind(
        name="air_temperature",
        label="temperature of the air",
        dimension="temperature",
        unit="K",
        relative=0.0,
        least=1.0,
    ),
}
"""What can stand on a card. The spreads are common practice, no source; a written one counts."""

ALSO: Mapping[str, str] = {
    "max speed": "top speed",
    "amps at full throttle": "current at full throttle",
    "full throttle current": "current at full throttle",
    "full throttle voltage": "voltage at full throttle",
    "charge used": "used",
    "charged": "put back",
    "min voltage": "lowest voltage",
    "max current": "highest current",
    "max height": "greatest height",
    "speed": "average speed",
    "cruise speed": "average speed",
    "time": "flight time",
    "all-up mass": "mass",
}
"""Other words for them."""

SPLIT = re.compile(r",(?!\d)")
"""A comma between two entries, not one inside a number."""
WITH = re.compile(r"\s+(in|at)\s+")


def refused(entry: str, what: str, expected: str) -> CallProblem:
    """Return the problem with an entry of a card."""
    return CallProblem(f"--card '{entry.strip()}': {what}", expected=expected)


def kind_of(entry: str, name: str) -> Kind:
    """Return the kind a name stands for; raises CallProblem with the known ones."""
    plain = " ".join(name.lower().replace("_", " ").split())
    plain = ALSO.get(plain, plain)
    if plain in KINDS:
        return KINDS[plain]
    near = difflib.get_close_matches(plain, [*KINDS, *ALSO], n=1, cutoff=0.7)
    hint = f"did you mean '{near[0]}'? " if near else ""
    raise refused(entry, f"nothing is called '{name.strip()}'", f"{hint}known: {', '.join(KINDS)}")


def quantity_in(entry: str, text: str, dimension: str) -> Quantity:
    """Return a value of a card; raises CallProblem."""
    try:
        return read(text, dimension)
    except InputProblem as problem:
        raise refused(entry, str(problem), f"a {dimension} with its unit") from problem


def reading_in(entry: str) -> Reading:
    """Return what one entry of a card says; raises CallProblem."""
    name, sign, rest = entry.partition("=")
    if not sign:
        raise refused(entry, "says nothing", 'write for instance "top speed = 27 m/s"')
    kind = kind_of(entry, name)
    text, *more = WITH.split(rest.strip())
    value = quantity_in(entry, text, kind.dimension)
    besides: dict[str, float] = {}
    for word, what in zip(more[::2], more[1::2], strict=True):
        key, dimension = ("time", "time") if word == "in" else ("speed", "speed")
        besides[key] = quantity_in(entry, what, dimension).value
    if min([value.value if kind.relative else 1.0, *besides.values()]) <= 0.0:
        raise refused(entry, "a flight shows more than 0", "leave out what was not read")
    usual = max(kind.relative * abs(value.value), kind.least)
    return Reading(
        name=kind.name,
        label=kind.label,
        value=value.value,
        spread=usual if value.spread is None else value.spread,
        unit=kind.unit,
        dimension=kind.dimension,
        speed=besides.get("speed"),
        time=besides.get("time"),
    )


def card_of(text: str) -> tuple[Reading, ...]:
    """Return what a card says; raises CallProblem for what is no entry, or comes twice."""
    found: dict[str, Reading] = {}
    for entry in SPLIT.split(text):
        if not entry.strip():
            continue
        one = reading_in(entry)
        if one.name in found:
            raise refused(entry, f"the {one.label} comes twice", "keep one of them")
        found[one.name] = one
    if not found:
        raise CallProblem("--card says nothing", expected='for instance "top speed = 27 m/s"')
    return tuple(with_the_average(found))


def with_the_average(found: Mapping[str, Reading]) -> list[Reading]:
    """Return the readings; average speed and flight time go to those that need them."""
    average, lasted = found.get("average_speed"), found.get("flight_time")
    readings = []
    for one in found.values():
        speed, time = one.speed, one.time
        if one.name in {"charge_used", "cruise_current"} and speed is None and average:
            speed = average.value
        if one.name == "charge_used" and time is None and lasted:
            time = lasted.value
        readings.append(replace(one, speed=speed, time=time))
    return readings
