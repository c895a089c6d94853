"""Answers as they look on a terminal."""

import re
import unicodedata
from dataclasses import replace

import pytest

from foamwright.cli import screen
from foamwright.cli.screen import MARKS, Heading, Odds, Screen
from foamwright.questions.answer import Answer, Effect, Figure, Remedy, RuleCheck, Share

MARGIN = Figure(
    name="static_margin",
    label="static margin",
    value=0.102,
    low=0.07,
    high=0.131,
    unit="-",
    limit_low=0.08,
    limit_high=0.15,
    dimension="fraction",
)
CENTRE = Figure(
    name="cg_x",
    label="centre of gravity from the nose",
    value=0.264,
    low=0.261,
    high=0.267,
    unit="m",
    dimension="length",
)
BALANCE = Answer(
    question="balance",
    asks="Does it balance with the pack where I can reach it?",
    verdict="likely",
    probability=0.863,
    figures=(MARGIN, CENTRE),
    because="The pack would have to sit at 120 mm.",
    assumed=("wing: camber not measured, 2% of the chord",),
    carried_by=(Share(input="mass of pack", share=0.61),),
    remedies=(
        Remedy(
            do="Glue 5 g of ballast at x = 10 mm",
            effect=(
                Effect(figure="probability", before=0.863, after=0.97),
                Effect(
                    figure="static_margin",
                    before=0.102,
                    after=0.121,
                    label="static margin",
                    dimension="fraction",
                ),
            ),
        ),
    ),
    cautions=("Do not cut pockets yet: foam cannot be uncut.",),
)
COST = Answer(
    question="cost",
    asks="What does it cost?",
    verdict="open",
    probability=None,
    figures=(),
    because="",
    missing=("targets.budget",),
)
HEADING = Heading(plane="Reedling", seconds=0.84)
ODDS = Odds(samples=1024, seed=7, call="foamwright ask reedling")

NOTEBOOK = """\
Reedling                                                              as planned
────────────────────────────────────────────────────────────────────────────────

 ◧ Does it balance with the pack where I can reach it?             likely   86 %
   static margin 10.2 %  (7.00–13.1 %)  wanted 8.00–15.0 %    ·━━├━━━●━━━━━───┤·
   The pack would have to sit at 120 mm.

 ◌ What does it cost?                                                open
   needs targets.budget

────────────────────────────────────────────────────────────────────────────────
Odds from 1024 planes like yours (seed 7), in 0.8 s; eight in ten lie inside a
band.
Propellers cut, packs burn, planes fall: keep people clear, have someone with
you, and check the law in force where you fly.
Look into one:  foamwright ask reedling balance
"""


def test_the_page_is_one_block_a_question() -> None:
    """Mark, sentence, word, chance; the key figure with band and limit; why, or what is missing."""
    assert Screen().answers((BALANCE, COST), HEADING, ODDS) == NOTEBOOK


def test_one_question_opens_in_full() -> None:
    """All figures, what carries the spread, what to try with its effect, assumed, cautions."""
    page = Screen().answers((BALANCE,), HEADING, ODDS, opened=True)
    for text in (
        "centre of gravity from the nose   264 mm   261–267 mm",
        "mass of pack  61 %",
        "Glue 5 g of ballast at x = 10 mm",
        "chance 86 % → 97 %",
        "static margin 10.2 % → 12.1 %",
        "wing: camber not measured",
        "Do not cut pockets yet",
    ):
        assert text in page
    assert page.count("●") == 2  # the figure that has a limit, and the legend
    assert "Look into one" not in page


def test_a_long_reason_is_cut_on_the_page_and_whole_when_opened() -> None:
    """Two lines on the page of all questions; every word where one is opened."""
    long = replace(BALANCE, because="because of this and that, " * 20 + "at last.")
    page = Screen().answers((long, COST), HEADING, ODDS)
    assert "at last." not in page
    assert page.count("this and that") <= 7
    assert " ...\n" in page
    assert "at last." in Screen().answers((long,), HEADING, ODDS, opened=True)


def test_a_band_about_nothing_has_no_dash_for_a_sign() -> None:
    """From -1.2 to 1.3 mm is written with a word between."""
    lateral = replace(CENTRE, value=0.0, low=-0.0012, high=0.0013)
    assert "-1.20 mm to 1.30 mm" in Screen().spread(lateral)


def test_an_open_question_lists_what_it_needs() -> None:
    """What has to be told first is listed, not a figure made up."""
    page = Screen().answers((COST,), HEADING, ODDS, opened=True)
    assert "Needed first" in page
    assert "- targets.budget" in page


