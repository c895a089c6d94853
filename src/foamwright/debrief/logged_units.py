"""Units as logs spell them, by dimension, with factor and offset to SI."""

import re
from collections.abc import Mapping

import numpy as np

from foamwright.debrief.tongues import folded

DEGREE = float(np.pi / 180.0)
KNOT = 1852.0 / 3600.0
GRAVITY = 9.80665

Factor = tuple[float, float]
"""Factor and offset: SI = factor x written + offset."""

UNITS: Mapping[str, Mapping[str, Factor]] = {
    "speed": {
        "m/s": (1.0, 0.0),
        "km/h": (1 / 3.6, 0.0),
        "kn": (KNOT, 0.0),
        "mph": (0.44704, 0.0),
        "ft/s": (0.3048, 0.0),
        "cm/s": (0.01, 0.0),
        "dm/s": (0.1, 0.0),
        "mm/s": (0.001, 0.0),
        "ft/min": (0.00508, 0.0),
        "m/min": (1 / 60, 0.0),
    },
    "length": {
        "m": (1.0, 0.0),
        "ft": (0.3048, 0.0),
        "cm": (0.01, 0.0),
        "mm": (0.001, 0.0),
        "dm": (0.1, 0.0),
        "km": (1000.0, 0.0),
    },
    "angle": {
        "deg": (DEGREE, 0.0),
        "rad": (1.0, 0.0),
        "cdeg": (0.01 * DEGREE, 0.0),
        "ddeg": (0.1 * DEGREE, 0.0),
        "mrad": (0.001, 0.0),
        "1e-7 deg": (1e-7 * DEGREE, 0.0),
        "1e-6 deg": (1e-6 * DEGREE, 0.0),
    },
    "angular rate": {
        "deg/s": (DEGREE, 0.0),
        "rad/s": (1.0, 0.0),
        "mrad/s": (0.001, 0.0),
        "cdeg/s": (0.01 * DEGREE, 0.0),
        "ddeg/s": (0.1 * DEGREE, 0.0),
        "deg/min": (DEGREE / 60, 0.0),
    },
    "voltage": {"V": (1.0, 0.0), "mV": (1e-3, 0.0), "cV": (0.01, 0.0), "dV": (0.1, 0.0)},
    "current": {"A": (1.0, 0.0), "mA": (1e-3, 0.0), "cA": (0.01, 0.0), "dA": (0.1, 0.0)},
    "charge": {"mAh": (3.6, 0.0), "Ah": (3600.0, 0.0), "As": (1.0, 0.0)},
    "power": {"W": (1.0, 0.0), "mW": (1e-3, 0.0), "kW": (1e3, 0.0)},
    "rotation": {
        "rpm": (1 / 60, 0.0),
        "rev/s": (1.0, 0.0),
        "rad/s": (1 / (2 * np.pi), 0.0),
        "krpm": (1000 / 60, 0.0),
    },
    "share": {"%": (0.01, 0.0), "1": (1.0, 0.0), "us": (1e-3, -1.0), "permille": (1e-3, 0.0)},
    "acceleration": {
        "m/s2": (1.0, 0.0),
        "g": (GRAVITY, 0.0),
        "mg": (1e-3 * GRAVITY, 0.0),
        "cm/s2": (0.01, 0.0),
        "ft/s2": (0.3048, 0.0),
    },
    "level": {"dBm": (1.0, 0.0), "dB": (1.0, 0.0)},
    "temperature": {"degC": (1.0, 273.15), "K": (1.0, 0.0), "degF": (5 / 9, 459.67 * 5 / 9)},
    "count": {"1": (1.0, 0.0)},
    "time": {
        "s": (1.0, 0.0),
        "ms": (1e-3, 0.0),
        "us": (1e-6, 0.0),
        "ns": (1e-9, 0.0),
        "min": (60.0, 0.0),
        "h": (3600.0, 0.0),
    },
}
"""The likeliest unit of each dimension first."""

