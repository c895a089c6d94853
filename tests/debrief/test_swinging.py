"""Swings of one axis in simulated loops of known poles."""

from dataclasses import replace

import numpy as np
import pytest
from tests.debrief.rates_simulator import Flown, Loop, fly, pole, unstable_turn, with_holes

from foamwright.debrief.outcome import Facts
from foamwright.debrief.recording import Recording
from foamwright.debrief.scene import Scene
from foamwright.debrief.swinging import (
    airspeed_at,
    all_found,
    beside_of,
    blocks,
    by_airspeed,
    onset,
    sizes_of,
    swing_in,
)
from foamwright.debrief.wobble import BANDS, WELL, band_of

QUICK = Loop()
SLOW = Loop(roll_in=0.25, servo=0.06, delay=0.08)
"""A heavy aeroplane with late servos: it would wobble at 2 Hz."""
SEEDS = 30


def scene(recording: Recording, airspeed: np.ndarray | None = None) -> Scene:
    """Return a scene of rates."""
    return Scene(recording=recording, facts=Facts(), wind=None, airspeed=airspeed, segments=())


def near(loop: Loop, share: float) -> Loop:
    """Return a loop with a share of the gain that wobbles for ever."""
    return replace(loop, turn=share * unstable_turn(loop))


def bands(flown: Flown, hertz: int) -> tuple[list[str], list[float]]:
    """Return the bands of damping of all seeds, and the frequencies of what swings."""
    names, frequencies = [], []
    for seed in range(flown.rate.shape[0]):
        one = scene(flown.at(hertz, seed))
        found = all_found(one, beside_of(one, "roll"))
        names.append(band_of(found[0].swing.damping) if found else WELL)
        frequencies += [each.swing.frequency for each in found]
    return names, frequencies


@pytest.mark.parametrize("hertz", [1000, 100, 50])
@pytest.mark.parametrize("loop", [QUICK, SLOW], ids=["quick", "slow"])
@pytest.mark.parametrize(
    ("share", "band"),
    [(0.3, WELL), (0.5, WELL), (0.92, "nearly none"), (0.96, "nearly none")],
)
def test_the_band_of_damping_is_right(loop: Loop, share: float, band: str, hertz: int) -> None:
    """In at least 9 of 10 flights of 30 s: 10 and 6 dB from wobbling well, below 1 dB none."""
    seeds = SEEDS if hertz < 1000 else 10
    names, _ = bands(fly(near(loop, share), 30.0, seeds, start=5), hertz)
    assert names.count(band) >= 0.9 * seeds


@pytest.mark.parametrize("hertz", [100, 50])
def test_a_weak_damping_is_told_as_weak(hertz: int) -> None:
    """At 2.5 dB, a tenth of critical damping, in 9 of 10 flights."""
    loop = near(QUICK, 0.75)
    assert 0.09 < pole(loop)[1] < 0.11
    names, _ = bands(fly(loop, 30.0, SEEDS, start=5), hertz)
    assert names.count("weak") >= 0.9 * SEEDS


@pytest.mark.parametrize("hertz", [1000, 100, 50])
@pytest.mark.parametrize("loop", [QUICK, SLOW], ids=["quick", "slow"])
@pytest.mark.parametrize("share", [0.92, 0.96])
def test_the_frequency_is_that_of_the_loop(loop: Loop, share: float, hertz: int) -> None:
    """Within 5 % of the characteristic equation's root, every time."""
    truth = pole(near(loop, share))[0]
    seeds = 10
    _, frequencies = bands(fly(near(loop, share), 30.0, seeds, start=5), hertz)
    assert len(frequencies) >= seeds
    assert np.abs(np.array(frequencies) / truth - 1.0).max() < 0.05


def test_a_loop_past_the_end_is_undamped_at_its_frequency() -> None:
    """With servos at their ends it neither grows nor dies out, a little slower than its pole."""
    loop = near(QUICK, 1.1)
    names, frequencies = bands(fly(loop, 30.0, 10, start=5), 100)
    assert set(names) == {"nearly none"}
    assert frequencies == pytest.approx([pole(loop)[0]] * len(frequencies), rel=0.05)


def test_without_the_wanted_rate_it_is_found_as_well() -> None:
    """The rate alone swings as fast."""
    loop = near(QUICK, 0.96)
    log = fly(loop, 30.0, 1, start=5).at(100)
    one = scene(replace(log, channels={"roll_rate": log.channels["roll_rate"]}))
    beside = beside_of(one, "roll")
    assert not beside.asked
    swing = swing_in(beside.windows, beside)
    assert swing is not None
    assert swing.frequency == pytest.approx(pole(loop)[0], rel=0.05)
    assert band_of(swing.damping) == BANDS[0][1]


