"""Pages of templates as SVG."""

import itertools
from xml.etree import ElementTree as ET

import pytest

from foamwright.paper.template_pages import (
    PENS,
    ROW,
    RULERS,
    clear,
    fitted,
    list_page,
    longest,
    placed,
    tile_page,
    whole,
    wrapped,
)
from foamwright.paper.template_shapes import CutLine, Outline, Template
from foamwright.paper.tiling import tiles

CORNERS = ((0.0, 0.0), (120.0, 0.0), (120.0, 40.0), (0.0, 40.0))
PLATE = Template(
    name="plate",
    title="A plate <from above>",
    outlines=(
        Outline(kind="foam", points=CORNERS),
        Outline(kind="pocket", points=((20, 10), (50, 10), (50, 30), (20, 30)), label="1: deep"),
    ),
)
CUT = CutLine(what="1  pack", host="pod", side="top", depth="30.5", size="65 x 15", at="x 120, y 0")


def words(page: str) -> str:
    """Return all text of a page."""
    return " ".join(" ".join(ET.fromstring(page).itertext()).split())  # noqa: S314 - our own


@pytest.mark.parametrize(("paper", "size"), [("a4", "210mm"), ("letter", "215.9mm")])
def test_a_page_has_the_size_of_its_paper(paper: str, size: str) -> None:
    """In millimetres, with millimetres as units."""
    page = tile_page(PLATE, tiles(PLATE, paper)[0], paper, "Kite")
    assert f'width="{size}"' in page
    assert "Print at 100 %" in words(page)
    assert "1: deep" in words(page)


def test_the_first_page_tells_every_cut_and_what_cannot_be_undone() -> None:
    """With both rulers and how the questions stand."""
    said = words(list_page("Kite", (CUT,), ("Does it fit? Today: likely.",), "a4"))
    for part in ("pack", "30.5", "65 x 15", "cannot be undone", "250 mm", "Today: likely."):
        assert part in said


def test_the_longest_ruler_that_fits_is_drawn() -> None:
    """250 mm along A4 and Letter, 150 across."""
    assert longest(273.0) == 250
    assert longest(170.0) == 150
    assert longest(50.0) == min(RULERS)


def test_points_are_placed_without_stretching() -> None:
    """Distances on the page are those of the template."""
    tile = tiles(PLATE, "a4")[0]
    a, b = placed((0.0, 0.0), tile), placed((120.0, 40.0), tile)
    assert (b[0] - a[0], a[1] - b[1]) == pytest.approx((120.0, 40.0))


def test_words_of_pockets_over_each_other_stay_apart() -> None:
    """Three pockets in one place: three depths on three rows, each of them readable."""
    square = ((20.0, 10.0), (50.0, 10.0), (50.0, 30.0), (20.0, 30.0))
    pockets = tuple(
        Outline(kind="pocket", points=square, label=f"{n}: {n}.5 deep, from the top")
        for n in (1, 2, 3)
    )
    plate = Template(name="plate", title="A plate", outlines=pockets)
    for picture in (tile_page(plate, tiles(plate, "a4")[0], "a4", "Kite"), whole((plate,), "K")):
        root = ET.fromstring(picture)  # noqa: S314 - our own
        rows = sorted(float(e.get("y") or "nan") for e in root.iter() if "deep" in (e.text or ""))
        assert len(rows) == 3
        assert min(b - a for a, b in itertools.pairwise(rows)) >= ROW - 0.01


def test_words_with_room_stay_where_they_are() -> None:
    """Beside or below others nothing moves; over another the nearest free place is taken."""
    taken = [(0.0, 0.0, 10.0, 4.0)]
    assert clear((10.0, 1.0, 20.0, 5.0), taken) == 1.0
    assert clear((0.0, 4.0, 10.0, 8.0), taken) == 4.0
    assert clear((0.0, 3.5, 10.0, 7.5), taken) == pytest.approx(4.0, abs=ROW / 4.0)
    assert clear((0.0, -3.5, 10.0, 0.5), taken) == pytest.approx(-4.0, abs=ROW / 4.0)


def test_kinds_differ_without_colour() -> None:
    """No two have the same line."""
    assert len(set(PENS.values())) == len(PENS)


def test_the_picture_of_all_is_true_size() -> None:
    """The outline's corners are 120 mm apart in a picture whose units are millimetres."""
    picture = whole((PLATE,), "Kite")
    root = ET.fromstring(picture)  # noqa: S314 - our own
    box = [float(v) for v in (root.get("viewBox") or "").split()]
    assert root.get("width") == f"{box[2]:g}mm"
    path = next(e for e in root.iter() if e.tag.endswith("path"))
    numbers = (path.get("d") or "").replace("M", "").replace("L", "").split()
    xs = [float(v) for v in numbers[::2]]
    assert max(xs) - min(xs) == pytest.approx(120.0)


def test_long_words_are_wrapped_or_shortened() -> None:
    """Nothing runs over the edge."""
    assert len(wrapped("one two three four five six seven", 20.0, 3.4)) > 1
    assert fitted("a very long name of a part", 20.0).endswith("…")
    assert fitted("pack", 40.0) == "pack"
