"""The wind of flights whose wind is known."""

from dataclasses import replace

import numpy as np
import pytest
from tests.debrief.simulator import Plan, circles, fly, with_holes

from foamwright.debrief.recording import Recording
from foamwright.debrief.wind import (
    CELL,
    air_heading,
    airspeed,
    find_wind,
    heading_span,
    mean_heading,
    off_by_wind,
)

TRUE = (3.0, -2.0)


def off(recording: Recording) -> float:
    """Return how far the found wind lies from the true one [m s^-1]."""
    wind, _ = find_wind(recording)
    assert wind is not None
    return float(np.hypot(wind.north - TRUE[0], wind.east - TRUE[1]))


def test_two_turns_give_the_wind_within_half_a_metre_a_second() -> None:
    """The median error over 60 gusty flights of 50 s stays under 0.5 m/s."""
    assert np.median([off(fly(circles(50, seed=k))) for k in range(60)]) < 0.5


@pytest.mark.slow
@pytest.mark.parametrize("seconds", [50, 100, 200])
def test_four_of_five_bands_hold_the_wind(seconds: int) -> None:
    """Between 70 and 90 % of 200 bands hold the true speed, long or short flight."""
    held = []
    for seed in range(200):
        wind, _ = find_wind(fly(circles(seconds, seed=seed)))
        assert wind is not None
        held.append(wind.low <= np.hypot(*TRUE) <= wind.high)
    assert 0.7 <= np.mean(held) <= 0.9


def test_still_gustless_air_is_told_as_such() -> None:
    """Without wind and gusts the fit finds less than 0.2 m/s of wind."""
    plan = replace(circles(60), wind=(0.0, 0.0), gust=0.0)
    wind, _ = find_wind(fly(replace(plan, seed=4)))
    assert wind is not None
    assert wind.speed < 0.2
    assert wind.low < 0.05


def test_the_wind_comes_from_where_it_does_not_go() -> None:
    """Air that moves north-east comes from south-west, 225 degrees."""
    wind, _ = find_wind(fly(circles(200, wind=(3.0, 3.0))))
    assert wind is not None
    assert np.degrees(wind.from_direction) == pytest.approx(225.0, abs=8.0)


def test_a_straight_flight_tells_no_wind_and_says_why() -> None:
    """One heading is refused in words that say what to fly."""
    plan = Plan(throttle=np.full(60, 0.8), bank=np.zeros(60))
    wind, why = find_wind(fly(plan))
    assert wind is None
    assert "two full circles" in why


def arc(degrees: float, seed: int) -> Recording:
    """Return an arc of so many degrees of heading, flown in 40 s."""
    rate = np.radians(degrees) / 40.0
    bank = np.full(40, -np.arctan(15.0 * rate / 9.80665))
    return fly(replace(circles(40, seed=seed), bank=bank))


@pytest.mark.parametrize("degrees", [20.0, 45.0, 60.0])
def test_arcs_too_short_are_refused(degrees: float) -> None:
    """Less than a quarter circle is refused in every one of 40 flights."""
    told = [find_wind(arc(degrees, seed)) for seed in range(40)]
    assert all(wind is None and "two full circles" in why for wind, why in told)


def test_half_a_circle_is_told_with_a_band_that_is_wider() -> None:
    """180 degrees give a wind, and its band is wider than that of full circles."""
    half = [find_wind(arc(200.0, seed))[0] for seed in range(20)]
    full = [find_wind(fly(circles(40, seed=seed)))[0] for seed in range(20)]
    widths = [
        np.median([one.high - one.low for one in many if one is not None]) for many in (half, full)
    ]
    assert widths[0] > widths[1]


@pytest.mark.parametrize("missing", ["ground_speed", "course"])
def test_a_log_without_ground_velocity_is_refused(missing: str) -> None:
    """Either half of the ground velocity missing is said."""
    whole = fly(circles(30))
    channels = {name: v for name, v in whole.channels.items() if name != missing}
    wind, why = find_wind(replace(whole, channels=channels))
    assert wind is None
    assert "ground speed with course" in why


def test_a_heading_alone_may_be_the_course() -> None:
    """It is not taken for it, but it is asked."""
    whole = fly(circles(30))
    channels = dict(whole.channels)
    channels["heading"] = channels.pop("course")
    wind, why = find_wind(replace(whole, channels=channels))
    assert wind is None
    assert "if its heading is the course" in why


def test_too_short_a_flight_is_refused() -> None:
    """Four seconds tell no wind."""
    wind, why = find_wind(fly(circles(60)).between(10.0, 14.0))
    assert wind is None
    assert "six seconds" in why


def test_holes_cost_band_not_truth() -> None:
    """With 22 % of the rows gone the median error of 20 flights stays under 0.5 m/s."""
    errors = [off(with_holes(fly(circles(100, seed=k)), 0.22)) for k in range(20)]
    assert np.median(errors) < 0.5


def test_rows_of_nonsense_hardly_move_it() -> None:
    """One row in a hundred twice as fast moves the wind by less than 0.1 m/s."""
    whole = fly(circles(100))
    speed = whole.channel("ground_speed").copy()
    speed[::100] *= 2.0
    plain, _ = find_wind(whole)
    odd, _ = find_wind(replace(whole, channels={**whole.channels, "ground_speed": speed}))
    assert plain is not None
    assert odd is not None
    assert np.hypot(odd.north - plain.north, odd.east - plain.east) < 0.1


