"""What a search says of itself."""

import numpy as np
import pytest
from tests.debrief.test_falls import PLANES, STILL, luck, seen_at

from foamwright.debrief.falls import Air, parabolic
from foamwright.debrief.find import find
from foamwright.jobs.search_told import (
    CAUTIONS,
    GROUND,
    assumed_of,
    doubts,
    figures_of,
    spot_json,
    unknown,
)


def test_unknown_things_are_said_in_the_users_units() -> None:
    """Height, speed and climb; nothing where all is known."""
    assert unknown(seen_at(), "metric") == ()
    said = unknown(seen_at(height=None, north=None, climb=None), "imperial")
    assert len(said) == 3
    assert "ft taken" in said[0]
    assert "any course" in said[1]


def test_an_old_fix_and_a_hole_are_said() -> None:
    """From two seconds on."""
    assert doubts(seen_at(stale=1.0)) == ()
    said = doubts(seen_at(stale=12.0, hole=4.5))
    assert said[0].startswith("the last fix is 12 s older")
    assert said[1].startswith("4.5 s of rows")


def test_the_weights_are_told_openly() -> None:
    """Every way down with its share, marked as nobody's measurement; the ground too."""
    area = find(seen_at(), STILL, PLANES, luck())
    said = assumed_of(area, ("the wind is the one you gave",), "metric")
    weighed = next(words for words in said if words.startswith("how it came down"))
    assert "dives 20 %" in weighed
    assert "common practice, no source" in weighed
    assert said[-1] == GROUND


def test_figures_have_bands_where_they_are_known() -> None:
    """Height with its spread, glide ratio with the model's; nothing flown where it lay."""
    glider = parabolic(np.linspace(6.0, 10.0, 101), np.full(101, 10.0))
    area = find(seen_at(), STILL, glider, luck())
    told = {one.name: one for one in figures_of(area, Air(north=3.0, east=4.0, spread=1.0), glider)}
    assert told["wind"].value == pytest.approx(5.0)
    assert told["last_height"].low == pytest.approx(60.0 - 1.2816 * 3.0, abs=1e-3)
    assert told["glide_ratio"].value == pytest.approx(8.0, rel=0.01)
    assert told["glide_ratio"].low == pytest.approx(6.4, abs=0.05)
    assert told["glide_ratio"].high == pytest.approx(9.6, abs=0.05)
    lying = find(seen_at(grounded=True), STILL, glider, luck())
    assert [one.name for one in figures_of(lying, STILL, glider)] == ["area_50", "area_90"]


def test_what_is_dangerous_is_minded() -> None:
    """Roads and rails, power lines, packs, propellers, the law."""
    text = " ".join(CAUTIONS)
    for word in ("roads", "rails", "power line", "private", "swollen", "propeller", "law"):
        assert word in text


def test_places_are_written_in_degrees() -> None:
    """As a phone has them."""
    assert spot_json(seen_at().spot) == {"latitude": 47.31, "longitude": 8.52}
