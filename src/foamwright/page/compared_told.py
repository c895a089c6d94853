"""What a change did, for a template: flights after it beside those before it."""

from foamwright.debrief.wanted import WANTED
from foamwright.jobs.paired_flights import Compared, Moved, words
from foamwright.quantity import show

Row = dict[str, object]


def signed(value: float | None, dimension: str, units: str) -> str:
    """Return a difference with its sign."""
    told = show(value, dimension, units)
    return f"−{told[1:]}" if told.startswith("-") else f"+{told}"


def moved_told(one: Moved, units: str) -> Row:
    """Return how one figure moved, and what is made of that."""
    change = one.change
    return {
        "label": WANTED[change.name].label,
        "wanted": one.wanted,
        "before": show(one.before.value, one.before.dimension, units),
        "after": show(one.after.value, one.after.dimension, units),
        "change": " to ".join(
            signed(end, change.dimension, units) for end in (change.low, change.high)
        ),
        "words": words(one),
        "chance": f"{100.0 * one.chance:.0f} %",
    }


def flights_counted(count: int) -> str:
    """Return a number of flights in words."""
    return f"{count} flight" if count == 1 else f"{count} flights"


def compared_told(found: Compared | None, units: str) -> Row | None:
    """Return what flights before and after a change tell together; none where none were named."""
    if found is None:
        return None
    before, after = (flights_counted(count) for count in found.flights)
    brought = dict.fromkeys(word for one in found.moved for word in one.corrected)
    return {
        "title": f"{before} before, {after} after",
        "moved": [moved_told(one, units) for one in found.moved],
        "brought": list(brought),
        "assumed": list(found.assumed),
        "not_said": list(found.not_said),
    }
