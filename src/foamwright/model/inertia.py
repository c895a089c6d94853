"""Inertia of the plane: foam cut into pieces, every item a box where it sits, or a swing.

Body axes x forward, y right, z down. The plane file's run x aft and z up: both are turned, so
the product of x and z keeps its sign and the other two change theirs.
"""

from collections.abc import Mapping
from typing import Literal

import numpy as np

from foamwright.model.ensemble import Draws
from foamwright.model.foam import FILL, is_mirrored, relative_thickness, span_coordinate
from foamwright.model.masses import LOOSE_KINDS, Masses, MassPoint
from foamwright.physics.arrays import Samples
from foamwright.physics.frame.mass import inertia
from foamwright.plane.airframe import Airframe, Body, Surface
from foamwright.plane.plane import Plane

Axis = Literal["roll", "pitch", "yaw"]
Swing = tuple[float, float]
"""A swung moment of inertia and its spread [kg m^2]."""
AXES: dict[Axis, int] = {"roll": 0, "pitch": 1, "yaw": 2}
"""Which diagonal of the tensor an axis is."""

MODEL_LN = 0.12
"""ln spread of inertia from boxes where nothing was swung: where inside a shell its mass lies,
wires and servos between the places written; common practice, no source."""

INERTIA_INPUT = ("model.inertia", "inertia from the mass list")
"""Key and label of that error."""

ROD_SHARE = 0.7
"""Length of rods without a size, as a share of the span [-]; common practice, no source."""

PIECES = 10
"""Pieces of a half surface or a body."""

MASS_MIDDLE = 0.42
"""Where along its chord the mass of a foil section lies [-]; as for the bare foam's balance."""

TURN = np.diag([-1.0, 1.0, -1.0])
"""From the plane file's axes to body axes."""

Pieces = tuple[np.ndarray, np.ndarray, np.ndarray]
"""Volumes (k,) [m^3], middles (k, 3) [m], sizes (k, 3) [m]."""


def surface_pieces(surface: Surface) -> Pieces:
    """Return a surface with its twin, cut along its span."""
    along = span_coordinate(surface)
    edges = np.linspace(0.0, along[-1], PIECES + 1)
    middle, step = 0.5 * (edges[1:] + edges[:-1]), np.diff(edges)

    def at(values: list[float]) -> np.ndarray:
        return np.interp(middle, along, values)

    stations = surface.stations
    chord = at([s.chord.value for s in stations])
    depth = at([relative_thickness(s) for s in stations]) * chord
    y = at([0.0 if s.y is None else s.y.value for s in stations])
    heights = np.array([0.0 if s.z is None else s.z.value for s in stations])
    if surface.dihedral is not None and all(s.z is None for s in stations):
        across = np.array([0.0 if s.y is None else s.y.value for s in stations])
        heights = (across - across[0]) * np.tan(surface.dihedral.value)
    z = at(heights.tolist())
    x = at([s.leading_edge.value for s in stations]) + MASS_MIDDLE * chord
    rise = abs(z[-1] - z[0]) > abs(y[-1] - y[0])  # a fin stands up
    size = np.stack([chord, depth if rise else step, step if rise else depth], axis=-1)
    volume, place = FILL * depth * chord * step, np.stack([x, y, z], axis=-1)
    if not is_mirrored(surface):
        return volume, place, size
    twin = place * np.array([1.0, -1.0, 1.0])
    return np.tile(volume, 2), np.concatenate([place, twin]), np.tile(size, (2, 1))


def body_pieces(body: Body) -> Pieces:
    """Return a body cut along its length."""
    stations = body.stations
    x = np.array([s.x.value for s in stations])
    edges = np.linspace(x[0], x[-1], PIECES + 1)
    middle, step = 0.5 * (edges[1:] + edges[:-1]), np.diff(edges)
    width = np.interp(middle, x, [s.width.value for s in stations])
    height = np.interp(middle, x, [s.height.value for s in stations])
    z = np.interp(middle, x, [0.0 if s.z is None else s.z.value for s in stations])
    y = np.full(PIECES, 0.0 if body.y is None else body.y.value)
    # A box with the second moments of an ellipse is smaller by the root of three quarters.
    size = np.stack([step, np.sqrt(0.75) * width, np.sqrt(0.75) * height], axis=-1)
    return 0.25 * np.pi * width * height * step, np.stack([middle, y, z], axis=-1), size


