"""Text with unit and spread to SI and back; the only file that imports the unit library."""

import difflib
import math
import re
from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING, Literal

from foamwright.problems import Finding, QuantityProblem

if TYPE_CHECKING:
    from pint import UnitRegistry

Units = Literal["metric", "imperial"]

DEFINITIONS = """
meter = [length] = m
kilogram = [mass] = kg
second = [time] = s
ampere = [current] = A
kelvin = [temperature]; offset: 0 = K
radian = []
revolution = [] = rev

millimeter = 0.001 m = mm
centimeter = 0.01 m = cm
kilometer = 1000 m = km
inch = 0.0254 m = in
foot = 0.3048 m = ft
gram = 0.001 kg = g
milligram = 1e-6 kg = mg
ounce = 0.028349523125 kg = oz
pound = 0.45359237 kg = lb
minute = 60 s = min
hour = 3600 s = h
millisecond = 0.001 s = ms
degree = 0.017453292519943295 radian = deg
newton = kg * m / s ** 2 = N
gram_force = 0.00980665 N = gf
kilogram_force = 9.80665 N = kgf
ounce_force = 0.2780138509537812 N = ozf
pascal = N / m ** 2 = Pa
hectopascal = 100 Pa = hPa
joule = N * m = J
watt = J / s = W
milliwatt = 0.001 W = mW
watt_hour = 3600 J = Wh
volt = W / A = V
millivolt = 0.001 V = mV
milliampere = 0.001 A = mA
ohm = V / A = ohm = Ω
milliohm = 0.001 ohm = mohm = mΩ
ampere_hour = 3600 A * s = Ah
milliampere_hour = 3.6 A * s = mAh
mile_per_hour = 0.44704 m / s = mph
knot = 0.5144444444444445 m / s = kn
rpm = 0.016666666666666666 revolution / s
degC = kelvin; offset: 273.15
degF = 5 / 9 * kelvin; offset: 233.15 + 200 / 9
percent = 0.01
"""
"""Every unit a plane file may use, and no other: a typing error is found, not guessed at."""

DIMENSIONS: dict[str, tuple[str, str]] = {
    "mass": ("kg", "71 g"),
    "length": ("m", "410 mm"),
    "elevation": ("m", "120 m"),
    "area": ("m**2", "12 cm2"),
    "fraction": ("", "25 %"),
    "angle": ("radian", "8 deg"),
    "speed": ("m/s", "24 m/s"),
    "time": ("s", "8 min"),
    "temperature": ("kelvin", "15 degC"),
    "voltage": ("V", "11.1 V"),
    "current": ("A", "20 A"),
    "power": ("W", "1.8 W"),
    "resistance": ("ohm", "90 mohm"),
    "charge": ("A*s", "450 mAh"),
    "speed constant": ("revolution/s/V", "2300 rpm/V"),
    "rotation speed": ("revolution/s", "21000 rpm"),
    "force": ("N", "350 gf"),
    "torque": ("N*m", "0.6 kgf cm"),
    "energy": ("J", "5 Wh"),
    "density": ("kg/m**3", "20 kg/m3"),
    "money": ("", "12 EUR"),
}
"""SI unit (rotation in revolutions a second) and an example of each dimension."""

LIKELY: dict[str, str] = {
    "mass": "g",
    "length": "mm",
    "elevation": "m",
    "area": "cm2",
    "fraction": "%",
    "angle": "deg",
    "speed": "m/s",
    "time": "min",
    "temperature": "degC",
    "voltage": "V",
    "current": "A",
    "power": "W",
    "resistance": "mohm",
    "charge": "mAh",
    "speed constant": "rpm/V",
    "rotation speed": "rpm",
    "force": "gf",
    "torque": "kgf cm",
    "energy": "Wh",
    "density": "kg/m3",
    "money": "EUR",
}
"""The unit a bare number most likely means."""

SANE: dict[str, tuple[float, float]] = {
    "mass": (0.0, 20.0),
    "length": (-3.0, 3.0),
    "elevation": (-500.0, 6000.0),
    "area": (0.0, 2.0),
    "fraction": (-1.0, 3.0),
    "angle": (-1.6, 1.6),
    "speed": (0.0, 150.0),
    "time": (0.0, 36000.0),
    "temperature": (223.15, 333.15),
    "voltage": (0.0, 60.0),
    "current": (0.0, 300.0),
    "power": (0.0, 5000.0),
    "resistance": (0.0, 100.0),
    "charge": (0.0, 36000.0 * 2),
    "speed constant": (1.0, 500.0),
    "rotation speed": (0.0, 2000.0),
    "force": (0.0, 200.0),
    "torque": (0.0, 10.0),
    "energy": (0.0, 1e6),
    "density": (1.0, 3000.0),
    "money": (0.0, 1e6),
}
"""What a foam plane and its site can be [SI]; outside it something was mistyped."""

