"""Surfaces cut into horseshoe panels; axes x aft, y right, z up, chords along x.

A mirrored surface is given by its right half. An unmirrored one (a fin) lies in y = 0.
"""

from dataclasses import dataclass, replace
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from foamwright.physics.arrays import Flags, Grid, Samples
from foamwright.physics.lift.rows import Rows, rows

Indices = NDArray[np.int64]
"""Positions in another array."""

NEAR_CHORD = 0.05
"""Gap along x, in chords, up to which two surfaces still touch [-]."""
SAME_END = 0.002
"""Share of the span within which two flap ends are one: flaps that meet leave no sliver [-]."""
SAME_PLACE = 0.02
"""Share of the span within which a station gives way to a flap end [-]."""
OFF_PLANE = 0.01
"""Distance of a root from y = 0, in spans of the surface, up to which it counts as on it [-]."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Flap:
    """A hinged part of a surface; several flaps of one name move together."""

    name: str
    """The state that moves it."""
    start: float
    """Inner end, share of the surface's span coordinate [-]."""
    end: float
    """Outer end, share of the surface's span coordinate [-]."""
    chord_fraction: float
    """Chord behind the hinge over the whole chord [-]."""
    gain_right: float
    """Deflection per unit of the state, right half or the fin, trailing edge down positive [-]."""
    gain_left: float
    """Deflection per unit of the state on the left half, trailing edge down positive [-]."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Surface:
    """A thin lifting surface from root to tip, a batch of g geometries."""

    leading_edge: Samples
    """Leading edge at the s stations, (g, s, 3) [m]; the first geometry places the strips."""
    chord: Samples
    """Chord at the stations, (g, s) [m]."""
    twist: Samples
    """Nose-up angle about the surface's own span direction, (g, s) [rad]."""
    camber: Samples
    """Height of the mean line over the chord, highest at 0.4 chord, (g, s) [-]."""
    mirrored: bool
    """Whether a twin stands at -y; a root at y = 0 is carried through."""
    flaps: tuple[Flap, ...] = ()
    """The hinged parts; overlapping ones must share their hinge (elevons: two names)."""
    spanwise: int = 10
    """Strips of this half, about: flap ends and few kinks become strip edges."""
    chordwise: int = 3
    """Rows of panels; at least two where there are flaps."""
    spacing: Literal["cosine", "uniform"] = "cosine"
    """Strips closer towards free ends, or all alike."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Strips:
    """The strips of the right half and of the fins, from root to tip."""

    start: Samples
    """Inner edge in y and z, (g, m, 2) [m]."""
    end: Samples
    """Outer edge in y and z, (g, m, 2) [m]."""
    middle: Samples
    """The point midway in the spacing angle, in y and z, (g, m, 2) [m]."""
    along: Samples
    """Unit vector from root to tip in y and z, (g, m, 2) [-]; lift acts along x cross this."""
    width: Samples
    """Length in the y-z plane, (g, m) [m]."""
    chord: Samples
    """Mean chord, (g, m) [m]."""
    quarter: Samples
    """Quarter-chord point midway, (g, m, 3) [m]."""
    surface: Indices
    """Which surface it belongs to, (m,)."""
    mirrored: Flags
    """Whether a twin stands at -y, (m,)."""
    gain_right: Grid
    """Flap deflection per unit of each flap name, right half, (m, f) [-]."""
    gain_left: Grid
    """The same for the twin, (m, f) [-]."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Panels:
    """Horseshoes of the right half and of the fins; legs run aft along x."""

    start: Samples
    """Inner end of the bound vortex, (g, p, 3) [m]."""
    end: Samples
    """Outer end of the bound vortex, (g, p, 3) [m]."""
    control: Samples
    """Control points, (g, p, 3) [m]."""
    incidence: Samples
    """Local angle of twist and mean line to the x axis, (g, p) [rad]."""
    hinge: Samples
    """Angle to the flow per unit deflection of the flap the panel is on, (g, p) [-]."""
    strip: Indices
    """Which strip a panel belongs to, (p,)."""


