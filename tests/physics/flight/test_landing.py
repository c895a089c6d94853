"""Flare, slide, and the lift an elevator holds."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from foamwright.physics.flight.landing import flare, held_lift, slide, speed_of_lift


def test_the_flare_is_the_energy_over_the_drag() -> None:
    """From 10 to 8 m/s at glide ratio 8 in still air: (100 - 64) / 2 g times 8."""
    found = flare(np.array([10.0]), np.array([8.0]), np.array([8.0]), np.zeros(1))
    assert found.distance[0] == pytest.approx(36.0 / (2.0 * 9.80665) * 8.0)
    assert found.time[0] == pytest.approx(2.0 * 8.0 / 9.80665)


def test_wind_takes_its_way_off_the_flare() -> None:
    """Wind times time; a wind faster than the plane never carries it back."""
    still, windy, gale = (
        flare(np.array([10.0]), np.array([8.0]), np.array([8.0]), np.array([w]))
        for w in (0.0, 3.0, 12.0)
    )
    assert still.distance[0] - windy.distance[0] == pytest.approx(3.0 * still.time[0])
    assert gale.distance[0] == 0.0


def test_no_flare_below_the_touchdown_speed() -> None:
    """Already slow enough."""
    found = flare(np.array([7.0]), np.array([8.0]), np.array([8.0]), np.zeros(1))
    assert (found.time[0], found.distance[0]) == (0.0, 0.0)


@given(speed=st.floats(0.1, 20.0), friction=st.floats(0.1, 1.0))
def test_twice_the_speed_slides_four_times_as_far(speed: float, friction: float) -> None:
    """And a plane blown backwards stands."""
    grip = np.full(3, friction)
    found = slide(np.array([speed, 2.0 * speed, -speed]), grip)
    assert found[1] == pytest.approx(4.0 * found[0])
    assert found[2] == 0.0


@pytest.mark.parametrize(
    ("limit", "at_none", "per_lift", "most"),
    [(0.2, 0.0, 0.2, 1.0), (0.2, 0.1, 0.2, 0.5), (0.2, -0.1, 0.2, 1.5), (0.2, 0.0, -0.1, np.inf)],
)
def test_the_elevator_runs_out_where_its_line_meets_the_stop(
    limit: float, at_none: float, per_lift: float, most: float
) -> None:
    """A straight line solved by hand; an unstable plane never runs out this way."""
    found = held_lift(np.array([limit]), np.array([at_none]), np.array([per_lift]))
    assert found[0] == pytest.approx(most)


def test_the_speed_of_a_lift_carries_the_weight() -> None:
    """30 N/m2 at CL 0.8 and 1.225 kg/m3: 7.82 m/s; without lift no speed does."""
    load, density = np.full(2, 30.0), np.full(2, 1.225)
    found = speed_of_lift(load, np.array([0.8, 0.0]), density)
    assert found[0] == pytest.approx(7.825, abs=1e-3)
    assert np.isinf(found[1])