NUMBER = r"[-+]?(?:\d+(?:\.\d*)?|\.\d+)(?:[eE][-+]?\d+)?"
PATTERN = re.compile(
    rf"^\s*(?P<value>{NUMBER})\s*(?P<first>[^\d\s±+-][^±]*?)?\s*"
    rf"(?:(?:±|\+-|\+/-)\s*(?P<spread>{NUMBER})\s*(?P<second>[^\d\s].*?)?)?\s*$"
)
COMMA = re.compile(r"\d,\d")
PART = r"[A-Za-zΩ%°]+(?:(?:\^|\*\*)?[23]|[²³])?"
UNIT = re.compile(rf"^{PART}(?:\s*[/*·\s]\s*{PART})*$")
MONEY = re.compile(r"^[A-Z]{3}$")


@dataclass(frozen=True, slots=True)
class Quantity:
    """A value in SI with its spread, and the text it was read from."""

    value: float
    """[SI of its dimension]."""
    spread: float | None
    """One standard deviation [SI]; none where the builder wrote none."""
    dimension: str
    """One of `DIMENSIONS`."""
    text: str
    """As written."""


@lru_cache(maxsize=1)
def registry() -> "UnitRegistry":
    """Return the registry of our own units; the library is imported only when it is needed."""
    from pint import UnitRegistry  # noqa: PLC0415 - slow to import

    found: UnitRegistry = UnitRegistry(None, autoconvert_offset_to_baseunit=True)
    for line in DEFINITIONS.strip().splitlines():
        if line:
            found.define(line)
    return found


def problem(text: object, what: str, expected: str) -> QuantityProblem:
    """Return the problem with a text."""
    return QuantityProblem((Finding(what=f"{text!r} {what}", expected=expected),))


def example(dimensions: tuple[str, ...]) -> str:
    """Return what would be right, for the dimensions allowed."""
    return "write for instance " + " or ".join(f'"{DIMENSIONS[name][1]}"' for name in dimensions)


def spelled(unit: str) -> str:
    """Return a unit as the unit library spells it."""
    text = unit.strip().replace("·", "*").replace("°", "deg")
    text = re.sub(r"%|percent", "percent", text)
    text = re.sub(r"(?<=[A-Za-z])\s+(?=[A-Za-z])", "*", text)
    text = re.sub(r"(?<=[a-z])\^?([23])\b", r"**\1", text)
    return text.replace("²", "**2").replace("³", "**3")


def nearest_unit(unit: str) -> str:
    """Return a hint at the unit that was meant."""
    known = sorted({*LIKELY.values(), "in", "ft", "oz", "lb", "mph", "km/h", "kn", "N", "cm", "m"})
    found = difflib.get_close_matches(unit, known, n=1, cutoff=0.4)
    lower = next((name for name in known if name.lower() == unit.lower()), None)
    return lower or (found[0] if found else "")


@lru_cache(maxsize=1024)
def scale(unit: str, dimension: str) -> tuple[float, float] | None:
    """Return factor and offset from a unit to the SI unit of a dimension; none if it is another.

    Rotation and angle are pure numbers to the unit library, so they are told apart by name here.
    """
    import pint  # noqa: PLC0415 - slow to import

    currency = MONEY.match(unit.strip()) is not None
    if currency or dimension == "money":
        return (1.0, 0.0) if currency and dimension == "money" else None
    text = spelled(unit)
    turning = dimension in ("speed constant", "rotation speed")
    if dimension == "angle" and not re.search(r"deg(?![CF])|rad", text):
        return None
    if dimension != "angle" and re.search(r"\bdeg\b|\bdegree\b|\bradian\b", text):
        return None
    if turning != bool(re.search(r"rpm|rev", text)):
        return None
    try:
        target = registry().Unit(DIMENSIONS[dimension][0] or "percent")
        one = registry().Quantity(1.0, text).to(target).magnitude
        zero = registry().Quantity(0.0, text).to(target).magnitude
    except pint.errors.DimensionalityError:
        return None
    share = 0.01 if not DIMENSIONS[dimension][0] else 1.0
    return (float(one - zero) * share, float(zero) * share)


