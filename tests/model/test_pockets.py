"""Pockets: their size, their depth, the skin they leave."""

from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from foamwright.model.cuts import Cuts
from foamwright.model.pockets import Pocket, clearances, placed, pocket_of
from foamwright.model.solid import Solid
from foamwright.plane.airframe import Airframe
from foamwright.plane.boxes import boxes_of
from foamwright.plane.filling import frozen
from foamwright.plane.gear import AnyItem, Board, Pack, Servo, SpeedController

BODY = {
    "name": "box",
    "stations": [
        {"x": "0 mm", "width": "60 mm", "height": "50 mm", "corner": "0 mm"},
        {"x": "300 mm", "width": "60 mm", "height": "50 mm", "corner": "0 mm"},
    ],
}
WING = {
    "name": "wing",
    "role": "wing",
    "stations": [
        {"y": "0 mm", "leading_edge": "100 mm", "chord": "150 mm", "thickness": "12 %"},
        {"y": "400 mm", "leading_edge": "100 mm", "chord": "150 mm", "thickness": "12 %"},
    ],
}


def airframe(**more: object) -> Airframe:
    """Return a square box with a wing."""
    return Airframe.model_validate(
        frozen({"foam": "EPS", "surfaces": [WING], "bodies": [BODY], **more})
    )


def board(**more: object) -> Board:
    """Return a board of 40 x 30 x 10 mm in the middle of the nose."""
    told: dict[str, Any] = {
        "name": "board",
        "kind": "flight controller",
        "at": {"x": "50 mm"},
        "size": {"length": "40 mm", "width": "30 mm", "height": "10 mm"},
        "clearance": "0 mm",
    }
    return Board.model_validate(told | more)


def pocket(item: AnyItem, frame: Airframe | None = None) -> Pocket:
    """Return the pocket of an item's first piece."""
    frame = airframe() if frame is None else frame
    return pocket_of(boxes_of(item)[0], item, Cuts(Solid(frame)), frame)


def test_a_flush_part_is_as_deep_as_it_is_high() -> None:
    """10 mm down from the top, 40 mm of foam under it, 15 mm beside it."""
    found = pocket(board())
    assert found.depth == pytest.approx(0.010)
    assert (found.low[2], found.high[2]) == pytest.approx((0.015, 0.025))
    assert found.skin == pytest.approx(0.015)
    assert found.skin_where == "side"
    assert found.host == "box"
    assert not found.in_surface


@pytest.mark.parametrize(
    ("side", "skin"), [("top", 0.015), ("bottom", 0.015), ("inside", 0.015), ("right", 0.015)]
)
def test_each_side_has_its_own_walls(side: str, skin: float) -> None:
    """Open to the right, it has walls of 20 mm above and below, and a floor of 15 to the left."""
    assert pocket(board(pocket=side)).skin == pytest.approx(skin)


def test_a_part_wider_than_the_body_breaks_through() -> None:
    """70 mm in 60 is 5 mm through each side."""
    size = {"length": "40 mm", "width": "70 mm", "height": "10 mm"}
    assert pocket(board(size=size)).skin == pytest.approx(-0.005)


def test_a_part_near_the_nose_counts_the_foam_ahead() -> None:
    """4 mm are left before it."""
    found = pocket(board(at={"x": "24 mm"}))
    assert found.skin == pytest.approx(0.004, abs=1e-3)
    assert found.skin_where == "front"


def test_a_part_beside_the_foam_is_outside() -> None:
    """Half of it hangs behind the tail."""
    found = pocket(board(at={"x": "295 mm"}))
    assert found.skin < 0.0
    assert found.skin_where == "outside"


def test_a_camera_looks_out_of_the_nose() -> None:
    """It may begin at the very front; foam is counted around it, not before it."""
    found = pocket(board(kind="camera", at={"x": "20 mm"}))
    assert found.side == "front"
    assert found.skin == pytest.approx(0.015)


def servo(**more: object) -> Servo:
    """Return a servo in the wing, lying on its side."""
    told: dict[str, Any] = {
        "name": "servo",
        "kind": "servo",
        "count": 2,
        "at": {"x": "150 mm", "y": "200 mm"},
        "size": {"length": "23 mm", "width": "10 mm", "height": "22 mm"},
        "lies": "on edge",
        "clearance": "0 mm",
    }
    return Servo.model_validate(told | more)


