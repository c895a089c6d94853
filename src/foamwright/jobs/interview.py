"""What a new plane is asked: a few things that ruler, scale and labels tell."""

from collections.abc import Mapping
from dataclasses import dataclass

from foamwright.jobs.shapes import LAYOUTS
from foamwright.plane.airframe import Layout

TAILED: tuple[Layout, ...] = ("tail aft", "V-tail", "T-tail", "canard", "twin-tail jet")
"""Layouts with a tail or a canard."""
FINNED: tuple[Layout, ...] = tuple(layout for layout in LAYOUTS if layout != "V-tail")
"""Layouts with fins."""

GROUPS = {
    "": "The plane",
    "ruler": "With the ruler (a spread may follow: 410 ± 2 mm)",
    "scale": "On the scale (what you leave out is estimated, and the answers say so)",
    "labels": "What is printed on the parts",
    "places": "Where things go, measured from the nose",
    "targets": "What you wish for (what you leave out leaves its question open)",
    "site": "Where it flies",
    "thrower": "Who throws it",
}
"""The parts of the interview, and what they are headed with."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Question:
    """One thing that can be told."""

    key: str
    """Its dotted key in an answers file."""
    words: str
    """What it is, in a few words."""
    asks: str = ""
    """The question at a terminal; nothing for what only a file can tell."""
    dimensions: tuple[str, ...] = ()
    """Which quantities it can be; none for a text."""
    between: tuple[float, float] | None = None
    """What a small foam plane can have [SI]."""
    choices: tuple[str, ...] = ()
    """All it can be."""
    stock: str = ""
    """The kind in the stock whose name or label it is."""
    layouts: tuple[Layout, ...] = LAYOUTS
    """Which layouts have it."""
    needed: bool = False
    """Whether nothing can stand in for it."""


def ruled(
    name: str,
    words: str,
    asks: str = "",
    *,
    between: tuple[float, float] = (0.0, 2.0),
    layouts: tuple[Layout, ...] = LAYOUTS,
) -> Question:
    """Return a question for a length."""
    return Question(
        key=f"ruler.{name}",
        words=words,
        asks=asks,
        dimensions=("length",),
        between=between,
        layouts=layouts,
    )


def weighed(name: str, words: str) -> Question:
    """Return a question for a mass."""
    return Question(
        key=f"scale.{name}",
        words=f"mass of {words}",
        asks=f"Weight of {words} with its leads",
        dimensions=("mass",),
        between=(0.0001, 2.0),
    )


def labelled(name: str, kind: str, words: str, asks: str = "") -> Question:
    """Return a question for what is printed on a part."""
    return Question(key=f"labels.{name}", words=words, asks=asks, stock=kind)


def placed(name: str, words: str, asks: str = "") -> Question:
    """Return a question for the place of a part."""
    return Question(
        key=f"places.{name}", words=words, asks=asks, dimensions=("length",), between=(-1.0, 3.0)
    )


def wished(name: str, words: str, asks: str, dimension: str) -> Question:
    """Return a question for a wish."""
    return Question(key=f"targets.{name}", words=words, asks=asks, dimensions=(dimension,))


PLANE = (
    Question(key="name", words="name"),
    Question(
        key="layout",
        words="layout",
        asks="Which of these looks most like it? Number or name",
        choices=tuple(LAYOUTS),
        needed=True,
    ),
    Question(
        key="foam",
        words="foam",
        asks="Which foam? (EPS crumbles into beads, EPP bends back, EPO dents, XPS is a board)",
        choices=("EPS", "EPP", "EPO", "XPS"),
    ),
    Question(key="region", words="region for the rules", choices=("EU", "US", "UK")),
    Question(key="units", words="display units", choices=("metric", "imperial")),
    Question(key="currency", words="currency"),
)

RULER = (
    Question(
        key="ruler.span",
        words="span",
        asks="Wing, tip to tip",
        dimensions=("length",),
        between=(0.2, 2.0),
        needed=True,
    ),
    ruled("root_chord", "root chord", "Wing in the middle, front to back", between=(0.02, 1.5)),
    ruled("tip_chord", "tip chord", "Wing at the tip, front to back", between=(0.005, 1.0)),
    ruled(
        "tip_set_back",
        "set-back of the tip",
        "How far the tip's front edge lies behind the middle's",
        between=(-0.3, 1.5),
    ),
    Question(
        key="ruler.sweep",
        words="sweep of the leading edge",
        dimensions=("angle",),
        between=(-0.5, 1.3),
    ),
    Question(
        key="ruler.thickness",
        words="wing thickness",
        asks="Thickest place of the wing in the middle, in mm or % of its depth",
        dimensions=("length", "fraction"),
        between=(0.001, 0.3),
    ),
    Question(
        key="ruler.camber",
        words="camber",
        dimensions=("length", "fraction"),
        between=(-0.05, 0.12),
    ),
    Question(key="ruler.dihedral", words="dihedral", dimensions=("angle",), between=(-0.35, 0.7)),
    ruled(
        "wing_from_nose",
        "nose to wing",
        "Nose to the wing's front edge, in the middle",
        between=(-0.5, 2.0),
    ),
    ruled(
        "tail_span",
        "tail span",
        "Tail (or canard), tip to tip from above",
        between=(0.02, 1.5),
        layouts=TAILED,
    ),
    ruled(
        "tail_chord",
        "tail chord",
        "Tail (or canard), front to back",
        between=(0.005, 0.6),
        layouts=TAILED,
    ),
    ruled(
        "tail_arm",
        "tail arm",
        "Wing's front edge to the tail's (or canard's) front edge",
        between=(0.03, 2.0),
        layouts=TAILED,
    ),
    ruled("fin_height", "fin height", layouts=FINNED, between=(0.005, 0.6)),
    ruled("fin_chord", "fin chord", layouts=FINNED, between=(0.005, 0.6)),
    ruled("body_length", "body length", "Body, nose to end", between=(0.05, 2.5)),
    ruled("body_width", "body width", "Body at its widest", between=(0.005, 0.5)),
    ruled("body_height", "body height", "Body at its tallest", between=(0.005, 0.5)),
)

SCALE = (
    Question(
        key="scale.bare_mass",
        words="bare foam mass",
        asks="Weight of the bare foam, nothing in it",
        dimensions=("mass",),
        between=(0.003, 2.0),
    ),
    Question(
        key="scale.bare_balance",
        words="balance of the bare foam",
        asks="Where the bare foam balances on two fingertips, from the nose",
        dimensions=("length",),
        between=(0.0, 2.0),
    ),
    weighed("motor", "the motor"),
    weighed("propeller", "the propeller"),
    weighed("speed_controller", "the speed controller (ESC)"),
    weighed("pack", "the pack"),
    weighed("servo", "one servo"),
    weighed("flight_controller", "the flight controller"),
    weighed("receiver", "the receiver"),
    weighed("camera", "the camera"),
    weighed("video_transmitter", "the video transmitter"),
    weighed("gps", "the GPS"),
)

LABELS = (
    labelled("motor", "motor", "motor label", "Motor: stator size and Kv, as in 2204 2300"),
    labelled(
        "propeller", "propeller", "propeller label", "Propeller: inches, as in 5x4.5 or 5x4x3"
    ),
    labelled("pack", "pack", "pack label", "Pack: cells and mAh, as in 3S 450"),
    labelled(
        "speed_controller", "esc", "speed controller label", "Speed controller: amps, as in 20 A"
    ),
    labelled("servo", "servo", "servo class", "Servos: class by weight, as in 5 g"),
    labelled("flight_controller", "flight controller", "flight controller"),
    labelled("receiver", "receiver", "receiver"),
    labelled("camera", "camera", "camera"),
    labelled("video_transmitter", "video transmitter", "video transmitter"),
    labelled("gps", "gps", "GPS"),
)

PLACES = (
    placed("motor", "place of the motor", "Middle of the motor"),
    placed("propeller", "place of the propeller"),
    placed("pack_foremost", "foremost place of the pack", "Middle of the pack, pushed foremost"),
    placed("pack_rearmost", "rearmost place of the pack", "Middle of the pack, pulled rearmost"),
    placed("pack", "place of the pack"),
    placed("speed_controller", "place of the speed controller"),
    placed("wing_servos", "place of the wing servos"),
    placed("tail_servos", "place of the tail servos"),
    placed("flight_controller", "place of the flight controller"),
    placed("receiver", "place of the receiver"),
    placed("camera", "place of the camera"),
    placed("video_transmitter", "place of the video transmitter"),
    placed("gps", "place of the GPS"),
)

WISHES = (
    wished("top_speed", "top speed", "How fast should it go, as in 24 m/s", "speed"),
    wished("endurance", "endurance", "How long should it fly, as in 8 min", "time"),
    wished("mass_line", "mass line", "Which mass must it stay under, as in 250 g", "mass"),
    wished("budget", "budget", "What may it still cost, as in 120 EUR", "money"),
    wished("stall_speed", "stall speed", "How slow must it be able to fly, as in 7 m/s", "speed"),
)

DAY = (
    Question(key="site.elevation", words="elevation", dimensions=("elevation", "length")),
    Question(key="site.temperature", words="temperature", dimensions=("temperature",)),
    Question(key="site.wind", words="wind", dimensions=("speed",)),
    Question(key="thrower.speed", words="throwing speed", dimensions=("speed",)),
    Question(key="thrower.angle", words="throwing angle", dimensions=("angle",)),
    Question(key="thrower.height", words="height of the hand", dimensions=("length",)),
)

QUESTIONS: tuple[Question, ...] = (*PLANE, *RULER, *SCALE, *LABELS, *PLACES, *WISHES, *DAY)
"""Everything that can be told, in asking order."""

BY_KEY: Mapping[str, Question] = {question.key: question for question in QUESTIONS}


def group_of(question: Question) -> str:
    """Return the part of the interview a question belongs to."""
    return question.key.rpartition(".")[0]


def asked_of(layout: Layout) -> tuple[Question, ...]:
    """Return what is asked at a terminal for a layout, the layout itself left out."""
    return tuple(
        question
        for question in QUESTIONS
        if question.asks and layout in question.layouts and question.key != "layout"
    )
