"""Samples and a limit made into a chance, its word, a band."""

import numpy as np

from foamwright.physics.arrays import Flags, Samples
from foamwright.questions.answer import Figure, Verdict

BANDS: tuple[tuple[float, Verdict], ...] = ((0.95, "yes"), (0.75, "likely"))
"""Chances from which a verdict may be that good."""


def verdict(probability: float | None) -> Verdict:
    """Return the word for a chance."""
    if probability is None:
        return "open"
    for least, word in BANDS:
        if probability >= least:
            return word
    if probability <= 0.05:
        return "no"
    return "unlikely" if probability <= 0.25 else "unsure"


def chance(holds: Flags) -> float:
    """Return the share of samples (n,) for which something holds."""
    return float(np.mean(holds))


def figure(
    name: str,
    label: str,
    samples: Samples,
    unit: tuple[str, str],
    *,
    limits: tuple[float | None, float | None] = (None, None),
) -> Figure:
    """Return samples (n,) as a figure: median, 10 % and 90 % points.

    `unit` is the SI unit and the dimension it is shown in. Samples that have no value (a plane
    that cannot fly level has no top speed) are left out; more than half of them and the figure
    has none.
    """
    finite = samples[np.isfinite(samples)]
    known = finite.size * 2 >= samples.size and finite.size > 0
    low, middle, high = np.quantile(finite, (0.1, 0.5, 0.9)) if known else (0.0, 0.0, 0.0)
    return Figure(
        name=name,
        label=label,
        value=float(middle) if known else None,
        low=float(low) if known else None,
        high=float(high) if known else None,
        unit=unit[0],
        dimension=unit[1],
        limit_low=limits[0],
        limit_high=limits[1],
    )


MASS = ("kg", "mass")
LENGTH = ("m", "length")
DISTANCE = ("m", "elevation")
SPEED = ("m s^-1", "speed")
CURRENT = ("A", "current")
VOLTAGE = ("V", "voltage")
FORCE = ("N", "force")
PULL = ("N", "pull")
POWER = ("W", "power")
TIME = ("s", "time")
ENERGY = ("J", "energy")
ENERGY_PER_DISTANCE = ("J m^-1", "energy per distance")
WING_LOADING = ("kg m^-2", "wing loading")
ROTATION = ("s^-1", "rotation speed")
TEMPERATURE = ("K", "temperature")
ANGLE = ("rad", "angle")
TORQUE = ("N m", "torque")
TURN_RATE = ("rad s^-1", "turn rate")
SHARE = ("-", "fraction")
NUMBER = ("-", "number")
COUNT = ("-", "count")
"""SI unit and dimension of the figures."""
