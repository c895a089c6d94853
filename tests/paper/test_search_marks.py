"""Inks and marks of a search area."""

import re

import pytest

from foamwright.paper.search_marks import (
    DARK,
    LIGHT,
    arrow,
    fix_mark,
    likely_mark,
    start_mark,
    words,
)


def test_dark_inks_stand_out_from_dark_paper() -> None:
    """Both at least 7 to 1 by the contrast of WCAG 2 (from memory)."""

    def light(colour: str) -> float:
        parts = [int(colour[k : k + 2], 16) / 255.0 for k in (1, 3, 5)]
        linear = [v / 12.92 if v <= 0.04045 else ((v + 0.055) / 1.055) ** 2.4 for v in parts]
        return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]

    for inks in (LIGHT, DARK):
        high, low = sorted((light(inks.ink), light(inks.paper)), reverse=True)
        assert (high + 0.05) / (low + 0.05) > 7.0


@pytest.mark.parametrize(
    ("bearing", "right", "down"), [(0.0, 0.0, -9.0), (90.0, 9.0, 0.0), (225.0, -6.364, 6.364)]
)
def test_an_arrow_points_along_its_bearing(bearing: float, right: float, down: float) -> None:
    """Clockwise from up; the first corner of its head is its tip."""
    tip = re.search(r'points="(-?[\d.]+),(-?[\d.]+)', arrow((50.0, 50.0), bearing, 9.0, LIGHT))
    assert tip is not None
    assert float(tip[1]) - 50.0 == pytest.approx(right, abs=0.01)
    assert float(tip[2]) - 50.0 == pytest.approx(down, abs=0.01)


def test_the_marks_differ_in_shape() -> None:
    """A ring, a cross, a triangle: told apart without colour."""
    ring, cross, triangle = (
        mark((0.0, 0.0), LIGHT) for mark in (fix_mark, likely_mark, start_mark)
    )
    assert "<circle" in ring
    assert "<line" in cross
    assert "<circle" not in cross
    assert "<polygon" in triangle


def test_words_are_escaped_and_stand_out_of_lines() -> None:
    """With a rim of the paper around them."""
    told = words("a < b", (1.0, 2.0), DARK)
    assert "a &lt; b" in told
    assert f'stroke="{DARK.paper}"' in told
