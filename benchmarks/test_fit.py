"""Fit after one part moved, against the fit of a plane nobody has looked at, in the same run."""

import itertools
import time
from pathlib import Path

from pytest_benchmark.fixture import BenchmarkFixture

from foamwright.jobs.ask import Settings, opened
from foamwright.questions import fit
from foamwright.questions.case import Case, Measured

PLANE = Path(__file__).parent.parent / "examples" / "reedling"


def moved(case: Case, place: int) -> Measured:
    """Return the fit with the receiver moved."""
    return fit.measure(case.changed({"items.receiver.at.x": f"{place} mm"}))


def test_one_move_against_a_new_plane(benchmark: BenchmarkFixture) -> None:
    """The plane has 14 parts; reading and checking the changed plane is in the time."""
    start = time.perf_counter()
    case = opened(PLANE, Settings())[1]
    opening = time.perf_counter() - start
    start = time.perf_counter()
    fit.measure(case)
    first = time.perf_counter() - start
    places = itertools.cycle(range(170, 186))
    found = benchmark(lambda: moved(case, next(places)))
    benchmark.extra_info["first fit over fit after a move"] = first / benchmark.stats.stats.median
    benchmark.extra_info["opening the plane [s]"] = opening
    assert found.named("skin_min").value is not None
