"""The leaf of the next steps: ranked as the command ranks them, tried on the drawing."""

import html
import json
import re
import threading
from pathlib import Path

import pytest
from tests.page.stage import SAMPLES, Visit, Visitor

from foamwright.jobs.ask import Settings
from foamwright.jobs.next_step import Next, next_of
from foamwright.page import next_leaf
from foamwright.page.errands import Step
from foamwright.page.next_leaf import asked_for, chance, effect_told, entered_at, steps_told
from foamwright.search.cheap_tests import cheap_tests
from foamwright.search.next_step import NextStep, StepEffect


def step(**more: object) -> NextStep:
    """Return a step."""
    told: dict[str, object] = {
        "do": "Fly slower",
        "kind": "change",
        "minutes": 5.0,
        "mass": 0.0,
        "price": 0.0,
        "effect": (StepEffect(question="speed", before=0.5, after=0.75),),
        "gain": 0.25,
        "worth": 5.0,
        "because": "it helps",
    }
    return NextStep(**{**told, **more})  # type: ignore[arg-type]  # of a test


def found(*steps: NextStep) -> Next:
    """Return some steps as the job does."""
    return Next(
        plane="Reedling",
        variant=None,
        units="metric",
        currency="EUR",
        steps=steps,
        samples=64,
        seed=1,
        seconds=1.0,
    )


def ranked(visitor: Visitor, query: str = "") -> dict[str, object]:
    """Ask for the steps and wait for them."""
    begun: dict[str, object] = visitor.ask("GET", f"/next/steps{query}").json()
    if "errand" not in begun:  # it went wrong before the first answer was on its way
        return begun
    errand = visitor.app.state.errands.named(begun["errand"])
    assert errand.done.wait(120)
    answer: dict[str, object] = visitor.ask("GET", f"/slow/{errand.name}").json()
    return answer


def test_the_steps_are_those_of_the_command(visit: Visit, folder: Path) -> None:
    """Same steps in the same order; each change carries the keys it writes."""
    told = ranked(visit())
    text = str(told["told"]["html"])  # type: ignore[index]
    steps = next_of(folder, Settings(samples=SAMPLES)).steps
    shown = re.findall(r"<h2>\d+\. (.*?)</h2>", text)
    assert [html.unescape(words) for words in shown] == [one.do for one in steps]
    tried = [json.loads(html.unescape(k)) for k in re.findall(r'data-keys="(.*?)"', text)]
    assert tried == [dict(one.keys) for one in steps if one.kind == "change"]


def test_a_change_can_be_tried_as_it_stands(visit: Visit) -> None:
    """The notebook accepts the keys of every change."""
    visitor = visit()
    text = str(ranked(visitor)["told"]["html"])  # type: ignore[index]
    keys = [json.loads(html.unescape(k)) for k in re.findall(r'data-keys="(.*?)"', text)]
    assert keys
    for one in keys:
        assert visitor.post("/try", {"trial": one}).status_code == 200


