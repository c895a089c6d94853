"""What a flight told."""

import json
import shutil
from pathlib import Path

import numpy as np
import pytest

from foamwright.jobs.ask import Settings, ask
from foamwright.jobs.debrief import (
    Debriefed,
    Wishes,
    as_json,
    debrief,
    expected_of,
    observations_of,
)
from foamwright.plane.document import load
from foamwright.problems import CallProblem, DataFileProblem

EXAMPLES = Path(__file__).parents[2] / "examples"
LOG = EXAMPLES / "reedling" / "logs" / "example-log.csv"
CARD = "top speed = 27 m/s, current at full throttle = 12 A, used = 420 mAh in 7 min at 12 m/s"


@pytest.fixture
def plane(tmp_path: Path) -> Path:
    """Return a copy of the example to write into."""
    return Path(shutil.copytree(EXAMPLES / "reedling", tmp_path / "reedling"))


def snapshot(folder: Path) -> dict[str, bytes]:
    """Return every file of a folder."""
    return {
        str(path.relative_to(folder)): path.read_bytes()
        for path in sorted(folder.rglob("*"))
        if path.is_file()
    }


def figures(found: Debriefed) -> dict[str, float]:
    """Return the figures of the one flight."""
    return {one.name: one.value for one in found.flights[0].figures if one.value is not None}


def test_the_plane_tells_what_its_log_may_hold() -> None:
    """Three cells, a 5 x 3 propeller, 2300 turns a minute and volt."""
    found = expected_of(load(EXAMPLES / "reedling"))
    assert found.cells == 3
    assert found.pitch == pytest.approx(3 * 0.0254)
    assert found.no_load == pytest.approx(2300 / 60)
    assert found.pitch_speed == pytest.approx(3 * 0.0254 * 2300 / 60 * 12.6)


def test_the_motor_tells_its_pole_pairs(plane: Path) -> None:
    """None where the plane file does not say; seven where it does."""
    assert expected_of(load(plane)).pole_pairs is None
    file = plane / "plane.toml"
    text = file.read_text(encoding="utf-8")
    file.write_text(text.replace('kind = "motor"', 'kind = "motor"\npole_pairs = 7', 1))
    assert expected_of(load(plane)).pole_pairs == 7


def test_the_example_log_is_read_in_si() -> None:
    """Its speed column in knots is found out: 28 m/s, not 54; charge is what was counted."""
    found = debrief(EXAMPLES / "reedling", (LOG,), Wishes())
    told = figures(found)
    assert 27.0 < told["top_ground_speed"] < 29.0
    assert told["charge_used"] == pytest.approx(257 * 3.6, abs=3.6)
    assert "charge_logged" not in told
    log = found.flights[0].log
    assert log is not None
    assert 0.9 < log.recording.coverage < 0.95
    assert found.written == ()


def test_what_the_flight_was_is_found_again() -> None:
    """tools/fly_example.py flew in air that moves 3.4 m/s south and 2.1 m/s east, its drag
    coefficient 0.05 and the induced part on 0.104 m2; the bands told hold eight in ten."""
    flight = debrief(EXAMPLES / "reedling", (LOG,), Wishes()).flights[0]
    assert flight.wind is not None
    assert flight.wind.low < np.hypot(3.4, 2.1) < flight.wind.high
    assert flight.wind.from_deg == pytest.approx(328.3, abs=8.0)
    told = {one.name: one for one in flight.figures}
    assert told["top_speed"].value == pytest.approx(24.5, rel=0.06)
    areas = [one.value for one in flight.figures if one.name == "drag_area"]
    assert len(areas) == 2
    assert areas == pytest.approx([0.0060, 0.0060], rel=0.15)


def test_the_json_is_the_contract() -> None:
    """Keys of the log, its columns, figures, findings, what is not said, belief."""
    told = as_json(debrief(EXAMPLES / "reedling", (LOG,), Wishes()))
    assert set(told["wind"]) == {"speed", "low", "high", "from_deg"}  # type: ignore[call-overload]
    assert set(told) == {
        *("schema", "log", "wind", "figures", "findings", "not_said", "assumed", "belief"),
    }
    log = json.loads(json.dumps(told["log"], allow_nan=False))
    assert set(log) == {"rows", "seconds", "coverage", "gaps", "columns"}
    assert set(log["columns"][0]) == {"column", "taken_as", "unit", "scale", "sure", "because"}
    assert set(log["gaps"][0]) == {"start", "end"}


