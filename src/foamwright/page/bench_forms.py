"""A form for each test at the bench: its fields are those of the notes, its choices the plane's."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import get_args

from foamwright.jobs.bench_tests import TESTS, WEIGH, keys_of, list_of
from foamwright.plane.bench_records import ALL_UP, BARE_FOAM, KINDS
from foamwright.plane.plane import Plane
from foamwright.quantity import show
from foamwright.questions.bench import CAUTION


@dataclass(frozen=True, kw_only=True, slots=True)
class Label:
    """How a key of the notes is asked for."""

    words: str
    dimension: str = ""
    """Of its example; empty where it has none."""
    example: float = 0.0
    """Made up, to show the form of it [SI of the dimension]."""


@dataclass(frozen=True, kw_only=True, slots=True)
class About:
    """What is said of a test."""

    title: str
    how: str
    caution: str = ""


@dataclass(frozen=True, kw_only=True, slots=True)
class Entry:
    """One field of a form."""

    key: str
    label: str
    example: str
    required: bool
    choices: tuple[tuple[str, str], ...] = ()
    """What can be chosen: as noted, and in words; empty where it is typed."""
    listed: tuple[str, ...] = ()
    """What may be typed, among other things."""
    whole: bool = False
    """Whether it is a whole number without a unit."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Form:
    """One test to be noted."""

    test: str
    about: About
    entries: tuple[Entry, ...]


ABOUT: Mapping[str, About] = {
    WEIGH: About(
        title="Weigh a part",
        how="What the scale shows replaces the plan at once.",
    ),
    "balance": About(
        title="Find where it balances",
        how="Either where it hangs level on two fingertips, or what two scales under it show.",
    ),
    "thrust": About(
        title="Run the motor on a scale",
        how="Read what you can: pull, amps or revolutions, at least one of them.",
        caution=CAUTION,
    ),
    "throw": About(
        title="Film a throw",
        how="In slow motion from the side, of something as heavy as the plane: speed and angle as "
        "it leaves the hand.",
        caution="Nobody stands where it may fly or come down; no propeller on what you throw.",
    ),
    "swing": About(
        title="Swing it on two strings",
        how="Hung level on two strings of one length, twisted a little, let go: count full swings, "
        "there and back again.",
        caution="Propeller off, pack strapped in but unplugged, something soft below.",
    ),
    "hang": About(
        title="Hang a weight on a surface",
        how="Beside its spar, root held fast: how far the surface twists where the weight hangs.",
    ),
    "charge": About(
        title="Read what the charger put back",
        how="After a flight, the pack charged to where it was before.",
        caution="Charge in sight, on something that does not burn.",
    ),
    "servo": About(
        title="Time a servo",
        how="From one place to another without load, by a slow film or the step of a tester.",
    ),
}
"""Every test: what it is called and how it is done."""

LABELS: Mapping[str, Label] = {
    "item": Label(words="what lay on the scale"),
    "pieces": Label(words="pieces of it on the scale, if more than one"),
    "mass": Label(words="mass of what swung, if not the plane ready to fly", dimension="mass"),
    "at": Label(words="fingertips, from the nose", dimension="length", example=0.251),
    "front": Label(words="front scale shows", dimension="mass", example=0.142),
    "front_at": Label(words="front support, from the nose", dimension="length", example=0.18),
    "rear": Label(words="rear scale shows", dimension="mass", example=0.11),
    "rear_at": Label(words="rear support, from the nose", dimension="length", example=0.34),
    "pack_at": Label(
        words="middle of the pack, from the nose, if not where planned",
        dimension="length",
        example=0.12,
    ),
    "thrust": Label(words="pull", dimension="pull", example=2.795),
    "current": Label(words="current from the pack", dimension="current", example=11.2),
    "voltage": Label(words="voltage under that load", dimension="voltage", example=11.7),
    "rotation_speed": Label(
        words="revolutions of the propeller", dimension="rotation speed", example=305.0
    ),
    "throttle": Label(words="throttle, if not full", dimension="fraction", example=0.8),
    "axis": Label(words="axis that stood upright"),
    "distance": Label(words="between the strings", dimension="length", example=0.3),
    "length": Label(words="length of either string", dimension="length", example=1.2),
    "time": Label(words="time of all swings", dimension="time", example=28.3),
    "swings": Label(words="full swings counted", dimension="count", example=20.0),
    "speed": Label(words="speed as it left the hand", dimension="speed", example=8.0),
    "angle": Label(words="angle of its path, upwards", dimension="angle", example=0.1745),
    "surface": Label(words="surface"),
    "load": Label(words="weight hung on", dimension="mass", example=0.2),
    "arm": Label(
        words="weight from the line it twists about, along the chord",
        dimension="length",
        example=0.04,
    ),
    "twist": Label(words="how far it twisted there", dimension="angle", example=0.035),
    "charge": Label(words="charge put back", dimension="charge", example=1828.8),
    "flight": Label(words="which flight, if its log is kept"),
    "servo": Label(words="servo"),
}
"""Every key of the notes in words; some mean another thing in one test."""

