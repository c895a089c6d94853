"""Where to look, for a template: places, ways, figures, the walk from stop to stop."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from pathlib import Path

from foamwright.debrief.find import SearchArea
from foamwright.debrief.geodesy import Spot, Way, offset, way_between
from foamwright.debrief.layout import layout_of
from foamwright.debrief.reading import kind_of
from foamwright.debrief.taking import takes_of
from foamwright.jobs.search_inputs import point_of
from foamwright.jobs.search_told import Found, spot_words
from foamwright.page.dress import fragment
from foamwright.page.flight_told import unread
from foamwright.page.page_words import on_page
from foamwright.problems import CallProblem, DataFileProblem
from foamwright.quantity import show, show_band

Row = dict[str, object]

AT = 0.5
"""Nearer than this it is the same place [m]."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Typed:
    """One field of the last fix."""

    key: str
    label: str
    example: str
    hint: str = ""
    needed: bool = False


def typed_fields(units: str) -> tuple[Typed, ...]:
    """Return the fields of a last fix that is typed by hand."""
    return (
        Typed(
            key="fix",
            label="last fix: latitude, longitude",
            example="47.311265, 8.523829",
            hint="in degrees, as the screen or the phone shows them",
            needed=True,
        ),
        Typed(
            key="height",
            label="height above the launch ground",
            example=show(62.0, "elevation", units),
        ),
        Typed(key="speed", label="speed over the ground", example=show(13.0, "speed", units)),
        Typed(
            key="course",
            label="course over the ground",
            example="83",
            hint="degrees clockwise from north, or a point of the compass",
        ),
        Typed(
            key="climb",
            label="climb rate, minus for sinking",
            example=show(-2.0, "speed", units),
        ),
        Typed(
            key="launch",
            label="where you launched: latitude, longitude",
            example="47.310000, 8.520000",
        ),
    )


def far(distance: float, units: str) -> str:
    """Return a distance on the ground."""
    return show(distance, "length" if distance >= 3.0 else "elevation", units)


def way_told(way: Way, start: str, units: str) -> str:
    """Return how to get there from a place."""
    if way.distance < AT:
        return f"at the {start}"
    bearing = f"bearing {way.bearing:.0f}° true ({point_of(way.bearing)})"
    return f"{far(way.distance, units)} from the {start}, {bearing}"


def walk_told(area: SearchArea, units: str) -> list[Row]:
    """Return the stops in the order they are walked, each with its way from the one before."""
    spots = [offset(area.seen.spot, north, east) for north, east in area.walk]
    rows: list[Row] = []
    before: Spot | None = None
    for number, spot in enumerate(spots, start=1):
        leg = "start here"
        if before is not None:
            way = way_between(before, spot)
            leg = f"{far(way.distance, units)} {point_of(way.bearing)}"
        rows.append({"number": number, "spot": spot_words(spot), "leg": leg})
        before = spot
    return rows


def walked(area: SearchArea) -> float:
    """Return how long the walk is, from stop to stop [m]."""
    spots = [offset(area.seen.spot, north, east) for north, east in area.walk]
    return sum(way_between(a, b).distance for a, b in pairwise(spots))


def ways_told(found: Found) -> list[str]:
    """Return how to get to the most likely place."""
    ways = []
    if found.from_start is not None:
        start = "first fix" if found.area.seen.logged else "launch place"
        ways.append(way_told(found.from_start, start, found.units))
    if not found.area.seen.grounded:
        ways.append(way_told(found.from_fix, "last fix", found.units))
    return ways


def found_told(found: Found, name: str, file: str) -> str:
    """Return where to look as a piece of the page; `name` is what its files are called by."""
    area, units = found.area, found.units
    return fragment(
        "found.html",
        {
            "name": name,
            "file": file,
            "plane": found.plane,
            "grounded": area.seen.grounded,
            "likely": spot_words(area.likely_spot),
            "last": spot_words(area.seen.spot),
            "ways": ways_told(found),
            "figures": [
                {
                    "label": figure.label,
                    "value": show(figure.value, figure.dimension, units),
                    "band": ""
                    if figure.low is None
                    else show_band(figure.low, figure.high, figure.dimension, units),
                }
                for figure in found.figures
            ],
            "walk": walk_told(area, units),
            "walked": far(walked(area), units),
            "assumed": found.assumed,
            "cautions": found.cautions,
            "falls": found.falls,
            "seed": found.seed,
        },
    )


def columns_asked(
    file: Path, takes: Sequence[str], problem: DataFileProblem | CallProblem
) -> str | None:
    """Return the columns of a log in which no position was found, to be told by hand.

    None where it is no table, or the problem is about another file.
    """
    if isinstance(problem, DataFileProblem) and file not in {f.file for f in problem.findings}:
        return None
    try:
        if kind_of(file) != "table":
            return None
        header = layout_of(file).names
    except DataFileProblem:
        return None
    told = str(problem)
    if isinstance(problem, DataFileProblem):
        told = "; ".join("; ".join(filter(None, (f.what, f.expected))) for f in problem.findings)
    return unread(file.name, header, takes_of(takes, header), on_page(told))
