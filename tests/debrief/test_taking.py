"""What the user says columns are."""

from pathlib import Path

import pytest

from foamwright.debrief.taking import (
    kept_text,
    key_of,
    remembered,
    taken_from,
    takes_of,
)
from foamwright.problems import CallProblem, DataFileProblem

NAMES = ("t", "spd", "Alt [m]")


def test_a_saying_is_taken_as_typed() -> None:
    """Blanks, capitals of the column, spaces in the channel do not matter."""
    found = takes_of(("SPD = ground speed in knots", "Alt [m]=nothing"), NAMES)
    assert (found["spd"].taken_as, found["spd"].unit) == ("ground_speed", "kn")
    assert found["Alt [m]"].taken_as == "nothing"
    assert found["spd"].text() == "ground_speed in kn"


def test_a_saying_without_a_unit_leaves_the_unit_open() -> None:
    """The values have to tell it then."""
    assert taken_from("", "height", "you said so").unit == ""


@pytest.mark.parametrize(
    ("text", "what"),
    [
        ("speed=height", "no column 'speed'"),
        ("spd=heigth in m", "nothing is called 'heigth'; known: height"),
        ("spd=ground_speed in volts", "no unit of a speed"),
        ("spd", "says nothing"),
        ("=height", "says nothing"),
    ],
)
def test_what_does_not_exist_is_told(text: str, what: str) -> None:
    """With what would be right."""
    with pytest.raises(CallProblem, match=what):
        takes_of((text,), NAMES)


def test_what_was_kept_is_remembered_for_that_header_only(tmp_path: Path) -> None:
    """Two headers in one file, each with its own; comments survive."""
    file = tmp_path / "columns.toml"
    first = kept_text("", NAMES, takes_of(("spd=ground_speed in kn",), NAMES))
    both = kept_text(first, ("x",), takes_of(("x=height in ft",), ("x",)))
    file.write_text(both, encoding="utf-8")
    assert remembered(file, NAMES)["spd"].unit == "kn"
    assert remembered(file, ("x",))["x"].taken_as == "height"
    assert remembered(file, ("y",)) == {}
    assert remembered(tmp_path / "none.toml", NAMES) == {}
    assert both.startswith("#")
    assert key_of(NAMES) != key_of(("x",))


def test_a_broken_memory_is_told(tmp_path: Path) -> None:
    """With the file."""
    file = tmp_path / "columns.toml"
    file.write_text("[a\n", encoding="utf-8")
    with pytest.raises(DataFileProblem, match=r"columns\.toml"):
        remembered(file, NAMES)
