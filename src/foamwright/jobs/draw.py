"""The plane as a drawing, from its file to a file."""

from dataclasses import dataclass
from pathlib import Path

import numpy as np

from foamwright.jobs.ask import Settings, opened
from foamwright.jobs.output import free, put
from foamwright.model.computable import ComputablePlane
from foamwright.model.foam import is_mirrored, relative_thickness
from foamwright.model.surfaces import geometry_of
from foamwright.paper import composition
from foamwright.paper.picture import picture
from foamwright.paper.shapes import (
    BodyCut,
    BodyShape,
    Cut,
    Disc,
    Hinge,
    Hole,
    Part,
    Point,
    RodLine,
    Sheet,
    Strip,
    SurfaceShape,
)
from foamwright.paper.svg import tame
from foamwright.physics.arrays import Samples
from foamwright.plane.airframe import Body, Surface
from foamwright.plane.boxes import box_size
from foamwright.plane.gear import AnyItem, Propeller, Rod
from foamwright.plane.placement import Place
from foamwright.quantity import Quantity, show, show_band
from foamwright.questions import balance
from foamwright.questions.case import Case

MM = 1e3
"""Millimetres in a metre."""

ENDINGS = (".svg", ".png")
"""What a drawing can be written as."""

LOOSE = ("glue", "tape", "wire", "allowance")
"""Kinds that lie all over the plane and have no place to be drawn."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Drawn:
    """What was drawn."""

    file: Path
    parts: int
    unplaced: tuple[str, ...]


def mm(quantity: Quantity | None) -> float:
    """Return a length in millimetres; nothing written is the middle."""
    return 0.0 if quantity is None else quantity.value * MM


def surface_shape(surface: Surface) -> SurfaceShape:
    """Return a surface as it is drawn."""
    geometry = geometry_of(surface)
    cuts = tuple(
        Cut(
            edge=(float(edge[0]) * MM, float(edge[1]) * MM, float(edge[2]) * MM),
            chord=float(chord) * MM,
            thickness=relative_thickness(station) * float(chord) * MM,
        )
        for edge, chord, station in zip(
            geometry.leading_edge, geometry.chord, surface.stations, strict=True
        )
    )
    hinges = tuple(
        Hinge(start=c.start.value, end=c.end.value, share=c.chord_fraction.value)
        for c in surface.controls
    )
    return SurfaceShape(
        name=surface.name,
        role=surface.role,
        cuts=cuts,
        mirrored=is_mirrored(surface),
        hinges=hinges,
    )


def body_shape(body: Body) -> BodyShape:
    """Return a body as it is drawn."""
    return BodyShape(
        name=body.name,
        y=mm(body.y),
        cuts=tuple(
            BodyCut(x=mm(s.x), z=mm(s.z), width=mm(s.width), height=mm(s.height))
            for s in body.stations
        ),
    )


def places_of(place: Place, count: int) -> tuple[Point, ...]:
    """Return the middle of each piece; a pair off the middle line sits left and right."""
    x, y, z = mm(place.x), mm(place.y), mm(place.z)
    if count > 1 and y != 0.0:
        return ((x, y, z), (x, -y, z))
    return ((x, y, z),)


def lying(item: AnyItem, case: Case) -> AnyItem:
    """Return an item with the height its pocket gives it, where none is written."""
    if item.at is None or item.at.z is not None:
        return item
    heights = [p.box.middle[2] for p in case.computed.fit.pockets if p.item == item.name]
    if not heights or heights[0] is None:
        return item
    z = Quantity(value=heights[0], spread=None, dimension="length", text="flush")
    return item.model_copy(update={"at": item.at.model_copy(update={"z": z})})


def part_of(item: AnyItem) -> Part | None:
    """Return an item as it is drawn; none where it has no place."""
    if item.at is None:
        return None
    size = box_size(item)
    words = f"{item.count} × {item.name}" if item.count > 1 else item.name
    return Part(
        name=words,
        places=places_of(item.at, item.count),
        size=None if size is None else (size[0] * MM, size[1] * MM, size[2] * MM),
    )


def discs_of(case: Case) -> tuple[Disc, ...]:
    """Return what each propeller sweeps, square to the motor's thrust line."""
    angles = [getattr(item, "thrust_angle", None) for item in case.plane.items]
    slope = next((float(np.tan(a.value)) for a in angles if a is not None), 0.0)
    return tuple(
        Disc(place=place, diameter=mm(item.diameter), slope=slope)
        for item in case.plane.items
        if isinstance(item, Propeller) and item.at is not None and item.diameter is not None
        for place in places_of(item.at, item.count)
    )


