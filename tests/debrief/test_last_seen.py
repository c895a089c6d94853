"""The end of a log."""

from collections.abc import Mapping

import numpy as np
import pytest
from tests.debrief.lost_planes import HOME, lose

from foamwright.debrief.geodesy import offset, way_between
from foamwright.debrief.last_seen import FIX_SPREAD, HEIGHT_SPREAD, last_seen
from foamwright.debrief.recording import Gap, Recording
from foamwright.problems import CallProblem


def straight(seconds: float = 30.0, changed: Mapping[str, np.ndarray] | None = None) -> Recording:
    """Return a flight due east at 12 m/s, 60 m over the ground it waited on for five seconds."""
    time = np.arange(0.0, seconds, 0.2)
    flying = time > 5.0
    east = 12.0 * np.clip(time - 5.0, 0.0, None)
    spots = [offset(HOME, 0.0, float(e)) for e in east]
    channels = {
        "latitude": np.radians([spot.latitude for spot in spots]),
        "longitude": np.radians([spot.longitude for spot in spots]),
        "ground_speed": np.where(flying, 12.0, 0.0),
        "course": np.full(time.size, np.pi / 2.0),
        "height": 412.0 + 60.0 * np.clip((time - 5.0) / 10.0, 0.0, 1.0) + 0.2 * np.sin(3.0 * time),
    }
    return Recording(time=time, channels=channels | dict(changed or {}), step=0.2)


def without(recording: Recording, *names: str) -> Recording:
    """Return a recording without some channels."""
    kept = {name: value for name, value in recording.channels.items() if name not in names}
    return Recording(time=recording.time, channels=kept, gaps=recording.gaps, step=recording.step)


def held(recording: Recording, seconds: float, *names: str) -> Recording:
    """Return a recording in which channels keep their value for the last seconds."""
    last = int(np.searchsorted(recording.time, recording.time[-1] - seconds))
    channels = dict(recording.channels)
    for name in names:
        values = channels[name].copy()
        values[last:] = values[last]
        channels[name] = values
    return Recording(time=recording.time, channels=channels, step=recording.step)


def test_the_end_of_a_flight_is_told() -> None:
    """Speed, course, height over the ground it waited on, and that it did not climb."""
    seen = last_seen(straight())
    assert seen.speed == pytest.approx(12.0)
    assert seen.course == pytest.approx(90.0)
    assert seen.height == pytest.approx(60.0, abs=0.3)
    assert seen.climb == pytest.approx(0.0, abs=0.5)
    assert seen.height_spread == HEIGHT_SPREAD
    assert not seen.grounded
    assert seen.stale == pytest.approx(0.0)
    assert way_between(HOME, seen.spot).distance == pytest.approx(12.0 * 24.8, abs=0.1)
    assert seen.start is not None
    assert way_between(HOME, seen.start).distance == pytest.approx(0.0, abs=1e-6)
    assert seen.assumed == ()


def test_without_a_position_there_is_nothing_to_find() -> None:
    """One clear error, with what would be right."""
    with pytest.raises(CallProblem, match="no position; a log with latitude and longitude"):
        last_seen(without(straight(), "latitude"))
    nowhere = np.full(straight().time.size, np.nan)
    with pytest.raises(CallProblem, match="never found a position"):
        last_seen(straight(changed={"latitude": nowhere}))


def test_a_position_held_on_is_old_news() -> None:
    """Eight seconds of the same position: the fix is that old, and so is its place."""
    log = straight()
    seen = last_seen(held(log, 8.0, "latitude", "longitude"))
    assert seen.stale == pytest.approx(8.0, abs=0.21)
    assert way_between(HOME, seen.spot).distance == pytest.approx(12.0 * 16.8, abs=3.0)


def test_a_log_whose_positions_stop_is_stale_too() -> None:
    """No value at all in the last rows."""
    log = straight()
    lost = log.time > 25.0
    cut = {name: np.where(lost, np.nan, log.channels[name]) for name in ("latitude", "longitude")}
    assert last_seen(straight(changed=cut)).stale == pytest.approx(4.8, abs=0.21)


