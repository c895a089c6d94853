"""Boxes as they lie."""

import pytest

from foamwright.plane.boxes import as_lies, boxes_of, side_of
from foamwright.plane.gear import Board, Pack
from foamwright.plane.placement import Size

SIZE = Size.model_validate({"length": "58 mm", "width": "30 mm", "height": "20 mm"})


def board(**more: object) -> Board:
    """Return a flight controller with a place and a size."""
    told = {
        "name": "board",
        "kind": "flight controller",
        "at": {"x": "100 mm"},
        "size": {"length": "30 mm", "width": "28 mm", "height": "7 mm"},
    }
    return Board.model_validate(told | more)


@pytest.mark.parametrize(
    ("lies", "sides"),
    [
        ("flat", (58, 30, 20)),
        ("on edge", (58, 20, 30)),
        ("on end", (20, 30, 58)),
        ("across", (30, 58, 20)),
    ],
)
def test_a_box_is_turned_as_it_lies(lies: str, sides: tuple[int, int, int]) -> None:
    """Two of its sides change places."""
    assert as_lies(SIZE, lies) == pytest.approx([side * 1e-3 for side in sides])


def test_the_side_is_by_kind_unless_written() -> None:
    """A board opens to the top; what is bolted outside has no pocket."""
    assert side_of(board()) == "top"
    assert side_of(board(pocket="inside")) == "inside"
    assert side_of(Board.model_validate({"name": "m", "kind": "mount"})) == "none"


def test_a_pair_sits_left_and_right() -> None:
    """Two alike off the middle line are two boxes."""
    pair = boxes_of(board(count=2, at={"x": "100 mm", "y": "40 mm"}))
    assert [box.middle[1] for box in pair] == pytest.approx([0.04, -0.04])
    assert [box.index for box in pair] == [0, 1]


def test_what_has_no_size_or_place_has_no_box() -> None:
    """It is told elsewhere as missing."""
    assert boxes_of(board(size=None)) == ()
    assert boxes_of(board(at=None)) == ()


def test_only_a_written_pocket_counts_as_cut() -> None:
    """A proposal takes no foam away."""
    assert [b.declared for b in boxes_of(board())] == [False]
    assert [b.declared for b in boxes_of(board(pocket="top"))] == [True]
    assert [b.declared for b in boxes_of(board(pocket="none"))] == [False]


def test_an_unwritten_height_stays_open() -> None:
    """It is found from the foam, not taken as nought."""
    pack = Pack.model_validate({"name": "pack", "kind": "pack", "at": {"x": "0.1 m"}, "size": SIZE})
    assert boxes_of(pack)[0].middle[2] is None
