"""Templates cut into tiles."""

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from foamwright.paper.template_shapes import Outline, Template
from foamwright.paper.tiling import (
    OVERLAP,
    counted,
    field_of,
    laid,
    letter,
    pieces,
    shows,
    tiles,
    tiles_needed,
)


def plate(width: float, height: float) -> Template:
    """Return a rectangle."""
    corners = ((0.0, 0.0), (width, 0.0), (width, height), (0.0, height))
    return Template(name="p", title="p", outlines=(Outline(kind="foam", points=corners),))


@given(st.floats(20.0, 1500.0), st.floats(20.0, 700.0), st.sampled_from(["a4", "letter"]))
def test_the_tiles_cover_the_template_and_overlap(w: float, h: float, paper: str) -> None:
    """Nothing lies outside all of them, and neighbours share ten millimetres."""
    found = tiles(plate(w, h), paper)
    windows = [shapely.box(t.left, t.top - t.height, t.left + t.width, t.top) for t in found]
    assert shapely.union_all(windows).buffer(1e-6).covers(shapely.box(0.0, 0.0, w, h))
    assert len(found) == found[0].rows * found[0].columns == tiles_needed(plate(w, h), paper)
    for tile in found:
        if tile.column:
            left = next(t for t in found if (t.row, t.column) == (tile.row, tile.column - 1))
            assert left.left + left.width - tile.left == pytest.approx(OVERLAP)


@given(st.floats(200.0, 1500.0))
def test_pieces_make_up_the_whole_line(w: float) -> None:
    """Cut at the tiles and joined again, an outline is as long as it was."""
    template = plate(w, 60.0)
    outline = template.outlines[0]
    lines = [
        shapely.LineString(piece)
        for tile in tiles(template, "a4")
        for piece in pieces(outline, tile)
        if len(piece) > 1
    ]
    assert shapely.union_all(lines).length == pytest.approx(2 * (w + 60.0), rel=1e-6)


def test_a_cross_is_on_every_tile_that_shares_it() -> None:
    """So that sheets can be laid on each other."""
    found = tiles(plate(600.0, 500.0), "a4")
    first = next(t for t in found if (t.row, t.column) == (0, 0))
    right = next(t for t in found if (t.row, t.column) == (0, 1))
    shared = {(round(x, 6), round(y, 6)) for x, y in first.crosses()} & {
        (round(x, 6), round(y, 6)) for x, y in right.crosses()
    }
    assert len(shared) == 2
    assert all(shows(first, at) and shows(right, at) for at in shared)


def test_edges_name_the_sheet_they_join() -> None:
    """Rows by number, columns by letter."""
    found = tiles(plate(600.0, 500.0), "a4")
    first = next(t for t in found if (t.row, t.column) == (0, 0))
    assert first.name == "1 A"
    assert dict(first.joins())["right"] == "1 B"
    assert dict(first.joins())["bottom"] == "2 A"
    assert letter(25) == "Z"
    assert letter(26) == "AA"


def test_a_template_lies_as_it_takes_fewer_sheets() -> None:
    """400 x 150 mm stands on two sheets of A4, and would lie on three."""
    wide = plate(400.0, 150.0)
    assert tiles_needed(laid(wide, "a4"), "a4") == 2
    assert tiles_needed(wide, "a4") == 3


def test_what_fits_one_sheet_takes_one() -> None:
    """As wide as the field."""
    width, height = field_of("a4")
    assert counted(width, width) == 1
    assert counted(width + 1.0, width) == 2
    assert tiles_needed(plate(width - 9.0, height - 9.0), "a4") == 1
