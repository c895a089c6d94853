"""What may be behind a reading that is not as planned."""

from dataclasses import dataclass

AS_PLANNED = "as planned"
"""The cause that is none."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Suspect:
    """One cause after the readings."""

    name: str
    """In the builder's words."""
    probability: float
    """Chance that it is this one."""
    check: str
    """How to find out."""
    against: str
    """The reading that speaks against it most; empty where none does."""
    expected: tuple[float, float] | None
    """Where eight in ten of that reading would lie with it [SI]."""
    speaks_for: str = ""
    """What speaks for it; empty where the words of the check say it."""
    speaks_against: str = ""
    """What speaks against it, likewise."""
