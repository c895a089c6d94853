"""Stations of a surface or a body from clicks on a photo, with the spread that follows from them.

All that is uncertain (each click, the sides of the sheet or the length, how far the camera was, how
high the foam lay, how square the camera was held) is moved by its spread, one after the other, and
what comes of it is added up: linear propagation (jcgm-100), with all that the stations share kept.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from foamwright.model import photo_plane as plane
from foamwright.model.photo_clicks import (
    COLUMNS,
    EDGES,
    Clicks,
    Told,
    Values,
    View,
    numbers,
    parted,
    station_axis,
)
from foamwright.model.photo_frame import frame_of, to_frame, to_plane
from foamwright.model.photo_plane import Mapping, Points
from foamwright.problems import CallProblem

CLOSEST = 1.5
"""Least distance of two clicks of one edge along the stations [mm]."""

TO_MIDDLE = 0.06
"""How far over the middle line a root may be clicked and still be meant on it, of the reach [-].

Three times as far as the clicks may be off, if that is more."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Outline:
    """Stations with all their spreads."""

    view: View
    names: tuple[str, ...]
    """What the columns are, as keys of the plane file."""
    stations: Values
    """(n, columns) [mm]."""
    spreads: Values
    """(n, columns) standard deviations [mm]."""
    whole: dict[str, Told]
    """Span and area, or length: with what the stations share [mm, mm^2]."""
    mapping: Mapping
    """(3, 3) from pixels to the plane's frame: x aft, y right or z up [mm]."""
    carried_by: tuple[tuple[str, float], ...]
    """Which share of all variance comes from what, the largest first [-]."""
    across: Values
    """(n,) how far the two clicks of a station lie apart along the stations [mm]."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Setting:
    """What is decided once, on the clicks as they are, and kept while they are moved."""

    clicks: Clicks
    order: tuple[int, ...]
    """Of the corners, clockwise, the first side long."""
    sign: float
    """Of the second axis, so that it counts to the clicked side or up."""
    first: tuple[int, ...]
    """Order of the first edge's clicks along the stations."""
    second: tuple[int, ...]
    """And of the second's."""


def ranked(places: Values, edge: str) -> tuple[int, ...]:
    """Return the order of an edge's clicks along the stations; raises CallProblem for doubles."""
    order = np.argsort(places)
    gaps = np.diff(places[order])
    if np.any(gaps < CLOSEST):
        at = int(np.argmin(gaps))
        raise CallProblem(
            f"clicks {order[at] + 1} and {order[at + 1] + 1} of the {edge} belong to one station",
            expected="one click of each edge for each station",
        )
    return tuple(int(number) for number in order)


def halves(clicks: Clicks, mapping: Mapping) -> None:
    """Refuse clicks on both halves of what is mirrored, and on one half of what is not."""
    if clicks.view in ("fin", "body side"):
        return
    if clicks.view == "body above" and len(clicks.second):
        one, other = (
            plane.mapped(mapping, edge)[:, 1].mean() for edge in (clicks.first, clicks.second)
        )
        if one * other >= 0.0:
            raise CallProblem(
                "both sides of the body are clicked on one side of the middle line",
                expected="one on each side, or one side alone: the other is its mirror image",
            )
        return
    both = plane.mapped(mapping, np.concatenate([clicks.first, clicks.second]))
    ends = plane.mapped(mapping, clicks.middle)
    pixel = np.hypot(*(ends[1] - ends[0])) / np.hypot(*(clicks.middle[1] - clicks.middle[0]))
    slack = max(TO_MIDDLE * np.abs(both[:, 1]).max(), 3.0 * clicks.blur.max() * pixel)
    if np.any(both[:, 1] < -slack):
        raise CallProblem(
            "edges are clicked on both sides of the middle line",
            expected="click one half; the other is its mirror image",
        )


def setting_of(clicks: Clicks) -> tuple[Setting, Mapping]:
    """Return what is decided once; raises CallProblem with what is wrong with the clicks."""
    mapping, order, sign = frame_of(clicks)
    halves(clicks, mapping)
    axis = station_axis(clicks.view)
    edges = []
    for points, name in zip((clicks.first, clicks.second), EDGES[clicks.view], strict=True):
        edges.append(ranked(plane.mapped(mapping, points)[:, axis], name) if len(points) else ())
    return Setting(clicks=clicks, order=order, sign=sign, first=edges[0], second=edges[1]), mapping


def slid(edge: Points, to: Values, ahead: NDArray[np.bool_], axis: int) -> Values:
    """Return the (..., n) places of an edge's clicks slid along it to (..., n) stations.

    `ahead` (n,) says which slide towards the next click, the others towards the one before.
    """
    count = edge.shape[-2]
    own = np.arange(count)
    next_ = np.where((ahead & (own + 1 < count)) | (own == 0), own + 1, own - 1)
    along, beside = edge[..., axis], edge[..., 1 - axis]
    slope = (beside[..., next_] - beside) / (along[..., next_] - along)
    found: Values = beside + slope * (to - along)
    return found


def edges_of(setting: Setting, values: Values) -> tuple[Points, Points]:
    """Return both edges in the plane's frame, in the order of the stations."""
    clicks = setting.clicks
    mapping = to_plane(clicks, setting.order, values)
    points, _ = parted(clicks, values)
    start = len(clicks.reference)
    frame = to_frame(mapping, points[..., start : start + 2, :], setting.sign, clicks.nose)
    found = plane.mapped(frame, points[..., start + 2 :, :])
    split = len(clicks.first)
    first = found[..., list(setting.first), :]
    if not setting.second:
        return first, first * np.array([1.0, -1.0])
    return first, found[..., split:, :][..., list(setting.second), :]


