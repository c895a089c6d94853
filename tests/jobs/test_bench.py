"""Noting: written once, judged at once, refused in the words of the command."""

import datetime as dt
import json
import shutil
from collections.abc import Mapping
from pathlib import Path

import pytest

from foamwright.jobs import bench as job
from foamwright.jobs.ask import Settings, ask, opened
from foamwright.jobs.bench import (
    Noted,
    as_json,
    note,
    rebuild,
    rebuilt_json,
    record_of,
)
from foamwright.plane.bench import load as load_notes
from foamwright.plane.bench_records import Record
from foamwright.problems import CallProblem, WriteProblem

REEDLING = Path(__file__).parents[2] / "examples" / "reedling" / "plane.toml"
FEW = Settings(samples=128)
HUNG = {"load": "9 g", "arm": "4 mm", "at": "9 mm", "twist": "1 deg"}
SWUNG = {"distance": "30 cm", "length": "1 m", "time": "9 s", "swings": 2}
DAY = {"date": dt.date(2026, 5, 1)}


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """Return a glider without notes."""
    shutil.copy(REEDLING, tmp_path)
    return tmp_path


def record(kind: str, **told: object) -> Record:
    """Return a record of that day."""
    return record_of(kind, {**DAY, **told}, {key: f"--{key}" for key in told})


def noted(folder: Path, kind: str, **told: object) -> Noted:
    """Note a record."""
    return note(folder, record(kind, **told), FEW)


def test_a_weighing_is_written_and_every_answer_uses_it(folder: Path) -> None:
    """Six grams more in the GPS are six grams more in all."""

    def mass() -> tuple[float, tuple[str, ...]]:
        (answer,) = ask(folder, ("weight",), FEW).answers
        assert answer.figures[0].value is not None
        return answer.figures[0].value, answer.assumed

    before, _ = mass()
    found = noted(folder, "weighings", item="GPS", mass="13 ± 0.3 g")
    after, assumed = mass()
    assert found.written
    assert after - before == pytest.approx(0.006, abs=2e-4)
    assert not any("GPS" in line for line in assumed)
    assert found.answer.figures[-1].name == "all_up_mass"
    assert found.answer.figures[-1].value == pytest.approx(after)


def test_dry_writes_nothing_and_says_the_same(folder: Path) -> None:
    """Not the notes and not what was learned from them."""
    test = record("static", thrust="410 g", current="7.8 A")
    dry = note(folder, test, FEW, dry=True)
    assert [path.name for path in folder.iterdir()] == ["plane.toml"]
    wet = note(folder, test, FEW)
    assert {path.name for path in folder.iterdir()} == {"plane.toml", "bench.toml", "belief.json"}
    assert dry.answer == wet.answer
    assert dry.changes == wet.changes
    assert (dry.written, wet.written) == (False, True)


def test_a_test_says_what_it_taught(folder: Path) -> None:
    """The propeller's thrust and power, before and after."""
    found = noted(folder, "static", thrust="410 g", current="7.8 A", rotation_speed="20500 rpm")
    assert {"propeller_thrust", "propeller_power"} <= {c.parameter for c in found.changes}
    told = as_json(found)
    json.dumps(told, allow_nan=False)
    assert told["list"] == "static"
    assert told["written"] is True
    assert isinstance(told["belief"], list)
    assert set(told["belief"][0]) == {"parameter", "before", "after"}


