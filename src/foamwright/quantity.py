"""Text with unit and spread to SI and back; the only file that imports the unit library."""

import difflib
import math
import re
from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING, Literal

from foamwright.problems import Finding, QuantityProblem
from foamwright.units import DEFINITIONS, MEANT, SANE, SHOWN, USUAL

if TYPE_CHECKING:
    from pint import UnitRegistry

Units = Literal["metric", "imperial"]

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
    "turn rate": ("radian/s", "180 deg/s"),
    "frequency": ("Hz", "5 Hz"),
    "force": ("N", "350 gf"),
    "torque": ("N*m", "0.6 kgf cm"),
    "energy": ("J", "5 Wh"),
    "density": ("kg/m**3", "20 kg/m3"),
    "pressure": ("Pa", "1013 hPa"),
    "stress": ("Pa", "70 kPa"),
    "money": ("", "12 EUR"),
}
"""SI unit (rotation in revolutions a second) and an example of each dimension."""

NUMBER = r"[-+]?(?:\d+(?:\.\d*)?|\.\d+)(?:[eE][-+]?\d+)?"
PATTERN = re.compile(
    rf"^\s*(?P<value>{NUMBER})\s*(?P<first>[^\d\s±+-][^±]*?)?\s*"
    rf"(?:(?:±|\+-|\+/-)\s*(?P<spread>{NUMBER})\s*(?P<second>[^\d\s].*?)?)?\s*$"
)
COMMA = re.compile(r"\d,\d")
SPACED = re.compile(r"(?<=\d)\s+(?=\d)")
PART = r"[A-Za-zΩ%°]+(?:(?:\^|\*\*)?[23]|[²³])?"
UNIT = re.compile(rf"^{PART}(?:\s*[/*·\s]\s*{PART})*$")
MONEY = re.compile(r"^[A-Z]{3}$")
WIDEST_MASS = 3.0
"""Largest spread of a mass, in masses; beyond it a digit or a unit was mistyped."""
LONGEST = 60
"""Most characters of a text that are taken, or repeated in a message."""


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
def registry() -> "UnitRegistry[float]":
    """Return the registry of our own units; the library is imported only when it is needed."""
    from pint import UnitRegistry  # noqa: PLC0415 - slow to import

    found: UnitRegistry[float] = UnitRegistry(None, autoconvert_offset_to_baseunit=True)
    for line in DEFINITIONS.strip().splitlines():
        if line:
            found.define(line)
    return found


def problem(text: object, what: str, expected: str) -> QuantityProblem:
    """Return the problem with a text."""
    found = repr(text)
    if len(found) > LONGEST:
        found = found[: LONGEST - 4] + "..."
    return QuantityProblem((Finding(what=f"{found} {what}", expected=expected),))


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


def plain(unit: str) -> str:
    """Return a unit as `USUAL` spells it, as far as that is a matter of signs."""
    text = unit.strip().replace("Ω", "ohm").replace("°", "deg").replace("·", " ")
    return text.replace("²", "2").replace("³", "3").replace("^", "")


def likely(dimension: str) -> str:
    """Return the unit a bare number most likely means."""
    return "EUR" if dimension == "money" else next(iter(USUAL[dimension]))


def nearest_unit(unit: str, dimensions: tuple[str, ...]) -> str:
    """Return the unit that was meant, among those that would be right; empty if none is near."""
    known = [name for dimension in dimensions for name in USUAL.get(dimension, {})]
    usual = MEANT.get(unit.lower())
    if usual is not None and (usual in known or MONEY.match(usual)):
        return usual
    same = next((name for name in known if name.lower() == unit.lower()), "")
    found = difflib.get_close_matches(unit, known, n=1, cutoff=0.6)
    upper = unit.upper() if "money" in dimensions and MONEY.match(unit.upper()) else ""
    return same or upper or (found[0] if found else "")


@lru_cache(maxsize=1024)
def scale(unit: str, dimension: str) -> tuple[float, float] | None:
    """Return factor and offset from a unit to the SI unit of a dimension; none if it is another."""
    text = plain(unit)
    currency = MONEY.match(text) is not None
    if currency or dimension == "money":
        return (1.0, 0.0) if currency and dimension == "money" else None
    usual = USUAL.get(dimension, {}).get(text)
    if usual is not None:
        return usual
    if any(text in units for units in USUAL.values()):
        return None
    return converted_by_library(unit, dimension)


