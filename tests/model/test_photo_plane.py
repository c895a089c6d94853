"""Homographies against hand-worked cases, a general least-squares fit and a camera of numbers."""

import itertools

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import least_squares
from scipy.spatial.transform import Rotation
from tests.model.photo_stage import A4, PICTURE, Camera, Values

from foamwright.model.photo_plane import (
    beyond_horizon,
    by_length,
    first_is_long,
    homography,
    looks_long,
    mapped,
    misfit,
    normalised,
    order_of,
    sheet_points,
)
from foamwright.problems import CallProblem

SQUARE = np.array([[0.0, 0.0], [1.0, 0.0], [1.0, 1.0], [0.0, 1.0]])


def test_a_quadrilateral_worked_by_hand() -> None:
    """Heckbert's closed form: the unit square to (0,0), (2,0), (3,3), (0,2).

    Source: P. S. Heckbert, Fundamentals of texture mapping and image warping, 1989, section 2.2.3,
    worked by hand. Sums dx3 = 0-2+3-0 = 1, dy3 = 0-0+3-2 = 1; sides dx1 = 2-3 = -1, dx2 = 0-3 = -3,
    dy1 = 0-3 = -3, dy2 = 2-3 = -1; determinant dx1 dy2 - dy1 dx2 = 1 - 9 = -8, so
    g = (dx3 dy2 - dx2 dy3) / -8 = (-1 + 3) / -8 = -1/4 and h = (dx1 dy3 - dy1 dx3) / -8
    = (-1 + 3) / -8 = -1/4; a = 2 - 0 + 2 g = 3/2, b = 0 - 0 + 0 h = 0, d = 0, e = 2 + 2 h = 3/2.
    """
    corners = np.array([[0.0, 0.0], [2.0, 0.0], [3.0, 3.0], [0.0, 2.0]])
    found = homography(SQUARE, corners)
    assert found == pytest.approx(
        np.array([[1.5, 0.0, 0.0], [0.0, 1.5, 0.0], [-0.25, -0.25, 1.0]]), abs=1e-12
    )


def test_the_middle_of_a_square_in_perspective_is_where_the_diagonals_cross() -> None:
    """The classical construction: a homography keeps crossings."""
    corners = np.array([[0.0, 0.0], [8.0, 0.0], [6.0, 3.0], [1.0, 4.0]])
    first = np.cross([*corners[0], 1.0], [*corners[2], 1.0])
    second = np.cross([*corners[1], 1.0], [*corners[3], 1.0])
    crossing = np.cross(first, second)
    found = mapped(homography(SQUARE, corners), np.array([[0.5, 0.5]]))
    assert found[0] == pytest.approx(crossing[:2] / crossing[2], rel=1e-12)


def test_more_than_four_points_agree_with_a_general_fit() -> None:
    """Nine trembling points: within a tenth of the tremble of scipy's least squares."""
    rng = np.random.default_rng(7)
    true = np.array(list(itertools.product([0.0, 150.0, 300.0], [0.0, 100.0, 200.0])))
    seen = Camera(tilts=(20.0, -10.0, 30.0)).seen(true)
    shaken = true + rng.normal(0.0, 0.5, true.shape)

    def residual(row: Values) -> Values:
        return (mapped(np.append(row, 1.0).reshape(3, 3), seen) - shaken).ravel()

    start = homography(seen[[0, 2, 8, 6]], true[[0, 2, 8, 6]]).ravel()[:8]
    scale = np.abs(start) + 1e-9
    best = least_squares(residual, start, x_scale=scale, xtol=1e-14, ftol=1e-14, gtol=1e-14)
    fitted = mapped(np.append(best.x, 1.0).reshape(3, 3), seen)
    assert mapped(homography(seen, shaken), seen) == pytest.approx(fitted, abs=0.05)


@given(
    tilts=st.tuples(*[st.floats(-35.0, 35.0)] * 2, st.floats(0.0, 360.0)),
    distance=st.floats(800.0, 4000.0),
)
def test_four_corners_undo_any_camera(tilts: tuple[float, float, float], distance: float) -> None:
    """Exact clicks give exact millimetres, far outside the sheet too."""
    camera = Camera(tilts=tilts, distance=distance)
    there = np.array([[0.0, 0.0], [500.0, -100.0], [350.0, 300.0]])
    found = mapped(homography(camera.seen(A4), A4), camera.seen(there))
    assert found == pytest.approx(there, abs=1e-6)