@pytest.mark.parametrize(("degrees", "span"), [(0.0, 5.0), (44.0, 45.0), (180.0, 185.0)])
def test_the_span_is_what_the_headings_cover(degrees: float, span: float) -> None:
    """An arc across north counts its length in cells of five degrees."""
    heading = np.radians(np.linspace(-0.0, degrees, 500) + 0.1 - 10.0)
    assert np.degrees(
        heading_span(heading, np.linspace(0.0, 100.0, heading.size))
    ) == pytest.approx(span, abs=5.01)


def test_the_airspeed_is_the_ground_velocity_less_the_wind() -> None:
    """Its mean agrees with the airspeed that the fit found."""
    whole = fly(circles(100))
    wind, _ = find_wind(whole)
    found = airspeed(whole, wind)
    assert wind is not None
    assert found is not None
    assert np.mean(found) == pytest.approx(wind.airspeed, abs=0.3)


def test_without_wind_only_a_pitot_tells_the_airspeed() -> None:
    """The logged airspeed is passed on; none is made from the ground speed."""
    whole = fly(circles(30))
    assert airspeed(whole, None) is None
    pitot = replace(whole, channels={**whole.channels, "airspeed": np.full(whole.time.size, 9.0)})
    assert airspeed(pitot, None) is pitot.channel("airspeed")


@pytest.mark.parametrize("turn", [15.0, 40.0])
def test_however_fast_a_circle_is_flown_it_counts(turn: float) -> None:
    """One circle and a quarter, at rates that leave less than a second in five degrees."""
    seconds = round(450.0 / turn)
    bank = np.full(seconds, -np.arctan(15.5 * np.radians(turn) / 9.80665))
    throttle = np.full(seconds, 0.8 if turn < 20.0 else 1.0)
    errors = []
    for seed in range(30):
        wind, why = find_wind(fly(Plan(throttle=throttle, bank=bank, wind=TRUE, seed=seed)))
        assert wind is not None, why
        errors.append(float(np.hypot(wind.north - TRUE[0], wind.east - TRUE[1])))
    assert np.median(errors) < 0.9


def test_one_odd_row_is_no_heading() -> None:
    """A course that jumps for two rows of a straight leg turns nothing."""
    heading = np.zeros(200)
    heading[90:92] = np.radians(80.0)
    assert heading_span(heading, np.linspace(0.0, 40.0, 200)) <= CELL
    # What lies between rows far apart in time was not seen.
    away = np.concatenate([np.zeros(50), np.full(50, np.radians(60.0))])
    time = np.concatenate([np.linspace(0.0, 10.0, 50), np.linspace(30.0, 40.0, 50)])
    apart = heading_span(away, time)
    assert np.degrees(apart) == pytest.approx(65.0, abs=5.01)


def test_an_arc_tells_the_wind_along_one_way_better_than_along_the_other() -> None:
    """Four of five errors along either axis of 120 degrees lie in the band along that axis."""
    held: list[list[bool]] = [[], []]
    for seed in range(60):
        wind, _ = find_wind(arc(150.0, seed))
        if wind is None:
            continue
        both, mixed, other = wind.covariance
        squares, axes = np.linalg.eigh(np.array([[both, mixed], [mixed, other]]))
        assert squares[1] > 2.0 * squares[0]
        assert wind.sd == pytest.approx(np.sqrt(squares[1]))
        off = np.array([wind.north - TRUE[0], wind.east - TRUE[1]])
        for k, axis in enumerate(axes.T):
            assert wind.sd_along(*axis) == pytest.approx(np.sqrt(squares[k]))
            held[k].append(abs(float(off @ axis)) < 1.2816 * wind.sd_along(*axis))
    assert all(len(one) > 40 for one in held)
    assert all(0.66 < np.mean(one) < 0.95 for one in held)


def test_the_wind_leaves_circles_alone_and_is_felt_on_a_leg() -> None:
    """Over whole circles its error gives a mean airspeed next to nothing, on a leg all of it."""
    whole = fly(circles(100))
    wind, _ = find_wind(whole)
    assert wind is not None
    assert off_by_wind(whole, wind, slice(0, 1000)) < 0.15 * wind.sd
    leg = off_by_wind(whole, wind, slice(100, 120))
    assert leg == pytest.approx(wind.sd_along(*mean_heading(whole, wind, slice(100, 120))))
    assert leg > 0.5 * wind.sd
    assert off_by_wind(whole, None, slice(0, 10)) == 0.0


def test_the_heading_is_through_the_air() -> None:
    """Ground velocity less wind; without a wind what was logged, or nothing."""
    whole = fly(circles(30))
    wind, _ = find_wind(whole)
    heading = air_heading(whole, wind)
    assert heading is not None
    turned = np.degrees(np.diff(np.unwrap(heading))).sum()
    assert turned == pytest.approx(-30.0 / 25.0 * 360.0, abs=40.0)
    assert air_heading(whole, None) is whole.channel("course")
    assert air_heading(replace(whole, channels={}), None) is None