def test_what_fits_nothing_is_told_not_swallowed(plane: Path) -> None:
    """A card's mass far off the scale's: from what nothing is learned is said, once a reason."""
    (plane / "bench.toml").write_text(
        '[[weighings]]\ndate = 2026-05-01\nitem = "all"\nmass = "262 ± 1 g"\n', encoding="utf-8"
    )
    card = "all-up mass = 230 g, top speed = 24 m/s ± 0.5 m/s"
    found = debrief(plane, (), Wishes(card=card))
    assert found.belief == ()
    said = [line for line in found.flights[-1].not_said if "nothing is learned" in line]
    assert len(said) == 2
    assert "the all-up mass: it fits nothing the model knows" in said[0]
    assert "the top speed" in said[1]
    assert "together with something that fits nothing" in said[1]
    fitting = debrief(plane, (), Wishes(card="top speed = 24 m/s ± 2 m/s"))
    assert not [line for line in fitting.flights[-1].not_said if "nothing is learned" in line]
    assert fitting.belief != ()


def test_a_card_teaches_and_writes_nothing(plane: Path) -> None:
    """Until it is accepted."""
    before = snapshot(plane)
    found = debrief(plane, (), Wishes(card=CARD))
    assert found.belief != ()
    assert all(change.before != change.after for change in found.belief)
    assert snapshot(plane) == before


def test_an_accepted_card_is_kept_and_narrows_the_answers(plane: Path) -> None:
    """The band of the top speed gets narrower, and the answer says from what."""
    settings = Settings(samples=256)
    before = ask(plane, ("speed",), settings).answers[0]
    found = debrief(plane, (), Wishes(card=CARD, accept=True))
    assert [file.suffix for file in found.written] == [".toml"]
    after = ask(plane, ("speed",), settings).answers[0]
    widths = [
        answer.figures[0].high - answer.figures[0].low
        for answer in (before, after)
        if answer.figures[0].high is not None and answer.figures[0].low is not None
    ]
    assert widths[1] < widths[0]


def test_an_accepted_log_is_copied_whole(plane: Path) -> None:
    """Byte for byte; a second time it is refused and nothing changes."""
    found = debrief(plane, (LOG,), Wishes(accept=True))
    copy = next(file for file in found.written if file.suffix == ".csv")
    assert copy.read_bytes() == LOG.read_bytes()
    before = snapshot(plane)
    with pytest.raises(Exception, match="accepted before"):
        debrief(plane, (LOG,), Wishes(accept=True))
    assert snapshot(plane) == before


def test_charge_put_back_is_held_against_a_log_with_holes(tmp_path: Path) -> None:
    """22 % of the rows are missing: the log is a floor, its scale is not corrected."""
    time = np.arange(0.0, 370.0, 0.1)
    kept = (time % 11.0) > 2.4
    current = np.full(time.size, 5.0)
    log = tmp_path / "holes.csv"
    rows = np.column_stack((time, 11.8 - time / 1000, current + 0.1 * np.sin(time)))[kept]
    header = "time_s,volt_V,current_A"
    np.savetxt(log, rows, fmt="%.3f", delimiter=",", header=header, comments="")
    found = debrief(EXAMPLES / "reedling", (log,), Wishes(card="put back = 508 mAh"))
    flight = found.flights[0]
    assert flight.log is not None
    assert flight.log.recording.coverage == pytest.approx(0.78, abs=0.01)
    assert "is a floor" in flight.findings[0].what
    assert "do not correct" in flight.findings[0].what
    assert figures(found)["charge_used"] == pytest.approx(508 * 3.6)


def test_what_cannot_be_debriefed_is_told(tmp_path: Path) -> None:
    """Nothing at all, a card for two logs, a log that is not there."""
    reedling = EXAMPLES / "reedling"
    with pytest.raises(CallProblem, match="nothing to debrief"):
        debrief(reedling, (), Wishes())
    with pytest.raises(CallProblem, match="one flight"):
        debrief(reedling, (LOG, LOG), Wishes(card=CARD))
    with pytest.raises(DataFileProblem, match="cannot be read"):
        debrief(reedling, (tmp_path / "none.csv",), Wishes())


def test_several_flights_are_told_one_by_one() -> None:
    """And their belief together."""
    told = as_json(debrief(EXAMPLES / "reedling", (LOG, LOG), Wishes()))
    assert isinstance(told["flights"], list)
    assert len(told["flights"]) == 2
    assert set(told["flights"][0]) == {
        *("log", "wind", "figures", "findings", "not_said", "assumed"),
    }


def test_a_reading_without_its_speed_teaches_nothing_and_is_said() -> None:
    """Charge alone belongs to no speed."""
    found = debrief(EXAMPLES / "reedling", (), Wishes(card="used = 420 mAh in 7 min"))
    assert observations_of(found.flights[0].readings) == ()
    assert "charge used" in found.flights[0].not_said[0]
    assert found.belief == ()


