"""From pixels of a photo to millimetres in a plane: by a sheet's four corners, or by one length.

First axes are batches, so that a click moved a little is mapped beside the one that was not.
"""

import itertools

import numpy as np
from numpy.typing import NDArray

from foamwright.problems import CallProblem

Points = NDArray[np.float64]
"""(..., k, 2), in pixels or millimetres."""

Mapping = NDArray[np.float64]
"""(..., 3, 3), of homogeneous points."""

NEAREST = 8.0
"""Least distance of two corners, or of the ends of a length [px]."""

FOCALS = tuple(np.geomspace(0.6, 4.0, 40).tolist())
"""Focal lengths a photo may be taken with, over the longer side of the picture."""

FITS = 0.02
"""A misfit that trembling clicks leave of the true camera."""

MUCH_WORSE = 3.0
"""How many times worse a camera has to fit before it is ruled out."""

FLATTEST = 0.02
"""Least height of a triangle of corners over its longest side [-]."""


def normalised(points: Points) -> tuple[Points, Mapping]:
    """Return points about their middle, sqrt(2) away from it on average, and what made them so.

    Without it the equations of a homography lose digits (hartley-1997).
    """
    middle = points.mean(axis=-2, keepdims=True)
    away = np.sqrt(((points - middle) ** 2).sum(axis=-1)).mean(axis=-1)
    factor = np.sqrt(2.0) / away
    change = np.zeros((*points.shape[:-2], 3, 3))
    change[..., 0, 0] = change[..., 1, 1] = factor
    change[..., :2, 2] = -factor[..., None] * middle[..., 0, :]
    change[..., 2, 2] = 1.0
    return (points - middle) * factor[..., None, None], change


def homography(seen: Points, true: Points) -> Mapping:
    """Return the (..., 3, 3) homography from (..., k, 2) points seen to where they truly are.

    By the direct linear transform, normalised; four points fix it, more are fitted.
    """
    source, before = normalised(seen)
    target, after = normalised(true)
    x, y = source[..., 0], source[..., 1]
    u, v = target[..., 0], target[..., 1]
    one, none = np.ones_like(x), np.zeros_like(x)
    first = np.stack([x, y, one, none, none, none, -u * x, -u * y, -u], axis=-1)
    second = np.stack([none, none, none, x, y, one, -v * x, -v * y, -v], axis=-1)
    rows = np.concatenate([first, second], axis=-2)
    found = np.linalg.svd(rows)[2][..., -1, :].reshape((*rows.shape[:-2], 3, 3))
    whole: Mapping = np.linalg.inv(after) @ found @ before
    return whole / whole[..., 2:, 2:]


def mapped(mapping: Mapping, points: Points) -> Points:
    """Return (..., k, 2) points through (..., 3, 3) mappings."""
    padded = np.concatenate([points, np.ones((*points.shape[:-1], 1))], axis=-1)
    found = padded @ np.swapaxes(mapping, -1, -2)
    result: Points = found[..., :2] / found[..., 2:]
    return result


def beyond_horizon(mapping: Mapping, points: Points, corners: Points) -> NDArray[np.bool_]:
    """Return which (k,) points lie on the far side of the horizon of a (3, 3) mapping."""
    depth = points @ mapping[2, :2] + mapping[2, 2]
    inside = corners.mean(axis=0) @ mapping[2, :2] + mapping[2, 2]
    found: NDArray[np.bool_] = depth * inside <= 0.02 * inside**2
    return found


def height_over_base(triangle: Points) -> float:
    """Return the height of a (3, 2) triangle over its longest side."""
    sides = [triangle[b] - triangle[a] for a, b in ((0, 1), (1, 2), (2, 0))]
    longest = max(float(np.hypot(*side)) for side in sides)
    area = abs(sides[0][0] * sides[1][1] - sides[0][1] * sides[1][0])
    return float(area) / longest**2 if longest > 0.0 else 0.0


