"""Files written whole or not at all."""

from pathlib import Path

import pytest

from foamwright.jobs.output import free, put
from foamwright.problems import CallProblem, WriteProblem


def test_a_file_is_written_once(tmp_path: Path) -> None:
    """And over another only if told so."""
    file = tmp_path / "a.pdf"
    put(file, b"one", force=False)
    with pytest.raises(WriteProblem, match="exists already"):
        put(file, b"two", force=False)
    assert file.read_bytes() == b"one"
    put(file, b"two", force=True)
    assert file.read_bytes() == b"two"
    assert [entry.name for entry in tmp_path.iterdir()] == ["a.pdf"]


def test_what_may_not_be_written_is_told_before_any_work(tmp_path: Path) -> None:
    """Ending, folder, place."""
    with pytest.raises(CallProblem, match=r"ends in \.pdf or \.svg"):
        free(tmp_path / "a.txt", (".pdf", ".svg"), force=False)
    (tmp_path / "b.pdf").mkdir()
    with pytest.raises(WriteProblem, match="is a folder"):
        free(tmp_path / "b.pdf", (".pdf",), force=True)
    with pytest.raises(WriteProblem, match="folder does not exist"):
        free(tmp_path / "no" / "a.pdf", (".pdf",), force=False)
