"""A placing as a terminal shows it."""

import dataclasses
from pathlib import Path

import pytest

from foamwright.cli.placed import PROOF, page
from foamwright.cli.screen import Screen
from foamwright.jobs.place import Chances, How, Move, Placed
from foamwright.search.placing import PlacingCost

COST = PlacingCost(centre=0.26, ballast=0.004, wire=0.5, unkept=1, moved=0.0, total=300.0)
FOUND = Placed(
    plane="Kite",
    variant=None,
    how="proven best",
    moves=(Move(item="pack", words="to 100 mm", moved=0.02),),
    keys={"items.pack.at.x": "100 mm"},
    before=COST,
    after=dataclasses.replace(COST, ballast=0.0, unkept=0),
    aim=0.26,
    chance_before=Chances(balance=0.5, fit=None),
    chance_after=Chances(balance=0.9, fit=0.8),
    kept=None,
    seconds=0.1,
)


@pytest.mark.parametrize("how", PROOF)
def test_every_proof_has_its_sentence(how: How) -> None:
    """A plain search says that it is one."""
    said = page(Screen(), dataclasses.replace(FOUND, how=how), Path("kite"))
    assert PROOF[how][:30] in said


def test_an_open_question_stays_open() -> None:
    """No chance is made up."""
    said = page(Screen(), FOUND, Path("kite"))
    assert "open" in said
    assert "80 %" in said


def test_a_plane_that_overlaps_as_drawn_says_so() -> None:
    """There is no cost to compare with."""
    said = page(Screen(), dataclasses.replace(FOUND, before=None), Path("kite"))
    assert "overlaps" in said