def order_of(corners: Points) -> list[int]:
    """Return the order in which four (4, 2) corners go around clockwise, as seen.

    However they were clicked: crossing sides and any first corner are put right. Raises
    CallProblem for corners that no sheet has.
    """
    for first, second in itertools.combinations(range(4), 2):
        if np.hypot(*(corners[first] - corners[second])) < NEAREST:
            raise CallProblem(
                f"corners {first + 1} and {second + 1} of the sheet lie on top of each other",
                expected="four corners, each clicked once",
            )
    for three in itertools.combinations(range(4), 3):
        if height_over_base(corners[list(three)]) < FLATTEST:
            told = ", ".join(str(at + 1) for at in three)
            raise CallProblem(
                f"corners {told} of the sheet lie on one line", expected="its four corners"
            )
    away = corners - corners.mean(axis=0)
    around = [int(at) for at in np.argsort(np.arctan2(away[:, 1], away[:, 0]))]
    ring = corners[around]
    sides = np.roll(ring, -1, axis=0) - ring
    after = np.roll(sides, -1, axis=0)
    if np.any(sides[:, 0] * after[:, 1] - sides[:, 1] * after[:, 0] <= 0.0):
        raise CallProblem(
            "one corner of the sheet lies inside the triangle of the others",
            expected="its four outer corners",
        )
    return around


def looks_long(corners: Points) -> float:
    """Return how much longer the first and third sides of (4, 2) ordered corners look."""
    sides = np.hypot(*(np.roll(corners, -1, axis=0) - corners).T)
    return float((sides[0] + sides[2]) / (sides[1] + sides[3]))


def misfit(corners: Points, sides: tuple[float, float], picture: tuple[float, float]) -> float:
    """Return how badly (4, 2) ordered corners fit any camera, were the first side `sides[0]` long.

    A camera that looks through the middle of its picture shows both directions of the sheet at a
    right angle and to one scale, for one focal length: the squared cosine and the squared log of
    the two scales are summed, for the focal length at which they are least (zhang-2000).
    """
    true = sheet_points(np.array(sides[0]), np.array(sides[1]))
    back = np.linalg.inv(homography(corners, true))
    shift = np.eye(3)
    shift[:2, 2] = -np.array(picture) / 2.0
    first, second = (shift @ back).T[:2]
    focal = np.array(FOCALS)[:, None] * max(picture)
    lens = np.concatenate([1.0 / focal, 1.0 / focal, np.ones_like(focal)], axis=1)
    one, other = first * lens, second * lens
    long, short = np.linalg.norm(one, axis=1), np.linalg.norm(other, axis=1)
    cosine = (one * other).sum(axis=1) / (long * short)
    return float((cosine**2 + np.log(long / short) ** 2).min())


def first_is_long(
    corners: Points, sides: tuple[float, float], picture: tuple[float, float]
) -> tuple[bool, bool]:
    """Return whether the first side of (4, 2) ordered corners is the long one, and any doubt of it.

    The one that looks longer is, unless no camera sees such a sheet so and one sees the other.
    """
    looks = looks_long(corners) >= 1.0
    long, short = sides
    fits = [misfit(corners, way, picture) for way in ((long, short), (short, long))]
    seen, other = fits if looks else fits[::-1]
    if seen > MUCH_WORSE * other + FITS:
        return not looks, other > seen / MUCH_WORSE - FITS
    return looks, other < MUCH_WORSE * seen + FITS


def sheet_points(first: NDArray[np.float64], second: NDArray[np.float64]) -> Points:
    """Return the (..., 4, 2) corners of sheets with (...) sides, the first along x [mm]."""
    none = np.zeros_like(first)
    x = np.stack([none, first, first, none], axis=-1)
    y = np.stack([none, none, second, second], axis=-1)
    return np.stack([x, y], axis=-1)


def by_length(
    ends: Points, length: NDArray[np.float64], middle: Points, tilt: NDArray[np.float64]
) -> Mapping:
    """Return (..., 3, 3) mappings of a camera nearly square to the plane.

    `ends` (..., 2, 2) are what is `length` (...) [mm] long; `middle` (2,) is where the lens looks
    [px]; `tilt` (..., 2) is the tangent of its tilt over its focal length [1/px].
    """
    shift = np.zeros((*length.shape, 3, 3))
    shift[..., 0, 0] = shift[..., 1, 1] = shift[..., 2, 2] = 1.0
    shift[..., :2, 2] = -middle
    tilted = np.zeros_like(shift)
    tilted[..., 0, 0] = tilted[..., 1, 1] = tilted[..., 2, 2] = 1.0
    tilted[..., 2, :2] = tilt
    bare = tilted @ shift
    flat = mapped(bare, ends)
    apart = np.hypot(*np.moveaxis(flat[..., 1, :] - flat[..., 0, :], -1, 0))
    scale = np.zeros_like(shift)
    scale[..., 0, 0] = scale[..., 1, 1] = length / apart
    scale[..., 2, 2] = 1.0
    found: Mapping = scale @ bare
    return found
