"""A heavy delta shell, 46 cm across: can it be thrown?

The scenario's figures are a person's with a simulation in the vertical plane: 30 % clean (20 to
40), 3 m/s of head wind 98 %, 60 g less 69 %, thrust over weight of 0.9 68 %. Flown in that plane
only (nothing crooked, no torque) the model gives 25, 85, 54 and 38 %: the same order but for
thrust, which is worth less where the motor needs 0.2 s after its 0.3 s to come up. Free to roll
and yaw some more are lost.
"""

import dataclasses
from collections.abc import Mapping
from pathlib import Path

import numpy as np
import pytest

from foamwright.jobs.ask import Settings, opened
from foamwright.model.launch_setup import lighter, throw_of
from foamwright.physics.flight.launch import flown
from foamwright.physics.flight.launch_plane import Throw
from foamwright.questions import launch
from foamwright.questions.case import Case
from foamwright.questions.launch_levers import levers

ANVIL = Path(__file__).parents[2] / "examples" / "anvil"
WANTED = 0.55
"""Thrust over weight of the scenario: 228 g on 415 g."""

CROOKED = ("bank", "sideslip", "roll_rate", "yaw_rate", "cross_wind")


@pytest.fixture(scope="module")
def heavy() -> Case:
    """Return the delta with the scenario's mass; its thrust is looked at below."""
    return opened(ANVIL, Settings())[1]


def in_the_plane(case: Case, **change: object) -> float:
    """Return the chance of a clean launch in the vertical plane, thrust as in the scenario."""
    setup = case.computed.launch_setup
    thrust = throw_of(setup, "pilot", throttle=1.0).power.thrust_constant
    ratio = np.median(thrust / (setup.plane.mass * 9.80665))
    wanted = float(change.get("ratio", WANTED))  # type: ignore[arg-type]
    setup = dataclasses.replace(setup, thrust_factor=wanted / ratio)
    if "less" in change:
        setup = lighter(setup, float(change["less"]))  # type: ignore[arg-type]
    throw = throw_of(setup, "pilot", throttle=1.0)
    nothing = np.zeros(setup.samples)
    return float(flown(straight(throw, nothing)).clean.mean())


def straight(throw: Throw, nothing: np.ndarray) -> Throw:
    """Return the throws with nothing that would roll or yaw them."""
    release = dataclasses.replace(throw.release, **dict.fromkeys(CROOKED, nothing))
    power = dataclasses.replace(
        throw.power, torque_constant=nothing, torque_linear=nothing, torque_square=nothing
    )
    return dataclasses.replace(throw, release=release, power=power)


def test_it_weighs_and_pulls_what_the_scenario_says(heavy: Case) -> None:
    """415 g; 228 g of thrust standing still lie in the label's band, whose middle is 0.59."""
    plane = heavy.computed
    assert np.median(plane.masses.all_up) == pytest.approx(0.415, abs=0.01)
    ratio = plane.full_throttle.static_thrust / plane.weight
    assert np.quantile(ratio, 0.1) < WANTED < np.quantile(ratio, 0.9)


def test_in_the_vertical_plane_it_is_the_scenario(heavy: Case) -> None:
    """20 to 40 %; a head wind of 3 m/s saves most, 85 % and more."""
    assert 0.20 <= in_the_plane(heavy) <= 0.40
    windy = heavy.changed({"site.wind": "3 ± 0.5 m/s"})
    assert in_the_plane(windy) > 0.80


def test_levers_in_the_vertical_plane_are_in_the_scenario_s_order(heavy: Case) -> None:
    """Wind before 60 g less and before thrust of 0.9; both of these help."""
    wind = in_the_plane(heavy.changed({"site.wind": "3 ± 0.5 m/s"}))
    less, thrust, before = (
        in_the_plane(heavy, **change) for change in ({"less": 0.06}, {"ratio": 0.9}, {})
    )
    assert wind > max(less, thrust)
    assert min(less, thrust) > before + 0.05


def test_free_to_roll_it_is_hardly_thrown(heavy: Case) -> None:
    """The verdict is unlikely or unsure: torque and a crooked hand take some more of the 30 %."""
    answer = launch.answer(heavy)
    assert answer.verdict in ("unlikely", "unsure")
    assert answer.probability is not None
    assert 0.10 <= answer.probability <= 0.40
    assert "0.86 times its stall speed" in answer.because


def test_wind_is_the_first_lever_and_speed_the_second(heavy: Case) -> None:
    """Then mass; each with its own chance. Thrust comes later than the scenario has it.

    A third more of it comes with a third more torque, and 0.3 s after the release a plane at 0.86
    times its stall speed has already sunk half a metre.
    """
    found = [(one.do, one.effect[0].after or 0.0) for one in levers(heavy, launch.measure(heavy))]
    words = [do for do, _ in found]
    assert "of wind" in words[0]
    assert "on the run" in words[1]
    assert "Take 60" in words[2]
    assert found[0][1] > 0.7
    assert [after for _, after in found] == sorted((a for _, a in found), reverse=True)


@pytest.mark.parametrize(
    ("speed", "low", "high"), [("8 ± 0.1 m/s", 0.0, 0.25), ("11 ± 0.1 m/s", 0.7, 1.0)]
)
def test_it_touches_at_eight_and_flies_at_eleven(
    heavy: Case, speed: str, low: float, high: float
) -> None:
    """Below its stall speed nothing saves it in calm air; a fifth above it flies."""
    changes: Mapping[str, object] = {"thrower.speed": speed}
    assert low <= (launch.measure(heavy.changed(changes)).probability or 0.0) <= high
