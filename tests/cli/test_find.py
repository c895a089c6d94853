"""The command that tells where to look."""

import json
from pathlib import Path

import pytest
from click.testing import CliRunner
from tests.jobs.lost_log import EXAMPLES, LOG, cut_log

from foamwright.cli.find import find
from foamwright.cli.screen import Screen
from foamwright.cli.told_search import way_words
from foamwright.debrief.geodesy import Way
from foamwright.jobs.search_inputs import point_of
from foamwright.problems import Problem

PLANE = str(EXAMPLES / "reedling")


def run(*arguments: str) -> str:
    """Return what the command prints."""
    result = CliRunner().invoke(find, [PLANE, *arguments], catch_exceptions=False)
    assert result.exit_code == 0
    return result.stdout


def test_the_page_tells_place_sizes_and_what_to_mind(tmp_path: Path) -> None:
    """And which file it went into."""
    file = tmp_path / "area.gpx"
    page = run(str(cut_log(tmp_path)), "-o", str(file))
    for words in (
        "Most likely  47.31",
        "from the first fix, bearing",
        "area that holds 50 % of the falls",
        "common practice, no source",
        "swollen",
        "no promise",
    ):
        assert words in page
    assert file.is_file()
    assert " ha" in page


def test_units_are_those_asked_for(tmp_path: Path) -> None:
    """Feet, miles an hour, acres."""
    page = run(str(cut_log(tmp_path)), "--units", "imperial")
    assert "acres" in page
    assert "mph" in page
    assert "Nothing was written" in page


def test_the_json_is_one_object(tmp_path: Path) -> None:
    """With the files that were written."""
    file = tmp_path / "area.svg"
    told = json.loads(run(str(cut_log(tmp_path)), "--json", "-o", str(file), "--dark"))
    assert told["schema"] == 1
    assert told["written"] == [str(file)]
    assert told["most_likely"]["from_last_fix"]["distance"] > 0.0


def test_a_wind_that_is_none_is_one_sentence() -> None:
    """With an example."""
    with pytest.raises(Problem, match='write for instance --wind "4 m/s from 250"'):
        run(str(LOG), "--wind", "windy")


@pytest.mark.parametrize(
    ("bearing", "point"), [(0.0, "N"), (359.0, "N"), (84.0, "E"), (203.0, "SSW"), (292.5, "WNW")]
)
def test_bearings_have_points_of_the_compass(bearing: float, point: str) -> None:
    """The nearest of sixteen."""
    assert point_of(bearing) == point


def test_a_place_one_stands_at_has_no_bearing() -> None:
    """Half a metre is there."""
    screen = Screen()
    assert way_words(screen, Way(distance=0.1, bearing=12.0), "last fix") == "at the last fix"
    near = way_words(screen, Way(distance=2.7, bearing=90.0), "last fix")
    assert near == "2.70 m from the last fix, bearing 90° true (E)"
    assert "1.20 km from the last fix" in way_words(
        screen, Way(distance=1200.0, bearing=12.0), "last fix"
    )