def foam_pieces(airframe: Airframe) -> Pieces:
    """Return the whole bare foam in pieces."""
    parts = [surface_pieces(surface) for surface in airframe.surfaces]
    parts += [body_pieces(body) for body in airframe.bodies]
    volume, place, size = (np.concatenate(column) for column in zip(*parts, strict=True))
    return volume, place, size


def item_pieces(point: MassPoint) -> tuple[Samples, Samples, np.ndarray]:
    """Return an item as one box, or as a left and a right one: (n, k), (n, k, 3), (k, 3)."""
    if point.apart == 0.0:
        return point.mass[:, None], point.place[:, None], np.array([point.size])
    aside = np.array([0.0, point.apart, 0.0])
    half = np.repeat(0.5 * point.mass[:, None], 2, axis=1)
    place = np.stack([point.place + aside, point.place - aside], axis=1)
    return half, place, np.array([point.size, point.size])


def spread_like_foam(point: MassPoint, foam: Pieces) -> tuple[Samples, Samples, np.ndarray]:
    """Return a mass that lies along the foam, balancing where it was placed."""
    volume, place, size = foam
    share = volume / volume.sum()
    return point.mass[:, None] * share, place + (point.place - share @ place)[:, None], size


def long_rods(plane: Plane) -> dict[str, tuple[float, float, float]]:
    """Return the boxes of rods without a size: spars across the wing."""
    span = max(2.0 * s.y.value for s in plane.airframe.surfaces[0].stations if s.y is not None)
    box = (0.005, ROD_SHARE * span, 0.005)
    return {i.name: box for i in plane.items if i.kind == "rod" and i.size is None}


def listed_inertia(plane: Plane, found: Masses) -> Samples:
    """Return the tensor (n, 3, 3) [kg m^2] from the mass list, body axes."""
    foam = foam_pieces(plane.airframe)
    kinds = {item.name: item.kind for item in plane.items}
    rods = long_rods(plane)
    parts = []
    for number, point in enumerate(found.points):
        if number == 0 or kinds.get(point.name, "allowance") in LOOSE_KINDS:
            parts.append(spread_like_foam(point, foam))
        elif point.name in rods:
            parts.append((point.mass[:, None], point.place[:, None], np.array([rods[point.name]])))
        else:
            parts.append(item_pieces(point))
    masses, places, sizes = zip(*parts, strict=True)
    tensor = inertia(
        np.concatenate(masses, axis=1),
        np.concatenate(places, axis=1),
        np.concatenate(sizes),
    )
    return np.asarray(TURN @ tensor @ TURN)


def swing_input(axis: Axis) -> tuple[str, str]:
    """Return key and label of a swing's error."""
    return f"bench.swing.{axis}", f"inertia in {axis}, swung"


def inertia_of(
    plane: Plane,
    found: Masses,
    draws: Draws,
    swings: Mapping[Axis, Swing] | None = None,
) -> Samples:
    """Return the tensor (n, 3, 3) [kg m^2] about the centre of gravity, body axes.

    A swing about an axis, with its spread, takes the place of that axis' estimate.
    """
    factor = draws.factor(MODEL_LN, key=INERTIA_INPUT[0], label=INERTIA_INPUT[1])
    tensor = listed_inertia(plane, found) * factor[:, None, None]
    for axis, swung in (swings or {}).items():
        place = AXES[axis]
        key, label = swing_input(axis)
        tensor[:, place, place] = draws.around(*swung, key=key, label=label)
    return tensor


def inertia_assumed(plane: Plane, swings: Mapping[Axis, Swing] | None = None) -> tuple[str, ...]:
    """Return what was assumed of where the mass lies; nothing where all axes were swung."""
    unswung = [axis for axis in AXES if axis not in (swings or {})]
    if not unswung:
        return ()
    text = (
        f"inertia in {', '.join(unswung)} from the mass list, within {MODEL_LN:.0%} beyond its "
        "masses and places; a swing on two cords settles it"
    )
    said = [text]
    if rods := long_rods(plane):
        said.append(
            f"{', '.join(rods)}: no size written, taken as spars over {ROD_SHARE:.0%} of the span"
        )
    return tuple(said)
