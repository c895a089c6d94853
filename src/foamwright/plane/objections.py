"""Every check of a plane that is valid field by field, gathered."""

from pathlib import Path

from foamwright.plane.checks import (
    Objection,
    data_files,
    mass_line,
    money,
    names,
    packs,
    places,
    scale,
    surfaces,
)
from foamwright.plane.control_checks import linkages
from foamwright.plane.foam_checks import hatches, rods, walls
from foamwright.plane.launch_checks import bungee, throw
from foamwright.plane.plane import Plane
from foamwright.plane.tuning_checks import tuning


def objections(plane: Plane, folder: Path) -> tuple[Objection, ...]:
    """Return everything that does not fit together."""
    found = [*names(plane), *packs(plane), *mass_line(plane), *money(plane)]
    found += [*tuning(plane), *data_files(plane, folder), *throw(plane), *bungee(plane)]
    found += linkages(plane)
    shapes = list(surfaces(plane))
    if shapes:
        return (*found, *shapes, *places(plane), *walls(plane), *hatches(plane))
    # A plane in wrong units has all its places wrong too: only the cause is told then.
    wrong = list(scale(plane))
    return (*found, *(wrong or (*places(plane), *walls(plane), *hatches(plane), *rods(plane))))