def converted_by_library(unit: str, dimension: str) -> tuple[float, float] | None:
    """Return factor and offset of a known unit by the unit library.

    Rotation and angle are pure numbers to it, so they are told apart by name here.
    """
    import pint  # noqa: PLC0415 - slow to import

    text = spelled(unit)
    turning = dimension in ("speed constant", "rotation speed")
    angular = dimension in ("angle", "turn rate")
    if angular and not re.search(r"deg(?![CF])|rad", text):
        return None
    if not angular and re.search(r"\bdeg\b|\bdegree\b|\brad\b|\bradian\b", text):
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
    text = plain(unit)
    if MONEY.match(text) or any(text in units for units in USUAL.values()):
        return True
    if UNIT.match(unit.strip()) is None:
        return False
    import pint  # noqa: PLC0415 - slow to import

    try:
        registry().Unit(spelled(unit))
    except (pint.errors.UndefinedUnitError, pint.errors.DefinitionSyntaxError):
        return False
    return True


def bare(text: object, dimensions: tuple[str, ...]) -> QuantityProblem:
    """Return the problem with a number that has no unit."""
    number, sign, spread = str(text).strip().partition("±")
    rest = f" ± {spread.strip()}" if sign else ""
    meant = " or ".join(f'"{number.strip()} {likely(name)}{rest}"' for name in dimensions)
    return problem(text, "has no unit", f"did you mean {meant}?")


def read(text: object, *dimensions: str, limits: tuple[float, float] | None = None) -> Quantity:
    """Return a written quantity in SI, of one of the dimensions allowed.

    Forms: "71 g", "71 ± 1 g", "71 g +- 2 g", "71 g ± 2 %". `limits` [SI] are those of the first
    dimension where the field knows better than the dimension. Raises QuantityProblem.
    """
    if isinstance(text, bool) or not isinstance(text, str):
        if isinstance(text, int | float) and not isinstance(text, bool) and math.isfinite(text):
            raise bare(text, dimensions)
        raise problem(text, "is no quantity", example(dimensions))
    match = matched(text, dimensions)
    unit = (match["first"] or "").strip()
    second = (match["second"] or "").strip()
    if not unit and match["spread"] is not None:
        unit = unit_after_spread(text, second, dimensions)
    if not unit:
        raise bare(text, dimensions)
    dimension, factor, offset = converted(text, unit, dimensions)
    value = float(match["value"]) * factor + offset
    spread = spread_of(text, match["spread"], second or unit, (dimension, value))
    own = limits if limits is not None and dimension == dimensions[0] else SANE[dimension]
    found = Quantity(value=value, spread=spread, dimension=dimension, text=text)
    return checked(found, float(match["value"]), own)


def matched(text: str, dimensions: tuple[str, ...]) -> re.Match[str]:
    """Return a text taken apart into value, unit and spread."""
    if len(text) > LONGEST:  # no quantity is that long, and taking it apart would take its time
        raise problem(text, "is far too long for a value with a unit", example(dimensions))
    if COMMA.search(text):
        point = re.sub(r"(?<=\d),(?=\d)", ".", text)
        raise problem(text, "has a decimal comma", f'write "{point}"')
    match = PATTERN.match(text.replace("−", "-"))
    if match is not None:
        return match
    joined = SPACED.sub("", text)
    if PATTERN.match(joined) is not None:
        raise problem(text, "has a space inside a number", f'write "{joined}"')
    raise problem(text, "is no number with a unit", example(dimensions))


def unit_after_spread(text: str, second: str, dimensions: tuple[str, ...]) -> str:
    """Return the unit of "71 ± 1 g"; a spread in percent has to follow the unit."""
    if not second.startswith("%") or (second == "%" and "fraction" in dimensions):
        return second
    value, _, spread = re.sub(r"\+/?-", "±", text).partition("±")
    unit = second[1:].strip() or likely(dimensions[0])
    share = spread.partition("%")[0].strip()
    meant = f'write "{value.strip()} {unit} ± {share} %"'
    raise problem(text, "has its spread in percent before the unit", meant)


def converted(text: str, unit: str, dimensions: tuple[str, ...]) -> tuple[str, float, float]:
    """Return the dimension a unit has, and its factor and offset to SI."""
    if not known_unit(unit):
        hint = nearest_unit(unit, dimensions)
        meant = f'did you mean "{hint}"? ' if hint else ""
        raise problem(text, f"has an unknown unit '{unit[:20]}'", meant + example(dimensions))
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
    if not math.isfinite(number):
        raise problem(text, "has a spread that is no finite number", example((dimension,)))
    if spelled(unit) == "percent" and dimension == "temperature":
        raise problem(text, "has a spread in percent of a temperature", 'write "± 5 degC"')
    if spelled(unit) == "percent" and dimension != "fraction":
        return number / 100.0 * abs(value)
    if not known_unit(unit):
        hint = nearest_unit(unit, (dimension,))
        meant = f'did you mean "{hint}"? ' if hint else ""
        raise problem(text, f"has an unknown unit '{unit[:20]}'", meant + example((dimension,)))
    found = scale(unit, dimension)
    if found is None:
        raise problem(text, "has a spread of another kind", example((dimension,)))
    return number * found[0]


