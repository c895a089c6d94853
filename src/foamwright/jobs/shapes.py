"""What stands in for a number nobody measured: usual proportions and places by layout.

Common practice, no source. Every length is a share of the span until it is written.
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import get_args

from foamwright.plane.airframe import Layout
from foamwright.quantity import read

LAYOUTS: tuple[Layout, ...] = get_args(Layout)
"""Every layout there is."""

DOUBT = 0.05
"""Spread of a length that was not measured, as a share of it."""

Told = Mapping[str, str]
"""What was told: dotted key to text."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Shape:
    """Usual proportions of a layout, as shares of the span."""

    root: float
    """Chord in the middle."""
    taper: float
    """Tip chord over root chord."""
    set_back: float
    """How far the tip's leading edge lies behind the root's."""
    nose: float
    """Nose to the wing's leading edge in the middle."""
    length: float
    """Of the body."""
    width: float
    """Of the body."""
    height: float
    """Of the body."""
    fin: tuple[float, float]
    """Height and chord of a fin."""
    tail: tuple[float, float, float] = (0.0, 0.0, 0.0)
    """Span, chord and arm of tail or canard; nothing where there is none."""
    dihedral: float = 0.0
    """Of the wing [deg]."""
    fins: float = 0.0
    """Distance of twin fins from the middle line; nothing for one fin."""
    thickness: str = "9 ± 1.5 %"
    """Of the wing; a shell or a sheet is much thinner for its chord than a glider's wing."""
    camber: str = ""
    """Of the wing, where the usual one is not that of a glider: what no tail holds is flat or
    reflexed, and a sheet has none."""
    incidence: str = ""
    """Of a foreplane: it carries more of its lift than the wing and stalls first."""
    boards: float = 0.55
    """Where controller and boards sit, as a share of the root chord."""
    pack: float = 0.65
    """Where in its bay the pack sits: 0 foremost, 1 rearmost."""


def glider(fin: tuple[float, float], tail: tuple[float, float, float]) -> Shape:
    """Return a tailed glider; only fin and tail tell them apart."""
    return Shape(
        root=0.19,
        taper=0.74,
        set_back=0.025,
        nose=0.22,
        length=0.82,
        width=0.045,
        height=0.065,
        fin=fin,
        tail=tail,
        dihedral=4.0,
    )


SHAPES: dict[Layout, Shape] = {
    "tail aft": glider(fin=(0.11, 0.09), tail=(0.375, 0.075, 0.52)),
    "V-tail": glider(fin=(0.0, 0.0), tail=(0.34, 0.09, 0.52)),
    "T-tail": glider(fin=(0.13, 0.10), tail=(0.33, 0.08, 0.52)),
    "plank": Shape(
        root=0.28,
        taper=1.0,
        set_back=0.0,
        nose=0.24,
        length=0.48,
        width=0.07,
        height=0.08,
        fin=(0.18, 0.18),
        camber="0.8 ± 0.5 %",
        boards=0.15,
        pack=0.25,
    ),
    "swept wing": Shape(
        root=0.28,
        taper=0.68,
        set_back=0.25,
        nose=0.08,
        length=0.36,
        width=0.07,
        height=0.08,
        fin=(0.12, 0.14),
        camber="0.8 ± 0.5 %",
        fins=0.49,
        pack=0.60,
    ),
    "delta": Shape(
        root=0.90,
        taper=0.15,
        set_back=0.75,
        nose=0.0,
        length=0.90,
        width=0.10,
        height=0.09,
        fin=(0.14, 0.20),
        fins=0.22,
        thickness="4 ± 1.5 %",
        camber="0.5 ± 0.4 %",
        boards=0.22,
        pack=0.25,
    ),
    "canard": Shape(
        root=0.21,
        taper=0.7,
        set_back=0.08,
        nose=0.58,
        length=0.82,
        width=0.05,
        height=0.07,
        fin=(0.22, 0.17),
        tail=(0.36, 0.085, 0.52),
        incidence="4 ± 1 deg",
        pack=0.68,
    ),
    "twin-tail jet": Shape(
        root=0.45,
        taper=0.35,
        set_back=0.25,
        nose=0.45,
        length=1.20,
        width=0.16,
        height=0.09,
        fin=(0.17, 0.18),
        tail=(0.48, 0.14, 0.52),
        thickness="5 ± 2 %",
        camber="0.5 ± 0.4 %",
        fins=0.10,
    ),
}

