"""The airframe as lattice surfaces: as drawn, and once for each thing a ruler can get wrong.

The lattice is solved for all of them at once; every sample then takes the drawn plane plus its
own errors times the differences. That is exact to first order, and a thousand planes cost as much
as the twenty or thirty geometries (compared with solving each sample in the tests).
"""

from dataclasses import dataclass

import numpy as np

from foamwright.model import spreads
from foamwright.model.ensemble import Draws
from foamwright.model.foam import is_mirrored, relative_thickness
from foamwright.model.outlines import (
    FROM_OUTLINE,
    NO_OUTLINES,
    Outlines,
    OwnSection,
    said_of,
)
from foamwright.physics.arrays import Samples
from foamwright.physics.lift.panels import Flap
from foamwright.physics.lift.panels import Surface as LatticeSurface
from foamwright.plane.airframe import Airframe, ControlSurface, Station, Surface
from foamwright.quantity import Quantity

PITCH, ROLL, YAW = "pitch", "roll", "yaw"
"""Names of the lattice's flap states; positive turns the nose down, the right wing down, the nose
right where it is a trailing edge down, right up and left down, to the right."""

PITCH_ROLES = ("elevator", "elevon", "ruddervator")
ROLL_ROLES = ("aileron", "elevon")
YAW_ROLES = ("rudder", "ruddervator")

THROUGH = ("wing", "canard", "tail")
"""Roles that reach the middle line: the lattice would else see a slot there."""

SPANWISE = {"wing": 12, "tail": 6, "vee tail": 6, "fin": 4, "canard": 6, "strake": 3}
"""Strips of a half surface by role."""

DEFAULT_CAMBER = 0.02
"""Camber of a foil section that was not measured [chord]; common practice, no source."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Geometry:
    """What the ruler says of one surface; arrays over its s stations."""

    leading_edge: np.ndarray
    """(s, 3) [m]."""
    chord: np.ndarray
    """(s,) [m]."""
    twist: np.ndarray
    """(s,) [rad]."""
    camber: np.ndarray
    """(s,) [-]."""


@dataclass(frozen=True, kw_only=True, slots=True)
class RulerError:
    """One thing a ruler can get wrong, one standard deviation of it."""

    key: str
    """Its dotted path in the plane file."""
    label: str
    """The builder's words for it."""
    surface: int
    """Which surface it changes."""
    field: str
    """Which field of the geometry."""
    change: np.ndarray
    """What is added to that field."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Drawn:
    """All surfaces, batched: the drawn geometry first, then one for each error."""

    surfaces: tuple[LatticeSurface, ...]
    """Batched over 1 + errors geometries."""
    errors: tuple[RulerError, ...]
    """In the order of the batch."""
    assumed: tuple[str, ...]
    """What was assumed."""
    outlines: Outlines
    """Own sections by surface."""

    def at_samples(self, values: Samples, draws: Draws) -> Samples:
        """Return (n, ...) values of the samples from (1 + errors, ...) values of the geometries."""
        if not self.errors:
            return np.repeat(values[:1], draws.samples, axis=0)
        normals = np.stack([draws.normal(e.key, e.label) for e in self.errors], axis=-1)
        flat = values.reshape(values.shape[0], -1)
        samples = flat[0] + normals @ (flat[1:] - flat[0])
        found: Samples = samples.reshape((draws.samples, *values.shape[1:]))
        return found


def spread_of(quantity: Quantity | None, default: float) -> float:
    """Return the spread the builder wrote, or the default [SI]."""
    if quantity is None or quantity.spread is None:
        return default
    return quantity.spread


def camber_of(station: Station, surface: Surface) -> float:
    """Return the camber as a share of the chord; sheets and tails are flat unless written."""
    if station.camber is not None:
        if station.camber.dimension == "length":
            return station.camber.value / station.chord.value
        return station.camber.value
    cambered = surface.role == "wing" and surface.profile == "foil"
    return DEFAULT_CAMBER if cambered else 0.0


def geometry_of(surface: Surface, section: OwnSection | None = None) -> Geometry:
    """Return a surface as arrays; heights come from the dihedral where none are written.

    The mean line is that of its own section, if it has one and no station writes its camber.
    """
    stations = surface.stations
    y = np.array([0.0 if s.y is None else s.y.value for s in stations])
    z = np.array([0.0 if s.z is None else s.z.value for s in stations])
    if surface.dihedral is not None and all(s.z is None for s in stations):
        z = z + (y - y[0]) * np.tan(surface.dihedral.value)
    edge = np.array([s.leading_edge.value for s in stations])
    twist = np.array([0.0 if s.twist is None else s.twist.value for s in stations])
    # A wing drawn from the side of the body on is carried through it.
    through = surface.role in THROUGH and y[0] > 0.0
    y[0] = 0.0 if through else y[0]
    camber = np.array([camber_of(s, surface) for s in stations])
    if section is not None:
        line, turned = section.as_lattice_line()
        own = np.array([s.camber is not None and s.camber.text == FROM_OUTLINE for s in stations])
        camber, twist = np.where(own, line, camber), twist + np.where(own, turned, 0.0)
    return Geometry(
        leading_edge=np.stack([edge, y, z], axis=-1),
        chord=np.array([s.chord.value for s in stations]),
        twist=twist,
        camber=camber,
    )


def ruler_errors(index: int, surface: Surface) -> list[RulerError]:
    """Return what a ruler can get wrong on one surface."""
    geometry = geometry_of(surface)
    base = f"airframe.surfaces.{surface.name}"
    count = len(surface.stations)
    errors = []

    def error(key: str, words: str, field: str, change: np.ndarray) -> None:
        found = RulerError(
            key=f"{base}.{key}",
            label=f"{surface.name}: {words}",
            surface=index,
            field=field,
            change=change,
        )
        if np.any(change):
            errors.append(found)

    for number, station in enumerate(surface.stations):
        unit = np.zeros(count)
        unit[number] = 1.0
        edge = np.zeros((count, 3))
        edge[number, 0] = spread_of(station.leading_edge, spreads.RULER)
        error(f"stations.{number}.leading_edge", "leading edge", "leading_edge", edge)
        error(
            f"stations.{number}.chord",
            "chord",
            "chord",
            unit * spread_of(station.chord, spreads.RULER),
        )
    tip = surface.stations[-1]
    reach = geometry.leading_edge[-1] - geometry.leading_edge[0]
    stretch = np.zeros((count, 3))
    axis = 1 if abs(reach[1]) >= abs(reach[2]) else 2
    stretch[-1, axis] = spread_of(tip.y if axis == 1 else tip.z, spreads.RULER)
    error("span", "span", "leading_edge", stretch)
    rigging = spread_of(surface.stations[0].twist, spreads.TWIST)
    error("twist", "rigging angle", "twist", np.full(count, rigging))
    if surface.profile == "foil" and surface.role in ("wing", "canard"):
        camber_spread = spread_of(surface.stations[0].camber, spreads.CAMBER)
        if surface.stations[0].camber and surface.stations[0].camber.dimension == "length":
            camber_spread /= surface.stations[0].chord.value
        error("camber", "camber", "camber", np.full(count, camber_spread))
    return errors


def lattice_flaps(controls: tuple[ControlSurface, ...]) -> tuple[Flap, ...]:
    """Return control surfaces as the lattice's flap states."""
    flaps = []
    for control in controls:
        gains = []
        if control.role in PITCH_ROLES:
            gains.append((PITCH, 1.0, 1.0))
        if control.role in ROLL_ROLES:
            gains.append((ROLL, -1.0, 1.0))
        if control.role in YAW_ROLES:
            gains.append((YAW, 1.0, -1.0))
        flaps += [
            Flap(
                name=name,
                start=control.start.value,
                end=control.end.value,
                chord_fraction=control.chord_fraction.value,
                gain_right=right,
                gain_left=left,
            )
            for name, right, left in gains
        ]
    return tuple(flaps)


