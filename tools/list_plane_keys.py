"""Print docs/plane-file.md: every key of the plane file, from the records that read it.

Kind and default come from the records, the meaning from the line below each field; `TAKEN` adds
what stands in for a key that is left out. A key without a meaning ends the run.
"""

import ast
import inspect
import sys
import typing
from collections.abc import Iterator
from types import NoneType, UnionType

from pydantic import BaseModel, BeforeValidator
from pydantic.fields import FieldInfo

from foamwright.plane import airframe, gear, placement, plane, targets, tuning
from foamwright.quantity import DIMENSIONS

HEAD = """# The plane file

A plane is a folder with a `plane.toml`. This page is written by `make names` from the records that
read the file. [The examples](../examples/reedling/plane.toml) show the keys in use.

**Quantities** are text with a unit and, if you know it, a spread of one standard deviation:
`"71 g"`, `"71 ± 1 g"`, `"410 mm +- 2 mm"`, `"9 %"`, `"63 mph"`. Where you write no spread, the
usual one of a ruler, a kitchen scale or the label is taken. A bare number where a unit is needed is
an error that shows the likely meaning; so is a decimal comma. Nothing is converted silently.

**Left out**: the column "else" says what is taken. For an item's empty one it is the number of its
`stock` entry, or the usual one of its kind; the answer then says so under "Assumed".

**Axes**: x aft from the nose, y to the right wing tip, z up, in the plane's own frame.

**Errors** are told all at once, each with its line, its key, and what would be right. A key that is
not in these tables is an error: it would be a typing error that changes nothing.

"""

TAIL = """## Variants

`[variants."NAME"]` holds overrides of any of it, asked for with `--variant NAME`. Keys are dotted
and quoted, or written as tables; an entry of a list is addressed by its name (`"items.pack.at.x"`);
`{ remove = true }` takes an entry out; a table with a new name adds one. See
[how to compare variants](how-to/variants.md).

## Files beside it

- `stock.toml`: your own part classes over the shipped ones, `[[entry]]` with `name`, `kind` and the
  keys of an item; see [your own stock](how-to/your-own-stock.md).
- A section outline, named by `coordinates`: two numbers a line, x and y over the chord, from the
  trailing edge over the top and back; ten points at least.
- A blade, named by `blade`: columns `r_over_R`, `c_over_R`, `beta_deg`; four rows at least.
- A propeller's curve, named by `coefficients`: columns `J`, `CT`, `CP`; six rows at least, from
  rest on.
"""

Record = type[BaseModel]

TABLES: tuple[tuple[str, str, Record], ...] = (
    ("The plane", "At the top of the file.", plane.Plane),
    ("Targets", "`[targets]`: a wish that is missing leaves its question open.", targets.Targets),
    ("Site", "`[site]`", targets.Site),
    ("Thrower", "`[thrower]`: who throws it, for the question `launch`.", targets.Thrower),
    ("Bungee", "`[bungee]`: only where a rubber draws it off.", targets.Bungee),
    ("Tuning", "`[tuning]`: the stabiliser; its present setting counts as 1.0.", tuning.Tuning),
    ("Airframe", "`[airframe]`", airframe.Airframe),
    ("Surfaces", "`[[airframe.surfaces]]`, the wing first.", airframe.Surface),
    ("Stations of a surface", "`stations = [{ ... }, ...]`, root to tip.", airframe.Station),
    ("Control surfaces", "`[[airframe.surfaces.controls]]`", airframe.ControlSurface),
    ("Bodies", "`[[airframe.bodies]]`", airframe.Body),
    ("Stations of a body", "`stations = [{ ... }, ...]`, nose to tail.", airframe.BodyStation),
    ("Hatches", "`hatches = [{ ... }]` of a body.", airframe.Hatch),
    ("Protrusions", "`[[airframe.protrusions]]`", airframe.Protrusion),
    ("Items", "`[[items]]`: keys that every kind has.", gear.Item),
    ("Places", '`at = { x = "120 mm" }`, and `bare_balance`.', placement.Place),
    ("Reach", "`reach = { ... }`", placement.Reach),
    ("Size", "`size = { ... }`", placement.Size),
    ("Motor", 'An item of `kind = "motor"`.', gear.Motor),
    ("Propeller", 'An item of `kind = "propeller"`.', gear.Propeller),
    ("Static reading", "`static_reading = { ... }` of a propeller.", gear.StaticReading),
    ("Pack", 'An item of `kind = "pack"`.', gear.Pack),
    ("Speed controller", 'An item of `kind = "esc"`.', gear.SpeedController),
    ("Servo", 'An item of `kind = "servo"`.', gear.Servo),
    ("Rod", 'An item of `kind = "rod"`.', gear.Rod),
    ("Regulator", 'An item of `kind = "regulator"`.', gear.Regulator),
    ("Receiver and video transmitter", "Items of these kinds.", gear.Radio),
    ("Everything else", "Items that have a mass, a place and perhaps a draw.", gear.Board),
)
"""Title, where it stands, record."""

