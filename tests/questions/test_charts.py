"""The charts of the questions."""

import numpy as np
import pytest

from foamwright.questions import balance, speed
from foamwright.questions.case import Case
from foamwright.questions.charts import CHARTS, charts_of
from foamwright.questions.register import QUESTIONS


@pytest.mark.parametrize("question", CHARTS)
def test_every_chart_has_words_and_data(reedling: Case, question: str) -> None:
    """Axes, a title, and either lines or a table."""
    found = charts_of(question, reedling)
    assert found
    assert len({chart.name for chart in found}) == len(found)
    for chart in found:
        assert chart.title
        assert chart.x.label
        assert chart.y.label
        assert bool(chart.curves) != bool(chart.chances)
    for line in (line for chart in found for line in chart.curves):
        assert len(line.x) == len(line.y) == len(line.low) == len(line.high)
        for low, y, high in zip(line.low, line.y, line.high, strict=True):
            assert y is None or (low is not None and high is not None and low <= y <= high)


def test_questions_without_a_picture_have_none(reedling: Case) -> None:
    """And every chart belongs to a question there is."""
    assert charts_of("cost", reedling) == ()
    assert set(CHARTS) <= {question.id for question in QUESTIONS}


def test_the_margin_line_passes_the_margin_as_drawn(reedling: Case) -> None:
    """At the pack's place the chart says what the answer says."""
    (chart,) = charts_of("balance", reedling)
    line = chart.curves[0]
    y = np.interp(0.120, line.x, [v if v is not None else np.nan for v in line.y])
    assert y == pytest.approx(balance.measure(reedling).named("static_margin").value, abs=2e-3)


def test_the_top_speed_is_marked_where_the_answer_has_it(reedling: Case) -> None:
    """And the wish beside it."""
    (chart,) = charts_of("speed", reedling)
    marks = {mark.label: mark.x for mark in chart.marks}
    assert marks["top speed"] == pytest.approx(speed.measure(reedling).named("top_speed").value)
    assert marks["wanted"] == pytest.approx(24.0)


def test_a_sixty_degree_turn_stalls_at_the_root_of_two_times_the_speed(reedling: Case) -> None:
    """The load factor of a level turn is 1/cos(bank)."""
    (chart,) = charts_of("landing", reedling)
    first, last = (chart.curves[0].y[i] or 0.0 for i in (0, -1))
    assert last / first == pytest.approx(np.sqrt(2.0))


def test_the_launch_table_has_a_cell_for_every_throttle_and_angle(reedling: Case) -> None:
    """Chances between nothing and one."""
    (chart,) = charts_of("launch", reedling)
    assert np.shape(chart.chances) == (len(chart.up), len(chart.across))
    assert 0.0 <= np.min(chart.chances) <= np.max(chart.chances) <= 1.0


def test_a_plane_without_a_drive_has_no_drag_to_show(reedling: Case) -> None:
    """No chart instead of an empty one."""
    bare = reedling.changed({"items.motor": None})
    assert charts_of("speed", bare) == charts_of("endurance", bare) == ()


def test_the_setting_that_keeps_the_margin_falls_with_speed(reedling: Case) -> None:
    """Controls grow with the square of the speed: faster, less gain."""
    margin, gain = charts_of("control", reedling)
    for line in (*margin.curves, *gain.curves):
        values = [v for v in line.y if v is not None]
        assert values[0] > values[-1]
