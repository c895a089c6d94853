"""What a plane file's numbers must be to each other; every finding at once."""

import itertools
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from foamwright.plane.airframe import Surface
from foamwright.plane.data_files import read_blade, read_coefficients, read_coordinates
from foamwright.plane.gear import Pack, Propeller
from foamwright.plane.plane import Plane
from foamwright.problems import DataFileProblem
from foamwright.quantity import Quantity, show

Path_ = tuple[str | int, ...]

SPANS = (0.2, 2.0)
"""Spans of planes this is made for [m]."""

CHORDS = (0.03, 0.6)
"""Mean chords of their wings [m]."""

LOADINGS = (0.2, 15.0)
"""Wing loadings any foam plane can have [kg m^-2]: 2 to 150 g/dm2."""

USUAL_LOADINGS = (0.5, 8.0)
"""Wing loadings of most of them [kg m^-2]: 5 to 80 g/dm2; common practice, no source."""

UNITS_MEANT = ((10.0, "cm"), (25.4, "inches"), (1000.0, "metres"))
"""What may have been measured in where millimetres were written, with its factor."""

LIGHTEST_PLANE = 1.2
"""Least mass of a whole plane over that of its heaviest pack [-]."""

LIGHTEST_FOAM = 0.05
"""Least foam over wing area [kg m^-2]: 2 mm of the lightest sheet, 28 kg/m3, weigh 0.056."""

OVERHANG = 0.3
"""How far outside the foam a part's middle may be [m]."""

LIGHTEST_PACK = 0.6
"""Least mass of a pack over what its label allows [-]."""

OUNCE = 0.028349523125


@dataclass(frozen=True, kw_only=True, slots=True)
class Objection:
    """One thing that does not fit."""

    path: Path_
    """Where, as in the parsed file."""
    what: str
    expected: str = ""


def names(plane: Plane) -> Iterator[Objection]:
    """Object to two items of one name."""
    seen: set[str] = set()
    for index, item in enumerate(plane.items):
        if item.name in seen:
            yield Objection(
                path=("items", index, "name"),
                what=f"two items are called '{item.name}'",
                expected="give each its own name",
            )
        if "." in item.name:
            yield Objection(path=("items", index, "name"), what="a name may hold no dot")
        seen.add(item.name)


def surface_order(index: int, surface: Surface) -> Iterator[Objection]:
    """Object to stations that are too few, out of order or without a chord."""
    path: Path_ = ("airframe", "surfaces", index, "stations")
    if len(surface.stations) < 2:
        yield Objection(path=path, what="has one station", expected="root and tip at least")
        return
    axis = "z" if surface.role == "fin" else "y"
    places = [getattr(station, axis) for station in surface.stations]
    values = [0.0 if place is None else place.value for place in places]
    for number, (before, after) in enumerate(itertools.pairwise(values)):
        if after <= before:
            yield Objection(
                path=(*path, number + 1, axis),
                what=f"station {number + 2} lies at {axis} = {show(after, 'length')}, not beyond "
                f"station {number + 1} at {show(before, 'length')}",
                expected="list stations from root to tip",
            )
    if axis == "y" and values[0] < 0:
        yield Objection(
            path=(*path, 0, "y"), what="y is negative", expected="give the right half only"
        )
    for number, station in enumerate(surface.stations):
        if station.chord.value <= 0:
            yield Objection(path=(*path, number, "chord"), what="the chord is not positive")
        thick = station.thickness
        if thick is not None:
            share = thick.value / (station.chord.value if thick.dimension == "length" else 1.0)
            if not 0.0 < share < 0.5:
                yield Objection(
                    path=(*path, number, "thickness"),
                    what=f"no section is {share:.0%} of its chord thick",
                    expected='for instance "9 %" or "12 mm"; '
                    f"or is the chord of {station.chord.text} wrong?",
                )