def test_a_servo_as_thick_as_the_wing_is_found_out() -> None:
    """Standing, 22 mm go through a wing of 18; lying, 10 mm leave 6 or so."""
    assert pocket(servo(lies="flat")).skin < 0.0
    lying = pocket(servo())
    assert lying.in_surface
    assert lying.host == "wing"
    assert 0.004 < lying.skin < 0.009
    assert lying.skin_where == "floor"


def test_standing_out_leaves_more_skin() -> None:
    """Three millimetres out of the foam are three millimetres more skin."""
    more = pocket(servo(protrudes="3 mm")).skin - pocket(servo()).skin
    assert more == pytest.approx(0.003, abs=0.3e-3)


def test_the_pair_mirrors() -> None:
    """Left and right pockets leave the same skin and are named apart."""
    item, frame = servo(), airframe()
    cuts = Cuts(Solid(frame))
    right, left = (pocket_of(box, item, cuts, frame) for box in boxes_of(item))
    assert (right.name, left.name) == ("servo right", "servo left")
    assert right.skin == pytest.approx(left.skin)
    assert right.centre[1] == pytest.approx(-left.centre[1])


def test_clearances_follow_foam_and_kind() -> None:
    """Press fit in EPP, half a millimetre in EPS, air for what gets hot, length for a pack's leads
    (common practice, no source); what the builder writes wins.
    """
    plain = board(clearance=None)
    assert clearances(plain, "EPP") == pytest.approx((0.2e-3, 0.2e-3))
    assert clearances(plain, "EPS") == pytest.approx((0.5e-3, 0.5e-3))
    esc = SpeedController.model_validate({"name": "e", "kind": "esc"})
    assert clearances(esc, "EPP")[1] == pytest.approx(1.5e-3)
    pack = Pack.model_validate({"name": "p", "kind": "pack"})
    assert clearances(pack, "EPS") == pytest.approx((3.0e-3, 0.5e-3))
    assert clearances(board(clearance="1 mm"), "EPS") == pytest.approx((1e-3, 1e-3))


def test_a_written_height_is_kept_and_opens_to_the_nearer_side() -> None:
    """A proposal near the belly opens there; a written side stays."""
    low = board(at={"x": "50 mm", "z": "-15 mm"})
    assert pocket(low).side == "bottom"
    assert pocket(low).low[2] == pytest.approx(-0.020)
    assert pocket(board(at={"x": "50 mm", "z": "-15 mm"}, pocket="top")).side == "top"


def test_a_hollow_body_gives_up_only_its_wall() -> None:
    """Through a wall of 3 mm, 40 x 30 mm of it come out; the room behind is no foam."""
    hollow = airframe(bodies=[{**BODY, "wall": "3 mm"}])
    found = pocket(board(), hollow)
    assert found.volume == pytest.approx(0.040 * 0.030 * 0.003, rel=0.05)
    assert pocket(board()).volume == pytest.approx(0.040 * 0.030 * 0.010, rel=0.02)


@settings(max_examples=40, deadline=None)
@given(st.floats(5.0, 55.0), st.floats(5.0, 45.0), st.floats(20.0, 100.0))
def test_skin_and_part_make_up_the_body(width: float, height: float, length: float) -> None:
    """Part, air and twice the skin at the side are the body's width, wherever that is thinnest."""
    size = {"length": f"{length} mm", "width": f"{width} mm", "height": f"{height} mm"}
    found = pocket(board(size=size, at={"x": "150 mm"}, kind="flight controller"))
    side, floor = (60.0 - width) / 2.0, 50.0 - height
    assert found.skin == pytest.approx(min(side, floor) * 1e-3, abs=1e-6)


def test_the_outline_is_the_mouth() -> None:
    """Four corners in x and y; in x and z for a hole in the side."""
    assert pocket(board()).outline == pytest.approx(
        1e-3 * np.array([[30, -15], [70, -15], [70, 15], [30, 15]])
    )
    assert pocket(board(pocket="left")).outline[:, 1].max() == pytest.approx(0.005)


def test_what_is_placed_twice_stays() -> None:
    """A box with a height keeps it."""
    frame = airframe()
    cuts = Cuts(Solid(frame))
    once = placed(boxes_of(board())[0], cuts)
    assert placed(once, cuts).middle == once.middle
