"""Sections from a builder's own coordinates, through the optional section library.

The library takes seconds to import and nothing else needs it, so it is imported only when own
coordinates are asked for. Where `available` says it is not installed, thickness and camber read
from the same coordinates (`foamwright.physics.lift.coordinates`) stand in, and the answer says so.
What it buys, over 15 measured runs of four sections: maximum lift scatters by 0.03 instead of
0.08; drag at given lift gains nothing (0.17 both ways).
"""

import importlib.util
from collections.abc import Callable
from dataclasses import replace
from functools import lru_cache

import numpy as np

from foamwright.physics.arrays import Grid, Samples
from foamwright.physics.lift.atlas import SectionAtlas, SectionFamily, StripShapes
from foamwright.physics.lift.coordinates import outline

LIBRARY = "neuralfoil"
"""The package behind the `sections` extra."""

MODEL_SIZE = "xxxlarge"
"""The same network as the shipped atlas, so that both carry the same measured bias."""

TRANSITION_EXPONENT = 9.0
"""The same as the shipped atlas."""

MOST_REMEMBERED = 16
"""Outlines whose coefficients are kept."""

Evaluator = Callable[[Grid, Samples, Samples], tuple[Samples, Samples, Samples]]
"""Outline (k, 2), Reynolds numbers (p,) and angles (p,) [rad] to lift, drag, moment, each (p,)."""


def available() -> bool:
    """Say whether the optional section library is installed."""
    return importlib.util.find_spec(LIBRARY) is not None


def installed_evaluator() -> Evaluator | None:
    """Return the optional library as an evaluator that remembers; none where it is missing."""
    return remembering() if available() else None


@lru_cache(maxsize=1)
def remembering() -> Evaluator:
    """Return the library's evaluator with the last outlines kept: remedies ask for them again."""
    evaluate = library_evaluator()
    known: dict[bytes, tuple[Samples, Samples, Samples]] = {}

    def remembered(
        points: Grid, reynolds: Samples, alpha: Samples
    ) -> tuple[Samples, Samples, Samples]:
        asked = points.tobytes() + reynolds.tobytes() + alpha.tobytes()
        if asked not in known:
            if len(known) >= MOST_REMEMBERED:
                known.pop(next(iter(known)))
            known[asked] = evaluate(points, reynolds, alpha)
        return known[asked]

    return remembered


def library_evaluator() -> Evaluator:
    """Return the optional library as an evaluator; importing it takes seconds.

    Raises
    ------
    ModuleNotFoundError
        Where `available` is False.
    """
    library = importlib.import_module(LIBRARY)

    def evaluate(
        points: Grid, reynolds: Samples, alpha: Samples
    ) -> tuple[Samples, Samples, Samples]:
        found = library.get_aero_from_coordinates(
            points,
            alpha=np.rad2deg(alpha),
            Re=reynolds,
            n_crit=TRANSITION_EXPONENT,
            model_size=MODEL_SIZE,
        )
        lift, drag, moment = (np.asarray(found[name], float) for name in ("CL", "CD", "CM"))
        return lift, drag, moment

    return evaluate


def own_atlas(atlas: SectionAtlas, points: Grid, evaluate: Evaluator) -> SectionAtlas:
    """Return the atlas with its shaped family replaced by one outline.

    The family holds the one section; `own_shapes` gives the strips that read it. The measured
    corrections and their spreads then apply as they do to the shipped sections.
    """
    read = outline(points)
    numbers, angles = np.meshgrid(np.exp(atlas.log_reynolds), atlas.alpha, indexing="ij")
    lift, drag, moment = evaluate(points, numbers.ravel(), angles.ravel())
    # Equal values on both nodes make a table that look-ups can bracket. Reflex may leave a
    # camber below zero; the outline is already the right way up, so it is not mirrored again.
    family = SectionFamily(
        thickness=read.thickness + np.array([-0.01, 0.01]),
        camber=max(read.camber, 0.0) + np.array([-0.01, 0.01]),
        lift=_repeated(lift, numbers.shape),
        log_drag=_repeated(np.log(drag), numbers.shape),
        moment=_repeated(moment, numbers.shape),
    )
    return replace(atlas, shaped=family)


def own_shapes(atlas: SectionAtlas, flap_chord: Grid) -> StripShapes:
    """Return one strip for each flap chord, all with the section of an own atlas."""
    count = flap_chord.size
    return StripShapes(
        thickness=np.full(count, atlas.shaped.thickness.mean()),
        camber=np.full(count, atlas.shaped.camber.mean()),
        sheet=np.zeros(count, dtype=bool),
        flap_chord=flap_chord,
    )


def _repeated(values: Samples, shape: tuple[int, ...]) -> Grid:
    table: Grid = np.broadcast_to(values.reshape(shape), (2, 2, *shape)).copy()
    return table
