"""Everything the question of fit is decided on: pockets, gaps, what is left of the body."""

from dataclasses import dataclass

import numpy as np

from foamwright.model import gaps, spreads
from foamwright.model.cuts import Cuts
from foamwright.model.ensemble import Draws
from foamwright.model.pockets import Pocket, placed, pocket_of
from foamwright.model.section_left import SectionsLeft, sections_left
from foamwright.physics.arrays import Samples
from foamwright.plane.boxes import Box, boxes_of
from foamwright.plane.gear import AnyItem
from foamwright.plane.plane import Plane

LOOSE = ("glue", "tape", "wire", "allowance", "linkage", "rod")
"""Kinds that lie all over the plane, or have rules of their own."""

CUT = 0.7e-3
"""Where a knife or hot wire ends up against the line, for each wall [m]; common practice, no
source."""

NEAR = 0.02
"""Parts nearer than this are told as neighbours [m]."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Fit:
    """Where everything goes, as drawn."""

    pockets: tuple[Pocket, ...]
    """One for each piece that sits in the foam."""
    outside: tuple[tuple[str, Box], ...]
    """Pieces that sit outside the foam, placed."""
    near: tuple[gaps.Gap, ...]
    """Pieces that overlap or nearly touch."""
    propellers: tuple[gaps.PropellerGap, ...]
    """Room around the propellers."""
    left: SectionsLeft | None
    """What the pockets leave of the body."""
    unsized: tuple[str, ...]
    """Items without a size, which could not be looked at."""
    unplaced: tuple[str, ...]
    """Items without a place."""
    assumed: tuple[str, ...]
    """What was assumed."""

    def boxes(self) -> tuple[tuple[str, Box], ...]:
        """Return all pieces by name, in the foam and outside."""
        return tuple((p.name, p.box) for p in self.pockets) + self.outside


def looked_at(item: AnyItem) -> bool:
    """Return whether an item has a box that can be in the way."""
    return item.kind not in LOOSE


def name_of(box: Box, item: AnyItem) -> str:
    """Return what a piece is called."""
    y = box.middle[1]
    if item.count == 2 and y != 0.0:
        return f"{item.name} {'left' if y < 0 else 'right'}"
    return item.name


def words_of(item: AnyItem, pocket: Pocket | None) -> str:
    """Return what was assumed of an item; empty where nothing was."""
    if pocket is not None and item.pocket is None:
        place = "" if item.at is None or item.at.z is not None else ", its height from that"
        return f"{item.name}: pocket taken to open to the {pocket.side}{place}"
    return ""


def pockets_of(plane: Plane, cuts: Cuts) -> tuple[Pocket, ...]:
    """Return the pockets of all pieces that sit in the foam."""
    return tuple(
        pocket_of(box, item, cuts, plane.airframe)
        for item in plane.items
        if looked_at(item)
        for box in boxes_of(item)
        if box.side != "none"
    )


def fit_of(plane: Plane, cuts: Cuts) -> Fit:
    """Return the fit of a plane as drawn."""
    pockets = pockets_of(plane, cuts)
    by_item = {pocket.item: pocket for pocket in pockets}
    outside, unsized, unplaced, assumed = [], [], [], []
    for item in plane.items:
        if not looked_at(item):
            continue
        found = boxes_of(item)
        if item.at is None:
            unplaced.append(item.name)
        elif not found and item.kind not in ("motor", "propeller", "mount", "hatch", "antenna"):
            unsized.append(item.name)
        outside += [(name_of(b, item), placed(b, cuts)) for b in found if b.side == "none"]
        assumed.append(words_of(item, by_item.get(item.name)))
    corners = [b.name for b in cuts.solid.bodies if not b.corner_written]
    if corners:
        assumed.append(
            f"{', '.join(corners)}: corners rounded by a fifth of the smaller side, none written"
        )
    named = tuple((p.name, p.box) for p in pockets) + tuple(outside)
    return Fit(
        pockets=pockets,
        outside=tuple(outside),
        near=gaps.overlaps(named, NEAR),
        propellers=gaps.propeller_gaps(plane, cuts),
        left=sections_left(plane, cuts, pockets),
        unsized=tuple(unsized),
        unplaced=tuple(unplaced),
        assumed=tuple(text for text in assumed if text),
    )


@dataclass(frozen=True, kw_only=True, slots=True)
class FitErrors:
    """What ruler and knife get wrong, in n samples [m]."""

    body: Samples
    """Half the width of a body against what was measured (n,)."""
    wing: Samples
    """Thickness of a wing against what was measured (n,)."""
    cut: dict[str, Samples]
    """Where the walls of each item's pocket end up (n,)."""

    def skin(self, pocket: Pocket) -> Samples:
        """Return how much thicker a pocket's skin comes out (n,) [m]."""
        return (self.wing if pocket.in_surface else self.body) + self.cut[pocket.item]

    def gap(self, first: str, second: str) -> Samples:
        """Return how much more room there is between two items (n,) [m]."""
        nothing = np.zeros_like(self.body)
        return self.cut.get(first, nothing) - self.cut.get(second, nothing)


def errors_of(plane: Plane, draws: Draws) -> FitErrors:
    """Return the errors of ruler and knife."""
    written = [
        quantity.spread
        for body in plane.airframe.bodies
        for station in body.stations
        for quantity in (station.width, station.height)
        if quantity.spread is not None
    ]
    ruler = float(np.mean(written)) if written else spreads.RULER
    return FitErrors(
        body=draws.around(0.0, ruler / 2.0, key="fit.body", label="size of the body"),
        wing=draws.around(
            0.0, spreads.THICKNESS, key="fit.wing", label="thickness of the wing where it is cut"
        ),
        cut={
            item.name: draws.around(
                0.0, CUT, key=f"items.{item.name}.cut", label=f"cutting the pocket of {item.name}"
            )
            for item in plane.items
            if looked_at(item)
        },
    )
