"""How usual gear lies in usual foam, so that a new plane begins with parts that fit.

What was told stays as it was told; only stand-ins give way: the body grows around its gear, parts
move along it until they have room, and the propeller turns clear of the foam. Common practice, no
source.
"""

import itertools
import math
from collections.abc import Mapping
from dataclasses import dataclass, replace

from foamwright.jobs import shapes
from foamwright.jobs.draft import CONTROLS
from foamwright.jobs.shapes import PUSHERS, Cuts, Planform, Told
from foamwright.jobs.told import stock_name
from foamwright.model.pockets import CLEARANCE, EXTRA
from foamwright.plane.airframe import Foam, Layout
from foamwright.plane.stock import stock
from foamwright.quantity import read
from foamwright.questions.fit_rules import fit_rules

IN_BODY = {
    "pack": "pack",
    "camera": "camera",
    "flight_controller": "flight controller",
    "tail_servos": "servo",
    "speed_controller": "esc",
    "receiver": "receiver",
    "video_transmitter": "video transmitter",
    "gps": "gps",
}
"""What lies in the body, by key of its place: its kind. The first ones keep their place."""

SLACK = 2.0e-3
"""Foam beyond the skin that is wanted, for a knife that wanders [m]."""

GAP = 11.0e-3
"""Foam between two pockets one behind the other [m]."""

TIP_CLEARANCE = 10.0e-3
"""From a propeller's tips or disc to the foam [m]."""

SHAFT = 12.0e-3
"""From the middle of the motor to the propeller [m]."""

SERVO_CHORD = 0.40
"""Where a servo lies in the wing, as a share of the chord."""

SERVO_SPREAD = 0.4
"""Where wing servos sit, as a share of the half span."""

TAPE = 1.0e-3
"""Between the foam and what is taped on it [m]."""

ROUNDED = 6.0e-3
"""What the body's round corners take from a shallow pocket's two walls [m]."""

PAIR_WALL = 3.5e-3
"""Half the foam between two servos side by side [m]."""

FARTHEST = 0.25
"""How far a part moves along the body to find room, as a share of its length."""

FULL = 0.85
"""Share of the widest below which a body is too slender for gear."""

LEAST_DEPTH = 0.6
"""Share of a servo that a pocket in the wing must hold; in thinner foam it is taped on."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Manner:
    """How a part lies, as far as the plane file has to say so."""

    lies: str = "flat"
    protrudes: float = 0.0
    """Out of the foam [m]."""
    outside: bool = False
    """Whether it is taped on, without a pocket."""
    height: float | None = None
    """z of its middle [m]; from the foam where it is not said."""
    sideways: float | None = None
    """y of a pair [m]; the usual one where it is not said."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Stowed:
    """A part in the body."""

    place: str
    """Key of its place."""
    box: tuple[float, float, float]
    """Along x, y, z, a pair as one [m]."""
    manner: Manner
    """How it lies."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Body:
    """How slender the body is."""

    length: float
    """[m]."""
    cuts: Cuts
    """Its cuts."""

    @property
    def full(self) -> tuple[float, float]:
        """Return from where to where it is not too slender for gear [m]."""
        (first, thin, _), (second, wide, _) = self.cuts[:2]
        begin = first + (second - first) * (FULL - thin) / (wide - thin)
        end = max(along for along, width, _ in self.cuts if width >= FULL)
        return begin * self.length, end * self.length


def body_of(layout: Layout, told: Told) -> Body:
    """Return the body that was told, with its usual cuts."""
    return Body(length=shapes.planform(layout, told).length, cuts=shapes.cuts(layout))


def stock_size(kind: str, label: str) -> tuple[float, float, float] | None:
    """Return length, width and height of a part [m]; none where the stock knows none."""
    if label == "none":
        return None
    size = stock().entry(stock_name(kind, label), kind).get("size")
    if not isinstance(size, Mapping):
        return None
    length, width, height = (read(size[k], "length").value for k in ("length", "width", "height"))
    return length, width, height


def foam_of(text: Told) -> Foam:
    """Return the foam that was told, or the usual one."""
    told = text.get("foam", "EPP")
    return next(foam for foam in CLEARANCE if foam == told)


def wall(kind: str, foam: Foam) -> float:
    """Return skin, air and slack on one side of a part [m]."""
    air = max(CLEARANCE[foam], EXTRA.get(kind, (0.0, 0.0))[1])
    return fit_rules().skin[foam].least + air + SLACK


def share_at(x: float, body: Body, which: int) -> float:
    """Return the body's width (1) or height (2) at x as a share of its widest."""
    along = min(max(x / body.length, 0.0), 1.0)
    for before, after in itertools.pairwise(body.cuts):
        if along <= after[0]:
            part = (along - before[0]) / (after[0] - before[0])
            return before[which] + part * (after[which] - before[which])
    return body.cuts[-1][which]


