"""Ways down."""

import dataclasses

import numpy as np
import pytest

from foamwright.debrief.falls import (
    CASES,
    Air,
    Start,
    along,
    fall,
    gliding,
    landed,
    parabolic,
    path_angle,
    tumbling,
    weights,
)
from foamwright.debrief.geodesy import Spot
from foamwright.debrief.last_seen import LastSeen
from foamwright.physics.air.atmosphere import GRAVITY

SPOT = Spot(latitude=47.31, longitude=8.52)
STILL = Air(north=0.0, east=0.0, spread=0.0)
PLANES = parabolic(np.full(50, 8.0), np.full(50, 10.0))


def seen_at(**changed: object) -> LastSeen:
    """Return an aeroplane last seen flying north at 14 m/s, 60 m up, changed as told."""
    seen = LastSeen(
        spot=SPOT,
        fix_time=60.0,
        fix_spread=3.0,
        stale=0.0,
        height=60.0,
        height_spread=3.0,
        north=14.0,
        east=0.0,
        climb=0.0,
        turn=0.0,
        grounded=False,
        start=SPOT,
        hole=0.0,
        assumed=(),
    )
    return dataclasses.replace(seen, **changed)  # type: ignore[arg-type]


def luck() -> np.random.Generator:
    """Return the same luck for every test."""
    return np.random.default_rng(1)


def test_the_ways_down_are_all_there_is() -> None:
    """Their weights sum to one, whatever was seen."""
    assert sum(weight for _, weight in CASES.values()) == pytest.approx(1.0)
    for climb in (0.0, -3.0, -12.0, 4.0, None):
        found = weights(seen_at(climb=climb))
        assert set(found) == set(CASES)
        assert sum(found.values()) == pytest.approx(1.0)


def test_who_dived_already_is_taken_to_dive() -> None:
    """At 45 degrees down the straight glide all but falls away."""
    level, steep = weights(seen_at()), weights(seen_at(climb=-14.0))
    assert path_angle(seen_at(climb=-14.0)) == pytest.approx(np.pi / 4.0)
    assert steep["dive"] > 2.0 * level["dive"]
    assert steep["straight"] < 0.15 * level["straight"]


def test_a_turn_is_a_circle() -> None:
    """Half a circle ends a diameter to the right, heading back; no turn is a straight line."""
    one = np.ones(1)
    north, east, heading = along(10.0 * one, 0.0 * one, 0.5 * one, 2.0 * np.pi * one)
    assert (north[0], east[0]) == pytest.approx((0.0, 40.0), abs=1e-9)
    assert heading[0] == pytest.approx(np.pi)
    assert along(10.0 * one, 0.0 * one, 0.0 * one, 3.0 * one)[0][0] == pytest.approx(30.0)


def start(height: float = 60.0, speed: float = 10.0, wind: float = 0.0) -> Start:
    """Return aeroplanes heading north that nobody flies any more."""
    n = 400
    return Start(
        north=np.zeros(n),
        east=np.zeros(n),
        height=np.full(n, height),
        speed=np.full(n, speed),
        heading=np.zeros(n),
        wind=(np.zeros(n), np.full(n, wind)),
    )


def test_the_best_glide_is_as_far_as_a_glide_leads() -> None:
    """60 m at a ratio of 8 are 480 m at most, and no less than what a standing propeller takes."""
    flat = np.zeros(400)
    way = gliding(start(), PLANES, luck(), bank=flat, turn=flat)
    assert way.distance.max() < 1.02 * 480.0 + 8.0 * 3.0
    assert np.median(way.distance) == pytest.approx(0.87 * 480.0, rel=0.05)


def test_a_fast_plane_glides_on_its_speed_and_worse() -> None:
    """Trimmed for 25 m/s it comes down nearer than its best glide would, though it has more
    energy: 25 m/s are 32 m of height over 10 m/s... less what speed costs in drag."""
    flat = np.zeros(400)
    slow = gliding(start(), PLANES, luck(), bank=flat, turn=flat).distance
    fast = gliding(start(speed=25.0), PLANES, luck(), bank=flat, turn=flat).distance
    assert fast.min() < 0.6 * slow.min()
    assert fast.max() < (60.0 + (625.0 - 100.0) / (2.0 * GRAVITY)) * 8.0 * 1.1


