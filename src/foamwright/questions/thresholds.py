"""The thresholds of the rules, as data with their citation."""

import tomllib
from dataclasses import dataclass
from functools import lru_cache
from importlib.resources import files
from typing import Literal

import numpy as np

from foamwright.physics.arrays import Flags, Samples


@dataclass(frozen=True, kw_only=True, slots=True)
class Threshold:
    """One threshold of one region."""

    region: str
    name: str
    says: str
    """What holds below it."""
    otherwise: str
    """What holds above it."""
    citation: str
    held: Literal["read", "second-hand", "memory"]
    freest: bool
    """Whether it bounds the freest class this region has for such planes."""
    mass_below: float | None = None
    mass_up_to: float | None = None
    speed_below: float | None = None
    energy_below: float | None = None

    def below(self, mass: Samples, speed: Samples, energy: Samples) -> Flags:
        """Return for which samples (n,) the plane stays below the threshold."""
        stays: Flags = np.ones(mass.shape, dtype=bool)
        if self.mass_below is not None:
            stays &= mass < self.mass_below
        if self.mass_up_to is not None:
            stays &= mass <= self.mass_up_to
        if self.speed_below is not None:
            stays &= speed < self.speed_below
        if self.energy_below is not None:
            stays &= energy < self.energy_below
        return stays


@lru_cache(maxsize=1)
def thresholds() -> tuple[Threshold, ...]:
    """Return every threshold of every region."""
    text = files("foamwright.questions").joinpath("thresholds.toml").read_text(encoding="utf-8")
    return tuple(Threshold(**entry) for entry in tomllib.loads(text)["threshold"])


def of_region(region: str) -> tuple[Threshold, ...]:
    """Return the thresholds of one region."""
    return tuple(entry for entry in thresholds() if entry.region == region)
