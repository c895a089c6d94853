"""A calm evening, the plane slowed down high up without a stall: the log bounds the stall speed."""

import json
import shutil
from pathlib import Path

import numpy as np
import pytest
from click.testing import CliRunner
from tests.journeys import field_logs
from tests.journeys.field_logs import Flight, Leg, flown, write

from foamwright.cli.main import main

EXAMPLES = Path(__file__).parents[2] / "examples"
TAKE = ("--take", "alt=height in m")


def run(*arguments: str) -> str:
    """Return what a command prints."""
    result = CliRunner().invoke(main, list(arguments))
    assert result.exit_code == 0, result.output
    return result.stdout


@pytest.fixture
def plane(tmp_path: Path) -> Path:
    """Return the Reedling, never tested and never flown."""
    folder = tmp_path / "reedling"
    folder.mkdir()
    shutil.copy(EXAMPLES / "reedling" / "plane.toml", folder)
    return folder


@pytest.fixture
def slow(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Return the log of two circles and a quarter of a minute at 6.2 m/s, in gusts of 0.2 m/s."""
    monkeypatch.setattr(field_logs, "GUST", 0.2)
    legs = (
        Leg(seconds=20.0, speed=13.0),
        Leg(seconds=50.0, speed=13.0, turn=-14.4),
        Leg(seconds=30.0, speed=13.0),
        *(Leg(seconds=4.0, speed=speed, throttle=0.4) for speed in (11.0, 9.5, 8.0, 7.0)),
        Leg(seconds=15.0, speed=6.2, throttle=0.4),
        Leg(seconds=30.0, speed=13.0),
    )
    channels = flown(Flight(legs=legs, wind=(1.0, -0.5), seed=3))
    climb = np.minimum(channels["time"] * 6.0, 60.0) - 60.0
    return write(tmp_path / "evening.csv", {**channels, "height": channels["height"] + climb})


def stall(plane: Path) -> dict[str, float]:
    """Return the stall speed of the answer to how slow it lands."""
    told = json.loads(run("ask", str(plane), "landing", "--json"))
    figures = told["answers"][0]["figures"]
    return next(one for one in figures if one["label"] == "stall speed")


def test_a_slow_flight_without_a_stall_teaches_from_above(plane: Path, slow: Path) -> None:
    """The stall speed comes down from above, and every page says by what kind of reading."""
    before = stall(plane)
    told = json.loads(run("debrief", str(plane), str(slow), *TAKE, "--json"))
    lowest = next(one for one in told["figures"] if one["name"] == "lowest_speed")
    assert lowest["low"] < 6.2 < lowest["high"]
    assert "it stalls below that" in lowest["label"]
    assert any("flown down to no break" in one for one in told["not_said"])
    assert "maximum_lift" in {one["parameter"] for one in told["belief"]}
    assert not (plane / "belief.json").exists()

    run("debrief", str(plane), str(slow), *TAKE, "--accept")
    after = stall(plane)
    assert after["high"] < before["high"] - 0.1
    assert after["high"] - after["value"] < before["high"] - before["value"]
    kept = json.loads((plane / "belief.json").read_text(encoding="utf-8"))
    seen = kept["sources"][0]["observations"]
    assert {"lowest_speed"} <= {one["name"] for one in seen if one["used"]}

    words = " ".join(run("ask", str(plane), "debrief").split())
    assert "lowest speed held level" in words
    assert "a bound, it was to fly level down to" in words
    text = " ".join(run("bench", str(plane), "rebuild").split())
    assert "a bound; expected to fly level down to" in text


def test_a_flight_that_was_not_slow_leaves_the_stall_alone(plane: Path, slow: Path) -> None:
    """At 9 m/s at the least, 2 m/s above any such stall, nothing of lift is learned."""
    channels = np.loadtxt(slow, delimiter=",", skiprows=1)
    head = slow.read_text(encoding="utf-8").splitlines()[0]
    early = channels[: int(105.0 * field_logs.RATE)]
    file = slow.with_name("fast.csv")
    np.savetxt(file, early, fmt="%.7f", delimiter=",", header=head, comments="")
    told = json.loads(run("debrief", str(plane), str(file), *TAKE, "--json"))
    assert "maximum_lift" not in {one["parameter"] for one in told["belief"]}
