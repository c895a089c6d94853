"""Influence of horseshoes against three straight vortex pieces summed as vectors."""

from dataclasses import replace

import numpy as np
import pytest
from numpy.typing import NDArray

from foamwright.physics.lift.influence import normalwash, wakewash
from foamwright.physics.lift.panels import Surface, cut

FAR = 1e7
"""Where a leg ends instead of at infinity [m]."""
HALF = Surface(
    leading_edge=np.asarray([[[0.0, 0.02, 0.0], [0.3, 0.5, 0.2]]]),
    chord=np.asarray([[0.25, 0.1]]),
    twist=np.zeros((1, 2)),
    camber=np.zeros((1, 2)),
    mirrored=True,
    spanwise=3,
    chordwise=2,
)
MIRROR = np.asarray([1.0, -1.0, 1.0])
Vector = NDArray[np.float64]


def piece(point: Vector, start: Vector, end: Vector) -> Vector:
    """Velocity of a straight piece of unit circulation (Biot and Savart)."""
    one, two = point - start, point - end
    cross = np.cross(one, two)
    turn = one / np.linalg.norm(one) - two / np.linalg.norm(two)
    return np.asarray(cross / (cross @ cross) * ((end - start) @ turn) / (4.0 * np.pi))


def horseshoe(point: Vector, start: Vector, end: Vector) -> Vector:
    """In along the start's leg, across, and out along the end's."""
    aft = np.asarray([FAR, 0.0, 0.0])
    return np.asarray(
        piece(point, start + aft, start) + piece(point, start, end) + piece(point, end, end + aft)
    )


@pytest.mark.parametrize("twin", [False, True])
def test_normal_velocity_is_that_of_three_vortex_pieces(twin: bool) -> None:  # noqa: FBT001
    """Every pair of panels, own side and the other, within the cut-off of the legs."""
    strips, panels = cut((HALF,))
    found = normalwash(strips, panels, twin=twin)[0]
    along = strips.along[0, panels.strip]
    normal = np.stack([0.0 * along[:, 0], -along[:, 1], along[:, 0]], axis=1)
    start, end = panels.start[0], panels.end[0]
    if twin:
        start, end = end * MIRROR, start * MIRROR
    expected = [
        [horseshoe(point, a, b) @ n for a, b in zip(start, end, strict=True)]
        for point, n in zip(panels.control[0], normal, strict=True)
    ]
    assert found == pytest.approx(np.asarray(expected), rel=1e-6, abs=1e-6)


def test_far_behind_the_bound_vortex_only_the_legs_act() -> None:
    """Wake velocity is what normal velocity becomes for control points moved far aft."""
    strips, panels = cut((replace(HALF, chordwise=1),))
    aft = replace(panels, control=panels.control + np.asarray([1e5, 0.0, 0.0]))
    for twin in (False, True):
        near = normalwash(strips, aft, twin=twin)
        assert near == pytest.approx(wakewash(strips, twin=twin), rel=1e-4, abs=1e-4)


def test_surfaces_far_apart_see_each_other_as_points_do() -> None:
    """The average over a strip is the velocity at its middle once the strip is small."""
    away = replace(HALF, leading_edge=HALF.leading_edge + np.asarray([0.0, 0.0, 300.0]))
    strips, panels = cut((HALF, away))
    alone = replace(strips, surface=0 * strips.surface)
    averaged = wakewash(strips, twin=False)[0, :3, 3:]
    at_point = wakewash(alone, twin=False)[0, :3, 3:]
    assert averaged == pytest.approx(at_point, rel=1e-3)
    assert normalwash(strips, panels, twin=True)[0, :6, 6:] == pytest.approx(
        normalwash(alone, panels, twin=True)[0, :6, 6:], rel=1e-3
    )
