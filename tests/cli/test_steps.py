"""The next steps as a terminal shows them."""

import dataclasses

from foamwright.cli.screen import Screen
from foamwright.cli.steps import MOST, asks_for, few, page
from foamwright.jobs.next_step import Next
from foamwright.search.next_step import NextStep, StepEffect

CHANGE = NextStep(
    do="Fit a 5x4 propeller",
    kind="change",
    minutes=5.0,
    mass=0.001,
    price=2.0,
    effect=(StepEffect(question="speed", before=0.5, after=0.9),),
    gain=0.4,
    worth=5.0,
    because="",
)
TEST = dataclasses.replace(CHANGE, do="Weigh it", kind="test", mass=0.0, price=0.0, because="so")


def found(*steps: NextStep) -> Next:
    """Return steps as they were found."""
    return Next(
        plane="Kite",
        variant=None,
        units="metric",
        currency="EUR",
        steps=steps,
        samples=64,
        seed=1,
        seconds=0.1,
    )


def test_what_a_step_takes_is_told_in_short() -> None:
    """Minutes always, grams and money where there are any."""
    assert asks_for(CHANGE, Screen()).startswith("5 min, +1 g, 2.00")
    assert asks_for(TEST, Screen()) == "5 min"


def test_the_best_test_is_always_among_the_few() -> None:
    """It may be worth less for its minutes, but it is what keeps odds honest."""
    steps = (*(dataclasses.replace(CHANGE, do=f"{i}") for i in range(8)), TEST)
    chosen = few(steps)
    assert len(chosen) == MOST
    assert chosen[-1] == TEST
    assert few((TEST, *steps[:3]))[0] == TEST


def test_a_test_tells_what_it_settles() -> None:
    """And which decisions get surer."""
    said = page(Screen(), found(TEST), whole=False)
    assert "decided rightly: speed 50 % → 90 %" in said
    assert "so" in said


def test_nothing_to_do_says_so() -> None:
    """No empty page."""
    assert "Nothing known here" in page(Screen(), found(), whole=False)
