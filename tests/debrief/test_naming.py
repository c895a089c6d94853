"""What a column may be by its name."""

import pytest

from foamwright.debrief.naming import DIMENSION, RULES, meanings_of
from foamwright.debrief.recording import CHANNELS

NAMES = [
    ("airspeed_mps", "airspeed", "m/s"),
    ("rpm", "rotation_speed", "rpm"),
    ("p_rads", "roll_rate", "rad/s"),
    ("vd_mps", "sink_rate", "m/s"),
    ("Time (ms)", "time", "ms"),
    ("GSpd(kmh)", "ground_speed", "km/h"),
    ("VBat (mV)", "voltage", "mV"),
    ("Capa(mAh)", "charge_used", "mAh"),
    ("mAh used", "charge_used", "mAh"),
    ("gyro_x_dps", "roll_rate", "deg/s"),
    ("Gyro[2] (deg/s)", "yaw_rate", "deg/s"),
    ("accel_z_m_s2", "up_acceleration", "m/s2"),
    ("course over ground (deg)", "course", "deg"),
    ("Throttle %", "throttle", "%"),
    ("roll rate setpoint (deg/s)", "roll_rate_wanted", "deg/s"),
    ("ele (m)", "height", "m"),
    ("eRPM", "electrical_rotation_speed", ""),
    ("baroAlt_cm", "height", "cm"),
    ("cell voltage", "cell_voltage", ""),
    ("heading", "heading", ""),
    ("GPS heading", "course", ""),
    ("yaw", "heading", ""),
    ("yaw_rate", "yaw_rate", ""),
    ("knots", "ground_speed", "kn"),
    ("vel_n_cms", "north_speed", "cm/s"),
    ("rssi_dbm", "signal_strength", "dBm"),
    ("ms", "time", "ms"),
    ("MILLIS", "time", "millis"),
]
NOTHING = ["wind speed", "max speed", "Home distance", "min cell V", "TxPower", "banana", "", "42"]


@pytest.mark.parametrize(("name", "taken_as", "unit"), NAMES)
def test_a_name_says_what_a_column_may_be(name: str, taken_as: str, unit: str) -> None:
    """The likeliest meaning comes first, with the unit that is written."""
    first = meanings_of(name)[0]
    assert first.taken_as == taken_as
    assert first.unit == {"millis": "ms"}.get(unit, unit)
    assert 0.5 <= first.strength <= 1.0


@pytest.mark.parametrize("name", NOTHING)
def test_what_is_no_measurement_of_the_plane_is_nothing(name: str) -> None:
    """Wind, maxima, the way home, and names without a known word."""
    assert meanings_of(name) == ()


def test_a_unit_in_another_row_counts() -> None:
    """A row of units, or units in the cells, stand for those in the header."""
    assert meanings_of("speed", "kn")[0].unit == "kn"
    assert meanings_of("battery", "V")[0].taken_as == "voltage"
    assert meanings_of("battery", "A")[0].taken_as == "current"
    assert meanings_of("speed", "V") == ()


def test_an_ambiguous_name_has_two_meanings() -> None:
    """`ele` is a height or an elevator until the values tell."""
    assert {meaning.taken_as for meaning in meanings_of("ele")} == {"height", "elevator"}


def test_every_rule_leads_to_something_with_a_dimension() -> None:
    """No rule names what does not exist, and every channel but none more can be found."""
    assert {rule.taken_as for rule in RULES} <= set(DIMENSION)
    assert set(CHANNELS) <= set(DIMENSION)
