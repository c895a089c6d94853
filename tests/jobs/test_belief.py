"""What the folder of a plane teaches, kept beside it and made anew when it is out of date."""

import datetime as dt
import json
import shutil
from pathlib import Path

import pytest

from foamwright.jobs.ask import Settings, as_json, ask, opened
from foamwright.jobs.belief import belief_json, digest, learned, observe, sentence, sources
from foamwright.model.evidence import Observation
from foamwright.model.learning import Learned
from foamwright.plane.document import load
from foamwright.plane.flights import FlightNote, Seen, write
from foamwright.problems import PlaneFileProblem

REEDLING = Path(__file__).parents[2] / "examples" / "reedling"
FEW = Settings(samples=128)

STATIC = """\
[[static]]
date = 2026-05-01
thrust = "400 g"
current = "8.2 A"
rotation_speed = "20500 rpm"
"""

FLIGHT = FlightNote(
    date=dt.date(2026, 5, 2), observations=(Seen(what="stall_speed", value=7.2, spread=0.3),)
)


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """Return a glider without notes."""
    shutil.copy(REEDLING / "plane.toml", tmp_path)
    return tmp_path


@pytest.fixture
def tested(folder: Path) -> Path:
    """Return a glider with a bench test and a flight."""
    (folder / "bench.toml").write_text(STATIC, encoding="utf-8")
    write(folder, "first", FLIGHT)
    return folder


def taught(folder: Path, *, anew: bool = False) -> Learned:
    """Return what was learned; there is something."""
    found = learned(load(folder), anew=anew)
    assert found is not None
    return found


def test_without_notes_nothing_is_learned_or_written(folder: Path) -> None:
    """And answers are what they were."""
    assert learned(load(folder)) is None
    assert not (folder / "belief.json").exists()
    assert sentence(None) == ()


def test_what_was_learned_is_kept_and_read_back(tested: Path) -> None:
    """Number for number, of the same kind."""
    first = taught(tested)
    written = (tested / "belief.json").read_text(encoding="utf-8")
    again = taught(tested)
    assert (tested / "belief.json").read_text(encoding="utf-8") == written
    assert again.taught == first.taught
    assert first.knowledge is not None
    assert again.knowledge is not None
    assert again.knowledge.keys == first.knowledge.keys
    assert again.knowledge.factor == pytest.approx(first.knowledge.factor)
    assert again.knowledge.plane == first.knowledge.plane
    told = json.loads(written)
    assert [source["name"] for source in told["sources"]] == [
        "static test of 2026-05-01",
        "flight first",
    ]


@pytest.mark.parametrize("damage", ["", "{}", '{"keys": 3', "null"])
def test_a_damaged_file_is_made_anew(tested: Path, damage: str) -> None:
    """It never stops an answer."""
    taught(tested)
    whole = (tested / "belief.json").read_text(encoding="utf-8")
    (tested / "belief.json").write_text(damage, encoding="utf-8")
    taught(tested)
    assert (tested / "belief.json").read_text(encoding="utf-8") == whole


def test_a_file_with_a_source_too_few_is_made_anew(tested: Path) -> None:
    """A hand that took one out without touching the notes."""
    taught(tested)
    whole = (tested / "belief.json").read_text(encoding="utf-8")
    told = json.loads(whole)
    told["sources"] = told["sources"][:1]
    (tested / "belief.json").write_text(json.dumps(told), encoding="utf-8")
    assert len(taught(tested).taught) == 2
    assert (tested / "belief.json").read_text(encoding="utf-8") == whole


def test_the_ground_is_everything_a_lesson_hangs_on(tested: Path) -> None:
    """Wishes are not in it; masses, notes and flights are."""

    def ground() -> str:
        loaded = load(tested)
        return digest(loaded, sources(loaded))

    text = (tested / "plane.toml").read_text(encoding="utf-8")
    before = ground()
    (tested / "plane.toml").write_text(text.replace('"24 m/s"', '"26 m/s"'), encoding="utf-8")
    assert ground() == before
    (tested / "plane.toml").write_text(text.replace('"18 ± 1 g"', '"19 ± 1 g"'), encoding="utf-8")
    changed = ground()
    assert changed != before
    write(tested, "second", FLIGHT)
    assert ground() not in (before, changed)


