"""Cutting templates as files: PDF in tiles, SVG of true size, DXF for cutters."""

import io

from foamwright.paper.template_pages import list_page, tile_page, whole
from foamwright.paper.template_shapes import CutLine, Kind, Template
from foamwright.paper.tiling import laid, tiles
from foamwright.paper.typeset import PAPERS, typeset

LAYERS: dict[Kind, str] = {
    "foam": "FOAM",
    "pocket": "POCKET",
    "hidden pocket": "POCKET_OTHER_SIDE",
    "channel": "CHANNEL",
    "hinge": "HINGE",
    "station": "STATION",
    "balance": "BALANCE",
    "section": "SECTION",
}
"""Layers of the DXF, plain letters."""

GAP = 20.0
"""Between the templates of one DXF [mm]."""

MILLIMETRES = 4
"""The unit of length in a DXF header."""


def pdf(
    title: str,
    templates: tuple[Template, ...],
    cuts: tuple[CutLine, ...],
    notes: tuple[str, ...],
    *,
    paper: str,
) -> bytes:
    """Return the cut list and every template in tiles, on A4 or Letter, at true scale."""
    width, height = PAPERS[paper]
    sheets = [{"svg": list_page(title, cuts, notes, paper), "alt": f"{title}: list of cuts"}]
    for template in templates:
        lying = laid(template, paper)
        sheets += [
            {
                "svg": tile_page(lying, tile, paper, title),
                "alt": f"{template.title}, sheet {tile.name}",
            }
            for tile in tiles(lying, paper)
        ]
    told = {
        "title": f"{title}: cutting templates",
        "width": width,
        "height": height,
        "sheets": sheets,
    }
    return typeset("sheets", told)


def svg(title: str, templates: tuple[Template, ...]) -> bytes:
    """Return all templates in one picture of true size."""
    return whole(templates, f"{title}: cutting templates, true size").encode()


def plain(said: str) -> str:
    """Return words in plain letters, as old cutters read them."""
    return said.encode("ascii", "replace").decode().replace("\n", ", ")


def dxf(templates: tuple[Template, ...]) -> bytes:
    """Return all templates under each other as DXF in millimetres, a layer for each kind."""
    from ezdxf.document import Drawing  # noqa: PLC0415
    from ezdxf.enums import TextEntityAlignment  # noqa: PLC0415
    from ezdxf.filemanagement import new  # noqa: PLC0415 - slow to import, only cutters need it

    document: Drawing = new("R2010", units=MILLIMETRES)
    for layer in LAYERS.values():
        document.layers.add(layer)
    document.layers.add("WORDS")
    space = document.modelspace()
    down = 0.0
    for template in templates:
        x0, _, _, y1 = template.extent
        shift = (-x0, -down - y1)
        for outline in template.outlines:
            points = [(x + shift[0], y + shift[1]) for x, y in outline.points]
            space.add_lwpolyline(
                points, close=outline.closed, dxfattribs={"layer": LAYERS[outline.kind]}
            )
            if outline.label:
                xs, ys = zip(*points, strict=True)
                middle = ((min(xs) + max(xs)) / 2.0, (min(ys) + max(ys)) / 2.0)
                entity = space.add_text(
                    plain(outline.label), height=2.5, dxfattribs={"layer": "WORDS"}
                )
                entity.set_placement(middle, align=TextEntityAlignment.MIDDLE_CENTER)
        title = space.add_text(plain(template.title), height=4.0, dxfattribs={"layer": "WORDS"})
        title.set_placement((0.0, -down + 4.0))
        down += template.extent[3] - template.extent[1] + GAP
    out = io.StringIO()
    document.write(out)
    return out.getvalue().encode()
