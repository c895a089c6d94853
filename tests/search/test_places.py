"""The placing problem of a plane."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from foamwright.jobs.place import solved
from foamwright.problems import CallProblem
from foamwright.questions.case import Case
from foamwright.questions.fit_checks import checks
from foamwright.search.places import crowd, movable_items, problem_of, spots
from foamwright.search.placing import PlacingProblem, cost_of, is_free

LOOSE = ("receiver", "ESC", "flight controller", "video transmitter")


def asked(case: Case, free: tuple[str, ...]) -> PlacingProblem:
    """Return the placing problem, which has one."""
    problem, refused = problem_of(case, free)
    assert refused == ()
    assert problem is not None
    return problem


def keys_of(problem: PlacingProblem, choice: tuple[int, ...]) -> dict[str, object]:
    """Return the keys of a choice."""
    keys: dict[str, object] = {}
    for part, index in zip(problem.parts, choice, strict=True):
        keys |= part.options[index].keys
    return keys


def broken(case: Case) -> list[str]:
    """Return the hard rules that the plane as drawn breaks."""
    return [c.told.says for c in checks(case) if c.told.must and not c.told.holds]


@settings(max_examples=12, deadline=None)
@given(
    free=st.sets(st.sampled_from(LOOSE)),
    pack=st.integers(60, 150),
    receiver=st.integers(120, 400),
)
def test_no_placement_ever_breaks_a_rule_that_fit_checks(
    reedling: Case, free: set[str], pack: int, receiver: int
) -> None:
    """Whatever is movable and wherever it is drawn: skin, overlap, hatch, propeller all hold."""
    case = reedling.changed(
        {"items.pack.at.x": f"{pack} mm", "items.receiver.at.x": f"{receiver} mm"}
    )
    problem, refused = problem_of(case, tuple(sorted(free | {"receiver"})))
    if problem is None:
        assert refused
        return
    try:
        choice, _ = solved(problem, 1.0, solver=False)
    except CallProblem:
        return
    placed = case.changed(keys_of(problem, choice))
    assert broken(placed) == []


def test_the_solver_breaks_no_rule_either(reedling: Case) -> None:
    """The same check on what the solver returns."""
    problem = asked(reedling, LOOSE)
    choice, how = solved(problem, 20.0, solver=True)
    assert how == "proven best"
    assert broken(reedling.changed(keys_of(problem, choice))) == []


def test_what_the_problem_says_of_balance_is_what_the_question_says(reedling: Case) -> None:
    """The centre of the chosen places, within half a millimetre."""
    problem = asked(reedling, LOOSE)
    choice, _ = solved(problem, 1.0, solver=False)
    centre = np.median(reedling.changed(keys_of(problem, choice)).computed.masses.centre[:, 0])
    assert cost_of(problem, choice).centre == pytest.approx(centre, abs=5e-4)
    assert is_free(problem, choice)


def test_the_drawn_place_comes_first(reedling: Case) -> None:
    """So that nothing is moved for nothing."""
    pack = next(i for i in reedling.plane.items if i.name == "pack")
    first, words = next(spots(reedling, pack, free=False))
    assert first == pack.at
    assert words.startswith("stays")


def test_other_places_are_taken_from_the_plane_file(reedling: Case) -> None:
    """A receiver that could sit in the tail."""
    places = [{"x": "420 mm", "z": "-5 mm"}, {"x": "300 mm"}]
    case = reedling.changed({"items.receiver.places": places})
    receiver = next(i for i in case.plane.items if i.name == "receiver")
    found = [place.x.value for place, _ in spots(case, receiver, free=False)]
    assert found == pytest.approx([0.180, 0.420, 0.300])
    assert "receiver" in {item.name for item in movable_items(case, ())}


def test_a_part_with_no_place_says_which_rule_binds(reedling: Case) -> None:
    """A pack 40 mm across both ways fits nowhere in a body of 34."""
    size = {"length": "60 mm", "width": "40 mm", "height": "40 mm"}
    problem, refused = problem_of(reedling.changed({"items.pack.size": size}))
    assert problem is None
    assert refused[0].name == "pack"
    assert "skin" in refused[0].why or "hatch" in refused[0].why


def test_parts_that_cannot_all_have_room_are_named(reedling: Case) -> None:
    """Two packs in a bay for one."""
    twin = {
        "kind": "pack",
        "stock": "pack 3S 450",
        "mass": "41 g",
        "lies": "on edge",
        "at": {"x": "110 mm"},
        "reach": {"foremost": "100 mm", "rearmost": "120 mm"},
    }
    keys: dict[str, object] = {
        "items.second pack": twin,
        "items.pack.reach": {"foremost": "100 mm", "rearmost": "120 mm"},
    }
    problem = asked(reedling.changed(keys), ())
    assert crowd(problem) == ("pack", "second pack")
    with pytest.raises(CallProblem, match="pack and second pack cannot all have room"):
        solved(problem, 1.0, solver=False)


@pytest.mark.parametrize(
    ("free", "said"),
    [(("no such",), "no item 'no such'"), (("propeller",), "where the airframe wants it")],
)
def test_what_cannot_be_freed_is_told(reedling: Case, free: tuple[str, ...], said: str) -> None:
    """A name nobody knows, a part that has no choice."""
    with pytest.raises(CallProblem, match=said):
        movable_items(reedling, free)


def test_a_plane_in_which_nothing_moves_is_told(reedling: Case) -> None:
    """And how to let something move."""
    with pytest.raises(CallProblem, match="nothing may be moved"):
        movable_items(reedling.changed({"items.pack.reach": None}), ())