def known_unit(unit: str) -> bool:
    """Return whether the unit exists, whatever it measures."""
    import pint  # noqa: PLC0415 - slow to import

    if MONEY.match(unit.strip()):
        return True
    if UNIT.match(unit.strip()) is None:
        return False
    try:
        registry().Unit(spelled(unit))
    except (pint.errors.UndefinedUnitError, pint.errors.DefinitionSyntaxError):
        return False
    return True


def bare(text: object, dimensions: tuple[str, ...]) -> QuantityProblem:
    """Return the problem with a number that has no unit."""
    number = str(text).strip()
    likely = " or ".join(f'"{number} {LIKELY[name]}"' for name in dimensions)
    return problem(text, "has no unit", f"did you mean {likely}?")


def read(text: object, *dimensions: str) -> Quantity:
    """Return a written quantity in SI, of one of the dimensions allowed.

    Forms: "71 g", "71 ± 1 g", "71 g +- 2 g", "71 g ± 2 %". Raises QuantityProblem.
    """
    if isinstance(text, bool) or not isinstance(text, str):
        if isinstance(text, int | float) and not isinstance(text, bool) and math.isfinite(text):
            raise bare(text, dimensions)
        raise problem(text, "is no quantity", example(dimensions))
    if COMMA.search(text):
        raise problem(text, "has a decimal comma", f'write "{with_points(text)}"')
    match = PATTERN.match(text)
    if match is None:
        raise problem(text, "is no number with a unit", example(dimensions))
    unit = (match["first"] or "").strip()
    second = (match["second"] or "").strip()
    if not unit and match["spread"] is not None:
        unit = second
    if not unit:
        raise bare(text, dimensions)
    dimension, factor, offset = converted(text, unit, dimensions)
    value = float(match["value"]) * factor + offset
    spread = spread_of(text, match["spread"], second or unit, (dimension, value))
    return checked(Quantity(value=value, spread=spread, dimension=dimension, text=text))


def with_points(text: str) -> str:
    """Return a text with decimal points for decimal commas."""
    return re.sub(r"(?<=\d),(?=\d)", ".", text)


def converted(text: str, unit: str, dimensions: tuple[str, ...]) -> tuple[str, float, float]:
    """Return the dimension a unit has, and its factor and offset to SI."""
    if not known_unit(unit):
        hint = nearest_unit(unit)
        meant = f'did you mean "{hint}"? ' if hint else ""
        raise problem(text, f"has an unknown unit '{unit}'", meant + example(dimensions))
    for dimension in dimensions:
        found = scale(unit, dimension)
        if found is not None:
            return dimension, *found
    wanted = " or ".join(dimensions)
    raise problem(text, f"is no {wanted}: '{unit}' measures something else", example(dimensions))


def spread_of(text: str, spread: str | None, unit: str, of: tuple[str, float]) -> float | None:
    """Return a written spread in SI; percent means of the value."""
    if spread is None:
        return None
    dimension, value = of
    number = float(spread)
    if number < 0:
        raise problem(text, "has a negative spread", f"write ± {abs(number):g}")
    if spelled(unit) == "percent" and dimension != "fraction":
        return number / 100.0 * abs(value)
    if not known_unit(unit):
        raise problem(text, f"has an unknown unit '{unit}'", example((dimension,)))
    found = scale(unit, dimension)
    if found is None:
        raise problem(text, "has a spread of another kind", example((dimension,)))
    return number * found[0]


def checked(quantity: Quantity) -> Quantity:
    """Return the quantity if a foam plane can have it."""
    low, high = SANE[quantity.dimension]
    if not math.isfinite(quantity.value):
        raise problem(quantity.text, "is no finite number", example((quantity.dimension,)))
    if low <= quantity.value <= high:
        return quantity
    limits = f"{show(low, quantity.dimension)} to {show(high, quantity.dimension)}"
    if quantity.value < 0 <= low:
        raise problem(quantity.text, "is negative", f"a {quantity.dimension} is at least 0")
    raise problem(
        quantity.text,
        f"is far outside what a foam plane's {quantity.dimension} can be",
        f"{limits}; check the unit",
    )


