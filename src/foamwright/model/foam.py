"""The bare foam as a mass: weighed, or estimated from its volumes."""

from dataclasses import dataclass

import numpy as np

from foamwright.model import spreads
from foamwright.model.ensemble import Draws
from foamwright.physics.arrays import Samples
from foamwright.plane.airframe import Airframe, Body, Foam, Station, Surface
from foamwright.quantity import show

DENSITY: dict[Foam, tuple[float, float]] = {
    "EPS": (20.0, 5.0),
    "EPP": (28.0, 8.0),
    "EPO": (28.0, 5.0),
    "XPS": (34.0, 5.0),
}
"""Density and its spread [kg m^-3]; common practice, no source."""

SHELL = (1.5, 0.45)
"""Mass of a bare shell over that of plain foam of its volume, and relative spread: joiners, plastic
parts, paint, denser skins; common practice, no source. A weighing settles it."""

FILL = 0.68
"""Area of a foil section over thickness times chord [-] (NACA four-digit shape: 0.685)."""

DEFAULT_THICKNESS = 0.08
"""Thickness of a section that was not measured [chord]."""

PIECES = 65
"""Cuts along a surface or body."""

Solid = tuple[float, float]
"""Volume and x of its centre [m^3, m]."""


@dataclass(frozen=True, kw_only=True, slots=True)
class FoamBody:
    """The bare airframe's mass and balance."""

    mass: Samples
    """(n,) [kg]."""
    place: Samples
    """(n, 3) [m]."""
    size: tuple[float, float, float]
    """Overall length, span and height [m]."""
    estimated: bool
    """Whether the mass was never weighed."""


def relative_thickness(station: Station) -> float:
    """Return the thickness of a section as a share of its chord."""
    if station.thickness is None:
        return DEFAULT_THICKNESS
    if station.thickness.dimension == "length":
        return station.thickness.value / station.chord.value
    return station.thickness.value


def span_coordinate(surface: Surface) -> np.ndarray:
    """Return the (s,) distance along the surface from its root [m]."""
    y = np.array([0.0 if s.y is None else s.y.value for s in surface.stations])
    z = np.array([0.0 if s.z is None else s.z.value for s in surface.stations])
    steps = np.hypot(np.diff(y), np.diff(z))
    return np.concatenate([[0.0], np.cumsum(steps)])


def is_mirrored(surface: Surface) -> bool:
    """Return whether a surface has a twin on the left."""
    return surface.role != "fin" if surface.mirrored is None else surface.mirrored


def solid(along: np.ndarray, sides: tuple[np.ndarray, np.ndarray], places: np.ndarray) -> Solid:
    """Return volume and x of the centre of a solid that runs straight between its cuts.

    A cut is as large as the product of its two `sides`, and its middle lies at x = `places`; all
    arrays are over the cuts (s,). The product is no straight line, so each piece is divided.
    """
    fine = np.union1d(np.linspace(along[0], along[-1], PIECES), along)
    first, second, place = (np.interp(fine, along, values) for values in (*sides, places))
    cut = first * second
    volume = float(np.trapezoid(cut, fine))
    return volume, float(np.trapezoid(cut * place, fine)) / max(volume, 1e-12)


def surface_volume(surface: Surface) -> Solid:
    """Return the foam volume of a surface with its twin, and the x of its centre [m^3, m]."""
    chord = np.array([s.chord.value for s in surface.stations])
    edge = np.array([s.leading_edge.value for s in surface.stations])
    thickness = chord * np.array([relative_thickness(s) for s in surface.stations])
    half, centre = solid(span_coordinate(surface), (FILL * thickness, chord), edge + 0.42 * chord)
    return half * (2.0 if is_mirrored(surface) else 1.0), centre


def body_volume(body: Body) -> Solid:
    """Return the volume of a body of elliptic cuts, and the x of its centre [m^3, m]."""
    x = np.array([s.x.value for s in body.stations])
    width = np.array([s.width.value for s in body.stations])
    height = np.array([s.height.value for s in body.stations])
    return solid(x, (0.25 * np.pi * width, height), x)


def volumes(airframe: Airframe) -> Solid:
    """Return the volume of the solid foam and the x of its centre [m^3, m]."""
    parts = [surface_volume(surface) for surface in airframe.surfaces]
    parts += [body_volume(body) for body in airframe.bodies]
    total = sum(volume for volume, _ in parts)
    return total, sum(volume * centre for volume, centre in parts) / max(total, 1e-12)


def bare_foam(airframe: Airframe, draws: Draws) -> tuple[FoamBody, tuple[str, ...]]:
    """Return the bare foam, and what was assumed about it."""
    volume, centre = volumes(airframe)
    assumed = []
    if airframe.bare_mass is not None:
        mass = draws.written(
            airframe.bare_mass, spreads.SCALE, key="airframe.bare_mass", label="bare foam mass"
        )
    else:
        density, density_spread = DENSITY[airframe.foam]
        usual = SHELL[0] * density * volume
        relative = float(np.hypot(density_spread / density, SHELL[1]))
        mass = draws.around(
            usual, relative * usual, key="airframe.bare_mass", label="bare foam mass"
        )
        assumed.append(
            f"bare foam not weighed: {show(usual, 'mass')} within {relative:.0%}, from its volume, "
            f"the density of {airframe.foam} and half as much again for what shells come with"
        )
    place, guess = balance_point(airframe, draws, centre)
    body = FoamBody(
        mass=np.maximum(mass, 1e-4),
        place=place,
        size=extent(airframe),
        estimated=airframe.bare_mass is None,
    )
    return body, (*assumed, *guess)


def balance_point(
    airframe: Airframe, draws: Draws, centre: float
) -> tuple[Samples, tuple[str, ...]]:
    """Return where the bare foam balances (n, 3), and what was assumed."""
    label = "bare foam balance"
    given = airframe.bare_balance
    lateral = draws.around(
        0.0 if given is None or given.y is None else given.y.value,
        spreads.PLACE_YZ,
        key="airframe.bare_balance.y",
        label=label,
    )
    height = np.full(draws.samples, 0.0 if given is None or given.z is None else given.z.value)
    key = "airframe.bare_balance.x"
    if given is not None:
        x = draws.written(given.x, spreads.BARE_BALANCE, key=key, label=label)
        return np.stack([x, lateral, height], axis=-1), ()
    x = draws.around(centre, spreads.BARE_BALANCE_GUESSED, key=key, label=label)
    text = (
        f"bare foam's balance not measured: {show(centre, 'length')} ± "
        f"{show(spreads.BARE_BALANCE_GUESSED, 'length')} from its volumes"
    )
    return np.stack([x, lateral, height], axis=-1), (text,)


def extent(airframe: Airframe) -> tuple[float, float, float]:
    """Return overall length, span and height [m]."""
    edges = [
        (s.leading_edge.value, s.leading_edge.value + s.chord.value)
        for surface in airframe.surfaces
        for s in surface.stations
    ]
    edges += [(s.x.value, s.x.value) for body in airframe.bodies for s in body.stations]
    span = max(
        (0.0 if s.y is None else s.y.value) * (2.0 if is_mirrored(surface) else 1.0)
        for surface in airframe.surfaces
        for s in surface.stations
    )
    heights = [s.height.value for body in airframe.bodies for s in body.stations]
    length = max(rear for _, rear in edges) - min(front for front, _ in edges)
    return length, span, max(heights, default=0.03)
