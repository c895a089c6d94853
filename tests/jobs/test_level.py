"""Level flight at given speeds: reading them, and what comes back."""

import json
from pathlib import Path

import pytest

from foamwright.jobs.ask import Settings
from foamwright.jobs.level import as_json, level, one_speed, speeds_of
from foamwright.problems import CallProblem

ROOT = Path(__file__).parents[2]
REEDLING = ROOT / "examples" / "reedling"
SALTMARSH = ROOT / "tests" / "journeys" / "planes" / "saltmarsh"
FEW = Settings(samples=128)
FIGURES = [
    "throttle",
    "current",
    "power",
    "propeller_rpm",
    "angle_of_attack",
    "thrust",
    "efficiency",
]


@pytest.mark.parametrize(
    ("text", "speed"),
    [("60 km/h", 60 / 3.6), ("15 m/s", 15.0), ("30 kn", 30 * 1852 / 3600), ("40 mph", 17.8816)],
)
def test_speeds_are_read_with_their_units(text: str, speed: float) -> None:
    """Exact by definition of the units."""
    assert one_speed(text) == pytest.approx(speed)


def test_a_range_is_walked_in_its_steps() -> None:
    """12, 14, ... 20 m/s with both ends; without a step six of them."""
    assert speeds_of(("12 m/s to 20 m/s step 2 m/s",)) == pytest.approx((12, 14, 16, 18, 20))
    assert speeds_of(("12 m/s to 18 m/s",)) == pytest.approx((12, 13, 14, 15, 16, 17, 18))
    assert speeds_of(("36 km/h", "12 m/s to 14 m/s step 2 m/s")) == pytest.approx((10, 12, 14))


@pytest.mark.parametrize(
    ("texts", "said"),
    [
        ((), "no speed asked for"),
        (("fast",), "fast"),
        (("0.2 m/s",), "0.2"),
        (("400 m/s",), "400"),
        (("20 m/s to 12 m/s",), "backwards"),
        (("12 m/s to 20 m/s step 0.01 m/s",), "too many steps"),
    ],
)
def test_what_is_no_speed_is_refused(texts: tuple[str, ...], said: str) -> None:
    """One message that names what was written."""
    with pytest.raises(CallProblem, match=said):
        speeds_of(texts)


def test_rows_have_the_keys_of_the_contract() -> None:
    """Schema, rows, speed, the seven figures in their order; strict JSON."""
    told = as_json(level(REEDLING, ("12 m/s", "18 m/s"), FEW))
    rows = json.loads(json.dumps(told, allow_nan=False))["rows"]
    assert list(told) == ["schema", "rows"]
    assert [row["speed"] for row in rows] == [12.0, 18.0]
    for row in rows:
        assert list(row) == ["speed", "figures"]
        assert [figure["name"] for figure in row["figures"]] == FIGURES


def test_faster_takes_more() -> None:
    """Throttle, current and rpm rise with speed; power is about current times 11.4 V of 3S."""
    slow, fast = level(REEDLING, ("12 m/s to 18 m/s step 6 m/s",), FEW).rows
    told = [{figure.name: figure.value or 0.0 for figure in row.figures} for row in (slow, fast)]
    for name in ("throttle", "current", "power", "propeller_rpm", "thrust"):
        assert told[1][name] > told[0][name]
    assert told[1]["angle_of_attack"] < told[0]["angle_of_attack"]
    for row in told:
        assert row["power"] == pytest.approx(row["current"] * 11.4, rel=0.05)
    assert slow.holds == fast.holds == 1.0


@pytest.mark.parametrize("speed", ["4 m/s", "45 m/s"])
def test_a_speed_it_cannot_hold_has_no_figures(speed: str) -> None:
    """Below the stall and beyond the top speed: nobody holds it, nothing is made up."""
    (row,) = level(REEDLING, (speed,), FEW).rows
    assert row.holds == 0.0
    assert all(figure.value is None for figure in row.figures)


def test_without_a_whole_drive_it_is_refused() -> None:
    """The propeller that is missing is named."""
    with pytest.raises(CallProblem, match="propeller"):
        level(SALTMARSH, ("12 m/s",), FEW)
