"""What the page tells about a photo, read and checked: points in pixels, lengths as text."""

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import cast, get_args

import numpy as np

from foamwright.model.photo_clicks import EDGES, Clicks, Told, View
from foamwright.model.photo_plane import Points
from foamwright.problems import CallProblem, Finding, QuantityProblem
from foamwright.quantity import Quantity, read

MM = 1e3

SLACK = 2.0 / math.sqrt(3.0)
"""Standard deviation of a sheet's side [mm]: between 150 and 600 mm its standard allows 2 mm either
way (iso-216), and within limits nothing is known to be likelier (jcgm-100, 4.3.7). Letter paper is
taken alike."""

PAPERS = {"A4": (297.0, 210.0), "Letter": (279.4, 215.9)}
"""Long and short side [mm]: iso-216; 11 by 8.5 in by asme-y14-1."""

RULER = 0.5
"""Standard deviation of a length somebody measured and told no spread of [mm]."""

USUAL_DISTANCE = Told(value=2000.0, spread=500.0)
"""Where nobody told how far the camera was: at arm's length over a table, or on a chair [mm]."""

USUAL_HEIGHT = Told(value=0.0, spread=10.0)
"""Where nobody told how high the outline lay over the sheet [mm]."""

USUAL_TILT = math.radians(3.0)
"""How square a camera is held by eye, where only a length is known; common practice, no source."""

MOST = 60
"""Most clicks of one kind."""

LARGEST = 30_000.0
"""Most pixels along one side of a picture."""

BEYOND = 0.1
"""How far outside the picture a click may lie, over its size."""

GROUPS = ("reference", "middle", "first", "second")

Body = Mapping[str, object]


@dataclass(frozen=True, kw_only=True, slots=True)
class Asked:
    """A request, read."""

    clicks: Clicks
    """As far as they are there."""
    missing: str
    """What has to be clicked or told before there are stations; empty where nothing is."""
    framed: bool
    """Whether reference, nose and tail are there."""
    assumed: tuple[str, ...]
    """What was taken because nobody told."""


def number_in(body: Body, key: str, limits: tuple[float, float]) -> float:
    """Return a number of a request; raises CallProblem for anything else."""
    found = body.get(key)
    if isinstance(found, bool) or not isinstance(found, int | float) or not math.isfinite(found):
        raise CallProblem(f"{key} is no number", expected="pixels")
    if not limits[0] <= found <= limits[1]:
        raise CallProblem(f"{key} is {found:g}", expected=f"{limits[0]:g} to {limits[1]:g}")
    return float(found)


def text_in(body: Body, key: str) -> str:
    """Return a text of a request, empty where there is none; raises CallProblem for others."""
    found = body.get(key, "")
    if not isinstance(found, str):
        raise CallProblem(f"{key} is no text", expected="what was typed")
    return found.strip()


def length_in(body: Body, key: str, limits: tuple[float, float]) -> Quantity | None:
    """Return a typed length, none where nothing was typed; raises QuantityProblem."""
    text = text_in(body, key)
    if not text:
        return None
    try:
        return read(text, "length", limits=limits)
    except QuantityProblem as problem:
        found = problem.findings[0]
        finding = Finding(what=found.what, expected=found.expected, key=key)
        raise QuantityProblem((finding,)) from problem


def told_in(body: Body, key: str, limits: tuple[float, float], spread: float) -> Told | None:
    """Return a typed length with its spread, or with the usual one [mm]."""
    found = length_in(body, key, limits)
    if found is None:
        return None
    own = spread if found.spread is None else found.spread * MM
    return Told(value=found.value * MM, spread=own)


def picture_in(body: Body) -> tuple[float, float]:
    """Return the size of the picture [px]."""
    found = body.get("picture")
    if not isinstance(found, Mapping):
        raise CallProblem("there is no photo", expected="load one first")
    limits = (16.0, LARGEST)
    return number_in(found, "width", limits), number_in(found, "height", limits)


def points_in(body: Body, group: str, picture: tuple[float, float]) -> list[tuple[float, ...]]:
    """Return clicks as x, y and standard deviation [px]; raises CallProblem for odd ones."""
    groups = body.get("points", {})
    found = groups.get(group, []) if isinstance(groups, Mapping) else None
    if not isinstance(found, list) or len(found) > MOST:
        raise CallProblem(f"points of '{group}' are no list", expected=f"at most {MOST} points")
    points = []
    for at, point in enumerate(found, start=1):
        if not isinstance(point, Mapping):
            raise CallProblem(f"point {at} of '{group}' is none", expected="x, y and off in pixels")
        spots = [
            number_in(point, axis, (-BEYOND * size, (1.0 + BEYOND) * size))
            for axis, size in zip(("x", "y"), picture, strict=True)
        ]
        points.append((*spots, number_in(point, "off", (0.0, max(picture)))))
    return points


