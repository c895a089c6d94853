"""The build order: what is ready, what is held, what was done."""

import json
import shutil
from pathlib import Path

import pypdfium2
import pytest

from foamwright.jobs.ask import Settings
from foamwright.jobs.order import Order, as_json, done, objections, order, write
from foamwright.plane import bench
from foamwright.problems import CallProblem, WriteProblem

EXAMPLE = Path(__file__).parents[2] / "examples" / "reedling" / "plane.toml"
QUICK = Settings(samples=64)
FIRST = ("lay-out", "templates")


@pytest.fixture
def plane(tmp_path: Path) -> Path:
    """Return a copy of the glider."""
    shutil.copy(EXAMPLE, tmp_path)
    return tmp_path


@pytest.fixture
def heavy(plane: Path) -> Path:
    """Return the glider with a mass line it cannot keep."""
    file = plane / "plane.toml"
    text = file.read_text(encoding="utf-8")
    file.write_text(text.replace('mass_line = "260 g"', 'mass_line = "200 g"'), encoding="utf-8")
    for name in FIRST:
        done(plane, name, QUICK)
    return plane


def states(found: Order) -> dict[str, str]:
    """Return how each step stands."""
    return {ordered.step.id: ordered.state for ordered in found.steps}


def test_what_the_files_show_is_done_already(plane: Path) -> None:
    """Masses are written, so weighing is done; the rest waits its turn."""
    found = states(order(plane, QUICK))
    assert found["weigh-foam"] == found["weigh-gear"] == "done"
    assert found["lay-out"] == "ready"
    assert found["cut-pack"] == "waiting"


def test_a_step_done_is_recorded_and_lets_the_next_begin(plane: Path) -> None:
    """In bench.toml, with its date."""
    told = done(plane, "lay-out", QUICK, note="on the kitchen table")
    assert states(told.order)["templates"] == "ready"
    record = bench.load(plane).bench.steps[-1]
    assert (record.step, record.note, record.anyway) == ("lay-out", "on the kitchen table", False)
    assert record.date == bench.today()


def test_a_step_whose_turn_has_not_come_is_refused(plane: Path) -> None:
    """What comes first is named, and nothing is written."""
    with pytest.raises(CallProblem, match="templates comes first"):
        done(plane, "cut-pack", QUICK)
    assert not (plane / "bench.toml").exists()


def test_a_cut_is_refused_while_its_question_stands_at_unlikely(heavy: Path) -> None:
    """Too heavy by 50 g: the knife waits, and the reason is told."""
    found = order(heavy, QUICK).named("cut-pack")
    assert found.state == "held"
    assert any("weight stands at 'no'" in word for word in objections(found))
    with pytest.raises(CallProblem, match="weight stands at 'no'"):
        done(heavy, "cut-pack", QUICK)
    assert [s.step for s in bench.load(heavy).bench.steps] == list(FIRST)


def test_done_anyway_is_recorded_with_what_stood_against_it(heavy: Path) -> None:
    """So that nobody wonders later."""
    told = done(heavy, "cut-pack", QUICK, anyway=True, note="I will slim it")
    assert told.record.anyway
    assert "weight stands at 'no'" in (told.record.reason or "")
    shown = order(heavy, QUICK).named("cut-pack").record
    assert shown is not None
    assert shown.anyway
    assert shown.note == "I will slim it"


def test_anyway_without_need_is_an_ordinary_step(plane: Path) -> None:
    """Nothing stood against it."""
    assert not done(plane, "lay-out", QUICK, anyway=True).record.anyway


def test_a_step_is_done_once(plane: Path) -> None:
    """The second time is told."""
    done(plane, "lay-out", QUICK)
    with pytest.raises(CallProblem, match="done already"):
        done(plane, "lay-out", QUICK)


def test_a_step_nobody_knows_is_told_with_those_there_are(plane: Path) -> None:
    """No guess."""
    with pytest.raises(CallProblem, match="no step 'cut-wings'"):
        done(plane, "cut-wings", QUICK)


def test_a_doubtful_question_only_warns(plane: Path) -> None:
    """At 'unsure' the builder decides, told so."""
    for name in FIRST:
        done(plane, name, QUICK)
    file = plane / "plane.toml"
    text = file.read_text(encoding="utf-8")
    file.write_text(text.replace('mass_line = "260 g"', 'mass_line = "252 g"'), encoding="utf-8")
    told = done(plane, "cut-pack", QUICK)
    assert any("weight stands only at 'unsure'" in word for word in told.warnings)


def test_the_json_has_the_keys_of_the_contract(plane: Path) -> None:
    """Every step with its state, its holds and its cautions."""
    found = json.loads(json.dumps(as_json(order(plane, QUICK)), allow_nan=False))
    assert list(found) == ["schema", "plane", "variant", "seconds", "not_asked", "steps"]
    keys = ["id", "phase", "do", "kind", "irreversible", "needs", "holds", "state", "done"]
    keys += ["why", "cautions"]
    assert all(list(step) == keys for step in found["steps"])
    cut = next(step for step in found["steps"] if step["id"] == "cut-pack")
    assert {hold["question"] for hold in cut["holds"]} == {"fit", "balance", "weight"}


def test_a_question_that_cannot_be_asked_is_named(plane: Path) -> None:
    """Strength is nobody's to answer yet."""
    assert "strength" in order(plane, QUICK).not_asked


@pytest.mark.parametrize(("paper", "size"), [("a4", (595.3, 841.9)), ("letter", (612.0, 792.0))])
def test_the_checklist_is_printed_on_either_paper(
    plane: Path, tmp_path: Path, paper: str, size: tuple[float, float]
) -> None:
    """Every step stands on it, on pages of the size asked for."""
    found = order(plane, QUICK)
    file = write(found, tmp_path / "list.pdf", paper=paper)
    pages = pypdfium2.PdfDocument(file)
    text = " ".join(page.get_textpage().get_text_bounded() for page in pages)
    flat = " ".join(text.split())
    assert pages[0].get_size() == pytest.approx(size, abs=0.5)
    for ordered in found.steps:
        assert ordered.step.do.split(":")[0][:24] in flat
    # Once more in the foreword.
    assert flat.count("cannot be undone") == 1 + sum(o.step.irreversible for o in found.steps)


def test_a_checklist_never_overwrites(plane: Path, tmp_path: Path) -> None:
    """Unless told so; and only a .pdf is written."""
    found = order(plane, QUICK)
    file = write(found, tmp_path / "list.pdf")
    with pytest.raises(WriteProblem, match="exists already"):
        write(found, file)
    assert write(found, file, force=True) == file
    with pytest.raises(CallProblem, match=r"ends in \.pdf"):
        write(found, tmp_path / "list.doc")