def flap_names(surfaces: tuple[Surface, ...]) -> tuple[str, ...]:
    """Return the names of the flaps, each once, as they come [-].

    Parameters
    ----------
    surfaces : Surface
        All surfaces.

    Returns
    -------
    (f,) [-]

    Source
    ------
    own-derivation
    """
    return tuple(dict.fromkeys(flap.name for surface in surfaces for flap in surface.flaps))


def cut(surfaces: tuple[Surface, ...]) -> tuple[Strips, Panels]:
    """Return the strips and panels of all surfaces, right halves and fins only.

    Parameters
    ----------
    surfaces : Surface
        All surfaces, the same batch of geometries in each.

    Returns
    -------
    Strips [m], Panels [m]

    Valid
    -----
    Control points midway in the spacing angle: ten strips give the slope of an elliptic wing
    to 0.01 %; with points midway in the span it would be a few per cent too high.

    Source
    ------
    lan-1974, katz-plotkin-2001
    """
    names = flap_names(surfaces)
    strips: list[Strips] = []
    panels: list[Panels] = []
    before = 0
    for index, surface in enumerate(surfaces):
        others = surfaces[:index] + surfaces[index + 1 :]
        shares = _strip_edges(surface, _joints(surface, others))
        strip, panel = _cut_one(surface, shares, names)
        strips.append(replace(strip, surface=strip.surface + index))
        panels.append(replace(panel, strip=panel.strip + before))
        before += strip.surface.size
    return _joined_strips(strips), _joined_panels(panels)


def _cut_one(
    surface: Surface, shares: tuple[Grid, Grid], names: tuple[str, ...]
) -> tuple[Strips, Panels]:
    """Cut a surface at the shares of its edges and middles, numbered from nought."""
    edges, middles = shares
    stations = _span_coordinate(surface)
    flaps = [_flap_at(surface, middle) for middle in middles]
    at_edge, at_middle = _weights(edges, stations), _weights(middles, stations)
    corner = np.einsum("es,gsd->ged", at_edge, surface.leading_edge)
    corner_chord = surface.chord @ at_edge.T
    chord = 0.5 * (corner_chord[:, 1:] + corner_chord[:, :-1])
    middle = np.einsum("es,gsd->ged", at_middle, surface.leading_edge)
    middle_chord = surface.chord @ at_middle.T
    step = corner[:, 1:, 1:] - corner[:, :-1, 1:]
    width = np.hypot(step[..., 0], step[..., 1])
    quarter = middle.copy()
    quarter[..., 0] += 0.25 * middle_chord
    strips = Strips(
        start=corner[:, :-1, 1:],
        end=corner[:, 1:, 1:],
        middle=middle[..., 1:],
        along=step / width[..., None],
        width=width,
        chord=chord,
        quarter=quarter,
        surface=np.zeros(middles.size, dtype=np.int64),
        mirrored=np.full(middles.size, surface.mirrored),
        gain_right=_gains(flaps, names, "gain_right"),
        gain_left=_gains(flaps, names, "gain_left"),
    )
    cuts = _cuts(surface, flaps)
    vortex = np.stack([cut.vortex for cut in cuts])
    slope = np.stack([cut.mean_line for cut in cuts])
    moved = np.stack([cut.flap for cut in cuts])
    twist, camber = surface.twist @ at_middle.T, surface.camber @ at_middle.T
    cosine = _hinge_cosine(flaps, (corner, corner_chord), width)
    panels = Panels(
        start=_behind(corner[:, :-1], corner_chord[:, :-1], vortex),
        end=_behind(corner[:, 1:], corner_chord[:, 1:], vortex),
        control=_behind(middle, middle_chord, np.stack([cut.control for cut in cuts])),
        incidence=_flat(twist[..., None] - camber[..., None] * slope),
        hinge=_flat(cosine[..., None] * moved),
        strip=np.repeat(np.arange(middles.size), vortex.shape[1]),
    )
    return strips, panels


