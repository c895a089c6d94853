"""Which inputs speak of a part: what was learned of a part goes with it."""

from foamwright.model.ensemble import Draws
from foamwright.plane.airframe import Airframe
from foamwright.plane.gear import AnyItem, Item
from foamwright.plane.plane import Plane

NOT_THE_PART = {"cooling"}
"""Keys of one kind of item that leave it the same part."""

FINISH_KEYS = frozenset({"model.foam_finish", "model.parasite_drag"})
"""Inputs that speak of the foam's surface and what sticks out of it."""

SURFACE = ("finish", "hinge_gaps", "open_pockets", "protrusions")
"""Keys of the airframe that those inputs hang on."""


LINKAGE = (
    "throw_up",
    "throw_down",
    "servo",
    "horn_arm",
    "horn_angle",
    "pushrod",
    "pushrod_diameter",
    "pushrod_length",
    "pushrod_free",
    "linkage_play",
)
"""Keys of a control surface that leave the foam and its flow alone."""


def bare(airframe: Airframe) -> Airframe:
    """Return an airframe without what only moves its surfaces, its mass and how smooth it is."""
    surfaces = tuple(
        surface.model_copy(
            update={
                "controls": tuple(
                    control.model_copy(update=dict.fromkeys(LINKAGE))
                    for control in surface.controls
                )
            }
        )
        for surface in airframe.surfaces
    )
    told: dict[str, object] = dict.fromkeys(("bare_mass", "bare_balance", *SURFACE))
    return airframe.model_copy(update={**told, "surfaces": surfaces})


def part_of(item: AnyItem) -> dict[str, object]:
    """Return what makes an item the part it is: its stock name and what only its kind can say.

    What every item can say (where it is, in which pocket, what it costs, what the scale showed)
    leaves it the same part.
    """
    own = set(type(item).model_fields) - set(Item.model_fields) - NOT_THE_PART
    return {key: value for key, value in item if key in own or key == "stock"}


def other_parts(before: Plane, after: Plane) -> tuple[set[str], set[str]]:
    """Return the names of items that are another part or gone, and of those that moved."""
    now = {item.name: item for item in after.items}
    changed, moved = set(), set()
    for item in before.items:
        found = now.get(item.name)
        if found is None or part_of(found) != part_of(item):
            changed.add(item.name)
        elif found.at != item.at:
            moved.add(item.name)
    return changed, moved


def forgotten(keys: tuple[str, ...], before: Plane, after: Plane) -> frozenset[str]:
    """Return which of some inputs speak of parts that are not the same any more."""
    changed, moved = other_parts(before, after)
    gone = set()
    if changed & {item.name for item in before.items if item.kind == "propeller"}:
        gone |= {key for key in keys if key.startswith("propeller.")}
    if any(getattr(before.airframe, key) != getattr(after.airframe, key) for key in SURFACE):
        gone |= FINISH_KEYS
    for name in changed:
        gone |= {key for key in keys if key.startswith(f"items.{name}.")}
    for name in moved:
        gone |= {key for key in keys if key.startswith(f"items.{name}.at.")}
    return frozenset(gone & set(keys))


def fitting(draws: Draws, plane: Plane) -> Draws:
    """Return draws that know only what was learned of parts this plane still has."""
    known = draws.knowledge
    if known is None or known.plane is None:
        return draws
    lost = forgotten(known.keys, known.plane, plane)
    return draws if lost == draws.forgotten else draws.knowing(known, lost)
