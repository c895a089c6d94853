"""Where the names of parts stand: off the foam, off each other, no leader through a name."""

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import partial

from foamwright.paper.svg import Spot, width_of

MOST_LEVELS = 36
"""Rows tried on each side before a name is put beyond everything."""

AIR, LEAST_AIR = 0.2, 0.04
"""Room between two leaders over the size of the letters: wanted, and where there is less."""

Span = tuple[float, float]


@dataclass(frozen=True, kw_only=True, slots=True)
class Label:
    """One name with its leader: from the part straight out, then along to the name."""

    words: str
    foot: Spot
    """On the part."""
    elbow: Spot
    """Where the leader turns."""
    left: float
    """Where the words begin."""
    width: float
    """How wide they are."""

    @property
    def side(self) -> float:
        """The end of the words that the leader comes to."""
        near_left = abs(self.left - self.elbow[0]) < abs(self.left + self.width - self.elbow[0])
        return self.left if near_left else self.left + self.width


@dataclass(frozen=True, kw_only=True, slots=True)
class Field:
    """What names have to keep off."""

    foam: Callable[[float, float], list[Span]]
    """Tells where along x there is foam between two heights."""
    ends: Span
    """Heights between which the foam lies."""
    size: float
    """Of the letters."""


def overlap(first: Span, second: Span) -> bool:
    """Return whether two ranges have something in common."""
    return first[0] < second[1] and second[0] < first[1]


def ordered(one: float, other: float) -> Span:
    """Return two numbers as a range."""
    return (min(one, other), max(one, other))


def area(label: Label, size: float) -> tuple[Span, Span]:
    """Return the box of the words with some air."""
    air = 0.25 * size
    across = (label.left - air, label.left + label.width + air)
    return across, (label.elbow[1] - 0.75 * size, label.elbow[1] + 0.75 * size)


def runs(label: Label, air: float) -> tuple[tuple[Span, Span], ...]:
    """Return the two straight runs of a leader, with some air beside them."""
    y, (turn, level) = label.foot[1], label.elbow
    return (
        ((turn - air, turn + air), ordered(y, level)),
        (ordered(turn, label.side), (level - air, level + air)),
    )


def apart(first: Label, second: Label, size: float) -> bool:
    """Return whether all of two labels, air included, lies so far apart that nothing can touch."""
    ends = []
    for label in (first, second):
        (x, y), (turn, level) = label.foot, label.elbow
        ends.append((min(x, turn, label.left), max(x, turn, label.left + label.width)))
        ends.append((min(y, level), max(y, level)))
    air = 2.0 * size
    return (
        ends[0][0] - air > ends[2][1]
        or ends[2][0] - air > ends[0][1]
        or ends[1][0] - air > ends[3][1]
        or ends[3][0] - air > ends[1][1]
    )


def collide(first: Label, second: Label, size: float, air: float = AIR) -> bool:
    """Return whether words lie on words or on a leader, or leaders lie on each other."""
    if apart(first, second, size):
        return False
    if math.dist(first.foot, second.foot) < 1.75 * air * size:
        return True  # two dots as one
    boxes = (area(first, size), area(second, size))
    if all(overlap(a, b) for a, b in zip(*boxes, strict=True)):
        return True
    for words, other in ((boxes[0], second), (boxes[1], first)):
        if any(
            all(overlap(a, b) for a, b in zip(words, run, strict=True)) for run in runs(other, 0.1)
        ):
            return True
    return any(
        all(overlap(a, b) for a, b in zip(one, two, strict=True))
        for one in runs(first, air * size)
        for two in runs(second, 0.0)
    )


def gaps(taken: list[Span], around: float) -> Iterator[Span]:
    """Yield the free ranges along x, nearest to a place first."""
    edges = [-1e9]
    for low, high in sorted(taken):
        if low > edges[-1]:
            edges += [low, high]
        else:
            edges[-1] = max(edges[-1], high)
    edges.append(1e9)
    free = list(zip(edges[::2], edges[1::2], strict=True))
    yield from sorted(free, key=lambda g: abs(min(max(around, g[0]), g[1]) - around))


def at_level(words: str, foot: Spot, level: float, field: Field) -> Iterator[Label]:
    """Yield the places for a name in one row."""
    width, gap, turn = width_of(words, field.size), 0.7 * field.size, foot[0]
    taken = field.foam(level - 0.75 * field.size, level + 0.75 * field.size)
    for low, high in gaps(taken, turn):
        if high - low < width + 2 * gap:
            continue
        for left in (turn + gap / 2, turn - gap / 2 - width):
            left = min(max(left, low + gap), high - gap - width)  # noqa: PLW2901 - kept inside
            if left <= turn <= left + width:
                continue  # the leader would come from below into the words
            yield Label(words=words, foot=foot, elbow=(turn, level), left=left, width=width)


def candidates(words: str, feet: tuple[Spot, ...], field: Field) -> Iterator[Label]:
    """Yield every place for a name."""
    step = 1.6 * field.size
    for foot in feet:
        for row in range(1, MOST_LEVELS):
            for sign in (-1.0, 1.0):
                level = foot[1] + sign * row * step
                yield from at_level(words, foot, level, field)


def length(label: Label, middle: Spot) -> float:
    """Return the length of a leader, and more where it starts off the middle of its part."""
    along = abs(label.side - label.elbow[0])
    return along + abs(label.elbow[1] - label.foot[1]) + 2.0 * abs(label.foot[0] - middle[0])


def placed(named: tuple[tuple[str, tuple[Spot, ...]], ...], field: Field) -> tuple[Label, ...]:
    """Return a label for every name, in the order given.

    Each name has the spots its leader may start from, the best first. Names take the nearest free
    place one after the other; of a few orders the one with the shortest leaders is kept.
    """
    options = [
        sorted(candidates(words, feet, field), key=partial(length, middle=feet[0]))
        for words, feet in named
    ]
    count = range(len(named))
    along = sorted(count, key=lambda i: named[i][1][0][0])
    orders = (list(count), along)
    tries = [in_order(order, named, options, field) for order in orders]

    def whole(labels: dict[int, Label]) -> float:
        return sum(length(label, named[i][1][0]) for i, label in labels.items())

    best = min(tries, key=whole)
    return tuple(best[i] for i in count)


def in_order(
    order: list[int],
    named: tuple[tuple[str, tuple[Spot, ...]], ...],
    options: list[list[Label]],
    field: Field,
) -> dict[int, Label]:
    """Return labels placed one after the other, each where it is nearest and free."""
    found: dict[int, Label] = {}
    for i in order:
        others = list(found.values())
        free = (
            option
            for air in (AIR, LEAST_AIR)
            for option in options[i]
            if not any(collide(option, x, field.size, air) for x in others)
        )
        label = next(free, None)
        words, feet = named[i]
        found[i] = label if label is not None else beyond(words, feet[0], others, field)
    return found


def beyond(words: str, foot: Spot, found: list[Label], field: Field) -> Label:
    """Return a label below everything else, where there is always room."""
    lowest = max([field.ends[1], *(label.elbow[1] for label in found)])
    level = lowest + 1.6 * field.size
    width = width_of(words, field.size)
    return Label(
        words=words, foot=foot, elbow=(foot[0], level), left=foot[0] + field.size, width=width
    )
