"""Reading against geodesy, NMEA 0183 and an open flight."""

from collections.abc import Iterator
from functools import reduce
from pathlib import Path

import numpy as np
import pytest
from geographiclib.geodesic import Geodesic

from foamwright.debrief.csv_log import read_table
from foamwright.debrief.judging import Expected
from foamwright.debrief.logged_units import KNOT
from foamwright.debrief.nmea import Gathered, gather
from foamwright.debrief.positions import FLATTENING, SEMI_MAJOR, metres_between, radii
from foamwright.debrief.reading import read_log

pytestmark = pytest.mark.published

DATA = Path(__file__).parent / "data"


def test_the_ellipsoid_is_wgs_84() -> None:
    """NIMA TR8350.2: a = 6 378 137 m, 1/f = 298.257 223 563, b = 6 356 752.3142 m."""
    assert SEMI_MAJOR == 6378137.0
    assert pytest.approx(6356752.314245, abs=1e-6) == SEMI_MAJOR * (1 - FLATTENING)


def test_the_radii_at_45_degrees() -> None:
    """Meridian 6 367 381.816 m, prime vertical 6 388 838.290 m (recomputed from WGS 84)."""
    along, across = radii(np.radians(np.array([45.0])))
    assert float(along[0]) == pytest.approx(6367381.816, abs=1e-3)
    assert float(across[0]) == pytest.approx(6388838.290, abs=1e-3)


def test_small_steps_add_up_to_a_long_geodesic() -> None:
    """Flinders Peak to Buninyong, 54 972.271 m (ICSM, GDA Technical Manual, second-hand), walked
    in a hundred steps along Karney's geodesic."""
    start = (-(37 + 57 / 60 + 3.72030 / 3600), 144 + 25 / 60 + 29.52440 / 3600)
    end = (-(37 + 39 / 60 + 10.15610 / 3600), 143 + 55 / 60 + 35.38390 / 3600)
    line = Geodesic.WGS84.InverseLine(*start, *end)
    points = [line.Position(line.s13 * step / 100) for step in range(101)]
    latitude = np.radians([point["lat2"] for point in points])
    longitude = np.radians([point["lon2"] for point in points])
    north, east = metres_between(latitude[:-1], longitude[:-1], latitude[1:], longitude[1:])
    assert float(np.hypot(north, east).sum()) == pytest.approx(54972.271, abs=0.001)
    first = float(np.degrees(np.arctan2(east[0], north[0])) % 360)
    assert first == pytest.approx(306 + 52 / 60 + 5.37 / 3600, abs=0.002)


def test_a_degree_at_the_equator() -> None:
    """111 319.4908 m of longitude (recomputed from WGS 84), in a thousand steps."""
    longitude = np.radians(np.linspace(0.0, 1.0, 1001))
    _, east = metres_between(np.zeros(1000), longitude[:-1], np.zeros(1000), longitude[1:])
    assert float(east.sum()) == pytest.approx(111319.4908, abs=1e-3)


SENTENCES = {
    "GPGGA,123519,4807.038,N,01131.000,E,1,08,0.9,545.4,M,46.9,M,,": "47",
    "GPRMC,123519,A,4807.038,N,01131.000,E,022.4,084.4,230394,003.1,W": "6A",
    "GPVTG,054.7,T,034.4,M,005.5,N,010.2,K": "48",
    "GPGSA,A,3,04,05,,09,12,,,24,,,,,2.5,1.3,2.1": "39",
    "GPGLL,5300.97914,N,00259.98174,E,125926,A": "28",
}
"""Sentences of the handbooks of NMEA 0183 with their checksums (second-hand, recomputed)."""


