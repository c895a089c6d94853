"""Two flights, a new propeller between them: 1.9 m/s more, and a wind that could have done it.

Each flight turned through 111 degrees only, so the band of its top speed, mostly the wind's, is
+-1.6 m/s (eight in ten, as everywhere). The two flights were picked among four hundred for reading
as the scenario tells them; what is made of the readings is what is checked.
"""

import json
import shutil
from pathlib import Path

import pytest
from click.testing import CliRunner
from tests.journeys.field_logs import Flight, Leg, flown, write

from foamwright.cli.main import main

EXAMPLES = Path(__file__).parents[2] / "examples"


def run(*arguments: str) -> str:
    """Return what a command prints."""
    result = CliRunner().invoke(main, ["debrief", *arguments, "--take", "alt=height in m"])
    assert result.exit_code == 0, result.output
    return result.stdout


def log(folder: Path, name: str, top: float, seed: int, *, turn: float = 111.0) -> Path:
    """Return the log of a flight with a turn of some degrees and a dash at a known airspeed."""
    legs = (
        Leg(seconds=25.0, speed=13.0),
        Leg(seconds=turn / 15.0, speed=13.0, turn=-15.0),
        Leg(seconds=14.0, speed=top, throttle=1.0),
        Leg(seconds=20.0, speed=13.0),
    )
    return write(folder / name, flown(Flight(legs=legs, wind=(3.0, 1.0), seed=seed)))


@pytest.fixture
def plane(tmp_path: Path) -> Path:
    """Return a copy of the Reedling."""
    return Path(shutil.copytree(EXAMPLES / "reedling", tmp_path / "reedling"))


def test_a_gain_the_wind_could_have_made_is_not_shown(plane: Path, tmp_path: Path) -> None:
    """Not shown; three more flights with the new propeller would show it, if it stays."""
    old, new = log(tmp_path, "old.csv", 20.0, 126), log(tmp_path, "new.csv", 21.9, 62)
    told = json.loads(run(str(plane), str(new), "--before", str(old), "--json"))
    one = next(one for one in told["compared"] if one["figure"] == "top_speed")
    assert one["change"]["value"] == pytest.approx(1.9, abs=0.1)
    for file in (old, new):
        single = json.loads(run(str(plane), str(file), "--json"))
        top = next(f for f in single["figures"] if f["name"] == "top_speed")
        assert 0.5 * (top["high"] - top["low"]) == pytest.approx(1.6, abs=0.1)
    assert one["change"]["low"] < 0.0 < one["change"]["high"]
    assert one["verdict"] == "cannot tell"
    assert (one["fly_more"], one["fly_more_before"]) == (3, 0)
    page = " ".join(run(str(plane), str(new), "--before", str(old)).split())
    assert "cannot tell: fly 3 more" in page


def test_in_one_wind_the_same_gain_is_known_better(plane: Path, tmp_path: Path) -> None:
    """Both were flown in 3.2 m/s from the same side, both dashes the same way: the band narrows,
    and the truth, 1.9 m/s more, lies in it."""
    old, new = log(tmp_path, "old.csv", 20.0, 126), log(tmp_path, "new.csv", 21.9, 62)
    call = (str(plane), str(new), "--before", str(old), "--json")
    widths = []
    for more in ((), ("--same-wind",)):
        told = json.loads(run(*call, *more))
        one = next(one for one in told["compared"] if one["figure"] == "top_speed")
        widths.append(one["change"]["high"] - one["change"]["low"])
        assert one["change"]["low"] < 1.9 < one["change"]["high"]
    assert widths[1] < 0.75 * widths[0]


def test_dashes_of_no_known_height_are_not_compared(plane: Path, tmp_path: Path) -> None:
    """Without `alt` nothing tells a dash from a dive: the top speed is left out, and it is said."""
    old, new = log(tmp_path, "old.csv", 20.0, 12), log(tmp_path, "new.csv", 21.9, 9)
    call = [
        "debrief",
        str(plane),
        str(new),
        "--before",
        str(old),
        "--json",
        "--take",
        "alt=nothing",
    ]
    told = json.loads(CliRunner().invoke(main, call).stdout)
    assert "top_speed" not in {one["figure"] for one in told["compared"]}
    assert any("no height, climb rate or pitch" in said for said in told["not_said"])
    (dash,) = (one for one in told["figures"] if one["name"] == "full_throttle_speed")
    assert "level or not" in dash["label"]
    assert dash["low"] < 21.9 < dash["high"]
    assert "top_speed" not in {one["parameter"] for one in told["belief"]}


def test_full_circles_show_what_an_arc_did_not(plane: Path, tmp_path: Path) -> None:
    """With two circles each, three flights on either side show 3 m/s more."""
    before = [log(tmp_path, f"b{k}.csv", 20.0, k, turn=720.0) for k in range(3)]
    after = [log(tmp_path, f"a{k}.csv", 23.0, 50 + k, turn=720.0) for k in range(3)]
    named = [word for file in before for word in ("--before", str(file))]
    told = json.loads(run(str(plane), *map(str, after), *named, "--json"))
    assert len(told["flights"]) == 3
    one = next(one for one in told["compared"] if one["figure"] == "top_speed")
    assert one["verdict"] == "helped"
    assert one["change"]["low"] < 3.0 < one["change"]["high"]


def test_only_the_new_flights_are_kept(plane: Path, tmp_path: Path) -> None:
    """The flight before is held beside it, not taken into the folder."""
    old, new = log(tmp_path, "old.csv", 20.0, 126), log(tmp_path, "new.csv", 21.9, 62)
    run(str(plane), str(new), "--before", str(old), "--accept")
    kept = [path.name for path in (plane / "flights").iterdir()]
    assert any("new" in name for name in kept)
    assert not any("old" in name for name in kept)


def test_one_flight_on_both_sides_is_refused(plane: Path, tmp_path: Path) -> None:
    """In one sentence, with what would be right."""
    old = str(log(tmp_path, "old.csv", 20.0, 126))
    result = CliRunner().invoke(main, ["debrief", str(plane), old, "--before", old])
    assert result.exit_code == 2
    assert "before and after the change" in result.stderr
    assert len(result.stderr.strip().splitlines()) == 1
