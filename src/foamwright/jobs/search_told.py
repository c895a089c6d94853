"""What a search says: figures, what it rests on, what to mind, the contract."""

from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from foamwright.debrief.falls import Air, Glider
from foamwright.debrief.find import SearchArea
from foamwright.debrief.geodesy import Spot, Way, offset
from foamwright.debrief.last_seen import LastSeen
from foamwright.debrief.search_gpx import rings_of
from foamwright.jobs.ask import SCHEMA, figure_json
from foamwright.physics.numerics.normal import TENTH
from foamwright.quantity import show
from foamwright.questions.answer import Figure

STALE = 2.0
"""A last fix older than this is told [s]."""
CAUTIONS = (
    (
        "keep off roads, rails, airfields and private ground; ask its owner before you enter, and "
        "leave what hangs in or near a power line to the grid operator"
    ),
    "go in pairs, tell someone where, stop at nightfall, and do not climb after a plane",
    (
        "a pack may burn hours after a crash: do not touch one that is swollen, hot, hissing or "
        "smells sweet; keep away and ask the fire service"
    ),
    (
        "the propeller may still turn: transmitter on and throttle at zero before you reach for "
        "the plane, then unplug it"
    ),
    "who flew out of sight or into other air space may have to report it: check the law in force",
)
"""What to mind on the search."""


