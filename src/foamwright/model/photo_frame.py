"""The plane's own frame on a photo: x from nose to tail, y to the right or z up."""

import numpy as np

from foamwright.model import photo_plane as plane
from foamwright.model.photo_clicks import EDGES, Clicks, Values, numbers, parted
from foamwright.model.photo_plane import Mapping, Points
from foamwright.problems import CallProblem

STEEPEST = np.cos(np.radians(60.0))
"""A photo from the side must have nose and tail flatter than that."""


def order_of(clicks: Clicks) -> tuple[int, ...]:
    """Return the order of the reference's points; raises CallProblem for what is no reference."""
    points = clicks.reference
    if len(points) == 2:
        if np.hypot(*(points[1] - points[0])) < plane.NEAREST:
            raise CallProblem(
                "both ends of the length lie on one point", expected="two ends, far apart"
            )
        return (0, 1)
    around = plane.order_of(points)
    long, _ = plane.first_is_long(points[around], sides_of(clicks), clicks.picture)
    return tuple(around if long != clicks.turned else [*around[1:], around[0]])


def sides_of(clicks: Clicks) -> tuple[float, float]:
    """Return the sides of the sheet, the long one first [mm]."""
    return clicks.sides[0].value, clicks.sides[1].value


def doubtful(clicks: Clicks) -> bool:
    """Return whether the long side of a sheet can hardly be told from the short one."""
    if len(clicks.reference) != 4:
        return False
    ring = clicks.reference[plane.order_of(clicks.reference)]
    return plane.first_is_long(ring, sides_of(clicks), clicks.picture)[1]


def to_plane(clicks: Clicks, order: tuple[int, ...], values: Values) -> Mapping:
    """Return (..., 3, 3) mappings from pixels to millimetres at the height of the outline."""
    points, rest = parted(clicks, values)
    reference = points[..., list(order), :]
    distance, height, tilt = rest[..., -4], rest[..., -3], rest[..., -2:]
    if len(order) == 4:
        found = plane.homography(reference, plane.sheet_points(rest[..., 0], rest[..., 1]))
    else:
        length = rest[..., 0]
        seen = np.hypot(*np.moveaxis(reference[..., 1, :] - reference[..., 0, :], -1, 0))
        focal = distance * seen / length
        middle = np.array(clicks.picture) / 2.0
        found = plane.by_length(reference, length, middle, tilt / focal[..., None])
    nearer = np.zeros_like(found)
    nearer[..., 0, 0] = nearer[..., 1, 1] = 1.0 - height / distance
    nearer[..., 2, 2] = 1.0
    result: Mapping = nearer @ found
    return result


def to_frame(mapping: Mapping, middle: Points, sign: float, nose: float) -> Mapping:
    """Return (..., 3, 3) mappings from pixels to the plane's frame, x from nose to tail."""
    ends = plane.mapped(mapping, middle)
    along = ends[..., 1, :] - ends[..., 0, :]
    along = along / np.hypot(along[..., 0], along[..., 1])[..., None]
    turn = np.zeros_like(mapping)
    turn[..., 0, 0], turn[..., 0, 1] = along[..., 0], along[..., 1]
    turn[..., 1, 0], turn[..., 1, 1] = -sign * along[..., 1], sign * along[..., 0]
    turn[..., 2, 2] = 1.0
    turn[..., :2, 2] = -np.einsum("...ij,...j->...i", turn[..., :2, :2], ends[..., 0, :])
    turn[..., 0, 2] += nose
    found: Mapping = turn @ mapping
    return found


def sign_of(clicks: Clicks, mapping: Mapping) -> float:
    """Return which way the second axis counts; raises CallProblem where that cannot be told."""
    plain = to_frame(mapping, clicks.middle, 1.0, clicks.nose)
    if clicks.view in ("fin", "body side"):
        nose, tail = clicks.middle
        along = (tail - nose) / np.hypot(*(tail - nose))
        if abs(along[0]) < STEEPEST:
            raise CallProblem(
                "nose and tail stand on end in this photo, so that up cannot be told",
                expected="turn the photo so that up is up",
            )
        centre = (nose + tail) / 2.0
        small = 0.02 * np.hypot(*(tail - nose))
        pair = plane.mapped(plain, np.array([centre, centre - [0.0, small]]))
        return 1.0 if pair[1, 1] > pair[0, 1] else -1.0
    clicked = np.concatenate([clicks.first, clicks.second])
    if not len(clicked):
        return 1.0
    if clicks.view == "body above" and len(clicks.second):
        return 1.0
    return 1.0 if plane.mapped(plain, clicked)[:, 1].mean() >= 0.0 else -1.0


def refuse_far(clicks: Clicks, mapping: Mapping) -> None:
    """Refuse clicks beyond the horizon of the sheet's plane."""
    edges = np.concatenate([clicks.middle, clicks.first, clicks.second])
    far = plane.beyond_horizon(mapping, edges, clicks.reference)
    if np.any(far):
        names = ["nose", "tail", *[EDGES[clicks.view][0]] * len(clicks.first)]
        names += [EDGES[clicks.view][1]] * len(clicks.second)
        raise CallProblem(
            f"a click of the {names[int(np.argmax(far))]} lies beyond the horizon of the sheet",
            expected="corners clicked more exactly, or a photo taken more squarely",
        )


def frame_of(clicks: Clicks) -> tuple[Mapping, tuple[int, ...], float]:
    """Return the mapping of the clicks as they are, the order of the corners and the sign."""
    order = order_of(clicks)
    if np.hypot(*(clicks.middle[1] - clicks.middle[0])) < plane.NEAREST:
        raise CallProblem("nose and tail lie on one point", expected="two points, far apart")
    if clicks.height.value >= clicks.distance.value:
        raise CallProblem(
            "the outline would lie behind the camera", expected="a height below its distance"
        )
    mapping = to_plane(clicks, order, numbers(clicks)[0])
    refuse_far(clicks, mapping)
    sign = sign_of(clicks, mapping)
    return to_frame(mapping, clicks.middle, sign, clicks.nose), order, sign