def least_share(x: float, box: float, body: Body, which: int) -> float:
    """Return the smaller share of the body at both ends of a box."""
    return min(share_at(x + side * box / 2.0, body, which) for side in (-1.0, 1.0))


def lying(
    kind: str, size: tuple[float, float, float], room: float
) -> tuple[tuple[float, float, float], Manner]:
    """Return the box of a part and how it lies in a body that has some width for it [m]."""
    length, width, height = size
    if width + ROUNDED > room and height < width and kind not in ("camera", "servo"):
        return (length, height, width), Manner(lies="on edge")
    return size, Manner()


def pair_of(size: tuple[float, float, float]) -> tuple[tuple[float, float, float], Manner]:
    """Return the box around two servos side by side, with a wall of foam between them [m]."""
    length, width, height = size
    aside = 0.5 * width + PAIR_WALL
    return (length, 2.0 * aside + width, height), Manner(sideways=aside)


def in_body(layout: Layout, text: Told, body: Body) -> list[Stowed]:
    """Return what lies in the body, each as the body's width has room for it."""
    tail = [name for *_, name in CONTROLS[layout] if name.startswith("tail")]
    width = read(text["ruler.body_width"], "length").value
    found = []
    for place, kind in IN_BODY.items():
        if place == "tail_servos" and not tail:
            continue
        size = stock_size(kind, text["labels.servo" if kind == "servo" else f"labels.{place}"])
        if size is None:
            continue
        x = read(text[f"places.{place}"], "length").value
        wide = width * least_share(x, size[0], body, 1)
        box, manner = lying(kind, size, wide - 2.0 * wall(kind, foam_of(text)))
        if kind == "servo" and tail[0].endswith("s"):
            box, manner = pair_of(size)
        if kind == "camera" and box[1] > wide - 2.0 * wall(kind, foam_of(text)):
            tall = read(text["ruler.body_height"], "length").value
            top = 0.5 * tall * share_at(x, body, 2)
            manner = Manner(outside=True, height=top + 0.5 * box[2] + TAPE)
        found.append(Stowed(place=place, box=box, manner=manner))
    return found


def apart(
    wanted: float, half: float, taken: list[tuple[float, float]], ends: tuple[float, float]
) -> float | None:
    """Return the place nearest to the wanted one that has room between all taken [m], if any."""
    beside = [
        middle + side * (other + half + GAP) for middle, other in taken for side in (-1.0, 1.0)
    ]
    free = [
        x
        for x in (wanted, *beside, ends[0] + half, ends[1] - half)
        if ends[0] + half <= x + 1e-9
        and x - 1e-9 <= ends[1] - half
        and all(abs(x - middle) >= other + half + GAP - 1e-9 for middle, other in taken)
    ]
    return min(free, key=lambda x: abs(x - wanted), default=None)


def under(part: Stowed, x: float, body: Body, text: Told) -> Stowed:
    """Return a part that found no room in the body, taped flat under it."""
    tall, wide, long = sorted(part.box)
    below = 0.5 * read(text["ruler.body_height"], "length").value * share_at(x, body, 2)
    manner = Manner(outside=True, height=-below - 0.5 * tall - TAPE)
    return replace(part, manner=manner, box=(long, wide, tall))


def stowed(layout: Layout, told: Told, text: Told) -> list[tuple[Stowed, float]]:
    """Return what lies in the body, one part behind the other, and where [m]."""
    body = body_of(layout, told)
    found: list[tuple[Stowed, float]] = []
    taken: list[tuple[float, float]] = []
    below: list[tuple[float, float]] = []
    parts = in_body(layout, text, body)
    for part in sorted(parts, key=lambda p: f"places.{p.place}" not in told):
        wanted = read(text[f"places.{part.place}"], "length").value
        half = 0.5 * (part.box[0] + EXTRA.get(IN_BODY[part.place], (0.0, 0.0))[0])
        if part.manner.outside:
            found.append((part, wanted))
            continue
        x: float | None = wanted
        if f"places.{part.place}" not in told and part.place != "pack":
            x = apart(wanted, half, taken, body.full)
            x = None if x is None or abs(x - wanted) > FARTHEST * body.length else x
        if x is None:
            x = apart(wanted, half, below, (0.0, body.length)) or wanted
            below.append((x, half))
            found.append((under(part, x, body, text), x))
            continue
        taken.append((x, half))
        found.append((part, x))
    return found


def body_for(parts: list[tuple[Stowed, float]], body: Body, foam: Foam) -> tuple[float, float]:
    """Return the least width and height of a body that holds its parts [m]."""
    need = [0.0, 0.0]
    for part, x in parts:
        if part.manner.outside:
            continue
        kind = IN_BODY[part.place]
        side = wall(kind, foam)
        around = (2.0 * side, 2.0 * side if kind == "camera" else side)
        for axis in (0, 1):
            share = least_share(x, part.box[0], body, 1 + axis)
            need[axis] = max(need[axis], (part.box[1 + axis] + around[axis]) / share)
    return need[0], need[1]


