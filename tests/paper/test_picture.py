"""A drawing as a picture of dots."""

import struct
import sys

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
    with pytest.raises(CallProblem, match=r"vl-convert-python.*\.svg"):
        picture.picture(SVG, 300.0)


def test_the_longer_side_has_two_thousand_dots() -> None:
    """The library's own PNG of a 300 x 150 mm sheet: 2000 x 1000 by its header (ISO 15948)."""
    png = picture.picture(SVG, 300.0)
    assert png[:8] == b"\x89PNG\r\n\x1a\n"
    width, height = struct.unpack(">II", png[16:24])
    assert width == pytest.approx(2000, abs=2)
    assert height == pytest.approx(1000, abs=2)
