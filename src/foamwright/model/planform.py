"""Area, span and mean chord of the wing, one value a sample."""

from dataclasses import dataclass

import numpy as np

from foamwright.model.ensemble import Draws
from foamwright.model.surfaces import Drawn
from foamwright.physics.arrays import Samples
from foamwright.plane.airframe import Airframe


@dataclass(frozen=True, kw_only=True, slots=True)
class Planform:
    """The reference lengths; all (n,)."""

    area: Samples
    """Of the wing through the body [m^2]."""
    span: Samples
    """Tip to tip [m]."""
    mean_chord: Samples
    """Mean aerodynamic chord [m]."""
    mean_edge: Samples
    """x of its leading edge [m]."""


def wing_index(airframe: Airframe) -> int:
    """Return which surface is the main wing: the first of that role, else the first."""
    for index, surface in enumerate(airframe.surfaces):
        if surface.role == "wing":
            return index
    return 0


def reference(leading_edge: Samples, chord: Samples) -> tuple[Samples, Samples, Samples, Samples]:
    """Return area, span, mean chord and its leading edge of (g, s) stations of a half wing.

    Between two stations chord and leading edge run straight, so Simpson's rule is exact. Inside
    the root station the wing is carried on to the middle line.
    """
    y = leading_edge[..., 1]
    root = np.concatenate([np.zeros_like(y[:, :1]), y], axis=1)
    along = np.diff(root, axis=1)
    c = np.concatenate([chord[:, :1], chord], axis=1)
    x = np.concatenate([leading_edge[:, :1, 0], leading_edge[..., 0]], axis=1)
    c0, c1, x0, x1 = c[:, :-1], c[:, 1:], x[:, :-1], x[:, 1:]
    area = (along * 0.5 * (c0 + c1)).sum(axis=1)
    square = (along * (c0**2 + c0 * c1 + c1**2) / 3.0).sum(axis=1)
    moment = (along * (2 * x0 * c0 + x0 * c1 + x1 * c0 + 2 * x1 * c1) / 6.0).sum(axis=1)
    return 2.0 * area, 2.0 * root[:, -1], square / area, moment / area


def planform(airframe: Airframe, drawn: Drawn, draws: Draws) -> Planform:
    """Return the wing's reference lengths of all samples."""
    wing = drawn.surfaces[wing_index(airframe)]
    area, span, mean_chord, mean_edge = reference(wing.leading_edge, wing.chord)
    return Planform(
        area=drawn.at_samples(area, draws),
        span=drawn.at_samples(span, draws),
        mean_chord=drawn.at_samples(mean_chord, draws),
        mean_edge=drawn.at_samples(mean_edge, draws),
    )
