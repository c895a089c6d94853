"""Points of level flight of logs whose currents are known."""

from dataclasses import replace

import numpy as np
import pytest

from foamwright.debrief.analysis import analyse
from foamwright.debrief.level_flight import level_points, read_level, steady_charge
from foamwright.debrief.outcome import Facts
from foamwright.debrief.recording import Recording
from foamwright.debrief.scene import Scene, scene_of

Leg = tuple[float, float, float, float]
"""Seconds, airspeed [m s^-1], current [A], climb [m s^-1]."""


def legs(*flown: Leg) -> Recording:
    """Return straight legs with a short turn after each, a pitot telling the airspeed."""
    parts: dict[str, list[np.ndarray]] = {
        name: [] for name in ("airspeed", "current", "height", "course")
    }
    course, height = 0.0, 50.0
    for seconds, speed, current, climb in flown:
        rows = np.arange(0.0, seconds, 0.1)
        turn = np.arange(0.0, 3.0, 0.1)
        parts["airspeed"] += [np.full(rows.size, speed), np.full(turn.size, speed)]
        parts["current"] += [np.full(rows.size, current), np.full(turn.size, 9.0)]
        parts["height"] += [height + climb * rows, np.full(turn.size, height + climb * seconds)]
        parts["course"] += [np.full(rows.size, course), course + turn * 0.5]
        course, height = course + 1.5, height + climb * seconds
    channels = {name: np.concatenate(values) for name, values in parts.items()}
    size = channels["airspeed"].size
    return Recording(
        time=np.asarray(np.arange(size) * 0.1, dtype=np.float64),
        channels={**channels, "throttle": np.full(size, 0.5), "voltage": np.full(size, 11.5)},
        step=0.1,
    )


def scene(log: Recording, facts: Facts | None = None) -> Scene:
    """Return the scene of a log."""
    return scene_of(log, facts or Facts())[0]


def test_every_speed_is_one_point() -> None:
    """Three legs at two speeds are two points, however many rows they have."""
    found = level_points(scene(legs((20, 12.0, 3.0, 0), (30, 16.0, 6.0, 0), (40, 12.2, 3.3, 0))))
    assert [round(point.speed, 1) for point in found] == [12.1, 16.0]
    assert 3.0 < found[0].current < 3.3
    assert found[1].current == pytest.approx(6.0)
    assert found[0].where.endswith("and 1 more")
    assert found[1].voltage == pytest.approx(11.5)


def test_a_point_is_an_observation_with_its_speed() -> None:
    """It can be held against the model, at its own airspeed, and is told as figures."""
    found = read_level(scene(legs((20, 12.0, 3.0, 0.0), (30, 16.0, 6.0, 0.0))))
    assert [(one.name, round(one.speed or 0.0)) for one in found.observations] == [
        ("cruise_current", 12),
        ("cruise_current", 16),
    ]
    assert all(one.sd >= 0.05 * one.value for one in found.observations)
    assert [one.name for one in found.figures] == ["cruise_speed", "cruise_voltage"] * 2
    names = [one.name for one in analyse(legs((20, 12.0, 3.0, 0.0)), Facts()).figures]
    assert "cruise_current" in names


@pytest.mark.parametrize("climb", [1.0, -1.0])
def test_a_climb_is_not_level(climb: float) -> None:
    """Nor is a sink: nothing is told, and said why."""
    found = read_level(scene(legs((30, 14.0, 5.0, climb))))
    assert found.observations == ()
    assert "current in level flight" in found.not_said[0]


def test_a_little_climb_widens_the_band() -> None:
    """0.2 m/s at 14 m/s is a tenth of the power: half of that more in the spread."""
    level, rising = (
        level_points(scene(legs((30, 14.0, 5.0, climb))))[0].sd for climb in (0.0, 0.2)
    )
    assert rising > 1.1 * level


def test_speeding_up_is_not_level() -> None:
    """A leg that gains 1 m/s every three seconds is left out."""
    log = legs((30, 14.0, 5.0, 0.0))
    faster = {**log.channels, "airspeed": 10.0 + 0.33 * log.time}
    assert level_points(scene(replace(log, channels=faster))) == ()


def test_a_short_leg_is_not_read() -> None:
    """Of 8 s only four would be left."""
    assert level_points(scene(legs((8, 14.0, 5.0, 0.0)))) == ()


def test_without_current_or_airspeed_nothing_is_said() -> None:
    """There is nothing to say it of."""
    log = legs((30, 14.0, 5.0, 0.0))
    for name in ("current", "airspeed"):
        less = {key: v for key, v in log.channels.items() if key != name}
        assert read_level(scene(replace(log, channels=less))).observations == ()


def test_the_charge_of_a_steady_flight_teaches_by_the_charger() -> None:
    """Three long legs at one speed: the charger's word with the mean airspeed and the time."""
    log = legs((60, 14.0, 5.0, 0.0), (60, 14.0, 5.0, 0.0))
    found = steady_charge(scene(log, Facts(charge_put_back=700.0)))
    assert found is not None
    assert found.value == 700.0
    assert found.speed == pytest.approx(14.0)
    assert found.time == pytest.approx(126.0, abs=1.0)
    assert found.sd > 0.03 * 700.0


@pytest.mark.parametrize(
    ("flown", "charge"),
    [
        (((60.0, 14.0, 5.0, 0.0),), None),
        (((60.0, 9.0, 3.0, 0.0), (60.0, 16.0, 6.0, 0.0)), 600.0),
        (((4.0, 14.0, 5.0, 0.0),) * 8, 200.0),
    ],
)
def test_a_charge_that_would_teach_twice_or_falsely_is_none(
    flown: tuple[Leg, ...], charge: float | None
) -> None:
    """The log's own sum, a flight at two speeds, and one of turns only."""
    assert steady_charge(scene(legs(*flown), Facts(charge_put_back=charge))) is None


def test_nothing_is_level_that_no_height_and_no_climb_tells() -> None:
    """A glide with the motor off looks like a cruise of 0.2 A then; a logged climb rate will do."""
    log = legs((30, 12.0, 0.2, -2.3), (30, 14.0, 5.0, 0.0))
    known = {name: one for name, one in log.channels.items() if name != "height"}
    found = read_level(scene(replace(log, channels=known)))
    assert (found.observations, found.figures) == ((), ())
    assert "neither height nor climb rate" in found.not_said[0]
    climb = np.gradient(log.channel("height"), log.time)
    told = read_level(scene(replace(log, channels={**known, "climb_rate": climb})))
    assert [one.value for one in told.observations] == pytest.approx([5.0])
