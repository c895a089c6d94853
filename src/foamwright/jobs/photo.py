"""An outline from a photo: stations with their bands, and what is drawn over the photo."""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from foamwright.jobs.photo_request import Asked, asked
from foamwright.model import photo_plane as plane
from foamwright.model.photo_clicks import Clicks, Told, Values, station_axis
from foamwright.model.photo_frame import doubtful, frame_of
from foamwright.model.photo_outline import Outline, outline
from foamwright.model.photo_plane import Mapping as PlaneMapping
from foamwright.model.photo_plane import Points
from foamwright.physics.numerics.normal import TENTH
from foamwright.problems import CallProblem

SQUARE = 50.0
"""Side of the squares drawn into the plane of the outline [mm]."""

NEAR = 1e-6
"""How far past a line of the squares something may lie and still be on it, over their side."""

WIDEST = 4000.0
"""Beyond that a mapping shows no plane of ours, and no squares are drawn [mm]."""

APART = 0.15
"""How far apart across the clicks of a station may lie, over its size, before it is remarked."""

LEAST_APART = 6.0
"""And how far in any case [mm]."""

VAGUE = 0.25
"""A standard deviation over its size from which on nothing much is known."""

Line = list[list[float]]


@dataclass(frozen=True, kw_only=True, slots=True)
class Drawn:
    """What is drawn over the photo, all in pixels."""

    squares: tuple[Line, ...]
    """Squares of 50 mm in the plane of the outline: they should lie flat on it."""
    middle: Line
    """The middle line."""
    guides: tuple[Line, ...]
    """Through each click of an edge, along which its partner lies."""
    outlines: tuple[Line, ...]
    """The outline, and its mirror image."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Found:
    """What a photo tells."""

    missing: str
    """What has to be done before there are stations; empty where there are."""
    outline: Outline | None
    """The stations."""
    assumed: tuple[str, ...]
    """What was taken because nobody told."""
    remarks: tuple[str, ...]
    """What looks odd, but may be right."""
    drawn: Drawn | None
    """None before there is a frame."""


class Back:
    """From the plane's frame back to the photo, as far as the photo shows it."""

    def __init__(self, mapping: PlaneMapping, seen: Points) -> None:
        """Turn a mapping around; `seen` are points known to be before the camera [px]."""
        self.mapping: PlaneMapping = np.asarray(np.linalg.inv(mapping), dtype=np.float64)
        self.sign = np.sign(self.depth(plane.mapped(mapping, seen).mean(axis=0, keepdims=True))[0])

    def depth(self, points: Points) -> Values:
        """Return the homogeneous depth of points of the frame."""
        found: Values = points @ self.mapping[2, :2] + self.mapping[2, 2]
        return found

    def line(self, *points: tuple[float, float]) -> Line:
        """Return points of the frame in pixels; empty where one lies behind the camera."""
        spots = np.array(points)
        if np.any(self.depth(spots) * self.sign <= 0.0):
            return []
        return [[round(float(v), 2) for v in spot] for spot in plane.mapped(self.mapping, spots)]


def squares(back: Back, low: Values, high: Values) -> tuple[Line, ...]:
    """Return squares over a rectangle of the frame."""
    if np.any(high - low > WIDEST):
        return ()
    ends = SQUARE * np.stack([np.floor(low / SQUARE + NEAR), np.ceil(high / SQUARE - NEAR)])
    (x0, y0), (x1, y1) = ends.tolist()
    upright = [back.line((x, y0), (x, y1)) for x in np.arange(x0, x1 + 1.0, SQUARE)]
    level = [back.line((x0, y), (x1, y)) for y in np.arange(y0, y1 + 1.0, SQUARE)]
    return tuple(line for line in [*upright, *level] if line)