@pytest.mark.parametrize("body", SENTENCES)
def test_the_checksum_is_the_exclusive_or(body: str) -> None:
    """The printed one is taken, any other is not."""
    assert f"{reduce(lambda total, sign: total ^ ord(sign), body, 0):02X}" == SENTENCES[body]
    good, bad = Gathered(), Gathered()
    gather(f"${body}*{SENTENCES[body]}", 1, good)
    gather(f"${body}*{int(SENTENCES[body], 16) ^ 1:02X}", 1, bad)
    assert good.faults == []
    assert bad.faults == [1]


def test_what_the_handbook_sentences_say() -> None:
    """4807.038,N is 48.117300 degrees, 01131.000,E 11.516667, 22.4 kn 11.5236 m/s."""
    into = Gathered()
    for number, (body, checksum) in enumerate(list(SENTENCES.items())[:2]):
        gather(f"${body}*{checksum}", number, into)
    (epoch,) = into.epochs
    assert np.degrees(epoch["latitude"]) == pytest.approx(48.1173, abs=5e-7)
    assert np.degrees(epoch["longitude"]) == pytest.approx(11.516667, abs=5e-7)
    assert epoch["ground_speed"] == pytest.approx(11.5236, abs=5e-5)
    assert epoch["height"] == 545.4
    assert epoch["seconds"] == 12 * 3600 + 35 * 60 + 19
    assert pytest.approx(0.514444, abs=1e-6) == KNOT


def lines_of(name: str) -> Iterator[list[str]]:
    """Yield the rows of an open log as they stand."""
    with (DATA / name).open(encoding="utf-8") as file:
        next(file)
        yield from (line.rstrip("\n").split(",") for line in file)


def test_an_open_flight_is_recognised_unaided() -> None:
    """Ntouros, Kelley, Smeur 2025: every one of its 14 columns, in the unit of its header."""
    log = read_log(DATA / "flights_tailsitter.csv")
    taken = {column.column: column.taken_as for column in log.columns}
    assert taken == {
        "t_s": "time",
        "airspeed_mps": "airspeed",
        "rpm": "rotation_speed",
        "voltage_V": "voltage",
        "current_A": "current",
        "p_rads": "roll_rate",
        "q_rads": "pitch_rate",
        "r_rads": "yaw_rate",
        "vn_mps": "north_speed",
        "ve_mps": "east_speed",
        "vd_mps": "sink_rate",
        "theta_rad": "pitch",
        "phi_rad": "roll",
        "psi_rad": "heading",
    }
    rows = np.array([[float(cell) for cell in row] for row in lines_of("flights_tailsitter.csv")])
    held = log.recording.channels
    assert log.rows == rows.shape[0]
    assert held["rotation_speed"] == pytest.approx(rows[:, 2] / 60, rel=1e-6)
    assert held["ground_speed"] == pytest.approx(np.hypot(rows[:, 8], rows[:, 9]), rel=1e-5)
    assert held["climb_rate"] == pytest.approx(-rows[:, 10], rel=1e-6)
    assert log.recording.coverage == pytest.approx(1.0)


def test_the_same_flight_without_a_word_of_units(tmp_path: Path) -> None:
    """Its numbers in other units under bare names: rates and speeds by agreement, angles by a
    whole turn. What nothing tells is left out, never guessed."""
    rows = np.array([[float(cell) for cell in row] for row in lines_of("flights_tailsitter.csv")])
    named = {
        "time": rows[:, 0] * 1000,
        "rpm": rows[:, 2],
        "voltage": rows[:, 3] * 1000,
        "current": rows[:, 4],
        "pitch rate": np.degrees(rows[:, 6]),
        "yaw rate": np.degrees(rows[:, 7]),
        "pitch": np.degrees(rows[:, 11]),
        "roll": np.degrees(rows[:, 12]),
        "yaw": np.degrees(rows[:, 13]),
        "ground speed": np.hypot(rows[:, 8], rows[:, 9]) * 3.6,
    }
    path = tmp_path / "bare.csv"
    table = np.column_stack(list(named.values()))
    np.savetxt(path, table, fmt="%.6g", delimiter=";", header=";".join(named), comments="")
    log = read_table(path, (), None, Expected(cells=4))
    units = {column.column: column.unit for column in log.columns if column.taken_as}
    assert units == {
        "time": "ms",
        "rpm": "rpm",
        "voltage": "mV",
        "current": "A",
        "pitch rate": "deg/s",
        "yaw rate": "deg/s",
        "pitch": "deg",
        "roll": "deg",
        "yaw": "deg",
    }
    assert any("'ground speed' is left out" in line for line in log.not_said)


