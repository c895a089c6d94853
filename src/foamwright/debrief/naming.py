"""What a column may be by its name alone."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from foamwright.debrief.logged_units import in_dimension, unit_named
from foamwright.debrief.words import pieces_of, unit_in, words_of

DIMENSION: Mapping[str, str] = {
    "latitude": "angle",
    "longitude": "angle",
    "height": "length",
    "ground_speed": "speed",
    "airspeed": "speed",
    "climb_rate": "speed",
    "sink_rate": "speed",
    "north_speed": "speed",
    "east_speed": "speed",
    "course": "angle",
    "heading": "angle",
    "roll": "angle",
    "pitch": "angle",
    "roll_rate": "angular rate",
    "pitch_rate": "angular rate",
    "yaw_rate": "angular rate",
    "roll_rate_wanted": "angular rate",
    "pitch_rate_wanted": "angular rate",
    "yaw_rate_wanted": "angular rate",
    "forward_acceleration": "acceleration",
    "side_acceleration": "acceleration",
    "up_acceleration": "acceleration",
    "voltage": "voltage",
    "cell_voltage": "voltage",
    "current": "current",
    "charge_used": "charge",
    "power": "power",
    "throttle": "share",
    "aileron": "share",
    "elevator": "share",
    "rudder": "share",
    "rotation_speed": "rotation",
    "electrical_rotation_speed": "rotation",
    "satellites": "count",
    "position_error": "length",
    "signal_strength": "level",
    "link_quality": "share",
    "temperature": "temperature",
    "time": "time",
}
"""What a column can be taken as, and its dimension; `time` is the clock.