WORDS = {
    "Motor.stator_diameter": "First two digits of its size, in millimetres.",
    "Motor.stator_height": "Last two digits of its size, in millimetres.",
    "Motor.kv": "Speed for each volt without load.",
    "Motor.resistance": "Between two of its leads, cold.",
    "Motor.no_load_current": "Without a propeller.",
    "Motor.no_load_voltage": "At which that was taken.",
    "Motor.burst_current": "What it bears for ten seconds.",
    "Motor.continuous_current": "What it bears for minutes.",
    "Propeller.diameter": "As printed.",
    "Propeller.pitch": "As printed.",
    "Propeller.blades": "How many blades.",
    "Propeller.static_reading": "One full-throttle reading on the bench.",
    "Pack.cells": "In series.",
    "Pack.capacity": "As printed.",
    "Pack.cell_resistance": "Of one cell, from the charger.",
    "Pack.condition": "How it has aged; sets the resistance where none is given.",
    "Pack.usable": "Share of the charge that is flown.",
    "Pack.chemistry": "Ordinary, or charged to a higher voltage.",
    "SpeedController.current_limit": "As printed.",
    "SpeedController.resistance": "Of its bridge.",
    "SpeedController.cooling": "How much air it gets; buried ones bear less.",
    "Servo.torque": "As printed.",
    "Servo.idle_current": "At rest.",
    "Servo.moving_current": "While moving.",
    "Servo.stall_current": "When held.",
    "Servo.slop": "Play at the horn.",
    "Regulator.type": "How it makes the lower voltage.",
    "Regulator.current_limit": "What it can give.",
    "Regulator.output": "Its voltage.",
    "Radio.transmit_power": "Into the antenna.",
    "Plane.targets": "See Targets.",
    "Plane.site": "See Site.",
    "Plane.thrower": "See Thrower.",
    "Plane.bungee": "See Bungee.",
    "Plane.tuning": "See Tuning.",
    "Plane.airframe": "See Airframe.",
    "Plane.items": "See Items.",
    "Targets.top_speed": "Least level top speed.",
    "Targets.endurance": "Least time at cruise.",
    "Targets.mass_line": "Most all-up mass.",
    "Targets.budget": "Most still to buy.",
    "Targets.stall_speed": "Most stall speed.",
    "Site.elevation": "Above the sea.",
    "Site.temperature": "Of the air on the day.",
    "Site.humidity": "Relative.",
    "Site.wind": "Mean wind.",
    "Thrower.speed": "Of the plane as it leaves the hand.",
    "Thrower.angle": "Above the horizon.",
    "Thrower.height": "Of the hand.",
    "kind": "What it is.",
}
"""Meanings of fields whose record says nothing below them."""

