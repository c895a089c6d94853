"""Climb: limits, flags, who cannot fly."""

import numpy as np
import pytest

from foamwright.physics.flight.climb import climb_rates, fastest_climb
from foamwright.physics.flight.level import DragCurve

SPEED = np.linspace(6.0, 40.0, 137)
PARASITE, INDUCED = 0.003, 60.0
DRAG = np.tile(PARASITE * SPEED**2 + INDUCED / SPEED**2, (3, 1))
WEIGHT = np.array([5.0, 5.0, 5.0])


def curve(flyable: np.ndarray | None = None) -> DragCurve:
    """Three alike, D = a V^2 + b / V^2."""
    carried = np.ones(DRAG.shape, dtype=bool) if flyable is None else flyable
    return DragCurve(speed=SPEED, drag=np.where(carried, DRAG, np.inf), flyable=carried)


def test_thrust_equal_to_drag_neither_climbs_nor_sinks() -> None:
    """Level flight has no rate of climb, at any speed."""
    rates, steep = climb_rates(curve(), DRAG, WEIGHT)
    assert np.abs(rates).max() == 0.0
    assert not steep.any()


def test_fastest_climb_with_constant_thrust() -> None:
    """V (T - a V^2 - b / V^2) is greatest at V^2 = (T + sqrt(T^2 + 12 a b)) / 6 a."""
    thrust = np.array([1.5, 2.0, 2.5])
    exact = np.sqrt((thrust + np.sqrt(thrust**2 + 12 * PARASITE * INDUCED)) / (6 * PARASITE))
    found = fastest_climb(curve(), np.tile(thrust[:, None], (1, SPEED.size)), WEIGHT)
    assert found.speed == pytest.approx(exact, rel=2e-3)
    rate = exact * (thrust - PARASITE * exact**2 - INDUCED / exact**2) / WEIGHT
    assert found.rate == pytest.approx(rate, rel=1e-3)
    assert found.climbs.all()


def test_who_cannot_fly_is_flagged_and_spoils_no_other() -> None:
    """The second never carries, the third has no thrust: zero, not climbing; the first as alone."""
    flyable = np.ones(DRAG.shape, dtype=bool)
    flyable[1] = False
    thrust = np.full(DRAG.shape, 2.0)
    thrust[2] = 0.0
    found = fastest_climb(curve(flyable), thrust, WEIGHT)
    assert found.climbs.tolist() == [True, False, False]
    assert found.rate[1:].tolist() == [0.0, 0.0]
    alone = fastest_climb(curve(), np.full(DRAG.shape, 2.0), WEIGHT)
    assert found.rate[0] == alone.rate[0]
    assert np.isfinite(found.speed).all()


def test_a_steep_climb_is_flagged_and_bounded() -> None:
    """With thrust of twice the weight it would go straight up: no faster than it flies."""
    found = fastest_climb(curve(), np.full(DRAG.shape, 10.0), WEIGHT)
    assert found.steep.all()
    assert np.all(found.rate <= found.speed * (1.0 + 1e-12))
    gentle = fastest_climb(curve(), np.full(DRAG.shape, 1.5), WEIGHT)
    assert not gentle.steep.any()
