"""The question of the bench: open without notes, calm with good ones, pointed with bad ones."""

import dataclasses
import re
import shutil
from collections.abc import Callable
from pathlib import Path

import pytest

from foamwright.jobs.ask import Settings, opened
from foamwright.questions import bench
from foamwright.questions.answer import Answer
from foamwright.questions.case import Case

REEDLING = Path(__file__).parents[2] / "examples" / "reedling" / "plane.toml"
Noting = Callable[[str], Case]

STATIC = '[[static]]\nthrust = "{}"\ncurrent = "{}"\nvoltage = "{}"\n'
SWING = (
    '[[swings]]\naxis = "roll"\ndistance = "300 mm"\nlength = "1.2 m"\ntime = "{}"\nswings = 20\n'
)


@pytest.fixture
def noting(tmp_path: Path) -> Noting:
    """Return a function that makes a case of the glider with some notes."""
    shutil.copy(REEDLING, tmp_path)

    def noted(text: str) -> Case:
        notes = text.replace("]]\n", "]]\ndate = 2026-05-01\n")
        (tmp_path / "bench.toml").write_text(notes, encoding="utf-8")
        return opened(tmp_path, Settings(samples=256))[1]

    return noted


def answer(case: Case) -> Answer:
    """Return the answer, which measures what `measure` does."""
    found = bench.answer(case)
    assert found.probability == bench.measure(case).probability
    return found


def test_without_notes_it_is_open_and_says_what_to_measure_first(noting: Noting) -> None:
    """What is foretold worst comes first: amps before mass."""
    found = answer(noting(""))
    assert found.verdict == "open"
    assert found.figures == ()
    assert len(found.missing) == 3
    assert "amps" in found.missing[0]
    assert "ten seconds" in found.cautions[0]


def test_without_a_drive_mass_and_balance_are_left_to_measure(noting: Noting) -> None:
    """Nothing is asked that could not be compared."""
    case = noting("").changed({"items.motor": {"remove": True}})
    assert len(bench.measure(case).missing) == 2


def test_readings_near_the_plan_are_a_yes(noting: Noting) -> None:
    """Each a figure; its limits are where eight in ten were to lie."""
    text = (
        STATIC.format("410 g", "7.8 A", "11.85 V") + '[[weighings]]\nitem = "GPS"\nmass = "7 g"\n'
    )
    found = answer(noting(text))
    assert found.verdict in ("yes", "likely")
    assert "All 4 readings lie about where" in found.because
    thrust = next(f for f in found.figures if f.name == "static_thrust")
    assert thrust.limit_low is not None
    assert thrust.limit_high is not None
    assert thrust.limit_low < (thrust.value or 0.0) < thrust.limit_high
    assert thrust.unit == "N"


def test_half_the_thrust_at_nearly_full_current_names_face_or_hand_first(noting: Noting) -> None:
    """And rules the pack out by the volts read."""
    found = answer(noting(STATIC.format("215 g", "7.3 A", "11.9 V")))
    assert found.verdict == "no"
    assert found.because.startswith("Off: thrust, standing still")
    assert "Most likely the propeller's face or hand is wrong" in found.because
    assert "too near" in found.because
    ruled = found.because.partition("Ruled out: ")[2]
    assert "the pack is weak" in ruled
    assert "pack voltage" in ruled
    assert "not 11.9 V" in ruled
    assert any("fits nothing the model knows" in line for line in found.assumed)


def test_half_the_thrust_at_half_the_current_asks_for_the_throttle(noting: Noting) -> None:
    """End points or rpm, not the propeller's face."""
    found = answer(noting(STATIC.format("215 g", "3.6 A", "12.2 V")))
    assert "Most likely the throttle never reaches full" in found.because
    assert "rpm" in found.because


def test_a_quarter_of_the_inertia_asks_for_half_swings(noting: Noting) -> None:
    """As in the notes of somebody who counted to and fro as two."""
    found = answer(noting(SWING.format("18.3 s")))
    assert "Most likely half swings were counted as whole ones" in found.because
    figure = found.figures[0]
    assert figure.name == "inertia_roll"
    assert figure.unit == "kg m^2"
    assert answer(noting(SWING.format("36.5 s"))).verdict in ("yes", "likely")


