"""The command that reads flights."""

import json
from pathlib import Path

import click
import pytest
from click.testing import CliRunner

from foamwright.cli.debrief import confirmed, debrief
from foamwright.jobs.debrief import Wishes
from foamwright.jobs.debrief import debrief as job
from foamwright.problems import Problem

EXAMPLES = Path(__file__).parents[2] / "examples"
PLANE = str(EXAMPLES / "reedling")
LOG = str(EXAMPLES / "reedling" / "logs" / "example-log.csv")


def run(*arguments: str) -> str:
    """Return what the command prints."""
    result = CliRunner().invoke(debrief, [PLANE, *arguments], catch_exceptions=False)
    assert result.exit_code == 0
    return result.stdout


def test_the_page_tells_columns_figures_and_that_nothing_was_written() -> None:
    """Each column with its reason."""
    page = run(LOG)
    assert "spd    ground speed in kn" in page
    assert "% of that time recorded" in page
    assert "top speed over the ground" in page
    assert "Nothing was written" in page


def test_the_json_is_one_object() -> None:
    """And nothing else on standard output."""
    told = json.loads(run(LOG, "--json"))
    assert told["schema"] == 1
    assert told["log"]["rows"] > 2000


def test_a_card_is_shown_in_the_units_asked_for() -> None:
    """Imperial."""
    assert "60.4 mph" in run("--card", "top speed = 27 m/s", "--units", "imperial")


def test_an_unknown_name_is_one_sentence() -> None:
    """With the known ones."""
    with pytest.raises(Problem, match="known: top speed"):
        run("--card", "colour = 5 m/s")


def test_what_is_unsure_is_asked_once_on_a_terminal(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A yes takes the column, as if it had been typed; without a terminal nobody is asked."""
    log = tmp_path / "log.csv"
    rows = "\n".join(f"{n / 10},{12 - n / 500},{15 + n % 50 / 10}" for n in range(400))
    log.write_text(f"time_s,volt_V,speed\n{rows}\n", encoding="utf-8")
    found = job(Path(PLANE), (log,), Wishes())
    assert confirmed(found) == ()
    asked: list[str] = []

    def agree(text: str, **_: object) -> bool:
        asked.append(text)
        return True

    monkeypatch.setattr("sys.stdin.isatty", lambda: True, raising=False)
    monkeypatch.setattr("sys.stderr.isatty", lambda: True, raising=False)
    monkeypatch.setattr(click, "confirm", agree)
    (answer,) = confirmed(found)
    assert answer.startswith("speed=ground_speed in ")
    assert len(asked) == 1
    taken = job(Path(PLANE), (log,), Wishes(takes=(answer,)))
    assert confirmed(taken) == ()


def test_knots_that_were_found_out_are_asked_about_once(monkeypatch: pytest.MonkeyPatch) -> None:
    """With the reason, yes being usual; a no leaves the column out; what was said is not asked."""
    found = job(Path(PLANE), (Path(LOG),), Wishes())
    assert confirmed(found) == ()
    asked: list[tuple[str, object]] = []
    answers = iter((True, False))

    def answer(text: str, **more: object) -> bool:
        asked.append((text, more["default"]))
        return next(answers)

    monkeypatch.setattr("sys.stdin.isatty", lambda: True, raising=False)
    monkeypatch.setattr("sys.stderr.isatty", lambda: True, raising=False)
    monkeypatch.setattr(click, "confirm", answer)
    assert confirmed(found) == ("spd=ground_speed in kn",)
    assert confirmed(found) == ("spd=nothing",)
    assert "ground speed in kn" in asked[0][0]
    assert "1.94" in asked[0][0]
    assert asked[0][1] is True
    said = job(Path(PLANE), (Path(LOG),), Wishes(takes=("spd=ground_speed in kn",)))
    assert confirmed(said) == ()
