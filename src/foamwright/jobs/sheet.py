"""What was told and what stands in, and how either is written into a plane file."""

import json
import math
from collections.abc import Mapping
from dataclasses import dataclass

from foamwright.jobs.interview import BY_KEY
from foamwright.jobs.shapes import Told
from foamwright.plane.airframe import Layout
from foamwright.quantity import read

MARK = "not measured"
"""How a stand-in is marked."""

HEADER = """\
# Written by `foamwright new`; now it is yours to edit.
# A quantity is a number with its unit, and its spread of one standard deviation if you know it:
# "71 g" or "71 ± 1 g". x runs aft from the nose, y to the right wing tip, z up.
# '{mark}' marks what stands in until you measure it: correct the value, delete the remark.
"""

Lines = list[str]


@dataclass(frozen=True, kw_only=True, slots=True)
class Sheet:
    """What was told, and what stands in."""

    layout: Layout
    """The layout."""
    told: Told
    """Dotted key to text."""
    stand_in: Mapping[str, str]
    """The same for everything usual."""

    def text(self, key: str) -> str:
        """Return what was told, or what stands in."""
        return self.told.get(key) or self.stand_in[key]

    def metres(self, key: str) -> float:
        """Return a length [m]."""
        return read(self.text(key), "length").value

    def remark(self, *keys: str) -> str:
        """Return the remark that names what of some keys was not told."""
        words = [BY_KEY[key].words for key in keys if key not in self.told]
        return f"  # {MARK}: {', '.join(words)}" if words else ""

    def sum(self, *parts: tuple[float, str]) -> str:
        """Return a sum of lengths, each with its factor, as text with its spread."""
        total, variance = 0.0, 0.0
        for factor, key in parts:
            quantity = read(self.text(key), "length")
            total += factor * quantity.value
            variance += (factor * (quantity.spread or 0.0)) ** 2
        spread = f" ± {tenths(math.sqrt(variance))}" if variance else ""
        return f"{tenths(total)}{spread} mm"


def tenths(metres: float) -> str:
    """Return a length in millimetres to a tenth, without an idle zero."""
    return f"{metres * 1e3:.1f}".removesuffix(".0")


def quoted(text: str) -> str:
    """Return a text as TOML writes it."""
    return json.dumps(text, ensure_ascii=False)


def entry(key: str, text: str, remark: str = "") -> str:
    """Return one line of the file."""
    return f"{key} = {quoted(text)}{remark}"


def station(fields: Mapping[str, str], remark: str) -> str:
    """Return one station as a line of a list."""
    inside = ", ".join(f"{key} = {quoted(text)}" for key, text in fields.items())
    return f"  {{ {inside} }},{remark}"