def surfaces(plane: Plane) -> Iterator[Objection]:
    """Object to surfaces and their controls."""
    items = {item.name for item in plane.items}
    if not any(s.role == "wing" for s in plane.airframe.surfaces):
        yield Objection(
            path=("airframe", "surfaces"), what="no surface has the role 'wing'", expected="add one"
        )
    for index, surface in enumerate(plane.airframe.surfaces):
        yield from surface_order(index, surface)
        for number, control in enumerate(surface.controls):
            path: Path_ = ("airframe", "surfaces", index, "controls", number)
            if not 0.0 <= control.start.value < control.end.value <= 1.0:
                yield Objection(
                    path=(*path, "start"),
                    what="start and end do not lie in order between 0 and 100 %",
                )
            if not 0.02 <= control.chord_fraction.value <= 0.8:
                yield Objection(
                    path=(*path, "chord_fraction"),
                    what=f"{control.chord_fraction.text} of the chord is no control surface",
                    expected="2 to 80 %",
                )
            if control.servo is not None and control.servo not in items:
                yield Objection(
                    path=(*path, "servo"),
                    what=f"there is no item '{control.servo}'",
                    expected="the name of a servo",
                )


def extent(plane: Plane) -> tuple[float, float]:
    """Return foremost and rearmost x of the foam [m]."""
    edges = [
        x
        for surface in plane.airframe.surfaces
        for s in surface.stations
        for x in (s.leading_edge.value, s.leading_edge.value + s.chord.value)
    ]
    edges += [s.x.value for body in plane.airframe.bodies for s in body.stations]
    return min(edges, default=0.0), max(edges, default=0.0)


def places(plane: Plane) -> Iterator[Objection]:
    """Object to places outside the plane and outside their own reach."""
    front, rear = extent(plane)
    room = f"the foam reaches from {show(front, 'length')} to {show(rear, 'length')}"
    balance = plane.airframe.bare_balance
    if balance is not None and not front <= balance.x.value <= rear:
        yield Objection(
            path=("airframe", "bare_balance", "x"),
            what=f"bare foam cannot balance at {balance.x.text}",
            expected=room,
        )
    for body_index, body in enumerate(plane.airframe.bodies):
        along = [s.x.value for s in body.stations]
        if len(along) < 2 or any(b <= a for a, b in itertools.pairwise(along)):
            yield Objection(
                path=("airframe", "bodies", body_index, "stations"),
                what="body stations are not in order from nose to tail",
                expected="two at least, x rising",
            )
    for index, item in enumerate(plane.items):
        if item.at is None:
            continue
        x = item.at.x.value
        if not front - OVERHANG <= x <= rear + OVERHANG:
            yield Objection(
                path=("items", index, "at", "x"),
                what=f"{item.name} at {item.at.x.text} is far outside the plane",
                expected=room,
            )
        reach = item.reach
        if reach and not reach.foremost.value <= x <= reach.rearmost.value:
            yield Objection(
                path=("items", index, "at", "x"),
                what=f"{item.name} at {item.at.x.text} is outside its own reach",
                expected=f"{reach.foremost.text} to {reach.rearmost.text}",
            )


def label_mass(pack: Pack) -> float:
    """Return a usual pack's mass from its label [kg]; common practice, no source.

    Single cells come with a tiny plug, 4 g less.
    """
    if pack.cells is None or pack.capacity is None:
        return 0.0
    plug = 4.0 if pack.cells > 1 else 0.0
    return (plug + pack.cells * (0.6 + 26.0 * pack.capacity.value / 3600.0)) * 1e-3


def packs(plane: Plane) -> Iterator[Objection]:
    """Object to packs lighter than their label allows."""
    for index, item in enumerate(plane.items):
        if isinstance(item, Pack) and item.mass is not None and "mass" not in item.from_stock:
            usual = label_mass(item)
            if item.mass.value < LIGHTEST_PACK * usual:
                yield Objection(
                    path=("items", index, "mass"),
                    what=f"{item.mass.text} is too light for {item.cells}S "
                    f"{show(item.capacity.value if item.capacity else 0.0, 'charge')}",
                    expected=f"such packs weigh about {show(usual, 'mass')}",
                )


