"""The effective blade section: limits it has to keep."""

import numpy as np
import pytest

from foamwright.physics.drive.blade_sections import (
    SECTION,
    SectionCurves,
    SectionShape,
    lift_and_drag,
    section_curves,
)


def curves(*, camber: float = 0.05, radius: float = 0.75, reynolds: float = 1e5) -> SectionCurves:
    """Return one prepared section of a blade of c/R 0.15."""
    shape = SectionShape(
        camber=np.full((1, 1), camber),
        thickness=np.full((1, 1), 0.08),
        chord=np.full((1, 1), 0.15),
        radius=np.full((1, 1), radius),
        reynolds=np.full((1, 1), reynolds),
    )
    return section_curves(shape)


def test_a_section_without_camber_is_symmetric() -> None:
    """Lift is odd about zero angle."""
    angle = np.radians(np.array([[-12.0, -4.0, 4.0, 12.0]]))
    CL, _ = lift_and_drag(curves(camber=0.0), angle)
    assert CL[0, ::-1] == pytest.approx(-CL[0])


def test_lift_vanishes_at_the_zero_lift_angle() -> None:
    """At the prepared angle the lift is zero."""
    made = curves()
    CL, _ = lift_and_drag(made, made.zero_lift)
    assert CL[0, 0] == pytest.approx(0.0, abs=1e-3)


def test_broadside_the_section_is_a_plate() -> None:
    """At 90 degrees: no lift, drag of a plate (about 1.5 for these proportions)."""
    CL, CD = lift_and_drag(curves(), np.array([[0.5 * np.pi]]))
    assert CL[0, 0] == pytest.approx(0.0, abs=1e-6)
    assert CD[0, 0] == pytest.approx(SECTION.plate_drag, abs=0.05)


def test_drag_rises_towards_low_reynolds_number() -> None:
    """At a quarter of the Reynolds number least drag is 1.3 to 1.7 times as large."""
    angle = np.radians(np.linspace(-4, 10, 141))[None, :]
    _, high = lift_and_drag(curves(reynolds=1e5), angle)
    _, low = lift_and_drag(curves(reynolds=2.5e4), angle)
    assert 1.3 < low.min() / high.min() < 1.7


def test_rotation_delays_stall_near_the_root_only() -> None:
    """Beyond stall the root carries more lift than the tip region."""
    angle = np.radians(np.array([[26.0]]))
    root, _ = lift_and_drag(curves(radius=0.2), angle)
    tip, _ = lift_and_drag(curves(radius=0.95), angle)
    assert root[0, 0] > tip[0, 0] + 0.2


def test_the_curves_have_no_jump() -> None:
    """From -90 to 90 degrees neither coefficient changes by more than 0.04 in 0.1 degree."""
    angle = np.radians(np.linspace(-90, 90, 1801))[None, :]
    for radius in (0.2, 0.5, 0.95):
        for values in lift_and_drag(curves(radius=radius), angle):
            assert np.abs(np.diff(values[0])).max() < 0.04