def sides_in(body: Body) -> tuple[Told, ...]:
    """Return the sides of the sheet, or the length; empty where they are not told yet."""
    if body.get("by") == "length":
        found = told_in(body, "length", (0.02, 3.0), RULER)
        return () if found is None else (found,)
    paper = text_in(body, "paper")
    if paper in PAPERS:
        return tuple(Told(value=side, spread=SLACK) for side in PAPERS[paper])
    if paper != "own":
        raise CallProblem(f"no sheet is called '{paper}'", expected=", ".join([*PAPERS, "own"]))
    sides = [told_in(body, key, (0.05, 2.0), RULER) for key in ("long", "short")]
    if sides[0] is None or sides[1] is None:
        return ()
    if sides[0].value < sides[1].value:
        raise CallProblem("the long side is the shorter one", expected="the long side first")
    return (sides[0], sides[1])


def camera_in(body: Body, view: View) -> tuple[Told, Told, list[str]]:
    """Return distance and height of the camera, and what was assumed of them."""
    distance = told_in(body, "distance", (0.1, 100.0), 0.0)
    height = told_in(body, "height", (-0.5, 2.0), 2.0)
    assumed = []
    if distance is None:
        assumed.append("the camera 1.5 to 2.5 m away (told by nobody)")
        distance = USUAL_DISTANCE
    elif distance.spread == 0.0:
        distance = Told(value=distance.value, spread=0.05 * distance.value)
    if height is None:
        what = "edges" if view in ("surface", "fin") else "outline"
        assumed.append(
            f"the {what} within about 10 mm of the {reference_words(body)}'s own level (told by "
            "nobody): what lies higher looks larger, by its height over the camera's distance"
        )
        height = USUAL_HEIGHT
    return distance, height, assumed


def reference_words(body: Body) -> str:
    """Return what gives the scale."""
    return "length" if body.get("by") == "length" else "sheet"


def missing_in(body: Body, view: View, groups: Mapping[str, list[tuple[float, ...]]]) -> str:
    """Return what is to be done next; empty where there is enough; raises CallProblem."""
    by_length = body.get("by") == "length"
    needed = 2 if by_length else 4
    words = "ends of the known length" if by_length else "corners of the sheet"
    counts = {group: len(points) for group, points in groups.items()}
    if counts["reference"] > needed or counts["middle"] > 2:
        raise CallProblem("too many points are clicked", expected=f"{needed} {words}, nose, tail")
    if counts["reference"] < needed:
        return f"click the {words}: {counts['reference']} of {needed} so far"
    if not sides_in(body):
        return "say how long it is" if by_length else "say how long the sides of the sheet are"
    if counts["middle"] < 2:
        return "click the nose, then the tail: the middle line"
    return missing_edges(view, counts["first"], counts["second"])


def missing_edges(view: View, first: int, second: int) -> str:
    """Return which clicks of the edges are missing; empty where none are."""
    one, other = EDGES[view]
    mirrored = view == "body above" and not second
    if (first if mirrored else min(first, second)) < 2:
        return f"click two stations at least: a point of the {one} and one of the {other} each"
    if first != second and not mirrored:
        return f"one more click of the {one if first < second else other} completes the station"
    return ""


def array_of(points: list[tuple[float, ...]]) -> Points:
    """Return the places of clicks."""
    return np.array([point[:2] for point in points]).reshape((-1, 2))


def asked(body: Body) -> Asked:
    """Return a request read; raises CallProblem or QuantityProblem with what is wrong."""
    view = text_in(body, "view")
    if view not in get_args(View):
        raise CallProblem(f"'{view}' is no view", expected=", ".join(get_args(View)))
    view = cast(View, view)
    if body.get("by") not in ("sheet", "length"):
        raise CallProblem("nothing gives the scale", expected='"by" is "sheet" or "length"')
    picture = picture_in(body)
    groups = {group: points_in(body, group, picture) for group in GROUPS}
    distance, height, assumed = camera_in(body, view)
    nose = length_in(body, "nose", (-1.0, 1.0))
    missing = missing_in(body, view, groups)
    clicks = Clicks(
        view=view,
        picture=picture,
        **{group: array_of(points) for group, points in groups.items()},
        blur=np.array([point[2] for group in GROUPS for point in groups[group]]),
        sides=sides_in(body),
        turned=body.get("turned") is True,
        distance=distance,
        height=height,
        tilt=USUAL_TILT if body.get("by") == "length" else 0.0,
        nose=0.0 if nose is None else nose.value * MM,
    )
    framed = len(clicks.middle) == 2 and bool(clicks.sides)
    framed = framed and len(clicks.reference) == (2 if body.get("by") == "length" else 4)
    return Asked(clicks=clicks, missing=missing, framed=framed, assumed=(*usual(body), *assumed))


def usual(body: Body) -> list[str]:
    """Return what is always taken for granted."""
    found = ["straight lines look straight: no wide lens, and the plane in the middle of the photo"]
    if body.get("by") == "length":
        found.append("the camera held square to the plane within 3° or so")
    elif body.get("paper") in PAPERS:
        found.append(f"the sheet true to its standard within 2 mm a side ({body['paper']})")
    return found
