"""A changed plane against reading its file anew, same run: a search tries hundreds of changes."""

import time
from collections.abc import Callable
from pathlib import Path

from pytest_benchmark.fixture import BenchmarkFixture

from foamwright.plane.document import load
from foamwright.plane.variants import overridden

REEDLING = Path(__file__).parents[1] / "examples" / "reedling"


def best(action: Callable[[], object]) -> float:
    """Return the quickest of seven runs [s]."""
    times = []
    for _ in range(7):
        start = time.perf_counter()
        action()
        times.append(time.perf_counter() - start)
    return min(times)


def test_an_override_against_a_load(benchmark: BenchmarkFixture) -> None:
    """One part moved, stock merged and all checked; the ratio is in `extra_info`."""
    loaded = load(REEDLING)
    moved = benchmark(overridden, loaded, {"items.pack.at.x": "110 mm"})
    assert moved.raw != loaded.raw
    changed = best(lambda: overridden(loaded, {"items.pack.at.x": "110 mm"}))
    benchmark.extra_info["times as fast as a load"] = best(lambda: load(REEDLING)) / changed
