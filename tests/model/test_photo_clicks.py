"""Clicks as a row of numbers, and back."""

import numpy as np
import pytest
from tests.model.photo_stage import Scene

from foamwright.model.photo_clicks import COLUMNS, EDGES, numbers, parted, station_axis


@pytest.mark.parametrize("by", ["sheet", "length"])
def test_a_row_of_numbers_is_parted_again(by: str) -> None:
    """Points first, then sides, distance, height and two tilts."""
    clicks = Scene(by=by).clicks()
    values, spreads = numbers(clicks)
    points, rest = parted(clicks, values)
    given = [clicks.reference, clicks.middle, clicks.first, clicks.second]
    assert points == pytest.approx(np.concatenate(given))
    sides = [told.value for told in clicks.sides]
    assert rest.tolist() == [*sides, 2000.0, 0.0, 0.0, 0.0]
    assert spreads.shape == values.shape


def test_each_click_has_its_own_blur() -> None:
    """Both of its pixels, and the tilt as the tangent."""
    clicks = Scene(by="length", blur=3.0, tilt=0.05).clicks()
    spreads = numbers(clicks)[1]
    assert spreads[: 2 * clicks.blur.size] == pytest.approx(3.0)
    assert spreads[-2:] == pytest.approx(np.tan(0.05))


def test_stations_follow_the_span_or_the_length() -> None:
    """Every view has two edges and columns whose first is where the station lies."""
    assert set(EDGES) == set(COLUMNS)
    assert [station_axis(view) for view in EDGES] == [1, 1, 0, 0]
    assert [columns[0] for columns in COLUMNS.values()] == ["y", "z", "x", "x"]
