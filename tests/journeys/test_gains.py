"""A plane that wobbled, flown again with half the gain: did it help?"""

import json
from dataclasses import replace
from pathlib import Path

import numpy as np
from click.testing import CliRunner
from tests.debrief.rates_simulator import Loop, fly, unstable_turn

from foamwright.cli.main import main

PLANE = str(Path(__file__).parents[2] / "examples" / "reedling")
HEADER = "time (s),roll rate (deg/s),roll rate wanted (deg/s),aileron (%)"
COLUMNS = {"roll_rate": np.degrees(1.0), "roll_rate_wanted": np.degrees(1.0), "aileron": 100.0}


def log(file: Path, share: float, seed: int, *, gust: float = 0.7, wanted: bool = True) -> str:
    """Return the log of a minute at a share of the gain at which it wobbles for ever."""
    loop = Loop()
    turn = share * unstable_turn(loop)
    seen = fly(replace(loop, turn=turn, gust=gust), 60.0, 1, start=seed).at(100)
    rows = [seen.time, *(scale * seen.channels[name] for name, scale in COLUMNS.items())]
    kept = [0, 1, 2, 3] if wanted else [0, 1, 3]
    header = ",".join(HEADER.split(",")[n] for n in kept)
    values = np.column_stack([rows[n] for n in kept])
    np.savetxt(file, values, fmt="%.4f", delimiter=",", header=header, comments="")
    return str(file)


def run(*arguments: str) -> str:
    """Return what a debrief of the Reedling prints."""
    result = CliRunner().invoke(main, ["debrief", PLANE, *arguments])
    assert result.exit_code == 0, result.output
    return result.stdout


def test_half_the_gain_helped_though_the_day_was_rougher(tmp_path: Path) -> None:
    """Damping 0.03 before and 0.25 after, in gusts half as strong again; and the page says so."""
    before = log(tmp_path / "before.csv", 0.93, 1)
    after = log(tmp_path / "after.csv", 0.5, 2, gust=1.0)
    told = json.loads(run(after, "--before", before, "--json"))
    one = next(one for one in told["compared"] if one["figure"] == "roll_swing_damping")
    assert (one["verdict"], one["wanted"]) == ("helped", "more")
    assert one["before"]["value"] < 0.05
    assert one["after"]["value"] > 0.15
    words = " ".join(run(after, "--before", before).split())
    assert "damping of swings in roll" in words
    assert "helped" in words


def test_the_other_way_round_it_did_not(tmp_path: Path) -> None:
    """More gain, less damping."""
    calm, wild = log(tmp_path / "calm.csv", 0.5, 2), log(tmp_path / "wild.csv", 0.93, 1)
    told = json.loads(run(wild, "--before", calm, "--json"))
    one = next(one for one in told["compared"] if one["figure"] == "roll_swing_damping")
    assert one["verdict"] == "did not"


def test_a_log_without_the_wanted_rate_says_what_it_lacks(tmp_path: Path) -> None:
    """Nothing is compared by it then, and what to log is named."""
    before = log(tmp_path / "before.csv", 0.7, 1, wanted=False)
    after = log(tmp_path / "after.csv", 0.5, 2)
    told = json.loads(run(after, "--before", before, "--json"))
    assert "roll_swing_damping" not in {one["figure"] for one in told["compared"]}
    said = " ".join(told["compared_not_said"])
    assert "damping of swings in roll: only the flights after the change tell it" in said
    assert "the log tells no roll rate that was wanted" in said