@pytest.mark.parametrize("signs", [True, False])
def test_every_verdict_has_a_shape_of_its_own(signs: bool) -> None:  # noqa: FBT001
    """Without any colour the six verdicts are told apart by mark and by word."""
    marks = [mark[0 if signs else 1] for mark in MARKS.values()]
    assert len(set(marks)) == 6
    for verdict in MARKS:
        page = Screen(signs=signs).answers((replace(BALANCE, verdict=verdict),), HEADING, ODDS)
        assert MARKS[verdict][0 if signs else 1] in page
        assert re.search(rf"\b{verdict}\b", page)


def test_no_ink_means_no_escape() -> None:
    """Without colour the page is plain text; with it the same text, inked."""
    plain = Screen().answers((BALANCE, COST), HEADING, ODDS)
    inked = Screen(colour=True).answers((BALANCE, COST), HEADING, ODDS)
    assert "\x1b" not in plain
    assert "\x1b[" in inked
    bare = re.sub(r"\x1b\[[\d;]*m", "", inked)
    assert [line.rstrip() for line in bare.splitlines()] == plain.splitlines()


@pytest.mark.parametrize("width", [48, 60, 80, 96])
@pytest.mark.parametrize("opened", [True, False])
def test_no_line_is_wider_than_the_terminal(width: int, opened: bool) -> None:  # noqa: FBT001
    """Long sentences are wrapped at words, at any width."""
    long = replace(BALANCE, because="A long reason that goes on and on. " * 8)
    page = Screen(width=width).answers((long, COST), HEADING, ODDS, opened=opened)
    assert max(len(line) for line in page.splitlines()) <= width
    assert "Does it balance" in page


def test_a_page_in_plain_letters_is_plain() -> None:
    """Where a terminal has only ASCII, marks and bands are drawn with it."""
    page = Screen(signs=False).answers((BALANCE, COST), HEADING, ODDS, opened=True)
    drawn = page.translate(screen.PLAIN_LETTERS)
    assert drawn.isascii()
    assert "[/]" in drawn
    assert "=" in drawn
    assert "->" in drawn


def test_marks_take_one_column() -> None:
    """No mark is a wide letter that would shift its line."""
    assert all(unicodedata.east_asian_width(mark[0]) not in "WF" for mark in MARKS.values())


def test_certainty_is_never_claimed() -> None:
    """A thousand planes that all hold are more than 99 in a hundred, not every plane."""
    assert screen.per_cent(1.0) == "> 99 %"
    assert screen.per_cent(0.0) == "< 1 %"
    assert screen.per_cent(0.5) == "50 %"


def test_figures_follow_the_units_asked_for() -> None:
    """Imperial screens show inches; the band has the same unit."""
    page = Screen(units="imperial").answers((BALANCE,), HEADING, ODDS, opened=True)
    assert "10.4 in" in page
    assert "mm)" not in page


def test_provisional_answers_say_so() -> None:
    """Where an estimate stands in for a weighing, the foot says so."""
    page = Screen().answers((replace(BALANCE, provisional=True),), HEADING, ODDS)
    assert "Provisional" in page
    assert "Provisional" not in NOTEBOOK


def test_progress_is_silent_where_nobody_watches(capsys: pytest.CaptureFixture[str]) -> None:
    """Standard error stays empty when it is no terminal."""
    with screen.waiting("asking"):
        pass
    assert capsys.readouterr() == ("", "")


def test_letters_a_terminal_lacks_are_known() -> None:
    """Marks are drawn only where the encoding has them."""
    assert screen.can_draw("utf-8")
    assert not screen.can_draw("ascii")
    assert not screen.can_draw(None)


def rule(says: str, *, must: bool, holds: bool) -> RuleCheck:
    """Return a rule held against a plane."""
    return RuleCheck(
        rule="skin", says=says, must=must, holds=holds, value=0.001, least=0.003, source="geometry"
    )


def test_an_opened_answer_names_the_rules_that_are_not_kept() -> None:
    """Those that must hold first; a count alone would send the reader to the JSON."""
    rules = (
        rule("pack leaves 1 mm", must=True, holds=False),
        rule("GPS lies 20 mm from carbon", must=False, holds=False),
        rule("receiver leaves 8 mm", must=True, holds=True),
    )
    fit = replace(BALANCE, rules=rules)
    assert fit.broken == ("pack leaves 1 mm",)
    assert fit.not_kept == ("GPS lies 20 mm from carbon",)
    page = Screen().answers((fit,), HEADING, ODDS, opened=True)
    broken, kept = page.index("Rules broken that must hold"), page.index("Rules worth keeping")
    assert broken < page.index("- pack leaves 1 mm") < kept < page.index("- GPS lies 20 mm")
    assert "receiver leaves" not in page
    plain = Screen().answers((BALANCE,), HEADING, ODDS, opened=True)
    assert "Rules" not in plain
