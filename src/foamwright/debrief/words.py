"""The words of a column name: taken apart, abbreviations written out, the unit split off."""

import re
from collections.abc import Mapping, Sequence
from functools import lru_cache

from foamwright.debrief.logged_units import dimensions_of, in_dimension, unit_named
from foamwright.debrief.tongues import FOREIGN, plain_letters

BRACKETS = re.compile(r"[(\[{<]\s*([^)\]}>]*?)\s*[)\]}>]")
PIECES = re.compile(r"[A-Z]+(?=[A-Z][a-z])|[A-Z]?[a-z]+|[A-Z]+|\d+")

SHORT: Mapping[str, tuple[str, ...]] = {
    "speed": ("spd", "vel", "velocity", "speed"),
    "height": ("alt", "altitude", "hgt", "height", "elev", "elevation"),
    "latitude": ("lat", "latitude"),
    "longitude": ("lon", "lng", "long", "longitude"),
    "course": ("crs", "course", "cog", "track", "trk", "bearing"),
    "heading": ("hdg", "heading", "head", "yaw", "psi", "azimuth"),
    "roll": ("roll", "rol", "phi", "bank"),
    "pitch": ("pitch", "pit", "theta", "ptch"),
    "rate": ("rate", "gyro", "gyr", "omega", "rates"),
    "acceleration": ("acc", "accel", "acceleration", "accelerometer", "accl"),
    "throttle": ("thr", "throttle", "gas"),
    "current": ("cur", "curr", "current", "amp", "amps", "amperage", "ampere", "amperes"),
    "voltage": ("volt", "volts", "voltage"),
    "pack": ("bat", "batt", "battery", "pack", "lipo", "batterie", "main"),
    "cell": ("cell", "cells"),
    "capacity": ("cap", "capacity"),
    "used": ("used", "consumed", "consumption", "drawn", "spent", "usage"),
    "rpm": ("rpm", "rpms", "revs"),
    "electrical": ("electrical", "elec", "electric"),
    "satellites": ("sat", "sats", "satellites", "nsat", "nsats", "svs", "satcount"),
    "rssi": ("rssi", "signal"),
    "quality": ("quality", "qual", "qly"),
    "link": ("link",),
    "temperature": ("temp", "temperature", "tmp"),
    "time": ("t", "time", "timestamp", "clock", "ts", "elapsed", "tick", "ticks", "timestamps"),
    "date": ("date", "day"),
    "vertical": ("vertical", "vert"),
    "climb": ("climb", "vario", "climbrate", "roc"),
    "ground": ("ground", "gnd"),
    "gps": ("gps", "gnss"),
    "air": ("air", "pitot"),
    "baro": ("baro", "barometric", "barometer"),
    "north": ("north", "n"),
    "east": ("east", "e"),
    "down": ("down", "d"),
    "up": ("up", "u"),
    "wanted": (
        *("target", "tgt", "desired", "des", "setpoint", "setpt", "sp", "wanted", "cmd"),
        *("command", "commanded", "demand", "ref", "reference", "goal"),
    ),
    "aileron": ("ail", "aileron", "ailerons"),
    "elevator": ("elevator", "elv"),
    "rudder": ("rud", "rudder"),
    "motor": ("motor", "mot", "engine", "prop", "propeller", "rotor", "esc"),
    "accuracy": ("accuracy", "hacc", "eph", "uncertainty"),
    "horizontal": ("horizontal", "hor", "horiz"),
    "position": ("position", "pos", "coordinates", "coord", "coords", "location"),
    "power": ("power", "pwr", "watt", "watts"),
    "home": ("home",),
    "wind": ("wind",),
    "maximum": ("max", "maximum", "peak"),
    "minimum": ("min", "minimum", "lowest"),
    "remaining": ("remaining", "left", "rem", "remain"),
    "angle": ("angle", "ang", "attitude", "att"),
    "body": ("body",),
    "count": ("num", "count", "number", "nr", "no"),
    "stick": ("stick", "channel", "input", "servo", "output", "rc"),
    "level": ("level",),
    "error": ("error", "err"),
    "distance": ("distance", "dist"),
    "raw": ("raw",),
    "receiver": ("rx", "receiver"),
    "transmitter": ("tx", "transmitter"),
    "video": ("vtx", "video"),
}
"""What a word means, and how it is shortened."""

