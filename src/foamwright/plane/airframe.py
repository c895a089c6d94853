"""The bare airframe: foam, surfaces with their stations, control surfaces, bodies."""

from typing import Literal

from foamwright.plane.fields import (
    Angle,
    Area,
    Arm,
    Chord,
    Extent,
    Fraction,
    Lean,
    Length,
    Mass,
    Play,
    Rod,
    RodLength,
    Thickness,
)
from foamwright.plane.placement import Place, Written

Layout = Literal[
    "tail aft", "V-tail", "T-tail", "plank", "swept wing", "delta", "canard", "twin-tail jet"
]
Role = Literal["wing", "tail", "vee tail", "fin", "canard", "strake"]
Profile = Literal["foil", "flat sheet", "folded sheet"]
ControlRole = Literal["aileron", "elevator", "rudder", "elevon", "ruddervator", "flap"]
Foam = Literal["EPS", "EPP", "EPO", "XPS"]
Finish = Literal["clean", "taped", "rough"]


class Station(Written):
    """One cut across a surface, parallel to the flow, measured with a ruler."""

    y: Length | None = None
    """Distance from the middle line; for a fin on the middle line leave it out."""
    z: Length | None = None
    """Height of the leading edge; from the dihedral where it is not given."""
    leading_edge: Length
    """x of the leading edge."""
    chord: Chord
    """Along the flow."""
    thickness: Thickness | None = None
    """Largest thickness, as a length or in percent of the chord."""
    camber: Thickness | None = None
    """Height of the mean line, as a length or in percent of the chord."""
    twist: Angle | None = None
    """Leading edge up against the reference line."""


class ControlSurface(Written):
    """A hinged part of a surface; on mirrored surfaces there is one on each side."""

    name: str
    """The builder's own name."""
    role: ControlRole
    """What it does."""
    start: Fraction
    """Inner end as a share of the surface's half span (of its height for a fin)."""
    end: Fraction
    """Outer end likewise."""
    chord_fraction: Fraction
    """Its chord as a share of the surface's chord."""
    throw_up: Angle | None = None
    """Largest travel, trailing edge up (left for a rudder)."""
    throw_down: Angle | None = None
    """Largest travel, trailing edge down (right for a rudder)."""
    servo: str | None = None
    """Name of the item that moves it; two surfaces may name the same."""
    horn_arm: Arm | None = None
    """From the hinge line to the hole of the horn."""
    horn_angle: Lean | None = None
    """How far the horn leans at neutral from square to the pushrod, away from the servo."""
    pushrod: Literal["steel", "carbon"] = "steel"
    """What the pushrod is made of."""
    pushrod_diameter: Rod | None = None
    """How thick the pushrod is."""
    pushrod_length: RodLength | None = None
    """From the servo's hole to the horn's."""
    pushrod_free: RodLength | None = None
    """Its longest piece between two supports or ends."""
    linkage_play: Play | None = None
    """Free play along the rod of both holes together."""


class Surface(Written):
    """A wing, tail, fin, canard or strake."""

    name: str
    """The builder's own name."""
    role: Role
    """What it is; all but fins are mirrored to the left."""
    stations: tuple[Station, ...]
    """From root to tip, two at least."""
    dihedral: Angle | None = None
    """Of the whole panel (of each half of a vee tail), where stations carry no z."""
    profile: Profile = "foil"
    """The kind of section."""
    coordinates: str | None = None
    """A file of section coordinates beside the plane file, instead of ruler numbers."""
    mirrored: bool | None = None
    """Whether there is a twin on the left; by role where it is not given."""
    controls: tuple[ControlSurface, ...] = ()
    """Its control surfaces."""


class BodyStation(Written):
    """One cut across a body."""

    x: Length
    """Aft of the nose."""
    width: Extent
    """Widest."""
    height: Extent
    """Tallest."""
    z: Length | None = None
    """Height of the middle of the cut."""
    corner: Extent | None = None
    """Radius of its corners; half the width makes it round."""


class Hatch(Written):
    """An opening through which gear goes in and out after the build."""

    name: str
    """The builder's own name."""
    side: Literal["top", "bottom", "left", "right"] = "top"
    """Where it opens."""
    foremost: Length
    """x of its front edge."""
    rearmost: Length
    """x of its rear edge."""
    width: Extent
    """Across."""


class Body(Written):
    """A fuselage, pod or boom."""

    name: str
    """The builder's own name."""
    stations: tuple[BodyStation, ...]
    """From nose to tail, two at least."""
    y: Length | None = None
    """Sideways; twins are written twice."""
    wall: Extent | None = None
    """Wall of a hollow shell; solid foam where it is not given."""
    hatches: tuple[Hatch, ...] = ()
    """Openings for the pack and for hands."""


class Protrusion(Written):
    """Something that stands in the air: camera, antenna, mast, skid."""

    name: str
    """What it is."""
    shape: Literal["block", "rod", "plate", "faired", "dome"]
    """Its shape, for its drag coefficient."""
    frontal_area: Area
    """Seen from the front."""
    count: int = 1
    """How many."""


class Airframe(Written):
    """The bare foam and what its surface is like."""

    foam: Foam
    """The foam."""
    bare_mass: Mass | None = None
    """Weighed without gear; asked for where it is missing."""
    bare_balance: Place | None = None
    """Where the bare foam balances; from the volumes where it is not given."""
    finish: Finish = "taped"
    """How smooth it is when it flies."""
    open_pockets: Area | None = None
    """Area of pockets left open to the air."""
    hinge_gaps: Literal["sealed", "open"] = "sealed"
    """Whether air can pass the hinge lines."""
    surfaces: tuple[Surface, ...]
    """All lifting surfaces, the wing first."""
    bodies: tuple[Body, ...] = ()
    """All bodies."""
    protrusions: tuple[Protrusion, ...] = ()
    """What stands in the air besides the items."""
