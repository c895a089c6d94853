"""Judging positions, speeds and heights."""

from collections.abc import Mapping
from dataclasses import replace

import numpy as np
import pytest

from foamwright.debrief.judging import ENOUGH, Bench, Expected
from foamwright.debrief.judging_motion import (
    airspeed,
    climb,
    component,
    course,
    ground_speed,
    heading,
    height,
    position,
    too_fast,
    turning,
)
from foamwright.debrief.naming import Meaning
from foamwright.debrief.positions import track_of

Truth = Mapping[str, np.ndarray]
PLANE = Expected(pitch=0.1016, no_load=2300 / 60, most_voltage=11.1)
SPEEDS = {
    "m/s": 1.0,
    "km/h": 3.6,
    "kn": 3600 / 1852,
    "mph": 2.23694,
    "ft/s": 3.28084,
    "cm/s": 100.0,
}


def meaning(taken_as: str, unit: str = "", strength: float = 0.95) -> Meaning:
    """Return what a name says."""
    return Meaning(taken_as=taken_as, unit=unit, strength=strength)


@pytest.fixture
def bench(truth: Truth) -> Bench:
    """Return a bench with the path of the positions."""
    path = track_of(truth["time"], truth["latitude"], truth["longitude"])
    return Bench(time=truth["time"], step=0.1, expected=PLANE, track=path)


@pytest.mark.parametrize("unit", SPEEDS)
def test_a_speed_is_told_by_the_positions(unit: str, bench: Bench, truth: Truth) -> None:
    """In any unit, without a word in the header."""
    found = ground_speed(bench, truth["ground_speed"] * SPEEDS[unit], meaning("ground_speed"))
    assert found.unit == unit
    assert found.sure > 0.9


def test_a_speed_in_a_wrong_unit_is_contradicted(bench: Bench, truth: Truth) -> None:
    """The header says knots, the positions say metres a second."""
    found = ground_speed(bench, truth["ground_speed"], meaning("ground_speed", "kn"))
    assert found.sure < ENOUGH
    stretched = ground_speed(bench, truth["ground_speed"] * 1.4, meaning("ground_speed", "m/s"))
    assert stretched.sure < ENOUGH


def test_the_pitch_speed_is_the_second_check(bench: Bench, truth: Truth) -> None:
    """71 as metres a second would pass the 43 of the power train: told, and without positions
    never believed."""
    fast = truth["ground_speed"] * SPEEDS["kn"] * 1.9
    assert "pitch speed of the power train, 43.2 m/s" in too_fast(bench, fast)
    alone = replace(bench, track=None)
    assert ground_speed(alone, fast, meaning("ground_speed")).sure < ENOUGH
    assert ground_speed(alone, fast * 2, meaning("ground_speed", "m/s")).sure < ENOUGH
    assert too_fast(bench, truth["ground_speed"]) == ""


def test_reasons_are_told_in_the_units_of_the_user(bench: Bench, truth: Truth) -> None:
    """Feet and miles an hour for lengths and limits; the log's own units keep their names."""
    ours = replace(bench, expected=replace(PLANE, units="imperial"))
    fast = truth["ground_speed"] * SPEEDS["kn"] * 1.9
    assert "pitch speed of the power train, 96.7 mph" in too_fast(ours, fast)
    knots = truth["ground_speed"] * SPEEDS["kn"]
    said = ground_speed(ours, knots, meaning("ground_speed")).because
    assert "it shows 0.869 where the positions move 1 mph" in said  # a mile over a nautical one
    reach = position(ours, np.degrees(truth["latitude"]), meaning("latitude"))
    assert " ft" in reach.because or " mi" in reach.because
    assert reach.unit == position(bench, np.degrees(truth["latitude"]), meaning("latitude")).unit


def test_positions_are_told_by_their_reach(truth: Truth, bench: Bench) -> None:
    """Degrees, radians, and whole numbers of 1e-7 degrees."""
    for written, unit in (
        (np.degrees(truth["latitude"]), "deg"),
        (truth["latitude"], "rad"),
        (np.degrees(truth["latitude"]) * 1e7, "1e-7 deg"),
    ):
        found = position(bench, written, meaning("latitude"))
        assert (found.unit, found.sure > 0.8) == (unit, True)
    assert position(bench, np.degrees(truth["latitude"]) * 1e6, meaning("latitude")).sure < ENOUGH
    assert position(bench, truth["latitude"] * 1e12, meaning("latitude")).sure < ENOUGH
    assert position(bench, truth["latitude"] * 100, meaning("latitude", "deg")).sure > ENOUGH
    assert position(bench, truth["latitude"] * 200, meaning("latitude", "deg")).sure < ENOUGH


