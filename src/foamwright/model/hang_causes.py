"""Why a surface may twist other than planned under a weight: the foam, its cuts, the reading.

How often each happens, and how strong it is, is common practice, no source, where not told.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

import numpy as np

from foamwright.model.computable import ComputablePlane
from foamwright.model.ensemble import Draws
from foamwright.model.explanations import (
    AS_OFTEN,
    FAR,
    Explanation,
    Seen,
    ranked,
    times,
)
from foamwright.model.hanging import ACROSS, constant, hung_on, places
from foamwright.model.section_left import CARBON_OVER_FOAM
from foamwright.model.solid import SurfaceSolid
from foamwright.model.suspects import AS_PLANNED, Suspect
from foamwright.physics.arrays import Grid, Samples
from foamwright.plane.airframe import ControlSurface, Surface
from foamwright.plane.bench_records import Hang
from foamwright.quantity import show

LEAST_READ = float(np.deg2rad(0.1))
"""What can be told from no twist at all [rad]: below it, all twists count as this one."""

OTHER_BATCH = 0.5
"""ln spread of the stiffness of moulded or cut foam that is of another density than its sort's."""

OTHER_LINE = 0.15
"""How far the line it twists about lies from where it was taken to, over the chord."""

STIFFENED = (0.55, 0.35)
"""What rods, spars, laminate or tape leave of bare foam's twist, and its ln spread."""

SLACK = float(np.deg2rad(2.0))
"""What a control surface turns in the slack of its linkage under a weight [rad], one deviation."""

YIELDING = float(np.deg2rad(1.5))
"""What a root turns that is not held firmly [rad], one deviation."""

OTHER_LOAD = 0.25
"""ln spread of a load or arm written down wrong."""

CUT_WORK = 0.15
"""ln spread of what a cut does beyond its section: its ends, its glue."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Hung:
    """A weight hung on a surface beside its plan."""

    planned: ComputablePlane
    """Before anything was weighed."""
    record: Hang
    """What was read."""
    twist: Samples
    """What was planned (n,) [rad]."""
    solid: SurfaceSolid
    """The surface."""
    surface: Surface
    """As written."""
    draws: Draws
    """Its own luck."""
    units: str
    """The user's."""

    @property
    def middle(self) -> float:
        """The middle of what was planned [rad]."""
        return float(np.median(self.twist))

    @property
    def ratio(self) -> float:
        """What was read over what was planned."""
        return self.record.twist.value / self.middle

    def normals(self, name: str) -> Samples:
        """Return the luck of one cause."""
        return self.draws.normal(f"cause.hang.{name}", name)

    def angle(self, value: float) -> str:
        """Return an angle as it is shown."""
        return show(value, "angle", self.units)


@dataclass(frozen=True, kw_only=True, slots=True)
class Twisted:
    """A twist as it was read."""

    name: str
    """The JSON name of the reading."""
    spread: float
    """One standard deviation of it, as much whatever is read [rad]."""
    planned: Samples
    """What was planned (n,) [rad]."""
    draws: Draws
    """Whose luck the plan was drawn with, so that no cause shares it."""


def hang_suspects(
    planned: ComputablePlane, record: Hang, read: Twisted, units: str
) -> tuple[Suspect, ...]:
    """Return what may be behind a twist, likeliest first; none where there is no plan for it."""
    solid = hung_on(planned, record)
    if solid is None:
        return ()
    surfaces = {surface.name: surface for surface in planned.plane.airframe.surfaces}
    case = Hung(
        planned=planned,
        record=record,
        twist=read.planned,
        solid=solid,
        surface=surfaces[record.surface],
        draws=read.draws,
        units=units,
    )
    explanations = [
        Explanation(name=AS_PLANNED, often=AS_OFTEN, told=told(read.planned)),
        *of_foam(case),
        *of_cuts(case),
        *of_line(case),
        *of_hold(case),
    ]
    seen = Seen(
        names=(read.name,),
        value=np.array([record.twist.value]),
        noise=np.zeros((1, 1)),
        logs=(True,),
        even=read.spread,
    )
    return ranked(explanations, seen)


def told(twist: Samples) -> Grid:
    """Return twists as what would be read (n, 1), on the scale compared on."""
    return np.log(np.maximum(twist, LEAST_READ))[:, None]


def of_foam(case: Hung) -> Iterator[Explanation]:
    """Yield foam of another stiffness than planned, and what stiffens it."""
    own = case.planned.plane.airframe.foam
    modulus: Mapping[str, float] = {name: 1.0 / times for name, times in CARBON_OVER_FOAM.items()}
    softer = "softer" if case.ratio > 1.0 else "stiffer"
    yield Explanation(
        name=f"the foam is {softer} than {own} usually is",
        often=0.022,
        told=told(case.twist * np.exp(OTHER_BATCH * case.normals("batch"))),
        check="cut a strip of the same foam, lay it over two edges, and see how far a weight "
        "bends it beside a strip of known foam",
        speaks_for=f"a stiffness {1.0 / case.ratio:.2f} times the usual would do it"
        if case.ratio > 0.0
        else "",
        speaks_against="" if case.ratio > 0.0 else "no stiffness turns it the other way",
    )
    others = [name for name in CARBON_OVER_FOAM if name != own]
    for name in others:
        ratio = modulus[own] / modulus[name]
        fits = (ratio > 1.0) == (case.ratio > 1.0)
        words = f"the twist would be about {case.angle(case.middle * ratio)}"
        yield Explanation(
            name=f"the foam is {name}, not {own} as in the file",
            often=0.008 / len(others),
            told=told(case.twist * ratio),
            check="look at a cut: beads or even cells, and whether it springs back when pressed",
            speaks_for=words if fits else "",
            speaks_against="" if fits else words,
        )
    yield stiffened(case)