def test_a_height_that_stops_gets_less_sure() -> None:
    """It may have gone on sinking; the spread grows by two metres a second."""
    seen = last_seen(held(straight(40.0), 15.0, "height"))
    assert seen.height_spread > 2.0 * HEIGHT_SPREAD
    assert any("height was last told" in words for words in seen.assumed)


def test_without_a_height_or_a_speed_nothing_is_made_up() -> None:
    """The speed comes from the positions where they tell it, the height from nothing."""
    bare = last_seen(without(straight(), "height", "ground_speed", "course"))
    assert bare.height is None
    assert bare.climb is None
    assert bare.speed == pytest.approx(12.0, rel=0.02)
    one = without(straight(), "ground_speed", "course")
    spot = {name: np.full(one.time.size, one.channels[name][0]) for name in one.channels}
    still = Recording(time=one.time, channels=spot, step=0.2)
    assert last_seen(still).speed is None


def test_a_log_that_begins_in_the_air_takes_its_lowest_height_and_says_so() -> None:
    """There was no waiting on the ground to read it from."""
    log = straight()
    seen = last_seen(log.between(8.0, 30.0))
    assert seen.height == pytest.approx(60.0 - 18.0, abs=1.0)
    assert seen.assumed == ("the lowest height of the log is taken as the ground at the take-off",)


@pytest.mark.parametrize(
    ("height", "speed", "grounded"),
    [
        pytest.param(0.5, 0.2, True, id="lies on the launch ground"),
        pytest.param(-40.0, 0.1, True, id="lies in a valley, its height held"),
        pytest.param(60.0, 1.5, False, id="stands against the wind up there"),
        pytest.param(0.5, 9.0, False, id="skims the grass"),
    ],
)
def test_whether_it_lies_there(height: float, speed: float, *, grounded: bool) -> None:
    """Still, and near the ground or at a height that is held."""
    log = straight()
    ending = log.time > 25.0
    changed: Mapping[str, np.ndarray] = {
        "height": np.where(ending, 412.0 + height, log.channels["height"]),
        "ground_speed": np.where(ending, speed, log.channels["ground_speed"]),
    }
    seen = last_seen(straight(changed=changed))
    assert seen.grounded is grounded
    assert not grounded or seen.stale == 0.0


def test_a_row_a_second_is_enough_to_lie_still() -> None:
    """Four seconds of lying in a slow log."""
    whole = straight(40.0)
    ending = whole.time > 33.0
    speed = np.where(ending, 0.2, whole.channels["ground_speed"])
    height = np.where(ending, 412.0, whole.channels["height"])
    every = slice(None, None, 5)
    slow = Recording(
        time=whole.time[every],
        channels={
            name: values[every]
            for name, values in {
                **whole.channels,
                "ground_speed": speed,
                "height": height,
            }.items()
        },
        step=1.0,
    )
    assert last_seen(slow).grounded


def test_a_hole_before_the_end_is_told_and_not_averaged_over() -> None:
    """Rows before a hole say nothing of the speed after it."""
    log = straight()
    turned = np.where(log.time > 28.0, np.pi, np.pi / 2.0)
    whole = straight(changed={"course": turned})
    kept = (whole.time < 20.0) | (whole.time > 29.0)
    cut = Recording(
        time=whole.time[kept],
        channels={name: values[kept] for name, values in whole.channels.items()},
        gaps=(Gap(start=19.8, end=29.2),),
        step=0.2,
    )
    seen = last_seen(cut)
    assert seen.hole == pytest.approx(9.4)
    assert seen.course == pytest.approx(180.0)


def test_the_receiver_is_never_believed_to_a_metre() -> None:
    """A claimed error widens the fix, a small one does not narrow it."""
    rows = straight().time.size
    sure, unsure = (
        last_seen(straight(changed={"position_error": np.full(rows, e)})) for e in (0.5, 20.0)
    )
    assert sure.fix_spread == FIX_SPREAD
    assert unsure.fix_spread == pytest.approx(20.0 / np.sqrt(2.0))


def test_invented_losses_are_seen_as_they_were() -> None:
    """Twenty logs of an independent simulator: none on the ground, all with speed and height."""
    for seed in range(20):
        seen = last_seen(lose(seed).recording)
        assert not seen.grounded
        assert seen.height is not None
        assert seen.speed is not None
        assert -5.0 < seen.height < 125.0
