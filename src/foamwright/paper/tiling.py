"""Templates larger than a sheet, cut into tiles that overlap."""

import math
from dataclasses import dataclass

import shapely
from shapely.geometry.base import BaseGeometry

from foamwright.paper.template_shapes import Outline, Point, Template
from foamwright.paper.typeset import PAPERS

MARGIN = 12.0
"""Around the drawing: no printer reaches the edge [mm]."""

HEAD, FOOT = 12.0, 14.0
"""For the words above and the ruler below [mm]."""

OVERLAP = 10.0
"""What neighbouring tiles share [mm]."""

ROOM = 4.0
"""Around a template [mm]."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Tile:
    """One sheet of a template."""

    row: int
    """From the top, from 0."""
    column: int
    """From the left, from 0."""
    rows: int
    columns: int
    left: float
    """x of the template at the left edge of the drawn field [mm]."""
    top: float
    """y of the template at its upper edge [mm]."""
    width: float
    height: float
    """Of the field [mm]."""

    @property
    def name(self) -> str:
        """What the tile is called: rows by number, columns by letter."""
        return f"{self.row + 1} {letter(self.column)}"

    def joins(self) -> tuple[tuple[str, str], ...]:
        """Return to which tile each edge joins."""
        found = []
        for edge, row, column in (
            ("left", self.row, self.column - 1),
            ("right", self.row, self.column + 1),
            ("top", self.row - 1, self.column),
            ("bottom", self.row + 1, self.column),
        ):
            if 0 <= row < self.rows and 0 <= column < self.columns:
                found.append((edge, f"{row + 1} {letter(column)}"))
        return tuple(found)

    def crosses(self) -> tuple[Point, ...]:
        """Return the registration crosses of the template that this tile shows [mm].

        They lie in the middle of the overlaps, so that each is on two tiles or four.
        """
        half = OVERLAP / 2.0
        left, right = self.left + half, self.left + self.width - half
        top, bottom = self.top - half, self.top - self.height + half
        return ((left, top), (right, top), (left, bottom), (right, bottom))


def letter(column: int) -> str:
    """Return the letter of a column."""
    return chr(ord("A") + column) if column < 26 else f"A{letter(column - 26)}"


def field_of(paper: str) -> tuple[float, float]:
    """Return width and height of the drawn field of a sheet [mm]."""
    width, height = PAPERS[paper]
    return width - 2 * MARGIN, height - 2 * MARGIN - HEAD - FOOT


def counted(extent: float, field: float) -> int:
    """Return how many tiles cover an extent [mm]."""
    return max(1, math.ceil((extent - OVERLAP) / (field - OVERLAP) - 1e-9))


def tiles_needed(template: Template, paper: str) -> int:
    """Return how many sheets a template takes as it lies."""
    x0, y0, x1, y1 = template.extent
    width, height = field_of(paper)
    return counted(x1 - x0 + 2 * ROOM, width) * counted(y1 - y0 + 2 * ROOM, height)


def laid(template: Template, paper: str) -> Template:
    """Return a template as it takes fewer sheets: as it is, or a quarter turned."""
    turned = template.turned()
    fewer = tiles_needed(turned, paper) < tiles_needed(template, paper)
    return turned if fewer else template


def tiles(template: Template, paper: str) -> tuple[Tile, ...]:
    """Return the tiles of a template, row by row from the top left."""
    x0, y0, x1, y1 = template.extent
    width, height = field_of(paper)
    columns = counted(x1 - x0 + 2 * ROOM, width)
    rows = counted(y1 - y0 + 2 * ROOM, height)
    # The template stands in the middle of all its sheets.
    whole_width = columns * (width - OVERLAP) + OVERLAP
    whole_height = rows * (height - OVERLAP) + OVERLAP
    left = (x0 + x1) / 2.0 - whole_width / 2.0
    top = (y0 + y1) / 2.0 + whole_height / 2.0
    return tuple(
        Tile(
            row=row,
            column=column,
            rows=rows,
            columns=columns,
            left=left + column * (width - OVERLAP),
            top=top - row * (height - OVERLAP),
            width=width,
            height=height,
        )
        for row in range(rows)
        for column in range(columns)
    )


def pieces(outline: Outline, tile: Tile) -> tuple[tuple[Point, ...], ...]:
    """Return the parts of an outline that a tile shows, as open lines [mm]."""
    points = [*outline.points, *(outline.points[:1] if outline.closed else ())]
    line = shapely.LineString(points)
    window = shapely.box(tile.left, tile.top - tile.height, tile.left + tile.width, tile.top)
    seen: BaseGeometry = line.intersection(window)
    if not seen.is_empty and seen.geom_type == "MultiLineString":
        seen = shapely.line_merge(seen)
    parts = getattr(seen, "geoms", [seen])
    return tuple(
        tuple((float(x), float(y)) for x, y in part.coords)
        for part in parts
        if part.geom_type == "LineString" and not part.is_empty
    )


def shows(tile: Tile, at: Point) -> bool:
    """Return whether a point of the template lies on a tile."""
    x, y = at
    return tile.left <= x <= tile.left + tile.width and tile.top - tile.height <= y <= tile.top
