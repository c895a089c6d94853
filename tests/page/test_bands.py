"""Band charts: places are in the order of the values, nothing is drawn of what is not known."""

import re
from itertools import pairwise
from typing import get_args
from xml.etree import ElementTree as ET

import pytest
from hypothesis import given
from hypothesis import strategies as st

from foamwright.page.bands import WIDE, band, mark, round_step, scale_of
from foamwright.questions.answer import Figure, Verdict

VALUES = st.floats(min_value=-1e6, max_value=1e6, allow_nan=False)


def figure(low: float, value: float, high: float, **limits: float | None) -> Figure:
    """Return a figure with its band."""
    return Figure(
        name="speed",
        label="speed",
        value=value,
        low=low,
        high=high,
        unit="m s^-1",
        dimension="speed",
        **limits,
    )


@given(st.tuples(VALUES, VALUES, VALUES).map(sorted), st.none() | VALUES, st.none() | VALUES)
def test_everything_known_lies_on_the_chart(
    ends: list[float], least: float | None, most: float | None
) -> None:
    """Low, middle and high stand in their order, all of them and the limits inside."""
    found = figure(*ends, limit_low=least, limit_high=most)
    scale = scale_of(found)
    places = [scale.at(value) for value in ends]
    assert places == sorted(places)
    known = [v for v in (*ends, least, most) if v is not None]
    assert all(0.0 <= scale.at(v) <= WIDE for v in known)
    drawn = band(found, "metric", "EUR", ticks=True)
    assert ET.fromstring(drawn).tag == "svg"  # noqa: S314 - our own drawing


def test_a_figure_without_a_value_has_no_chart() -> None:
    """Nothing is drawn where nothing is known."""
    empty = Figure(name="x", label="x", value=None, low=None, high=None, unit="-")
    assert band(empty, "metric", "EUR") == ""


def test_the_scale_is_told_in_the_units_shown() -> None:
    """A speed of 10 to 20 m/s has round numbers on its scale, rising."""
    drawn = band(figure(10.0, 15.0, 20.0), "metric", "EUR", ticks=True)
    numbers = [float(n) for n in re.findall(r">(-?[\d.]+)</text>", drawn)]
    assert len(numbers) >= 3
    steps = {round(b - a, 6) for a, b in pairwise(numbers)}
    assert len(steps) == 1
    assert steps.pop() in (1.0, 2.0, 5.0)


@pytest.mark.parametrize(
    ("rough", "step"), [(0.7, 1.0), (1.0, 1.0), (1.1, 2.0), (3.0, 5.0), (7.0, 10.0), (0.013, 0.02)]
)
def test_steps_are_one_two_or_five(rough: float, step: float) -> None:
    """The usual steps of a printed scale; common practice, no source."""
    assert round_step(rough) == pytest.approx(step)


def test_every_verdict_has_a_shape_of_its_own() -> None:
    """Without colour the marks still differ."""
    shapes = {re.sub(r'class="mark \w+"', "", mark(word)) for word in get_args(Verdict)}
    assert len(shapes) == len(get_args(Verdict))