def trailing_edge(plan: Planform, half: float) -> float:
    """Return the rearmost trailing edge of the wing within a distance of the middle line [m]."""
    share = min(half / (0.5 * plan.span), 1.0)
    return max(plan.along(0.0, 1.0), plan.along(share, 1.0))


def radius_of(text: Told) -> float:
    """Return the propeller's radius [m]; nothing of a glider."""
    if text["labels.propeller"] == "none":
        return 0.0
    entry = stock().entry(stock_name("propeller", text["labels.propeller"]), "propeller")
    return read(str(entry["diameter"]), "length").value / 2.0


def shaft_height(plan: Planform, body: Body, text: Told) -> float:
    """Return how high motor and propeller stand on a pylon to turn clear of the foam [m].

    Nothing where the propeller turns behind body and wing.
    """
    x, radius = read(text["places.propeller"], "length").value, radius_of(text)
    if x > plan.length and x > trailing_edge(plan, radius):
        return 0.0
    tall = read(text["ruler.body_height"], "length").value
    over = 0.5 * tall * share_at(x, body, 2)
    if x < plan.along(0.0, 1.0):  # over the wing
        over = max(over, 0.6 * depth_of_wing(plan, text, 0.0))
    return math.ceil((over + radius + TIP_CLEARANCE) * 1e3) / 1e3


def depth_of_wing(plan: Planform, text: Told, share: float) -> float:
    """Return the wing's largest thickness at a share of the half span [m]."""
    written = read(text["ruler.thickness"], "length", "fraction")
    thick = written.value / plan.root if written.dimension == "length" else written.value
    return thick * plan.chord(share)


def foil(along: float) -> float:
    """Return the thickness of a usual section at a share of its chord, over its largest."""
    c = min(max(along, 0.0), 1.0)
    half = 0.2969 * math.sqrt(c) - 0.1260 * c - 0.3516 * c**2 + 0.2843 * c**3 - 0.1015 * c**4
    return 10.0 * half


def in_wing(plan: Planform, text: Told, share: float) -> Manner:
    """Return how a servo lies in the wing: on its side, out of the foam as far as it must."""
    size = stock_size("servo", text["labels.servo"])
    if size is None:
        return Manner()
    chord, half = plan.chord(share), 0.5 * size[0]
    thin = min(foil(SERVO_CHORD + s * half / chord) for s in (-1.0, 1.0))
    foam = foam_of(text)
    thick, tall = depth_of_wing(plan, text, share), size[1]
    depth = thick * thin - wall("servo", foam)
    if depth >= LEAST_DEPTH * tall:
        return Manner(lies="on edge", protrudes=max(math.ceil((tall - depth) * 1e3) / 1e3, 0.0))
    rise = math.tan(read(text["ruler.dihedral"], "angle").value) * share * 0.5 * plan.span
    below = rise - 0.5 * thick - 0.5 * tall - TAPE
    return Manner(lies="on edge", outside=True, height=below)


def grown(text: str, need: float) -> str:
    """Return a stand-in for a length, or what is needed where that is more."""
    return shapes.length(need) if need > read(text, "length").value else text


def stand_ins(layout: Layout, told: Told) -> dict[str, str]:
    """Return a stand-in for everything that has an honest one, so that usual gear fits.

    `told` must hold the span; what else it holds shapes the rest and stays as it is.
    """
    found = shapes.stand_ins(layout, told)
    plan = shapes.planform(layout, told)
    parts = stowed(layout, told, {**found, **told})
    width, height = body_for(parts, body_of(layout, told), foam_of(told))
    found["ruler.body_width"] = grown(found["ruler.body_width"], width)
    found["ruler.body_height"] = grown(found["ruler.body_height"], height)
    if layout in PUSHERS and "places.motor" not in told:
        edge = trailing_edge(plan, radius_of({**found, **told}) + TIP_CLEARANCE)
        behind = max(plan.length, edge)
        found["places.motor"] = shapes.place(behind)
        found["places.propeller"] = shapes.place(behind + SHAFT)
    return found


def laid(layout: Layout, told: Told, stand_in: Told) -> dict[str, tuple[Manner, float | None]]:
    """Return how and where every part lies, by the key of its place; where told, it stays."""
    text = {**stand_in, **told}
    plan = shapes.planform(layout, told)
    found: dict[str, tuple[Manner, float | None]] = {
        part.place: (part.manner, x) for part, x in stowed(layout, told, text)
    }
    found["wing_servos"] = (in_wing(plan, text, SERVO_SPREAD), None)
    if text["labels.propeller"] != "none":
        shaft = (Manner(height=shaft_height(plan, body_of(layout, told), text) or None), None)
        found |= {"motor": shaft, "propeller": shaft}
    return found