SHOWN: dict[str, dict[str, tuple[str, float, float]]] = {
    "metric": {
        "mass": ("g", 1e3, 0.0),
        "length": ("mm", 1e3, 0.0),
        "area": ("cm²", 1e4, 0.0),
        "fraction": ("%", 1e2, 0.0),
        "angle": ("°", 57.29577951308232, 0.0),
        "speed": ("m/s", 1.0, 0.0),
        "temperature": ("°C", 1.0, -273.15),
        "resistance": ("mΩ", 1e3, 0.0),
        "charge": ("mAh", 1 / 3.6, 0.0),
        "speed constant": ("rpm/V", 60.0, 0.0),
        "rotation speed": ("rpm", 60.0, 0.0),
        "force": ("N", 1.0, 0.0),
        "torque": ("N·m", 1.0, 0.0),
        "wing loading": ("g/dm²", 10.0, 0.0),
        "energy per distance": ("Wh/km", 1 / 3.6, 0.0),
        "energy": ("J", 1.0, 0.0),
        "voltage": ("V", 1.0, 0.0),
        "current": ("A", 1.0, 0.0),
        "power": ("W", 1.0, 0.0),
        "density": ("kg/m³", 1.0, 0.0),
        "number": ("", 1.0, 0.0),
    },
    "imperial": {
        "mass": ("oz", 35.27396194958041, 0.0),
        "length": ("in", 39.37007874015748, 0.0),
        "area": ("sq in", 1550.0031000062, 0.0),
        "speed": ("mph", 2.2369362920544025, 0.0),
        "temperature": ("°F", 1.8, -459.67),
        "force": ("ozf", 3.5969431019354, 0.0),
        "torque": ("ozf·in", 141.61193227806, 0.0),
        "wing loading": ("oz/sq ft", 3.2770556, 0.0),
        "energy per distance": ("Wh/mile", 1.609344 / 3.6, 0.0),
    },
}
"""The unit a dimension is shown in, with factor and offset from SI."""


def shown_in(dimension: str, units: str) -> tuple[str, float, float]:
    """Return unit, factor and offset that a dimension is shown with."""
    table = SHOWN.get(units, {})
    return table.get(dimension) or SHOWN["metric"].get(dimension, ("", 1.0, 0.0))


def digits(value: float) -> str:
    """Return a number with about three digits, without exponent."""
    size = abs(value)
    if size >= 99.5 or size == 0:
        return f"{value:.0f}"
    return f"{value:.1f}" if size >= 9.95 else f"{value:.2g}" if size < 0.0995 else f"{value:.2f}"


def long_length(value: float, units: str) -> tuple[float, str] | None:
    """Return a length too long for a workbench in metres or kilometres, feet or miles."""
    if abs(value) < 3.0:
        return None
    if units == "imperial":
        return (value / 1609.344, "mi") if abs(value) >= 1609.344 else (value / 0.3048, "ft")
    return (value / 1000.0, "km") if abs(value) >= 1000.0 else (value, "m")


def in_units(
    value: float, dimension: str, units: str, currency: str = "EUR"
) -> tuple[float, str]:
    """Return an SI value as number and unit to show."""
    if dimension == "money":
        return value, currency
    if dimension == "time":
        return (value / 60.0, "min") if abs(value) >= 100.0 else (value, "s")
    if dimension == "length":
        far = long_length(value, units)
        if far is not None:
            return far
    unit, factor, offset = shown_in(dimension, units)
    return value * factor + offset, unit


def show(
    value: float | None, dimension: str, units: str = "metric", currency: str = "EUR"
) -> str:
    """Return an SI value as text in the user's units."""
    if value is None or not math.isfinite(value):
        return "none"
    number, unit = in_units(value, dimension, units, currency)
    gap = "" if unit in ("°", "") else " "
    return f"{digits(number)}{gap}{unit}"


def show_band(
    low: float | None,
    high: float | None,
    dimension: str,
    units: str = "metric",
    currency: str = "EUR",
) -> str:
    """Return a band as text: both ends in one unit."""
    if low is None or high is None:
        return "none"
    _, unit = in_units(max(abs(low), abs(high)), dimension, units, currency)
    _, large = in_units(high, dimension, units, currency)
    ends = [in_units(v, dimension, units, currency) for v in (low, high)]
    if ends[0][1] != ends[1][1]:
        return f"{show(low, dimension, units, currency)} to {show(high, dimension, units, currency)}"
    gap = "" if unit in ("°", "") else " "
    return f"{digits(ends[0][0])}–{digits(ends[1][0])}{gap}{large}"


SI_UNITS = {name: entry[0].replace("**", "^") for name, entry in DIMENSIONS.items()}
"""The SI unit of each dimension, in words for JSON."""