def mass_line(plane: Plane) -> Iterator[Objection]:
    """Object to a mass line that the pack alone would break."""
    line = plane.targets.mass_line
    heaviest = max((label_mass(i) for i in plane.items if isinstance(i, Pack)), default=0.0)
    if line is not None and line.value < heaviest:
        ounces = show(line.value * 1e3 * OUNCE, "mass")
        yield Objection(
            path=("targets", "mass_line"),
            what=f"{line.text} for the whole plane is less than its pack weighs, "
            f"{show(heaviest, 'mass')}",
            expected=f"{ounces}, if ounces were meant",
        )


def half_wing(surface: Surface) -> tuple[float, float]:
    """Return area of both halves and span of a wing [m^2, m]."""
    y = np.array([0.0 if s.y is None else s.y.value for s in surface.stations])
    chord = np.array([s.chord.value for s in surface.stations])
    area = 2.0 * float(np.trapezoid(chord, y)) + 2.0 * float(y[0] * chord[0])
    return area, 2.0 * float(y[-1])


def listed_mass(plane: Plane) -> float:
    """Return the sum of all written and stock masses [kg]."""
    bare = plane.airframe.bare_mass
    total = 0.0 if bare is None else bare.value
    return total + sum(i.mass.value * i.count for i in plane.items if i.mass is not None)


def within(value: float, limits: tuple[float, float]) -> bool:
    """Return whether a value lies within limits."""
    return limits[0] <= value <= limits[1]


def is_wing_size(span: float, chord: float) -> bool:
    """Return whether a wing of that span and mean chord can be meant [m, m]."""
    return within(span, SPANS) and within(chord, CHORDS)


def scale(plane: Plane) -> Iterator[Objection]:
    """Object to a plane that was measured in other units than were written (cm as mm, oz as g).

    With both wrong, each proposal shows what comes out once the other is mended too.
    """
    for index, surface in enumerate(plane.airframe.surfaces):
        if surface.role != "wing":
            continue
        area, span = half_wing(surface)
        path: Path_ = ("airframe", "surfaces", index, "stations")
        heavier = in_ounces(plane, area)
        mass = listed_mass(plane) if heavier is None else heavier
        sizes = meant_sizes(span, area / span, mass)
        if not is_wing_size(span, area / span):
            yield Objection(path=path, what=small(span, area / span), expected=proposed(sizes))
        elif heavier is None and not within(mass / area, LOADINGS):
            yield Objection(
                path=path,
                what=f"{show(mass, 'mass')} on {show(area, 'area')} is a wing loading of "
                f"{show(mass / area, 'wing loading')}, outside any foam plane",
                expected="check chord, span and masses",
            )
        if heavier is not None:
            factor = sizes[0][0] if sizes and not is_wing_size(span, area / span) else 1.0
            yield too_light(plane, heavier, heavier / (area * factor**2))
        return


def small(span: float, chord: float) -> str:
    """Return what is wrong with a wing of that size."""
    return (
        f"a span of {show(span, 'length')} with a mean chord of {show(chord, 'length')} is outside "
        "any plane this is made for"
    )


def meant_sizes(span: float, chord: float, mass: float) -> list[tuple[float, str, str]]:
    """Return factor, unit and proposal of each unit that may have been meant, likeliest first."""
    found = []
    for factor, unit in UNITS_MEANT:
        wide, deep = span * factor, chord * factor
        loading = mass / (wide * deep)
        if is_wing_size(wide, deep) and within(loading, LOADINGS):
            text = (
                f"{show(deep, 'length')}? {show(wide, 'length')}? If {unit} were meant, chord and "
                f"span would be that and the wing loading {show(loading, 'wing loading')}"
            )
            found.append((factor, unit, text, loading))
    usual = [entry for entry in found if within(entry[3], USUAL_LOADINGS)] or found
    return [(factor, unit, text) for factor, unit, text, _ in usual]


