"""Templates as files: their scale is measured."""

import io

import numpy as np
import pypdfium2
import pytest
from ezdxf.filemanagement import read

from foamwright.paper.template_files import LAYERS, dxf, pdf, svg
from foamwright.paper.template_shapes import CutLine, Outline, Template
from foamwright.paper.tiling import HEAD, MARGIN, laid, tiles
from foamwright.paper.typeset import PAPERS

DPI = 300
MM = 25.4 / DPI
"""Size of a dot [mm]."""

CORNERS = ((0.0, 0.0), (450.0, 0.0), (450.0, 120.0), (0.0, 120.0))
WING = Template(
    name="wing",
    title="wing, right half",
    outlines=(
        Outline(kind="foam", points=CORNERS),
        Outline(
            kind="hinge", points=((0.0, 30.0), (450.0, 30.0)), closed=False, label="Querruder ü"
        ),
    ),
)
CUT = CutLine(what="1  pack", host="pod", side="top", depth="30.5", size="65 x 15", at="x 120, y 0")


@pytest.fixture(scope="module", params=["a4", "letter"])
def printed(request: pytest.FixtureRequest) -> tuple[str, bytes]:
    """Return the templates as PDF on both papers."""
    return request.param, pdf("Kite", (WING,), (CUT,), (), paper=request.param)


def sheet(content: bytes, page: int, scale: float = 1.0) -> np.ndarray:
    """Return a page as dots at 300 dpi, true where it is dark; `scale` is the printer's."""
    document = pypdfium2.PdfDocument(content)
    bitmap = document[page].render(scale=scale * DPI / 72.0, grayscale=True)
    dark: np.ndarray = np.asarray(bitmap.to_numpy()).squeeze() < 128
    return dark


def run(dots: np.ndarray) -> float:
    """Return the length of the longest run of dark dots [mm]."""
    edges = np.flatnonzero(np.diff(np.concatenate([[0], dots.astype(int), [0]])))
    return float((edges[1::2] - edges[::2]).max(initial=0)) * MM


def rulers(content: bytes, scale: float = 1.0) -> tuple[float, float]:
    """Return what the upright and the level ruler of the first page measure [mm]."""
    dark = sheet(content, 0, scale)
    return max(map(run, dark.T)), max(map(run, dark[-round(40 / MM) :]))


def is_true(measured: float, length: float) -> bool:
    """Return whether a ruler is within 0.2 mm over 250, a line's width of 0.2 aside."""
    return abs(measured - 0.2 - length) <= 0.2 * max(length / 250.0, 0.6)


def test_both_rulers_measure_what_they_say(printed: tuple[str, bytes]) -> None:
    """250 mm along the sheet and 150 across, rendered at 300 dots an inch."""
    _, content = printed
    along, across = rulers(content)
    assert is_true(along, 250.0)
    assert is_true(across, 150.0)


def test_a_page_printed_at_98_percent_fails_the_same_check(printed: tuple[str, bytes]) -> None:
    """Five millimetres are missing."""
    _, content = printed
    along, across = rulers(content, scale=0.98)
    assert not is_true(along, 250.0)
    assert not is_true(across, 150.0)


def test_tiles_laid_on_their_crosses_make_the_whole_span(printed: tuple[str, bytes]) -> None:
    """450 mm over several sheets: the outline's ends, found on the paper, within 0.2 mm."""
    paper, content = printed
    lying = laid(WING, paper)
    along = lying.extent[3] - lying.extent[1] > 200.0
    ends = []
    for index, tile in enumerate(tiles(lying, paper), 1):
        dark = sheet(content, index)
        field = dark[
            round((MARGIN + HEAD + 1) / MM) : round((MARGIN + HEAD + tile.height - 1) / MM)
        ]
        field = field[:, round((MARGIN + 1) / MM) : round((MARGIN + tile.width - 1) / MM)]
        lines = field if along else field.T
        # Across the outline run its two ends: dark rows longer than any word.
        for place, row in enumerate(lines):
            if run(row) > 100.0:
                start = tile.top - 1 - place * MM if along else tile.left + 1 + place * MM
                ends.append(start)
    assert max(ends) - min(ends) == pytest.approx(450.0 + 0.5, abs=0.2)


def test_the_same_templates_give_the_same_bytes() -> None:
    """No date and no random name."""
    assert pdf("Kite", (WING,), (CUT,), (), paper="a4") == pdf(
        "Kite", (WING,), (CUT,), (), paper="a4"
    )


def test_pages_have_the_size_of_their_paper(printed: tuple[str, bytes]) -> None:
    """In points."""
    paper, content = printed
    width, height = PAPERS[paper]
    for page in pypdfium2.PdfDocument(content):
        assert page.get_size() == pytest.approx((width / 25.4 * 72, height / 25.4 * 72), abs=0.5)


def test_a_cutter_reads_millimetres_and_layers() -> None:
    """Reread with ezdxf: units, layers, lengths, plain letters."""
    document = read(io.StringIO(dxf((WING, WING)).decode()))
    assert document.header["$INSUNITS"] == 4
    assert set(LAYERS.values()) <= {layer.dxf.name for layer in document.layers}
    lines = list(document.modelspace().query('LWPOLYLINE[layer=="FOAM"]'))
    assert len(lines) == 2
    for line in lines:
        xs = [x for x, *_ in line.get_points()]
        assert max(xs) - min(xs) == pytest.approx(450.0, abs=1e-6)
        assert line.closed
    tops = [max(y for _, y, *_ in line.get_points()) for line in lines]
    assert tops[0] - tops[1] == pytest.approx(140.0)
    words = [t.dxf.text for t in document.modelspace().query("TEXT")]
    assert all(word.isascii() for word in words)


def test_the_picture_is_of_true_size() -> None:
    """Its words say so."""
    assert b"true size" in svg("Kite", (WING,))
