"""The table of one plane's strips."""

from pathlib import Path

import numpy as np

from foamwright.physics.lift.atlas import StripShapes, atlas_from_arrays
from foamwright.physics.lift.table import PER_STRIP, section_table

ATLAS = Path(__file__).parents[3] / "src/foamwright/physics/data/section_atlas.npz"

SHAPES = StripShapes(
    thickness=np.array([0.08, 0.12]),
    camber=np.array([0.02, 0.04]),
    sheet=np.array([False, False]),
    flap_chord=np.array([0.2, 0.0]),
)


def test_every_strip_field_has_the_strip_first() -> None:
    """Fields named as per strip have two strips, so that they can be chosen and joined."""
    with np.load(ATLAS) as arrays:
        table = section_table(atlas_from_arrays(dict(arrays)), SHAPES)
    assert all(getattr(table, name).shape[0] == 2 for name in PER_STRIP)


def test_correction_lowers_lift_and_raises_drag() -> None:
    """Against the raw atlas: less maximum lift, never less drag at a working lift."""
    with np.load(ATLAS) as arrays:
        atlas = atlas_from_arrays(dict(arrays))
    table, raw = section_table(atlas, SHAPES), section_table(atlas, SHAPES, corrected=False)
    assert np.all(table.maximum < raw.maximum)
    working = (table.lift_axis > 0.2) & (table.lift_axis < 0.7)
    added = table.log_drag_at_lift[..., working] - raw.log_drag_at_lift[..., working]
    assert np.all(added > -0.02)


def test_thicker_and_more_cambered_lifts_more_until_it_collapses() -> None:
    """12 % with 4 % camber lifts more than 8 % with 2 % from 50 k, and loses its lead at 30 k.

    The collapse of thick sections below a critical Reynolds number of some 40 k is the
    classic finding of Schmitz (1942; from memory).
    """
    with np.load(ATLAS) as arrays:
        table = section_table(atlas_from_arrays(dict(arrays)), SHAPES)
    lead = table.maximum[1] - table.maximum[0]
    reynolds = np.exp(table.log_reynolds)
    assert np.all(lead[reynolds > 5.0e4] > 0.2)
    assert lead[np.argmin(np.abs(reynolds - 3.0e4))] < 0.0
    attached = reynolds > 5.0e4
    assert np.all(table.zero_lift[1, attached] < table.zero_lift[0, attached])
