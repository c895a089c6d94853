"""Asking how far slow work is, over the page."""

import threading

import pytest
from tests.page.stage import Visit

from foamwright.page.errands import Step, Told
from foamwright.problems import CallProblem


def test_work_is_told_while_it_goes_on_and_when_it_is_done(visit: Visit) -> None:
    """First what is being done, then what came of it, as often as it is asked."""
    visitor, go, begun = visit(), threading.Event(), threading.Event()

    def work(step: Step) -> Told:
        step("counting <sheep>")
        begun.set()
        go.wait(10)
        return {"sheep": 3}

    errand = visitor.app.state.errands.start("a", 1, work)
    assert begun.wait(10)
    assert visitor.ask("GET", f"/slow/{errand.name}").json() == {
        "errand": errand.name,
        "done": False,
        "doing": "counting <sheep>",
    }
    go.set()
    assert errand.done.wait(10)
    for _ in range(2):
        told = visitor.ask("GET", f"/slow/{errand.name}").json()
        assert told == {"errand": errand.name, "done": True, "told": {"sheep": 3}}


def test_what_went_wrong_is_told_as_any_problem(visit: Visit) -> None:
    """Same words and status as if it had been quick."""
    visitor = visit()

    def work(_: Step) -> Told:
        raise CallProblem("no such flight", expected="another")

    errand = visitor.app.state.errands.start("a", 1, work)
    assert errand.done.wait(10)
    answer = visitor.ask("GET", f"/slow/{errand.name}")
    assert answer.status_code == 400
    assert answer.json()["problem"] == "no such flight; another"


@pytest.mark.parametrize("name", ["nothing", "..%2f..", "x" * 500])
def test_work_nobody_knows_is_gone(visit: Visit, name: str) -> None:
    """As after a restart of the notebook: the tab begins anew."""
    answer = visit().ask("GET", f"/slow/{name}")
    assert answer.status_code in {404, 410}
