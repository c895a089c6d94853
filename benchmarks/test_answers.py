"""Answers for a whole ensemble against a loop over single planes, in the same run."""

import time
from pathlib import Path

from pytest_benchmark.fixture import BenchmarkFixture

from foamwright.jobs.ask import Asked, Settings, ask

PLANE = Path(__file__).parent.parent / "examples" / "reedling"
SAMPLES, SINGLES = 1024, 12


def asked(samples: int, seed: int) -> Asked:
    """Return all answers from some samples."""
    return ask(PLANE, (), Settings(samples=samples, seed=seed))


def test_all_questions_against_a_loop_of_single_planes(benchmark: BenchmarkFixture) -> None:
    """1024 planes at once, all questions; the loop is timed over 12 planes and scaled to 1024.

    Each pass of the loop reads the plane again, as a script that calls the job would; reading
    alone is timed too, and `without reading` takes it out of the loop but for the first.
    """
    asked(1, 0)
    start = time.perf_counter()
    singles = [asked(1, seed) for seed in range(SINGLES)]
    single = (time.perf_counter() - start) / SINGLES
    reading = reading_time()
    whole = benchmark.pedantic(asked, args=(SAMPLES, 1), rounds=5, warmup_rounds=1)
    batch = benchmark.stats.stats.median
    benchmark.extra_info["one single plane [s]"] = single
    benchmark.extra_info["loop over batch"] = single * SAMPLES / batch
    benchmark.extra_info["without reading"] = ((single - reading) * SAMPLES + reading) / batch
    questions = [answer.question for answer in whole.answers]
    assert all([answer.question for answer in one.answers] == questions for one in singles)


def reading_time() -> float:
    """Return how long it takes to read the plane file and its stock [s]."""
    from foamwright.plane.document import load  # noqa: PLC0415 - only this one needs it

    start = time.perf_counter()
    for _ in range(SINGLES):
        load(PLANE)
    return (time.perf_counter() - start) / SINGLES