GEAR: tuple[tuple[float, dict[str, str]], ...] = (
    (
        0.42,
        {
            "motor": "1404 2750",
            "propeller": "4x2.5",
            "pack": "2S 450",
            "speed_controller": "12 A",
            "servo": "2 g",
        },
    ),
    (
        0.65,
        {
            "motor": "1806 2300",
            "propeller": "4x4",
            "pack": "3S 450",
            "speed_controller": "20 A",
            "servo": "3.7 g",
        },
    ),
    (
        math.inf,
        {
            "motor": "2204 2300",
            "propeller": "5x3",
            "pack": "3S 850",
            "speed_controller": "20 A",
            "servo": "5 g",
        },
    ),
)
"""Usual gear up to a span [m]."""

DELTA_PACKS = {"2S 450": "2S 450", "3S 450": "3S 850", "3S 850": "3S 1500"}
"""The pack a delta of that size carries instead."""

BOARDS = {
    "flight_controller": "flight controller 20x20",
    "receiver": "receiver serial 2.4 GHz",
    "camera": "camera with transmitter 25 mW",
    "video_transmitter": "none",
    "gps": "none",
}
"""Usual boards, by stock name; `none` for what is not on board."""

DAY = {
    "site.elevation": "100 ± 100 m",
    "site.temperature": "15 ± 7 degC",
    "site.wind": "3 ± 1.5 m/s",
    "thrower.speed": "8 ± 1 m/s",
    "thrower.angle": "5 ± 4 deg",
    "thrower.height": "1.8 ± 0.1 m",
}
"""A usual field, day and arm."""

Cuts = tuple[tuple[float, float, float], ...]
"""A body as cuts: where along it, and width and height as shares of the widest."""

SLENDER: Cuts = ((0.0, 0.55, 0.55), (0.25, 1.0, 1.0), (0.6, 0.85, 0.85), (1.0, 0.3, 0.35))
"""A body that ends in a boom."""

BLUNT: Cuts = ((0.0, 0.55, 0.55), (0.25, 1.0, 1.0), (0.8, 0.95, 0.95), (1.0, 0.5, 0.5))
"""A body that ends in a motor."""

PUSHERS: tuple[Layout, ...] = ("plank", "swept wing", "delta", "canard")
"""Layouts whose propeller turns behind everything."""

PACK_HALF_LENGTH = 0.030
"""Half a usual pack [m]; its middle cannot come closer to the nose."""


def length(metres: float) -> str:
    """Return a length nobody measured as text, with its doubt."""
    millimetres = metres * 1e3
    spread = max(abs(millimetres) * DOUBT, 1.0)
    return f"{millimetres:.0f} ± {spread:.0f} mm"


def place(metres: float) -> str:
    """Return a usual place as text; where a part goes is for the builder to say."""
    return f"{metres * 1e3:.0f} mm"


def si(told: Told, key: str, default: float, *dimensions: str) -> float:
    """Return what was told in SI, or a default."""
    return read(told[key], *(dimensions or ("length",))).value if key in told else default


@dataclass(frozen=True, kw_only=True, slots=True)
class Planform:
    """What the places hang on, told or usual [m]."""

    span: float
    root: float
    taper: float
    set_back: float
    nose: float
    length: float

    def chord(self, share: float) -> float:
        """Return the chord at a share of the half span."""
        return self.root * (1.0 + (self.taper - 1.0) * share)

    def along(self, share: float, chord: float) -> float:
        """Return x at a share of the half span and a share of the chord there."""
        return self.nose + self.set_back * share + chord * self.chord(share)


def planform(layout: Layout, told: Told) -> Planform:
    """Return the wing and body that were told, with usual proportions for the rest."""
    shape = SHAPES[layout]
    span = read(told["ruler.span"], "length").value
    root = si(told, "ruler.root_chord", shape.root * span)
    tip = si(told, "ruler.tip_chord", shape.taper * root)
    set_back = si(told, "ruler.tip_set_back", shape.set_back * span)
    if "ruler.sweep" in told:
        set_back = 0.5 * span * math.tan(si(told, "ruler.sweep", 0.0, "angle"))
    return Planform(
        span=span,
        root=root,
        taper=tip / root,
        set_back=set_back,
        nose=si(told, "ruler.wing_from_nose", shape.nose * span),
        length=si(told, "ruler.body_length", shape.length * span),
    )


