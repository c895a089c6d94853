"""What a throw or a bungee in the plane file must be."""

from collections.abc import Iterator
from itertools import chain

from foamwright.plane.checks import Objection
from foamwright.plane.plane import Plane
from foamwright.quantity import Quantity

HIGHEST_HAND = 2.6
"""Height no hand reaches standing on the ground [m]."""

FASTEST_THROW = 25.0
"""Speed no arm gives a foam plane [m s^-1]: trained handball players reach 21 m/s."""

LONGEST_DELAY = 3.0
"""Delay after which every launch is over [s]."""

STEEPEST = 1.05
"""Path steeper than anybody throws a plane [rad]: 60 degrees."""

MOST_STRETCH = 6.0
"""Stretch over free length at which latex tears [-]; common practice."""


def between(
    path: tuple[str, ...],
    quantity: Quantity | None,
    limits: tuple[float, float],
    words: tuple[str, str],
) -> Iterator[Objection]:
    """Object to a quantity outside its limits; `words` are what it is not, and what is right."""
    if quantity is None or limits[0] <= quantity.value <= limits[1]:
        return
    yield Objection(
        path=path, what=f"{quantity.text} {words[0]}", expected=f"write for instance {words[1]}"
    )


def throw(plane: Plane) -> Iterator[Objection]:
    """Object to throws that are none."""
    thrower = plane.thrower
    checks = (
        ("speed", thrower.speed, (0.1, FASTEST_THROW), ("is no throw", '"8 ± 1 m/s"')),
        ("angle", thrower.angle, (-STEEPEST, STEEPEST), ("is no throw", '"10 ± 4 deg"')),
        (
            "height",
            thrower.height,
            (0.05, HIGHEST_HAND),
            ("is not where a hand lets go above the ground", '"1.8 m"'),
        ),
        (
            "delay",
            thrower.delay,
            (0.0, LONGEST_DELAY),
            (
                "is no delay of the motor after the release",
                '"0.3 s", or "0 s" where it already runs in the hand',
            ),
        ),
        ("ramp", thrower.ramp, (0.0, LONGEST_DELAY), ("is no time to full power", '"0.2 s"')),
        ("throttle", thrower.throttle, (0.0, 1.0), ("is no throttle", '"80 %"')),
        ("up_trim", thrower.up_trim, (-0.35, 0.35), ("is no trim", '"2 deg" (up)')),
    )
    return chain.from_iterable(
        between(("thrower", key), value, limits, words) for key, value, limits, words in checks
    )


def bungee(plane: Plane) -> Iterator[Objection]:
    """Object to a bungee that cannot pull, or would tear."""
    line = plane.bungee
    if line is None:
        return
    checks = (
        ("length", line.length, (0.05, 30.0), ("is no length of rubber", '"2 m"')),
        ("stretch", line.stretch, (0.05, 60.0), ("is no stretch", '"3 m"')),
        ("pull", line.pull, (0.5, 400.0), ("is no pull of a rubber", '"2 kgf"')),
        ("returned", line.returned, (0.05, 1.0), ("is nothing a rubber gives", '"78 ± 4 %"')),
        ("slope", line.slope, (-0.2, STEEPEST), ("is no path", '"15 deg"')),
        ("hook_limit", line.hook_limit, (0.5, 2000.0), ("holds nothing", '"3 kgf"')),
    )
    for key, value, limits, words in checks:
        yield from between(("bungee", key), value, limits, words)
    if line.length.value > 0 and line.stretch.value > MOST_STRETCH * line.length.value:
        yield Objection(
            path=("bungee", "stretch"),
            what=f"{line.stretch.text} on {line.length.text} of rubber tears it",
            expected=f"{MOST_STRETCH:g} times its free length at most; three is usual",
        )
