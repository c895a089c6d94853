"""Surfaces whose section is given by a file of coordinates instead of ruler numbers."""

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from types import MappingProxyType

import numpy as np

from foamwright.model.own_sections import available
from foamwright.physics.arrays import Grid
from foamwright.physics.lift.coordinates import SectionOutline, outline
from foamwright.physics.lift.thin_airfoil import four_digit
from foamwright.plane.airframe import Airframe, Station, Surface
from foamwright.plane.data_files import read_coordinates
from foamwright.quantity import Quantity

LATTICE_LINE = 0.4
"""Where the lattice's mean line is highest [chord]."""


@dataclass(frozen=True, kw_only=True, slots=True)
class OwnSection:
    """One outline, as points and as what they say."""

    points: Grid
    """(k, 2) from the trailing edge over the top and back [chord]."""
    says: SectionOutline
    """Thickness, camber, theory of the mean line."""

    def as_lattice_line(self) -> tuple[float, float]:
        """Return camber and extra twist [rad] of the lattice's line with the same two effects.

        Moment and zero-lift angle of a mean line are two numbers, and so are camber and twist: a
        reflexed section, whose camber alone would promise the wrong moment, is then met in both.
        """
        unit = four_digit(np.ones(1), np.full(1, LATTICE_LINE))
        theory = self.says.theory
        camber = float(theory.moment[0] / unit.moment[0])
        return camber, camber * float(unit.zero_lift[0]) - float(theory.zero_lift[0])


Outlines = Mapping[int, OwnSection]
"""Own sections by the index of their surface."""

NO_OUTLINES: Outlines = MappingProxyType({})

FROM_OUTLINE = "from its coordinates"
"""The text of a quantity that no station writes."""


def outlines_of(airframe: Airframe, folder: Path) -> Outlines:
    """Return the own sections of an airframe, read from the files beside the plane file."""
    found = {}
    for index, surface in enumerate(airframe.surfaces):
        if surface.coordinates is not None:
            points = np.array(read_coordinates(folder / surface.coordinates))
            found[index] = OwnSection(points=points, says=outline(points))
    return found


def share(value: float) -> Quantity:
    """Return a share of the chord as a written one, without a spread of its own."""
    return Quantity(value=value, spread=None, dimension="fraction", text=FROM_OUTLINE)


def shaped(station: Station, says: SectionOutline) -> Station:
    """Return a station with thickness and camber of the outline, where it writes none itself."""
    lacking = {
        name: share(value)
        for name, value in (("thickness", says.thickness), ("camber", says.camber))
        if getattr(station, name) is None
    }
    return station.model_copy(update=lacking)


def with_outlines(airframe: Airframe, outlines: Outlines) -> Airframe:
    """Return an airframe whose stations say what their surface's own section says."""
    if not outlines:
        return airframe
    surfaces = tuple(
        surface
        if index not in outlines
        else surface.model_copy(
            update={"stations": tuple(shaped(s, outlines[index].says) for s in surface.stations)}
        )
        for index, surface in enumerate(airframe.surfaces)
    )
    return airframe.model_copy(update={"surfaces": surfaces})


def said_of(surface: Surface, section: OwnSection) -> str:
    """Return what is assumed of a surface with its own section."""
    size = f"{section.says.thickness:.1%} thick, {section.says.camber:.1%} camber"
    if section.says.outside:
        return f"{surface.name}: {surface.coordinates} is no clean outline; read as {size}"
    if available():
        return f"{surface.name}: polar computed from the outline ({size})"
    return (
        f"{surface.name}: from the outline's thickness and camber ({size}); the extra `sections` "
        "would compute its own polar"
    )
