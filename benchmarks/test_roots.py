"""Roots of a whole ensemble at once against a loop over its samples, in the same run."""

import time

import numpy as np
from pytest_benchmark.fixture import BenchmarkFixture
from scipy.optimize import brentq

from foamwright.physics.numerics.roots import bracketed_root

SPEEDS = np.linspace(0.1, 2.0, 1024)


def test_a_batch_of_roots_is_five_times_faster_than_a_loop(benchmark: BenchmarkFixture) -> None:
    """1024 equations; the loop calls SciPy's compiled root finder."""
    low, high = np.zeros(SPEEDS.size), np.full(SPEEDS.size, 2.0)
    start = time.perf_counter()
    for speed in SPEEDS:
        brentq(lambda x, speed=speed: np.cos(speed * x) - x, 0.0, 2.0)
    loop = time.perf_counter() - start
    benchmark(bracketed_root, lambda x: np.cos(SPEEDS * x) - x, low, high)
    batch = benchmark.stats.stats.min
    benchmark.extra_info["loop over batch"] = loop / batch
    assert loop > 5.0 * batch