def test_steps_are_ranked_once_for_a_state_of_the_files(
    visit: Visit, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Asked again they are there; a change of the plane has them ranked anew."""
    calls: list[str | None] = []

    def counted(_path: Path, settings: Settings, _tell: object = None) -> Next:
        calls.append(settings.variant)
        return found(step())

    monkeypatch.setattr(next_leaf, "next_of", counted)
    visitor = visit()
    for _ in range(3):
        ranked(visitor)
    assert calls == [None]
    ranked(visitor, "?variant=no+GPS")
    assert calls == [None, "no GPS"]
    with (visitor.desk.path / "plane.toml").open("a", encoding="utf-8") as out:
        out.write("\n# changed\n")
    ranked(visitor)
    assert calls == [None, "no GPS", None]


def test_ranking_keeps_nobody_waiting(visit: Visit, monkeypatch: pytest.MonkeyPatch) -> None:
    """While it goes on the notebook answers, and it is told what is being tried."""
    go, begun = threading.Event(), threading.Event()

    def slow(_path: Path, _settings: Settings, tell: Step) -> Next:
        tell("Fit a <larger> propeller")
        begun.set()
        go.wait(60)
        return found()

    monkeypatch.setattr(next_leaf, "next_of", slow)
    visitor = visit()
    first = visitor.ask("GET", "/next/steps").json()
    assert begun.wait(10)
    answer = visitor.post("/ask", {"questions": ["weight"]})
    assert answer.status_code == 200
    state = visitor.ask("GET", f"/slow/{first['errand']}").json()
    assert state["doing"] == "trying: Fit a <larger> propeller"
    go.set()


def test_a_plane_that_cannot_be_read_is_told(visit: Visit) -> None:
    """With the finding in it, as everywhere."""
    visitor = visit()
    (visitor.desk.path / "plane.toml").write_text("name = 3\n", encoding="utf-8")
    told = ranked(visitor)
    assert "name" in str(told["problem"])


def test_every_test_leads_to_the_form_of_its_result(visit: Visit) -> None:
    """The form stands on the same leaf; what goes into the plane file has none."""
    leaf = visit().ask("GET", "/next").text
    for test in cheap_tests():
        name = entered_at(step(kind="test", call=test.call))
        text = steps_told(found(step(kind="test", call=test.call)))
        if test.call:
            assert f'href="#test-{name}"' in text
            assert f'id="test-{name}"' in leaf
        else:
            assert name == ""
            assert 'href="/#written"' in text
        assert "foamwright" not in text
    assert entered_at(step(call="weigh")) == ""


@pytest.mark.parametrize(
    ("share", "words"),
    [(0.5, "50"), (1.0, "100"), (0.999, "over 99"), (0.0, "0"), (0.001, "under 1")],
)
def test_a_chance_is_never_rounded_to_certainty(share: float, words: str) -> None:
    """Neither to yes nor to no."""
    assert chance(share) == words


def test_what_a_step_takes_is_told_where_it_matters() -> None:
    """No line about a tenth of a gram."""
    assert asked_for(step(mass=-0.007, price=4.5), "metric", "EUR") == {
        "minutes": "5 min",
        "mass": "−7.00 g",
        "price": "4.50 EUR",
    }
    assert asked_for(step(mass=1e-4), "metric", "EUR")["mass"] == ""


def test_effects_name_their_question() -> None:
    """In its own words; what only moves behind the point is no effect."""
    told = effect_told(StepEffect(question="speed", before=0.5, after=0.4))
    assert told["asks"] == "How fast will it go?"
    assert told["better"] is False
    text = steps_told(found(step(effect=(StepEffect(question="cost", before=0.501, after=0.504),))))
    assert "What does it cost?" not in text


def test_no_step_is_said_and_words_are_escaped() -> None:
    """What a builder called a part is text."""
    assert "Nothing known here" in steps_told(found())
    text = steps_told(found(step(do="Leave out <b>GPS</b>", keys={'a"b': "<i>"})))
    assert "Leave out &lt;b&gt;GPS&lt;/b&gt;" in text
    assert "<i>" not in text


def test_a_folder_without_a_plane_starts_with_the_interview(visit: Visit, tmp_path: Path) -> None:
    """Its first step is to be written."""
    answer = visit(tmp_path).ask("GET", "/next")
    assert (answer.status_code, answer.headers["location"]) == (303, "/new")


def test_the_leaf_is_there_before_its_steps(visit: Visit) -> None:
    """With words about what goes on, and the other leaves."""
    text = visit().ask("GET", "/next").text
    assert "computed anew" in text
    assert 'href="/flights"' in text


def test_the_best_step_is_in_sight_once_the_steps_were_ranked(visit: Visit) -> None:
    """Before, the line only says where to ask: nothing slow is begun by looking at the plane."""
    visitor = visit()
    before = visitor.ask("GET", "/next/best").json()
    assert "Have them ranked" in before["html"]
    assert "Have them ranked" in visitor.ask("GET", "/next/best").json()["html"]
    told = ranked(visitor)["told"]
    assert isinstance(told, dict)
    after = visitor.ask("GET", "/next/best").json()
    assert html.escape(told["best"]["do"]) in after["html"]
    assert 'href="/next"' in after["html"]


def test_a_plane_changed_since_has_no_best_step(visit: Visit, folder: Path) -> None:
    """What was ranked for another file is not told for this one."""
    visitor = visit()
    ranked(visitor)
    file = folder / "plane.toml"
    file.write_text(file.read_text(encoding="utf-8") + "\n# another word\n", encoding="utf-8")
    assert "Have them ranked" in visitor.ask("GET", "/next/best").json()["html"]
