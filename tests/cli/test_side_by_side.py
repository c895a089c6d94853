"""Variants side by side on a terminal."""

from pathlib import Path

import pytest

from foamwright.cli.screen import PLAIN_LETTERS, Screen
from foamwright.cli.side_by_side import block, compared_page, signed
from foamwright.jobs.compare import Compared, Difference, Outcome, Row
from foamwright.questions.answer import Figure

MASS = Figure(
    name="all_up_mass",
    label="all-up mass",
    value=0.253,
    low=0.249,
    high=0.257,
    unit="kg",
    limit_high=0.26,
    dimension="mass",
)
LOSS = Figure(
    name="all_up_mass",
    label="all-up mass",
    value=-0.007,
    low=-0.0076,
    high=-0.0064,
    unit="kg",
    dimension="mass",
)


def outcome(variant: str | None, missing: tuple[str, ...] = ()) -> Outcome:
    """Return an answer of one variant."""
    return Outcome(
        variant=variant,
        verdict="open" if missing else "yes",
        probability=None if missing else 0.96,
        figures=(MASS,),
        key_figure=MASS,
        missing=missing,
    )


ROW = Row(
    question="weight",
    asks="Is it light enough?",
    outcomes=(outcome(None), outcome("no GPS")),
    differences=(Difference(variant="no GPS", figure=LOSS, told="less"),),
)
COMPARED = Compared(
    plane="Reedling",
    variants=("no GPS",),
    units="metric",
    currency="EUR",
    samples=64,
    seed=3,
    seconds=0.5,
    rows=(ROW,),
)
PLANE = Path("reedling")

BLOCK = """\
Is it light enough?
   all-up mass, wanted at most 260 g
   as planned ■ yes        96 %   253 g
   no GPS     ■ yes        96 %   253 g less -7.00 g (-7.60 to -6.40)
"""


def test_a_question_is_a_block_with_a_line_a_variant() -> None:
    """Name, mark, verdict, chance, key figure, the difference with its band."""
    assert Screen().set_out(block(Screen(), ROW)) == BLOCK


def test_the_page_says_who_is_compared_and_with_which_luck() -> None:
    """Plane and variants at the head, samples and seed at the foot."""
    page = compared_page(Screen(), COMPARED, PLANE)
    assert page.startswith("Reedling ")
    assert "variant: no GPS" in page
    assert "Odds from 64 planes like yours (seed 3)" in page
    assert 'foamwright ask reedling --variant "no GPS"' in page


def test_an_open_question_says_what_it_needs() -> None:
    """Nothing is made up for a variant whose answer is open."""
    row = Row(
        question="weight",
        asks="Is it light enough?",
        outcomes=(outcome(None), outcome("bare", ("items.pack.mass",))),
        differences=(),
    )
    page = Screen().set_out(block(Screen(), row))
    assert "needs items.pack.mass" in page
    assert "open" in page


@pytest.mark.parametrize(
    ("told", "shown"),
    [("same", "the same"), ("cannot tell", "cannot tell -7.00 g"), ("more", "more -7.00 g")],
)
def test_every_word_is_shown(told: str, shown: str) -> None:
    """Where nothing changes no number is shown."""
    change = Difference(variant="no GPS", figure=LOSS, told=told)  # type: ignore[arg-type]
    row = Row(question="w", asks="Is it?", outcomes=ROW.outcomes, differences=(change,))
    assert shown in Screen().set_out(block(Screen(), row))


@pytest.mark.parametrize("width", [48, 60, 80, 96])
def test_no_line_is_wider_than_the_terminal(width: int) -> None:
    """A long name of a variant is folded, not cut."""
    name = "the one with the longer wing, the other pack and no GPS"
    row = Row(
        question="weight",
        asks="Is it light enough?",
        outcomes=(outcome(None), outcome(name)),
        differences=(Difference(variant=name, figure=LOSS, told="less"),),
    )
    page = Screen(width=width).set_out(block(Screen(width=width), row))
    assert max(len(line) for line in page.splitlines()) <= width
    assert "GPS" in page


def test_differences_have_a_sign_and_no_zero_of_a_scale() -> None:
    """Five kelvin more are 5 degrees more, not -268; a share changes by points."""
    assert signed(Screen(), 5.0, "temperature", unit=True) == "+5.00 °C"
    assert signed(Screen(units="imperial"), 5.0, "temperature", unit=True) == "+9.00 °F"
    assert signed(Screen(), -0.012, "fraction", unit=True) == "-1.20 points"
    assert signed(Screen(), 0.0, "mass", unit=True) == "0 g"


def test_plain_letters_are_enough() -> None:
    """Marks give way to letters where a terminal has only those."""
    screen = Screen(signs=False)
    assert compared_page(screen, COMPARED, PLANE).translate(PLAIN_LETTERS).isascii()
