"""The plane seen from above, from the side and from the front, as outlines on paper.

From above and from the left side the nose points left; from the front the right wing is left.
"""

import math
from collections.abc import Iterator
from itertools import pairwise

from foamwright.paper.shapes import BodyShape, Cut, Hinge, Point, SurfaceShape
from foamwright.paper.svg import Spot

FOIL = (
    (0.0, 0.0),
    (0.05, 0.296),
    (0.15, 0.445),
    (0.3, 0.5),
    (0.5, 0.441),
    (0.7, 0.305),
    (0.9, 0.121),
    (1.0, 0.0),
)
"""Half thickness of a four-digit section over its thickness, along the chord."""


def top(point: Point) -> Spot:
    """Return where a point is seen from above."""
    return (point[0], -point[1])


def side(point: Point) -> Spot:
    """Return where a point is seen from the left."""
    return (point[0], -point[2])


def front(point: Point) -> Spot:
    """Return where a point is seen from the front."""
    return (-point[1], -point[2])


def left_twin(cut: Cut) -> Cut:
    """Return a cut on the other side of the middle line."""
    x, y, z = cut.edge
    return Cut(edge=(x, -y, z), chord=cut.chord, thickness=cut.thickness)


def halves(surface: SurfaceShape) -> Iterator[tuple[Cut, ...]]:
    """Yield the cuts of a surface, and those of its twin."""
    yield surface.cuts
    if surface.mirrored:
        yield tuple(left_twin(cut) for cut in surface.cuts)


def rear(cut: Cut) -> Point:
    """Return the trailing edge of a cut."""
    x, y, z = cut.edge
    return (x + cut.chord, y, z)


def across(cuts: tuple[Cut, ...]) -> tuple[float, float]:
    """Return the direction (y, z) square to a surface, from its root to its tip."""
    dy = cuts[-1].edge[1] - cuts[0].edge[1]
    dz = cuts[-1].edge[2] - cuts[0].edge[2]
    size = math.hypot(dy, dz) or 1.0
    return (-dz / size, dy / size)


def hull(spots: list[Spot]) -> list[Spot]:
    """Return the outline around some spots, by the monotone chain."""
    found: list[Spot] = []
    for order in (sorted(set(spots)), sorted(set(spots), reverse=True)):
        chain: list[Spot] = []
        for spot in order:
            while len(chain) > 1 and turn(chain[-2], chain[-1], spot) <= 0:
                chain.pop()
            chain.append(spot)
        found += chain[:-1]
    return found


def turn(first: Spot, second: Spot, third: Spot) -> float:
    """Return which way three spots turn."""
    across_first = (second[0] - first[0]) * (third[1] - first[1])
    return across_first - (second[1] - first[1]) * (third[0] - first[0])


def skin(cut: Cut, normal: tuple[float, float]) -> list[Point]:
    """Return points around a section, thick in the direction square to the surface."""
    x, y, z = cut.edge
    return [
        (
            x + share * cut.chord,
            y + sign * half * cut.thickness * normal[0],
            z + sign * half * cut.thickness * normal[1],
        )
        for share, half in FOIL
        for sign in (-1.0, 1.0)
    ]


def panels(surface: SurfaceShape) -> Iterator[list[Point]]:
    """Yield points around each straight piece of a surface and its twin."""
    for cuts in halves(surface):
        for inner, outer in pairwise(cuts):
            normal = across((inner, outer))
            yield skin(inner, normal) + skin(outer, normal)


def surface_top(surface: SurfaceShape) -> list[list[Spot]]:
    """Return the outlines of a surface from above; an upright one is as thick as its foam."""
    flat = abs(across(surface.cuts)[1]) > 0.05
    if not flat:
        return [hull([top(p) for p in piece]) for piece in panels(surface)]
    found = []
    for cuts in halves(surface):
        edge = [top(cut.edge) for cut in cuts]
        found.append(edge + [top(rear(cut)) for cut in reversed(cuts)])
    if surface.mirrored and surface.cuts[0].edge[1] == 0.0:
        # One outline from tip to tip: no seam in the middle.
        right, left = (tuple(cuts) for cuts in halves(surface))
        whole = (*reversed(left), *right[1:])
        return [[top(c.edge) for c in whole] + [top(rear(c)) for c in reversed(whole)]]
    return found


def surface_side(surface: SurfaceShape) -> list[list[Spot]]:
    """Return the outlines of a surface from the left; twins lie behind one another."""
    return [hull([side(p) for p in piece]) for piece in panels(surface)]


def surface_front(surface: SurfaceShape) -> list[list[Spot]]:
    """Return the outlines of a surface from the front."""
    return [hull([front(p) for p in piece]) for piece in panels(surface)]


def body_top(body: BodyShape) -> list[Spot]:
    """Return the outline of a body from above."""
    right = [(cut.x, -body.y - cut.width / 2) for cut in body.cuts]
    return right + [(cut.x, -body.y + cut.width / 2) for cut in reversed(body.cuts)]


def body_side(body: BodyShape) -> list[Spot]:
    """Return the outline of a body from the left."""
    upper = [(cut.x, -cut.z - cut.height / 2) for cut in body.cuts]
    return upper + [(cut.x, -cut.z + cut.height / 2) for cut in reversed(body.cuts)]


def between(cuts: tuple[Cut, ...], share: float) -> Cut:
    """Return the cut at a share of the way from root to tip."""
    steps = [0.0]
    for inner, outer in pairwise(cuts):
        steps.append(steps[-1] + math.dist(inner.edge[1:], outer.edge[1:]))
    aim = share * steps[-1]
    place = next((i for i in range(1, len(steps)) if aim <= steps[i]), len(steps) - 1)
    inner, outer = cuts[place - 1], cuts[place]
    part = (aim - steps[place - 1]) / max(steps[place] - steps[place - 1], 1e-9)

    def mixed(one: float, other: float) -> float:
        return one + part * (other - one)

    x, y, z = (mixed(a, b) for a, b in zip(inner.edge, outer.edge, strict=True))
    return Cut(
        edge=(x, y, z),
        chord=mixed(inner.chord, outer.chord),
        thickness=mixed(inner.thickness, outer.thickness),
    )


def hinge_lines(surface: SurfaceShape) -> list[list[Point]]:
    """Return the lines around each control surface: end, hinge, end."""
    return [hinge_line(cuts, hinge) for cuts in halves(surface) for hinge in surface.hinges]


def hinge_line(cuts: tuple[Cut, ...], hinge: Hinge) -> list[Point]:
    """Return the open line around one control surface."""
    ends = [between(cuts, share) for share in (hinge.start, hinge.end)]
    hinged = [(c.edge[0] + (1 - hinge.share) * c.chord, c.edge[1], c.edge[2]) for c in ends]
    return [rear(ends[0]), *hinged, rear(ends[1])]
