"""Brandless part classes by name, the user's own first; some are made from their label."""

import difflib
import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import lru_cache
from importlib.resources import files
from pathlib import Path
from types import MappingProxyType

from foamwright.plane.positions import line_of, lines_of
from foamwright.plane.toml_text import parsed, text_of
from foamwright.problems import Finding, PlaneFileProblem

Entry = Mapping[str, object]
"""One part class: the keys of the gear schema, with `name`, `about` and `tag`."""

NOT_GEAR = ("name", "about", "tag")
"""Keys of an entry that do not go into an item."""

PREFIXES = ("pack", "motor", "propeller", "esc", "servo")
"""Kinds whose name may be left out of a stock name."""


def pack_from_label(match: re.Match[str]) -> dict[str, object]:
    """Return a pack from cells and mAh: m = 4 + S (0.6 + 26 Ah) g within 10 %, common practice.

    Single cells come with a tiny plug, 4 g less.
    """
    cells, capacity = int(match["cells"]), float(match["capacity"])
    mass = (4.0 if cells > 1 else 0.0) + cells * (0.6 + 26.0 * capacity / 1000.0)
    length = 54.0 + 12.0 * min(capacity / 1000.0, 2.0)
    width = 30.0 if capacity >= 400 else 20.0
    height = mass / 1.64 / (length * width) * 1000.0
    price = 6.0 + cells * capacity / 1000.0 * 4.2
    return {
        "kind": "pack",
        "cells": cells,
        "capacity": f"{capacity:g} ± {0.04 * capacity:.0f} mAh",
        "mass": f"{mass:.0f} ± {0.1 * mass:.1f} g",
        "size": {
            "length": f"{length:.0f} mm",
            "width": f"{width:.0f} mm",
            "height": f"{height:.0f} mm",
        },
        "price": f"{price:.0f} ± {0.25 * price:.0f} EUR",
        "about": "made from its label",
    }


def motor_from_label(match: re.Match[str]) -> dict[str, object]:
    """Return a motor from stator size and Kv: fits of the trade, common practice."""
    diameter, height, kv = int(match["d"]), int(match["h"]), float(match["kv"])
    mass = 0.0135 * 0.7854 * diameter**2 * height
    resistance = (16460.0 / (kv * mass)) ** 2 * 1000.0
    idle = 0.03 * mass * (kv / 2400.0) ** 0.5
    return {
        "kind": "motor",
        "stator_diameter": f"{diameter} mm",
        "stator_height": f"{height} mm",
        "kv": f"{kv:g} ± {0.06 * kv:.0f} rpm/V",
        "mass": f"{mass:.1f} ± {0.15 * mass:.1f} g",
        "resistance": f"{resistance:.0f} ± {0.4 * resistance:.0f} mohm",
        "no_load_current": f"{idle:.2f} ± {0.4 * idle:.2f} A",
        "no_load_voltage": "10 V",
        "burst_current": f"{1.0 * mass:.0f} ± {0.2 * mass:.1f} A",
        "continuous_current": f"{0.55 * mass:.1f} ± {0.15 * mass:.1f} A",
        "price": "15 ± 4 EUR",
        "about": "made from its label",
    }


def propeller_from_label(match: re.Match[str]) -> dict[str, object]:
    """Return a propeller from diameter x pitch x blades in inches."""
    return propeller(float(match["d"]), float(match["p"]), int(match["b"] or 2))


def propeller_from_digits(match: re.Match[str]) -> dict[str, object]:
    """Return a propeller from four digits, diameter and pitch in tenths of an inch."""
    diameter, pitch = float(match["d"] + match["d10"]), float(match["p"] + match["p10"])
    return propeller(diameter / 10.0, pitch / 10.0, int(match["b"] or 2))


def propeller(diameter: float, pitch: float, blades: int) -> dict[str, object]:
    """Return a propeller of some inches."""
    mass = 0.13 * diameter**2 * (0.55 + 0.225 * blades)
    return {
        "kind": "propeller",
        "diameter": f"{diameter:g} in",
        "pitch": f"{pitch:g} in",
        "blades": blades,
        "mass": f"{mass:.1f} ± {0.25 * mass:.2f} g",
        "price": "2 ± 0.7 EUR",
        "about": "made from its label",
    }


LABELS: tuple[tuple[str, re.Pattern[str], Callable[[re.Match[str]], dict[str, object]]], ...] = (
    (
        "pack",
        re.compile(r"^(?:pack )?(?P<cells>[1-6])s[ -]?(?P<capacity>\d{2,4})(?: ?mah)?$"),
        pack_from_label,
    ),
    (
        "pack",
        re.compile(r"^(?:pack )?(?P<capacity>\d{2,4})(?: ?mah)?[ -](?P<cells>[1-6])s$"),
        pack_from_label,
    ),
    (
        "motor",
        re.compile(r"^(?:motor )?(?P<d>0[89]|1\d|2\d|3\d)(?P<h>\d\d)[ -](?P<kv>\d{3,5})(?: ?kv)?$"),
        motor_from_label,
    ),
    (
        "propeller",
        re.compile(
            r"^(?:propeller )?(?P<d>\d{1,2}(?:\.\d+)?)x(?P<p>\d{1,2}(?:\.\d+)?)"
            r"(?:x(?P<b>[2-6]))?(?: ?in)?$"
        ),
        propeller_from_label,
    ),
    (
        "propeller",  # the four digits of the trade: propeller 5045 is 5 x 4.5
        re.compile(r"^propeller (?P<d>[2-9])(?P<d10>\d)(?P<p>[1-9])(?P<p10>\d)(?:x(?P<b>[2-6]))?$"),
        propeller_from_digits,
    ),
)
"""Kinds that can be made from their label, and how it is written."""


