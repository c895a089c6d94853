"""Charts as tables."""

import pytest
from tests.paper.test_charts import LINES, LIST, TABLE

from foamwright.paper.chart_table import NO_VALUE, table_of
from foamwright.questions.chart import Chart


@pytest.mark.parametrize("chart", [LINES, TABLE, LIST], ids=["lines", "table", "list"])
def test_every_row_has_as_many_words_as_the_head(chart: Chart) -> None:
    """No cell slides under another's head."""
    found = table_of(chart)
    assert found.rows
    assert {len(row) for row in found.rows} == {len(found.head)}


def test_curves_stand_side_by_side_with_their_bands() -> None:
    """A value that is not there is said, and a line without a band has none."""
    found = table_of(LINES)
    assert found.head == ("speed", "drag", "thrust")
    assert found.rows[0][0].endswith("m/s")
    assert "(" in found.rows[0][1]
    assert "(" not in found.rows[0][2]
    assert found.rows[1][1] == NO_VALUE


def test_the_uppermost_row_of_chances_is_the_uppermost_of_the_picture() -> None:
    """0.2 rad are 11 degrees, of which two thirds hold at full throttle."""
    found = table_of(TABLE)
    assert found.rows[0] == ("11.5°", "33%", "66%")


def test_a_list_says_what_was_expected_where_something_was() -> None:
    """And its name stands in one line again."""
    found = table_of(LIST)
    assert found.rows[0][3]
    assert found.rows[1] == ("a name in two lines", "0.50", found.rows[1][2], "")


def test_units_are_those_asked_for() -> None:
    """10 m/s in miles an hour."""
    assert "mph" in table_of(LINES, "imperial").rows[0][0]