def stations_of(setting: Setting, values: Values) -> Values:
    """Return (..., n, columns) stations from (..., all) numbers."""
    axis = station_axis(setting.clicks.view)
    first, second = edges_of(setting, values)
    places = (first[..., axis] + second[..., axis]) / 2.0
    nominal = (*edges_of(setting, numbers(setting.clicks)[0]),)
    middle = (nominal[0][:, axis] + nominal[1][:, axis]) / 2.0
    if axis == 1 and setting.clicks.view == "surface" and middle[0] < 0.0:
        places[..., 0] = 0.0  # meant on the middle line
    one = slid(first, places, middle > nominal[0][:, axis], axis)
    other = slid(second, places, middle > nominal[1][:, axis], axis)
    if axis == 1:
        columns = [places, one, other - one]
    elif setting.clicks.view == "body side":
        columns = [places, one - other, (one + other) / 2.0]
    else:
        columns = [places, np.abs(one - other)]
    return np.stack(columns, axis=-1)


SIZES: dict[View, int] = {"surface": 2, "fin": 2, "body side": 1, "body above": 1}
"""Which column has to be more than nothing."""


def wholes_of(view: View, stations: Values) -> dict[str, Values]:
    """Return (...) what all stations together give: span and area, or the length."""
    along = stations[..., 0]
    if view not in ("surface", "fin"):
        return {"length": along[..., -1] - along[..., 0]}
    chord = stations[..., 2]
    strips = np.diff(along, axis=-1) * (chord[..., 1:] + chord[..., :-1]) / 2.0
    twice = 2.0 if view == "surface" else 1.0
    name = "span" if view == "surface" else "height"
    reach = along[..., -1] if view == "surface" else along[..., -1] - along[..., 0]
    return {name: twice * reach, "area": twice * strips.sum(axis=-1)}


def refuse_odd(view: View, stations: Values) -> None:
    """Refuse stations that no foam has."""
    sizes = stations[:, SIZES[view]]
    if np.all(sizes > 0.0):
        return
    at = int(np.argmin(sizes)) + 1
    if view in ("surface", "fin"):
        raise CallProblem(
            f"at station {at} the trailing edge lies ahead of the leading edge",
            expected="nose first, then tail; leading edge first, then trailing edge",
        )
    raise CallProblem(
        f"at station {at} the lower edge lies above the upper edge",
        expected="the upper edge first, then the lower one",
    )


def outline(clicks: Clicks) -> Outline:
    """Return the stations of clicks; raises CallProblem with the first thing wrong with them."""
    names = EDGES[clicks.view]
    mirrored = clicks.view == "body above" and not len(clicks.second)
    if len(clicks.first) != len(clicks.second) and not mirrored:
        raise CallProblem(
            f"{len(clicks.first)} clicks of the {names[0]}, {len(clicks.second)} of the {names[1]}",
            expected="as many of one as of the other",
        )
    if len(clicks.first) < 2:
        raise CallProblem("that is one station", expected="two at least, root and tip")
    setting, mapping = setting_of(clicks)
    values, spreads = numbers(clicks)
    moved = np.concatenate([values[None], values + np.diag(spreads), values - np.diag(spreads)])
    found = stations_of(setting, moved)
    refuse_odd(clicks.view, found[0])
    first, second = edges_of(setting, values)
    axis = station_axis(clicks.view)
    return Outline(
        view=clicks.view,
        names=COLUMNS[clicks.view],
        stations=found[0],
        spreads=spread_of(found),
        whole={
            name: Told(value=float(whole[0]), spread=float(spread_of(whole)))
            for name, whole in wholes_of(clicks.view, found).items()
        },
        mapping=mapping,
        carried_by=shares_of(clicks, found),
        across=np.abs(first[:, axis] - second[:, axis]),
    )


def shares_of(clicks: Clicks, found: Values) -> tuple[tuple[str, float], ...]:
    """Return which share of the variance of all stations comes from what, the largest first."""
    ups, downs = np.split(found[1:], 2)
    variance = ((ups - downs) ** 2).sum(axis=(-2, -1))
    by_sheet = len(clicks.reference) == 4
    edges = 2 * (len(clicks.first) + len(clicks.second))
    counts = {
        "corners of the sheet" if by_sheet else "ends of the length": 2 * len(clicks.reference),
        "nose and tail": 4,
        "clicks on the edges": edges,
        "size of the sheet" if by_sheet else "the length itself": len(clicks.sides),
        "height and distance": 2,
        "how square the camera was": 2,
    }
    parts = np.split(variance, np.cumsum([*counts.values()])[:-1])
    total = float(variance.sum())
    if total <= 0.0:
        return ()
    shares = [(name, float(part.sum()) / total) for name, part in zip(counts, parts, strict=True)]
    return tuple(sorted(shares, key=lambda pair: -pair[1]))


def spread_of(found: Values) -> Values:
    """Return standard deviations of (1 + 2 k, ...) values: as they are, then moved up and down."""
    ups, downs = np.split(found[1:], 2)
    spread: Values = np.sqrt((((ups - downs) / 2.0) ** 2).sum(axis=0))
    return spread
