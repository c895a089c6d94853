"""The tests that can be noted at the bench, as the command line and the page both know them."""

from collections.abc import Mapping

TESTS: Mapping[str, tuple[str, str | None, tuple[str, ...]]] = {
    "thrust": ("static", None, ("thrust", "current", "volts", "rpm", "throttle")),
    "swing": ("swings", None, ("axis", "distance", "length", "time", "swings", "mass")),
    "throw": ("throws", None, ("speed", "angle")),
    "balance": ("balances", "at", ("front", "front_at", "rear", "rear_at", "pack_at")),
    "hang": ("hang", None, ("surface", "load", "arm", "at", "twist")),
    "charge": ("charges", "charge", ("time", "speed", "flight")),
    "servo": ("servo_sweeps", "servo", ("angle", "time", "volts")),
}
"""Each test's list in the notes, the key of its VALUE, and its options."""

WEIGH = "weigh"
"""Weighing is a command of its own, and a test like the others."""

WEIGHING: tuple[str, str | None, tuple[str, ...]] = ("weighings", None, ("item", "mass", "pieces"))
"""Its list in the notes and what it takes."""

KEYS = {"volts": "voltage", "rpm": "rotation_speed"}
"""Options that are called otherwise in the notes."""


def keys_of(test: str) -> tuple[str, ...]:
    """Return what a test takes, as the notes call it; raises KeyError for one nobody knows."""
    _, own, takes = WEIGHING if test == WEIGH else TESTS[test]
    first = () if own is None else (own,)
    return (*first, *(KEYS.get(name, name) for name in takes))


def list_of(test: str) -> str:
    """Return the list of the notes a test stands in; raises KeyError for one nobody knows."""
    return (WEIGHING if test == WEIGH else TESTS[test])[0]
