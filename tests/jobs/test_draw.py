"""From a plane file to a drawing in a file."""

import json
from pathlib import Path
from xml.etree import ElementTree as ET

import pytest

from foamwright.jobs import draw as job
from foamwright.jobs import output
from foamwright.jobs.ask import Settings, opened
from foamwright.paper import composition
from foamwright.problems import CallProblem, WriteProblem

REEDLING = Path(__file__).parents[2] / "examples" / "reedling"
FEW = Settings(samples=32)
HOSTILE = '<script>alert("&amp;")</script>'


def test_a_drawing_is_whole_and_says_what_it_could_not_place(tmp_path: Path) -> None:
    """It parses as XML, names the plane, and nothing else is left in the folder."""
    file = tmp_path / "reedling.svg"
    drawn = job.draw(REEDLING, file, FEW)
    root = ET.parse(file).getroot()  # noqa: S314 - our own drawing
    assert "Reedling" in "".join(root.itertext())
    assert drawn.parts == 13
    assert drawn.unplaced == ()
    assert [path.name for path in tmp_path.iterdir()] == ["reedling.svg"]


def test_the_same_seed_draws_the_same(tmp_path: Path) -> None:
    """Byte for byte."""
    for name in ("a.svg", "b.svg"):
        job.draw(REEDLING, tmp_path / name, FEW)
    assert (tmp_path / "a.svg").read_bytes() == (tmp_path / "b.svg").read_bytes()


def test_a_variant_is_drawn_as_such(tmp_path: Path) -> None:
    """Without GPS there is none, and the title block says which variant it is."""
    file = tmp_path / "light.svg"
    job.draw(REEDLING, file, Settings(samples=32, variant="no GPS"))
    root = ET.parse(file).getroot()  # noqa: S314 - our own drawing
    words = [text.strip() for text in root.itertext()]
    assert "GPS" not in words
    assert any(text.startswith("variant: no GPS") for text in words)


def test_hostile_names_stay_words(tmp_path: Path) -> None:
    """No element comes from what a user wrote."""
    text = (REEDLING / "plane.toml").read_text(encoding="utf-8")
    text = text.replace('name = "Reedling"', f"name = {json.dumps(HOSTILE)}")
    text = text.replace('name = "GPS"', f"name = {json.dumps(HOSTILE)}").split("[variants.")[0]
    (tmp_path / "plane.toml").write_text(text, encoding="utf-8")
    job.draw(tmp_path, tmp_path / "x.svg", FEW)
    root = ET.parse(tmp_path / "x.svg").getroot()  # noqa: S314 - our own drawing
    assert not [e for e in root.iter() if e.tag.endswith("script")]
    assert '<script>alert("&amp;")' in "".join(root.itertext())


@pytest.mark.parametrize("name", ["plane.pdf", "plane", "plane.svg.txt"])
def test_an_unknown_ending_is_refused(tmp_path: Path, name: str) -> None:
    """With the endings there are, before anything is computed."""
    with pytest.raises(CallProblem, match=r"\.svg or \.png"):
        job.draw(REEDLING, tmp_path / name, FEW)
    assert list(tmp_path.iterdir()) == []


def test_an_existing_file_is_kept_unless_told_otherwise(tmp_path: Path) -> None:
    """The refusal names the way; with force it is replaced whole."""
    file = tmp_path / "mine.svg"
    file.write_text("mine", encoding="utf-8")
    with pytest.raises(WriteProblem, match="--force"):
        job.draw(REEDLING, file, FEW)
    assert file.read_text(encoding="utf-8") == "mine"
    job.draw(REEDLING, file, FEW, force=True)
    assert file.read_text(encoding="utf-8").startswith("<svg")


def test_a_file_that_appears_meanwhile_is_kept(tmp_path: Path) -> None:
    """Someone else wrote it after we looked."""
    file = tmp_path / "late.svg"
    file.write_text("theirs", encoding="utf-8")
    with pytest.raises(WriteProblem, match="exists already"):
        output.put(file, b"ours", force=False)
    assert file.read_text(encoding="utf-8") == "theirs"


def test_a_write_that_fails_leaves_nothing(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A full disk halfway: a problem, the old file as it was, no draft beside it."""

    def full(self: Path, data: bytes) -> int:
        raise OSError(28, "No space left on device", str(self), len(data))

    file = tmp_path / "mine.svg"
    file.write_text("mine", encoding="utf-8")
    monkeypatch.setattr(Path, "write_bytes", full)
    with pytest.raises(WriteProblem, match="No space left"):
        output.put(file, b"ours", force=True)
    assert [path.name for path in tmp_path.iterdir()] == ["mine.svg"]
    assert file.read_text(encoding="utf-8") == "mine"


def test_a_folder_that_is_not_there_is_a_problem(tmp_path: Path) -> None:
    """Neither made nor guessed."""
    with pytest.raises(WriteProblem, match="does not exist"):
        job.draw(REEDLING, tmp_path / "none" / "x.svg", FEW)


def test_pockets_and_rods_are_on_the_drawing() -> None:
    """A hole for each piece in the foam, both rods of a pair, parts as high as their pocket."""
    _, case = opened(REEDLING, Settings(samples=32))
    rod = {
        "kind": "rod",
        "mass": "4 g",
        "count": 2,
        "diameter": "2 mm",
        "at": {"x": "200 mm", "y": "10 mm"},
        "starts": {"x": "100 mm", "y": "10 mm", "z": "12 mm"},
        "ends": {"x": "300 mm", "y": "10 mm", "z": "12 mm"},
    }
    sheet = job.sheet_of(case.changed({"items.edge rods": rod}), Settings(samples=32))
    assert len(sheet.holes) == len(case.computed.fit.pockets)
    assert [(r.start, r.end) for r in sheet.rods] == [
        ((100.0, 10.0, 12.0), (300.0, 10.0, 12.0)),
        ((100.0, -10.0, 12.0), (300.0, -10.0, 12.0)),
    ]
    pack = next(part for part in sheet.parts if part.name == "pack")
    pocket = next(p for p in case.computed.fit.pockets if p.item == "pack")
    assert pack.places[0][2] == pytest.approx((pocket.box.middle[2] or 0.0) * 1e3)
    picture = composition.drawing(sheet)
    assert picture.count('class="pockets"') == picture.count('class="rods"') == 3
