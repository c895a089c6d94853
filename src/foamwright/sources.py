"""Every published source once: what it is, what was taken from it, how we hold it."""

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


SOURCES: dict[str, Source] = {
    "own-derivation": Source(
        citation="foamwright, derived in the code beside it",
        taken="algebra",
        held="own",
    ),
    "common-practice": Source(
        citation="common practice of the trade, no source",
        taken="figures and rules of thumb with their spread",
        held="memory",
    ),
    "ridders-1979": Source(
        citation="C. Ridders, A new algorithm for computing a single root of a real continuous "
        "function, IEEE Trans. Circuits and Systems 26 (1979) 979",
        taken="the update formula",
        held="memory",
    ),
}
