"""What is compared between flights: the table by itself."""

import pytest

from foamwright.debrief.wanted import EXPONENT, WANTED
from foamwright.jobs.flight_analysis import DIMENSIONS
from foamwright.model.evidence import OBSERVABLE


@pytest.mark.parametrize("name", WANTED)
def test_every_figure_can_be_observed_and_shown(name: str) -> None:
    """It is one the model knows, or a damping of swings, in a unit that has a dimension."""
    wanted = WANTED[name]
    damps = name in {"roll_swing_damping", "pitch_swing_damping"}
    dimension = "number" if damps else OBSERVABLE[name].dimension
    assert DIMENSIONS[wanted.unit] == dimension
    assert 0.0 < wanted.scatter < (0.2 if damps else 0.1)
    assert 0.0 < wanted.no_matter < (0.3 if damps else 0.1)
    assert wanted.at_lowest == damps


@pytest.mark.parametrize(
    ("name", "more"),
    [
        ("top_speed", True),
        ("glide_ratio", True),
        ("top_speed_current", False),
        ("cruise_current", False),
        ("drag_area", False),
        ("stall_speed", False),
        ("pack_resistance", False),
        ("roll_lag", False),
        ("roll_swing_damping", True),
        ("pitch_swing_damping", True),
    ],
)
def test_faster_farther_thriftier_and_slower_to_land_are_wanted(name: str, more: bool) -> None:  # noqa: FBT001 - a table
    """Common practice, no source."""
    assert WANTED[name].more is more


def test_the_powers_are_those_of_steady_flight() -> None:
    """Lift = weight: the slowest speed goes as the root of mass over density (any textbook on
    flight mechanics); at one advance ratio speed goes with the turns, torque with their square."""
    assert (WANTED["stall_speed"].mass, WANTED["stall_speed"].density) == (0.5, -0.5)
    assert WANTED["top_speed"].voltage == 1.0
    assert WANTED["top_speed_current"].voltage == 2.0
    assert WANTED["drag_area"].airspeed == -3.0
    assert 0.0 < EXPONENT < 1.0
