"""The best next step against the same changes each computed from nothing, in the same run.

A change takes over what comes out the same, asks only for chances, and flies only who steers. The
other way is a loop as a script would write it: every changed plane made anew, with the same luck,
and every question measured with all its figures.
"""

import dataclasses
import time
from pathlib import Path

import pytest
from pytest_benchmark.fixture import BenchmarkFixture

from foamwright.jobs.ask import Settings, opened
from foamwright.model.computable import ComputablePlane
from foamwright.plane.document import LoadedPlane
from foamwright.plane.variants import overridden
from foamwright.problems import InputProblem
from foamwright.questions.case import Case
from foamwright.questions.register import QUESTIONS
from foamwright.search.candidates import candidates
from foamwright.search.next_step import LEFT_OUT, next_steps, outcome

EXAMPLES = Path(__file__).parent.parent / "examples"


def from_nothing(loaded: LoadedPlane, case: Case) -> dict[str, dict[str, float]]:
    """Return all chances by change, every plane made anew."""
    found = {}
    for candidate in candidates(case):
        try:
            changed = overridden(loaded, candidate.keys)
        except InputProblem:
            continue
        plane = ComputablePlane(changed, case.computed.draws)
        fresh = dataclasses.replace(case, plane=changed.plane, computed=plane)
        told = {q.id: q.measure(fresh).probability for q in QUESTIONS if q.id not in LEFT_OUT}
        found[candidate.do] = {name: p for name, p in told.items() if p is not None}
    return found


@pytest.mark.parametrize("name", ["anvil", "reedling"])
def test_the_best_next_step_against_planes_from_nothing(
    benchmark: BenchmarkFixture, name: str
) -> None:
    """All candidates through all questions; both ways tell the same chances."""
    loaded, case = opened(EXAMPLES / name, Settings())
    start = time.perf_counter()
    found = from_nothing(loaded, case)
    alone = time.perf_counter() - start
    steps = benchmark.pedantic(
        next_steps,
        setup=lambda: ((opened(EXAMPLES / name, Settings())[1],), {}),
        rounds=3,
        warmup_rounds=1,
    )
    benchmark.extra_info["changes"] = len(found)
    benchmark.extra_info["from nothing [s]"] = alone
    benchmark.extra_info["from nothing over next"] = alone / benchmark.stats.stats.median
    assert steps
    for candidate in candidates(case)[:2]:
        shared = outcome(case.changed(candidate.keys)).measured
        assert {n: m.probability for n, m in shared.items()} == found[candidate.do]
