"""From the bench to the answer, as its user drives it."""

import json
import shutil
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from foamwright.cli.main import main

REEDLING = Path(__file__).parents[2] / "examples" / "reedling" / "plane.toml"
FEW = ("--samples", "64")


@pytest.fixture
def folder(tmp_path: Path) -> str:
    """Return a glider without notes."""
    shutil.copy(REEDLING, tmp_path)
    return str(tmp_path)


def run(*arguments: str) -> Result:
    """Return how a call ends."""
    return CliRunner().invoke(main, list(arguments), prog_name="foamwright")


def refused(*arguments: str) -> str:
    """Return the one line a call was refused with."""
    result = run(*arguments)
    assert result.exit_code == 2, result.output
    assert result.stdout == ""
    assert result.stderr.count("\n") == 1
    return result.stderr


def test_an_afternoon_at_the_bench(folder: str) -> None:
    """Weigh, pull, balance, swing; each is noted, the next answer knows all of it."""
    calls = (
        ("weigh", folder, "GPS", "7.4 ± 0.3 g", "--note", "with its wire"),
        ("weigh", folder, "aileron servos", "9.9 g", "--pieces", "2"),
        (
            "bench",
            folder,
            "thrust",
            "--thrust",
            "410 g",
            "--current",
            "7.8 A",
            "--rpm",
            "20500 rpm",
        ),
        ("bench", folder, "balance", "--at", "244 mm"),
        (
            "bench",
            folder,
            "swing",
            "--axis",
            "roll",
            "--distance",
            "300 mm",
            "--length",
            "1.2 m",
            "--time",
            "36.5 s",
            "--swings",
            "20",
        ),
        ("bench", folder, "throw", "--speed", "8.2 m/s", "--angle", "9 deg"),
        ("bench", folder, "servo", "aileron servos", "--angle", "60 deg", "--time", "0.11 s"),
        ("bench", folder, "charge", "300 mAh", "--time", "7 min", "--speed", "14 m/s"),
        (
            "bench",
            folder,
            "hang",
            "--surface",
            "wing",
            "--load",
            "200 g",
            "--arm",
            "40 mm",
            "--at",
            "350 mm",
            "--twist",
            "2 deg",
        ),
    )
    for call in calls:
        result = run(*call, "--date", "2026-05-01", *FEW)
        assert result.exit_code == 0, result.stderr
        assert "Noted in bench.toml" in result.stdout
    text = (Path(folder) / "bench.toml").read_text(encoding="utf-8")
    assert text.count("[[") == len(calls)
    assert text.count("date = 2026-05-01") == len(calls)
    assert 'note = "with its wire"' in text
    asked = run("bench", folder, *FEW)
    assert "Does what I measured behave as planned?" in asked.stdout
    assert "inertia in roll, swung" in asked.stdout
    told = json.loads(run("ask", folder, "speed", "--json", *FEW).stdout)
    assert any(line.startswith("learned from") for line in told["answers"][0]["assumed"])
    again = json.loads(run("bench", folder, "rebuild", "--json", *FEW).stdout)
    assert [source["source"] for source in again["sources"]] == [
        "static test of 2026-05-01",
        "balance of 2026-05-01",
        "charge of 2026-05-01",
    ]


def test_dry_and_json(folder: str) -> None:
    """Nothing is written, one object is printed."""
    call = ("bench", folder, "thrust", "--thrust", "215 g", "--current", "7.3 A")
    told = json.loads(run(*call, "--dry", "--json", *FEW).stdout)
    assert told["written"] is False
    assert told["record"]["thrust"] == "215 g"
    assert "face or hand" in told["answer"]["because"]
    assert not (Path(folder) / "bench.toml").exists()
    assert not (Path(folder) / "belief.json").exists()


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (("weigh", "GSP", "7 g"), "did you mean GPS"),
        (("weigh", "GPS", "7"), 'did you mean "7 g"'),
        (("weigh", "GPS", "7,2 g"), 'write "7.2 g"'),
        (("bench", "thrst", "--thrust", "3 N"), "no test 'thrst'"),
        (("bench", "thrust", "--swings", "3"), "--swings says nothing of the test"),
        (("bench", "thrust", "285 g"), "for instance --thrust"),
        (("bench", "thrust", "--volts", "11 V"), "wants --thrust, --current or --rpm"),
        (("bench", "charge"), "VALUE"),
        (("bench", "balance", "--front", "120 g"), "--front-at"),
        (("bench", "swing", "--axis", "roll"), "this test wants --distance"),
        (("bench", "--thrust", "285 g"), "without its test"),
        (("weigh", "GPS", "7 g", "--date", "2027-01-01"), "--date: 2027-01-01 is in the future"),
        (("bench", "balance", "--at", "250 mm", "--date", "2026-11-27"), "than 2026-11-26"),
        (("bench", "rebuild", "--thrust", "285 g"), "without its test"),
    ],
)
def test_a_slip_gets_one_clear_line(folder: str, call: tuple[str, ...], words: str) -> None:
    """Nothing is written."""
    assert words in refused(call[0], folder, *call[1:])
    assert not (Path(folder) / "bench.toml").exists()


def test_broken_notes_stop_every_answer_with_their_line(folder: str) -> None:
    """They are told, not skipped."""
    text = '[[weighings]]\ndate = 2026-05-01\nitem = "GPS"\nmass = "7"\n'
    (Path(folder) / "bench.toml").write_text(text, encoding="utf-8")
    line = refused("ask", folder, "weight")
    assert "bench.toml, line 4" in line
    assert 'did you mean "7 g"' in line


def test_notes_from_the_future_stop_every_answer_with_their_line(folder: str) -> None:
    """A year mistyped would count as the latest weighing for ever."""
    text = '[[weighings]]\ndate = 2062-05-01\nitem = "GPS"\nmass = "7 g"\n'
    (Path(folder) / "bench.toml").write_text(text, encoding="utf-8")
    line = refused("ask", folder, "weight")
    assert "bench.toml, line 2" in line
    assert "2062-05-01 is in the future" in line


def test_a_plane_that_is_not_there_is_told(tmp_path: Path) -> None:
    """As everywhere."""
    assert "there is no plane.toml" in refused("weigh", str(tmp_path), "GPS", "7 g")