def drawn_of(clicks: Clicks, mapping: PlaneMapping, found: Outline | None) -> Drawn:
    """Return what is drawn over the photo."""
    seen = np.concatenate([clicks.middle, clicks.first, clicks.second])
    back = Back(mapping, seen)
    spots = plane.mapped(mapping, np.concatenate([seen, clicks.reference]))
    low, high = spots.min(axis=0), spots.max(axis=0)
    nose, tail = spots[0, 0], spots[1, 0]
    edges = spots[2 : len(seen)]
    if station_axis(clicks.view) == 1:
        guides = [back.line((nose, y), (tail, y)) for _, y in edges]
    else:
        reach = 1.3 * max(float(np.abs(edges[:, 1]).max(initial=0.0)), 20.0)
        guides = [back.line((x, -reach), (x, reach)) for x, _ in edges]
    return Drawn(
        squares=squares(back, low, high),
        middle=back.line((nose, 0.0), (tail, 0.0)),
        guides=tuple(line for line in guides if line),
        outlines=outlines(back, found),
    )


def outlines(back: Back, found: Outline | None) -> tuple[Line, ...]:
    """Return the outline of the stations as it would be written, and its mirror image."""
    if found is None:
        return ()
    columns = dict(zip(found.names, found.stations.T, strict=True))
    if found.view in ("surface", "fin"):
        along = columns[found.names[0]]
        edge = columns["leading_edge"]
        ring = [*zip(edge, along, strict=True)]
        ring += [*zip(edge + columns["chord"], along, strict=True)][::-1]
    else:
        middle = columns.get("z", np.zeros(len(found.stations)))
        half = columns[found.names[1]] / 2.0
        ring = [*zip(columns["x"], middle + half, strict=True)]
        ring += [*zip(columns["x"], middle - half, strict=True)][::-1]
    shown = [back.line(*ring)]
    if found.view == "surface":
        shown.append(back.line(*((x, -y) for x, y in ring)))
    return tuple(line for line in shown if line)


def remarks_of(request: Asked, found: Outline | None) -> tuple[str, ...]:
    """Return what looks odd, but may be right."""
    told = []
    if request.framed and doubtful(request.clicks):
        told.append(
            "the long side of the sheet can hardly be told from its short one: look whether the "
            "squares drawn on the photo lie flat, or take the other side for the long one"
        )
    if found is not None:
        column = 1 if found.view == "body side" else -1
        sizes = found.stations[:, column]
        told += [
            f"the {found.names[column]} of station {at + 1} is hardly known: look nearer, and set "
            "the points again that the spread comes from"
            for at in np.flatnonzero(found.spreads[:, column] > VAGUE * sizes)
        ]
        far = found.across > np.maximum(LEAST_APART, APART * sizes)
        told += [
            f"the two clicks of station {at + 1} lie {found.across[at]:.0f} mm apart along the "
            "stations; the second belongs on the dashed line through the first"
            for at in np.flatnonzero(far)
        ]
    return tuple(told)


def read_photo(body: Mapping[str, object]) -> Found:
    """Return what a photo tells so far; raises CallProblem or QuantityProblem."""
    request = asked(body)
    found, drawn = None, None
    if request.framed:
        mapping, _, _ = frame_of(request.clicks)
        found = None if request.missing else outline(request.clicks)
        mapping = mapping if found is None else found.mapping
        drawn = drawn_of(request.clicks, mapping, found)
    return Found(
        missing=request.missing,
        outline=found,
        assumed=request.assumed,
        remarks=remarks_of(request, found),
        drawn=drawn,
    )


def stations_in(body: Mapping[str, object]) -> Outline:
    """Return the stations of a photo; raises CallProblem where something is missing yet."""
    found = read_photo(body)
    if found.outline is None:
        raise CallProblem("there are no stations yet", expected=found.missing)
    return found.outline


def band_of(told: Told) -> tuple[float, float]:
    """Return the ends that hold eight in ten [same unit]."""
    return told.value - TENTH * told.spread, told.value + TENTH * told.spread
