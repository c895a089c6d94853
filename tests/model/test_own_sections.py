"""Own coordinates through an injected evaluator: the library itself is not needed here."""

import importlib.util
from pathlib import Path

import numpy as np
import pytest

from foamwright.model.own_sections import available, library_evaluator, own_atlas, own_shapes
from foamwright.physics.arrays import Grid, Samples
from foamwright.physics.lift.section import SectionAtlas, atlas_from_arrays, section_table

ATLAS = Path(__file__).parents[2] / "src/foamwright/physics/data/section_atlas.npz"


@pytest.fixture(scope="module")
def atlas() -> SectionAtlas:
    """The shipped atlas, whose axes an own one keeps."""
    with np.load(ATLAS) as arrays:
        return atlas_from_arrays(dict(arrays))


def lens() -> Grid:
    """A symmetric lens 8 % thick, over the top first."""
    x = np.linspace(1.0, 0.0, 60)
    upper = np.column_stack([x, 0.16 * x * (1.0 - x)])
    return np.vstack([upper, (upper * [1.0, -1.0])[::-1][1:]])


def known(points: Grid, reynolds: Samples, alpha: Samples) -> tuple[Samples, Samples, Samples]:
    """Lift 2 pi alpha up to 0.15 rad, drag a simple polar, no moment."""
    assert points.shape[1] == 2
    lift = 2.0 * np.pi * np.clip(alpha, -0.15, 0.15)
    return lift, 0.02 * (reynolds / 1e5) ** -0.5 * (1.0 + lift**2), np.zeros_like(alpha)


def test_own_atlas_says_what_the_evaluator_said(atlas: SectionAtlas) -> None:
    """Uncorrected lift and drag of every strip are the evaluator's."""
    own = own_atlas(atlas, lens(), known)
    table = section_table(own, own_shapes(own, np.array([0.0, 0.25])), corrected=False)
    expected = 2.0 * np.pi * np.clip(own.alpha, -0.15, 0.15)
    assert table.lift == pytest.approx(np.broadcast_to(expected, table.lift.shape))
    drag = np.exp(table.log_drag[0, :, np.argmin(np.abs(own.alpha))])
    assert drag == pytest.approx(0.02 * (np.exp(own.log_reynolds) / 1e5) ** -0.5, rel=1e-6)
    assert not table.outside.any()


def test_own_atlas_reads_thickness_and_keeps_sheet_and_flap(atlas: SectionAtlas) -> None:
    """The shaped family sits at 8 % thickness; all else is the shipped atlas."""
    own = own_atlas(atlas, lens(), known)
    assert own.shaped.thickness.mean() == pytest.approx(0.08, abs=1e-3)
    assert own.sheet is atlas.sheet
    assert own.flap is atlas.flap


def test_library_is_only_looked_for_not_imported() -> None:
    """Whether it is available agrees with the installation; without it asking for it says so."""
    installed = importlib.util.find_spec("neuralfoil") is not None
    assert available() == installed
    if not installed:
        with pytest.raises(ModuleNotFoundError, match="neuralfoil"):
            library_evaluator()
