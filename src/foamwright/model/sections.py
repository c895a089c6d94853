"""The shipped section atlas, and the sections of a plane's strips."""

from functools import lru_cache
from importlib.resources import files

import numpy as np

from foamwright.model.foam import relative_thickness
from foamwright.model.outlines import NO_OUTLINES, Outlines
from foamwright.model.own_sections import installed_evaluator, own_atlas, own_shapes
from foamwright.model.surfaces import camber_of
from foamwright.physics.lift.lattice import LatticeResult
from foamwright.physics.lift.section import (
    SectionAtlas,
    SectionTable,
    StripShapes,
    atlas_from_arrays,
    chosen_strips,
    joined,
    section_table,
)
from foamwright.plane.airframe import Airframe


@lru_cache(maxsize=1)
def shipped_atlas() -> SectionAtlas:
    """Return the atlas that comes with the package."""
    path = files("foamwright.physics").joinpath("data", "section_atlas.npz")
    with path.open("rb") as file, np.load(file) as arrays:
        return atlas_from_arrays(dict(arrays))


def kept_strips(result: LatticeResult) -> np.ndarray:
    """Return the indices (m,) of the strips of the right half and of the fins."""
    return np.flatnonzero(result.strip_y[0] >= 0.0)


def strip_shapes(airframe: Airframe, result: LatticeResult, kept: np.ndarray) -> StripShapes:
    """Return thickness, camber and flap of the kept strips (m,), between the stations."""
    thickness, camber, sheet, flap = [], [], [], []
    for strip in kept:
        surface = airframe.surfaces[result.strip_surface[strip]]
        place = np.array(
            [
                [
                    0.0 if s.y is None else s.y.value,
                    0.0 if s.z is None else s.z.value,
                ]
                for s in surface.stations
            ]
        )
        axis = 0 if np.ptp(place[:, 0]) >= np.ptp(place[:, 1]) else 1
        here = (result.strip_y if axis == 0 else result.strip_z)[0, strip]
        along = np.abs(place[:, axis] - place[0, axis])
        at = abs(here - place[0, axis])
        thickness.append(
            np.interp(at, along, [relative_thickness(station) for station in surface.stations])
        )
        camber.append(np.interp(at, along, [camber_of(s, surface) for s in surface.stations]))
        sheet.append(surface.profile != "foil")
        share = at / max(along[-1], 1e-9)
        hinged = [c for c in surface.controls if c.start.value <= share <= c.end.value]
        flap.append(hinged[0].chord_fraction.value if hinged else 0.0)
    return StripShapes(
        thickness=np.array(thickness),
        camber=np.array(camber),
        sheet=np.array(sheet, dtype=bool),
        flap_chord=np.array(flap),
    )


def plane_sections(
    airframe: Airframe,
    result: LatticeResult,
    kept: np.ndarray,
    outlines: Outlines = NO_OUTLINES,
) -> SectionTable:
    """Return the section table of the kept strips, own polars where they can be computed."""
    atlas = shipped_atlas()
    shapes = strip_shapes(airframe, result, kept)
    table = section_table(atlas, shapes)
    evaluate = installed_evaluator() if outlines else None
    if evaluate is None:
        return table
    order, tables = [], []
    surfaces = result.strip_surface[kept]
    for index, section in outlines.items():
        chosen = np.flatnonzero(surfaces == index)
        own = own_atlas(atlas, section.points, evaluate)
        tables.append(section_table(own, own_shapes(own, shapes.flap_chord[chosen])))
        order.append(chosen)
    rest = np.flatnonzero(~np.isin(surfaces, list(outlines)))
    order.append(rest)
    tables.append(chosen_strips(table, rest))
    return chosen_strips(joined(tables), np.argsort(np.concatenate(order)))
