"""Bands as lines of text."""

from hypothesis import given
from hypothesis import strategies as st

from foamwright.cli.band import INK, PLAIN, band
from foamwright.questions.answer import Figure


def figure(
    value: float, low: float, high: float, limits: tuple[float | None, float | None] = (None, None)
) -> Figure:
    """Return a figure with a band."""
    return Figure(
        name="x",
        label="x",
        value=value,
        low=low,
        high=high,
        unit="m",
        limit_low=limits[0],
        limit_high=limits[1],
    )


def test_a_band_shows_middle_ends_and_what_is_wanted() -> None:
    """Band 4 to 6 inside 0 to 10: from left to right limit, band, middle, band, limit."""
    drawn = band(figure(5.0, 4.0, 6.0, (0.0, 10.0)), 30, PLAIN)
    assert drawn.index("[") < drawn.index("=") < drawn.index("O") < drawn.rindex("=")
    assert drawn.rindex("=") < drawn.index("]")
    assert len(drawn) == 30


def test_a_figure_without_a_value_draws_nothing() -> None:
    """What has no value has no band."""
    empty = Figure(name="x", label="x", value=None, low=None, high=None, unit="m")
    assert band(empty, 30) == ""


def test_a_single_limit_leaves_the_other_side_open() -> None:
    """At most 8: all below it is wanted, what lies beyond is not."""
    drawn = band(figure(5.0, 4.0, 6.0, (None, 8.0)), 40, PLAIN)
    assert "[" not in drawn
    assert drawn[0] == "-"
    assert drawn[-1] == "."


values = st.floats(-1e3, 1e3)


@given(st.lists(values, min_size=3, max_size=3), st.lists(values, min_size=2, max_size=2))
def test_a_band_is_always_whole(three: list[float], two: list[float]) -> None:
    """Whatever the numbers, the line is as long as asked and shows its middle once."""
    low, value, high = sorted(three)
    least, most = sorted(two)
    drawn = band(figure(value, low, high, (least, most)), 24, INK)
    assert len(drawn) == 24
    assert drawn.count(INK.middle) == 1