TAKEN = {
    "Motor.resistance": "from size and Kv, within 40 %",
    "Motor.no_load_current": "from its mass",
    "Motor.no_load_voltage": "10 V",
    "Motor.burst_current": "from its mass, within 15 %",
    "Pack.cell_resistance": "from `condition` and `capacity`",
    "Pack.usable": "80 %",
    "Airframe.bare_balance": "from the volumes, within 12 mm",
    "Tuning.frame": "20 ± 3 ms",
    "Tuning.gyro_filter": "60 ± 25 Hz",
    "Tuning.delay": "put together from its parts, within 25 %",
    "Tuning.wobble_frequency": "from the delay",
    "Place.y": "0 mm",
    "Place.z": "0 mm",
    "Targets.margin_low": "by layout",
    "Targets.margin_high": "by layout",
    "Surface.mirrored": "all but fins",
}
"""What stands in for a key that is left out, where it is not the stock's number."""


def meanings(record: Record) -> dict[str, str]:
    """Return the line below each field of a record itself."""
    body = ast.parse(inspect.getsource(record)).body[0]
    found: dict[str, str] = {}
    if isinstance(body, ast.ClassDef):
        for field, note in zip(body.body, [*body.body[1:], None], strict=True):
            if isinstance(field, ast.AnnAssign) and isinstance(field.target, ast.Name):
                said = isinstance(note, ast.Expr) and isinstance(note.value, ast.Constant)
                text = str(note.value.value) if said else ""  # type: ignore[union-attr]
                found[field.target.id] = " ".join(text.split())
    return found


PLAIN: dict[object, str] = {
    str: "text",
    int: "whole number",
    float: "number",
    bool: "`true` or `false`",
}


EXAMPLES = {
    "Thrower.height": "1.8 m",
    "Thrower.delay": "0.3 s",
    "Thrower.ramp": "0.2 s",
    "Thrower.speed": "8 m/s",
    "Thrower.throttle": "80 %",
    "Thrower.up_trim": "2 deg",
    "Bungee.length": "2 m",
    "Bungee.stretch": "6 m",
    "Bungee.pull": "3 kgf",
    "Bungee.returned": "75 %",
    "Bungee.hook_limit": "6 kgf",
    "Tuning.frame": "20 ms",
    "Tuning.gyro_filter": "60 Hz",
    "Tuning.delay": "45 ms",
    "Tuning.gain": "80 %",
    "Targets.stall_speed": "7 m/s",
    "Targets.mass_line": "250 g",
    "Targets.budget": "120 EUR",
    "Targets.margin_low": "8 %",
    "Targets.margin_high": "12 %",
    "Targets.roll_rate_low": "120 deg/s",
    "Targets.roll_rate_high": "300 deg/s",
    "Site.wind": "3 m/s",
    "Site.humidity": "60 %",
    "Airframe.bare_mass": "112 g",
    "Station.y": "400 mm",
    "Station.z": "10 mm",
    "Station.leading_edge": "205 mm",
    "Station.chord": "150 mm",
    "Station.thickness": "12 mm` or `9 %",
    "Station.camber": "3 mm` or `2.5 %",
    "Station.twist": "-1.5 deg",
    "Surface.dihedral": "4 deg",
    "ControlSurface.start": "50 %",
    "ControlSurface.end": "92 %",
    "ControlSurface.horn_arm": "14 mm",
    "ControlSurface.pushrod_diameter": "1 mm",
    "ControlSurface.pushrod_length": "90 mm",
    "ControlSurface.pushrod_free": "60 mm",
    "ControlSurface.linkage_play": "0.2 mm",
    "Body.y": "60 mm",
    "Body.wall": "6 mm",
    "BodyStation.x": "60 mm",
    "BodyStation.width": "34 mm",
    "BodyStation.height": "52 mm",
    "BodyStation.z": "-8 mm",
    "BodyStation.corner": "8 mm",
    "Hatch.foremost": "55 mm",
    "Hatch.rearmost": "160 mm",
    "Hatch.width": "22 mm",
    "Item.clearance": "0.5 mm",
    "Item.draw": "1.8 W` or `150 mA",
    "Item.protrudes": "6 mm",
    "Place.x": "120 mm",
    "Place.y": "90 mm",
    "Place.z": "-8 mm",
    "Reach.foremost": "60 mm",
    "Reach.rearmost": "150 mm",
    "Size.length": "58 mm",
    "Size.width": "30 mm",
    "Size.height": "14 mm",
    "Motor.stator_diameter": "22 mm",
    "Motor.stator_height": "4 mm",
    "Motor.resistance": "90 mohm",
    "Motor.no_load_current": "0.5 A",
    "Motor.no_load_voltage": "10 V",
    "Motor.burst_current": "17 A",
    "Motor.continuous_current": "12 A",
    "Motor.thrust_angle": "-2 deg",
    "Propeller.diameter": "5 in",
    "Propeller.pitch": "3 in",
    "StaticReading.current": "7.8 A",
    "Pack.cell_resistance": "25 mohm",
    "Pack.usable": "80 %",
    "SpeedController.resistance": "5 mohm",
    "SpeedController.cutoff_voltage": "9.9 V",
    "Servo.speed": "0.12 s",
    "Servo.idle_current": "8 mA",
    "Servo.moving_current": "180 mA",
    "Servo.stall_current": "0.6 A",
    "Servo.slop": "1 deg",
    "Servo.arm": "8 mm",
    "Rod.diameter": "1.5 mm",
    "Rod.bore": "1 mm",
    "Regulator.current_limit": "3 A",
    "Regulator.output": "5 V",
    "Radio.transmit_power": "200 mW",
}
"""What is written where the usual example of a dimension would be odd."""