@pytest.mark.parametrize("pairs", [6, 7, 14])
def test_electrical_revolutions_of_the_open_flight_are_those_of_its_shaft(
    pairs: int, tmp_path: Path
) -> None:
    """The same flight as a controller counts it, pole pair by pole pair: with them told, its shaft
    again to the row; without, left out, and the key is named that would make them of use."""
    rows = np.array([[float(cell) for cell in row] for row in lines_of("flights_tailsitter.csv")])
    path = tmp_path / "electrical.csv"
    table = np.column_stack([rows[:, 0], rows[:, 2] * pairs, rows[:, 3], rows[:, 4]])
    names = "time (s),eRPM,voltage (V),current (A)"
    np.savetxt(path, table, fmt="%.8g", delimiter=",", header=names, comments="")
    told = read_log(path, expected=Expected(cells=4, no_load=950 / 60, pole_pairs=pairs))
    held = told.recording.channels["rotation_speed"]
    assert held == pytest.approx(rows[:, 2] / 60, rel=1e-6)
    assert f"the propeller speed is electrical revolutions over {pairs} pole pairs" in told.notes
    column = next(one for one in told.columns if one.column == "eRPM")
    assert column.taken_as == "electrical_rotation_speed"
    assert f"over {pairs} pole pairs at most" in column.because

    silent = read_log(path, expected=Expected(cells=4, no_load=950 / 60))
    assert "rotation_speed" not in silent.recording.channels
    (line,) = [line for line in silent.not_said if "eRPM" in line]
    assert "write `pole_pairs` of the motor" in line
    assert "--take" not in line

    kept = read_log(path, ["eRPM=electrical_rotation_speed in rpm"], expected=Expected(cells=4))
    assert "rotation_speed" not in kept.recording.channels
    assert any("`pole_pairs`" in note for note in kept.notes)


def test_revolutions_too_fast_for_the_shaft_are_offered_as_electrical(tmp_path: Path) -> None:
    """Under a bare `rpm` nobody can know; the hint takes them as what they are, and it works."""
    rows = np.array([[float(cell) for cell in row] for row in lines_of("flights_tailsitter.csv")])
    path = tmp_path / "bare.csv"
    table = np.column_stack([rows[:, 0], rows[:, 2] * 7, rows[:, 3]])
    names = "time (s),rpm,voltage (V)"
    np.savetxt(path, table, fmt="%.8g", delimiter=",", header=names, comments="")
    expected = Expected(cells=4, no_load=950 / 60, pole_pairs=7)
    log = read_log(path, expected=expected)
    assert "rotation_speed" not in log.recording.channels
    (line,) = [line for line in log.not_said if "'rpm'" in line]
    hint = "rpm=electrical_rotation_speed in rpm"
    assert hint in line
    held = read_log(path, [hint], expected=expected).recording.channels["rotation_speed"]
    assert held == pytest.approx(rows[:, 2] / 60, rel=1e-6)


def test_the_wind_tunnel_is_recognised_unaided() -> None:
    """Airspeed, rotation, voltage and current, over a clock of five digits without a gap."""
    log = read_log(DATA / "flights_tunnel.csv")
    assert {column.taken_as for column in log.columns} == {
        "time",
        "airspeed",
        "rotation_speed",
        "voltage",
        "current",
    }
    assert log.recording.time[-1] == pytest.approx(508.9, abs=0.2)
    assert log.recording.coverage == pytest.approx(1.0, abs=0.001)
