"""The atlas record as shipped."""

from pathlib import Path

import numpy as np
import pytest

from foamwright.physics.lift.atlas import (
    SectionAtlas,
    StripShapes,
    atlas_from_arrays,
    flap_penalty,
    strip_curves,
)

ATLAS = Path(__file__).parents[3] / "src/foamwright/physics/data/section_atlas.npz"


@pytest.fixture(scope="module")
def atlas() -> SectionAtlas:
    """The shipped atlas."""
    with np.load(ATLAS) as arrays:
        return atlas_from_arrays(dict(arrays))


def shapes(thickness: float, camber: float, flap_chord: float = 0.0) -> StripShapes:
    """One shaped strip."""
    return StripShapes(
        thickness=np.array([thickness]),
        camber=np.array([camber]),
        sheet=np.array([False]),
        flap_chord=np.array([flap_chord]),
    )


def test_shipped_file_is_small_and_covers_the_range() -> None:
    """Below 2 MB, Reynolds number 20 k to 600 k, angles -16 to 22 deg."""
    assert ATLAS.stat().st_size < 2e6
    with np.load(ATLAS) as arrays:
        atlas = atlas_from_arrays(dict(arrays))
    assert np.exp(atlas.log_reynolds[[0, -1]]) == pytest.approx([2.0e4, 6.0e5], rel=1e-6)
    assert np.rad2deg(atlas.alpha[[0, -1]]) == pytest.approx([-16.0, 22.0])


def test_look_ups_may_count_on_uniform_axes(atlas: SectionAtlas) -> None:
    """Index arithmetic needs equal steps."""
    for axis in (atlas.log_reynolds, atlas.alpha, atlas.flap.deflection, atlas.flap.lift):
        assert np.diff(axis) == pytest.approx(np.full(axis.size - 1, axis[1] - axis[0]))


def test_every_number_in_the_file_is_finite(atlas: SectionAtlas) -> None:
    """No missing number, and drag between 0.003 and 1."""
    for family in (atlas.shaped, atlas.sheet):
        assert np.isfinite(family.lift).all()
        assert np.isfinite(family.moment).all()
        assert np.all((family.log_drag > np.log(0.003)) & (family.log_drag < 0.0))
    assert np.isfinite(atlas.flap.log_drag).all()


def test_a_shape_beyond_the_atlas_is_flagged_and_held(atlas: SectionAtlas) -> None:
    """A 30 % section reads as the thickest there is and says so."""
    curves, outside = strip_curves(atlas, shapes(0.30, 0.02))
    edge, inside = strip_curves(atlas, shapes(0.21, 0.02))
    assert outside[0]
    assert not inside[0]
    assert curves == pytest.approx(edge)


def test_half_a_narrow_flap_costs_half_its_logarithm(atlas: SectionAtlas) -> None:
    """Below the narrowest flap of the table the penalty goes with the chord."""
    narrowest = flap_penalty(atlas.flap, shapes(0.10, 0.02, 0.15))
    half = flap_penalty(atlas.flap, shapes(0.10, 0.02, 0.075))
    assert half == pytest.approx(0.5 * narrowest)
