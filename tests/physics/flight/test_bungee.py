"""A plane drawn off by a rubber."""

import dataclasses

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from foamwright.physics.flight.bungee import (
    Bungee,
    Drawn,
    drawn_off,
    pull_at,
    rubber_shape,
    stored_work,
)

LINE = Bungee(
    length=np.array([2.0]),
    stretch=np.array([3.0]),
    pull=np.array([20.0]),
    returned=np.array([0.8]),
    slope=np.array([0.2]),
    hook_ahead=np.array([0.05]),
    hook_below=np.array([0.03]),
)


def of(mass: float = 0.3, **fields: float) -> Drawn:
    """Return how a plane leaves a line with some fields changed."""
    changed = {name: np.array([value]) for name, value in fields.items()}
    return drawn_off(dataclasses.replace(LINE, **changed), np.array([mass]))


def test_energy_goes_into_speed_and_height() -> None:
    """m v^2 / 2 + m g s sin = what the rubber gives (mechanics)."""
    found = of()
    kinetic = 0.5 * 0.3 * found.speed[0] ** 2
    lifted = 0.3 * 9.80665 * 3.0 * np.sin(0.2)
    assert kinetic + lifted == pytest.approx(found.energy[0])
    assert found.energy[0] == pytest.approx(0.8 * stored_work(LINE)[0])


def test_the_pull_is_nothing_at_rest_and_the_scale_reading_when_drawn() -> None:
    """Both ends of the law are measured."""
    assert pull_at(LINE, np.array([0.0]))[0] == pytest.approx(0.0, abs=1e-12)
    assert pull_at(LINE, np.array([3.0]))[0] == pytest.approx(20.0)


@given(st.floats(1.001, 6.0), st.floats(1.001, 6.0))
def test_rubber_pulls_harder_the_longer_it_is(first: float, second: float) -> None:
    """Rising from nothing at its free length."""
    low, high = sorted((first, second))
    found = rubber_shape(np.array([1.0, low, high]))
    assert found[0] == 0.0
    assert 0.0 < found[1] <= found[2]


@given(st.floats(0.2, 10.0), st.floats(0.05, 10.0))
def test_work_lies_between_a_straight_line_and_full_pull(length: float, stretch: float) -> None:
    """The pull rises steeply first: more than half of pull times stretch, less than all of it."""
    line = dataclasses.replace(LINE, length=np.array([length]), stretch=np.array([stretch]))
    whole = 20.0 * stretch
    assert 0.5 * whole * (1 - 1e-9) <= stored_work(line)[0] < whole


def test_a_small_stretch_keeps_its_digits() -> None:
    """A millimetre on a kilometre: half of pull times stretch, to nine digits."""
    line = dataclasses.replace(LINE, length=np.array([1000.0]), stretch=np.array([1e-3]))
    assert stored_work(line)[0] == pytest.approx(0.5 * 20.0 * 1e-3, rel=1e-6)


def test_a_heavier_plane_leaves_slower() -> None:
    """With the root of its mass on the level."""
    light, heavy = of(0.2, slope=0.0), of(0.8, slope=0.0)
    assert light.speed[0] == pytest.approx(2.0 * heavy.speed[0])


def test_a_rubber_too_weak_for_the_slope_moves_nothing() -> None:
    """Standing still, said so, and no speed out of nothing."""
    found = of(5.0, pull=0.5, slope=0.8)
    assert not found.leaves[0]
    assert found.speed[0] == 0.0
    assert found.acceleration[0] == 0.0


@pytest.mark.parametrize("ahead", [0.05, 1e-3, 0.0, -0.02])
def test_a_hook_behind_the_balance_point_does_not_hold_straight(ahead: float) -> None:
    """As towing a trolley by its rear end."""
    assert of(hook_ahead=ahead).steady[0] == (ahead > 0.0)


def test_a_hook_below_lifts_the_nose() -> None:
    """The pull passes through the balance point: 30 mm below, 50 ahead, 31 degrees."""
    assert np.rad2deg(of().incidence[0]) == pytest.approx(30.96, abs=0.01)
    assert of(hook_below=0.0).incidence[0] == 0.0


def test_the_hook_bears_the_full_pull() -> None:
    """And the largest acceleration is that pull over the mass, less the slope."""
    found = of()
    assert found.hook_force[0] == 20.0
    assert found.acceleration[0] == pytest.approx(20.0 / 0.3 - 9.80665 * np.sin(0.2))
