"""Stations from a photo as keys of the plane file; what a photo does not show is carried over."""

from collections.abc import Mapping, Sequence
from typing import get_args

from foamwright.model.photo_outline import Outline
from foamwright.plane.airframe import Role
from foamwright.plane.plane import Plane
from foamwright.problems import CallProblem, Finding, PlaneFileProblem, QuantityProblem
from foamwright.quantity import Quantity, read

MM = 1e3

ORDER = (
    *("x", "y", "z", "leading_edge", "chord", "width", "height"),
    *("thickness", "camber", "twist", "corner"),
)
"""In which order the keys of a station are written."""

SHOWN_IN = {"length": (MM, "mm"), "fraction": (100.0, "%"), "angle": (57.29577951308232, "deg")}
"""In what a carried value is written anew: factor and unit."""

SAME = 2.0
"""So near a written station, what is written there holds [mm]."""

LONGEST_NAME = 60
"""Most letters of a new name."""

Station = dict[str, object]


def text_of(value: float, spread: float) -> str:
    """Return a length in millimetres as it is written into the plane file."""
    if spread < 0.05:
        return f"{value:.1f} mm"
    return f"{value:.1f} ± {spread:.1f} mm"


def targets(plane: Plane, view: str) -> list[str]:
    """Return the names of what an outline of a view can be written into."""
    if view.startswith("body"):
        return [body.name for body in plane.airframe.bodies]
    return [s.name for s in plane.airframe.surfaces if (s.role == "fin") == (view == "fin")]


def roles(view: str) -> list[str]:
    """Return what a new surface of a view can be."""
    if view.startswith("body"):
        return []
    return [role for role in get_args(Role) if (role == "fin") == (view == "fin")]


def quantity(entry: Mapping[str, object], key: str) -> Quantity | None:
    """Return a written quantity of a station; none where there is none."""
    found = entry.get(key)
    if not isinstance(found, str):
        return None
    try:
        return read(found, "length", "fraction", "angle")
    except QuantityProblem:
        return None  # a written keyword, carried over as it stands


def place_of(entry: Mapping[str, object], axis: str) -> float:
    """Return where a written station lies [mm]."""
    found = quantity(entry, axis)
    return 0.0 if found is None else found.value * MM


def between(old: Sequence[Mapping[str, object]], axis: str, at: float, key: str) -> object:
    """Return what a key is at some place, from the written stations that have it."""
    having = sorted(
        ((place_of(entry, axis), entry) for entry in old if key in entry), key=lambda pair: pair[0]
    )
    if not having:
        return None
    place, entry = min(having, key=lambda pair: abs(pair[0] - at))
    before = [pair for pair in having if pair[0] <= at]
    after = [pair for pair in having if pair[0] > at]
    if abs(place - at) < SAME or not before or not after:
        return entry[key]
    (low, first), (high, last) = before[-1], after[0]
    one, other = quantity(first, key), quantity(last, key)
    if one is None or other is None or one.dimension != other.dimension or one.text == other.text:
        return entry[key]
    return mixed(one, other, (at - low) / (high - low))


def mixed(one: Quantity, other: Quantity, share: float) -> str:
    """Return a quantity between two of one dimension, as it is written."""
    factor, unit = SHOWN_IN[one.dimension]
    value = factor * (one.value + share * (other.value - one.value))
    spread = factor * max(one.spread or 0.0, other.spread or 0.0)
    return f"{value:.1f}" + (f" ± {spread:.2g}" if spread else "") + f" {unit}"


def station(names: Sequence[str], values: Sequence[float], spreads: Sequence[float]) -> Station:
    """Return one station as it is written."""
    return {
        name: text_of(value, spread)
        for name, value, spread in zip(names, values, spreads, strict=True)
    }


