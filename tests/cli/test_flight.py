"""Level flight on a terminal."""

import re

from foamwright.cli.flight import level_page
from foamwright.cli.screen import Odds, Screen
from foamwright.jobs.level import Levelled, LevelRow
from foamwright.questions.answer import Figure

ODDS = Odds(samples=64, seed=3)


def throttle(value: float | None) -> Figure:
    """Return a throttle with its band."""
    return Figure(
        name="throttle",
        label="throttle",
        value=value,
        low=None if value is None else 0.9 * value,
        high=None if value is None else 1.1 * value,
        unit="-",
        dimension="fraction",
    )


def page(*rows: LevelRow) -> str:
    """Return rows as a page."""
    levelled = Levelled(
        plane="Wren", variant=None, units="metric", rows=rows, assumed=("pack: ordinary cells",)
    )
    return level_page(Screen(), levelled, ODDS)


def test_a_speed_all_planes_hold_is_a_plain_block() -> None:
    """Speed, figures with bands, what was assumed, where the odds come from."""
    found = page(LevelRow(speed=16.0, figures=(throttle(0.5),), holds=1.0))
    assert "at 16.0 m/s\n" in found
    assert re.search(r"throttle\s+50\.0 %\s+45\.0–55\.0 %", found)
    assert "- pack: ordinary cells" in found
    assert "Odds from 64 planes like yours (seed 3)" in found


def test_a_speed_few_planes_hold_says_so() -> None:
    """The share is told, and no number is made up for what is not reached."""
    found = page(LevelRow(speed=40.0, figures=(throttle(None),), holds=0.3))
    assert "at 40.0 m/s   30 % of such planes can hold it" in found
    assert "no figures" in found
    assert "throttle" not in found
