"""The corrected look-up: symmetry, edges, flap drag, and its own consistency."""

from itertools import pairwise
from pathlib import Path

import numpy as np
import pytest

from foamwright.physics.lift.section import (
    SectionTable,
    StripShapes,
    atlas_from_arrays,
    chosen_strips,
    coefficients,
    drag_at_lift,
    flap_drag,
    joined,
    maximum_lift,
    section_table,
)

ATLAS = Path(__file__).parents[3] / "src/foamwright/physics/data/section_atlas.npz"


@pytest.fixture(scope="module")
def table() -> SectionTable:
    """A cambered section, the same upside down, a symmetric one, flat and bent sheet."""
    with np.load(ATLAS) as arrays:
        atlas = atlas_from_arrays(dict(arrays))
    shapes = StripShapes(
        thickness=np.array([0.09, 0.09, 0.12, 0.03, 0.03]),
        camber=np.array([0.03, -0.03, 0.0, 0.0, 0.06]),
        sheet=np.array([False, False, False, True, True]),
        flap_chord=np.array([0.25, 0.25, 0.0, 0.25, 0.0]),
    )
    return section_table(atlas, shapes)


def everywhere(value: float) -> np.ndarray:
    """The same value on the five strips."""
    return np.full((1, 5), value)


def test_a_section_upside_down_is_the_mirror_image(table: SectionTable) -> None:
    """Lift and moment change sign with the angle, drag stays."""
    up = coefficients(table, everywhere(1.2e5), everywhere(0.05))
    down = coefficients(table, everywhere(1.2e5), everywhere(-0.05))
    assert up[0][0, 0] == pytest.approx(-down[0][0, 1], abs=2e-3)
    assert up[1][0, 0] == pytest.approx(down[1][0, 1], rel=5e-3)
    assert up[2][0, 0] == pytest.approx(-down[2][0, 1], abs=2e-3)


def test_symmetric_section_is_symmetric(table: SectionTable) -> None:
    """No lift at no angle, the same drag at plus and minus 0.4."""
    lift, _, moment, _ = coefficients(table, everywhere(1.5e5), everywhere(0.0))
    assert lift[0, 2] == pytest.approx(0.0, abs=2e-3)
    assert moment[0, 2] == pytest.approx(0.0, abs=1e-3)
    numbers = np.log(everywhere(1.5e5))
    plus, _ = drag_at_lift(table, numbers, everywhere(0.4))
    minus, _ = drag_at_lift(table, numbers, everywhere(-0.4))
    assert plus[0, 2] == pytest.approx(minus[0, 2], rel=0.02)


def test_drag_at_lift_agrees_with_drag_at_the_angle_of_that_lift(table: SectionTable) -> None:
    """The two look-ups agree within 3 % on the working branch, bar the table spacing."""
    for angle in (0.02, 0.05, 0.08):
        lift, drag, _, _ = coefficients(table, everywhere(2.0e5), everywhere(angle))
        again, _ = drag_at_lift(table, np.log(everywhere(2.0e5)), lift)
        assert again[0, 0] == pytest.approx(drag[0, 0], rel=0.03)
        assert again[0, 2] == pytest.approx(drag[0, 2], rel=0.03)


def test_drag_beyond_maximum_lift_only_rises(table: SectionTable) -> None:
    """A search can't profit from asking for more lift than there is."""
    numbers = np.log(everywhere(1.0e5))
    top = maximum_lift(table, everywhere(1.0e5))
    drags = [drag_at_lift(table, numbers, top + step)[0] for step in (0.0, 0.1, 0.2, 0.4)]
    assert all(np.all(more > less) for less, more in pairwise(drags))


def test_outside_is_flagged_and_held(table: SectionTable) -> None:
    """Reynolds number 5 k is flagged and reads as 20 k."""
    low, flagged = drag_at_lift(table, np.log(everywhere(5.0e3)), everywhere(0.3))
    edge, inside = drag_at_lift(table, np.log(everywhere(2.0e4)), everywhere(0.3))
    assert flagged.all()
    assert not inside.any()
    assert low == pytest.approx(edge)


def test_missing_numbers_stay_missing_and_are_flagged(table: SectionTable) -> None:
    """NaN in, NaN out, flagged; nothing raises."""
    drag, outside = drag_at_lift(table, everywhere(np.nan), everywhere(0.3))
    assert np.isnan(drag).all()
    assert outside.all()


def test_flat_sheet_stalls_far_below_bent_sheet(table: SectionTable) -> None:
    """Common practice, no source: flat sheet reaches about 0.7-0.8, bent sheet well above 1."""
    top = maximum_lift(table, everywhere(1.0e5))[0]
    assert 0.6 < top[3] < 0.85
    assert top[4] > 1.2


def test_flap_drag_is_one_at_rest_and_grows(table: SectionTable) -> None:
    """No deflection costs nothing; 15 deg at moderate lift costs; no flap never does."""
    numbers, lift = np.log(everywhere(1.5e5)), everywhere(0.3)
    rest = flap_drag(table, numbers, lift, everywhere(0.0))
    bent = flap_drag(table, numbers, lift, everywhere(np.deg2rad(15.0)))
    assert rest == pytest.approx(np.ones((1, 5)))
    assert bent[0, 0] > 1.2
    assert bent[0, [2, 4]] == pytest.approx([1.0, 1.0])


def test_strips_can_be_taken_apart_and_joined(table: SectionTable) -> None:
    """Two parts joined look up like the whole."""
    parts = [chosen_strips(table, np.array([0, 1])), chosen_strips(table, np.array([2, 3, 4]))]
    whole, _ = drag_at_lift(table, np.log(everywhere(9.0e4)), everywhere(0.35))
    again, _ = drag_at_lift(joined(parts), np.log(everywhere(9.0e4)), everywhere(0.35))
    assert again == pytest.approx(whole)
