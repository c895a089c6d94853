"""Where foam lies along a line."""

import pytest

from foamwright.model.cuts import RIGHT, UP, Cuts, edges_of
from foamwright.model.solid import EMPTY, Solid
from foamwright.plane.airframe import Airframe
from foamwright.plane.filling import frozen

BOX: dict[str, object] = {
    "name": "box",
    "stations": [
        {"x": "0 mm", "width": "40 mm", "height": "50 mm", "corner": "0 mm"},
        {"x": "200 mm", "width": "40 mm", "height": "50 mm", "corner": "0 mm"},
    ],
}
WING = {
    "name": "wing",
    "role": "wing",
    "stations": [
        {"y": "0 mm", "leading_edge": "300 mm", "chord": "50 mm"},
        {"y": "300 mm", "leading_edge": "300 mm", "chord": "50 mm"},
    ],
}
TWINS = [{**BOX, "name": name, "y": y} for name, y in (("left", "-60 mm"), ("right", "60 mm"))]


def cuts(bodies: list[dict[str, object]]) -> Cuts:
    """Return the cuts of some bodies."""
    return Cuts(
        Solid(
            Airframe.model_validate(frozen({"foam": "EPS", "surfaces": [WING], "bodies": bodies}))
        )
    )


def test_a_line_through_a_box_is_inside_it() -> None:
    """40 mm across and 50 mm up."""
    found = cuts([BOX])
    assert found.spans(0.1, RIGHT, 0.0) == [pytest.approx((-0.02, 0.02))]
    assert found.spans(0.1, UP, 0.0) == [pytest.approx((-0.025, 0.025))]


def test_a_line_beside_it_meets_nothing() -> None:
    """Above the top there is no foam, nor behind the tail."""
    found = cuts([BOX])
    assert found.spans(0.1, RIGHT, 0.03) == []
    assert found.spans(0.25, RIGHT, 0.0) == []


def test_two_bodies_are_two_spans_and_a_place_picks_one() -> None:
    """The span that holds the place, or none between them."""
    found = cuts(TWINS)
    assert len(found.spans(0.1, RIGHT, 0.0)) == 2
    assert found.span(0.1, RIGHT, 0.0, 0.06) == pytest.approx((0.04, 0.08))
    assert found.span(0.1, RIGHT, 0.0, 0.0) is None


def test_edges_are_remembered() -> None:
    """The same array comes back."""
    found = cuts([BOX])
    assert found.edges(0.1) is found.edges(0.1004)
    assert edges_of(EMPTY).shape == (0, 2, 2)
