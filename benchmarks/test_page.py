"""A part moved on the page against the same questions asked without it, in the same run.

The command is started as a builder starts it; each answer comes back over the loopback.
"""

import http.client
import itertools
import json
import re
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pytest
from pytest_benchmark.fixture import BenchmarkFixture

from foamwright.jobs.ask import Settings, opened
from foamwright.page.answers import QUICK
from foamwright.questions.register import QUESTIONS

PLANE = Path(__file__).parent.parent / "examples" / "reedling"
LINK = re.compile(r"http://127\.0\.0\.1:(\d+)/")


class Visit:
    """One browser's connection to the page."""

    def __init__(self) -> None:
        """Start the command and wait for its first page."""
        start = time.perf_counter()
        self.server = subprocess.Popen(  # noqa: S603 - our own command
            [sys.executable, "-m", "foamwright", "open", str(PLANE), "--no-browser"],
            stdout=subprocess.PIPE,
            text=True,
        )
        assert self.server.stdout is not None
        found = LINK.search(self.server.stdout.readline())
        assert found is not None
        self.host = f"127.0.0.1:{found[1]}"
        self.line = http.client.HTTPConnection(self.host)
        self.line.request("GET", "/")
        self.line.getresponse().read()
        self.first_page = time.perf_counter() - start

    def post(self, body: object) -> dict[str, object]:
        """Ask and wait for the answer."""
        headers = {"Content-Type": "application/json", "Origin": f"http://{self.host}"}
        self.line.request("POST", "/ask", json.dumps(body), headers)
        answer = self.line.getresponse()
        told: dict[str, object] = json.loads(answer.read())
        assert answer.status == 200, told
        return told

    def close(self) -> None:
        """End the command."""
        self.line.close()
        self.server.terminate()
        self.server.wait()
        if self.server.stdout is not None:
            self.server.stdout.close()


@pytest.fixture
def visit() -> Iterator[Visit]:
    """Open the page."""
    found = Visit()
    yield found
    found.close()


def test_a_move_on_the_page_against_the_questions_alone(
    benchmark: BenchmarkFixture, visit: Visit
) -> None:
    """Fit, weight and balance after the pack moved by a few millimetres."""
    case = opened(PLANE, Settings())[1]
    quick = [question for question in QUESTIONS if question.id in QUICK]
    alone = []
    for place in range(100, 120):
        start = time.perf_counter()
        moved = case.changed({"items.pack.at.x": f"{place} mm"})
        for question in quick:
            question.measure(moved)
        alone.append(time.perf_counter() - start)
    places = itertools.cycle(np.linspace(80.0, 130.0, 97))
    asked = {"questions": list(QUICK)}
    told = benchmark.pedantic(
        lambda: visit.post({**asked, "moves": {"pack": {"x": round(next(places), 1)}}}),
        rounds=100,
        warmup_rounds=5,
    )
    times = np.array(benchmark.stats.stats.data)
    benchmark.extra_info["page over questions alone"] = float(np.median(times) / np.median(alone))
    benchmark.extra_info["95th percentile [ms]"] = 1e3 * float(np.quantile(times, 0.95))
    benchmark.extra_info["start to first page [s]"] = visit.first_page
    assert len(told["lines"]) == len(QUICK)  # type: ignore[arg-type]


def test_all_questions_on_the_page(benchmark: BenchmarkFixture, visit: Visit) -> None:
    """After a change to another plane, so that nothing of the last answer can be used."""
    masses = itertools.count(112)
    asked = {"questions": [question.id for question in QUESTIONS]}
    told = benchmark.pedantic(
        lambda: visit.post({**asked, "trial": {"airframe.bare_mass": f"{next(masses)} ± 1 g"}}),
        rounds=15,
        warmup_rounds=1,
    )
    times = np.array(benchmark.stats.stats.data)
    benchmark.extra_info["95th percentile [ms]"] = 1e3 * float(np.quantile(times, 0.95))
    assert len(told["lines"]) == len(QUESTIONS)  # type: ignore[arg-type]
