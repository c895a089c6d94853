"""The foam as a solid, against a general-purpose mesh library and the section formula's table."""

import numpy as np
import pytest
import trimesh

from foamwright.model.cuts import Cuts
from foamwright.model.pockets import removed
from foamwright.model.solid import Solid, half_thickness
from foamwright.plane.airframe import Airframe
from foamwright.plane.boxes import Box
from foamwright.plane.filling import frozen

pytestmark = pytest.mark.published

THICKNESS_0012 = {
    0.0125: 1.894,
    0.025: 2.615,
    0.05: 3.555,
    0.10: 4.683,
    0.20: 5.737,
    0.30: 6.002,
    0.40: 5.803,
    0.60: 4.563,
    0.80: 2.623,
    0.95: 0.807,
}
"""Half thickness of the NACA 0012 in percent of the chord: Abbott and von Doenhoff 1959, appendix I
(from memory)."""


@pytest.mark.parametrize(("place", "half"), THICKNESS_0012.items())
def test_the_section_is_as_thick_as_printed(place: float, half: float) -> None:
    """Within the table's last digit or two (the formula's trailing edge is 0.1 % blunter)."""
    assert 12.0 * half_thickness(np.array([place]))[0] == pytest.approx(half, abs=0.012)


def tapered() -> Airframe:
    """Return a body that tapers, square corners, and a wing far away from it."""
    return Airframe.model_validate(
        frozen(
            {
                "foam": "EPS",
                "surfaces": [
                    {
                        "name": "wing",
                        "role": "wing",
                        "stations": [
                            {"y": "0 mm", "leading_edge": "600 mm", "chord": "50 mm"},
                            {"y": "300 mm", "leading_edge": "600 mm", "chord": "50 mm"},
                        ],
                    }
                ],
                "bodies": [
                    {
                        "name": "body",
                        "stations": [
                            {"x": "0 mm", "width": "60 mm", "height": "50 mm", "corner": "0 mm"},
                            {"x": "300 mm", "width": "30 mm", "height": "40 mm", "corner": "0 mm"},
                        ],
                    }
                ],
            }
        )
    )


def test_volume_and_centre_of_a_body_are_those_of_its_mesh() -> None:
    """Summed from its cuts, within 0.1 % of trimesh's hull of the eight corners."""
    solid = Solid(tapered())
    x = np.arange(301)
    area = np.array([solid.section(int(mm)).area for mm in x])
    volume = np.trapezoid(area, x * 1e-3)
    corners = [
        (x, side * w / 2, up * h / 2)
        for x, w, h in ((0.0, 0.06, 0.05), (0.3, 0.03, 0.04))
        for side in (-1, 1)
        for up in (-1, 1)
    ]
    mesh = trimesh.Trimesh(vertices=corners).convex_hull
    assert volume == pytest.approx(mesh.volume, rel=1e-3)
    centre = np.trapezoid(area * x * 1e-3, x * 1e-3) / volume
    assert centre == pytest.approx(mesh.center_mass[0], rel=1e-3)


def test_the_foam_of_a_pocket_is_that_of_the_mesh_cut_out() -> None:
    """A hole of 60 x 20 x 25 mm open to the top: volume within 1 %, centre within 0.5 mm."""
    solid = Solid(tapered())
    low, high = np.array([0.08, -0.01, 0.0]), np.array([0.14, 0.01, 0.02])
    box = Box(
        item="pack",
        kind="pack",
        index=0,
        middle=(0.11, 0.0, 0.01),
        size=(0.06, 0.02, 0.02),
        side="top",
        protrudes=0.0,
        declared=True,
    )
    volume, centre = removed(Cuts(solid), (low, high), box)
    # Its lid follows the body's top, which falls from 23.67 to 22.67 mm there.
    lids = [(0.08, 0.050 / 2 - 0.005 * 0.08 / 0.3), (0.14, 0.050 / 2 - 0.005 * 0.14 / 0.3)]
    corners = [(x, y, z) for x, top in lids for y in (-0.01, 0.01) for z in (0.0, top)]
    mesh = trimesh.Trimesh(vertices=corners).convex_hull
    assert volume == pytest.approx(mesh.volume, rel=0.01)
    assert centre == pytest.approx(mesh.center_mass, abs=0.5e-3)


def test_a_body_of_wing_section_holds_what_its_mesh_holds() -> None:
    """A straight wing's half: the prism of its section, within 0.5 % (trimesh)."""
    airframe = tapered().model_copy(update={"bodies": ()})
    solid = Solid(airframe)
    x = np.arange(600, 651)
    volume = np.trapezoid([solid.section(int(mm)).area for mm in x], x * 1e-3) / 2.0
    share = np.linspace(0.001, 1.0, 51)
    half = 0.05 * 0.08 * half_thickness(share)
    line = (
        0.05
        * 0.02
        * np.where(
            share < 0.4, (0.8 * share - share**2) / 0.16, (0.2 + 0.8 * share - share**2) / 0.36
        )
    )
    outline = np.concatenate(
        [np.stack([0.05 * share, line + half], 1), np.stack([0.05 * share, line - half], 1)[::-1]]
    )
    count = len(outline)
    ends = [np.column_stack([outline, np.full(count, z)]) for z in (0.0, 0.3)]
    middles = np.array([[0.02, 0.001, 0.0], [0.02, 0.001, 0.3]])
    after = (np.arange(count) + 1) % count
    here = np.arange(count)
    faces = np.concatenate(
        [
            np.stack([here, after, after + count], 1),
            np.stack([here, after + count, here + count], 1),
            np.stack([np.full(count, 2 * count), after, here], 1),
            np.stack([np.full(count, 2 * count + 1), here + count, after + count], 1),
        ]
    )
    mesh = trimesh.Trimesh(vertices=np.concatenate([*ends, middles]), faces=faces)
    assert mesh.is_watertight
    assert volume == pytest.approx(abs(mesh.volume), rel=5e-3)
