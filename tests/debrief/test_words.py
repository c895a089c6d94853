"""Words of column names."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from foamwright.debrief.words import (
    measured_by,
    measures,
    parted,
    pieces_of,
    unit_at_end,
    unit_in,
    words_of,
)

NAMES = [
    ("groundspeed", {"ground", "speed"}),
    ("GSpd", {"ground", "speed"}),
    ("VSpd", {"vertical", "speed"}),
    ("gps_lat", {"gps", "latitude"}),
    ("numSats", {"count", "satellites"}),
    ("rollRateTarget", {"roll", "rate", "wanted"}),
    ("v_north", {"speed", "north"}),
    ("mAh used", {"charge", "used"}),
    ("eRPM", {"electrical", "rpm"}),
    ("BatteryVoltage", {"pack", "voltage"}),
    ("Gyro[0]", {"rate", "0"}),
]
UNITS = [
    ("Alt(m)", "m"),
    ("speed_kmh", "kmh"),
    ("acc_z_m_s2", "m/s2"),
    ("p_rad_s", "rad/s"),
    ("Curr [A]", "A"),
    ("height, ft", "ft"),
    ("vario m/s", "m/s"),
    ("lat_n", ""),
    ("rpm", ""),
    ("channel 1", ""),
    ("Temp {°C}", "°C"),
]


@pytest.mark.parametrize(("name", "words"), NAMES)
def test_a_name_is_taken_apart(name: str, words: set[str]) -> None:
    """Capitals, underscores and glued words are parted, abbreviations written out."""
    assert words_of(pieces_of(name)) == words


@pytest.mark.parametrize(("name", "unit"), UNITS)
def test_the_unit_is_split_off(name: str, unit: str) -> None:
    """From brackets, from behind a comma, from the last words; a name that is a unit stays."""
    assert unit_in(name)[1] == unit


def test_letters_that_are_no_words_stay_whole() -> None:
    """What is not wholly made of known words is not parted."""
    assert parted("groundhog") == ("groundhog",)
    assert parted("airspeed") == ("air", "speed")


def test_a_unit_measures_a_dimension() -> None:
    """Milliseconds may be a time, or a speed misspelled."""
    assert measures("kmh", "speed")
    assert not measures("kmh", "voltage")
    assert measured_by("V") == ("voltage",)
    assert measured_by("bananas") == ()


@given(st.text(max_size=60))
def test_any_name_is_survived(name: str) -> None:
    """No name, however odd, is an error."""
    bare, unit = unit_in(name)
    assert isinstance(words_of(pieces_of(bare)), frozenset)
    assert unit == "" or measured_by(unit) or unit_at_end(name)[1] == unit