OTHERWISE: Mapping[tuple[str, str], Label] = {
    (WEIGH, "mass"): Label(words="the scale shows", dimension="mass", example=0.0097),
    ("hang", "at"): Label(
        words="weight from the root, along the span", dimension="length", example=0.35
    ),
    ("charge", "time"): Label(words="how long the motor ran", dimension="time", example=360.0),
    ("charge", "speed"): Label(words="speed flown most of it", dimension="speed", example=14.0),
    ("servo", "time"): Label(words="how long it took", dimension="time", example=0.11),
    ("servo", "angle"): Label(words="how far the horn turned", dimension="angle", example=1.047),
    ("servo", "voltage"): Label(words="voltage at its plug", dimension="voltage", example=5.0),
}
"""Keys that are called otherwise in one test."""

WEIGHED = ", weighed"


def label_of(test: str, key: str) -> Label:
    """Return how a key of a test is asked for."""
    return OTHERWISE.get((test, key)) or LABELS[key]


def words_of(test: str) -> dict[str, str]:
    """Return the keys of a test in the words of its form, for what is wrong with one."""
    return {key: f"“{label_of(test, key).words}”" for key in keys_of(test)}


def weighable(plane: Plane, weighed: frozenset[str]) -> tuple[tuple[str, str], ...]:
    """Return what can be put on a scale, what nobody weighed first."""
    named = [
        *((item.name, item.name + counted(item.count)) for item in plane.items),
        (BARE_FOAM, "the bare foam"),
        (ALL_UP, "the plane ready to fly"),
    ]
    told = [(name, words + (WEIGHED if name in weighed else "")) for name, words in named]
    return tuple(sorted(told, key=lambda entry: entry[0] in weighed))


def counted(count: int) -> str:
    """Return how many pieces a plan holds; nothing of a single one."""
    return f" ({count} pieces)" if count > 1 else ""


def choices_of(
    key: str, annotation: object, plane: Plane, weighed: frozenset[str]
) -> tuple[tuple[str, str], ...]:
    """Return what can be chosen for a key; nothing where it is typed."""
    if key == "item":
        return weighable(plane, weighed)
    if key == "servo":
        return tuple((item.name, item.name) for item in plane.items if item.kind == "servo")
    if key == "surface":
        return tuple((surface.name, surface.name) for surface in plane.airframe.surfaces)
    words = tuple(word for word in get_args(annotation) if isinstance(word, str))
    return tuple((word, word) for word in words)


def form_of(
    test: str, plane: Plane, weighed: frozenset[str] = frozenset(), flights: tuple[str, ...] = ()
) -> Form:
    """Return the form of a test for a plane."""
    fields = KINDS[list_of(test)].model_fields
    entries = []
    for key in keys_of(test):
        label, field = label_of(test, key), fields[key]
        example = show(label.example, label.dimension, plane.units) if label.example else ""
        entries.append(
            Entry(
                key=key,
                label=label.words,
                example=example,
                required=field.is_required(),
                choices=choices_of(key, field.annotation, plane, weighed),
                listed=flights if key == "flight" else (),
                whole=field.annotation is int,
            )
        )
    return Form(test=test, about=ABOUT[test], entries=tuple(entries))


def forms_of(
    plane: Plane, weighed: frozenset[str], flights: tuple[str, ...] = ()
) -> tuple[Form, ...]:
    """Return the forms of every test that a plane allows, in the order they are mostly done."""
    has_servo = any(item.kind == "servo" for item in plane.items)
    has_motor = any(item.kind == "motor" for item in plane.items)
    allowed = {"servo": has_servo, "thrust": has_motor}
    order = tuple(test for test in ABOUT if test == WEIGH or test in TESTS)
    return tuple(
        form_of(test, plane, weighed, flights) for test in order if allowed.get(test, True)
    )