`north_speed`, `east_speed`, `sink_rate`, `cell_voltage`, `electrical_rotation_speed` and `power`
are turned into channels, or checks of channels, later.
"""


@dataclass(frozen=True, kw_only=True, slots=True)
class Rule:
    """Words that make a column something."""

    taken_as: str
    needs: frozenset[str]
    """All of them."""
    bars: frozenset[str] = frozenset()
    """None of them."""
    strength: float = 0.95
    """How sure a name of these words alone makes it."""
    units_only: bool = False
    """Whether a fitting unit has to be written."""


NEVER = frozenset({"home", "wind", "maximum", "minimum", "remaining", "waypoint", "wp", "error"})
OF_SPEED = frozenset({"air", "vertical", "motor", "north", "east", "down", "up", "z", "x", "y"})
TURNING = frozenset({"rate", "wanted", "acceleration"})
NOT_PACK = frozenset(
    {"cell", "receiver", "servo", "board", "5", "vcc", "cpu", "video", "transmitter", "bec", "usb"}
)
ELSE_THAN_CURRENT = frozenset(
    {"height", "speed", "latitude", "longitude", "time", "distance", "heading", "voltage", "mode"}
)


def rule(taken_as: str, needs: str, bars: frozenset[str] = frozenset(), **more: float) -> Rule:
    """Return a rule from words in one text."""
    return Rule(
        taken_as=taken_as,
        needs=frozenset(needs.split()),
        bars=bars,
        strength=more.get("strength", 0.95),
        units_only=bool(more.get("units_only", 0)),
    )


RULES: tuple[Rule, ...] = (
    rule("time", "time"),
    rule("time", "loop", strength=0.5),
    rule("latitude", "latitude"),
    rule("longitude", "longitude"),
    rule("height", "height"),
    rule("height", "ele", strength=0.9, units_only=1),
    rule("height", "ele", strength=0.6),
    rule("elevator", "ele", strength=0.85),
    rule("ground_speed", "ground speed"),
    rule("ground_speed", "gps speed", OF_SPEED),
    rule("ground_speed", "speed", OF_SPEED | {"rate"}, strength=0.85),
    rule("airspeed", "air speed"),
    rule("climb_rate", "vertical speed"),
    rule("climb_rate", "climb"),
    rule("climb_rate", "speed up"),
    rule("climb_rate", "speed z", strength=0.8),
    rule("sink_rate", "speed down"),
    rule("sink_rate", "sink"),
    rule("north_speed", "speed north"),
    rule("east_speed", "speed east"),
    rule("north_speed", "speed x", strength=0.7),
    rule("east_speed", "speed y", strength=0.7),
    rule("course", "course", TURNING),
    rule("course", "ground heading", TURNING),
    rule("course", "gps heading", TURNING),
    rule("heading", "heading", TURNING | {"gps", "ground"}, strength=0.9),
    rule("heading", "capacity", TURNING, strength=0.8, units_only=1),  # French `cap`, an angle
    rule("roll", "roll", TURNING),
    rule("pitch", "pitch", TURNING | {"motor"}),
    *(
        rule(f"{axis}_rate", f"{word} rate", frozenset({"wanted", "acceleration"}))
        for axis, word in (("roll", "roll"), ("pitch", "pitch"), ("yaw", "heading"))
    ),
    *(
        rule(f"{axis}_rate", f"rate {word}", frozenset({"wanted", "acceleration"}), strength=0.9)
        for axis, letters in (("roll", "x0"), ("pitch", "y1"), ("yaw", "z2"))
        for word in letters
    ),
    *(
        rule(f"{axis}_rate", word, frozenset({"wanted", "acceleration"}), units_only=1)
        for axis, words in (
            ("roll", ("p", "roll")),
            ("pitch", ("q", "pitch")),
            ("yaw", ("r", "heading")),
        )
        for word in words
    ),
    *(
        rule(f"{axis}_rate_wanted", f"{word} wanted", frozenset({"angle"}), units_only=1)
        for axis, words in (
            ("roll", ("p", "roll")),
            ("pitch", ("q", "pitch")),
            ("yaw", ("r", "heading")),
        )
        for word in words
    ),
    *(
        rule(f"{axis}_rate_wanted", f"{word} rate wanted")
        for axis, word in (("roll", "roll"), ("pitch", "pitch"), ("yaw", "heading"))
    ),
    *(
        rule(f"{axis}_rate_wanted", f"rate wanted {word}", strength=0.9)
        for axis, letters in (("roll", "xp0"), ("pitch", "yq1"), ("yaw", "zr2"))
        for word in letters
    ),
    *(
        rule(f"{axis}_acceleration", f"acceleration {word}", frozenset({"rate"}), strength=0.9)
        for axis, words in (
            ("forward", ("x", "0", "forward")),
            ("side", ("y", "1", "side", "lateral")),
            ("up", ("z", "2", "up", "vertical")),
        )
        for word in words
    ),
    rule("voltage", "voltage", NOT_PACK),
    rule("voltage", "pack", NOT_PACK | {"current", "used", "temperature"}, units_only=1),
    rule("voltage", "v", NOT_PACK, units_only=1),
    rule("voltage", "u", NOT_PACK, units_only=1),
    rule("cell_voltage", "cell voltage", frozenset({"receiver", "transmitter"})),
    rule("cell_voltage", "cell", frozenset({"receiver", "transmitter"}), units_only=1),
    rule("current", "current", ELSE_THAN_CURRENT),
    rule("current", "pack", frozenset({"voltage"}), units_only=1),
    rule("current", "i", units_only=1),
    rule("charge_used", "charge used"),
    rule("charge_used", "capacity used"),
    rule("charge_used", "pack used", frozenset({"power", "energy"}), strength=0.9),
    rule("charge_used", "current used", strength=0.9),
    rule("charge_used", "used", units_only=1),
    rule("charge_used", "capacity", strength=0.85, units_only=1),
    rule("charge_used", "charge", strength=0.85, units_only=1),
    rule("charge_used", "current", strength=0.9, units_only=1),
    rule("power", "power", frozenset({"transmitter", "receiver", "video", "level"})),
    rule("throttle", "throttle"),
    rule("aileron", "aileron"),
    rule("elevator", "elevator"),
    rule("rudder", "rudder"),
    rule("rotation_speed", "rpm", frozenset({"electrical"})),
    rule("rotation_speed", "rotation speed", frozenset({"electrical"})),
    rule("rotation_speed", "motor speed", frozenset({"electrical"}), strength=0.9),
    rule("rotation_speed", "motor", frozenset({"electrical"}), strength=0.9, units_only=1),
    rule("electrical_rotation_speed", "rpm electrical"),
    rule("satellites", "satellites"),
    rule("position_error", "horizontal accuracy", units_only=1),
    rule("position_error", "accuracy", frozenset({"vertical", "speed"}), units_only=1),
    rule("signal_strength", "rssi", frozenset({"quality"})),
    rule("link_quality", "link quality"),
    rule("temperature", "temperature"),
)

OWN_UNITS = frozenset(
    {"rpm", "mah", "ah", "knots", "kmh", "mph", "volts", "volt", "amps", "amp", "watts"}
    | {"millis", "micros", "seconds", "secs", "sec", "milliseconds", "microseconds"}
)
"""Units that are a name by themselves."""
AMBIGUOUS = {"3d", "raw", "filtered", "total", "avg", "average", "mean"}
"""Words that make a name a little less sure."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Meaning:
    """What a name says a column is."""

    taken_as: str
    """One of `DIMENSION`."""
    unit: str
    """As in `logged_units.UNITS`; empty where the header does not say."""
    strength: float
    """How sure the name alone makes it."""