def drawn(airframe: Airframe, outlines: Outlines = NO_OUTLINES) -> Drawn:
    """Return all surfaces of an airframe with what a ruler can get wrong."""
    errors = [e for i, s in enumerate(airframe.surfaces) for e in ruler_errors(i, s)]
    surfaces = []
    assumed = []
    for index, surface in enumerate(airframe.surfaces):
        geometry = geometry_of(surface, outlines.get(index))
        fields: dict[str, np.ndarray] = {}
        for name in ("leading_edge", "chord", "twist", "camber"):
            value = getattr(geometry, name)
            batch = np.repeat(value[None], 1 + len(errors), axis=0)
            for number, error in enumerate(errors):
                if error.surface == index and error.field == name:
                    batch[1 + number] += error.change
            fields[name] = batch
        surfaces.append(
            LatticeSurface(
                leading_edge=fields["leading_edge"],
                chord=fields["chord"],
                twist=fields["twist"],
                camber=fields["camber"],
                mirrored=is_mirrored(surface),
                flaps=lattice_flaps(surface.controls),
                spanwise=SPANWISE[surface.role],
                chordwise=3,
            )
        )
        if index in outlines:
            assumed.append(said_of(surface, outlines[index]))
        if surface.profile == "foil" and any(s.camber is None for s in surface.stations):
            camber = camber_of(surface.stations[0], surface)
            assumed.append(f"{surface.name}: camber not measured, {camber:.0%} of the chord")
        if any(s.thickness is None for s in surface.stations):
            thickness = relative_thickness(surface.stations[0])
            assumed.append(f"{surface.name}: thickness not measured, {thickness:.0%} of the chord")
    return Drawn(
        surfaces=tuple(surfaces),
        errors=tuple(errors),
        assumed=tuple(assumed),
        outlines=outlines,
    )