SPELLINGS: Mapping[str, str] = {
    **dict.fromkeys(("mps", "ms-1", "m.s-1", "m/sec", "meters/s", "metres/s"), "m/s"),
    **dict.fromkeys(("kmh", "kph", "kmph", "km/hr", "kmh-1", "kmhr"), "km/h"),
    **dict.fromkeys(("kt", "kts", "knot", "knots", "nm/h"), "kn"),
    **dict.fromkeys(("mi/h", "miles/h"), "mph"),
    **dict.fromkeys(("fps", "ft/sec", "feet/s"), "ft/s"),
    **dict.fromkeys(("cms", "cmps", "cm/sec"), "cm/s"),
    **dict.fromkeys(("mmps", "mms"), "mm/s"),
    **dict.fromkeys(("fpm", "feet/min"), "ft/min"),
    **dict.fromkeys(("meter", "meters", "metre", "metres", "mtr"), "m"),
    **dict.fromkeys(("feet", "foot"), "ft"),
    **dict.fromkeys(("degree", "degrees", "degs", "grad"), "deg"),
    **dict.fromkeys(("radian", "radians"), "rad"),
    **dict.fromkeys(("centideg", "centidegrees", "deg*100", "degx100", "deg/100"), "cdeg"),
    **dict.fromkeys(("decideg", "decidegrees", "deg*10", "degx10", "deg/10"), "ddeg"),
    **dict.fromkeys(("dege7", "deg*1e7", "deg/1e7", "1e7deg", "1e-7deg", "degx1e7"), "1e-7 deg"),
    **dict.fromkeys(("dege6", "deg*1e6", "1e-6deg"), "1e-6 deg"),
    **dict.fromkeys(("dps", "deg/sec", "d/s", "degs-1", "degps"), "deg/s"),
    **dict.fromkeys(("rads", "rad/sec", "rads-1", "radps"), "rad/s"),
    **dict.fromkeys(("volt", "volts"), "V"),
    **dict.fromkeys(("millivolt", "millivolts"), "mV"),
    **dict.fromkeys(("amp", "amps", "ampere", "amperes"), "A"),
    **dict.fromkeys(("milliamp", "milliamps"), "mA"),
    **dict.fromkeys(("mamph", "ma.h"), "mAh"),
    **dict.fromkeys(("ah", "amph"), "Ah"),
    **dict.fromkeys(("as", "coulomb", "coulombs", "a.s"), "As"),
    **dict.fromkeys(("watt", "watts"), "W"),
    **dict.fromkeys(("1/min", "rev/min", "u/min", "min-1", "r/min"), "rpm"),
    **dict.fromkeys(("rps", "hz", "1/s", "s-1", "r/s"), "rev/s"),
    **dict.fromkeys(("pct", "percent", "perc"), "%"),
    **dict.fromkeys(("m/s/s", "mss", "m/s^2", "ms-2", "mpss", "m/ss", "mps2", "ms2"), "m/s2"),
    **dict.fromkeys(("gee", "gees", "gn"), "g"),
    **dict.fromkeys(("c", "celsius", "centigrade"), "degC"),
    **dict.fromkeys(("f", "fahrenheit"), "degF"),
    **dict.fromkeys(("kelvin",), "K"),
    **dict.fromkeys(("sec", "secs", "second", "seconds"), "s"),
    **dict.fromkeys(("msec", "msecs", "millis", "millisec", "milliseconds", "millisecond"), "ms"),
    **dict.fromkeys(("usec", "usecs", "micros", "microsec", "microseconds", "microsecond"), "us"),
    **dict.fromkeys(("nsec", "nanos", "nanoseconds"), "ns"),
    **dict.fromkeys(("minute", "minutes"), "min"),
    **dict.fromkeys(("hour", "hours"), "h"),
    **dict.fromkeys(("km/u", "km/std"), "km/h"),
    **dict.fromkeys(("knoten", "noeuds", "nudos", "nodi", "nos", "knopen", "wezly", "uzly"), "kn"),
    **dict.fromkeys(("metres", "metros", "metri", "metry", "metrow", "metru"), "m"),
    **dict.fromkeys(("degre", "degres", "grados", "gradi", "graus", "graden", "stopnie"), "deg"),
    **dict.fromkeys(("stupne", "stupnu", "stopni"), "deg"),
    **dict.fromkeys(("tr/min", "tours/min", "giri/min", "omw/min", "obr/min", "ot/min"), "rpm"),
    **dict.fromkeys(("prozent", "procent", "pourcent", "procento"), "%"),
    **dict.fromkeys(("sek", "sekunden", "secondes", "segundos", "secondi", "seconden"), "s"),
    **dict.fromkeys(("sekundy", "sekund"), "s"),
    **dict.fromkeys(("millisekunden", "millisecondes", "milisegundos", "millisecondi"), "ms"),
    **dict.fromkeys(("milliseconden", "milisekundy", "milissegundos"), "ms"),
    **dict.fromkeys(("minuten", "minutes", "minutos", "minuti", "minuty"), "min"),
    **dict.fromkeys(("-", "ratio", "norm", "fraction", "0..1", "0-1", "none", "num", "#"), "1"),
}
"""Other spellings in lower case, and which unit of `UNITS` they mean."""

BY_LETTERS: Mapping[str, str] = {
    **{unit.lower(): unit for table in UNITS.values() for unit in table},
    **SPELLINGS,
}

DOUBLE: Mapping[str, tuple[str, str]] = {
    "ms": ("speed", "m/s"),
    "degs": ("angular rate", "deg/s"),
    "m/s": ("acceleration", "m/s2"),
}
"""Spellings that mean something else where another dimension is wanted: `speed_ms`."""


def tidied(text: str) -> str:
    """Return a unit in lower case and plain letters: `m·s⁻²`, `M/S²` and `m/s^2` are one."""
    plain = folded(text).strip().lower().replace("°", "deg").replace("º", "deg")
    plain = plain.replace("µ", "u").replace("μ", "u")
    for sign, letter in zip("²³⁻¹", "23-1", strict=True):
        plain = plain.replace(sign, letter)
    plain = re.sub(r"\s*\bper\b\s*", "/", plain).replace("·", " ").replace("^", "")
    plain = re.sub(r"\s*/\s*", "/", plain).replace("**", "")
    return re.sub(r"\s+", "", plain)


def unit_named(text: str) -> str:
    """Return the unit of `UNITS` a text spells; empty where it spells none."""
    return BY_LETTERS.get(tidied(text), "")


def dimensions_of(unit: str) -> tuple[str, ...]:
    """Return the dimensions a unit may measure."""
    return tuple(name for name, table in UNITS.items() if unit in table)


def in_dimension(text: str, dimension: str) -> str:
    """Return the unit a text spells for a dimension; empty where it measures something else."""
    plain = tidied(text)
    double = DOUBLE.get(plain)
    if double is not None and double[0] == dimension:
        return double[1]
    unit = BY_LETTERS.get(plain, "")
    return unit if unit in UNITS.get(dimension, {}) else ""


def factor_of(unit: str, dimension: str) -> Factor:
    """Return factor and offset of a unit to SI."""
    return UNITS[dimension][unit]