def test_notes_changed_meanwhile_stay(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Somebody writes while the plane is held against the plan."""
    real = opened

    def slow(*given: object) -> object:
        (folder / "bench.toml").write_text("# mine\n", encoding="utf-8")
        return real(*given)  # type: ignore[arg-type]

    monkeypatch.setattr(job, "opened", slow)
    with pytest.raises(WriteProblem, match="was changed since"):
        noted(folder, "weighings", item="GPS", mass="7 g")
    assert (folder / "bench.toml").read_text(encoding="utf-8") == "# mine\n"


@pytest.mark.parametrize(
    ("kind", "told", "words"),
    [
        ("weighings", {"item": "GSP", "mass": "7 g"}, "did you mean GPS"),
        ("weighings", {"item": "GPS", "mass": "7"}, r'--mass: .*did you mean "7 g"'),
        ("weighings", {"item": "GPS", "mass": "7 mm"}, "--mass"),
        ("servo_sweeps", {"servo": "rudder", "angle": "60 deg", "time": "0.1 s"}, "no servo"),
        (
            "hang",
            {"surface": "w", "load": "9 g", "arm": "4 mm", "at": "9 mm", "twist": "1 deg"},
            "no surface",
        ),
        ("throws", {"speed": "8 m/s"}, "this test wants --angle"),
        ("static", {"voltage": "11 V"}, "wants thrust"),
        (
            "swings",
            {"axis": "up", "distance": "3 cm", "length": "1 m", "time": "9 s", "swings": 2},
            "--axis",
        ),
    ],
)
def test_what_is_wrong_is_told_in_the_words_of_the_call(
    folder: Path, kind: str, told: Mapping[str, object], *, words: str
) -> None:
    """One clear sentence, nothing written."""
    with pytest.raises(CallProblem, match=words):
        noted(folder, kind, **told)
    assert not (folder / "bench.toml").exists()


def test_a_pair_weighed_together_is_asked_about(folder: Path) -> None:
    """9.7 g for one servo of 5 g looks like both."""
    found = noted(folder, "weighings", item="aileron servos", mass="9.7 g")
    assert "--pieces 2" in found.hints[0]
    again = noted(folder, "weighings", item="aileron servos", mass="9.7 g", pieces=2)
    assert again.hints == ()
    assert noted(folder, "weighings", item="tail servos", mass="4.1 g").hints == ()
    assert len(load_notes(folder).bench.weighings) == 3


def test_only_this_record_is_judged(folder: Path) -> None:
    """An old strange reading does not come back with every new one."""
    noted(folder, "weighings", item="GPS", mass="20 g")
    found = noted(folder, "weighings", item="pack", mass="41 g")
    assert [figure.name for figure in found.answer.figures] == ["mass_of_pack", "all_up_mass"]
    (all_of_them,) = ask(folder, ("bench",), FEW).answers
    assert all_of_them.figures[0].name == "mass_of_gps"


def test_rebuilding_tells_every_source(folder: Path) -> None:
    """In order, with what was expected; without notes there is nothing to tell."""
    assert rebuild(folder, FEW).taught == ()
    noted(folder, "static", thrust="410 g", current="7.8 A")
    noted(folder, "weighings", item="all", mass="254 g")
    found = rebuild(folder, FEW)
    assert [entry.source.name for entry in found.taught] == [
        "static test of 2026-05-01",
        "weighing of 2026-05-01, ready to fly",
    ]
    assert "3 of 3 readings" in found.score
    told = rebuilt_json(found)
    json.dumps(told, allow_nan=False)
    assert isinstance(told["sources"], list)
    assert told["sources"][0]["observations"][0]["used"] is True


def test_a_day_in_the_future_is_refused_in_the_words_of_the_call() -> None:
    """Today is fine, tomorrow is not; the day it is comes from outside."""
    told = {"item": "GPS", "mass": "7 g", "date": dt.date(2026, 5, 2)}
    assert record_of("weighings", told, {}, dt.date(2026, 5, 2)).date == dt.date(2026, 5, 2)
    with pytest.raises(CallProblem) as caught:
        record_of("weighings", told, {}, dt.date(2026, 5, 1))
    assert caught.value.what == "--date: 2026-05-02 is in the future"
    assert caught.value.expected == "no later than 2026-05-01"


@pytest.mark.parametrize("at", ["2510 mm", "-30 mm", "2.51 m"])
def test_a_balance_beyond_nose_or_tail_is_refused(folder: Path, at: str) -> None:
    """A nought too many is told at once; nothing is written."""
    with pytest.raises(CallProblem, match="is not between nose and tail"):
        noted(folder, "balances", at=at)
    assert not (folder / "bench.toml").exists()


def test_a_balance_far_off_inside_the_plane_is_noted_as_off(folder: Path) -> None:
    """Fingertips at the tail: surely not as planned, and a number says so."""
    answer = noted(folder, "balances", at="680 mm").answer
    assert answer.verdict == "no"
    assert answer.probability is not None
    assert 0.0 <= answer.probability < 1e-6


def test_a_note_can_be_taken_out_again(folder: Path) -> None:
    """By what it says: the file is then as it was before, save the words on its head."""
    note(folder, record("balances", at="264 mm"), FEW)
    before = load_notes(folder).text
    note(folder, record("balances", at="266 mm"), FEW)
    file = job.take_out(folder, "balances", {"date": "2026-05-01", "at": "266 mm"})
    assert file.read_text(encoding="utf-8").rstrip() == before.rstrip()
    with pytest.raises(CallProblem, match="not in the bench notes any more"):
        job.take_out(folder, "balances", {"date": "2026-05-01", "at": "266 mm"})
    with pytest.raises(CallProblem, match="no list 'cakes'"):
        job.take_out(folder, "cakes", {})


def test_what_nothing_is_learned_from_says_why(folder: Path) -> None:
    """A lone surprise is set aside; a reading as planned is not."""
    odd = note(folder, record("static", thrust="285 g", current="11.2 A"), FEW, dry=True)
    assert odd.changes == ()
    assert any(line.startswith("thrust, standing still: ") for line in odd.unused)
    fine = note(folder, record("static", thrust="410 g", current="8 A"), FEW, dry=True)
    assert fine.unused == ()
    assert fine.changes
    assert note(folder, record("weighings", item="GPS", mass="7 g"), FEW, dry=True).unused == ()


@pytest.mark.parametrize(
    ("told", "key"),
    [
        ({"speed": "8 m/s"}, "angle"),
        ({"speed": "8", "angle": "3 deg"}, "speed"),
        ({"speed": "8 m/s", "angle": "3 deg", "colour": "red"}, "colour"),
    ],
)
def test_a_refusal_knows_its_key(told: dict[str, object], key: str) -> None:
    """So that a form can tell it beside the field; one about several has none."""
    with pytest.raises(job.NoteProblem) as caught:
        record_of("throws", {**told, **DAY}, {})
    assert caught.value.key == key
    with pytest.raises(job.NoteProblem) as several:
        record_of("balances", DAY, {})
    assert several.value.key == ""