def test_a_steep_bank_shortens_the_glide() -> None:
    """By the cosine of the bank, and it turns."""
    flat, banked = np.zeros(400), np.full(400, np.radians(60.0))
    level = gliding(start(), PLANES, luck(), bank=flat, turn=flat)
    turning = gliding(start(), PLANES, luck(), bank=banked, turn=None)
    assert np.median(turning.distance) == pytest.approx(0.5 * np.median(level.distance), rel=0.15)
    assert np.median(turning.turn) == pytest.approx(
        GRAVITY * np.tan(np.radians(60.0)) / (10.0 * np.sqrt(2.0)), rel=0.05
    )


def test_a_tumble_falls_as_square_drag_has_it() -> None:
    """From 1000 m nearly at its last speed; from 1 m as in vacuum, 0.45 s."""
    high, low = (tumbling(start(height=h), luck()) for h in (1000.0, 1.0))
    assert 1000.0 / 14.5 < high.time.min() < high.time.max() < 1000.0 / 4.8
    assert low.time.min() == pytest.approx(np.sqrt(2.0 / GRAVITY), rel=0.05)
    assert np.isfinite(high.distance).all()
    assert high.distance.max() < 200.0


def test_the_wind_carries_what_falls_long() -> None:
    """5 m/s over the time it takes."""
    way = tumbling(start(wind=5.0), luck())
    _, east = landed(start(wind=5.0), way, luck())
    assert np.median(east) == pytest.approx(5.0 * np.median(way.time), rel=0.15)


def test_the_parabola_has_its_best_where_it_was_told() -> None:
    """And half as much again at neither half nor twice the speed."""
    which = np.zeros(3, dtype=int)
    found = PLANES.at(which, np.array([10.0, 20.0, 6.0]))
    assert found[0] == pytest.approx(8.0, rel=1e-3)
    assert found[1] == pytest.approx(16.0 / 4.25, rel=1e-2)
    assert found[2] < 8.0
    assert PLANES.best_ratio == pytest.approx(np.full(50, 8.0), rel=1e-3)


def test_all_falls_end_ahead_of_a_plane_that_flew_straight_in_calm_air() -> None:
    """Most of them; those that turned may end behind."""
    found = fall(seen_at(), STILL, PLANES, luck(), count=2000)
    assert found.north.shape == (2000,)
    assert np.mean(found.north > -30.0) > 0.8
    shares = {name: float(np.mean(found.case == name)) for name in CASES}
    assert shares["turning"] == pytest.approx(weights(seen_at())["turning"], abs=0.03)


def test_higher_is_farther() -> None:
    """A straight glide from 120 m leads about three times as far as from 40 m."""
    reach = []
    for height in (40.0, 120.0):
        found = fall(seen_at(height=height), STILL, PLANES, luck(), count=2000)
        mine = found.case == "straight"
        reach.append(np.median(np.hypot(found.north[mine], found.east[mine])))
    assert 2.0 < reach[1] / reach[0] < 3.2


def test_an_old_fix_blurs_everything() -> None:
    """Twenty seconds of flight nobody saw are hundreds of metres."""
    fresh, old = (fall(seen_at(stale=t), STILL, PLANES, luck(), count=2000) for t in (0.0, 20.0))
    assert np.quantile(np.hypot(old.north, old.east), 0.5) > 1.5 * np.quantile(
        np.hypot(fresh.north, fresh.east), 0.5
    )


def test_what_is_not_known_is_taken_from_anywhere() -> None:
    """No speed: any course; no height: some."""
    found = fall(seen_at(north=None, east=None, height=None), STILL, PLANES, luck(), count=2000)
    assert np.isfinite(found.north).all()
    assert abs(np.mean(found.north > 0.0) - 0.5) < 0.06
