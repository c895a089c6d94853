"""Blade-element momentum: the solution against its own equations and against limits."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from foamwright.physics.drive.blade import Blade, label_blade
from foamwright.physics.drive.blade_element import Operation, blade_element
from foamwright.physics.drive.momentum import (
    figure_of_merit,
    froude_efficiency,
    propeller_efficiency,
    thrust_loading,
)


def operation(advance: list[float], revolutions: float = 100.0) -> Operation:
    """Return operating points at one speed in laboratory air."""
    return Operation(
        advance_ratio=np.array(advance),
        revolutions=np.full(len(advance), revolutions),
        kinematic_viscosity=np.full(len(advance), 1.5e-5),
    )


@settings(max_examples=60, deadline=None)
@given(
    diameter=st.floats(0.05, 0.30),
    ratio=st.floats(0.3, 1.3),
    count=st.integers(2, 6),
    advance=st.floats(0.0, 1.6),
    tip_speed=st.floats(5.0, 250.0),
)
def test_every_propeller_has_a_solution(
    *, diameter: float, ratio: float, count: int, advance: float, tip_speed: float
) -> None:
    """Rest to wind-milling, crawl to Mach 0.75: a root at every station, finite values."""
    blade = label_blade(diameter, ratio * diameter, count)
    CT, CP, rootless = blade_element(
        blade, operation([advance * ratio], tip_speed / (np.pi * diameter))
    )
    assert not rootless[0]
    assert np.isfinite([CT[0], CP[0]]).all()


def test_rest_is_the_limit_of_slow_flight() -> None:
    """J = 0 has no case of its own: it continues J = 1e-6 and 1e-3."""
    CT, CP, _ = blade_element(label_blade(0.2, 0.12, 2.0), operation([0.0, 1e-6, 1e-3]))
    assert CT[0] == pytest.approx(CT[1], rel=1e-4)
    assert CP[0] == pytest.approx(CP[1], rel=1e-4)
    assert CT[0] == pytest.approx(CT[2], rel=1e-2)


def test_no_propeller_beats_the_ideal_disc() -> None:
    """Efficiency stays below Froude's, the figure of merit below one."""
    J = np.linspace(0.0, 0.6, 13)
    CT, CP, _ = blade_element(label_blade(0.2, 0.12, 2.0), operation(J.tolist()))
    ideal = froude_efficiency(thrust_loading(J[1:], CT[1:]))
    assert np.all(propeller_efficiency(J[1:], CT[1:], CP[1:]) < ideal)
    assert 0.3 < figure_of_merit(CT[:1], CP[:1])[0] < 0.8


def test_thrust_passes_zero_smoothly_and_turns_negative() -> None:
    """Past zero thrust the propeller brakes, and power stays below its static value."""
    J = np.linspace(0.0, 1.2, 61)
    CT, CP, rootless = blade_element(label_blade(0.2, 0.14, 2.0), operation(J.tolist()))
    assert not rootless.any()
    assert CT[0] > 0 > CT[-1]
    assert np.count_nonzero(np.diff(np.sign(CT))) == 1
    assert np.abs(np.diff(CT, 2)).max() < 0.01 * CT[0]
    assert CP[-1] < CP[0]


def test_twenty_stations_are_enough() -> None:
    """Within 1 % of static values of eighty stations."""
    points = operation([0.0, 0.2, 0.4, 0.6])
    few = blade_element(label_blade(0.2, 0.14, 2.0, 20), points)
    many = blade_element(label_blade(0.2, 0.14, 2.0, 80), points)
    for have, want in zip(few[:2], many[:2], strict=True):
        assert np.abs(have - want).max() < 0.01 * want[0]


def test_more_blades_pull_more_and_lose_efficiency() -> None:
    """The same blade three times instead of twice: CT x 1.28-1.38, CP x 1.32-1.41 measured.

    Ranges of pairs in the UIUC Propeller Database; 0.06 allowed beyond each end.
    """
    two = blade_element(label_blade(0.2, 0.14, 2.0), operation([0.0]))
    three = blade_element(label_blade(0.2, 0.14, 3.0), operation([0.0]))
    assert 1.22 < three[0][0] / two[0][0] < 1.44
    assert 1.26 < three[1][0] / two[1][0] < 1.47


def test_a_batch_of_propellers_is_each_propeller_alone() -> None:
    """Blades stacked along the first axis give what they give one by one."""
    blades = [label_blade(0.127, 0.08, 2.0), label_blade(0.2, 0.2, 3.0)]
    names = ("diameter", "blade_count", "chord", "twist", "camber", "thickness")
    stacked = {name: np.concatenate([getattr(blade, name) for blade in blades]) for name in names}
    both = blade_element(Blade(radius=blades[0].radius, **stacked), operation([0.3, 0.3]))
    for index, blade in enumerate(blades):
        alone = blade_element(blade, operation([0.3]))
        assert both[0][index] == pytest.approx(alone[0][0], rel=1e-6)
        assert both[1][index] == pytest.approx(alone[1][0], rel=1e-6)
