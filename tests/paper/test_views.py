"""Outlines from above, the side and the front."""

import pytest

from foamwright.paper import views
from foamwright.paper.shapes import BodyCut, BodyShape, Cut, Hinge, SurfaceShape

WING = SurfaceShape(
    name="wing",
    role="wing",
    cuts=(
        Cut(edge=(100.0, 0.0, 0.0), chord=150.0, thickness=15.0),
        Cut(edge=(140.0, 400.0, 0.0), chord=100.0, thickness=10.0),
    ),
    mirrored=True,
    hinges=(Hinge(start=0.5, end=1.0, share=0.2),),
)
FIN = SurfaceShape(
    name="fin",
    role="fin",
    cuts=(
        Cut(edge=(600.0, 0.0, 0.0), chord=90.0, thickness=5.0),
        Cut(edge=(640.0, 0.0, 100.0), chord=50.0, thickness=5.0),
    ),
    mirrored=False,
)


def area(outline: list[tuple[float, float]]) -> float:
    """Return the area of an outline by the shoelace formula."""
    pairs = zip(outline, outline[1:] + outline[:1], strict=True)
    return abs(sum(x * v - u * y for (x, y), (u, v) in pairs)) / 2


def test_a_wing_from_above_has_the_area_of_its_trapezoids() -> None:
    """(150 + 100) / 2 x 800 mm2, in one outline without a seam."""
    (outline,) = views.surface_top(WING)
    assert area(outline) == pytest.approx(125 * 800)


def test_a_fin_is_a_trapezoid_from_the_side_and_as_thick_as_its_foam_from_above() -> None:
    """(90 + 50) / 2 x 100 mm2 and a little for its thickness; 5 mm wide."""
    (seen,) = views.surface_side(FIN)
    assert area(seen) == pytest.approx(7000.0)
    (above,) = views.surface_top(FIN)
    ys = [y for _, y in above]
    assert max(ys) - min(ys) == pytest.approx(5.0)


def test_the_right_wing_is_up_from_above_and_left_from_the_front() -> None:
    """With the nose to the left; a pilot in front of the plane sees its right wing on his left."""
    right = (140.0, 400.0, 30.0)
    assert views.top(right) == (140.0, -400.0)
    assert views.front(right) == (-400.0, -30.0)
    assert views.side(right) == (140.0, -30.0)


def test_a_hinge_lies_at_its_share_of_the_chord() -> None:
    """At half the span the chord is 125 mm from 120 mm: the hinge at 80 % of it, 220 mm."""
    right, left = views.hinge_lines(WING)
    assert right[1] == pytest.approx((220.0, 200.0, 0.0))
    assert right[2] == pytest.approx((220.0, 400.0, 0.0))
    assert left[1] == pytest.approx((220.0, -200.0, 0.0))


def test_a_body_is_as_wide_and_as_high_as_its_cuts() -> None:
    """30 x 50 mm around a middle at z = -8 mm."""
    body = BodyShape(
        name="pod",
        y=0.0,
        cuts=(
            BodyCut(x=0.0, z=-8.0, width=30.0, height=50.0),
            BodyCut(x=200.0, z=-8.0, width=30.0, height=50.0),
        ),
    )
    assert area(views.body_top(body)) == pytest.approx(200 * 30)
    seen = views.body_side(body)
    assert area(seen) == pytest.approx(200 * 50)
    assert (min(y for _, y in seen), max(y for _, y in seen)) == (-17.0, 33.0)
