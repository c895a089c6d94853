"""The leaf of the build order: ticks are written, what stands against a step is told and asked."""

import re
import tomllib
from pathlib import Path

import pytest
from tests.page.stage import SAMPLES, Visit, Visitor

from foamwright.jobs import order as job
from foamwright.jobs.ask import Settings
from foamwright.page.build import LONGEST_NOTE, note_in, step_in
from foamwright.problems import CallProblem


def records(folder: Path) -> list[dict[str, object]]:
    """Return the steps noted at the bench."""
    file = folder / "bench.toml"
    return list(tomllib.loads(file.read_text(encoding="utf-8")).get("steps", []))


def sent(visitor: Visitor, path: str, step: str, **more: object) -> dict[str, object]:
    """Send a tick decided on the files as they are; return what was told, with the status."""
    body = {"step": step, "revision": visitor.desk.revision(), **more}
    answer = visitor.post(path, body)
    return {"status": answer.status_code, **answer.json()}


def first(folder: Path, state: str) -> job.OrderedStep:
    """Return the first step in some state."""
    found = job.order(folder, Settings(samples=SAMPLES))
    return next(ordered for ordered in found.steps if ordered.state == state)


def test_the_leaf_shows_every_step_with_its_state(visit: Visit, folder: Path) -> None:
    """The same steps, in the same order and state, as the command tells."""
    text = visit().ask("GET", "/order", headers={"accept": "text/html"}).text
    shown = re.findall(r'<li class="step (\w+)" data-step="([^"]+)"', text)
    told = job.order(folder, Settings(samples=SAMPLES))
    assert shown == [(ordered.state, ordered.step.id) for ordered in told.steps]
    assert 'href="/"' in text


def test_every_leaf_leads_to_the_build_order(visit: Visit) -> None:
    """Also with a variant looked at; the interview leads nowhere yet."""
    visitor = visit()
    assert 'href="/order"' in visitor.ask("GET", "/").text
    assert 'href="/order?variant=no+GPS"' in visitor.ask("GET", "/?variant=no+GPS").text


def test_a_folder_without_a_plane_starts_with_the_interview(visit: Visit, tmp_path: Path) -> None:
    """There is no order of building nothing."""
    answer = visit(tmp_path).ask("GET", "/order")
    assert (answer.status_code, answer.headers["location"]) == (303, "/new")


def test_a_tick_is_written_and_taken_back(visit: Visit, folder: Path) -> None:
    """A ready step is recorded with its note; taking it back leaves the other records alone."""
    visitor = visit()
    name = first(folder, "ready").step.id
    told = sent(visitor, "/order/done", name, note="  by\nlamp light ")
    assert told["status"] == 200
    assert [(r["step"], r["note"]) for r in records(folder)] == [(name, "by lamp light")]
    assert "by lamp light" in str(told["html"])
    back = sent(visitor, "/order/back", name)
    assert (back["status"], records(folder)) == (200, [])
    assert back["done"] == int(str(told["done"])) - 1


def test_what_stands_against_a_step_is_told_before_it_is_written(
    visit: Visit, folder: Path
) -> None:
    """Refused without `anyway`; with it the reason is recorded."""
    visitor = visit()
    name = first(folder, "waiting").step.id
    refused = sent(visitor, "/order/done", name)
    assert refused["status"] == 400
    assert "first" in str(refused["problem"])
    assert not (folder / "bench.toml").exists()
    assert sent(visitor, "/order/done", name, anyway=True)["status"] == 200
    (record,) = records(folder)
    assert record["anyway"] is True
    assert str(record["reason"]) in str(refused["problem"])


@pytest.mark.parametrize("path", ["/order/done", "/order/back"])
@pytest.mark.parametrize("file", ["plane.toml", "bench.toml"])
def test_a_file_changed_outside_is_told(visit: Visit, folder: Path, path: str, file: str) -> None:
    """What was decided on an older state is not written over a newer one."""
    visitor = visit()
    revision = visitor.desk.revision()
    with (folder / file).open("a", encoding="utf-8") as out:
        out.write("\n# somebody was here\n")
    before = {f.name: f.read_bytes() for f in folder.glob("*.toml")}
    body = {"step": first(folder, "ready").step.id, "revision": revision}
    answer = visitor.post(path, body)
    assert answer.status_code == 409
    assert "not as they were" in answer.json()["problem"]
    assert {f.name: f.read_bytes() for f in folder.glob("*.toml")} == before


def test_comments_in_the_bench_notes_outlive_ticks(visit: Visit, folder: Path) -> None:
    """A builder's own words stay, whatever is ticked and taken back."""
    visitor = visit()
    (folder / "bench.toml").write_text("# my bench\n", encoding="utf-8")
    name = first(folder, "ready").step.id
    sent(visitor, "/order/done", name)
    sent(visitor, "/order/back", name)
    assert "# my bench" in (folder / "bench.toml").read_text(encoding="utf-8")


@pytest.mark.parametrize("step", ["no-such-step", "", None, 3, ["x"]])
@pytest.mark.parametrize("path", ["/order/done", "/order/back"])
def test_a_step_that_is_none_is_refused(visit: Visit, path: str, step: object) -> None:
    """One clear sentence, nothing written."""
    visitor = visit()
    answer = visitor.post(path, {"step": step, "revision": visitor.desk.revision()})
    assert answer.status_code == 400
    assert answer.json()["problem"]


def test_a_step_the_plane_shows_cannot_be_taken_back(visit: Visit, folder: Path) -> None:
    """It is no tick: the weighing stands in the plane file."""
    told = sent(visit(), "/order/back", first(folder, "done").step.id)
    assert told["status"] == 400
    assert "not recorded" in str(told["problem"])


def test_a_note_has_an_end() -> None:
    """A line, not a book; blanks alone are no note."""
    assert note_in({"note": " \n "}) is None
    assert note_in({}) is None
    assert note_in({"note": "x" * LONGEST_NOTE}) == "x" * LONGEST_NOTE
    with pytest.raises(CallProblem, match="too long"):
        note_in({"note": "x" * (LONGEST_NOTE + 1)})
    with pytest.raises(CallProblem, match="too long"):
        note_in({"note": 3})
    with pytest.raises(CallProblem, match="no step"):
        step_in({})


def test_what_a_builder_noted_is_never_taken_for_markup(visit: Visit, folder: Path) -> None:
    """A note is text."""
    visitor = visit()
    name = first(folder, "ready").step.id
    html = str(sent(visitor, "/order/done", name, note="<script>x</script>")["html"])
    assert "&lt;script&gt;" in html
    assert "<script>" not in html
