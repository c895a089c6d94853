"""Clocks with faults."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from foamwright.debrief.clock import (
    gaps_in,
    longest_piece,
    packed_clock,
    running,
    spread_out,
    units_that_fit,
    usual_step,
)

EVEN = np.arange(0.0, 100.0, 0.1)


@pytest.mark.parametrize(("scale", "unit"), [(1.0, "s"), (1e3, "ms"), (1e6, "us"), (1e9, "ns")])
def test_ticks_are_a_flight_in_one_unit_only(scale: float, unit: str) -> None:
    """Ten rows a second for 100 s."""
    assert units_that_fit(EVEN * scale) == (unit,)


def test_an_even_clock_has_no_gaps() -> None:
    """And nothing to tell."""
    found = running(EVEN)
    assert found.gaps == ()
    assert found.told == ()
    assert found.step == pytest.approx(0.1)
    assert found.time.size == EVEN.size


def test_missing_rows_are_a_gap() -> None:
    """From the last row before to the first after."""
    found = running(np.concatenate((EVEN[:200], EVEN[225:])))
    assert len(found.gaps) == 1
    assert (found.gaps[0].start, found.gaps[0].end) == pytest.approx((19.9, 22.5))


def test_one_missing_row_is_a_gap_and_jitter_is_none() -> None:
    """Steps that vary by a third miss nothing; a step of two does."""
    random = np.random.default_rng(1)
    jittered = EVEN + random.uniform(-0.015, 0.015, EVEN.size)
    assert gaps_in(jittered, usual_step(jittered)) == ()
    assert len(gaps_in(np.delete(EVEN, 50), 0.1)) == 1


def test_repeats_and_steps_back_are_left_out_and_told() -> None:
    """The clock rises in what is kept."""
    ticks = np.insert(EVEN, 100, EVEN[99])
    ticks[300] = ticks[295]
    found = running(ticks)
    assert (np.diff(found.time) > 0).all()
    assert found.time.size == EVEN.size - 1
    assert any("repeat" in line for line in found.told)
    assert any("before the row above" in line for line in found.told)


def test_a_clock_that_starts_anew_keeps_its_longest_piece() -> None:
    """A reset is told with the rows that are kept."""
    found = running(np.concatenate((EVEN[:300], EVEN)))
    assert found.time.size == EVEN.size
    assert found.rows[0] == 300
    assert "starts anew once:" in found.told[0]
    twice = running(np.concatenate((EVEN[:200], EVEN[:300], EVEN)))
    assert "starts anew 2 times:" in twice.told[0]
    assert longest_piece(EVEN, 0.1) == (slice(0, EVEN.size), 1)


def test_a_coarse_clock_is_spread_evenly() -> None:
    """Ten rows in each whole second."""
    found = running(np.floor(EVEN + 1e-9))
    assert found.step == pytest.approx(0.1)
    assert found.time.size == EVEN.size
    assert "coarser" in found.told[0]
    assert spread_out(np.array([0.0, 0.0, 1.0, 1.0]), 1.0)[0] == pytest.approx([0, 0.5, 1, 1.5])


def test_a_clock_that_grows_coarse_is_spread_where_it_is() -> None:
    """25 rows a second in six digits: beyond 1000 s two or three rows share a tenth."""
    fine = np.arange(990.0, 1010.0, 0.04)
    found = running(np.array([float(f"{value:.5g}") for value in fine]))
    assert found.time.size == fine.size
    assert found.gaps == ()
    assert np.abs(found.time - (fine - fine[0])).max() < 0.06


def test_rows_without_a_time_are_left_out() -> None:
    """They are counted."""
    ticks = EVEN.copy()
    ticks[5:8] = np.nan
    assert running(ticks).told == ("3 rows have no time and are left out",)


def test_a_packed_clock_is_hours_minutes_seconds() -> None:
    """123458 is followed by 123459, then 123500."""
    found = packed_clock(np.array([123458.0, 123459.0, 123500.0, 123501.0]))
    assert found is not None
    assert found == pytest.approx(np.array([0, 1, 2, 3]) + 12 * 3600 + 34 * 60 + 58)
    assert packed_clock(np.array([10.0, 20.0, 30.0, 90.0])) is None
    assert packed_clock(EVEN) is None


@given(st.lists(st.floats(0.0, 1e4) | st.just(float("nan")), min_size=2, max_size=60))
def test_whatever_the_ticks_time_rises_in_what_is_kept(ticks: list[float]) -> None:
    """Sorted or not, with holes or repeats."""
    found = running(np.array(ticks))
    assert (np.diff(found.time) > 0).all() or found.time.size < 2
    assert found.rows.size == found.time.size