def test_a_wrong_mass_is_told_beside_its_plan(noting: Noting) -> None:
    """The weakest reading decides and comes first."""
    text = (
        '[[weighings]]\nitem = "GPS"\nmass = "12 g"\n[[weighings]]\nitem = "pack"\nmass = "41 g"\n'
    )
    found = answer(noting(text))
    assert found.verdict == "no"
    assert [figure.name for figure in found.figures] == ["mass_of_gps", "mass_of_pack"]
    assert "mass of GPS 12.0 g against" in found.because


BALANCE = '[[balances]]\nat = "{}"\n'
CHARGE = '[[charges]]\ncharge = "{}"\ntime = "6 min"\nspeed = "14 m/s"\n'
HANG = '[[hang]]\nsurface = "wing"\nload = "50 g"\narm = "40 mm"\nat = "350 mm"\ntwist = "{}"\n'


@pytest.mark.parametrize(
    ("text", "words"),
    [
        (BALANCE.format("251 mm"), ("where it balances 251 mm", "fingertips", "the pack sits")),
        (CHARGE.format("440 mAh"), ("charge used 440 mAh", "flown", "foamwright debrief")),
        (HANG.format("0.8 deg"), ("twist of wing", "carbon rods", "the bare half or a scrap")),
    ],
)
def test_every_test_that_is_off_names_its_causes(
    noting: Noting, text: str, words: tuple[str, ...]
) -> None:
    """The likeliest with its chance, what speaks for and against it, and one step."""
    found = answer(noting(text))
    assert found.verdict in ("unlikely", "no")
    assert "Most likely" in found.because
    assert "for it, " in found.because
    assert "To find out, " in found.because
    for part in words:
        assert part in found.because
    assert re.search(r"As planned after all [\w ]+%, anything else [\w ]+%\.", found.because)


def test_two_tests_that_are_off_each_name_a_cause(noting: Noting) -> None:
    """The strangest first with three, the next with its likeliest."""
    found = answer(noting(BALANCE.format("240 mm") + HANG.format("0.8 deg")))
    first, sign, rest = found.because.partition("As to twist of wing")
    assert sign
    assert first.count("To find out") <= 3
    assert rest.count("To find out") == 1


def test_the_chances_told_sum_to_one(noting: Noting) -> None:
    """Named causes, as planned and anything else, as rounded."""
    found = answer(noting(BALANCE.format("257 mm")))
    told = [int(share) for share in re.findall(r"(\d+)%[),.]", found.because)]
    assert len(told) >= 4
    assert sum(told) == pytest.approx(100, abs=3)


def test_a_balance_that_the_weighings_explain_says_so(noting: Noting) -> None:
    """The scale showed a heavy GPS; the balance is as it should be then."""
    text = '[[weighings]]\nitem = "GPS"\nmass = "19 g"\n' + BALANCE.format("271.5 mm")
    assert "as the scale showed (GPS)" in answer(noting(text)).because


def test_reasons_are_told_in_the_units_asked_for(noting: Noting) -> None:
    """Inches, ounces and miles an hour."""
    case = noting(BALANCE.format("251 mm") + CHARGE.format("440 mAh"))
    plane = case.plane.model_copy(update={"units": "imperial"})
    said = answer(dataclasses.replace(case, plane=plane)).because
    assert not re.search(r"\d (mm|cm|m|g|kg|m/s|km/h)\b", said)
    assert re.search(r"\d in\b", said)


def test_a_score_of_the_bands_is_told(noting: Noting) -> None:
    """How many readings fell into their bands."""
    found = answer(noting(STATIC.format("410 g", "7.8 A", "11.85 V")))
    assert any("readings fell into the band" in line for line in found.assumed)


def test_steps_alone_are_no_measurement(noting: Noting) -> None:
    """A build step has nothing to compare."""
    assert answer(noting('[[steps]]\nstep = "wing"\n')).verdict == "open"