def _span_coordinate(surface: Surface) -> Grid:
    """Share of the span at the stations, measured in the y-z plane of the first geometry."""
    step = np.diff(surface.leading_edge[0, :, 1:], axis=0)
    length = np.concatenate(([0.0], np.cumsum(np.hypot(step[:, 0], step[:, 1]))))
    return np.asarray(length / length[-1])


def _joints(surface: Surface, others: tuple[Surface, ...]) -> list[float]:
    """Shares at which another surface's root or tip meets this one: a strake, a fin, a tip."""
    ends = [
        (*other.leading_edge[0, k], float(other.chord[0, k])) for other in others for k in (0, -1)
    ]
    return [share for end in ends for share in _joint(surface, np.asarray(end))]


def _joint(surface: Surface, end: Grid) -> list[float]:
    """Share nearest to a point x, y, z with a chord behind it, if it touches there."""
    line, chord = surface.leading_edge[0], surface.chord[0]
    step = np.diff(line[:, 1:], axis=0)
    part = ((end[1:3] - line[:-1, 1:]) * step).sum(axis=1) / (step**2).sum(axis=1)
    part = np.clip(part, 0.0, 1.0)
    away = np.hypot(*(line[:-1, 1:] + part[:, None] * step - end[1:3]).T)
    k = int(away.argmin())
    if away[k] > OFF_PLANE * np.hypot(*step.T).sum():
        return []
    place = np.concatenate(
        [line[:, :1], chord[:, None], _span_coordinate(surface)[:, None]], axis=1
    )
    front, size, share = place[k] + part[k] * (place[k + 1] - place[k])
    margin = NEAR_CHORD * size
    touches = end[0] <= front + size + margin and end[0] + end[3] >= front - margin
    return [float(share)] if touches else []


def _strip_edges(surface: Surface, joints: list[float]) -> tuple[Grid, Grid]:
    """Shares of the strips' edges and middles."""
    knots = _knots(surface, joints)
    root, tip = surface.leading_edge[0, 0, 1:], surface.leading_edge[0, -1, 1:]
    through = surface.mirrored and abs(root[0]) <= OFF_PLANE * np.hypot(*(tip - root))
    angle = _angle_of_share(knots, surface.spacing, through=bool(through))
    counts = np.maximum(1, np.rint(surface.spanwise * np.diff(angle) / (angle[-1] - angle[0])))
    pieces = [
        np.linspace(low, high, int(count) + 1)[:-1]
        for low, high, count in zip(angle[:-1], angle[1:], counts, strict=True)
    ]
    edges = np.concatenate([*pieces, angle[-1:]])
    middles = 0.5 * (edges[1:] + edges[:-1])
    return (
        _share_of_angle(edges, surface.spacing, through=bool(through)),
        _share_of_angle(middles, surface.spacing, through=bool(through)),
    )


def _knots(surface: Surface, joints: list[float]) -> Grid:
    """Shares that must be strip edges; many stations (a curved outline) are left alone."""
    stations = _span_coordinate(surface)
    hinged = sorted(end for flap in surface.flaps for end in (flap.start, flap.end))
    kinks = stations[1:-1] if stations.size - 2 <= surface.spanwise // 2 else stations[:0]
    knots = [0.0, 1.0]
    for gap, wanted in ((SAME_END, hinged), (SAME_PLACE, joints), (SAME_PLACE, kinks)):
        for share in wanted:
            if min(abs(share - knot) for knot in knots) > gap:
                knots.append(float(share))
    return np.asarray(sorted(knots))


def _angle_of_share(share: Grid, spacing: str, *, through: bool) -> Grid:
    if spacing == "uniform":
        return share
    return np.asarray(np.arcsin(share) if through else np.arccos(1.0 - 2.0 * share))


