"""Steady seconds, and the airspeed they tell, on drives whose truth is known."""

from functools import lru_cache
from pathlib import Path

import numpy as np
import pytest

from foamwright.debrief.propeller_rows import (
    MOST,
    Seconds,
    airspeeds,
    curve_error,
    luck,
    over_rest,
    spread_out,
    steady_seconds,
)
from foamwright.debrief.read_off import SENSOR
from foamwright.debrief.recording import Recording
from foamwright.model.computable import ComputablePlane
from foamwright.model.drive import DriveModel
from foamwright.model.ensemble import Draws
from foamwright.physics.arrays import Grid
from foamwright.physics.drive.at_revolutions import Turning
from foamwright.physics.drive.equilibrium import at_throttle
from foamwright.plane.document import load

REEDLING = Path(__file__).parents[2] / "examples" / "reedling"


@lru_cache
def drives(seed: int = 1) -> DriveModel:
    """Return 256 drives of the glider."""
    computed = ComputablePlane(load(REEDLING), Draws(256, seed))
    computed.settle_flight()
    return computed.complete_drive


def log(turns: Grid, amps: Grid, *, rate: float = 10.0, volts: float = 11.0) -> Recording:
    """Return a log with propeller speed and current, ten rows a second."""
    return Recording(
        time=np.arange(turns.size) / rate,
        channels={
            "rotation_speed": turns,
            "voltage": np.full(turns.size, volts),
            "current": amps,
        },
        step=1.0 / rate,
    )


def test_seconds_are_means_where_the_propeller_turned_steadily() -> None:
    """Ten seconds at one speed, two of a change, ten at another."""
    turns = np.concatenate(
        [np.full(100, 150.0), np.linspace(150.0, 220.0, 20), np.full(100, 220.0)]
    )
    found = steady_seconds(log(turns, 0.01 * turns), np.linspace(10.0, 20.0, 220))
    assert len(found) == 20
    assert found.turning.revolutions == pytest.approx(np.repeat([150.0, 220.0], 10))
    assert found.current == pytest.approx(np.repeat([1.5, 2.2], 10))
    assert found.turning.voltage == pytest.approx(11.0)
    assert np.diff(found.airspeed) == pytest.approx(10.0 / 21.9, abs=1.1)
    assert found.time[0] == pytest.approx(0.45)


@pytest.mark.parametrize(
    ("turns", "amps"),
    [(10.0, 1.0), (150.0, 0.0), (150.0, -1.0), (np.nan, 1.0), (150.0, np.nan)],
)
def test_a_stopped_propeller_or_an_unknown_row_is_no_second(turns: float, amps: float) -> None:
    """Nor one of a current that flows back."""
    rows = np.full(100, 150.0), np.full(100, 2.0)
    rows[0][30:35], rows[1][30:35] = turns, amps
    found = steady_seconds(log(*rows), None)
    assert len(found) == 9
    assert np.isnan(found.airspeed).all()


def test_a_log_of_one_row_a_second_tells_nothing_of_steadiness() -> None:
    """So none of its seconds is taken."""
    assert len(steady_seconds(log(np.full(60, 150.0), np.full(60, 2.0), rate=1.0), None)) == 0


def test_many_seconds_are_thinned_evenly() -> None:
    """The first and last stay."""
    count = 4 * MOST
    many = Seconds(
        time=np.arange(count, dtype=float),
        turning=Turning(revolutions=np.full(count, 100.0), voltage=np.full(count, 10.0)),
        current=np.ones(count),
        airspeed=np.ones(count),
    )
    few = spread_out(many)
    assert len(few) == MOST
    assert few.time[[0, -1]] == pytest.approx([0.0, count - 1.0])
    assert np.ptp(np.diff(few.time)) <= 1.0
    assert spread_out(few) is few


def test_luck_is_normal_always_the_same_and_of_its_own_kind() -> None:
    """Mean nothing, spread one, and two kinds are unrelated."""
    assert luck(256) == pytest.approx(luck(256))
    assert luck(256).mean() == pytest.approx(0.0, abs=1e-9)
    assert luck(256).std() == pytest.approx(1.0, abs=0.02)
    assert abs(np.corrcoef(luck(256), luck(256, 2))[0, 1]) < 0.15


def test_power_falls_from_one_with_airspeed() -> None:
    """Over that at rest; and what a curve misses weighs more on the little that is left."""
    table = drives().drive.propeller
    turning = Turning(revolutions=np.full(5, 200.0), voltage=np.full(5, 11.0))
    share = over_rest(table, np.linspace(0.0, 16.0, 5), turning)
    assert share[0] == pytest.approx(1.0)
    assert (np.diff(share) < 0.0).all()
    missed = curve_error(table, np.linspace(0.0, 16.0, 5), turning)
    assert (np.diff(missed) > 0.0).all()
    assert missed[0] == pytest.approx(0.057)


def test_eight_in_ten_drives_flew_in_their_band() -> None:
    """Every drive of another draw flies known speeds at known throttles with a sensor that is off;
    the band of what its log then tells holds the truth of eight in ten, and so of each state."""
    truth, told = drives(seed=7), drives()
    generator = np.random.default_rng(3)
    states = []
    for throttle, speed in ((0.5, 10.0), (0.7, 14.0), (0.7, 18.0), (1.0, 20.0)):
        flown = at_throttle(truth.drive, np.array([[speed]]), throttle, 0.7)
        seconds = Seconds(
            time=np.zeros(256),
            turning=Turning(revolutions=flown.revolutions[:, 0], voltage=flown.pack_voltage[:, 0]),
            current=flown.pack_current[:, 0] * truth.current_factor,
            airspeed=np.full(256, speed),
        )
        missed = curve_error(truth.drive.propeller, seconds.airspeed, seconds.turning)
        off = np.hypot(SENSOR, missed) * generator.standard_normal(256)
        seen = Seconds(
            time=seconds.time,
            turning=seconds.turning,
            current=seconds.current * np.exp(off),
            airspeed=seconds.airspeed,
        )
        found, pulls = airspeeds(told, seen)
        low, high = np.quantile(found, (0.1, 0.9), axis=0)
        inside = (low <= speed) & (speed <= high)
        states.append(float(inside[pulls].mean()))
        assert pulls.mean() > 0.3
    assert 0.74 < np.mean(states) < 0.9
    assert min(states) > 0.65


def test_a_propeller_driven_by_the_air_is_not_told() -> None:
    """A trickle of current at high revolutions fits no airspeed at which it pulls."""
    seconds = Seconds(
        time=np.zeros(1),
        turning=Turning(revolutions=np.array([200.0]), voltage=np.array([11.5])),
        current=np.array([0.05]),
        airspeed=np.array([20.0]),
    )
    _, pulls = airspeeds(drives(), seconds)
    assert not pulls.any()
