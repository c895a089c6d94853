"""Items filled from the stock: by name, by label, or by what is typical."""

from collections.abc import Mapping

from pydantic import TypeAdapter, ValidationError

from foamwright.plane import gear
from foamwright.plane.edits import Raw
from foamwright.plane.findings import KINDS_OF_ITEMS, SET_HERE, Told
from foamwright.plane.stock import Stock
from foamwright.problems import Finding, PlaneFileProblem

ITEM: TypeAdapter[gear.AnyItem] = TypeAdapter(gear.AnyItem)

LABELS = {
    "pack": ("cells", "capacity"),
    "motor": ("stator_diameter", "stator_height", "kv"),
    "propeller": ("diameter", "pitch"),
}
"""Keys from which the stock can make an item of a kind that names no entry."""

LABEL_KEYS = {"blades", *(key for keys in LABELS.values() for key in keys)}
"""All of them, with the one that may be left out."""

UNWEIGHED = "is missing, and what"
"""How the finding begins that an item's mass does not follow from its label."""


def frozen(value: object) -> object:
    """Return plain data with tuples for lists, as strict records want it."""
    if isinstance(value, Mapping):
        return {key: frozen(entry) for key, entry in value.items()}
    if isinstance(value, list | tuple):
        return tuple(frozen(entry) for entry in value)
    return value


def label_of(item: Mapping[str, object]) -> str | None:
    """Return the stock name that an item's own label makes, if it says enough."""
    kind = item.get("kind")
    if not isinstance(kind, str) or any(key not in item for key in LABELS.get(kind, ("\0",))):
        return None
    try:
        known = ITEM.validate_python(frozen({"name": "x", **item}))
    except ValidationError:
        return None  # told with its line later
    label = None
    if isinstance(known, gear.Pack) and known.capacity is not None:
        label = f"{known.cells}S {known.capacity.value / 3.6:.0f}"
    elif isinstance(known, gear.Propeller) and known.diameter and known.pitch:
        d, p = known.diameter.value / 0.0254, known.pitch.value / 0.0254
        label = f"{d:.4g}x{p:.4g}x{known.blades}"
    elif isinstance(known, gear.Motor) and known.kv and known.stator_diameter:
        height = 0.0 if known.stator_height is None else known.stator_height.value
        size = f"{known.stator_diameter.value * 1e3:02.0f}{height * 1e3:02.0f}"
        label = f"{size} {known.kv.value * 60:.0f}"
    return label


def stock_entry(item: Mapping[str, object], stock: Stock) -> dict[str, object]:
    """Return what the stock knows of an item: by name, by label, or what is typical."""
    kind = item.get("kind")
    if kind is not None and kind not in KINDS_OF_ITEMS:
        return {}  # told with the kinds there are
    kind = kind if isinstance(kind, str) else None
    named = item.get("stock")
    if isinstance(named, str):
        return stock.item(named, kind)
    if kind is None or "mass" in item:
        return {}
    label = label_of(item)
    if label is not None:
        try:
            return stock.item(label, kind)
        except PlaneFileProblem as problem:
            what = f"{UNWEIGHED} a {kind} such as {label} weighs is not known here"
            finding = Finding(what=what, expected='weigh it: mass = "... g"', key="mass")
            raise PlaneFileProblem((finding,)) from problem
    return stock.typical(kind)


def with_stock(raw: Raw, stock: Stock) -> tuple[Raw, list[Told]]:
    """Return the plane with every item filled from the stock, and what could not be."""
    items = raw.get("items", [])
    if not isinstance(items, list):
        return raw, []
    filled: list[object] = []
    told: list[Told] = []
    for index, item in enumerate(items):
        if not isinstance(item, dict):
            filled.append(item)
            continue
        try:
            entry = stock_entry(item, stock)
        except PlaneFileProblem as problem:
            finding = problem.findings[0]
            told.append((("items", index, finding.key), finding.what, finding.expected))
            entry = {}
        if SET_HERE in item:
            told.append((("items", index, SET_HERE), "is no key here", "take it out"))
        taken = tuple(key for key in entry if key not in item and key != "kind")
        filled.append({**entry, **item, SET_HERE: taken})
    return {**raw, "items": filled}, told


def causes(findings: list[Told]) -> list[Told]:
    """Return the findings without masses that are unknown only because the label is wrong."""
    wrong = {path[1] for path, _, _ in findings if path[0] == "items" and path[-1] in LABEL_KEYS}
    return [
        (path, what, expected)
        for path, what, expected in findings
        if not (what.startswith(UNWEIGHED) and path[1] in wrong)
    ]
