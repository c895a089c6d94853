"""Every note against the plan."""

from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest

from foamwright.model.bench_checks import OFF, Check, as_planned, checks_of, slug
from foamwright.model.computable import ComputablePlane
from foamwright.model.suspects import AS_PLANNED
from foamwright.plane.bench import validated
from foamwright.plane.bench_records import Bench

Computed = Callable[..., ComputablePlane]

NOTES = """\
[[weighings]]
item = "GPS"
mass = "7.2 g"
[[weighings]]
item = "aileron servos"
mass = "9.8 g"
pieces = 2
[[weighings]]
item = "bare foam"
mass = "112 g"
[[weighings]]
item = "all"
mass = "254 g"
[[weighings]]
item = "a thing long gone"
mass = "5 g"
[[static]]
thrust = "400 g"
current = "8 A"
[[balances]]
at = "244 mm"
[[swings]]
axis = "roll"
distance = "300 mm"
length = "1.2 m"
time = "36 s"
swings = 20
[[throws]]
speed = "8.4 m/s"
angle = "10 deg"
[[servo_sweeps]]
servo = "aileron servos"
angle = "60 deg"
time = "0.11 s"
[[charges]]
charge = "300 mAh"
time = "7 min"
speed = "14 m/s"
[[steps]]
step = "anything"
"""


def bench(text: str) -> Bench:
    """Return notes, all of one day."""
    return validated(text.replace("]]\n", "]]\ndate = 2026-05-01\n"), Path("bench.toml"))


@pytest.fixture(scope="module")
def found(computed: Computed) -> dict[str, Check]:
    """Return every check of the notes by name."""
    return {check.name: check for check in checks_of(bench(NOTES), computed("reedling"))}


def test_every_note_that_can_be_foretold_is_checked(found: dict[str, Check]) -> None:
    """What is gone from the plane and the build steps are not."""
    assert set(found) == {
        "static_thrust",
        "static_current",
        "inertia_roll",
        "mass_of_gps",
        "mass_of_aileron_servos",
        "mass_of_bare_foam",
        "mass_of_all",
        "balance_place",
        "throw_speed",
        "throw_angle",
        "sweep_of_aileron_servos",
        "charge_used",
    }


def test_pieces_are_compared_one_by_one(found: dict[str, Check]) -> None:
    """9.8 g for two servos against 5 g planned for one."""
    check = found["mass_of_aileron_servos"]
    assert check.value == pytest.approx(4.9e-3)
    assert np.median(check.planned) == pytest.approx(5e-3, rel=0.01)
    assert check.chance > 0.9


def test_readings_near_the_plan_are_as_planned(found: dict[str, Check]) -> None:
    """All of these were chosen near it, by the model's middle or the plane file's own numbers."""
    for name in ("static_thrust", "mass_of_gps", "mass_of_all", "throw_speed", "throw_angle"):
        assert found[name].chance > 0.85, name


def test_a_test_shares_its_causes(found: dict[str, Check]) -> None:
    """Thrust and amps of one test have one chance."""
    thrust, current = found["static_thrust"], found["static_current"]
    assert thrust.suspects == current.suspects
    assert thrust.chance == current.chance
    assert found["inertia_roll"].suspects


def test_every_reading_has_causes_whose_odds_sum_to_one(found: dict[str, Check]) -> None:
    """And is as planned as far as they leave it to be."""
    for check in found.values():
        chances = {suspect.name: suspect.probability for suspect in check.suspects}
        assert sum(chances.values()) == pytest.approx(1.0), check.name
        assert check.chance == pytest.approx(chances[AS_PLANNED]), check.name
        assert all(suspect.check for suspect in check.suspects if suspect.name != AS_PLANNED)


@pytest.mark.parametrize(
    ("away", "low", "high"), [(0.0, 0.96, 0.98), (2.0, 0.8, 0.95), (3.0, 0.1, 0.6), (6.0, 0, 1e-4)]
)
def test_the_chance_falls_with_the_distance(away: float, low: float, high: float) -> None:
    """Two normals weighed by Bayes' rule: at the middle 9 x 4 to 1."""
    planned = np.random.default_rng(1).normal(10.0, 1.0, 4000)
    assert low <= as_planned(10.0 + away, 1e-6, planned) <= high


@pytest.mark.filterwarnings("error")
@pytest.mark.parametrize("away", [60.0, -900.0, 1e9])
def test_a_reading_from_another_world_is_surely_not_as_planned(away: float) -> None:
    """Both normals are nothing so far out; their ratio is not."""
    planned = np.random.default_rng(1).normal(10.0, 1.0, 400)
    assert 0.0 <= as_planned(10.0 + away, 1e-6, planned) < 1e-100


def test_what_has_no_plan_stays_as_it_was() -> None:
    """Not a number, or no spread at all."""
    assert as_planned(1.0, 0.0, np.ones(8)) == 1.0 - OFF
    assert as_planned(1.0, 0.1, np.full(8, np.nan)) == 1.0 - OFF


def test_names_become_keys() -> None:
    """Spaces and signs go."""
    assert slug("Glue, tape & wire") == "glue_tape_wire"


def test_without_a_drive_the_static_test_is_left_out(computed: Computed) -> None:
    """There is nothing to hold it against."""
    bare = computed("reedling", {"items.motor": {"remove": True}})
    assert checks_of(bench('[[static]]\nthrust = "400 g"\n'), bare) == ()
