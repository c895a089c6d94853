"""Parts placed, from a file to a file."""

import json
import shutil
from pathlib import Path

import pytest

from foamwright.jobs import place as job
from foamwright.jobs.ask import Settings, ask
from foamwright.problems import CallProblem

EXAMPLE = Path(__file__).parents[2] / "examples" / "reedling" / "plane.toml"
QUICK = Settings(samples=64)
FREE = ("receiver", "ESC")


@pytest.fixture
def plane(tmp_path: Path) -> Path:
    """Return a copy of the glider."""
    shutil.copy(EXAMPLE, tmp_path)
    return tmp_path


def test_placing_costs_no_more_than_drawing(plane: Path) -> None:
    """Less ballast, and the balance nearer to what is wanted."""
    found = job.place(plane, QUICK, free=FREE)
    assert found.before is not None
    assert found.after.total <= found.before.total
    assert found.after.ballast < found.before.ballast
    assert abs(found.after.centre - found.aim) < 1e-3
    assert found.how == "proven best"


def test_without_the_solver_it_says_so(plane: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The plain search is as good here, and claims no proof."""
    exact = job.place(plane, QUICK, free=FREE)
    monkeypatch.setattr(job, "available", lambda: False)
    found = job.place(plane, QUICK, free=FREE)
    assert found.how == "plain search"
    assert found.after.total <= exact.after.total * 1.05 + 1.0


def test_a_placing_is_kept_as_a_variant(plane: Path) -> None:
    """It can be asked about, and the plane as planned stays as it is."""
    before = (plane / "plane.toml").read_text(encoding="utf-8")
    found = job.place(plane, QUICK, free=FREE, keep="placed")
    after = (plane / "plane.toml").read_text(encoding="utf-8")
    assert after.startswith(before.rstrip()[:-1])
    answer = ask(plane, ("fit",), Settings(samples=64, variant="placed")).answers[0]
    assert answer.probability == pytest.approx(found.chance_after.fit)


def test_a_name_taken_or_no_name_is_refused_before_anything_is_written(plane: Path) -> None:
    """The file stays as it is."""
    before = (plane / "plane.toml").read_text(encoding="utf-8")
    for name, said in (("no GPS", "already"), ("a.b", "names no variant"), (" ", "names no")):
        with pytest.raises(CallProblem, match=said):
            job.place(plane, QUICK, free=FREE, keep=name)
    assert (plane / "plane.toml").read_text(encoding="utf-8") == before


def test_the_json_is_whole(plane: Path) -> None:
    """Moves, cost before and after, and how balance and fit stand."""
    found = json.loads(json.dumps(job.as_json(job.place(plane, QUICK, free=FREE)), allow_nan=False))
    assert found["schema"] == 1
    assert [move["item"] for move in found["moves"]] == ["ESC", "pack", "receiver"]
    assert set(found["after"]) == {"cg_x", "ballast_mass", "wire", "rules_unkept", "moved"}
    assert [effect["question"] for effect in found["effect"]] == ["balance", "fit"]


def test_a_part_without_any_place_is_told(plane: Path) -> None:
    """With the rule that binds and what would free it."""
    file = plane / "plane.toml"
    text = file.read_text(encoding="utf-8")
    wide = text.replace(
        'reach = { foremost = "60 mm", rearmost = "150 mm" }',
        'reach = { foremost = "60 mm", rearmost = "150 mm" }\n'
        'size = { length = "60 mm", width = "40 mm", height = "40 mm" }',
    )
    file.write_text(wide, encoding="utf-8")
    with pytest.raises(CallProblem, match="pack has no place"):
        job.place(plane, QUICK)