def checked(quantity: Quantity, number: float, limits: tuple[float, float]) -> Quantity:
    """Return the quantity if a foam plane can have it; `number` is as written, before its unit."""
    low, high = limits
    dimension = quantity.dimension
    if not math.isfinite(quantity.value):
        raise problem(quantity.text, "is no finite number", example((dimension,)))
    if low <= quantity.value <= high:
        return believable(quantity)
    if quantity.value < 0 <= low:
        raise problem(quantity.text, "is negative", f"such a {dimension} is at least 0")
    ends = f"{show(low, dimension)} to {show(high, dimension)}"
    others = [
        f'"{number:g} {unit}"'
        for unit, (factor, offset) in USUAL.get(dimension, {}).items()
        if low < number * factor + offset <= high
    ]
    meant = f"did you mean {' or '.join(others[:2])}?" if others else "check the unit"
    what = f"is outside what such a {dimension} of a foam plane can be, {ends}"
    raise problem(quantity.text, what, meant)


def believable(quantity: Quantity) -> Quantity:
    """Return the quantity unless it is a mass whose spread is many times itself."""
    times = (quantity.spread or 0.0) / quantity.value if quantity.value else 0.0
    if quantity.dimension != "mass" or times <= WIDEST_MASS:
        return quantity
    raise problem(quantity.text, f"has a spread of {times:.3g} times itself", "± is one deviation")


def shown_in(dimension: str, units: str) -> tuple[str, float, float]:
    """Return unit, factor and offset that a dimension is shown with."""
    table = SHOWN.get(units, {})
    return table.get(dimension) or SHOWN["metric"].get(dimension, ("", 1.0, 0.0))


def digits(value: float) -> str:
    """Return a number with about three digits, without exponent; two decimals from 0.1 to 10."""
    size = abs(value)
    if size < 5e-7:
        return "0"
    few = 1 - math.floor(math.log10(size))
    places = 0 if size >= 99.5 else 1 if size >= 9.95 else 2 if size >= 0.0995 else few
    return f"{value:.{places}f}"


def long_length(value: float, units: str) -> tuple[float, str] | None:
    """Return a length too long for a workbench in metres or kilometres, feet or miles."""
    if abs(value) < 3.0:
        return None
    if units == "imperial":
        return (value / 1609.344, "mi") if abs(value) >= 1609.344 else (value / 0.3048, "ft")
    return (value / 1000.0, "km") if abs(value) >= 1000.0 else (value, "m")


def in_units(value: float, dimension: str, units: str, currency: str = "EUR") -> tuple[float, str]:
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


def show(value: float | None, dimension: str, units: str = "metric", currency: str = "EUR") -> str:
    """Return an SI value as text in the user's units."""
    if value is None or not math.isfinite(value):
        return "none"
    number, unit = in_units(value, dimension, units, currency)
    if dimension == "count":
        return f"{number:.0f}"
    gap = "" if unit in ("°", "") else " "
    return f"{digits(number)}{gap}{unit}"


def show_band(
    low: float | None,
    high: float | None,
    dimension: str,
    units: str = "metric",
    *,
    currency: str = "EUR",
) -> str:
    """Return a band as text: both ends in one unit."""
    if low is None or high is None or not (math.isfinite(low) and math.isfinite(high)):
        return "none"
    (first, unit), (last, other) = (
        in_units(end, dimension, units, currency) for end in (low, high)
    )
    if unit != other:
        ends = (show(end, dimension, units, currency) for end in (low, high))
        return " to ".join(ends)
    if dimension == "count":
        return f"{first:.0f}–{last:.0f}"
    gap = "" if unit in ("°", "") else " "
    return f"{digits(first)}–{digits(last)}{gap}{unit}"


SI_UNITS = {
    **{name: entry[0].replace("**", "^") for name, entry in DIMENSIONS.items()},
    "wing loading": "kg m^-2",
    "energy per distance": "J/m",
    "inertia": "kg m^2",
    "pull": "N",
    "number": "",
    "count": "",
}
"""The SI unit of each dimension, in words for JSON."""