def proposed(sizes: list[tuple[float, str, str]]) -> str:
    """Return the proposals as one text."""
    limits = f"spans of {show(SPANS[0], 'length')} to {show(SPANS[1], 'length')}"
    return "; or ".join(text for _, _, text in sizes) or limits


def lighter_than_its_pack(plane: Plane) -> bool:
    """Return whether the whole plane is hardly heavier than its own pack."""
    heaviest = max((label_mass(i) for i in plane.items if isinstance(i, Pack)), default=0.0)
    return listed_mass(plane) < LIGHTEST_PLANE * heaviest


def in_ounces(plane: Plane, area: float) -> float | None:
    """Return the whole mass with the foam's in ounces, if as written it cannot be [kg]."""
    bare = plane.airframe.bare_mass
    if bare is None:
        return None
    if not lighter_than_its_pack(plane) and bare.value >= LIGHTEST_FOAM * area:
        return None
    return listed_mass(plane) + bare.value * (1e3 * OUNCE - 1.0)


def too_light(plane: Plane, heavier: float, loading: float) -> Objection:
    """Return the objection to a plane hardly heavier than its own pack, or to foam like paper."""
    bare = plane.airframe.bare_mass
    grams = 0.0 if bare is None else bare.value * 1e3 * OUNCE
    what = f"all of it would weigh {show(listed_mass(plane), 'mass')}, hardly more than its pack"
    if not lighter_than_its_pack(plane) and bare is not None:
        what = f"{bare.text} of foam for such a wing would be thinner than any sheet"
    return Objection(
        path=("airframe", "bare_mass"),
        what=what,
        expected=f"{show(grams, 'mass')}? If ounces were meant, all of it would weigh "
        f"{show(heavier, 'mass')} and the wing loading be {show(loading, 'wing loading')}",
    )


def data_files(plane: Plane, folder: Path) -> Iterator[Objection]:
    """Object to files of numbers that are missing or no such files."""
    wanted: list[tuple[Path_, str, object]] = [
        (("airframe", "surfaces", i, "coordinates"), s.coordinates, read_coordinates)
        for i, s in enumerate(plane.airframe.surfaces)
        if s.coordinates is not None
    ]
    for index, item in enumerate(plane.items):
        if isinstance(item, Propeller):
            if item.blade is not None:
                wanted.append((("items", index, "blade"), item.blade, read_blade))
            if item.coefficients is not None:
                path: Path_ = ("items", index, "coefficients")
                wanted.append((path, item.coefficients, read_coefficients))
    for path, name, reader in wanted:
        if Path(name).is_absolute() or ".." in Path(name).parts:
            what = f"{name} does not lie beside the plane file"
            yield Objection(path=path, what=what, expected="copy it there, and give its name")
            continue
        try:
            if callable(reader):
                reader(folder / name)
        except DataFileProblem as problem:
            finding = problem.findings[0]
            line = f", line {finding.line}" if finding.line else ""
            yield Objection(
                path=path, what=f"{name}{line}: {finding.what}", expected=finding.expected
            )


def money(plane: Plane) -> Iterator[Objection]:
    """Object to money written in another currency than the plane's: nothing is converted."""
    told: list[tuple[tuple[str | int, ...], Quantity | None]] = [
        (("targets", "budget"), plane.targets.budget)
    ]
    told += [
        (("items", index, "price"), item.price)
        for index, item in enumerate(plane.items)
        if "price" not in item.from_stock
    ]
    for path, price in told:
        if price is not None and plane.currency not in price.text:
            what = f"'{price.text}' is no {plane.currency}"
            yield Objection(path=path, what=what, expected="or set currency")
