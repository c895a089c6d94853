"""What the pockets leave of the body."""

from collections.abc import Callable

import numpy as np
import pytest
import shapely

from foamwright.model.computable import ComputablePlane
from foamwright.model.cuts import Cuts
from foamwright.model.section_left import edges_modulus, moments, sections_left
from foamwright.model.solid import Solid
from foamwright.physics.frame.cut_section import properties

Computed = Callable[..., ComputablePlane]


def test_without_pockets_everything_is_left(computed: Computed) -> None:
    """Shares of one at every place."""
    plane = computed("reedling")
    left = sections_left(plane.plane.model_copy(update={"items": ()}), plane.cuts, ())
    assert left is not None
    assert left.stiffness_kept == pytest.approx(1.0)
    assert left.edge_kept == pytest.approx(1.0)


def test_pockets_weaken_where_they_are(computed: Computed) -> None:
    """Ahead of the pack and behind the gear nothing is missing, at the pack a good part is."""
    left = computed("reedling").fit.left
    assert left is not None
    kept = np.interp([0.06, 0.12, 0.5], left.x, left.stiffness_kept)
    assert kept[1] < 0.75
    assert kept[[0, 2]] == pytest.approx([1.0, 1.0], abs=1e-9)
    share, at = left.worst(left.stiffness_kept)
    assert share == left.stiffness_kept.min()
    assert at in left.x


def test_rods_stiffen_more_than_pockets_take(computed: Computed) -> None:
    """Two 1.5 mm rods 40 mm apart are stiffer than the bare foam of this body."""
    rods = {
        f"items.{name} rods": {
            "kind": "rod",
            "mass": "1 g",
            "count": 2,
            "diameter": "1.5 mm",
            "at": {"x": "200 mm", "y": "12 mm"},
            "starts": {"x": "70 mm", "y": "12 mm", "z": z},
            "ends": {"x": "330 mm", "y": "12 mm", "z": z},
        }
        for name, z in (("top", "13 mm"), ("bottom", "-28 mm"))
    }
    left = computed("reedling", rods).fit.left
    bare = computed("reedling").fit.left
    assert left is not None
    assert bare is not None
    assert np.interp(0.12, left.x, left.stiffness_kept) > 3.0
    assert np.interp(0.5, left.x, left.stiffness_kept) == pytest.approx(1.0)


def test_the_weaker_edge_counts() -> None:
    """A section whose centre lies low has its small modulus at the top."""
    shape = shapely.box(0, 0, 2, 1).union(shapely.box(0.9, 1, 1.1, 3))
    found = properties(moments(shape)[None])
    up = found.centre[0, 1]
    modulus = edges_modulus(found, np.array([0.0]), np.array([3.0]))
    assert modulus[0] == pytest.approx(found.inertia_right[0] / (3.0 - up))


def test_a_plane_without_a_body_has_no_sections(computed: Computed) -> None:
    """Nothing is said about what is not drawn."""
    plane = computed("reedling")
    bare = plane.plane.airframe.model_copy(update={"bodies": ()})
    assert sections_left(plane.plane, Cuts(Solid(bare)), ()) is None
