"""Channels out of columns."""

import numpy as np
import pytest

from foamwright.debrief.composing import along_the_path, composed, without_a_fix
from foamwright.debrief.positions import radii

TIME = np.arange(0.0, 20.0, 0.5)


def test_speeds_north_and_east_make_speed_and_course() -> None:
    """3 north and 4 east are 5 at 53 degrees, down is against up."""
    settled = {
        "north_speed": np.full(40, 3.0),
        "east_speed": np.full(40, 4.0),
        "sink_rate": np.full(40, 1.5),
    }
    found, told = composed(TIME, settled)
    assert found["ground_speed"] == pytest.approx(5.0)
    assert found["course"] == pytest.approx(np.radians(53.1301), abs=1e-5)
    assert found["climb_rate"] == pytest.approx(-1.5)
    assert len(told) == 2
    assert set(found) == {"ground_speed", "course", "climb_rate"}


def test_what_was_recorded_is_not_made() -> None:
    """A recorded speed stays."""
    settled = {
        "ground_speed": np.full(40, 7.0),
        "north_speed": np.full(40, 3.0),
        "east_speed": np.full(40, 4.0),
    }
    assert composed(TIME, settled)[0]["ground_speed"] == pytest.approx(7.0)


def test_power_over_voltage_is_current() -> None:
    """120 W at 12 V are 10 A; an unplugged pack tells none."""
    volts = np.where(TIME < 1.0, 0.2, 12.0)
    found, told = composed(TIME, {"power": np.full(40, 120.0), "voltage": volts})
    assert np.isnan(found["current"][0])
    assert found["current"][-1] == pytest.approx(10.0)
    assert "power over the voltage" in told[0]
    assert "power" not in found


def test_positions_make_speed_and_course() -> None:
    """10 m/s due east at the equator."""
    longitude = 0.1 + TIME * 10.0 / 6378137.0
    found, told = composed(TIME, {"latitude": np.full(40, 1e-3), "longitude": longitude})
    assert np.nanmedian(found["ground_speed"]) == pytest.approx(10.0, rel=1e-4)
    assert np.nanmedian(found["course"]) == pytest.approx(np.pi / 2, abs=1e-4)
    assert len(told) == 2
    speed, _ = along_the_path(TIME[:2], {"latitude": TIME[:2], "longitude": TIME[:2]})
    assert np.isnan(speed).all()


@pytest.mark.parametrize("turn", [14.4, 30.0, 42.0, -42.0])
def test_a_quick_circle_of_a_position_a_second_keeps_its_speed(turn: float) -> None:
    """13 m/s in a wind of 3 m/s, up to 42 degrees a second: within 1 % at every position.

    By geometry alone: a circle in moving air. The mean of two chords would miss up to 9 %.
    """
    time, rate = np.arange(0.0, 30.0), np.radians(turn)
    north = 13.0 / rate * np.sin(rate * time) + 3.0 * time
    east = 13.0 / rate * (1.0 - np.cos(rate * time))
    along, across = (float(radius[0]) for radius in radii(np.zeros(1)))
    speed, course = along_the_path(time, {"latitude": north / along, "longitude": east / across})
    air = speed * np.exp(1j * course) - 3.0
    inner = slice(2, -2)
    assert np.abs(air[inner]) == pytest.approx(13.0, rel=0.01)
    turned = np.angle(air[inner] * np.exp(-1j * rate * time[inner]))
    assert turned == pytest.approx(0.0, abs=0.02)


def test_uneven_steps_and_the_ends_keep_the_mean_of_their_chords() -> None:
    """Straight north at 10 m/s, rows lost here and there: 10 m/s everywhere, the ends as well."""
    time = np.array([0.0, 1.0, 2.0, 2.5, 4.5, 5.5, 6.5, 7.5, 20.0, 21.0, 22.0])
    north = 10.0 * time / radii(np.zeros(1))[0][0]
    speed, course = along_the_path(time, {"latitude": north, "longitude": np.zeros(time.shape)})
    assert speed == pytest.approx(10.0, rel=1e-6)
    assert course == pytest.approx(0.0, abs=1e-9)


def test_quick_positions_are_taken_as_they_are() -> None:
    """Ten a second, noise of centimetres: each row is the mean of the two steps beside it."""
    time = np.arange(0.0, 5.0, 0.1)
    noise = np.random.default_rng(3).normal(0.0, 0.03, time.size)
    metres = 12.0 * time + noise
    latitude = metres / radii(np.zeros(1))[0][0]
    speed, _ = along_the_path(time, {"latitude": latitude, "longitude": np.zeros(time.shape)})
    assert speed[1:-1] == pytest.approx((metres[2:] - metres[:-2]) / 0.2, rel=1e-6)


def test_no_fix_is_no_position() -> None:
    """Zero, zero is in the sea south of Ghana, and means that there was no fix."""
    found = without_a_fix({"latitude": np.array([0.0, 0.8]), "longitude": np.array([0.0, 0.1])})
    assert np.isnan(found["latitude"][0])
    assert found["longitude"][1] == 0.1


def test_angles_are_kept_in_their_circle() -> None:
    """A course from 0 to a turn, a roll from half a turn left to half a turn right."""
    found, _ = composed(TIME, {"course": TIME - 5.0, "roll": TIME - 5.0})
    assert found["course"].min() >= 0.0
    assert found["course"].max() < 2 * np.pi
    assert np.abs(found["roll"]).max() <= np.pi


def test_electrical_revolutions_are_never_taken_for_those_of_the_shaft() -> None:
    """Seven times too fast they would teach a motor that there is not."""
    found, told = composed(TIME, {"electrical_rotation_speed": np.full(40, 2500.0)})
    assert found == {}
    assert any("`pole_pairs` of the motor" in line for line in told)


@pytest.mark.parametrize("pairs", [6, 7, 12])
def test_electrical_revolutions_over_the_pole_pairs_are_the_shafts(pairs: int) -> None:
    """And it is said; where the shaft's own were logged, those stay."""
    electrical = {"electrical_rotation_speed": np.full(40, 100.0 * pairs)}
    found, told = composed(TIME, electrical, pairs)
    assert found["rotation_speed"] == pytest.approx(100.0)
    assert set(found) == {"rotation_speed"}
    assert told == (f"the propeller speed is electrical revolutions over {pairs} pole pairs",)
    both, told = composed(TIME, {**electrical, "rotation_speed": np.full(40, 99.0)}, pairs)
    assert both["rotation_speed"] == pytest.approx(99.0)
    assert told == ()