def ruler(layout: Layout, told: Told) -> dict[str, str]:
    """Return a stand-in for every length a ruler tells."""
    shape, plan = SHAPES[layout], planform(layout, told)
    span = plan.span
    found = {
        "root_chord": length(plan.root),
        "tip_chord": length(plan.taper * plan.root),
        "tip_set_back": length(plan.set_back),
        "wing_from_nose": length(plan.nose),
        "body_length": length(plan.length),
        "body_width": length(shape.width * span),
        "body_height": length(shape.height * span),
        "fin_height": length(shape.fin[0] * span),
        "fin_chord": length(shape.fin[1] * span),
        "thickness": shape.thickness,
        "dihedral": f"{shape.dihedral:.0f} ± 1 deg",
    }
    if shape.camber:
        found["camber"] = shape.camber
    for name, share in zip(("tail_span", "tail_chord", "tail_arm"), shape.tail, strict=True):
        found[name] = length(share * span)
    return {f"ruler.{name}": text for name, text in found.items()}


def labels(layout: Layout, span: float) -> dict[str, str]:
    """Return usual gear for a span [m]; a delta's foam lies far back, so it carries more pack."""
    gear = next(gear for most, gear in GEAR if span <= most)
    more = {"pack": DELTA_PACKS[gear["pack"]]} if layout == "delta" else {}
    return {f"labels.{name}": text for name, text in {**gear, **more, **BOARDS}.items()}


def cuts(layout: Layout) -> Cuts:
    """Return the usual cuts of a body."""
    return BLUNT if layout in PUSHERS else SLENDER


def pack_bay(layout: Layout, plan: Planform) -> tuple[float, float]:
    """Return the foremost and the rearmost place of the pack's middle [m]."""
    nose, root = plan.nose, plan.root
    front = 0.02 * plan.span + PACK_HALF_LENGTH
    bays = {
        "plank": (front, nose + 0.20 * root),
        "swept wing": (front, nose + 0.60 * root),
        "delta": (0.06 * root + PACK_HALF_LENGTH, 0.50 * root),
        "canard": (0.12 * plan.length + PACK_HALF_LENGTH, nose - 0.02 * plan.span),
        "twin-tail jet": (0.08 * plan.length + PACK_HALF_LENGTH, nose + 0.45 * root),
    }
    foremost, rearmost = bays.get(layout, (front, nose + 0.35 * root))
    return foremost, max(rearmost, foremost + 0.01)


def places(layout: Layout, told: Told) -> dict[str, str]:
    """Return the usual place of every part."""
    plan = planform(layout, told)
    foremost, rearmost = pack_bay(layout, plan)
    pack = si(told, "places.pack", foremost)
    foremost = si(told, "places.pack_foremost", min(foremost, pack))
    rearmost = si(told, "places.pack_rearmost", max(rearmost, foremost, pack))
    behind = plan.along(0.0, 1.0) + 0.01 * plan.span
    motor = {"delta": plan.along(0.0, 0.80), "canard": plan.length}.get(layout, behind)
    if layout == "twin-tail jet":
        motor = plan.along(0.0, 0.85)
    motor = si(told, "places.motor", motor)
    tail_servo = plan.along(0.0, 0.5)
    if layout == "canard":
        tail_servo = plan.nose - 0.35 * plan.span
    boards = SHAPES[layout].boards
    found = {
        "motor": motor,
        "propeller": motor + 0.012,
        "speed_controller": plan.along(0.0, boards + 0.05),
        "pack_foremost": foremost,
        "pack_rearmost": rearmost,
        "pack": foremost + SHAPES[layout].pack * (rearmost - foremost),
        "wing_servos": plan.along(0.4, 0.4),
        "tail_servos": tail_servo,
        "flight_controller": plan.along(0.0, boards - 0.15),
        "receiver": plan.along(0.0, boards + 0.10),
        "camera": 0.03 * plan.span,
        "video_transmitter": plan.along(0.0, boards - 0.05),
        "gps": plan.along(0.0, boards + 0.20),
    }
    return {f"places.{name}": place(metres) for name, metres in found.items()}


def stand_ins(layout: Layout, told: Told) -> dict[str, str]:
    """Return a stand-in for everything that has an honest one, told or not.

    `told` must hold the span; what else it holds shapes the rest.
    """
    span = read(told["ruler.span"], "length").value
    return {**ruler(layout, told), **labels(layout, span), **places(layout, told), **DAY}
