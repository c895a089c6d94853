"""What was learned is kept, and never trusted when it was damaged."""

import json
from pathlib import Path

import pytest

from foamwright.plane.belief_file import SCHEMA, BeliefFile, read, write

BELIEF = BeliefFile(
    schema_version=SCHEMA,
    about="derived",
    digest="abc",
    keys=("model.drag", "propeller.a"),
    labels=("drag as a whole", "the propeller itself"),
    mean=(0.5, -0.3),
    factor=((0.8, 0.0), (0.1, 0.6)),
    samples=2000.0,
    sources=(),
)


def test_it_is_read_as_it_was_written(tmp_path: Path) -> None:
    """Of the same ground only."""
    assert read(tmp_path, "abc") is None
    assert write(tmp_path, BELIEF)
    assert read(tmp_path, "abc") == BELIEF
    assert read(tmp_path, "another") is None


@pytest.mark.parametrize(
    "change",
    [
        {"mean": [0.5]},
        {"mean": [0.5, 1e9]},
        {"factor": [[0.8, 0.0]]},
        {"factor": [[0.8, 0.2], [0.1, 0.6]]},
        {"factor": [[-0.8, 0.0], [0.1, 0.6]]},
        {"factor": [[0.8], [0.1, 0.6]]},
        {"keys": ["model.drag", "model.drag"]},
        {"labels": []},
        {"schema_version": 99},
        {"mean": "none"},
        {"more": 1},
    ],
)
def test_a_damaged_file_is_as_good_as_none(tmp_path: Path, change: dict[str, object]) -> None:
    """Wrong sizes, wrong signs, wrong words: it is learned anew."""
    told = {**BELIEF.model_dump(), **change}
    (tmp_path / "belief.json").write_text(json.dumps(told), encoding="utf-8")
    assert read(tmp_path, "abc") is None


@pytest.mark.parametrize("text", ["", "{", "[" * 100_000, "null", '{"mean": NaN}', "\x00"])
def test_no_text_whatever_stops_the_answer(tmp_path: Path, text: str) -> None:
    """Half a file, a deep one, none at all."""
    (tmp_path / "belief.json").write_text(text, encoding="utf-8")
    assert read(tmp_path, "abc") is None


def test_a_file_of_other_bytes_or_a_folder_in_its_place_is_none(tmp_path: Path) -> None:
    """Nothing is learned from a picture."""
    (tmp_path / "belief.json").write_bytes(b"\x89PNG\xff\xfe")
    assert read(tmp_path, "abc") is None
    (tmp_path / "belief.json").unlink()
    (tmp_path / "belief.json").mkdir()
    assert read(tmp_path, "abc") is None
    assert write(tmp_path, BELIEF) is False


def test_a_folder_that_cannot_be_written_is_no_error(tmp_path: Path) -> None:
    """It is learned again the next time."""
    assert write(tmp_path / "gone", BELIEF) is False
