"""What a builder clicked on a photo and told beside it."""

from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from foamwright.model.photo_plane import Points

View = Literal["surface", "fin", "body side", "body above"]
Values = NDArray[np.float64]

EDGES: dict[View, tuple[str, str]] = {
    "surface": ("leading edge", "trailing edge"),
    "fin": ("leading edge", "trailing edge"),
    "body side": ("upper edge", "lower edge"),
    "body above": ("one side", "other side"),
}
"""What the two clicked edges are."""


COLUMNS: dict[View, tuple[str, ...]] = {
    "surface": ("y", "leading_edge", "chord"),
    "fin": ("z", "leading_edge", "chord"),
    "body side": ("x", "height", "z"),
    "body above": ("x", "width"),
}
"""What is found of each station."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Told:
    """A number with its standard deviation."""

    value: float
    spread: float = 0.0


@dataclass(frozen=True, kw_only=True, slots=True)
class Clicks:
    """Everything a builder told about one photo."""

    view: View
    """What is outlined, and from where."""
    picture: tuple[float, float]
    """Width and height [px]."""
    reference: Points
    """(4, 2) corners of the sheet, or (2, 2) ends of a length [px]."""
    middle: Points
    """(2, 2) nose and tail [px]."""
    first: Points
    """(n, 2) leading edge, upper edge or one side [px]."""
    second: Points
    """(n, 2) trailing edge, lower edge or the other side [px]."""
    blur: Values
    """(4 or 2 + 2 + n + n,) standard deviation of each click, in this order [px]."""
    sides: tuple[Told, ...]
    """Long and short side of the sheet, or the one length [mm]."""
    turned: bool
    """Whether the long side of the sheet is the other one than that which is found."""
    distance: Told
    """From the camera to the plane of the sheet, square to it [mm]."""
    height: Told
    """Of the outline over the sheet, towards the camera [mm]."""
    tilt: float
    """How far from square the camera may have been held, where only a length is known [rad]."""
    nose: float
    """x of the nose in the plane's own frame [mm]."""


def numbers(clicks: Clicks) -> tuple[Values, Values]:
    """Return all uncertain numbers in a row, and their standard deviations."""
    points = np.concatenate([clicks.reference, clicks.middle, clicks.first, clicks.second])
    told = [*clicks.sides, clicks.distance, clicks.height]
    values = np.concatenate([points.ravel(), [t.value for t in told], [0.0, 0.0]])
    rest = np.array([*(t.spread for t in told), *[np.tan(clicks.tilt)] * 2])
    return values, np.concatenate([np.repeat(clicks.blur, 2), rest])


def parted(clicks: Clicks, values: Values) -> tuple[Points, Values]:
    """Return (..., k, 2) points and the other numbers of a row of (..., all) numbers."""
    count = clicks.blur.size
    points = values[..., : 2 * count].reshape((*values.shape[:-1], count, 2))
    return points, values[..., 2 * count :]


def station_axis(view: View) -> int:
    """Return along which axis of the frame the stations follow each other: x, or y and z."""
    return 1 if view in ("surface", "fin") else 0