def test_a_lowest_speed_bounds_the_stall_and_stands_in_the_file(folder: Path) -> None:
    """The landing's stall speed comes down at its upper end, and the file says by what."""
    plain = ask(folder, ("landing",), FEW).answers[0].figures[0]
    slow = Seen(what="lowest_speed", value=6.4, spread=0.1, mass=0.26, temperature=288.15)
    write(folder, "slow", FlightNote(date=dt.date(2026, 5, 3), observations=(slow,)))
    after = ask(folder, ("landing",), FEW).answers[0].figures[0]
    assert plain.high is not None
    assert after.high is not None
    assert after.high < plain.high - 0.15
    (source,) = json.loads((folder / "belief.json").read_text(encoding="utf-8"))["sources"]
    (kept,) = source["observations"]
    assert (kept["name"], kept["value"], kept["mass"]) == ("lowest_speed", 6.4, 0.26)
    assert kept["used"]
    assert "maximum_lift" in {change["parameter"] for change in source["taught"]}
    assert taught(folder).taught == taught(folder, anew=True).taught


def test_a_file_from_before_bounds_is_read(tested: Path) -> None:
    """Without the keys that came with them it is as good as it was."""
    first = taught(tested)
    file = tested / "belief.json"
    told = json.loads(file.read_text(encoding="utf-8"))
    for source in told["sources"]:
        for check in source["observations"]:
            del check["mass"], check["temperature"]
    old = json.dumps(told)
    file.write_text(old, encoding="utf-8")
    assert taught(tested).taught == first.taught
    assert file.read_text(encoding="utf-8") == old


def test_answers_say_from_how_much_they_learned(tested: Path) -> None:
    """One line under what was assumed, the shape of the answer unchanged."""
    plain = as_json(ask(REEDLING, ("landing", "cost"), FEW))
    told = as_json(ask(tested, ("landing", "cost"), FEW))
    assert isinstance(told["answers"], list)
    assert isinstance(plain["answers"], list)
    landing, cost = told["answers"]
    assert "learned from 1 flight and 1 test" in landing["assumed"]
    assert not any("learned" in line for line in cost["assumed"])
    assert landing.keys() == plain["answers"][0].keys()


def test_a_stall_read_in_flight_moves_the_landing(tested: Path) -> None:
    """From 6.6 towards the 7.2 m/s read, and narrower."""

    def stall(folder: Path) -> tuple[float, float]:
        (answer,) = ask(folder, ("landing",), FEW).answers
        (figure,) = (f for f in answer.figures if f.name == "stall_speed")
        assert figure.value is not None
        assert figure.low is not None
        assert figure.high is not None
        return figure.value, figure.high - figure.low

    (before, wide), (after, narrow) = stall(REEDLING), stall(tested)
    assert before < after < 7.2
    assert narrow < 0.9 * wide


def test_variants_learn_from_the_plane_that_was_flown(tested: Path) -> None:
    """What speaks of the exchanged propeller is left out."""
    _, case = opened(tested, Settings(samples=64, variant="two cells"))
    forgotten = case.computed.draws.forgotten
    assert {"propeller.a", "propeller.b", "propeller.c"} <= forgotten
    assert not any(key.startswith("model.stall") for key in forgotten)
    assert case.learned is not None


def test_a_flight_is_judged_without_writing_anything(tested: Path) -> None:
    """The last of what was taught is this flight; the folder stays as it was."""
    before = sorted(path.name for path in tested.rglob("*"))
    seen = (Observation(name="top_speed", value=24.0, spread=0.7),)
    found = observe(load(tested), seen, "card of today")
    assert found.taught[-1].source.name == "card of today"
    assert len(found.taught) == 3
    assert sorted(path.name for path in tested.rglob("*")) == before
    for line in belief_json(found.taught[-1].changes):
        assert set(line) == {"parameter", "before", "after"}
        assert isinstance(line["before"], dict)
        assert set(line["before"]) == {"value", "low", "high"}


def test_an_unknown_observation_in_a_flight_is_told_with_its_file(folder: Path) -> None:
    """Not a crash."""
    write(
        folder,
        "first",
        FlightNote(date=dt.date(2026, 5, 2), observations=(Seen(what="joy", value=1, spread=1),)),
    )
    with pytest.raises(PlaneFileProblem, match=r"first\.toml.*'joy'"):
        sources(load(folder))


def test_anew_means_anew(tested: Path) -> None:
    """Even where the file is up to date it is learned and written again."""
    taught(tested)
    (tested / "belief.json").unlink()
    taught(tested, anew=True)
    assert (tested / "belief.json").exists()


def weighed_whole(folder: Path, grams: float) -> None:
    """Note what the scale showed of the plane ready to fly."""
    text = f'[[weighings]]\ndate = 2026-05-01\nitem = "all"\nmass = "{grams} g"\n'
    (folder / "bench.toml").write_text(text, encoding="utf-8")