def example_of(record: Record, name: str, usual: str) -> str:
    """Return an example of what may be written for a field."""
    own = EXAMPLES.get(f"{record.__name__}.{name}")
    return usual if own is None else " or ".join(f'`"{part}"`' for part in own.split("` or `"))


def kind(annotation: object, metadata: list[object]) -> str:
    """Return what may be written for a field."""
    origin, arguments = typing.get_origin(annotation), typing.get_args(annotation)
    if origin is typing.Annotated:
        return kind(arguments[0], list(arguments[1:]))
    rest = [argument for argument in arguments if argument is not NoneType]
    if origin in (typing.Union, UnionType) and not metadata:
        return kind(rest[0], [])
    for entry in metadata:
        if isinstance(entry, BeforeValidator):
            names = inspect.getclosurevars(entry.func).nonlocals["dimensions"]
            return " or ".join(f'`"{DIMENSIONS[name][1]}"`' for name in names)
    if origin is typing.Literal:
        return ", ".join(f'`"{value}"`' for value in arguments)
    return PLAIN.get(annotation, "list" if origin is tuple else "table")


def default(record: Record, name: str, field: FieldInfo) -> str:
    """Return what is taken where a key is left out."""
    if field.is_required():
        return "must be given"
    taken = TAKEN.get(f"{record.__name__}.{name}")
    value = field.default
    if taken or value is None or value in ((), "") or isinstance(value, BaseModel):
        return taken or ""
    return f"`{str(value).lower()}`" if isinstance(value, bool) else f"`{value}`"


def row(record: Record, name: str, said: str) -> str:
    """Return one line of a table."""
    field = record.model_fields[name]
    words = said or WORDS.get(f"{record.__name__}.{name}", "") or WORDS.get(name, "")
    if not words:
        sys.exit(f"nothing says what {record.__name__}.{name} means")
    cells = (
        f"`{name}`",
        example_of(record, name, kind(field.annotation, field.metadata)),
        default(record, name, field),
        words,
    )
    return "| " + " | ".join(cell.replace("|", "\\|") for cell in cells) + " |"


def tables() -> Iterator[str]:
    """Yield the table of each record."""
    for title, where, record in TABLES:
        rows = [
            row(record, name, said)
            for name, said in meanings(record).items()
            if name != "from_stock"
        ]
        yield f"## {title}\n\n{where}\n\n| key | write | else | meaning |\n|---|---|---|---|"
        yield "\n".join(rows) + "\n"


if __name__ == "__main__":
    print(HEAD + "\n".join(tables()) + "\n" + TAIL, end="")
