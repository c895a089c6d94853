"""The trim of a simulated flight whose sticks are known."""

from dataclasses import replace

import numpy as np
import pytest
from tests.debrief.simulator import Plan, fly

from foamwright.debrief.outcome import Facts
from foamwright.debrief.recording import Recording
from foamwright.debrief.scene import Scene, scene_of
from foamwright.debrief.trim import read_trim, steady


def flown(elevator: float, noise: float = 0.05, seed: int = 2) -> Scene:
    """Return straight cruise and two turns, the elevator held so far in the straights.

    In the turns it is held a third of its throw farther, as turns want it.
    """
    bank = np.zeros(200)
    bank[60:85], bank[120:145] = -0.8, 0.8
    log = fly(Plan(throttle=np.full(200, 0.8), bank=bank, seed=seed))
    random = np.random.default_rng(seed)
    turning = np.isin(log.time.astype(int), np.flatnonzero(bank))
    held = elevator + 0.33 * turning + random.normal(0.0, noise, log.time.size)
    return with_channels(log, elevator=held)


def with_channels(log: Recording, **channels: np.ndarray) -> Scene:
    """Return the scene of a recording with more channels."""
    return scene_of(replace(log, channels={**log.channels, **channels}), Facts())[0]


@pytest.mark.parametrize("held", [-0.2, -0.05, 0.0, 0.12])
def test_the_share_held_in_straights_is_found(held: float) -> None:
    """Within two per cent of the throw, the turns left out, inside the band told."""
    (told,) = read_trim(flown(held)).figures
    assert told.name == "elevator_trim"
    assert told.value == pytest.approx(held, abs=0.02)
    assert told.low - 0.01 < held < told.high + 0.01


@pytest.mark.parametrize(
    ("held", "said"), [(0.15, True), (-0.15, True), (0.03, False), (0.0, False)]
)
def test_only_what_is_worth_a_trip_to_the_bench_is_a_finding(held: float, said: bool) -> None:  # noqa: FBT001 - a table
    """15 % of the throw either way is, 3 % is not."""
    found = read_trim(flown(held)).findings
    assert bool(found) is said
    for one in found:
        assert "15 % of its throw" in one.what or "14 %" in one.what or "16 %" in one.what
        assert "sub-trim" in one.check_first[0]
        assert "balance point" in one.check_first[1]


def test_rolling_pitching_and_climbing_rows_are_left_out() -> None:
    """A second half in which it pitches, banks and climbs does not count."""
    bank = np.zeros(100)
    log = fly(Plan(throttle=np.full(100, 0.8), bank=bank))
    late = log.time > 50.0
    for name, value in (
        ("pitch_rate", 0.5),
        ("roll", 0.6),
        ("climb_rate", 1.2),
        ("roll_rate", -0.4),
    ):
        scene = with_channels(
            log, **{name: np.where(late, value, 0.0), "aileron": np.where(late, 0.9, 0.1)}
        )
        # No wind from a straight flight; ground speed tells flying all the same.
        assert not steady(scene)[late].any()
        (told,) = read_trim(scene).figures
        assert told.value == pytest.approx(0.1, abs=1e-6)


def test_without_straights_the_trim_is_not_said() -> None:
    """Circles only: said why; a log without surfaces says nothing at all."""
    log = fly(Plan(throttle=np.full(80, 0.8), bank=np.full(80, -0.4)))
    scene = with_channels(log, elevator=np.full(log.time.size, 0.3))
    told = read_trim(scene)
    assert told.figures == ()
    assert "straight level cruise" in told.not_said[0]
    assert read_trim(scene_of(log, Facts())[0]) == read_trim(with_channels(log))
    assert read_trim(scene_of(log, Facts())[0]).not_said == ()


def test_a_surface_that_is_mostly_not_logged_is_left_out() -> None:
    """Two seconds of it tell nothing."""
    log = fly(Plan(throttle=np.full(60, 0.8), bank=np.zeros(60)))
    rudder = np.full(log.time.size, np.nan)
    rudder[100:120] = 0.2
    assert read_trim(with_channels(log, rudder=rudder)).figures == ()
