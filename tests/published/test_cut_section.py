"""Sections with a pocket, against a general-purpose section library and hand-worked figures."""

import numpy as np
import pytest
from sectionproperties.analysis.section import Section
from sectionproperties.pre.geometry import Geometry
from shapely.geometry import Polygon, box

from foamwright.physics.frame.cut_section import properties, ring_moments

pytestmark = pytest.mark.published


def moments_of(shape: Polygon) -> np.ndarray:
    """Return the moments of a polygon with holes (1, 6)."""
    rings = [shape.exterior, *shape.interiors]
    found = [ring_moments(np.array(ring.coords)[None, :-1]) for ring in rings]
    whole = np.abs(found[0][0, 0]) / found[0][0, 0] * found[0]
    left: np.ndarray = whole - sum(np.abs(f[0, 0]) / f[0, 0] * f for f in found[1:])
    return left


@pytest.mark.parametrize(
    ("width", "depth", "stiffness", "edge"),
    [(31.0, 21.0, 0.32, 0.24), (21.0, 30.0, 0.58, 0.47)],
    ids=["laid flat", "on edge"],
)
def test_a_pocket_from_the_top_takes_stiffness_as_worked_by_hand(
    width: float, depth: float, stiffness: float, edge: float
) -> None:
    """A 34 x 52 mm fuselage keeps 32 % and 24 %, or 58 % and 47 %: worked by hand, two places."""
    whole = box(-17, -26, 17, 26)
    left = whole.difference(box(-width / 2, 26 - depth, width / 2, 27))
    full, cut = properties(moments_of(whole)), properties(moments_of(left))
    assert cut.inertia_right[0] / full.inertia_right[0] == pytest.approx(stiffness, abs=0.005)
    moduli = [p.inertia_right[0] / (26 - p.centre[0, 1]) for p in (full, cut)]
    assert moduli[1] / moduli[0] == pytest.approx(edge, abs=0.005)


@pytest.mark.parametrize(
    "shape",
    [
        box(0, 0, 30, 20).difference(box(5, 5, 20, 25)),
        box(0, 0, 34, 52).buffer(-6).buffer(6).difference(box(8, 20, 26, 40)),
        Polygon([(0, 0), (40, 5), (35, 30), (10, 28)]).difference(box(12, 8, 22, 18)),
    ],
    ids=["open pocket", "rounded body, closed pocket", "crooked"],
)
def test_moments_agree_with_a_finite_element_section_library(shape: Polygon) -> None:
    """Area, centre and second moments within 0.1 % (sectionproperties, geometric analysis)."""
    geometry = Geometry(shape)
    geometry.create_mesh(mesh_sizes=[4.0])
    section = Section(geometry)
    section.calculate_geometric_properties()
    found = properties(moments_of(shape))
    assert found.area[0] == pytest.approx(section.get_area(), rel=1e-3)
    assert found.centre[0] == pytest.approx(section.get_c(), rel=1e-3)
    right, up, product = section.get_ic()
    assert found.inertia_right[0] == pytest.approx(right, rel=1e-3)
    assert found.inertia_up[0] == pytest.approx(up, rel=1e-3)
    assert found.product[0] == pytest.approx(product, rel=1e-3, abs=1.0)
