"""Strips: profile drag and maximum lift of the whole plane on a given linear loading."""

from pathlib import Path

import numpy as np
import pytest

from foamwright.physics.lift.section import (
    SectionTable,
    StripShapes,
    atlas_from_arrays,
    drag_at_lift,
    maximum_lift,
    section_table,
)
from foamwright.physics.lift.strips import (
    StallCase,
    StripFlow,
    StripLoading,
    critical_section_lift,
    profile_drag,
)

ATLAS = Path(__file__).parents[3] / "src/foamwright/physics/data/section_atlas.npz"
STRIPS = 14
VISCOSITY = 1.5e-5


def sections(flap_chord: float = 0.0) -> SectionTable:
    """Fourteen strips of a 9 % section with 2 % camber."""
    with np.load(ATLAS) as arrays:
        atlas = atlas_from_arrays(dict(arrays))
    shapes = StripShapes(
        thickness=np.full(STRIPS, 0.09),
        camber=np.full(STRIPS, 0.02),
        sheet=np.zeros(STRIPS, dtype=bool),
        flap_chord=np.full(STRIPS, flap_chord),
    )
    return section_table(atlas, shapes)


def loading(shape: np.ndarray, *, deflected: float = 0.0) -> StripLoading:
    """States: constant, alpha, flap; alpha lift 4.5 per radian times a shape along the span."""
    return StripLoading(
        lift=np.column_stack([np.full(STRIPS, 0.2), 4.5 * shape, np.full(STRIPS, 1.5)]),
        area=np.full(STRIPS, 0.12 / STRIPS),
        chord=np.full(STRIPS, 0.15),
        upright=np.ones(STRIPS),
        deflection=np.column_stack([np.zeros((STRIPS, 2)), np.full(STRIPS, deflected)]),
        reference_area=0.12,
    )


def flow(samples: int, speeds: np.ndarray, alpha: float, flap: float = 0.0) -> StripFlow:
    """The same states for all samples and speeds."""
    states = np.broadcast_to([1.0, alpha, flap], (samples, speeds.size, 3))
    return StripFlow(
        amplitudes=states, speed=speeds, kinematic_viscosity=np.full(samples, VISCOSITY)
    )


def stall(samples: int, weight: float = 40.0, flap: float = 0.0) -> StallCase:
    """Weight over area [Pa], air at sea level."""
    return StallCase(
        amplitudes=np.broadcast_to([1.0, 0.0, flap], (samples, 3)),
        growing=np.array([0.0, 1.0, 0.0]),
        loading=np.full(samples, weight),
        density=np.full(samples, 1.225),
        kinematic_viscosity=np.full(samples, VISCOSITY),
        limit_offset=np.zeros(samples),
        checked=np.ones(STRIPS, dtype=bool),
    )


def test_equal_strips_give_the_section_drag() -> None:
    """With every strip alike, plane profile drag is section drag at that lift."""
    speeds = np.array([8.0, 12.0, 20.0])
    found, outside = profile_drag(loading(np.ones(STRIPS)), sections(), flow(2, speeds, 0.05))
    numbers = np.log(speeds * 0.15 / VISCOSITY)[:, None] * np.ones(STRIPS)
    expected, _ = drag_at_lift(sections(), numbers, np.full((3, STRIPS), 0.2 + 0.05 * 4.5))
    assert found == pytest.approx(np.broadcast_to(expected[:, 0], (2, 3)))
    assert not outside.any()


def test_stalled_strips_are_flagged() -> None:
    """At 20 deg the linear lift is beyond every section maximum."""
    _, outside = profile_drag(loading(np.ones(STRIPS)), sections(), flow(1, np.array([10.0]), 0.35))
    assert outside.all()


def test_a_deflected_flap_costs_drag_at_the_same_lift() -> None:
    """15 deg of flap with the angle lowered to the same lift costs more than 10 %."""
    shape, table = np.ones(STRIPS), sections(0.25)
    flap = np.deg2rad(15.0)
    plain, _ = profile_drag(loading(shape, deflected=1.0), table, flow(1, np.array([12.0]), 0.1))
    alpha = 0.1 - 1.5 * flap / 4.5
    bent, _ = profile_drag(
        loading(shape, deflected=1.0), table, flow(1, np.array([12.0]), alpha, flap)
    )
    assert bent[0, 0] > 1.1 * plain[0, 0]


def test_even_loading_stalls_at_the_section_maximum() -> None:
    """With every strip alike, maximum lift is the section's at the stall Reynolds number."""
    table = sections()
    highest, _, outside = critical_section_lift(loading(np.ones(STRIPS)), table, stall(3))
    speed = np.sqrt(2.0 * 40.0 / (1.225 * highest))
    section = maximum_lift(table, (speed * 0.15 / VISCOSITY)[:, None] * np.ones(STRIPS))
    assert highest == pytest.approx(section[:, 0], rel=1e-3)
    assert not outside.any()


def test_the_overloaded_strip_stalls_first() -> None:
    """One strip with 20 % more lift than the rest sets the plane's maximum: 1/1.2 of even."""
    shape = np.ones(STRIPS)
    shape[5] = 1.2
    even = StripLoading(
        lift=np.column_stack([np.zeros(STRIPS), 4.5 * shape, np.zeros(STRIPS)]),
        area=np.full(STRIPS, 0.12 / STRIPS),
        chord=np.full(STRIPS, 0.15),
        upright=np.ones(STRIPS),
        deflection=np.zeros((STRIPS, 3)),
        reference_area=0.12,
    )
    highest, critical, _ = critical_section_lift(even, sections(), stall(1))
    ceiling = maximum_lift(sections(), np.full((1, STRIPS), 8.5e4))[0, 0]
    assert critical[0] == 5
    assert highest[0] == pytest.approx(ceiling * (1.0 + 0.2 / STRIPS) / 1.2, rel=0.02)


def test_a_plane_without_a_checked_strip_is_flagged() -> None:
    """Nothing can stall, so there is no maximum to report."""
    case = stall(2)
    nothing = StallCase(
        amplitudes=case.amplitudes,
        growing=case.growing,
        loading=case.loading,
        density=case.density,
        kinematic_viscosity=case.kinematic_viscosity,
        limit_offset=case.limit_offset,
        checked=np.zeros(STRIPS, dtype=bool),
    )
    assert critical_section_lift(loading(np.ones(STRIPS)), sections(), nothing)[2].all()


def test_flaps_down_raise_and_limit_offset_shifts_maximum_lift() -> None:
    """Half the flap's lift is added to the maximum; an offset passes straight through."""
    shape, table = np.ones(STRIPS), sections(0.25)
    base, _, _ = critical_section_lift(loading(shape, deflected=1.0), table, stall(1))
    down, _, _ = critical_section_lift(
        loading(shape, deflected=1.0), table, stall(1, flap=np.deg2rad(15.0))
    )
    assert down[0] - base[0] == pytest.approx(0.5 * 1.5 * np.deg2rad(15.0), abs=0.03)
