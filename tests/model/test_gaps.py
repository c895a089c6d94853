"""Room between things."""

from collections.abc import Callable

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from foamwright.model import gaps
from foamwright.model.computable import ComputablePlane
from foamwright.plane.boxes import Box
from foamwright.plane.gear import Rod

Computed = Callable[..., ComputablePlane]
PLACE = st.tuples(*[st.floats(-0.2, 0.2)] * 3)
SIZE = st.tuples(*[st.floats(0.001, 0.1)] * 3)


def box(
    middle: tuple[float, float, float], size: tuple[float, float, float] = (0.02, 0.02, 0.02)
) -> Box:
    """Return a box."""
    return Box(
        item="thing",
        kind="other",
        index=0,
        middle=middle,
        size=size,
        side="top",
        protrudes=0.0,
        declared=False,
    )


def test_room_is_measured_between_faces_edges_and_corners() -> None:
    """10 mm along one axis; 30-40-50 over an edge."""
    one = gaps.ends_of(box((0.0, 0.0, 0.0)))
    assert gaps.room(one, gaps.ends_of(box((0.03, 0.0, 0.0)))) == pytest.approx(0.010)
    assert gaps.room(one, gaps.ends_of(box((0.05, 0.06, 0.0)))) == pytest.approx(0.050)
    assert gaps.room(one, gaps.ends_of(box((0.015, 0.0, 0.0)))) == pytest.approx(-0.005)


@given(PLACE, PLACE, SIZE, SIZE)
def test_room_is_the_same_both_ways(
    a: tuple[float, float, float],
    b: tuple[float, float, float],
    c: tuple[float, float, float],
    d: tuple[float, float, float],
) -> None:
    """And no more than the distance of the middles."""
    one, other = gaps.ends_of(box(a, c)), gaps.ends_of(box(b, d))
    assert gaps.room(one, other) == gaps.room(other, one)
    assert gaps.room(one, other) <= np.linalg.norm(np.subtract(a, b)) + 1e-12


def test_only_near_things_are_listed() -> None:
    """Three in a row: neighbours yes, the far pair no."""
    row = tuple((str(i), box((0.03 * i, 0.0, 0.0))) for i in range(3))
    assert [(g.first, g.second) for g in gaps.overlaps(row, 0.02)] == [("0", "1"), ("1", "2")]


def test_a_rod_keeps_its_distance_by_its_line() -> None:
    """A 2 mm rod 50 mm below a 20 mm box leaves 39."""
    rod = Rod.model_validate(
        {
            "name": "rod",
            "kind": "rod",
            "diameter": "2 mm",
            "starts": {"x": "0 mm", "y": "-100 mm", "z": "-50 mm"},
            "ends": {"x": "0 mm", "y": "100 mm", "z": "-50 mm"},
        }
    )
    assert gaps.rod_gap(box((0.0, 0.0, 0.0)), rod) == pytest.approx(0.039)
    assert gaps.rod_gap(box((0.0, 0.0, 0.0)), Rod(name="r", kind="rod")) == np.inf


def test_a_pusher_clears_the_boom_or_not(computed: Computed) -> None:
    """127 mm of propeller 76 mm up pass the boom; 45 mm up they cut into it."""
    high = computed("reedling").fit.propellers[0]
    assert high.foam > 0.005
    low = computed("reedling", {"items.propeller.at.z": "45 mm"}).fit.propellers[0]
    assert low.foam == pytest.approx(high.foam - 0.031, abs=1e-3)
    assert low.foam < 0.0


def test_the_tip_hangs_below_the_belly_by_what_geometry_says(computed: Computed) -> None:
    """Anvil: a 3 in propeller 10 mm up against a belly 14 mm down."""
    plane = computed("anvil")
    found = plane.fit.propellers[0]
    assert found.below == pytest.approx(gaps.lowest(plane.cuts) - (0.010 - 0.0381), abs=1e-4)


def test_hinge_and_leading_edge_are_found_in_a_wing(computed: Computed) -> None:
    """An aileron servo 23.4 mm long at 272 mm in a chord of 138 mm from 211 mm."""
    plane = computed("reedling")
    pocket = next(p for p in plane.fit.pockets if p.item == "aileron servos")
    room = gaps.hinge_room(pocket, plane.plane, plane.cuts)
    assert room is not None
    assert room[0] == pytest.approx(0.0493, abs=2e-3)
    pack = next(p for p in plane.fit.pockets if p.item == "pack")
    assert gaps.hinge_room(pack, plane.plane, plane.cuts) is None


def test_the_trailing_edge_matters_where_the_body_goes_on(computed: Computed) -> None:
    """A glider's boom goes on behind 355 mm; a plank's pod ends there."""
    assert gaps.trailing_edge(computed("reedling").cuts) == pytest.approx(0.355)
    assert gaps.trailing_edge(computed("windrow").cuts) is None
