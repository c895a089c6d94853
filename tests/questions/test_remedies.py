"""Remedies are recomputed, help, and come best first."""

from collections.abc import Callable, Mapping

import pytest

from foamwright.questions import balance, cost, electrics, landing, speed, weight
from foamwright.questions.case import Case, Measured
from foamwright.questions.register import QUESTIONS
from foamwright.questions.remedies import (
    LEAST_GAIN,
    MOST,
    Change,
    effect,
    from_to,
    tried,
    whole,
)

Named = Callable[[str], Case]
LIGHTER: Mapping[str, object] = {"items.GPS": None}
HEAVIER: Mapping[str, object] = {"items.GPS.mass": "30 ± 1 g"}


def doubtful(case: Named) -> Case:
    """Return the glider with a mass line at its middle."""
    return case("reedling").changed({"targets.mass_line": "252 g"})


def test_the_effect_told_is_the_effect_of_the_keys(case: Named) -> None:
    """Applying the change by hand gives the chance and the figure the remedy states."""
    plane = doubtful(case)
    (remedy,) = tried(plane, [Change(do="x", keys=LIGHTER)], weight.measure, ("all_up_mass",))
    after = weight.measure(plane.changed(LIGHTER))
    before = weight.measure(plane)
    assert [entry.figure for entry in remedy.effect] == ["probability", "all_up_mass"]
    assert [entry.before for entry in remedy.effect] == [
        before.probability,
        before.named("all_up_mass").value,
    ]
    assert [entry.after for entry in remedy.effect] == [
        after.probability,
        after.named("all_up_mass").value,
    ]


def test_what_does_not_help_is_not_offered(case: Named) -> None:
    """23 g more, and a change of nothing."""
    changes = [Change(do="x", keys=HEAVIER), Change(do="y", keys={"items.pack.note": "red"})]
    assert tried(doubtful(case), changes, weight.measure, ("all_up_mass",)) == ()


def test_a_change_that_is_no_plane_is_left_out(case: Named) -> None:
    """A pack nobody makes, and a part far outside the foam; the good one stays."""
    changes = [
        Change(do="x", keys={"items.pack.stock": "pack 9S nothing"}),
        Change(do="y", keys={"items.GPS.at.x": "2900 mm"}),
        Change(do="z", keys=LIGHTER),
    ]
    found = tried(doubtful(case), changes, weight.measure, ("all_up_mass",))
    assert [remedy.do for remedy in found] == ["z"]


def test_the_best_comes_first_and_no_more_than_three(case: Named) -> None:
    """GPS 7 g, rods 14 g, camera 3.5 g, video 4 g, receiver 2 g: the rods gain most."""
    names = ("GPS", "camera", "carbon rods", "video transmitter", "receiver")
    changes = [Change(do=name, keys={f"items.{name}": None}) for name in names]
    found = tried(doubtful(case), changes, weight.measure, ())
    assert [remedy.do for remedy in found] == ["carbon rods", "GPS", "video transmitter"]
    assert len(found) == MOST


def test_nothing_is_offered_where_nothing_is_asked_or_all_is_well(case: Named) -> None:
    """No mass line: open, no remedy. A line of 400 g: certain, no remedy."""
    change = [Change(do="x", keys=LIGHTER)]
    for line in (None, "400 g"):
        plane = case("reedling").changed({"targets.mass_line": line})
        assert tried(plane, change, weight.measure, ()) == ()


def test_an_effect_names_the_chance_first_with_its_units(case: Named) -> None:
    """The chance as a share, then the figures with their own dimension."""
    measured: Measured = weight.measure(case("reedling"))
    first, second = effect(measured, measured, ("wing_loading",))
    assert (first.figure, first.dimension) == ("probability", "fraction")
    assert (second.figure, second.dimension) == ("wing_loading", "wing loading")
    assert second.before == second.after


@pytest.mark.parametrize(
    ("module", "keys"),
    [
        (weight, {"targets.mass_line": "250 g"}),
        (speed, {"targets.top_speed": "27 m/s"}),
        (landing, {"targets.stall_speed": "6.5 m/s"}),
        (cost, {"targets.budget": "100 EUR"}),
        (electrics, {"items.ESC.cooling": "buried", "items.propeller.stock": "propeller 6x4"}),
        (balance, {"items.pack.reach": {"foremost": "118 mm", "rearmost": "150 mm"}}),
    ],
)
def test_every_question_offers_only_what_gains(
    case: Named,
    module: object,
    keys: Mapping[str, object],
) -> None:
    """At least two points of chance, falling, at most three of them."""
    answer = module.answer(case("reedling").changed(keys))  # type: ignore[attr-defined]  # a module
    gains = [(r.effect[0].after or 0.0) - (r.effect[0].before or 0.0) for r in answer.remedies]
    assert 1 <= len(gains) <= MOST
    assert gains == sorted(gains, reverse=True)
    assert min(gains) >= LEAST_GAIN


@pytest.mark.parametrize("name", ["fit", "balance"])
def test_in_inches_no_sentence_speaks_of_millimetres(reedling: Case, name: str) -> None:
    """Reasons, rules and remedies are in the units the plane is told in; what is bought is not."""
    tail_heavy = {"items.GPS.mass": "40 g", "items.pack.lies": "flat", "units": "imperial"}
    answer = {question.id: question for question in QUESTIONS}[name].answer(
        reedling.changed(tail_heavy)
    )
    told = [answer.because, *(rule.says for rule in answer.rules), *(r.do for r in answer.remedies)]
    assert answer.remedies
    for words in told:
        assert " mm" not in words.replace("1.5 mm carbon", ""), words
        assert " g " not in words, words


def test_whole_millimetres_and_inches() -> None:
    """A place in a remedy is as fine as a ruler."""
    assert whole(0.0123, "length", "metric") == "12 mm"
    assert whole(0.0427, "mass", "metric") == "43 g"
    assert whole(0.0254, "length", "imperial") == "1.00 in"
    assert from_to(0.35, 0.187, "metric") == "350 to 187 mm"
    assert from_to(0.0254, 0.0508, "imperial") == "1.00 in to 2.00 in"