def fits(one: Rule, words: frozenset[str], unit: str) -> bool:
    """Return whether a rule holds for a name of some words, with a unit as written or none."""
    dimension = DIMENSION[one.taken_as]
    if not one.needs <= words or one.bars & words or (NEVER & words) - one.needs:
        return False
    return bool(in_dimension(unit, dimension)) if unit or one.units_only else True


def bounded(one: Rule, words: frozenset[str]) -> float:
    """Return how sure a rule makes a name, a little less for each word it does not explain."""
    known = {"gps", "ground", "pack", "body", "position", "baro", "count", "angle", "stick"}
    strange = len(words - one.needs - known - AMBIGUOUS) + 0.5 * len(words & AMBIGUOUS)
    return one.strength - 0.02 * min(strange, 4)


BY_UNIT = 0.75
"""How sure a column is the clock of which only the written unit, one of time, is known."""


def meanings_of(name: str, unit: str = "") -> tuple[Meaning, ...]:
    """Return what a column may be, the likeliest first; `unit` as another row or the cells say."""
    bare, written = unit_in(name)
    written = unit if unit_named(unit) else written
    alone = in_dimension(name, "time")
    if alone and len(name.strip()) > 1:  # a column called `ms` or `sec` is the clock
        return (Meaning(taken_as="time", unit=alone, strength=0.9),)
    spelled = pieces_of(bare)
    found: dict[str, tuple[tuple[float, int], Meaning]] = {}
    for words, said in readings(spelled, written, name):
        for one in RULES:
            if not fits(one, words, said):
                continue
            strength = bounded(one, words)
            rank = (strength + 0.03 * len(one.needs), len(one.needs))
            exact = in_dimension(said, DIMENSION[one.taken_as])
            meaning = Meaning(taken_as=one.taken_as, unit=exact, strength=strength)
            if one.taken_as not in found or found[one.taken_as][0] < rank:
                found[one.taken_as] = (rank, meaning)
    if not found and (counted := in_dimension(written, "time")):
        return (Meaning(taken_as="time", unit=counted, strength=BY_UNIT),)
    ranked = sorted(found.values(), key=lambda item: item[0], reverse=True)
    return tuple(meaning for _, meaning in ranked)


def readings(pieces: Sequence[str], unit: str, name: str) -> list[tuple[frozenset[str], str]]:
    """Return the ways to read a name: with its unit split off, and as one whole."""
    split = words_of(pieces)
    whole = words_of(pieces_of(name))
    said = unit or own_unit(pieces_of(name))
    ways = [(split, said)] if split else []
    if whole != split:
        ways.append((whole, said))
    return ways


def own_unit(pieces: Sequence[str]) -> str:
    """Return the unit that a word of the name is itself: `rpm`, `mAh`, `knots`, `volts`."""
    return next((piece for piece in pieces if piece in OWN_UNITS), "")