def test_flights_before_a_change_are_held_beside(plane: Path, tmp_path: Path) -> None:
    """The same flight under another name moved nothing; nothing of it is kept or taught."""
    again = tmp_path / "again.csv"
    shutil.copy(LOG, again)
    found = debrief(plane, (LOG,), Wishes(before=(again,)))
    assert found.compared is not None
    assert {one.change.name for one in found.compared.moved} >= {"top_speed", "drag_area"}
    assert all(one.change.value == 0.0 for one in found.compared.moved)
    assert all(one.verdict == "cannot tell" for one in found.compared.moved)
    told = as_json(found)
    json.dumps(told, allow_nan=False)
    assert len(told["compared"]) == len(found.compared.moved)  # type: ignore[arg-type]
    alone = debrief(plane, (LOG,), Wishes())
    assert "compared" not in as_json(alone)
    assert found.belief == alone.belief
    kept = debrief(plane, (LOG,), Wishes(before=(again,), accept=True))
    assert not any("again" in path.name for path in kept.written)


def test_a_flight_cannot_be_on_both_sides(plane: Path) -> None:
    """It is named, and nothing is compared."""
    with pytest.raises(CallProblem, match="before and after"):
        debrief(plane, (LOG,), Wishes(before=(LOG,)))


def test_cards_can_be_held_beside_each_other(plane: Path) -> None:
    """Wind stands in both numbers: 27 after 25 m/s cannot be told from it."""
    wishes = Wishes(card="top speed = 27 m/s", before_card="top speed = 25 m/s")
    found = debrief(plane, (), wishes).compared
    assert found is not None
    assert [one.verdict for one in found.moved] == ["cannot tell"]
    wishes = Wishes(card="top speed = 27 +- 0.3 m/s", before_card="top speed = 25 +- 0.3 m/s")
    found = debrief(plane, (), wishes).compared
    assert found is not None
    assert [one.verdict for one in found.moved] == ["helped"]


@pytest.mark.parametrize("card", ["used = 4200 mAh in 7 min at 12 m/s", "put back = 5 Ah"])
def test_more_charge_than_the_pack_holds_is_refused(plane: Path, card: str) -> None:
    """Ten times 420 mAh off a 450 mAh pack is a nought too many, and nothing is learned of it."""
    before = sorted(plane.rglob("*"))
    with pytest.raises(CallProblem, match="is more than the pack of 450 mAh holds"):
        debrief(plane, (), Wishes(card=card, accept=True))
    assert sorted(plane.rglob("*")) == before


def test_a_pack_flown_to_the_brim_is_believed(plane: Path) -> None:
    """508 mAh out of 450: printed short, and the charger reads high."""
    found = debrief(plane, (), Wishes(card="put back = 508 mAh"))
    assert found.flights[0].readings[0].value == pytest.approx(508 * 3.6)


def test_it_says_at_which_mass_a_flight_was_read(plane: Path) -> None:
    """As the card tells it, else as weighed, else as planned: and asks for what is better."""
    (plane / "bench.toml").unlink(missing_ok=True)
    planned = debrief(plane, (LOG,), Wishes()).flights[0]
    assert "as planned: weigh it ready to fly" in planned.assumed[0]
    told = debrief(plane, (LOG,), Wishes(card="mass = 250 g")).flights[0]
    assert told.assumed == ()
    text = '[[weighings]]\ndate = 2026-05-01\nitem = "all"\nmass = "290 g"\n'
    (plane / "bench.toml").write_text(text, encoding="utf-8")
    weighed = debrief(plane, (LOG,), Wishes())
    assert weighed.flights[0].assumed == ("it flew at 290 g, as weighed on 2026-05-01",)
    assert as_json(weighed)["assumed"] == list(weighed.flights[0].assumed)
    area = {f.name: f.value for f in planned.figures}["drag_area"]
    assert area is not None
    assert figures(weighed)["drag_area"] / area == pytest.approx(290 / 246, rel=0.03)


def test_what_teaches_nothing_needs_no_mass(plane: Path) -> None:
    """A card of the flight time alone."""
    assert debrief(plane, (), Wishes(card="flight time = 7 min")).flights[0].assumed == ()


def test_a_flight_is_kept_with_the_mass_its_card_told(plane: Path) -> None:
    """Where it counts, in the note of the flight."""
    card = "stall speed = 7.4 m/s, mass = 260 g, air temperature = 4 °C"
    (file,) = debrief(plane, (), Wishes(card=card, accept=True)).written
    text = file.read_text(encoding="utf-8")
    assert 'what = "stall_speed"' in text
    assert text.count("mass = 0.26") == 1
    assert "temperature = 277.15" in text