def test_a_swing_that_was_wanted_as_well_is_not_taken_off() -> None:
    """An outer loop asks for what the inner one wobbles: it is still a wobble."""
    random = np.random.default_rng(1)
    time = np.arange(0.0, 30.0, 0.01)
    drift = np.cumsum(random.normal(size=time.size)) * 0.1
    phase = 2 * np.pi * 5.0 * time + 0.05 * drift
    channels = {
        "roll_rate": np.sin(phase) + 0.1 * random.normal(size=time.size),
        "roll_rate_wanted": 0.5 * np.sin(phase - 1.0),
    }
    one = scene(Recording(time=time, channels=channels, step=0.01))
    beside = beside_of(one, "roll")
    swing = swing_in(beside.windows, beside)
    assert swing is not None
    assert swing.frequency == pytest.approx(5.0, rel=0.02)


def test_holes_bend_nothing() -> None:
    """With a fifth of a minute gone, frequency and band stand."""
    loop = near(QUICK, 0.95)
    one = scene(with_holes(fly(loop, 90.0, 1, start=5).at(100), 0.2))
    found = all_found(one, beside_of(one, "roll"))
    assert len(found) > 2
    assert {band_of(each.swing.damping) for each in found} == {"nearly none"}
    middle = np.median([each.swing.frequency for each in found])
    assert middle == pytest.approx(pole(loop)[0], rel=0.05)


def test_the_airspeed_between_rows_is_known_only_near_rows() -> None:
    """Nothing is read across a hole of the airspeed, or where there is none."""
    log = Recording(time=np.array([0.0, 1.0, 20.0, 21.0]), channels={}, step=1.0)
    speeds = airspeed_at(scene(log, np.array([10.0, 12.0, 20.0, 20.0])), np.array([0.5, 8.0, 20.5]))
    assert speeds[0] == pytest.approx(11.0)
    assert np.isnan(speeds[1])
    assert speeds[2] == pytest.approx(20.0)
    assert np.isnan(airspeed_at(scene(log), np.array([0.5]))).all()
    assert np.isnan(airspeed_at(scene(log, np.full(4, np.nan)), np.array([0.5]))).all()


def test_airspeeds_are_parted_in_thirds() -> None:
    """A minute that gets faster has three thirds of 20 s; without airspeed there are none."""
    log = fly(near(QUICK, 0.5), 60.0, 1, start=5).at(100)
    one = scene(log, np.linspace(10.0, 20.0, log.time.size))
    beside = beside_of(one, "roll")
    assert sum(block.time.size for block in blocks(beside)) == log.time.size
    thirds = by_airspeed(one, beside)
    assert [len(third) for third in thirds] == [10, 10, 10]
    assert thirds[0][-1].time[-1] < thirds[1][0].time[0]
    assert by_airspeed(scene(log), beside) == []


def test_sizes_are_those_of_the_swing_alone() -> None:
    """A swing of 5 Hz that doubles after 20 s, beside one of 1 Hz that is larger."""
    time = np.arange(0.0, 40.0, 0.01)
    size = np.where(time < 20.0, 1.0, 2.0)
    values = size * np.sin(10 * np.pi * time) + 5.0 * np.sin(2 * np.pi * time)
    channels = {"roll_rate": values}
    one = scene(Recording(time=time, channels=channels, step=0.01))
    beside = beside_of(one, "roll")
    starts, ends, sizes = sizes_of(beside.windows, beside.step, 5.0)
    before, after = sizes[ends < 17.0], sizes[starts > 23.0]
    assert before == pytest.approx(np.full(before.size, np.sqrt(0.5)), rel=0.05)
    assert after == pytest.approx(np.full(after.size, np.sqrt(2.0)), rel=0.05)


def test_the_onset_is_where_the_sizes_part() -> None:
    """Ten times larger from 15 m/s on, in any order of time."""
    random = np.random.default_rng(1)
    speed = random.uniform(10.0, 20.0, 60)
    size = np.where(speed > 15.0, 1.0, 0.1) * np.exp(0.2 * random.normal(size=60))
    assert onset(speed, size) == pytest.approx(15.0, abs=0.3)


def test_what_hangs_on_no_airspeed_has_no_onset() -> None:
    """Sizes that do not part, one airspeed, none known, or too few: nothing is said."""
    random = np.random.default_rng(1)
    speed, even = random.uniform(10.0, 20.0, 60), np.exp(0.2 * random.normal(size=60))
    assert onset(speed, even) is None
    assert onset(np.full(60, 15.0), even) is None
    assert onset(np.full(60, np.nan), even) is None
    assert onset(speed[:6], even[:6]) is None