GROUND = (
    "the ground is taken as level with the launch ground, within 3 % of the way from the last fix: "
    "down a slope it may lie farther on, up a slope nearer"
)
"""What is taken of the ground."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Found:
    """Where to look, and what that rests on."""

    plane: str
    units: str
    log: Path | None
    """None where the last fix was typed."""
    area: SearchArea
    air: Air
    figures: tuple[Figure, ...]
    """The end of the log, and the sizes of the areas."""
    from_start: Way | None
    """From the first fix to the most likely place; none where that fix is not known."""
    from_fix: Way
    """From the last fix to it."""
    assumed: tuple[str, ...]
    cautions: tuple[str, ...]
    falls: int
    seed: int
    written: tuple[Path, ...] = ()


@dataclass(frozen=True, kw_only=True, slots=True)
class Kind:
    """Words and unit of a figure."""

    name: str
    label: str
    unit: str
    dimension: str


def plain(kind: Kind, value: float | None, spread: float = 0.0) -> Figure:
    """Return a figure with its 80 % band, no lower than nothing; none where it is not known."""
    known = value is not None and spread > 0.0
    return Figure(
        name=kind.name,
        label=kind.label,
        value=value,
        low=max(0.0, value - TENTH * spread) if known and value is not None else None,
        high=value + TENTH * spread if known and value is not None else None,
        unit=kind.unit,
        dimension=kind.dimension,
    )


def kind(name: str, label: str, unit: str, dimension: str) -> Kind:
    """Return words and unit of a figure."""
    return Kind(name=name, label=label, unit=unit, dimension=dimension)


def figures_of(area: SearchArea, air: Air, glider: Glider) -> tuple[Figure, ...]:
    """Return the end of the log and the sizes of the areas; what is not known is left out."""
    seen = area.seen
    course = None if seen.course is None else float(np.radians(seen.course))
    wind = float(np.hypot(air.north, air.east))
    low, middle, high = (float(q) for q in np.quantile(glider.best_ratio, (0.1, 0.5, 0.9)))
    glide = Figure(
        name="glide_ratio",
        label="best glide ratio of the plane",
        value=middle,
        low=low,
        high=high,
        unit="-",
        dimension="number",
    )
    ending = [
        plain(
            kind("last_height", "last height above the launch ground", "m", "elevation"),
            seen.height,
            seen.height_spread,
        ),
        plain(kind("last_speed", "last speed over the ground", "m s^-1", "speed"), seen.speed),
        plain(kind("last_course", "last course over the ground", "rad", "angle"), course),
        plain(kind("last_climb", "last climb rate", "m s^-1", "speed"), seen.climb),
    ]
    flown = (
        []
        if seen.grounded
        else [
            *ending,
            plain(kind("wind", "wind taken", "m s^-1", "speed"), wind or None, air.spread),
            glide,
        ]
    )
    sizes = [
        plain(
            kind(
                f"area_{100.0 * region.share:.0f}",
                f"area that holds {100.0 * region.share:.0f} %"
                + ("" if seen.grounded else " of the falls"),
                "m^2",
                "ground area",
            ),
            region.size,
        )
        for region in area.regions
    ]
    return tuple(one for one in (*flown, *sizes) if one.value is not None)


def assumed_of(area: SearchArea, told: Iterable[str], units: str) -> tuple[str, ...]:
    """Return what a search rests on."""
    seen = area.seen
    if seen.grounded:
        said = "the log ends with the plane lying still on the ground: it lies at the last fix"
        return (f"{said}, as good as that is",)
    weighed = ", ".join(f"{words} {100.0 * share:.0f} %" for words, share in area.cases)
    return (
        *told,
        *seen.assumed,
        *unknown(seen, units),
        *doubts(seen),
        f"how it came down, nobody saw: {weighed} (common practice, no source)",
        GROUND,
    )


def unknown(seen: LastSeen, units: str) -> tuple[str, ...]:
    """Return what stands in for what the log does not hold, or nobody typed."""
    said = []
    holds = "the log holds" if seen.logged else "you told"
    tells = "the log does not tell" if seen.logged else "you did not tell"
    if seen.height is None:
        low, high = show(23.0, "elevation", units), show(108.0, "elevation", units)
        said.append(f"{holds} no height: {low} to {high} taken")
    if seen.speed is None:
        said.append(f"{holds} no speed: any course taken, at the plane's own speed")
    if seen.climb is None:
        said.append(f"{tells} whether it climbed or sank at the end")
    return tuple(said)


def doubts(seen: LastSeen) -> tuple[str, ...]:
    """Return what makes the end of the log less sure."""
    said = []
    if seen.stale > STALE:
        said.append(
            f"the last fix is {seen.stale:.0f} s older than the end of the log: what it flew since "
            "is guessed from its speed and turn"
        )
    if seen.hole > 0.0:
        said.append(f"{seen.hole:.1f} s of rows are missing in the last half minute")
    return tuple(said)


def spot_words(spot: Spot) -> str:
    """Return a place as a phone takes it."""
    return f"{spot.latitude:.6f}, {spot.longitude:.6f}"


def spot_json(spot: Spot) -> dict[str, float]:
    """Return a place as the contract writes it [deg]."""
    return {"latitude": spot.latitude, "longitude": spot.longitude}


def way_json(way: Way) -> dict[str, float]:
    """Return a way as the contract writes it."""
    return {"distance": way.distance, "bearing_deg": way.bearing}


def as_json(found: Found) -> dict[str, object]:
    """Return a search as the contract's JSON object, values in SI, places in degrees."""
    area, base = found.area, found.area.seen.spot
    return {
        "schema": SCHEMA,
        "on_the_ground": area.seen.grounded,
        "last_fix": {
            **spot_json(base),
            "time": area.seen.fix_time,
            "age": area.seen.stale,
            "spread": area.seen.fix_spread,
        },
        "first_fix": None if area.seen.start is None else spot_json(area.seen.start),
        "most_likely": {
            **spot_json(area.likely_spot),
            "from_first_fix": None if found.from_start is None else way_json(found.from_start),
            "from_last_fix": way_json(found.from_fix),
        },
        "areas": [
            {
                "share": region.share,
                "size": region.size,
                "rings": [
                    [spot_json(offset(base, north, east)) for north, east in ring]
                    for ring in rings_of(region)
                ],
            }
            for region in area.regions
        ],
        "walk": [spot_json(offset(base, north, east)) for north, east in area.walk],
        "cases": [{"case": words, "share": share} for words, share in area.cases],
        "figures": [figure_json(figure) for figure in found.figures],
        "assumed": list(found.assumed),
        "cautions": list(found.cautions),
        "falls": found.falls,
        "seed": found.seed,
        "written": [str(file) for file in found.written],
    }