def test_a_course_follows_the_path(truth: Truth, bench: Bench) -> None:
    """In degrees or radians; one that does not is contradicted."""
    for factor, unit in ((180 / np.pi, "deg"), (1.0, "rad"), (18000 / np.pi, "cdeg")):
        assert course(bench, truth["course"] * factor, meaning("course")).unit == unit
    away = course(bench, np.degrees(truth["course"] + 1.0) % 360, meaning("course", "deg"))
    assert away.sure < ENOUGH


def test_an_angle_all_around_is_told_by_a_whole_turn() -> None:
    """360, 6.28, 36000 and 3600; half a degree of span tells nothing."""
    turn = np.linspace(0.0, 2 * np.pi, 200)
    for factor, unit in ((180 / np.pi, "deg"), (1.0, "rad"), (18000 / np.pi, "cdeg")):
        assert turning(turn * factor, meaning("heading")).unit == unit
    assert turning(turn * 0.05, meaning("heading")).sure < ENOUGH


def test_heights_and_climb_rates_tell_each_other(truth: Truth, bench: Bench) -> None:
    """A climb rate in m/s tells a height in feet; a height in metres a climb in feet a minute."""
    climbs = replace(
        bench,
        known={"climb_rate": truth["climb_rate"]},
        written={"climb_rate": truth["climb_rate"]},
    )
    assert height(climbs, truth["height"] / 0.3048, meaning("height")).unit == "ft"
    alone = height(bench, truth["height"], meaning("height"))
    assert alone.sure < ENOUGH
    high = replace(bench, known={"height": truth["height"]})
    found = climb(high, truth["climb_rate"] / 0.00508, meaning("climb_rate"))
    assert (found.unit, found.sure > 0.9) == ("ft/min", True)
    down = climb(high, -truth["climb_rate"], meaning("climb_rate", strength=0.8))
    assert down.factor == -1.0
    assert down.sure > ENOUGH
    named = climb(high, -truth["climb_rate"], meaning("climb_rate", "m/s"))
    assert named.sure < ENOUGH


def test_an_airspeed_is_told_by_the_speed_over_ground(truth: Truth, bench: Bench) -> None:
    """In circles the wind is found and taken out: knots and miles an hour are told apart."""
    known = replace(bench, known={"ground_speed": truth["ground_speed"]})
    for unit, factor in SPEEDS.items():
        assert airspeed(known, truth["airspeed"] * factor, meaning("airspeed")).unit == unit
    straight = replace(known, track=None)
    assert airspeed(straight, truth["airspeed"] * 3.6, meaning("airspeed")).sure < ENOUGH
    wrong = airspeed(known, truth["airspeed"] * 3.6, meaning("airspeed", "m/s"))
    assert wrong.sure < ENOUGH
    assert airspeed(known, truth["airspeed"], meaning("airspeed", "m/s")).sure > ENOUGH


def test_two_components_are_judged_as_one_speed(truth: Truth, bench: Bench) -> None:
    """Centimetres a second, and x and y that are north and east by their course."""
    both = replace(
        bench,
        written={
            "north_speed": truth["north_speed"] * 100,
            "east_speed": truth["east_speed"] * 100,
        },
    )
    found = component(both, truth["north_speed"] * 100, meaning("north_speed", strength=0.7))
    assert found.unit == "cm/s"
    assert found.sure > ENOUGH
    crossed = replace(
        bench, written={"north_speed": truth["east_speed"], "east_speed": truth["north_speed"]}
    )
    assert component(crossed, truth["east_speed"], meaning("north_speed", strength=0.7)).sure < 0.5
    assert component(bench, truth["north_speed"], meaning("north_speed")).sure < ENOUGH


def test_a_heading_lies_near_the_path(truth: Truth, bench: Bench) -> None:
    """The crab in the wind is no contradiction."""
    found = heading(bench, np.degrees(truth["heading"]), meaning("heading"))
    assert (found.unit, found.sure > ENOUGH) == ("deg", True)
    assert "the path lies" in found.because


def test_a_heading_that_never_leaves_the_path_is_a_course(truth: Truth, bench: Bench) -> None:
    """In a wind of 3.6 m/s a nose points elsewhere."""
    found = heading(bench, np.degrees(truth["course"]), meaning("heading", "deg"))
    assert found.sure < ENOUGH
    assert "as only a course does" in found.because
