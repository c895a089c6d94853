"""Words of column names, by themselves and through the reader."""

from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.debrief.conftest import Write
from tests.debrief.rates_simulator import Loop, fly

from foamwright.debrief.csv_log import read_table
from foamwright.debrief.flight_log import FlightLog
from foamwright.debrief.judging import Expected
from foamwright.debrief.recording import Recording
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


FLOWN = fly(Loop(gust=0.25, memory=0.5), 20.0, 1, start=3)

HEADERS = (
    ("roll rate (deg/s)", "roll rate setpoint (deg/s)", "deg"),
    ("roll_rate_dps", "roll_rate_setpoint_dps", "deg"),
    ("gyroX [deg/s]", "rateSetpointX [deg/s]", "deg"),
    ("RollRate_deg_s", "RollRateTarget_deg_s", "deg"),
    ("rollRate", "rollRateDesired", "deg"),
    ("p_rad_s", "roll_rate_cmd_rad_s", "rad"),
    ("roll rate [rad/s]", "desired roll rate [rad/s]", "rad"),
    ("rollspeed_rate rad/s", "roll_rate_sp rad/s", "rad"),
    ("p (rad/s)", "p_cmd (rad/s)", "rad"),
    ("gx (rad/s)", "target roll rate (rad/s)", "rad"),
    ("ω roll rate (rad/s)", "ω roll rate wanted (rad/s)", "rad"),
)
"""Of the rate, of the rate wanted, and what both are written in."""


def read(path: Path) -> FlightLog:
    """Return the log of a table."""
    return read_table(path, (), None, Expected())


def written(
    log: Recording, names: tuple[str, str, str], unit: str
) -> list[tuple[str, np.ndarray, str]]:
    """Return the columns of a log as some program writes them."""
    factor = np.degrees(1.0) if unit == "deg" else 1.0
    return [
        ("time_s", log.time, ".4f"),
        (names[0], factor * log.channel("roll_rate"), ".4f"),
        (names[1], factor * log.channel("roll_rate_wanted"), ".4f"),
        (names[2], 1500.0 + 500.0 * log.channel("aileron"), ".0f"),
    ]


@pytest.mark.parametrize(("rate", "wanted", "unit"), HEADERS)
@pytest.mark.parametrize("hertz", [50, 200])
def test_rates_and_rates_wanted_are_known(
    rate: str, wanted: str, unit: str, hertz: int, *, table: Callable[..., str], write: Write
) -> None:
    """In degrees and in radians, both arrive in rad/s, the pulses of the aileron as a share."""
    log = FLOWN.at(hertz)
    found = read(write(table(written(log, (rate, wanted, "aileron_us"), unit))))
    held = found.recording if found.fast is None else found.fast
    for name, within in (("roll_rate", 1e-3), ("roll_rate_wanted", 1e-3), ("aileron", 2e-3)):
        assert held.channel(name) == pytest.approx(log.channel(name), abs=within)


def test_a_fast_aileron_keeps_its_middle(table: Callable[..., str], write: Write) -> None:
    """1500 microseconds are no aileron, in every row of a fast log."""
    log = FLOWN.at(1000)
    found = read(write(table(written(log, ("roll_rate_dps", "roll_rate_sp_dps", "ail"), "deg"))))
    assert found.fast is not None
    assert found.fast.time.size == log.time.size
    assert found.fast.channel("aileron") == pytest.approx(log.channel("aileron"), abs=2e-3)


def test_an_aileron_alone_is_no_fast_log(table: Callable[..., str], write: Write) -> None:
    """Without a rate nothing is kept in every row."""
    log = FLOWN.at(1000)
    columns = [
        ("time_s", log.time, ".4f"),
        ("aileron_us", 1500 + 500 * log.channel("aileron"), ".0f"),
    ]
    assert read(write(table(columns))).fast is None


def test_small_numbers_without_a_unit_are_not_guessed(
    table: Callable[..., str], write: Write
) -> None:
    """A rate of 3 may be degrees or radians a second: it is left out, and said how to tell it."""
    log = FLOWN.at(50)
    found = read(write(table(written(log, ("roll_rate", "roll_rate_target", "ail"), "rad"))))
    assert set(found.recording.channels) == {"aileron"}
    assert any("roll_rate" in word for word in found.not_said)
