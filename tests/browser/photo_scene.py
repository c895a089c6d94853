"""A photo nobody took: foam on a table with a sheet of paper, drawn ray by ray, written as PNG."""

import struct
import zlib
from pathlib import Path

import numpy as np
from numpy.typing import NDArray
from tests.model.photo_stage import A4, ENDS, PICTURE, STATIONS, Camera, Values, edges

SMALLER = 0.3
"""The picture is 1200 by 900 pixels."""

CAMERA = Camera(tilts=(9.0, -7.0, 12.0), over=(590.0, 270.0), distance=1700.0, focal=4300.0)
SHEET = A4 + np.array([420.0, 40.0])
LEAD, TRAIL = edges(STATIONS)


def spots(points: Values) -> Values:
    """Return where points of the plane are in the picture [px]."""
    seen: Values = CAMERA.seen(points) * SMALLER
    return seen


CORNERS = spots(SHEET)
NOSE, TAIL = spots(ENDS)
LEADING, TRAILING = spots(LEAD), spots(TRAIL)


def within(points: Values, ring: Values) -> NDArray[np.bool_]:
    """Return which points lie in a polygon: an odd number of its sides is to the right of them."""
    x, y = points.T
    odd = np.zeros(len(points), dtype=bool)
    for (x0, y0), (x1, y1) in zip(ring, np.roll(ring, -1, axis=0), strict=True):
        if y0 != y1:
            odd ^= ((y0 > y) != (y1 > y)) & (x < x0 + (y - y0) * (x1 - x0) / (y1 - y0))
    return odd


def picture() -> NDArray[np.uint8]:
    """Return the photo as (900, 1200, 3) bytes."""
    wide, tall = (round(side * SMALLER) for side in PICTURE)
    across, down = np.meshgrid(np.arange(wide) + 0.5, np.arange(tall) + 0.5)
    ground = CAMERA.below(np.column_stack([across.ravel(), down.ravel()]) / SMALLER)
    colours = np.full((len(ground), 3), (146.0, 112.0, 82.0))
    colours += 9.0 * np.sin(ground[:, :1] / 7.0 + np.sin(ground[:, 1:] / 90.0))
    half = np.concatenate([LEAD, TRAIL[::-1]])
    pod = np.array([[0.0, 6.0], [60.0, 17.0], [350.0, 14.0], [690.0, 6.0]])
    shapes = [
        (SHEET, (250.0, 250.0, 246.0)),
        (half, (216.0, 220.0, 224.0)),
        (half * [1.0, -1.0], (216.0, 220.0, 224.0)),
        (np.concatenate([pod, (pod * [1.0, -1.0])[::-1]]), (196.0, 202.0, 208.0)),
    ]
    for ring, colour in shapes:
        colours[within(ground, ring)] = colour
    found: NDArray[np.uint8] = np.clip(colours, 0, 255).reshape(tall, wide, 3).astype(np.uint8)
    return found


def chunk(kind: bytes, data: bytes) -> bytes:
    """Return a chunk of a PNG file (ISO/IEC 15948)."""
    return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))


def write_photo(file: Path) -> Path:
    """Write the photo."""
    pixels = picture()
    tall, wide, _ = pixels.shape
    rows = np.concatenate([np.zeros((tall, 1), np.uint8), pixels.reshape(tall, -1)], axis=1)
    head = struct.pack(">IIBBBBB", wide, tall, 8, 2, 0, 0, 0)
    file.write_bytes(
        b"\x89PNG\r\n\x1a\n"
        + chunk(b"IHDR", head)
        + chunk(b"IDAT", zlib.compress(rows.tobytes(), 6))
        + chunk(b"IEND", b"")
    )
    return file
