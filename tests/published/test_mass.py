"""Moments of inertia against triangulated solids (trimesh)."""

import numpy as np
import pytest
import trimesh

from foamwright.physics.frame import mass

pytestmark = pytest.mark.published


def solid(weight: float, mesh: trimesh.Trimesh) -> trimesh.Trimesh:
    """Return a solid with the density that gives it this mass."""
    mesh.density = weight / mesh.volume
    return mesh


def test_a_box_agrees_with_its_triangles() -> None:
    """MAS-1 by integration over the surface of the solid."""
    mesh = solid(0.3, trimesh.creation.box(extents=(0.10, 0.05, 0.03)))
    ours = mass.cuboid_inertia(np.array([0.3]), np.array([[0.10, 0.05, 0.03]]))
    assert ours[0] == pytest.approx(np.diagonal(mesh.moment_inertia), rel=1e-9)


def test_a_cylinder_agrees_with_its_triangles() -> None:
    """MAS-2; 512 facets are within 1e-4 of round. Its axis is z there, x here."""
    mesh = solid(0.05, trimesh.creation.cylinder(radius=0.014, height=0.030, sections=512))
    ours = mass.cylinder_inertia(np.array([0.05]), np.array([0.014]), np.array([0.030]))
    assert ours[0] == pytest.approx(np.diagonal(mesh.moment_inertia)[[2, 1, 0]], rel=1e-4)


def test_a_plane_of_boxes_agrees_with_the_solids_put_together() -> None:
    """Centre and whole tensor of three boxes off the axes, each with its own density."""
    masses = np.array([[0.090, 0.055, 0.012]])
    places = np.array([[[0.20, 0.0, 0.01], [0.06, 0.01, -0.02], [0.33, -0.12, 0.04]]])
    sizes = np.array([[0.16, 0.80, 0.02], [0.07, 0.035, 0.02], [0.05, 0.03, 0.03]])
    solids = []
    for i in range(3):
        mesh = trimesh.creation.box(extents=sizes[i])
        mesh.apply_translation(places[0, i])
        solids.append(solid(masses[0, i], mesh))
    total = sum(s.mass for s in solids)
    centre = sum(s.mass * s.center_mass for s in solids) / total
    frame = np.eye(4)
    frame[:3, 3] = centre
    tensor = sum(s.moment_inertia_frame(frame) for s in solids)
    assert mass.centre(masses, places)[0] == pytest.approx(centre, rel=1e-9)
    assert mass.inertia(masses, places, sizes)[0] == pytest.approx(tensor, rel=1e-9, abs=1e-12)
