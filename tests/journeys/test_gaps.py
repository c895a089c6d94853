"""A log with gaps, from the radio's burst to the charger's word, through the command line.

370 s at 10 Hz, 22 % of the rows lost in bursts of up to 2.4 s, two full left circles, 4.0 m/s of
wind, 15.0 m/s of airspeed; the charger puts back 508 mAh where the rows that are left sum to 412.
"""

import json
import shutil
from pathlib import Path

import numpy as np
import pytest
from click.testing import CliRunner
from tests.journeys.field_logs import (
    GAPS_LEGS,
    MAH,
    Flight,
    flown,
    kept_rows,
    scaled_charge,
    write,
)

from foamwright.cli.main import main
from foamwright.debrief.recording import Recording
from foamwright.debrief.wind import find_wind
from foamwright.jobs import debrief as job
from foamwright.page.timeline import timeline

EXAMPLES = Path(__file__).parents[2] / "examples"
PUT_BACK, LOGGED = 508.0, 412.0
CARD = f"put back = {PUT_BACK:.0f} mAh"
SEEDS = range(8)


def run(*arguments: str) -> str:
    """Return what a command prints."""
    result = CliRunner().invoke(main, ["debrief", *arguments])
    assert result.exit_code == 0, result.output
    return result.stdout


@pytest.fixture(scope="module")
def plane(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return a copy of the Reedling."""
    folder = tmp_path_factory.mktemp("gaps") / "reedling"
    return Path(shutil.copytree(EXAMPLES / "reedling", folder))


def gappy(folder: Path, seed: int) -> Path:
    """Return the log of one such flight; every number of it is met."""
    way = np.radians(37.0 * seed)
    wind = (4.0 * float(np.cos(way)), 4.0 * float(np.sin(way)))
    channels = flown(Flight(legs=GAPS_LEGS, wind=wind, seed=seed))
    kept = kept_rows(channels["time"].size, 0.78, seed)
    channels["current"] = channels["current"] * scaled_charge(channels, kept, LOGGED)
    left = {name: values[kept] for name, values in channels.items()}
    steps = np.diff(left["time"])
    assert channels["time"].size == 3700
    assert kept.mean() == pytest.approx(0.78, abs=0.006)
    assert 2.0 < steps.max() <= 2.41
    assert channels["airspeed"].mean() == pytest.approx(15.0, abs=0.02)
    return write(folder / f"gappy-{seed}.csv", left)


@pytest.fixture(scope="module")
def told(plane: Path, tmp_path_factory: pytest.TempPathFactory) -> list[dict[str, object]]:
    """Return what eight such flights in other gusts tell, as JSON."""
    folder = tmp_path_factory.mktemp("logs")
    files = [gappy(folder, seed) for seed in SEEDS]
    return [json.loads(run(str(plane), str(file), "--card", CARD, "--json")) for file in files]


def figure(one: dict[str, object], name: str) -> dict[str, float]:
    """Return one figure of a flight."""
    found: dict[str, float] = next(f for f in one["figures"] if f["name"] == name)  # type: ignore[attr-defined]
    return found


def test_the_coverage_is_told(told: list[dict[str, object]]) -> None:
    """78 %, and every gap with its ends."""
    for one in told:
        log: dict[str, object] = one["log"]  # type: ignore[assignment]
        assert log["coverage"] == pytest.approx(0.78, abs=0.01)
        gaps: list[dict[str, float]] = log["gaps"]  # type: ignore[assignment]
        assert max(gap["end"] - gap["start"] for gap in gaps) <= 2.41
        assert len(gaps) > 30


def test_the_wind_is_found_in_spite_of_them(told: list[dict[str, object]]) -> None:
    """4.0 m/s within 0.8 in at least seven of eight gusty flights, the band about as wide."""
    winds: list[dict[str, float]] = [one["wind"] for one in told]  # type: ignore[misc]
    near = [abs(wind["speed"] - 4.0) <= 0.8 for wind in winds]
    assert sum(near) >= 7
    half = [0.5 * (wind["high"] - wind["low"]) for wind in winds]
    assert np.median(half) <= 0.8


@pytest.mark.slow
def test_bands_hold_the_wind_as_often_as_they_promise_in_spite_of_them() -> None:
    """At least 70 % of 300 such flights, of which eight alone would be a throw of the dice; 85 to
    90 % do, on the wide side."""
    held = []
    for seed in range(300):
        way = np.radians(37.0 * seed)
        wind = (4.0 * float(np.cos(way)), 4.0 * float(np.sin(way)))
        channels = flown(Flight(legs=GAPS_LEGS, wind=wind, seed=2000 + seed))
        kept = kept_rows(channels["time"].size, 0.78, seed)
        left = {
            name: channels[name][kept] for name in ("ground_speed", "course", "throttle", "height")
        }
        left["course"] = np.radians(left["course"])
        found, why = find_wind(Recording(time=channels["time"][kept], channels=left))
        assert found is not None, why
        held.append(found.low <= 4.0 <= found.high)
    assert np.mean(held) >= 0.7


def test_the_airspeed_is_found_in_spite_of_them(told: list[dict[str, object]]) -> None:
    """15.0 m/s within 0.6 in at least seven of eight."""
    speeds = [figure(one, "mean_airspeed") for one in told]
    assert sum(abs(one["value"] - 15.0) <= 0.6 for one in speeds) >= 7
    assert np.median([0.5 * (one["high"] - one["low"]) for one in speeds]) <= 0.6


def test_the_charger_has_the_last_word_and_gaps_are_named(told: list[dict[str, object]]) -> None:
    """508 mAh; 412 is a floor; 1.23 is no scale of the sensor: the gaps explain it."""
    for one in told:
        assert figure(one, "charge_used")["value"] == pytest.approx(PUT_BACK * MAH)
        (found,) = [f for f in one["findings"] if "logged charge" in f["what"]]  # type: ignore[attr-defined]
        assert "floor" in found["what"]
        assert "do not correct" in found["what"]
        assert "a ratio of 1.23" in found["because"]
        assert "the gaps explain it" in found["because"]
        assert "412" in found["because"]


def test_without_the_charger_the_sum_is_a_floor_without_an_upper_end(
    plane: Path, tmp_path: Path
) -> None:
    """JSON has null there, never Infinity; the terminal says at least, never inf."""
    file = gappy(tmp_path, 1)
    text = run(str(plane), str(file), "--json")
    assert "Infinity" not in text
    one = json.loads(text)
    charge = figure(one, "charge_used")
    assert charge["value"] == pytest.approx(LOGGED * MAH, rel=0.01)
    assert charge["high"] is None
    assert "at least" in str(charge["label"])
    page = run(str(plane), str(file))
    line = next(row for row in page.splitlines() if "charge used" in row)
    assert "at least" in line
    assert "inf" not in " ".join(page.split()).replace("information", "").split()
    assert "none" not in line


def test_no_stretch_spans_a_hole(plane: Path, tmp_path: Path) -> None:
    """Between the ends of a stretch no two rows are more than half a second apart; what is drawn
    along the time leaves the holes open; top speed and slowest are read from such stretches."""
    file = gappy(tmp_path, 2)
    (one,) = job.debrief(plane, (file,), job.Wishes(card=CARD)).flights
    time = np.loadtxt(file, delimiter=",", skiprows=1)[:, 0] / 1000.0
    assert len(one.segments) > 5
    for part in one.segments:
        inside = time[(time >= part.start - 1e-6) & (time <= part.end + 1e-6)]
        assert np.diff(inside).max() <= 0.51
    names = [part.name for part in one.segments]
    tied = [f for f in one.figures if f.name in {"top_speed", "glide_ratio"}]
    assert all(any(name in f.label for name in names) for f in tied)
    assert one.log is not None
    gaps = [gap for gap in one.log.recording.gaps if gap.end - gap.start > 0.5]
    for part in one.segments:
        assert not any(part.start < gap.start < part.end for gap in gaps)
    holes = one.log.recording.gaps
    drawn = timeline(one.segments, holes, (0.0, float(time[-1])))
    assert drawn.count('class="hole"') == len(holes)
    assert "<polyline" not in drawn
    assert "<path" not in drawn
