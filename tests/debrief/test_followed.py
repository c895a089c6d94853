"""The memory of a wanted rate."""

import numpy as np
import pytest
from scipy.signal import lfilter

from foamwright.debrief.even import Run
from foamwright.debrief.followed import before, memory, sums_of, without

ANSWER = 0.3 * np.exp(-np.arange(20) / 4.0)
"""What a rate makes of the wanted rates of twenty rows."""


def run(rows: int = 2000, noise: float = 0.0, seed: int = 1) -> Run:
    """Return wanted rates and what follows them."""
    random = np.random.default_rng(seed)
    wanted = np.repeat(random.normal(size=rows // 10 + 1), 10)[:rows]
    rate = lfilter(ANSWER, [1.0], wanted) + noise * random.normal(size=rows) + 0.7
    return Run(time=np.arange(float(rows)) * 0.01, channels={"wanted": wanted, "rate": rate})


def test_rows_before_run_backwards() -> None:
    """The newest wanted rate comes first."""
    assert before(np.arange(5.0), 3).tolist() == [[2, 1, 0], [3, 2, 1], [4, 3, 2]]


def test_the_memory_is_that_of_the_filter() -> None:
    """Found within the little that the ridge takes off."""
    sums = sums_of(run(), "wanted", "rate", 20)
    assert sums is not None
    assert memory(sums) == pytest.approx(ANSWER, abs=0.01)


def test_nothing_is_left_of_what_only_follows() -> None:
    """A thousandth of the variance, after the first rows, whose memory is not known."""
    part = run()
    sums = sums_of(part, "wanted", "rate", 20)
    assert sums is not None
    left = without(part, "wanted", "rate", memory(sums))
    assert left[20:].var() < 1e-3 * part.channels["rate"].var()
    assert left.mean() == pytest.approx(0.0, abs=1e-9)


def test_what_does_not_follow_is_left() -> None:
    """Noise stays as large as it was."""
    part = run(noise=0.5)
    sums = sums_of(part, "wanted", "rate", 20)
    assert sums is not None
    assert without(part, "wanted", "rate", memory(sums)).std() == pytest.approx(0.5, rel=0.05)


def test_sums_of_two_runs_add_up() -> None:
    """Two halves together know the memory as well as the whole."""
    parts = [sums_of(run(seed=seed), "wanted", "rate", 20) for seed in (3, 4)]
    assert parts[0] is not None
    assert parts[1] is not None
    both = memory(parts[0] + parts[1])
    assert np.abs(both - ANSWER).max() < 0.01


def test_a_short_run_has_no_sums() -> None:
    """Forty rows are wanted for a memory of twenty."""
    assert sums_of(run(39), "wanted", "rate", 20) is None
    assert sums_of(run(40), "wanted", "rate", 20) is not None


def test_nothing_wanted_is_nothing_remembered() -> None:
    """A wanted rate that stands still has no memory."""
    part = run()
    still = Run(time=part.time, channels={**part.channels, "wanted": np.ones(part.time.size)})
    sums = sums_of(still, "wanted", "rate", 20)
    assert sums is not None
    assert memory(sums).tolist() == [0.0] * 20
