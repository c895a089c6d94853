"""Torsion constants against a closed solution and a finite-element section library."""

import numpy as np
import pytest
from sectionproperties.analysis.section import Section
from sectionproperties.pre.geometry import Geometry
from shapely.geometry import Polygon, box

from foamwright.model.solid import half_thickness
from foamwright.physics.frame.torsion import torsion_constant

pytestmark = pytest.mark.published


@pytest.mark.parametrize("thin", [0.02, 0.1, 0.3])
def test_an_ellipse_is_exact(thin: float) -> None:
    """Saint-Venant: pi a^3 b^3 / (a^2 + b^2), in every handbook of elasticity."""
    a, b = 0.06, 0.06 * thin
    place = a * np.sin(np.linspace(-np.pi / 2, np.pi / 2, 4001))
    thickness = 2.0 * b * np.sqrt(np.maximum(1.0 - (place / a) ** 2, 0.0))
    exact = np.pi * a**3 * b**3 / (a**2 + b**2)
    assert torsion_constant(place, thickness[None, :])[0] == pytest.approx(exact, rel=1e-4)


def finite_elements(shape: Polygon) -> float:
    """Return the torsion constant of a polygon by warping analysis (sectionproperties)."""
    geometry = Geometry(shape)
    geometry.create_mesh(mesh_sizes=[shape.area / 600.0])
    section = Section(geometry)
    section.calculate_geometric_properties()
    section.calculate_warping_properties()
    return float(section.get_j())


@pytest.mark.parametrize("thickness", [0.06, 0.09, 0.12, 0.16])
def test_a_foil_agrees_with_a_finite_element_section_library(thickness: float) -> None:
    """Four-digit sections from thin to thick, within 4 %."""
    share = 0.5 * (1.0 - np.cos(np.linspace(0.0, np.pi, 121)))
    half = 150.0 * thickness * half_thickness(share)
    upper = np.stack([150.0 * share, half], axis=-1)
    lower = np.stack([150.0 * share, -half], axis=-1)[::-1]
    shape = Polygon(np.concatenate([upper, lower[:-1]]))
    found = torsion_constant(150.0 * share, 2.0 * half[None, :])[0]
    assert found == pytest.approx(finite_elements(shape), rel=0.04)


def test_a_flat_plate_agrees_within_its_corners() -> None:
    """3 mm of flat foam, 60 mm wide: the formula leaves the ends out, 4 % high at most."""
    exact = finite_elements(box(0.0, 0.0, 60.0, 3.0))
    place = np.linspace(0.0, 60.0, 61)
    found = torsion_constant(place, np.full((1, 61), 3.0))[0]
    assert exact < found < 1.04 * exact
