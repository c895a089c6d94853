"""The items of a complete drive, and what is missing for one."""

from dataclasses import dataclass

from foamwright.plane import gear
from foamwright.plane.plane import Plane
from foamwright.quantity import Quantity


def needs(plane: Plane) -> tuple[str, ...]:
    """Return what is missing for a drive, as keys with words."""
    lacking = []
    by_kind = {item.kind: item for item in reversed(plane.items)}
    for kind, words in (
        ("motor", "a motor"),
        ("propeller", "a propeller"),
        ("pack", "a pack"),
        ("esc", "a speed controller"),
    ):
        if kind not in by_kind:
            lacking.append(f"an item of kind '{kind}' ({words})")
    motor, propeller, pack = (by_kind.get(k) for k in ("motor", "propeller", "pack"))
    if isinstance(motor, gear.Motor) and motor.kv is None:
        lacking.append(f"items.{motor.name}.kv, the motor's Kv")
    if isinstance(propeller, gear.Propeller) and propeller.diameter is None:
        lacking.append(f"items.{propeller.name}.diameter")
    if isinstance(propeller, gear.Propeller) and propeller.pitch is None:
        lacking.append(f"items.{propeller.name}.pitch")
    if isinstance(pack, gear.Pack) and pack.cells is None:
        lacking.append(f"items.{pack.name}.cells")
    if isinstance(pack, gear.Pack) and pack.capacity is None:
        lacking.append(f"items.{pack.name}.capacity")
    return tuple(lacking)


@dataclass(frozen=True, kw_only=True, slots=True)
class DriveParts:
    """The items of a complete drive, with the numbers that may not be missing."""

    motor: gear.Motor
    kv: Quantity
    propeller: gear.Propeller
    diameter: float
    pitch: float
    pack: gear.Pack
    cells: int
    capacity: Quantity
    controller: gear.SpeedController


def parts_of(plane: Plane) -> DriveParts | None:
    """Return the items of the drive; none where `needs` has something to ask."""
    by_kind = {item.kind: item for item in reversed(plane.items)}
    motor, propeller = by_kind.get("motor"), by_kind.get("propeller")
    pack, esc = by_kind.get("pack"), by_kind.get("esc")
    if not (isinstance(motor, gear.Motor) and isinstance(propeller, gear.Propeller)):
        return None
    if not (isinstance(pack, gear.Pack) and isinstance(esc, gear.SpeedController)):
        return None
    if motor.kv is None or propeller.diameter is None or propeller.pitch is None:
        return None
    if pack.cells is None or pack.capacity is None:
        return None
    return DriveParts(
        motor=motor,
        kv=motor.kv,
        propeller=propeller,
        diameter=propeller.diameter.value,
        pitch=propeller.pitch.value,
        pack=pack,
        cells=pack.cells,
        capacity=pack.capacity,
        controller=esc,
    )