def plainly(name: str) -> str:
    """Return a name as the stock keeps it: lower case, single spaces, x for times."""
    return re.sub(r"(?<=\d)\s*[x×]\s*(?=\d)", "x", " ".join(name.lower().split()))


@dataclass(frozen=True, kw_only=True, slots=True)
class Stock:
    """Every part class known, by name."""

    entries: Mapping[str, Entry]
    """By name in lower case; the user's own replace the shipped."""

    def entry(self, name: str, kind: str | None = None) -> Entry:
        """Return the entry of a name, or one made from a label.

        Raises PlaneFileProblem with the nearest names if there is none.
        """
        plain = plainly(name)
        full = f"{kind} {plain}" if kind and not plain.startswith(f"{kind} ") else plain
        for candidate in (plain, full, *(f"{prefix} {plain}" for prefix in PREFIXES)):
            found = self.entries.get(candidate)
            if found is not None and kind in (None, found["kind"]):
                return found
        for made_kind, pattern, make in LABELS:
            match = pattern.match(full)
            if match is not None and kind in (None, made_kind):
                return {"name": name, "tag": "common-practice", **make(match)}
        raise PlaneFileProblem((self.unknown(name, plain, kind),))

    def knows(self, name: str, kind: str) -> bool:
        """Return whether there is an entry of a name and kind, or one can be made of it."""
        try:
            self.entry(name, kind)
        except PlaneFileProblem:
            return False
        return True

    def unknown(self, name: str, plain: str, kind: str | None) -> Finding:
        """Return the finding for a name that is not known, with the nearest ones."""
        names = [n for n, e in self.entries.items() if kind in (None, e["kind"])]
        near = difflib.get_close_matches(plain, names, n=3, cutoff=0.3) or names[:3]
        what = f"the stock has no {kind or 'part'} '{name}'"
        told = ", ".join(str(self.entries[n]["name"]) for n in near)
        return Finding(what=what, expected=f"nearest: {told}", key="stock")

    def item(self, name: str, kind: str | None = None) -> dict[str, object]:
        """Return the gear keys of an entry, `kind` among them."""
        return {k: v for k, v in self.entry(name, kind).items() if k not in NOT_GEAR}

    def typical(self, kind: str) -> dict[str, object]:
        """Return what stands in for an unknown item of a kind; only a kind where none does."""
        found = self.entries.get(f"typical {kind}")
        if found is None:
            return {"kind": kind}
        return {key: value for key, value in found.items() if key not in NOT_GEAR}

    def search(self, kind: str | None, words: tuple[str, ...]) -> tuple[Entry, ...]:
        """Return the entries of a kind whose name or description holds every word."""
        found = []
        for name, entry in self.entries.items():
            text = f"{name} {entry.get('about', '')} {entry['kind']}".lower()
            if name.startswith("typical ") or kind not in (None, entry["kind"]):
                continue
            if all(word.lower() in text for word in words):
                found.append(entry)
        return tuple(found)

    def kinds(self) -> tuple[str, ...]:
        """Return every kind that has entries of its own, not only one that stands in."""
        return tuple(dict.fromkeys(str(entry["kind"]) for entry in self.search(None, ())))


def entries_of(text: str, file: Path) -> list[dict[str, object]]:
    """Return the entries of a stock file; raises PlaneFileProblem if it is none."""
    found = parsed(text, file).get("entry", [])
    if not isinstance(found, list) or not all(isinstance(entry, dict) for entry in found):
        finding = Finding(
            what="is no list of part classes",
            expected="begin each with a line [[entry]]",
            file=file,
            key="entry",
        )
        raise PlaneFileProblem((finding,))
    unnamed = [
        (number, key)
        for number, entry in enumerate(found)
        for key in ("name", "kind")
        if not isinstance(entry.get(key), str)
    ]
    if unnamed:
        lines = lines_of(text)
        raise PlaneFileProblem(
            tuple(
                Finding(
                    what=f"entry {number + 1} has no {key}",
                    expected=f'add {key} = "..."',
                    file=file,
                    line=line_of(lines, ("entry", number)),
                    key=f"entry.{number}",
                )
                for number, key in unnamed
            )
        )
    return list(found)


@lru_cache(maxsize=1)
def shipped() -> Mapping[str, Entry]:
    """Return the entries that come with the package, by name in lower case."""
    found: dict[str, Entry] = {}
    folder = files("foamwright.plane").joinpath("stock")
    for file in sorted(folder.iterdir(), key=lambda f: f.name):
        if file.name.endswith(".toml"):
            for entry in entries_of(file.read_text(encoding="utf-8"), Path(file.name)):
                found[plainly(str(entry["name"]))] = entry
    return MappingProxyType(found)


def stock(user_file: Path | None = None) -> Stock:
    """Return the shipped stock, with a user's own file merged over it."""
    entries = dict(shipped())
    if user_file is not None and user_file.is_file():
        for entry in entries_of(text_of(user_file), user_file):
            name = plainly(str(entry["name"]))
            entries[name] = {**entries.get(name, {}), **entry}
    return Stock(entries=MappingProxyType(entries))
