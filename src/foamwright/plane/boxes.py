"""The box around an item as it lies in the plane, and where its pieces sit."""

from dataclasses import dataclass
from typing import Literal

from foamwright.plane.gear import Item
from foamwright.plane.placement import Size

Side = Literal["top", "bottom", "left", "right", "front", "inside", "none"]
"""Where a pocket opens to; none for what sits outside the foam."""

SIDES: dict[str, Side] = {
    "pack": "top",
    "esc": "bottom",
    "flight controller": "top",
    "receiver": "top",
    "video transmitter": "top",
    "gps": "top",
    "servo": "bottom",
    "regulator": "top",
    "beeper": "top",
    "camera": "front",
    "ballast": "inside",
    "magnet": "top",
    "connector": "top",
    "other": "top",
}
"""Where the pocket of a kind usually opens to; kinds that are not listed sit outside the foam."""

Triple = tuple[float, float, float]


@dataclass(frozen=True, kw_only=True, slots=True)
class Box:
    """One piece of one item."""

    item: str
    """Its name in the plane file."""
    kind: str
    """What it is."""
    index: int
    """Which piece: 0, or 1 for the left one of a pair."""
    middle: tuple[float, float, float | None]
    """x, y, z [m]; no z where none is written."""
    size: Triple
    """Along x, y, z [m]."""
    side: Side
    """Where its pocket opens to."""
    protrudes: float
    """How far it stands out of the foam [m]."""
    declared: bool
    """Whether the builder wrote the pocket, so that its foam counts as cut out."""


def as_lies(size: Size, lies: str) -> Triple:
    """Return the sides of a box along x, y, z [m], turned as it lies."""
    length, width, height = size.length.value, size.width.value, size.height.value
    if lies == "on edge":
        return length, height, width
    if lies == "on end":
        return height, width, length
    if lies == "across":
        return width, length, height
    return length, width, height


def box_size(item: Item) -> Triple | None:
    """Return the sides of an item along x, y, z [m]; none where no size is known."""
    return None if item.size is None else as_lies(item.size, item.lies)


def side_of(item: Item) -> Side:
    """Return where an item's pocket opens to: as written, or as usual for its kind."""
    if item.pocket is not None:
        return item.pocket
    kind = str(getattr(item, "kind", "other"))
    return SIDES.get(kind, "none")


def boxes_of(item: Item) -> tuple[Box, ...]:
    """Return the pieces of an item; none where its place or size is not known.

    Two alike off the middle line sit left and right of it; more, or two on the middle line, are
    taken as one stack where they are, since nobody said how they lie.
    """
    size = box_size(item)
    if item.at is None or size is None:
        return ()
    y = 0.0 if item.at.y is None else item.at.y.value
    z = None if item.at.z is None else item.at.z.value
    sides = (y, -y) if item.count == 2 and y != 0.0 else (y,)
    return tuple(
        Box(
            item=item.name,
            kind=str(getattr(item, "kind", "other")),
            index=index,
            middle=(item.at.x.value, place, z),
            size=size,
            side=side_of(item),
            protrudes=0.0 if item.protrudes is None else item.protrudes.value,
            declared=item.pocket not in (None, "none"),
        )
        for index, place in enumerate(sides)
    )