def _share_of_angle(angle: Grid, spacing: str, *, through: bool) -> Grid:
    if spacing == "uniform":
        return angle
    return np.asarray(np.sin(angle) if through else 0.5 * (1.0 - np.cos(angle)))


def _weights(share: Grid, stations: Grid) -> Grid:
    """Weights of linear interpolation between stations, (share.size, s)."""
    unit = np.eye(stations.size)
    return np.stack([np.interp(share, stations, row) for row in unit], axis=1)


def _flap_at(surface: Surface, share: float) -> tuple[Flap, ...]:
    return tuple(flap for flap in surface.flaps if flap.start < share < flap.end)


def _gains(flaps: list[tuple[Flap, ...]], names: tuple[str, ...], side: str) -> Grid:
    gains = np.zeros((len(flaps), len(names)))
    for strip, here in enumerate(flaps):
        for flap in here:
            gains[strip, names.index(flap.name)] += getattr(flap, side)
    return gains


def _cuts(surface: Surface, flaps: list[tuple[Flap, ...]]) -> list[Rows]:
    """Rows of every strip; beside a flap they are split as if it went on."""
    if not surface.flaps:
        return [rows(surface.chordwise, 0.0)] * len(flaps)
    count = max(surface.chordwise, 2)
    flapped = np.flatnonzero([bool(here) for here in flaps])
    nearest = [flapped[np.argmin(np.abs(flapped - strip))] for strip in range(len(flaps))]
    return [rows(count, flaps[strip][0].chord_fraction) for strip in nearest]


def _behind(edge: Samples, chord: Samples, fraction: Grid) -> Samples:
    """Points at chord fractions (m, rows) behind the leading edge, (g, m rows, 3)."""
    points = np.repeat(edge[:, :, None, :], fraction.shape[1], axis=2)
    points[..., 0] += chord[..., None] * fraction
    return points.reshape(points.shape[0], -1, 3)


def _flat(values: Samples) -> Samples:
    return values.reshape(values.shape[0], -1)


def _hinge_cosine(
    flaps: list[tuple[Flap, ...]], edge: tuple[Samples, Samples], width: Samples
) -> Samples:
    """Cosine of the hinge's sweep, nothing on strips without a flap."""
    corner, chord = edge
    hinge = np.asarray([1.0 - here[0].chord_fraction if here else 1.0 for here in flaps])
    run = np.diff(corner[..., 0], axis=1) + hinge * np.diff(chord, axis=1)
    flapped = np.asarray([bool(here) for here in flaps])
    return np.asarray(flapped * width / np.hypot(width, run))


def _joined_strips(parts: list[Strips]) -> Strips:
    return Strips(
        start=np.concatenate([part.start for part in parts], axis=1),
        end=np.concatenate([part.end for part in parts], axis=1),
        middle=np.concatenate([part.middle for part in parts], axis=1),
        along=np.concatenate([part.along for part in parts], axis=1),
        width=np.concatenate([part.width for part in parts], axis=1),
        chord=np.concatenate([part.chord for part in parts], axis=1),
        quarter=np.concatenate([part.quarter for part in parts], axis=1),
        surface=np.concatenate([part.surface for part in parts]),
        mirrored=np.concatenate([part.mirrored for part in parts]),
        gain_right=np.concatenate([part.gain_right for part in parts]),
        gain_left=np.concatenate([part.gain_left for part in parts]),
    )


def _joined_panels(parts: list[Panels]) -> Panels:
    return Panels(
        start=np.concatenate([part.start for part in parts], axis=1),
        end=np.concatenate([part.end for part in parts], axis=1),
        control=np.concatenate([part.control for part in parts], axis=1),
        incidence=np.concatenate([part.incidence for part in parts], axis=1),
        hinge=np.concatenate([part.hinge for part in parts], axis=1),
        strip=np.concatenate([part.strip for part in parts]),
    )
