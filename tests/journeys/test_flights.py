"""Flights as a new user would debrief them, through the command line."""

import json
import shutil
from pathlib import Path

import numpy as np
import pytest
from click.testing import CliRunner

from foamwright.cli.main import main

EXAMPLES = Path(__file__).parents[2] / "examples"
KNOT = 1852 / 3600


def run(*arguments: str, code: int = 0) -> str:
    """Return what a command prints, or what it says where it fails."""
    result = CliRunner().invoke(main, ["debrief", *arguments])
    assert result.exit_code == code, result.output
    return result.stdout if code == 0 else result.stderr


@pytest.fixture
def plane(tmp_path: Path) -> Path:
    """Return the Reedling with a propeller of steeper pitch: pitch speed 43 m/s."""
    folder = Path(shutil.copytree(EXAMPLES / "reedling", tmp_path / "reedling"))
    file = folder / "plane.toml"
    text = file.read_text(encoding="utf-8")
    assert 'stock = "propeller 5x3"' in text
    file.write_text(
        text.replace('stock = "propeller 5x3"', 'stock = "propeller 5x3"\npitch = "3.5 in"'),
        encoding="utf-8",
    )
    return folder


@pytest.fixture
def knots(tmp_path: Path) -> Path:
    """Return a log whose `spd` averages 33.6 while its positions move 17.3 m/s, up to 36.5."""
    time = np.arange(0.0, 200.0, 0.2)
    dash = np.clip(1.0 - np.abs(time - 100.0) / 6.0, 0.0, 0.25) / 0.25
    speed = 16.74 + dash * (36.5 - 16.74)
    course = np.cumsum(0.2 * 0.12 * (dash == 0.0))
    north, east = np.cumsum(0.2 * speed * np.cos(course)), np.cumsum(0.2 * speed * np.sin(course))
    rows = np.column_stack(
        (
            time * 1000,
            47.0 + np.degrees(north / 6.367e6),
            8.0 + np.degrees(east / (6.389e6 * np.cos(np.radians(47.0)))),
            speed / KNOT,
            11.6 - time / 1000,
        )
    )
    file = tmp_path / "knots.csv"
    forms = ("%.0f", "%.7f", "%.7f", "%.1f", "%.2f")
    np.savetxt(file, rows, fmt=forms, delimiter=",", header="ms,lat,lon,spd,vbat", comments="")
    return file


def test_a_speed_in_knots_is_found_out_and_remembered(plane: Path, knots: Path) -> None:
    """Ratio 1.94; 71 as metres a second would pass the pitch speed; 36.5 m/s is the top."""
    told = json.loads(run(str(plane), str(knots), "--json"))
    spd = next(column for column in told["log"]["columns"] if column["column"] == "spd")
    assert (spd["taken_as"], spd["unit"]) == ("ground_speed", "kn")
    assert "1.94" in spd["because"]
    assert "pitch speed of the power train" in spd["because"]
    top = next(one for one in told["figures"] if one["name"] == "top_ground_speed")
    assert top["value"] == pytest.approx(36.5, abs=0.4)
    assert not (plane / "flights").exists()
    run(str(plane), str(knots), "--take", "spd=ground_speed in kn", "--accept")
    again = json.loads(run(str(plane), str(knots), "--json"))
    spd = next(column for column in again["log"]["columns"] if column["column"] == "spd")
    assert (spd["sure"], spd["because"]) == (1.0, "confirmed before")


def test_accepting_remembers_what_was_found_out(plane: Path, knots: Path, tmp_path: Path) -> None:
    """Nothing said, the flight accepted: the next log with that header is known to be knots, and
    its circles take the wind out of everything told."""
    run(str(plane), str(knots), "--accept")
    later = tmp_path / "later.csv"
    later.write_bytes(knots.read_bytes())
    told = json.loads(run(str(plane), str(later), "--json"))
    spd = next(column for column in told["log"]["columns"] if column["column"] == "spd")
    assert (spd["unit"], spd["sure"], spd["because"]) == ("kn", 1.0, "confirmed before")
    top = next(one for one in told["figures"] if one["name"] == "top_ground_speed")
    assert top["value"] == pytest.approx(36.5, abs=0.4)
    assert told["wind"]["speed"] < 1.0
    assert all(one["value"] < 40.0 for one in told["figures"] if one["unit"] == "m s^-1")


def test_holes_stay_holes(plane: Path, knots: Path) -> None:
    """22 % of the rows are lost in bursts up to 2.4 s: coverage says so, gaps are listed."""
    head, *rows = knots.read_text(encoding="utf-8").splitlines()
    kept = [row for number, row in enumerate(rows) if number % 50 >= 11]
    knots.write_text("\n".join([head, *kept]) + "\n", encoding="utf-8")
    log = json.loads(run(str(plane), str(knots), "--json"))["log"]
    assert log["coverage"] == pytest.approx(0.78, abs=0.01)
    assert max(gap["end"] - gap["start"] for gap in log["gaps"]) == pytest.approx(2.4)
    assert log["rows"] == len(kept)


@pytest.mark.parametrize(
    ("content", "what"),
    [
        (b"", "is empty"),
        (b"\x00\x01\x02" * 400, "binary"),
        (b"<?xml version='1.0'?><!DOCTYPE gpx [<!ENTITY a 'b'>]><gpx/>", "document type"),
        (b"time_s,alt_m\n1,2\n", "no flight"),
        (b"hello\nworld\n", "no table"),
    ],
)
def test_a_bad_log_is_one_clear_problem(plane: Path, content: bytes, what: str) -> None:
    """Exit code 2, one line, nothing written."""
    file = plane / "bad.log"
    file.write_bytes(content)
    before = sorted(plane.rglob("*"))
    said = run(str(plane), str(file), "--accept", code=2)
    assert what in said
    assert len(said.strip().splitlines()) == 1
    assert sorted(plane.rglob("*")) == before
