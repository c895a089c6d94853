"""Rules heard at the field, held against the plane."""

from collections.abc import Callable, Mapping
from pathlib import Path

import numpy as np
import pytest

from foamwright.jobs.ask import Settings, opened
from foamwright.questions import balance
from foamwright.questions.answer import Answer
from foamwright.questions.balance_words import (
    THUMB_BAND,
    canard_rule,
    chord_place,
    rule_of_thumb,
)
from foamwright.questions.case import Case

CANARD = """\
name = "Heron 70"
layout = "canard"
[airframe]
foam = "EPP"
bare_mass = "100 g"
bare_balance = { x = "350 mm" }
[[airframe.surfaces]]
name = "wing"
role = "wing"
stations = [
  { y = "0 mm", leading_edge = "300 mm", chord = "160 mm", thickness = "9 %", camber = "2 %" },
  { y = "350 mm", leading_edge = "330 mm", chord = "120 mm", thickness = "9 %", camber = "2 %" },
]
[[airframe.surfaces]]
name = "foreplane"
role = "canard"
stations = [
  { y = "0 mm", leading_edge = "20 mm", chord = "70 mm", thickness = "9 %" },
  { y = "140 mm", leading_edge = "25 mm", chord = "60 mm", thickness = "9 %" },
]
[[items]]
name = "pack"
kind = "pack"
stock = "pack 3S 450"
mass = "41 g"
at = { x = "330 mm" }
reach = { foremost = "300 mm", rearmost = "380 mm" }
[[items]]
name = "the rest"
kind = "allowance"
mass = "110 g"
at = { x = "350 mm" }
"""


@pytest.fixture
def canard(tmp_path: Path) -> Case:
    """Return a canard that balances within 25 to 33 % of its wing's chord."""
    (tmp_path / "plane.toml").write_text(CANARD, encoding="utf-8")
    return opened(tmp_path, Settings(samples=64))[1]


def test_places_on_the_mean_chord(reedling: Case) -> None:
    """80 cm, 150 to 110 mm, tip set back 20 mm: mean chord 131 mm from x = 214.5 mm, by hand."""
    assert chord_place(reedling, 0.0) == pytest.approx(0.2145, abs=1.5e-3)
    assert chord_place(reedling, 1.0) - chord_place(reedling, 0.0) == pytest.approx(0.131, abs=1e-3)


def test_the_rule_of_thumb_is_held_against_the_reach(reedling: Case) -> None:
    """30 % of the mean chord is x = 254 mm; the levers of 41 g in 253 g put the pack near 55 mm."""
    words = rule_of_thumb(reedling)
    assert "outside its reach" in words
    masses = reedling.computed.masses
    centre, mass = (float(np.median(v)) for v in (masses.centre[:, 0], masses.all_up))
    place = 0.120 - (centre - chord_place(reedling, 0.30)) * mass / 0.041
    assert f"{place * 1e3:.1f} mm"[:2] in words
    assert words in balance.answer(reedling).because


def test_the_place_the_rule_names_gives_the_margin_it_names(reedling: Case) -> None:
    """Moved there, the plane has that margin."""
    words = rule_of_thumb(reedling)
    place = words.split("pack at ")[1].split(" mm")[0]
    wide = {"items.pack.reach.foremost": "20 mm", "items.pack.at.x": f"{place} mm"}
    margin = balance.measure(reedling.changed(wide)).named("static_margin").value
    assert margin is not None
    assert margin == pytest.approx(float(words.rsplit(" ", 1)[1].rstrip("%")) / 100, abs=0.008)


@pytest.mark.parametrize("name", ["windrow", "anvil", "saltmarsh"])
def test_no_rule_for_planes_without_a_tail(case: Callable[[str], Case], name: str) -> None:
    """It was never made for them."""
    assert rule_of_thumb(case(name)) == ""


def test_a_canard_balanced_like_a_plane_with_a_tail_is_refused(canard: Case) -> None:
    """Inside 25 to 33 % of the wing's chord: unstable, and the rule is told."""
    centre = float(np.median(canard.computed.masses.centre[:, 0]))
    low, high = (chord_place(canard, share) for share in THUMB_BAND)
    assert low - 5e-3 < centre < high
    answer = balance.answer(canard)
    assert answer.verdict == "no"
    assert "a canard balances ahead of where its wing alone would" in answer.because
    assert "tumbles" in answer.because


def test_a_canard_that_balances_hears_nothing_of_it(canard: Case) -> None:
    """Nor does any other plane."""
    right = canard.changed({"items.the rest.at.x": "187 mm"})
    figures = {f.name: f.value for f in balance.measure(right).figures}
    first, last = figures["cg_forward_limit"], figures["cg_rear_limit"]
    assert first is not None
    assert last is not None
    assert canard_rule(right, (first, last)) == ""


def test_other_planes_hear_nothing_of_canards(
    answers_of: Callable[[str], Mapping[str, Answer]],
) -> None:
    """Not even those that balance too far aft."""
    assert "canard" not in answers_of("saltmarsh")["balance"].because