def middle(samples: Samples) -> float:
    """Return the median in millimetres."""
    return float(np.median(samples)) * MM


def band(kind: str, words: str, samples: Samples) -> Strip:
    """Return a place along x with its 10-90 % band."""
    low, high = (float(q) * MM for q in np.quantile(samples, (0.1, 0.9)))
    at = middle(samples)
    told = f"{words} {at:.0f} mm ({low:.0f}–{high:.0f})"
    return Strip(kind=kind, label=told, low=low, high=high, middle=at)


def strips_of(case: Case) -> tuple[Strip, ...]:
    """Return neutral point, wanted range, balance and the reach of the pack."""
    lift, centre = case.computed.lift, case.computed.masses.centre[:, 0]
    wanted = balance.window(case)
    ends = [
        middle(lift.neutral_point - share * lift.mean_chord)
        for share in (wanted.most, wanted.least)
    ]
    found = [
        band("neutral", "neutral point", lift.neutral_point),
        Strip(
            kind="wanted",
            label=f"balance wanted {ends[0]:.0f}–{ends[1]:.0f} mm",
            low=ends[0],
            high=ends[1],
        ),
        band("balance", "balances at", centre),
    ]
    for item in case.plane.items:
        if item.reach is not None:
            low, high = mm(item.reach.foremost), mm(item.reach.rearmost)
            label = f"{tame(item.name)} may lie {low:.0f}–{high:.0f} mm"
            found.append(Strip(kind="reach", label=label, low=low, high=high))
    return tuple(found)


def notes_of(case: Case, settings: Settings) -> tuple[str, ...]:
    """Return the lines of the title block."""
    units = settings.units or case.plane.units
    mass = case.computed.masses.all_up
    low, high = (float(q) for q in np.quantile(mass, (0.1, 0.9)))
    weighs = f"{show(float(np.median(mass)), 'mass', units)} ready to fly"
    variant = f"variant: {tame(settings.variant)}" if settings.variant else "as planned"
    return (
        f"{variant} · {case.plane.layout}",
        f"{weighs} ({show_band(low, high, 'mass', units)})",
    )


def holes_of(case: Case) -> tuple[Hole, ...]:
    """Return the pockets as they are drawn."""
    return tuple(
        Hole(low=corner_of(pocket.low), high=corner_of(pocket.high))
        for pocket in case.computed.fit.pockets
    )


def corner_of(point: tuple[float, float, float]) -> Point:
    """Return a point in millimetres."""
    x, y, z = point
    return (x * MM, y * MM, z * MM)


def rods_of(case: Case) -> tuple[RodLine, ...]:
    """Return the rods whose ends are told, both of a pair."""
    found = []
    for rod in case.plane.items:
        if not isinstance(rod, Rod) or rod.starts is None or rod.ends is None:
            continue
        ends = [(mm(place.x), mm(place.y), mm(place.z)) for place in (rod.starts, rod.ends)]
        for side in (1.0, -1.0)[: 2 if rod.count == 2 else 1]:
            start, end = ((x, side * y, z) for x, y, z in ends)
            found.append(RodLine(start=start, end=end, diameter=mm(rod.diameter)))
    return tuple(found)


def sheet_of(case: Case, settings: Settings) -> Sheet:
    """Return everything that is on the drawing."""
    computed: ComputablePlane = case.computed
    airframe = computed.plane.airframe
    items = [item for item in case.plane.items if item.kind not in LOOSE]
    parts = [(item, part_of(lying(item, case))) for item in items]
    return Sheet(
        name=case.plane.name,
        notes=notes_of(case, settings),
        surfaces=tuple(surface_shape(s) for s in airframe.surfaces),
        bodies=tuple(body_shape(b) for b in airframe.bodies),
        parts=tuple(part for _, part in parts if part is not None),
        discs=discs_of(case),
        centre=tuple(middle(column) for column in computed.masses.centre.T),  # type: ignore[arg-type]
        strips=strips_of(case),
        holes=holes_of(case),
        rods=rods_of(case),
        unplaced=tuple(item.name for item, part in parts if part is None),
    )


def draw(path: Path, file: Path, settings: Settings, *, force: bool = False) -> Drawn:
    """Draw a plane into a file, SVG or PNG by its ending."""
    free(file, ENDINGS, force=force)
    _, case = opened(path, settings)
    sheet = sheet_of(case, settings)
    svg = composition.drawing(sheet)
    content = svg.encode()
    if file.suffix.lower() == ".png":
        content = picture(svg, max(composition.layout(sheet).extent))
    put(file, content, force=force)
    return Drawn(file=file, parts=len(sheet.parts), unplaced=sheet.unplaced)
