"""The charts of the questions."""

import shutil
from functools import partial
from pathlib import Path

import numpy as np
import pytest
from click.testing import CliRunner

from foamwright.cli.main import main
from foamwright.jobs.ask import Settings, opened
from foamwright.questions import balance, bench, speed
from foamwright.questions.case import Case
from foamwright.questions.charts import CHARTS, MOST_TAUGHT, broken, charts_of
from foamwright.questions.register import QUESTIONS

EXAMPLES = Path(__file__).parents[2] / "examples"
LISTS = ("bench", "debrief")
"""Charts of what was measured: a plane without notes has none."""


@pytest.mark.parametrize("question", [name for name in CHARTS if name not in LISTS])
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


@pytest.fixture(scope="module")
def flown(tmp_path_factory: pytest.TempPathFactory) -> Case:
    """Return the glider after one static test and one flight card."""
    folder = tmp_path_factory.mktemp("flown") / "reedling"
    shutil.copytree(EXAMPLES / "reedling", folder)
    run = partial(CliRunner().invoke, main, catch_exceptions=False)
    assert run(["bench", str(folder), "thrust", "--thrust", "520 g"]).exit_code == 0
    card = "top speed = 27 m/s, current at full throttle = 12 A"
    assert run(["debrief", str(folder), "--card", card, "--accept"]).exit_code == 0
    return opened(folder, Settings(samples=256))[1]


def test_nothing_measured_is_nothing_to_draw(reedling: Case) -> None:
    """No chart instead of an empty one."""
    assert charts_of("bench", reedling) == charts_of("debrief", reedling) == ()


def test_a_reading_stands_beside_its_plan(flown: Case) -> None:
    """As a ratio: the dot is what was read over the middle of what was planned."""
    (chart,) = charts_of("bench", flown)
    row = next(row for row in chart.rows if row.label.startswith("thrust"))
    figure = bench.measure(flown).named("static_thrust")
    assert row.expected is not None
    assert figure.value is not None
    assert row.low < row.value < row.high
    assert row.value / row.expected[0] == pytest.approx(figure.value / (figure.limit_low or 0.0))
    assert row.expected[0] < 1.0 < row.expected[1]


def test_the_last_flight_stands_beside_its_forecast(flown: Case) -> None:
    """And what it taught beside what was thought before: bands that narrowed."""
    against, taught = charts_of("debrief", flown)
    assert [row.label for row in against.rows] == ["top speed", "current at top speed"]
    narrowed = taught.rows[0]
    assert narrowed.expected is not None
    assert narrowed.high - narrowed.low < narrowed.expected[1] - narrowed.expected[0]
    assert len(taught.rows) <= MOST_TAUGHT


def test_long_words_are_broken_not_cut() -> None:
    """Two lines at most beside a chart."""
    assert broken("short") == "short"
    assert broken("true pitch of the propeller over the printed one").count("\n") == 1