def stations_for(outline: Outline, old: Sequence[Mapping[str, object]]) -> list[Station]:
    """Return the stations of an outline, with what the old ones say beyond it."""
    axis = outline.names[0]
    carried = [key for key in ORDER if key not in outline.names and any(key in e for e in old)]
    found = []
    for row, spreads in zip(outline.stations, outline.spreads, strict=True):
        entry = station(outline.names, row.tolist(), spreads.tolist())
        more = {key: between(old, axis, float(row[0]), key) for key in carried}
        entry |= {key: text for key, text in more.items() if text is not None}
        found.append({key: rounded(entry)[key] for key in ORDER if key in entry})
    return found


def rounded(entry: Station) -> Station:
    """Return a station whose corner is not more than round."""
    corner, sides = quantity(entry, "corner"), [quantity(entry, k) for k in ("width", "height")]
    if corner is None or sides[0] is None or sides[1] is None:
        return entry
    half = min(side.value for side in sides if side is not None) / 2.0
    if corner.value <= half:
        return entry
    return {**entry, "corner": f"{half * MM - 0.05:.1f} mm"}


def surfaces_in(written: Mapping[str, object], list_: str) -> list[Mapping[str, object]]:
    """Return the written surfaces or bodies."""
    airframe = written.get("airframe")
    found = airframe.get(list_) if isinstance(airframe, Mapping) else None
    return [e for e in found if isinstance(e, Mapping)] if isinstance(found, list) else []


def keys_for(
    written: Mapping[str, object], outline: Outline, target: Mapping[str, str]
) -> dict[str, object]:
    """Return what is to be written: the stations of what is there, or something new.

    `target` says its `name`; for something new, `new` is "yes", with the `role` of a surface or the
    `other` side of a body. Raises CallProblem or PlaneFileProblem.
    """
    list_ = "bodies" if outline.view.startswith("body") else "surfaces"
    entries = surfaces_in(written, list_)
    name = target.get("name", "").strip()
    at = next((at for at, entry in enumerate(entries) if entry.get("name") == name), None)
    if target.get("new") == "yes":
        if at is not None:
            raise refused("name", f"there is a '{name}' already", "another name, or choose it")
        return {f"airframe.{list_}.{checked_name(name)}": new_entry(outline, target)}
    if at is None:
        known = ", ".join(str(entry.get("name")) for entry in entries) or "nothing"
        raise CallProblem(f"there is no '{name}'", expected=f"there is {known}")
    old = entries[at].get("stations")
    before = [e for e in old if isinstance(e, Mapping)] if isinstance(old, list) else []
    place = name if "." not in name and not name.isdigit() else str(at)
    return {f"airframe.{list_}.{place}.stations": stations_for(outline, before)}


def refused(key: str, what: str, expected: str) -> PlaneFileProblem:
    """Return the problem with a field of the form."""
    return PlaneFileProblem((Finding(what=what, expected=expected, key=key),))


def checked_name(name: str) -> str:
    """Return a new name; raises PlaneFileProblem for one that cannot be written."""
    if not name or len(name) > LONGEST_NAME or not name.isprintable():
        raise refused("name", "is no name", f"1 to {LONGEST_NAME} letters")
    if "." in name or name.isdigit():
        raise refused("name", f"'{name}' cannot be told from a place", "no dot, not digits alone")
    return name


def new_entry(outline: Outline, target: Mapping[str, str]) -> dict[str, object]:
    """Return a new surface or body; raises PlaneFileProblem where something of it is not told."""
    stations = stations_for(outline, [])
    if not outline.view.startswith("body"):
        role = target.get("role", "")
        if role not in roles(outline.view):
            raise refused("role", f"'{role}' is none here", ", ".join(roles(outline.view)))
        return {"role": role, "stations": stations}
    missing = "width" if outline.view == "body side" else "height"
    other = target.get("other", "").strip()
    if not other:
        what = f"a photo from there does not show the {missing}"
        raise refused("other", what, f'tell its {missing}, for instance "50 mm"')
    try:
        read(other, "length", limits=(0.001, 3.0))
    except QuantityProblem as problem:
        found = problem.findings[0]
        raise refused("other", found.what, found.expected) from problem
    filled = [{**entry, missing: other} for entry in stations]
    return {"stations": [{key: e[key] for key in ORDER if key in e} for e in filled]}
