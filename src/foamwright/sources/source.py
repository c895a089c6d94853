"""What is told of a published source."""

from dataclasses import dataclass
from typing import Literal


@dataclass(frozen=True, kw_only=True, slots=True)
class Source:
    """One published source."""

    citation: str
    """Author, title, place, year."""
    taken: str
    """What the project took from it."""
    held: Literal["read", "abstract", "second-hand", "memory", "own"]
    """How we know it; 'memory' and 'second-hand' are to be checked before they are printed."""
