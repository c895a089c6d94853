"""Slow work: begun once for a key, one after the other in its lane, what goes wrong is kept."""

import threading
from collections.abc import Callable

import pytest

from foamwright.page.errands import KEPT, LONGEST, Errand, Errands, Step, Told
from foamwright.problems import CallProblem

PATIENCE = 10.0


def finished(errand: Errand) -> Errand:
    """Wait for an errand."""
    assert errand.done.wait(PATIENCE)
    return errand


def quick(told: Told) -> Callable[[Step], Told]:
    """Return work that is done at once."""
    return lambda _: told


def test_what_work_tells_is_kept() -> None:
    """The result is there for whoever asks by the errand's name."""
    errands = Errands()
    errand = finished(errands.start("a", 1, quick({"answer": 42})))
    assert errands.named(errand.name) is errand
    assert errand.told == {"answer": 42}
    assert not errand.failed()


def test_the_same_key_is_worked_once() -> None:
    """A second request for the same work gets the first one's result, also while it goes on."""
    errands, go, begun = Errands(), threading.Event(), []

    def work(_: Step) -> Told:
        begun.append(1)
        go.wait(PATIENCE)
        return {}

    first = errands.start("a", "key", work)
    second = errands.start("a", "key", work)
    go.set()
    assert first is second
    finished(first)
    assert errands.start("a", "key", work) is first
    assert begun == [1]


def test_other_keys_and_other_lanes_are_other_work() -> None:
    """A key belongs to its lane."""
    errands = Errands()
    names = {errands.start(lane, key, quick({})).name for lane in ("a", "b") for key in ("x", "y")}
    assert len(names) == 4


def test_a_lane_works_one_after_the_other() -> None:
    """The second waits and says so; another lane does not wait."""
    errands, go, started = Errands(), threading.Event(), threading.Event()

    def slow(step: Step) -> Told:
        step("thinking")
        started.set()
        go.wait(PATIENCE)
        return {}

    first = errands.start("a", 1, slow)
    assert started.wait(PATIENCE)
    second = errands.start("a", 2, quick({}))
    other = finished(errands.start("b", 1, quick({})))
    assert other.told == {}
    assert (first.doing, second.doing) == ("thinking", "waiting for other work")
    assert not second.done.is_set()
    go.set()
    finished(second)


def test_work_that_went_wrong_is_begun_anew_when_asked_again() -> None:
    """The problem is kept with its errand, but is no answer for the next one who asks."""
    errands = Errands()

    def wrong(_: Step) -> Told:
        raise CallProblem("no such thing")

    failed = finished(errands.start("a", 1, wrong))
    assert str(failed.problem) == "no such thing"
    assert finished(errands.start("a", 1, quick({}))).told == {}


def test_a_fault_of_ours_is_kept_too() -> None:
    """It is raised where it is asked for, so it stands in the log of the server."""
    failed = finished(Errands().start("a", 1, lambda _: {"x": 1 / 0}))
    assert isinstance(failed.fault, ZeroDivisionError)
    assert failed.failed()


def test_only_so_many_are_remembered_and_none_under_way_is_forgotten() -> None:
    """The oldest that are done go first."""
    errands, go = Errands(), threading.Event()

    def slow(_: Step) -> Told:
        go.wait(PATIENCE)
        return {}

    running = errands.start("slow", 0, slow)
    done = [finished(errands.start("a", key, quick({}))) for key in range(3 * KEPT)]
    assert errands.named(running.name) is running
    assert errands.named(done[0].name) is None
    assert errands.named(done[-1].name) is done[-1]
    go.set()


@pytest.mark.parametrize("words", ["short", "x" * 1000])
def test_a_step_is_one_short_line(words: str) -> None:
    """However long the name of a part."""
    errand = Errand("key")
    errand.step(words)
    assert errand.doing == words[:LONGEST]
