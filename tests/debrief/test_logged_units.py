"""Units as logs spell them."""

import pytest

from foamwright import quantity
from foamwright.debrief.logged_units import (
    BY_LETTERS,
    UNITS,
    dimensions_of,
    factor_of,
    in_dimension,
    tidied,
    unit_named,
)

SAME = {"speed": "speed", "voltage": "voltage", "current": "current", "charge": "charge"}
CASES = [
    ("m/s", "m/s"), ("M/S", "m/s"), ("m s^-1", "m/s"), ("m·s⁻¹", "m/s"), ("mps", "m/s"),
    ("km/h", "km/h"), ("KMH", "km/h"), ("kph", "km/h"), ("kts", "kn"), ("Knots", "kn"),
    ("deg", "deg"), ("°", "deg"), ("°/s", "deg/s"), ("dps", "deg/s"), ("rad/sec", "rad/s"),
    ("mAh", "mAh"), ("MAH", "mAh"), ("m/s²", "m/s2"), ("m/s^2", "m/s2"), ("m/s/s", "m/s2"),
    ("µs", "us"), ("msec", "ms"), ("%", "%"), ("1/min", "rpm"), ("°C", "degC"), ("feet", "ft"),
    ("parsec", ""), ("", ""), ("hello", ""),
]  # fmt: skip


@pytest.mark.parametrize(("text", "unit"), CASES)
def test_a_spelling_is_a_unit(text: str, unit: str) -> None:
    """Case, signs, powers and abbreviations do not matter; what is no unit is none."""
    assert unit_named(text) == unit


@pytest.mark.parametrize("dimension", SAME)
def test_factors_are_those_of_the_plane_file(dimension: str) -> None:
    """Where the plane file knows a unit too, both have the same factor to SI."""
    compared = 0
    for unit, (factor, offset) in UNITS[dimension].items():
        other = quantity.scale(unit, SAME[dimension]) if quantity.known_unit(unit) else None
        if other is not None:
            assert (factor, offset) == pytest.approx(other, rel=1e-12)
            compared += 1
    assert compared >= 2


def test_ms_is_a_speed_or_a_time_by_what_is_wanted() -> None:
    """`speed_ms` is metres a second, `time_ms` milliseconds."""
    assert in_dimension("ms", "speed") == "m/s"
    assert in_dimension("ms", "time") == "ms"
    assert in_dimension("ms", "voltage") == ""


def test_every_spelling_leads_to_a_unit_with_a_factor() -> None:
    """No spelling leads nowhere, and every factor is positive."""
    for unit in BY_LETTERS.values():
        for dimension in dimensions_of(unit):
            assert factor_of(unit, dimension)[0] > 0.0
        assert dimensions_of(unit) != ()


def test_a_knot_is_a_nautical_mile_an_hour() -> None:
    """1852 m in 3600 s: the international nautical mile of 1929."""
    assert factor_of("kn", "speed")[0] == pytest.approx(0.514444, rel=1e-6)


def test_blanks_around_a_stroke_do_not_matter() -> None:
    """`km / h` and `km per h` are km/h."""
    assert tidied("km / h") == "km/h"
    assert tidied("km per h") == "km/h"
