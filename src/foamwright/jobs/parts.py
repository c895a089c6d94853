"""The items of a new plane file."""

from dataclasses import dataclass

from foamwright.jobs.draft import CONTROLS
from foamwright.jobs.sheet import MARK, Lines, Sheet, entry, quoted
from foamwright.jobs.told import SIZED, stock_name

ORDER = (
    ("motor", "motor", "motor"),
    ("propeller", "propeller", "propeller"),
    ("speed_controller", "esc", "speed controller"),
    ("pack", "pack", "pack"),
    ("flight_controller", "flight controller", "flight controller"),
    ("receiver", "receiver", "receiver"),
    ("camera", "camera", "camera"),
    ("video_transmitter", "video transmitter", "video transmitter"),
    ("gps", "gps", "GPS"),
)
"""Key in the interview, kind, and the name it gets."""

SERVO_SPREAD = 0.4
"""Where wing servos sit, as a share of the half span."""

SPLIT = 0.02
"""Where a pair of tail servos sits, as a share of the span from the middle line."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Part:
    """One item to be written."""

    key: str
    """Its key in the interview."""
    kind: str
    """Its kind."""
    name: str
    """What it is called in the file."""
    place: str
    """Key of its place in the interview."""
    sideways: float = 0.0
    """Distance from the middle line, for a pair [m]."""


def parts_of(sheet: Sheet) -> tuple[Part, ...]:
    """Return the parts on board, in the order they are written."""
    found = [
        Part(key=key, kind=kind, name=name, place=f"places.{key}")
        for key, kind, name in ORDER
        if sheet.text(f"labels.{key}") != "none"
    ]
    span = sheet.metres("ruler.span")
    if sheet.text("labels.servo") == "none":
        return tuple(found)
    for name in dict.fromkeys(servo for *_, servo in CONTROLS[sheet.layout]):
        wing = name.startswith("wing")
        apart = SERVO_SPREAD * span / 2 if wing else SPLIT * span
        found.append(
            Part(
                key="servo",
                kind="servo",
                name=name,
                place="places.wing_servos" if wing else "places.tail_servos",
                sideways=apart if name.endswith("s") else 0.0,
            )
        )
    return tuple(found)


def own_size(part: Part, label: str) -> Lines:
    """Return the size printed on a part where the nearest stock entry has another."""
    if part.kind not in SIZED:
        return []
    stock = stock_name(part.kind, label)
    bare = label.strip().lower().removeprefix(part.kind).strip()
    if stock.lower() == f"{part.kind} {bare}" or part.kind == "servo":
        return []
    return [entry(SIZED[part.kind][1], bare.replace("a", "A"))]


def mass_line(sheet: Sheet, part: Part) -> str:
    """Return the mass that was weighed, or what to do about it."""
    weighed = sheet.told.get(f"scale.{part.key}")
    if weighed:
        return entry("mass", weighed)
    if part.kind == "servo" and "labels.servo" in sheet.told:
        return f"# {MARK}: mass; the usual one of its class stands in, weigh one with its lead"
    return f"# {MARK}: mass; the usual one of the stock stands in until you weigh it"


def part_lines(sheet: Sheet, part: Part) -> Lines:
    """Return one item."""
    label_key = f"labels.{part.key}"
    label = sheet.text(label_key)
    side = f", y = {quoted(f'{part.sideways * 1e3:.0f} mm')}" if part.sideways else ""
    lines = [
        "",
        "[[items]]",
        entry("name", part.name),
        entry("kind", part.kind),
        entry("stock", stock_name(part.kind, label), sheet.remark(label_key)),
        *own_size(part, label),
        mass_line(sheet, part),
        *(["count = 2"] if part.sideways else []),
        f"at = {{ x = {quoted(sheet.text(part.place))}{side} }}{sheet.remark(part.place)}",
    ]
    if part.kind == "pack":
        first, last = "places.pack_foremost", "places.pack_rearmost"
        lines.append(
            f"reach = {{ foremost = {quoted(sheet.text(first))}, "
            f"rearmost = {quoted(sheet.text(last))} }}{sheet.remark(first, last)}"
        )
    return lines


def item_lines(sheet: Sheet) -> Lines:
    """Return all items."""
    lines = [
        "",
        "# What goes into the foam. Glue, tape and wire are allowed for until you list them.",
        '# owned = true for what is in the drawer; price = "12 EUR" where you know better.',
    ]
    for part in parts_of(sheet):
        lines += part_lines(sheet, part)
    return lines
