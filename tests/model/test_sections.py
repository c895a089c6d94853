"""Strips get the section they were drawn with."""

from collections.abc import Callable

import numpy as np
import pytest

from foamwright.model.ensemble import Draws
from foamwright.model.lift import reference_of
from foamwright.model.planform import planform
from foamwright.model.sections import kept_strips, shipped_atlas, strip_shapes
from foamwright.model.surfaces import drawn
from foamwright.physics.lift.lattice import LatticeResult, unit_loads
from foamwright.physics.lift.section import StripShapes
from foamwright.plane.document import LoadedPlane

Read = Callable[[str], LoadedPlane]


def shapes(loaded: LoadedPlane) -> tuple[StripShapes, LatticeResult, np.ndarray]:
    """Return the shapes of a plane's strips and where they are."""
    airframe = loaded.plane.airframe
    plane = drawn(airframe)
    reference = reference_of(planform(airframe, plane, Draws(2, 1)), plane)
    result = unit_loads(plane.surfaces, reference)
    kept = kept_strips(result)
    return strip_shapes(airframe, result, kept), result, kept


def test_thickness_runs_straight_between_the_stations(read: Read) -> None:
    """12 mm of 150 at the root (8.0 %), 9 mm of 110 at the tip (8.2 %); camber 2.5 % all along."""
    shape, result, kept = shapes(read("reedling"))
    wing = result.strip_surface[kept] == 0
    y = result.strip_y[0, kept][wing]
    assert shape.thickness[wing] == pytest.approx(0.08 + (9 / 110 - 0.08) * y / 0.4)
    assert shape.camber[wing] == pytest.approx(0.025)
    assert not shape.sheet[wing].any()


def test_tails_and_fins_are_flat_sheets(read: Read) -> None:
    """No camber, marked as sheet; a fin's strips run upwards."""
    shape, result, kept = shapes(read("reedling"))
    others = result.strip_surface[kept] != 0
    assert shape.sheet[others].all()
    assert not shape.camber[others].any()
    fin = result.strip_surface[kept] == 2
    height = result.strip_z[0, kept][fin] - 5e-3
    chord = 0.09 + (0.055 - 0.09) * height / 0.1
    assert shape.thickness[fin] == pytest.approx(
        np.interp(height, [0.0, 0.1], [5 / 90, 5 / 55]), rel=1e-6
    )
    assert (chord > 0).all()


def test_a_hinge_is_where_it_was_drawn(read: Read) -> None:
    """Ailerons of 24 % chord between 50 and 92 % of the half span, none outside."""
    shape, result, kept = shapes(read("reedling"))
    wing = result.strip_surface[kept] == 0
    share = result.strip_y[0, kept][wing] / 0.4
    hinged = shape.flap_chord[wing] > 0
    assert np.array_equal(hinged, (share >= 0.5) & (share <= 0.92))
    assert set(shape.flap_chord[wing][hinged]) == {0.24}


def test_only_the_right_half_and_the_fins_are_kept(read: Read) -> None:
    """Half the wing of 10.4 dm2, half the tail of 1.8 dm2, all of the fin of 0.725 dm2."""
    _, result, kept = shapes(read("reedling"))
    areas = np.bincount(result.strip_surface[kept], weights=result.strip_area[0, kept])
    # 4 degrees of dihedral stretch the wing by 1 / cos 4.
    assert areas == pytest.approx([0.052 / np.cos(np.deg2rad(4.0)), 0.009, 0.00725], rel=1e-3)


def test_the_atlas_is_read_once() -> None:
    """The same object every time; it covers hobby Reynolds numbers 30 k to 300 k at least."""
    atlas = shipped_atlas()
    assert atlas is shipped_atlas()
    reynolds = np.exp(atlas.log_reynolds)
    assert reynolds.min() <= 3.1e4
    assert reynolds.max() >= 3e5