def test_batches_are_mapped_one_by_one() -> None:
    """A row of cameras gives a row of mappings, each as if it were alone."""
    cameras = [Camera(tilts=(tilt, 5.0, 10.0)) for tilt in (0.0, 10.0, 20.0)]
    seen = np.stack([camera.seen(A4) for camera in cameras])
    whole = homography(seen, np.stack([A4] * 3))
    for one, corners in zip(whole, seen, strict=True):
        assert one == pytest.approx(homography(corners, A4), rel=1e-9)


def test_points_are_normalised_as_hartley_says() -> None:
    """About their middle, sqrt(2) away on average.

    Source: R. I. Hartley, In defense of the eight-point algorithm, IEEE PAMI 19 (1997) 580.
    """
    points, change = normalised(Camera().seen(A4))
    assert points.mean(axis=0) == pytest.approx([0.0, 0.0], abs=1e-12)
    assert np.hypot(*points.T).mean() == pytest.approx(np.sqrt(2.0))
    assert mapped(change, Camera().seen(A4)) == pytest.approx(points)


def test_without_tilt_a_length_gives_one_scale() -> None:
    """800 px for 400 mm: half a millimetre a pixel, everywhere."""
    ends = np.array([[100.0, 100.0], [900.0, 100.0]])
    mapping = by_length(ends, np.array(400.0), np.array([500.0, 400.0]), np.zeros(2))
    found = mapped(mapping, np.array([[0.0, 0.0], [0.0, 10.0], [30.0, 40.0]]))
    assert np.hypot(*(found[1] - found[0])) == pytest.approx(5.0)
    assert np.hypot(*(found[2] - found[0])) == pytest.approx(25.0)


def test_a_tilted_camera_is_undone_to_first_order() -> None:
    """With the tilt told, what is left is of second order: the foreshortening of 2 degrees."""
    tilt = 2.0
    camera = Camera(tilts=(0.0, tilt, 0.0), over=(350.0, 0.0))
    across = np.array([[0.0, -200.0], [0.0, 200.0], [700.0, -200.0], [700.0, 200.0]])
    seen = camera.seen(across)
    plain = mapped(
        by_length(seen[:2], np.array(400.0), np.array([2000.0, 1500.0]), np.zeros(2)), seen
    )
    sign = np.tan(np.radians(tilt)) / camera.focal
    told = [
        mapped(
            by_length(seen[:2], np.array(400.0), np.array([2000.0, 1500.0]), np.array([t, 0.0])),
            seen,
        )
        for t in (-sign, sign)
    ]
    wide = [float(np.hypot(*(p[3] - p[2]))) for p in (plain, *told)]
    assert abs(wide[0] - 400.0) > 4.0
    assert min(abs(w - 400.0) for w in wide[1:]) < 0.6


@pytest.mark.parametrize("order", list(itertools.permutations(range(4)))[::3])
def test_corners_in_any_order_go_around(order: tuple[int, ...]) -> None:
    """Crossing sides and any first corner: the ring is the same, clockwise as seen."""
    corners = Camera(tilts=(10.0, 15.0, 40.0)).seen(A4)
    ring = corners[list(order)][order_of(corners[list(order)])]
    start = int(np.argmin(np.abs(ring - corners[0]).sum(axis=1)))
    turned = np.roll(ring, -start, axis=0)
    assert any(turned == pytest.approx(way) for way in (corners, corners[[0, 3, 2, 1]]))
    sides = np.roll(ring, -1, axis=0) - ring
    after = np.roll(sides, -1, axis=0)
    assert np.all(sides[:, 0] * after[:, 1] - sides[:, 1] * after[:, 0] > 0.0)


