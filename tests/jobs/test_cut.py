"""Templates from a file to a file."""

import shutil
from pathlib import Path

import pytest

from foamwright.jobs.ask import Settings
from foamwright.jobs.cut import cut
from foamwright.problems import CallProblem, WriteProblem

EXAMPLE = Path(__file__).parents[2] / "examples" / "reedling"
QUICK = Settings(samples=32)


@pytest.mark.parametrize(
    ("ending", "begins"), [(".pdf", b"%PDF"), (".svg", b"<svg"), (".dxf", b"  0")]
)
def test_the_ending_decides_what_is_written(tmp_path: Path, ending: str, begins: bytes) -> None:
    """And how many cuts there are is told."""
    file = tmp_path / f"kite{ending}"
    written = cut(EXAMPLE, file, QUICK)
    assert file.read_bytes().startswith(begins)
    assert written.cuts >= 10
    assert any("Does the gear fit" in note for note in written.notes)


def test_what_cannot_be_written_is_told_first(tmp_path: Path) -> None:
    """Ending, folder, a file in the way."""
    with pytest.raises(CallProblem, match=r"ends in \.pdf or \.svg or \.dxf"):
        cut(EXAMPLE, tmp_path / "kite.png", QUICK)
    with pytest.raises(WriteProblem, match="folder does not exist"):
        cut(EXAMPLE, tmp_path / "no" / "kite.pdf", QUICK)
    (tmp_path / "kite.svg").write_text("mine", encoding="utf-8")
    with pytest.raises(WriteProblem, match="exists already"):
        cut(EXAMPLE, tmp_path / "kite.svg", QUICK)
    assert (tmp_path / "kite.svg").read_text(encoding="utf-8") == "mine"


def test_a_plane_with_nothing_to_cut_says_so(tmp_path: Path) -> None:
    """Bare foam needs no knife."""
    text = (EXAMPLE / "plane.toml").read_text(encoding="utf-8")
    shutil.rmtree(tmp_path / "kite", ignore_errors=True)
    (tmp_path / "kite").mkdir()
    bare = text.split("[[items]]")[0]
    for servo in ("aileron servos", "tail servos"):
        bare = bare.replace(f'servo = "{servo}"\n', "")
    (tmp_path / "kite" / "plane.toml").write_text(bare, encoding="utf-8")
    with pytest.raises(CallProblem, match="has nothing to cut"):
        cut(tmp_path / "kite", tmp_path / "kite.pdf", QUICK)
    assert not (tmp_path / "kite.pdf").exists()
