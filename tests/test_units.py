"""The units people write, against the unit library."""

import pytest

from foamwright.quantity import DIMENSIONS, converted_by_library
from foamwright.units import MEANT, SANE, SHOWN, USUAL

USUAL_UNITS = [
    (dimension, unit, factor, offset)
    for dimension, units in USUAL.items()
    for unit, (factor, offset) in units.items()
]


@pytest.mark.parametrize(("dimension", "unit", "factor", "offset"), USUAL_UNITS)
def test_a_usual_unit_has_the_factor_of_the_unit_library(
    dimension: str, unit: str, factor: float, offset: float
) -> None:
    """The table that spares loading the library says the same as the library (pint)."""
    by_library = converted_by_library(unit, dimension)
    assert by_library is not None
    assert by_library == pytest.approx((factor, offset), rel=1e-12, abs=1e-9)


@pytest.mark.parametrize(
    ("dimension", "unit", "exact"),
    [
        ("mass", "oz", 0.028349523125),
        ("mass", "lb", 0.45359237),
        ("length", "in", 0.0254),
        ("length", "ft", 0.3048),
        ("speed", "mph", 0.44704),
        ("speed", "kn", 1852.0 / 3600.0),
        ("force", "kgf", 9.80665),
        ("force", "ozf", 0.27801385),
        ("torque", "ozf in", 7.061552e-3),
        ("torque", "kgf cm", 9.80665e-2),
        ("charge", "mAh", 3.6),
    ],
)
def test_a_factor_is_the_one_printed_in_the_standard_tables(
    dimension: str, unit: str, exact: float
) -> None:
    """NIST Special Publication 811, Appendix B (international pound, inch, foot, knot)."""
    assert USUAL[dimension][unit][0] == pytest.approx(exact, rel=1e-6)


def test_temperatures_meet_at_forty_below_and_at_boiling_water() -> None:
    """-40 degC is -40 degF, 100 degC is 212 degF: the definition of the scales."""
    for celsius, fahrenheit in ((-40.0, -40.0), (100.0, 212.0)):
        factor, offset = USUAL["temperature"]["degF"]
        assert fahrenheit * factor + offset == pytest.approx(celsius + 273.15, rel=1e-12)


def test_every_dimension_has_limits_units_and_a_way_to_be_shown() -> None:
    """No dimension can be read that cannot be checked and shown."""
    for dimension in DIMENSIONS:
        assert SANE[dimension][0] < SANE[dimension][1]
        assert dimension == "money" or USUAL[dimension]
        assert dimension in {*SHOWN["metric"], "money", "time"}


def test_a_correction_offered_is_a_unit_that_would_be_taken() -> None:
    """Nobody is sent from one unknown unit to another."""
    known = {unit for units in USUAL.values() for unit in units} | {"EUR", "USD", "GBP"}
    assert set(MEANT.values()) <= known
    assert all(wrong == wrong.lower() for wrong in MEANT)


@pytest.mark.parametrize(
    ("dimension", "si", "metric", "imperial"),
    [
        ("mass", 0.25, 250.0, 8.8184905),  # 250 g, NIST SP 811
        ("length", 0.254, 254.0, 10.0),
        ("speed", 10.0, 10.0, 22.369363),
        ("temperature", 288.15, 15.0, 59.0),
        ("wing loading", 1.0, 10.0, 3.2770556),  # 16 oz/lb, 0.3048 m/ft: 1 kg/m2 in oz/ft2
        ("energy per distance", 3.6, 1.0, 1.609344),
        ("torque", 0.00706155, 0.00706155, 1.0),
    ],
)
def test_shown_units_carry_the_printed_factor(
    dimension: str, si: float, metric: float, imperial: float
) -> None:
    """Both ways of showing a value agree with the standard tables."""
    for units, wanted in (("metric", metric), ("imperial", imperial)):
        _, factor, offset = SHOWN[units][dimension]
        assert si * factor + offset == pytest.approx(wanted, rel=1e-5)
