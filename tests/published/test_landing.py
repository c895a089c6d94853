"""Sliding and floating against printed braking distances and an integrated motion."""

import numpy as np
import pytest
from scipy.integrate import solve_ivp

from foamwright.physics.flight.landing import FREE_FALL, flare, slide

pytestmark = pytest.mark.published

FOOT, MILE_PER_HOUR = 0.3048, 0.44704


@pytest.mark.parametrize(
    ("speed", "printed"), [(15, 21.6), (30, 86.4), (40, 153.6), (50, 240.0), (60, 345.5)]
)
def test_braking_distances_of_the_road(speed: float, printed: float) -> None:
    """Braking distance on level roadways at 11.2 ft/s2 (AASHTO Green Book, from memory) [ft]."""
    friction = np.array([11.2 * FOOT / FREE_FALL])
    found = slide(np.array([speed * MILE_PER_HOUR]), friction)
    assert found[0] / FOOT == pytest.approx(printed, rel=0.005)


def test_the_flare_is_the_motion_integrated() -> None:
    """m dV/dt = -W/(L/D) by the library's integrator until 7.2 m/s, into 2 m/s of wind."""

    def motion(_time: float, state: np.ndarray) -> list[float]:
        return [state[1] - 2.0, -FREE_FALL / 9.0]

    def slow(_time: float, state: np.ndarray) -> float:
        return float(state[1] - 7.2)

    slow.terminal = True  # type: ignore[attr-defined]
    found = solve_ivp(motion, (0.0, 10.0), [0.0, 8.5], events=slow, rtol=1e-9)
    ours = flare(np.array([8.5]), np.array([7.2]), np.array([9.0]), np.array([2.0]))
    assert ours.time[0] == pytest.approx(float(found.t[-1]), rel=1e-6)
    assert ours.distance[0] == pytest.approx(float(found.y[0, -1]), rel=1e-6)
