"""Currents of flights at several speeds, compared at one."""

import math

import pytest

from foamwright.debrief.like_speed import ALIKE, at_like_speed
from foamwright.debrief.observed import Flown, Reading
from foamwright.debrief.paired import change

NAME = "cruise_current"


def flight(*points: tuple[float, float], sd: float = 0.1) -> Flown:
    """Return a flight with currents at speeds."""
    return Flown(
        readings=tuple(Reading(name=NAME, value=amps, sd=sd, speed=v) for v, amps in points)
    )


def current(speed: float, scale: float = 1.0) -> float:
    """Return a current that follows the square of the speed."""
    return 0.03 * scale * speed**2


def test_the_speed_that_both_flew_is_chosen() -> None:
    """12 and 18 m/s on one side, 11.5 on the other: the slow ones compare, the fast is left out."""
    before = flight((12.0, current(12.0)), (18.0, current(18.0)))
    after = flight((11.5, current(11.5)))
    (first, second), speed = at_like_speed(NAME, 2.0, ([before], [after]))
    assert speed in {11.5, 12.0}
    assert speed is not None
    assert [one.value for one in first[0].readings] == pytest.approx([current(speed)])
    assert [one.value for one in second[0].readings] == pytest.approx([current(speed)])


def test_the_same_aeroplane_at_two_speeds_has_not_changed() -> None:
    """Flown 10 % faster it draws 21 % more, and that is not the change's doing."""
    found = change(NAME, [flight((12.0, current(12.0)))], [flight((13.2, current(13.2)))])
    assert found is not None
    assert found.value == pytest.approx(0.0, abs=1e-9)
    assert found.verdict != "helped"
    assert found.speed in {12.0, 13.2}


def test_a_thriftier_aeroplane_is_found_at_any_like_speed() -> None:
    """A quarter less current, flown a little faster."""
    found = change(NAME, [flight((12.0, current(12.0)))], [flight((12.6, current(12.6, 0.7)))])
    assert found is not None
    assert found.verdict == "helped"
    assert found.value / found.before.value == pytest.approx(-0.3)


def test_the_way_to_the_speed_costs_band() -> None:
    """Brought over a tenth of speed the sd grows by what the power may be off: 0.3 of it."""
    near, far = ([flight((12.0, 4.0), (v, 4.0))] for v in (12.0, 13.2))
    _, speed = at_like_speed(NAME, 2.0, ([flight((12.0, 4.0))], near))
    assert speed == 12.0
    (_, side), _ = at_like_speed(NAME, 2.0, ([flight((12.0, 4.0))], far))
    moved = next(one for one in side[0].readings if one.value != 4.0)
    way = 2.0 * math.log(12.0 / 13.2)
    assert moved.value == pytest.approx(4.0 * math.exp(way))
    assert moved.sd / math.exp(way) == pytest.approx(math.hypot(0.1, 0.3 * abs(way) * 4.0))


def test_speeds_too_far_apart_are_not_compared() -> None:
    """10 and 16 m/s: nothing is made of them."""
    sides = ([flight((10.0, 3.0))], [flight((16.0, 7.0))])
    assert math.log(1.6) > ALIKE
    assert at_like_speed(NAME, 2.0, sides) == (((), ()), None)
    assert change(NAME, *sides) is None


def test_readings_without_a_speed_are_left_as_they_are() -> None:
    """Numbers off a screen need not tell one."""
    bare = Flown(readings=(Reading(name=NAME, value=4.0, sd=0.4),))
    sides = ([bare], [flight((12.0, 4.0))])
    assert at_like_speed(NAME, 2.0, sides) == (sides, None)
    assert change(NAME, *sides) is not None


def test_the_speed_most_flights_share_wins() -> None:
    """Two of three flights flew 15 m/s, one 12: compared at 15."""
    before = [flight((12.0, 4.0), (15.0, 6.0))]
    after = [flight((15.0, 6.0)), flight((15.2, 6.1)), flight((12.0, 4.0))]
    _, speed = at_like_speed(NAME, 2.0, (before, after))
    assert speed in {15.0, 15.2}


def test_at_the_speed_of_the_lowest_reading_both_have_to_have_flown() -> None:
    """4 A at 12 m/s is lowest, but only one side flew so: 5 A at 18 m/s is taken."""
    before = flight((12.0, 4.0), (18.0, 6.0))
    after = flight((18.5, 5.0), (24.0, 9.0))
    _, speed = at_like_speed(NAME, 0.0, ([before], [after]), at_lowest=True)
    assert speed == 18.5
    assert at_like_speed(NAME, 0.0, ([flight((9.0, 4.0))], [after]), at_lowest=True)[1] is None


def test_the_lowest_rules_over_what_most_flights_flew() -> None:
    """Three flights at 12 m/s and one that wobbles at 20: that is where the change has to show."""
    slow = [flight((12.0, 5.0)) for _ in range(3)]
    both = flight((12.0, 5.0), (20.0, 1.0))
    sides = ([*slow, both], [*slow, flight((20.0, 4.0))])
    assert at_like_speed(NAME, 0.0, sides, at_lowest=True)[1] == 20.0
    assert at_like_speed(NAME, 0.0, sides)[1] == 12.0