def stiffened(case: Hung) -> Explanation:
    """Return rods, spars, laminate or tape, which the plan of bare foam leaves out."""
    rods = [item.name for item in case.planned.plane.items if item.kind == "rod"]
    less = case.ratio < 1.0
    listed = f"the file lists {', '.join(rods)}, " if rods else ""
    return Explanation(
        name="rods, tape or laminate carry more of the twist than planned",
        often=0.018,
        told=told(case.twist * STIFFENED[0] * np.exp(STIFFENED[1] * case.normals("stiffened"))),
        check="hang the weight on the bare half or a scrap of the same section",
        speaks_for=f"{listed}and the plan is of bare foam" if less and listed else "",
        speaks_against="" if less else "they make it twist less, not more",
    )


def of_cuts(case: Hung) -> Iterator[Explanation]:
    """Yield the section cut by its control surfaces, as far as the load hangs."""
    hinged = reached(case)
    if not hinged:
        return
    factor = cut_factor(case, hinged)
    more = case.ratio > 1.0
    names = ", ".join(control.name for control in hinged)
    words = f"without it the section twists {factor:.2f} times as far, computed"
    yield Explanation(
        name=f"the cut of the {names} (or a pocket beside it) opens the section",
        often=0.016,
        told=told(case.twist * factor * np.exp(CUT_WORK * case.normals("cut"))),
        check="tape the hinge line on both sides, hang the weight again, and see what is left",
        speaks_for=words if more else "",
        speaks_against="" if more else "a cut makes it twist more, not less",
    )
    slack = np.abs(case.normals("slack")) * SLACK
    beyond = case.record.twist.value - case.middle
    yield Explanation(
        name=f"it was read on the {names}, whose linkage has slack",
        often=0.010,
        told=told(case.twist + slack),
        check="tape the control surface to the wing at both ends, and read the twist again",
        speaks_for=f"{case.angle(beyond)} of slack would do it"
        if more and times(beyond, SLACK) <= FAR
        else "",
        speaks_against=""
        if more and times(beyond, SLACK) <= FAR
        else f"it would take {case.angle(beyond)} of slack"
        if more
        else "slack lets it turn more, not less",
    )


def reached(case: Hung) -> list[ControlSurface]:
    """Return the control surfaces between the root and the load."""
    half = float(case.solid.y[-1] - case.solid.y[0])
    share = case.record.at.value / half if half > 0.0 else 0.0
    return [control for control in case.surface.controls if control.start.value < share]


def cut_factor(case: Hung, hinged: list[ControlSurface]) -> float:
    """Return how many times as far the surface twists without its control surfaces' foam.

    Saint-Venant torsion as in the plan, the section cut off at the hinge line where there is one.
    """
    place = places(case.solid, case.record)
    half = float(case.solid.y[-1] - case.solid.y[0])
    along = (place - case.solid.y[0]) / half
    end = np.ones_like(place)
    for control in hinged:
        inside = (along >= control.start.value) & (along <= control.end.value)
        end[inside] = np.minimum(end[inside], 1.0 - control.chord_fraction.value)
    whole, left = (
        np.array(
            [
                constant(case.solid, y, s * np.linspace(0.0, 1.0, ACROSS))
                for y, s in zip(place, reach, strict=True)
            ]
        )
        for reach in (np.ones_like(place), end)
    )
    return float(np.trapezoid(1.0 / left, place) / np.trapezoid(1.0 / whole, place))


def of_line(case: Hung) -> Iterator[Explanation]:
    """Yield an arm from another line than the one it twists about, and a load noted wrong."""
    arm = case.record.arm.value
    _, chord = case.solid.station(float(places(case.solid, case.record)[-1]))
    chord = chord or float(case.solid.chord[-1])
    shift = OTHER_LINE * chord
    factor = np.maximum(1.0 + shift / arm * case.normals("line"), 0.05)
    needed = arm * (case.ratio - 1.0)
    length = f"{show(abs(needed), 'length', case.units)}"
    way = "longer" if needed > 0.0 else "shorter"
    words = f"an arm {length} {way} than the {show(arm, 'length', case.units)} noted would do it"
    near = times(needed, shift) <= FAR
    yield Explanation(
        name="the line it twists about lies elsewhere than where the arm was measured from",
        often=0.012,
        told=told(case.twist * factor),
        check="hang the weight at the same distance ahead of that line: both twists are then alike",
        speaks_for=words if near else "",
        speaks_against="" if near else words.removesuffix(" would do it") + " would be needed",
    )
    yield Explanation(
        name="load or arm were written down wrong",
        often=0.004,
        told=told(case.twist * np.exp(OTHER_LOAD * case.normals("load"))),
        check="weigh the load, and measure the arm again",
        speaks_for=f"{case.ratio:.2f} times the load noted would do it"
        if case.ratio > 0.0
        else "the load on the other side of that line would turn it so",
    )


def of_hold(case: Hung) -> Iterator[Explanation]:
    """Yield a root that was not held firmly."""
    beyond = case.record.twist.value - case.middle
    fits = 0.0 < beyond <= FAR * YIELDING
    words = f"{case.angle(beyond)} at the root would do it"
    yield Explanation(
        name="the root turned as well",
        often=0.010,
        told=told(case.twist + np.abs(case.normals("hold")) * YIELDING),
        check="read the angle at the root too, with and without the weight, and take it off",
        speaks_for=words if fits else "",
        speaks_against=""
        if fits
        else f"it would take {case.angle(beyond)} there"
        if beyond > 0.0
        else "it adds to the twist, and less was read",
    )
