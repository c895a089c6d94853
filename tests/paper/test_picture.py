"""A drawing as a picture of dots."""

import struct
import sys
from types import SimpleNamespace

import pytest

from foamwright.paper import picture
from foamwright.problems import CallProblem

SVG = (
    '<svg xmlns="http://www.w3.org/2000/svg" width="300mm" height="150mm" viewBox="0 0 300 150">'
    '<rect width="300" height="150" fill="#ffffff"/></svg>'
)


def test_without_the_library_the_way_out_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    """What to install, or which ending needs nothing."""
    monkeypatch.setitem(sys.modules, "vl_convert", None)
    with pytest.raises(CallProblem, match=r"foamwright\[pictures\].*\.svg"):
        picture.picture(SVG, 300.0)


def test_the_scale_makes_the_longer_side_two_thousand_dots(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """300 mm are 1133.86 dots at 96 an inch; the rest is the scale handed over."""
    asked: list[float] = []

    def made(svg: str, scale: float) -> bytes:
        asked.append(scale)
        return struct.pack(">I", len(svg))

    monkeypatch.setitem(sys.modules, "vl_convert", SimpleNamespace(svg_to_png=made))
    assert picture.picture(SVG, 300.0) == struct.pack(">I", len(SVG))
    assert asked[0] * 300.0 / 25.4 * 96 == pytest.approx(2000.0)
