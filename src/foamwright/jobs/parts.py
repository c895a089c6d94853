"""The items of a new plane file."""

from dataclasses import dataclass, field

from foamwright.jobs.draft import CONTROLS
from foamwright.jobs.shapes import place
from foamwright.jobs.sheet import MARK, Lines, Sheet, entry, quoted
from foamwright.jobs.stowing import SERVO_SPREAD, Manner, laid
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
    manner: Manner = field(default_factory=Manner)
    """How it lies."""
    x: float | None = None
    """Where it lies, if not at the usual place [m]."""
    sideways: float = 0.0
    """Distance from the middle line, for a pair [m]."""


def parts_of(sheet: Sheet) -> tuple[Part, ...]:
    """Return the parts on board, in the order they are written."""
    how = laid(sheet.layout, sheet.told, sheet.stand_in)
    usual = (Manner(), None)
    found = [
        Part(
            key=key,
            kind=kind,
            name=name,
            place=f"places.{key}",
            manner=how.get(key, usual)[0],
            x=how.get(key, usual)[1],
        )
        for key, kind, name in ORDER
        if sheet.text(f"labels.{key}") != "none"
    ]
    span = sheet.metres("ruler.span")
    if sheet.text("labels.servo") == "none":
        return tuple(found)
    for name in dict.fromkeys(servo for *_, servo in CONTROLS[sheet.layout]):
        wing = name.startswith("wing")
        where = "wing_servos" if wing else "tail_servos"
        manner, x = how.get(where, usual)
        apart = SERVO_SPREAD * span / 2 if wing else manner.sideways or SPLIT * span
        found.append(
            Part(
                key="servo",
                kind="servo",
                name=name,
                place=f"places.{where}",
                manner=manner,
                x=x,
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


def millimetres(metres: float) -> str:
    """Return a length as TOML writes it, to the millimetre."""
    return quoted(f"{metres * 1e3:.0f} mm")


def manner_lines(part: Part) -> Lines:
    """Return how a part lies, where that is not flat in its pocket."""
    manner, lines = part.manner, []
    if manner.lies != "flat":
        lines.append(entry("lies", manner.lies))
    if manner.protrudes:
        lines.append(f"protrudes = {millimetres(manner.protrudes)}  # {MARK}: out of the foam")
    if manner.outside:
        lines.append(entry("pocket", "none", "  # taped on: too little foam for a pocket"))
    if part.kind == "motor" and manner.height is not None:
        lines.append("# on a pylon, so that the propeller turns clear of the foam")
    return lines


def part_lines(sheet: Sheet, part: Part) -> Lines:
    """Return one item."""
    label_key = f"labels.{part.key}"
    label = sheet.text(label_key)
    manner = part.manner
    side = f", y = {millimetres(part.sideways)}" if part.sideways else ""
    along = sheet.text(part.place)
    if part.x is not None and part.place not in sheet.told:
        along = place(part.x)
    up = "" if manner.height is None else f", z = {millimetres(manner.height)}"
    lines = [
        "",
        "[[items]]",
        entry("name", part.name),
        entry("kind", part.kind),
        entry("stock", stock_name(part.kind, label), sheet.remark(label_key)),
        *own_size(part, label),
        mass_line(sheet, part),
        *(["count = 2"] if part.sideways else []),
        *manner_lines(part),
        f"at = {{ x = {quoted(along)}{side}{up} }}{sheet.remark(part.place)}",
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
