"""Were eight in ten readings where eight in ten were to lie?"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import comb

from foamwright.model.learning import Taught

SHARE = 0.8
"""Share that a band is to hold."""

ODD = 0.05
"""Chance below which a count speaks against the bands."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Score:
    """How many readings fell inside their bands."""

    inside: int
    """So many."""
    of: int
    """Of so many that were foretold."""

    @property
    def too_few(self) -> float:
        """Chance that right bands hold so few or fewer."""
        return sum(chance(count, self.of) for count in range(self.inside + 1))

    @property
    def too_many(self) -> float:
        """Chance that right bands hold so many or more."""
        return sum(chance(count, self.of) for count in range(self.inside, self.of + 1))

    def sentence(self) -> str:
        """Return the score in words; empty where nothing was foretold."""
        if self.of == 0:
            return ""
        text = f"{self.inside} of {self.of} readings fell into the band that was to hold 80 %"
        if self.too_few < ODD:
            return f"{text}: the bands are too narrow for this plane, so trust them less"
        if self.too_many < ODD:
            return f"{text}: the bands are wider than this plane needs"
        return f"{text}, as can be with bands that are right"


def chance(count: int, of: int) -> float:
    """Return the chance that exactly so many of so many fall into a band that is right."""
    return float(comb(of, count) * SHARE**count * (1.0 - SHARE) ** (of - count))


def scored(taught: Sequence[Taught], kind: str | None = None) -> Score:
    """Return the score of all tests and flights, or of one kind.

    A bound was not to fall into a band, so it counts neither way.
    """
    checks = [
        check for entry in taught if kind in (None, entry.source.kind) for check in entry.foretold
    ]
    return Score(inside=sum(check.inside for check in checks), of=len(checks))
