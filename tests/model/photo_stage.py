"""A camera made of numbers: a pinhole before a plane of foam on a sheet of paper.

It projects by rotation, depth and focal length, with a general library's rotations; nothing of the
code under test is in it.
"""

import dataclasses
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray
from scipy.spatial.transform import Rotation

from foamwright.model.photo_clicks import Clicks, Told, View

Values = NDArray[np.float64]

A4 = np.array([[0.0, 0.0], [297.0, 0.0], [297.0, 210.0], [0.0, 210.0]])
"""Corners of a sheet of A4, 210 by 297 mm (ISO 216) [mm]."""

PICTURE = (4000.0, 3000.0)


@dataclass(frozen=True, kw_only=True)
class Camera:
    """A pinhole: world millimetres (x aft, y right, z up, so towards it) to pixels."""

    distance: float = 2000.0
    """From the plane z = 0, square to it [mm]."""
    tilts: tuple[float, float, float] = (0.0, 0.0, 0.0)
    """About x, y and its own line of sight [deg]."""
    focal: float = 3000.0
    """[px]."""
    over: tuple[float, float] = (350.0, 200.0)
    """Above which point of the plane it hangs [mm]."""

    def seen(self, points: Values) -> Values:
        """Return (k, 2) pixels of (k, 2) points in the plane or (k, 3) points in space."""
        space = np.zeros((len(points), 3))
        space[:, : points.shape[1]] = points
        centre = np.array([*self.over, self.distance])
        # Looking down, x to the right of the picture, y up: then pixels count down.
        body = Rotation.from_euler("xyz", self.tilts, degrees=True).apply(space - centre)
        depth = -body[:, 2]
        flat = self.focal * body[:, :2] / depth[:, None]
        return np.column_stack([PICTURE[0] / 2 + flat[:, 0], PICTURE[1] / 2 - flat[:, 1]])

    def below(self, pixels: Values) -> Values:
        """Return (k, 2) points of the plane that (k, 2) pixels show: where their rays meet it."""
        ahead = np.column_stack(
            [
                (pixels[:, 0] - PICTURE[0] / 2) / self.focal,
                (PICTURE[1] / 2 - pixels[:, 1]) / self.focal,
                np.full(len(pixels), -1.0),
            ]
        )
        rays = Rotation.from_euler("xyz", self.tilts, degrees=True).inv().apply(ahead)
        centre = np.array([*self.over, self.distance])
        found: Values = (centre - rays * (self.distance / rays[:, 2:]))[:, :2]
        return found


STATIONS = np.array([[0.0, 205.0, 150.0], [240.0, 215.0, 135.0], [400.0, 230.0, 100.0]])
"""A half wing: distance from the middle line, leading edge, chord [mm]."""

ENDS = np.array([[0.0, 0.0], [690.0, 0.0]])
"""Nose and tail [mm]."""


def edges(stations: Values) -> tuple[Values, Values]:
    """Return (n, 2) points on the leading and the trailing edge."""
    y, edge, chord = stations.T
    return np.column_stack([edge, y]), np.column_stack([edge + chord, y])


@dataclass(frozen=True, kw_only=True)
class Scene:
    """A camera over foam and a sheet, and someone without a tremble who clicks."""

    camera: Camera = Camera()
    stations: Values = field(default_factory=lambda: STATIONS)
    by: str = "sheet"
    blur: float = 2.0
    view: View = "surface"
    height: float = 0.0
    tilt: float = 0.0
    at: tuple[float, float] = (20.0, 60.0)
    """Where the sheet's corner lies [mm]."""

    def clicks(self) -> Clicks:
        """Return what is clicked: nose, tail and both edges of a half wing, and the reference."""
        return self.of(*edges(self.stations))

    def of(self, first: Values, second: Values) -> Clicks:
        """Return the clicks of any two edges, points in millimetres."""
        flat = np.concatenate([ENDS, first, second])
        seen = self.camera.seen(np.column_stack([flat, np.full(len(flat), self.height)]))
        reference, sides = self.camera.seen(A4 + np.array(self.at)), [297.0, 210.0]
        if self.by == "length":
            reference, sides = seen[:2], [690.0]
        return Clicks(
            view=self.view,
            picture=PICTURE,
            reference=reference,
            middle=seen[:2],
            first=seen[2 : 2 + len(first)],
            second=seen[2 + len(first) :],
            blur=np.full(len(reference) + len(flat), self.blur),
            sides=tuple(Told(value=side) for side in sides),
            turned=False,
            distance=Told(value=self.camera.distance),
            height=Told(value=self.height if self.by == "sheet" else 0.0),
            tilt=self.tilt,
            nose=0.0,
        )


def trembled(clicks: Clicks, rng: np.random.Generator) -> Clicks:
    """Return clicks, each a little off by its own blur."""
    names = ("reference", "middle", "first", "second")
    rest = rng.normal(size=(clicks.blur.size, 2)) * clicks.blur[:, None]
    found = {}
    for name in names:
        points = getattr(clicks, name)
        found[name], rest = points + rest[: len(points)], rest[len(points) :]
    return dataclasses.replace(clicks, **found)