TOGETHER: Mapping[str, tuple[str, ...]] = {
    "gs": ("ground", "speed"),
    "sog": ("ground", "speed"),
    "tas": ("air", "speed"),
    "ias": ("air", "speed"),
    "eas": ("air", "speed"),
    "cas": ("air", "speed"),
    "aspd": ("air", "speed"),
    "gspd": ("ground", "speed"),
    "vs": ("vertical", "speed"),
    "vspd": ("vertical", "speed"),
    "vspeed": ("vertical", "speed"),
    "vz": ("speed", "z"),
    "vx": ("speed", "x"),
    "vy": ("speed", "y"),
    "vn": ("speed", "north"),
    "ve": ("speed", "east"),
    "vd": ("speed", "down"),
    "vu": ("speed", "up"),
    "vbat": ("pack", "voltage"),
    "vbatt": ("pack", "voltage"),
    "ubat": ("pack", "voltage"),
    "ibat": ("pack", "current"),
    "ibatt": ("pack", "current"),
    "vpack": ("pack", "voltage"),
    "ipack": ("pack", "current"),
    "vcell": ("cell", "voltage"),
    "mah": ("charge", "used"),
    "ah": ("charge", "used"),
    "erpm": ("electrical", "rpm"),
    "lq": ("link", "quality"),
    "numsat": ("count", "satellites"),
    "numsats": ("count", "satellites"),
    "ax": ("acceleration", "x"),
    "ay": ("acceleration", "y"),
    "az": ("acceleration", "z"),
    "gx": ("rate", "x"),
    "gy": ("rate", "y"),
    "gz": ("rate", "z"),
    "wx": ("rate", "x"),
    "wy": ("rate", "y"),
    "wz": ("rate", "z"),
    "knots": ("speed",),
    "kmh": ("speed",),
    "mph": ("speed",),
    "elapsed": ("time",),
    "utc": ("time",),
    "millis": ("time",),
    "micros": ("time",),
    "seconds": ("time",),
    "secs": ("time",),
    "sec": ("time",),
    "milliseconds": ("time",),
    "microseconds": ("time",),
}
"""Abbreviations of more than one word."""

MEANING: Mapping[str, tuple[str, ...]] = {
    **{word: (english,) for word, english in FOREIGN.items()},
    **{short: (word,) for word, shorts in SHORT.items() for short in shorts},
    **TOGETHER,
}

PARTS = tuple(
    sorted(
        (word for word in MEANING if len(word) > (3 if word in FOREIGN else 2)),
        key=len,
        reverse=True,
    )
)
"""Words that a run of letters may be made of; the shortest of other tongues are in too many."""

AXES = {"g": "ground", "v": "vertical"}
"""A letter in front of a speed: `GSpd`, `VSpd`."""


DIRECTIONS = frozenset({"north", "east", "down", "up", "x", "y", "z"})


@lru_cache(maxsize=4096)
def parted(piece: str) -> tuple[str, ...]:
    """Return a run of letters as known words where it is wholly made of them: `groundspeed`."""
    if piece in MEANING or len(piece) < 4:
        return (piece,)
    for word in PARTS:
        if piece.startswith(word):
            rest = parted(piece[len(word) :])
            if all(part in MEANING or part in {"x", "y", "z"} for part in rest):
                return (word, *rest)
    return (piece,)


def pieces_of(name: str) -> list[str]:
    """Return the runs of letters and of digits in a name, in lower case, glued words parted."""
    name = re.sub(r"m ?A ?h(?![a-z])", "mah", plain_letters(name))
    found = [part for piece in PIECES.findall(name) for part in parted(piece.lower())]
    return re.sub(r"\be rpm\b", "erpm", " ".join(found)).split()


def words_of(pieces: Sequence[str]) -> frozenset[str]:
    """Return the words that pieces stand for."""
    words: list[str] = []
    for place, piece in enumerate(pieces):
        after = pieces[place + 1] if place + 1 < len(pieces) else ""
        if piece in AXES and MEANING.get(after) == ("speed",):
            words.append(AXES[piece])
        elif piece == "v" and MEANING.get(after, (after,))[0] in DIRECTIONS:
            words.append("speed")
        else:
            words += MEANING.get(piece, (piece,))
    return frozenset(words)


def unit_at_end(name: str) -> tuple[str, str]:
    """Return a name without the unit at its end, and that unit; `speed_kmh`, `acc m s2`."""
    parts = [part for part in re.split(r"[\s_.,:;]+", name) if part]
    for count in (3, 2, 1):
        if len(parts) <= count:
            continue
        tail = parts[-count:]
        unit = "/".join(tail[:2]) + "".join(tail[2:]) if count > 1 else tail[0]
        if unit_named(unit) and not is_word(tail, unit):
            return "_".join(parts[:-count]), unit
    return name, ""


def is_word(tail: Sequence[str], unit: str) -> bool:
    """Return whether a tail is rather a word than a unit: `lat_n`, `rate 1`, `min`."""
    return len(tail) == 1 and (unit.isdigit() or unit.lower() in {"num", "min", "none", "ratio"})


def unit_in(name: str) -> tuple[str, str]:
    """Return a column name without its unit, and the unit as written; empty where none is."""
    for match in BRACKETS.finditer(name):
        if unit_named(match[1]):
            return (name[: match.start()] + " " + name[match.end() :]).strip(), match[1]
    if "," in name or "/" in name or "^" in name or " per " in name:
        head, _, tail = re.sub(r"[,:]", " ", name).strip().partition(" ")
        if unit_named(tail):
            return head, tail.strip()
    found = unit_at_end(BRACKETS.sub(" ", name).strip())
    return found if found[1] else (BRACKETS.sub(r" \1 ", name), "")


def measures(unit: str, dimension: str) -> bool:
    """Return whether a written unit measures a dimension."""
    return bool(in_dimension(unit, dimension))


def measured_by(unit: str) -> tuple[str, ...]:
    """Return the dimensions a written unit may measure."""
    return dimensions_of(unit_named(unit)) if unit_named(unit) else ()
