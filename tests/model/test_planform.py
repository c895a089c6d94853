"""Reference lengths of a wing."""

import numpy as np
import pytest

from foamwright.model.planform import reference


def stations(
    edges: list[float], y: list[float], chord: list[float]
) -> tuple[np.ndarray, np.ndarray]:
    """One geometry as arrays."""
    edge = np.stack([np.array(edges), np.array(y), np.zeros(len(y))], axis=-1)
    return edge[None], np.array(chord)[None]


def test_a_straight_taper_has_the_textbook_mean_chord() -> None:
    """MAC = 2/3 c_r (1 + t + t^2) / (1 + t), Anderson, Introduction to Flight (from memory)."""
    area, span, mean, edge = reference(*stations([0.205, 0.225], [0.0, 0.4], [0.15, 0.11]))
    taper = 0.11 / 0.15
    assert area[0] == pytest.approx(0.104)
    assert span[0] == pytest.approx(0.8)
    assert mean[0] == pytest.approx(2 / 3 * 0.15 * (1 + taper + taper**2) / (1 + taper))
    assert edge[0] == pytest.approx(0.205 + 0.02 * (1 + 2 * taper) / (3 * (1 + taper)))


def test_a_kinked_wing_is_the_sum_of_its_panels() -> None:
    """Area and mean chord against a fine numerical integration."""
    edges, y, chord = [0.0, 0.05, 0.2], [0.0, 0.1, 0.3], [0.3, 0.25, 0.1]
    area, _, mean, edge = reference(*stations(edges, y, chord))
    fine = np.linspace(0, 0.3, 200001)
    c, x = np.interp(fine, y, chord), np.interp(fine, y, edges)
    assert area[0] == pytest.approx(2 * np.trapezoid(c, fine), rel=1e-8)
    assert mean[0] == pytest.approx(2 * np.trapezoid(c**2, fine) / area[0], rel=1e-8)
    assert edge[0] == pytest.approx(2 * np.trapezoid(c * x, fine) / area[0], rel=1e-8)


def test_a_wing_that_starts_beside_the_body_is_carried_through() -> None:
    """The gap to the middle line counts with the root chord."""
    area, span, _, _ = reference(*stations([0.0, 0.0], [0.03, 0.4], [0.15, 0.15]))
    assert area[0] == pytest.approx(0.8 * 0.15)
    assert span[0] == pytest.approx(0.8)
