"""What a bench note says, as text."""

import dataclasses
import datetime as dt
from pathlib import Path

from foamwright.cli.notes import changed, checks, noted_page, rebuilt_page
from foamwright.cli.screen import Odds, Screen
from foamwright.jobs.bench import Noted, Rebuilt, record_of
from foamwright.model.evidence import Observation, Source
from foamwright.model.learning import Band, Change, Checked, Taught
from foamwright.questions.answer import Answer

SCREEN = Screen()
CHANGE = Change(
    parameter="pack_resistance",
    label="resistance of the pack",
    dimension="resistance",
    before=Band(value=0.1, low=0.08, high=0.12),
    after=Band(value=0.11, low=0.10, high=0.12),
)
FACTOR = Change(
    parameter="currents",
    label="currents over the model's",
    dimension="number",
    before=Band(value=1.0, low=0.9, high=1.1),
    after=Band(value=1.05, low=1.0, high=1.1),
)
SEEN = Observation(name="top_speed", value=24.0, spread=0.7)
TAUGHT = Taught(
    source=Source(
        name="flight first", kind="flight", day=dt.date(2026, 5, 2), observations=(SEEN, SEEN)
    ),
    checked=(
        Checked(
            observation=SEEN,
            expected=Band(value=25.0, low=22.0, high=28.0),
            probability=0.6,
            used=True,
            why="",
        ),
        Checked(observation=SEEN, expected=None, probability=None, used=False, why="no speed"),
    ),
    changes=(CHANGE,),
)


def noted(*, written: bool) -> Noted:
    """Return a note of a weighing."""
    record = record_of(
        "weighings",
        {"date": dt.date(2026, 5, 1), "item": "GPS", "mass": "7 g", "note": "with wire"},
        {},
    )
    answer = Answer(
        question="bench",
        asks="Does what I measured behave as planned?",
        verdict="yes",
        probability=0.97,
        figures=(),
        because="The reading lies about where such planes were to lie.",
    )
    return Noted(
        plane="wren",
        units="metric",
        currency="EUR",
        record=record,
        file=Path("wren/bench.toml"),
        written=written,
        answer=answer,
        changes=(CHANGE,),
        hints=("look at the scale",),
    )


def test_a_change_is_one_line_with_both_bands() -> None:
    """In the user's units; a factor without one."""
    assert changed(SCREEN, CHANGE) == (
        "resistance of the pack 100 mΩ (80.0–120 mΩ) → 110 mΩ (100–120 mΩ)"
    )
    assert changed(Screen(signs=False), FACTOR) == (
        "currents over the model's 1.00 (0.90–1.10) -> 1.05 (1.00–1.10)"
    )


def test_a_note_says_what_was_written_and_what_it_taught() -> None:
    """Or that nothing was written."""
    page = noted_page(SCREEN, noted(written=True), Odds(samples=64, seed=1))
    told = " ".join(page.split())
    assert "Noted in bench.toml under weighings: date 2026-05-01, item GPS, mass 7 g" in told
    assert "What it taught - resistance of the pack" in told
    assert "Look again - look at the scale" in told
    assert "97 %" in told
    dry = noted_page(SCREEN, noted(written=False), Odds(samples=64, seed=1))
    assert "Not written (--dry)" in dry


def test_every_observation_is_told_beside_what_was_expected() -> None:
    """Or why nothing was learned from it."""
    first, second = checks(SCREEN, TAUGHT)
    assert first == "top speed 24.0 m/s, expected 25.0 m/s (22.0–28.0 m/s)"
    assert second == "top speed 24.0 m/s: nothing learned, no speed"


def test_a_bound_is_told_as_one() -> None:
    """It was to lie in no band, but above one."""
    seen = Observation(name="lowest_speed", value=9.0, spread=0.3)
    check = Checked(
        observation=seen,
        expected=Band(value=7.0, low=6.5, high=7.6),
        probability=1.0,
        used=True,
        why="",
    )
    (line,) = checks(SCREEN, dataclasses.replace(TAUGHT, checked=(check,)))
    assert line.startswith("lowest speed held level 9.00 m/s, a bound;")
    assert line.endswith("; expected to fly level down to 7.00 m/s (6.50–7.60 m/s)")


def test_the_whole_folder_is_told_source_by_source() -> None:
    """With the score at the end; or that there is nothing yet."""
    whole = Rebuilt(
        plane="wren", units="metric", currency="EUR", taught=(TAUGHT,), score="1 of 1 readings"
    )
    page = rebuilt_page(SCREEN, whole)
    assert "flight first" in page
    assert page.rstrip().endswith("1 of 1 readings.")
    nothing = Rebuilt(plane="wren", units="metric", currency="EUR", taught=(), score="")
    assert "nothing to learn" in rebuilt_page(SCREEN, nothing)
