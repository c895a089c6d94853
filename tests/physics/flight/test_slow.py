"""Slow flight: stall, bank, glide."""

import numpy as np
import pytest

from foamwright.physics.flight.slow import (
    APPROACH_FACTOR,
    approach_speed,
    banked_factor,
    glide,
    sink,
    stall_speed,
)


def test_at_stall_speed_lift_is_weight() -> None:
    """Dynamic pressure times largest lift coefficient is the wing loading."""
    load, lift, density = np.array([30.0, 60.0]), np.array([0.9, 1.1]), np.array([1.2, 1.0])
    speed = stall_speed(load, lift, density)
    assert 0.5 * density * speed**2 * lift == pytest.approx(load)


def test_a_turn_of_sixty_degrees_stalls_at_root_two() -> None:
    """Load factor two; level flight has none extra; it only rises."""
    bank = np.radians([0.0, 45.0, 60.0])
    assert banked_factor(bank) == pytest.approx([1.0, 2.0**0.25, 2.0**0.5])
    assert banked_factor(np.radians([45.0]))[0] < APPROACH_FACTOR


def test_best_glide_of_a_parabolic_polar() -> None:
    """Least drag of a V^2 + b / V^2 is 2 sqrt(a b), at (b / a)^(1/4)."""
    speed = np.linspace(5.0, 30.0, 2501)
    a, b = np.array([[0.003], [0.005]]), np.array([[60.0], [40.0]])
    drag = a * speed**2 + b / speed**2
    ratio, at = glide(speed, drag, np.array([8.0, 6.0]))
    assert ratio == pytest.approx([8.0, 6.0] / (2.0 * np.sqrt(a * b)[:, 0]), rel=1e-5)
    assert at == pytest.approx(((b / a) ** 0.25)[:, 0], abs=0.01)


def test_speeds_that_do_not_carry_are_left_out() -> None:
    """Infinite drag below the stall moves the best glide to the first speed that carries."""
    speed = np.linspace(5.0, 30.0, 251)
    drag = np.where(speed < 20.0, np.inf, 0.003 * speed**2 + 60.0 / speed**2)[None, :]
    _, at = glide(speed, drag, np.array([8.0]))
    assert at[0] == pytest.approx(20.0)


def test_gusts_are_half_counted() -> None:
    """1.3 times the stall in calm, 2 m/s more in gusts of 4 m/s (common practice, no source)."""
    stall = np.array([8.0, 8.0])
    assert approach_speed(stall, np.array([0.0, 4.0])) == pytest.approx([10.4, 12.4])


def test_least_sink_is_slower_than_best_glide() -> None:
    """Of a V^2 + b / V^2 it is at (b / 3 a)^(1/4), 0.76 of the best glide, and lower than there."""
    speed = np.linspace(5.0, 30.0, 2501)
    drag = (0.003 * speed**2 + 60.0 / speed**2)[None, :]
    weight = np.array([8.0])
    rate, at = sink(speed, drag, weight)
    assert at[0] == pytest.approx((60.0 / 0.009) ** 0.25, abs=0.01)
    ratio, best = glide(speed, drag, weight)
    assert rate[0] < best[0] / ratio[0]
    assert rate[0] == pytest.approx(4.0 * 0.003 * (60.0 / 0.009) ** 0.75 / 8.0, rel=1e-4)
