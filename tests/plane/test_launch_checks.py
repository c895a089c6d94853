"""Throws and rubbers that are none are refused at their key, with what would be right."""

from collections.abc import Mapping
from pathlib import Path

import pytest

from foamwright.plane.document import load
from foamwright.plane.variants import overridden
from foamwright.problems import Finding, PlaneFileProblem

ANVIL = load(Path(__file__).parents[2] / "examples" / "anvil")
LINE = {"length": "2 m", "stretch": "4 m", "pull": "2 kgf"}


def finding(changes: Mapping[str, object]) -> Finding:
    """Return the one thing wrong with a changed plane."""
    with pytest.raises(PlaneFileProblem) as caught:
        overridden(ANVIL, changes)
    (found,) = caught.value.findings
    return found


@pytest.mark.parametrize(
    ("key", "written", "what", "expected"),
    [
        ("speed", "0 m/s", "is no throw", "8 ± 1 m/s"),
        ("speed", "90 m/s", "is no throw", "8 ± 1 m/s"),
        ("speed", "-8 m/s", "is negative", "at least 0"),
        ("speed", "8", "has no unit", "8 m/s"),
        ("angle", "85 deg", "is no throw", "10 ± 4 deg"),
        ("height", "0 m", "where a hand lets go", "1.8 m"),
        ("height", "-0.5 m", "is negative", "at least 0"),
        ("height", "2.9 m", "where a hand lets go", "1.8 m"),
        ("delay", "-0.3 s", "is negative", "at least 0"),
        ("delay", "10 s", "is no delay of the motor", "0.3 s"),
        ("ramp", "5 s", "is no time to full power", "0.2 s"),
        ("throttle", "130 %", "to 100 %", ""),
        ("up_trim", "40 deg", "is no trim", "2 deg"),
        ("steers", "nobody", "hands off", ""),
    ],
)
def test_a_throw_that_is_none_is_refused(key: str, written: str, what: str, expected: str) -> None:
    """At its own key, with the number as it was written."""
    found = finding({f"thrower.{key}": written})
    assert found.key == f"thrower.{key}"
    assert what in f"{found.what} {found.expected}"
    assert expected in found.expected


@pytest.mark.parametrize(
    ("key", "written", "what"),
    [
        ("pull", "0 N", "is no pull"),
        ("returned", "2 %", "is nothing a rubber gives"),
        ("returned", "120 %", "to 100 %"),
        ("slope", "80 deg", "is no path"),
        ("hook_limit", "0 N", "holds nothing"),
        ("stretch", "13 m", "tears it"),
        ("length", "0 m", "outside"),
        ("lenght", "2 m", "unknown"),
    ],
)
def test_a_rubber_that_cannot_pull_is_refused(key: str, written: str, what: str) -> None:
    """Or one that would tear; a misspelt key is found too."""
    found = finding({"bungee": {**LINE, key: written}})
    assert found.key.startswith("bungee")
    assert what in found.what or key == "lenght"


def test_a_rubber_without_its_pull_is_asked_for_it() -> None:
    """Length, stretch and pull make the rubber; the rest can be assumed."""
    assert finding({"bungee": {"length": "2 m", "stretch": "4 m"}}).key == "bungee.pull"


def test_usual_throws_and_rubbers_are_taken() -> None:
    """Into the plane, in SI."""
    keys = {"speed": "8 ± 1 m/s", "delay": "0 s", "throttle": "80 %", "steers": "stabiliser"}
    changes = {f"thrower.{key}": value for key, value in keys.items()}
    plane = overridden(ANVIL, {**changes, "bungee": LINE}).plane
    assert plane.thrower.delay is not None
    assert plane.thrower.delay.value == 0.0
    assert plane.bungee is not None
    assert plane.bungee.pull.value == pytest.approx(19.613, abs=1e-3)