@pytest.mark.parametrize(
    ("corners", "words"),
    [
        ([[0, 0], [100, 0], [200, 0], [0, 100]], "on one line"),
        ([[0, 0], [300, 0], [0, 300], [80, 80]], "inside the triangle"),
        ([[0, 0], [2, 1], [300, 300], [0, 300]], "on top of each other"),
        ([[0, 0], [100, 1], [200, 0], [300, 2]], "on one line"),
        ([[5, 5]] * 4, "on top of each other"),
    ],
)
def test_corners_no_sheet_has_are_refused(corners: list[list[float]], words: str) -> None:
    """One sentence, which corners and what would be right."""
    with pytest.raises(CallProblem, match=words):
        order_of(np.array(corners, dtype=float))


def test_the_longer_side_is_seen() -> None:
    """A4 from straight above looks 1.41 times as long as wide, as ISO 216 wants it."""
    corners = Camera().seen(A4)
    assert looks_long(corners) == pytest.approx(297.0 / 210.0)
    assert looks_long(np.roll(corners, 1, axis=0)) == pytest.approx(210.0 / 297.0)


def test_the_true_camera_fits() -> None:
    """No misfit for the sheet as it lies; straight from above a turned one has (log 2)^2 / 1.

    A side taken 1.414 times too long and the other as much too short put the two scales a factor
    297^2 / 210^2 = 2.0002 apart.
    """
    exact = Camera(tilts=(20.0, -15.0, 30.0)).seen(A4)
    assert misfit(exact, (297.0, 210.0), PICTURE) < 1e-3
    flat = Camera().seen(A4)
    turned = misfit(flat, (210.0, 297.0), PICTURE)
    assert turned == pytest.approx(np.log(297.0**2 / 210.0**2) ** 2, rel=1e-6)


@pytest.mark.parametrize(
    ("slant", "least"), [(15.0, 1.0), (30.0, 0.99), (45.0, 0.97), (58.0, 0.94)]
)
def test_the_long_side_is_found(slant: float, least: float) -> None:
    """Corners 2 px off, seen from 2 m away in any direction of slant.

    Judged by looks alone a fifth of the sheets seen at 45 to 60 degrees would be taken wrongly.
    """
    height = 2000.0 * np.cos(np.radians(slant))
    rng = np.random.default_rng(11)
    right = []
    for _ in range(200):
        toward = rng.uniform(0.0, 2.0 * np.pi)
        away = height * np.tan(np.radians(slant)) * np.array([np.cos(toward), np.sin(toward)])
        turn = Rotation.from_euler("z", rng.uniform(0.0, 360.0), degrees=True)
        tilt = Rotation.from_rotvec(
            np.radians(slant) * np.array([-np.sin(toward), np.cos(toward), 0])
        )
        angles = (turn * tilt.inv()).as_euler("xyz", degrees=True)
        centre = A4.mean(axis=0) + away
        camera = Camera(tilts=tuple(angles.tolist()), over=tuple(centre.tolist()), distance=height)
        corners = camera.seen(A4) + rng.normal(0.0, 2.0, (4, 2))
        around = order_of(corners)
        long = first_is_long(corners[around], (297.0, 210.0), PICTURE)[0]
        right.append(long == (sorted(around[:2]) in ([0, 1], [2, 3])))
    assert np.mean(right) >= least


def test_a_sheet_has_its_sides() -> None:
    """The first along x; several at once."""
    found = sheet_points(np.array([297.0, 279.4]), np.array([210.0, 215.9]))
    assert found[0] == pytest.approx(A4)
    assert found[1, 2] == pytest.approx([279.4, 215.9])


def test_what_lies_beyond_the_horizon_is_told() -> None:
    """A steep camera: points beyond the vanishing line are none of the plane's."""
    corners = np.array([[1000.0, 2000.0], [3000.0, 2000.0], [2400.0, 1000.0], [1600.0, 1000.0]])
    mapping = homography(corners, sheet_points(np.array(297.0), np.array(210.0)))
    # The long sides meet where x = 2000: from slopes, at y = 1000 - 1000 * 400 / 600.
    horizon = 1000.0 - 1000.0 * 400.0 / 600.0
    points = np.array([[2000.0, horizon + 60.0], [2000.0, horizon - 20.0], [2000.0, 1500.0]])
    assert beyond_horizon(mapping, points, corners).tolist() == [False, True, False]
