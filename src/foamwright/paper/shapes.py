"""What a drawing is made of: plain numbers in millimetres of the plane's own frame.

x runs aft from the nose, y to the right wing tip, z up.
"""

from dataclasses import dataclass

Point = tuple[float, float, float]


@dataclass(frozen=True, kw_only=True, slots=True)
class Cut:
    """One section of a surface, parallel to the flow."""

    edge: Point
    """The leading edge [mm]."""
    chord: float
    """[mm]."""
    thickness: float
    """[mm]."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Hinge:
    """A control surface."""

    start: float
    """Inner end as a share of the surface from root to tip."""
    end: float
    """Outer end likewise."""
    share: float
    """Its chord as a share of the surface's."""


@dataclass(frozen=True, kw_only=True, slots=True)
class SurfaceShape:
    """A wing, tail or fin."""

    name: str
    role: str
    cuts: tuple[Cut, ...]
    """From root to tip."""
    mirrored: bool
    """Whether it has a twin on the left."""
    hinges: tuple[Hinge, ...] = ()


@dataclass(frozen=True, kw_only=True, slots=True)
class BodyCut:
    """One cut across a body; x and z of its middle, width and height [mm]."""

    x: float
    z: float
    width: float
    height: float


@dataclass(frozen=True, kw_only=True, slots=True)
class BodyShape:
    """A fuselage, pod or boom."""

    name: str
    y: float
    """Sideways [mm]."""
    cuts: tuple[BodyCut, ...]
    """From nose to tail."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Part:
    """A thing in the foam: one box, or one at each of its places."""

    name: str
    places: tuple[Point, ...]
    """The middle of each piece [mm]."""
    size: Point | None
    """Length, width and height of a piece [mm]; none where no size is known."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Disc:
    """What a propeller sweeps."""

    place: Point
    diameter: float
    """[mm]."""
    slope: float
    """Rise of the thrust line towards the nose [-]."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Hole:
    """A pocket: a box with its least and greatest corner [mm]."""

    low: Point
    high: Point


@dataclass(frozen=True, kw_only=True, slots=True)
class RodLine:
    """A rod from end to end."""

    start: Point
    end: Point
    diameter: float
    """[mm]."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Strip:
    """One row under the top view: something along x with its ends."""

    kind: str
    """balance, wanted, neutral or reach: it has a pattern of its own."""
    label: str
    """What it is, in words with its numbers."""
    low: float
    """[mm]."""
    high: float
    """[mm]."""
    middle: float | None = None
    """[mm]; none for a mere range."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Sheet:
    """Everything on one drawing."""

    name: str
    notes: tuple[str, ...]
    """Lines of the title block."""
    surfaces: tuple[SurfaceShape, ...]
    bodies: tuple[BodyShape, ...]
    parts: tuple[Part, ...]
    discs: tuple[Disc, ...]
    centre: Point
    """Centre of gravity [mm]."""
    strips: tuple[Strip, ...]
    unplaced: tuple[str, ...] = ()
    """Parts without a place."""
    holes: tuple[Hole, ...] = ()
    """Pockets."""
    rods: tuple[RodLine, ...] = ()
    """Rods with ends."""