@pytest.mark.parametrize("grams", [205.0, 290.0])
def test_no_answer_goes_on_with_a_plan_that_the_scale_has_refuted(
    folder: Path, grams: float
) -> None:
    """The whole plane weighs what the scale showed, though no part of the plan explains it."""
    weighed_whole(folder, grams)
    _, case = opened(folder, FEW)
    assert float(case.computed.masses.all_up.mean()) * 1e3 == pytest.approx(grams, abs=0.5)
    answer = ask(folder, ("weight",), FEW).answers[0]
    assert answer.probability is not None
    assert (answer.probability < 0.01) == (grams > 260.0)
    assert any("than the plan adds up to" in line for line in answer.assumed)
    _, plain = opened(REEDLING, FEW)
    moved = case.computed.masses.centre.mean(axis=0) - plain.computed.masses.centre.mean(axis=0)
    assert moved == pytest.approx([0.0, 0.0, 0.0], abs=2e-4)


def test_what_the_plan_lacks_goes_with_the_plane_into_a_change(folder: Path) -> None:
    """Leaving a part out makes the weighed plane lighter by that part."""
    weighed_whole(folder, 290.0)
    _, case = opened(folder, FEW)
    without = case.changed({"items.GPS": None})
    lighter = case.computed.masses.all_up - without.computed.masses.all_up
    assert float(lighter.mean()) * 1e3 == pytest.approx(7.0, abs=0.3)


def test_a_weighing_that_the_plan_explains_leaves_nothing_over(folder: Path) -> None:
    """It teaches the parts, as before."""
    weighed_whole(folder, 255.0)
    _, case = opened(folder, FEW)
    assert case.computed.draws.surplus == 0.0
    assert not any("than the plan adds up to" in line for line in case.computed.masses.assumed)


def lift_taught(folder: Path) -> tuple[float, float]:
    """Return the largest lift coefficient a flight taught, and the mass of the answers [kg]."""
    found = taught(folder)
    changes = {c.parameter: c for c in found.taught[-1].changes}
    _, case = opened(folder, FEW)
    return changes["maximum_lift"].after.value, float(case.computed.masses.all_up.mean())


def test_a_flight_is_learned_from_at_the_mass_the_scale_showed(folder: Path) -> None:
    """Stalled at 7.2 m/s at 290 g instead of the planned 245, the wing lifts so much more: the
    lift is the weight over pressure and area, any textbook."""
    write(folder, "first", FLIGHT)
    planned, plan_mass = lift_taught(folder)
    weighed_whole(folder, 290.0)
    weighed, mass = lift_taught(folder)
    assert mass == pytest.approx(0.290, abs=1e-3)
    # What was known of the lift before holds it back on the way to a proportion of masses.
    assert 1.0 < weighed / planned <= mass / plan_mass
    assert weighed / planned > 1.0 + 0.3 * (mass / plan_mass - 1.0)


@pytest.mark.parametrize("day", [dt.date(2026, 4, 30), dt.date(2026, 5, 3)])
def test_a_refused_weighing_stays_refused_and_in_its_place(folder: Path, day: dt.date) -> None:
    """Flown before or after it: the file tells it in its place, and it is read back so."""
    write(folder, "first", FLIGHT.model_copy(update={"date": day}))
    weighed_whole(folder, 290.0)
    found = taught(folder)
    names = ["weighing of 2026-05-01, ready to fly", "flight first"]
    day_of = [entry.source.day for entry in found.taught]
    assert sorted(entry.source.name for entry in found.taught) == sorted(names)
    assert day_of == sorted(day_of)
    refused = next(entry for entry in found.taught if entry.source.kind == "test")
    (check,) = refused.checked
    assert not check.used
    assert "fits nothing" in check.why
    assert taught(folder).taught == found.taught
    assert taught(folder, anew=True).taught == found.taught
    seen = (Observation(name="cruise_current", value=2.2, spread=0.1, speed=14.0),)
    after = observe(load(folder), seen).taught
    assert [entry.source.name for entry in after[:-1]] == [e.source.name for e in found.taught]
    assert after[-1].checked[0].used


def test_the_current_of_a_heavier_plane_is_no_dirtier_plane(folder: Path) -> None:
    """What 290 g draw in level flight teaches less drag than it would of 245 g."""
    areas = []
    for grams in (None, 290.0):
        if grams is not None:
            weighed_whole(folder, grams)
        seen = (Observation(name="cruise_current", value=1.2, spread=0.05, speed=9.0),)
        change = next(
            c for c in observe(load(folder), seen).taught[-1].changes if c.parameter == "drag_area"
        )
        areas.append((change.before.value, change.after.value))
    plan, heavy = (after / before for before, after in areas)
    assert heavy < plan
