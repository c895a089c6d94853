"""Why a static test reads other than planned: ranked by what each cause would read."""

from collections.abc import Callable, Mapping

import numpy as np
import pytest

from foamwright.model.causes import (
    STATIC_CAUSES,
    Tell,
    against,
    not_full,
    planned,
    static_suspects,
    too_near,
    uniform,
    weak_pack,
    weighed_up,
    wrong_face,
)
from foamwright.model.computable import ComputablePlane
from foamwright.model.evidence import Observation
from foamwright.model.suspects import AS_PLANNED, Suspect

Computed = Callable[..., ComputablePlane]
GRAM = 9.80665e-3
READ = {
    "thrust": ("static_thrust", 0.03),
    "amps": ("static_current", 0.03),
    "volts": ("static_voltage", 0.005),
    "rpm": ("static_rotation_speed", 0.01),
}
BIG = {
    "items.motor.stock": "motor 2204 2300",
    "items.propeller.stock": "propeller 5x4.5",
    "items.pack.stock": "pack 3S 850",
    "items.pack.mass": "60 g",
}
"""A plane whose forecast is nearest to 586 g at 12.1 A, the case the next tests are about."""


@pytest.fixture(scope="module")
def big(computed: Computed) -> ComputablePlane:
    """Return the plane with the larger drive."""
    plane = computed("reedling", BIG)
    plane.settle_flight()
    return plane


def seen(**read: float) -> tuple[Observation, ...]:
    """Return readings with their usual spreads."""
    return tuple(
        Observation(name=READ[key][0], value=value, spread=READ[key][1] * value)
        for key, value in read.items()
    )


def ranked(plane: ComputablePlane, **read: float) -> Mapping[str, Suspect]:
    """Return the causes by name, likeliest first."""
    return {suspect.name: suspect for suspect in static_suspects(plane, seen(**read))}


def order(found: Mapping[str, Suspect], *words: str) -> list[int]:
    """Return the ranks of the causes that hold some words."""
    names = list(found)
    return [next(n for n, name in enumerate(names) if word in name) for word in words]


def test_half_the_thrust_at_nearly_full_current_is_the_propellers_face(
    big: ComputablePlane,
) -> None:
    """Face or hand first, the table after it; volts held up, so the pack is ruled out by them."""
    found = ranked(big, thrust=285 * GRAM, amps=11.2, volts=11.7)
    assert order(found, "face or hand", "too near") == [0, 1]
    pack = found["the pack is weak or was not full"]
    assert pack.probability < 0.005
    assert pack.against == "static_voltage"
    assert pack.expected is not None
    assert pack.expected[1] < 11.7
    assert found[AS_PLANNED].probability < 0.001


def test_without_volts_a_weak_pack_is_not_ruled_out(big: ComputablePlane) -> None:
    """The reading that tells is missing, and the chance says so."""
    with_volts = ranked(big, thrust=285 * GRAM, amps=11.2, volts=11.7)
    without = ranked(big, thrust=285 * GRAM, amps=11.2)
    name = "the pack is weak or was not full"
    assert without[name].probability > 100.0 * with_volts[name].probability


def test_half_the_thrust_at_half_the_current_is_the_throttle(big: ComputablePlane) -> None:
    """End points of the speed controller first, not the propeller's face."""
    found = ranked(big, thrust=285 * GRAM, amps=5.5)
    assert order(found, "throttle") == [0]
    assert "rpm" in found["the throttle never reaches full"].check
    assert found["the propeller's face or hand is wrong"].probability < 0.05


def test_an_ordinary_reading_is_as_planned(big: ComputablePlane) -> None:
    """The middle of the forecast leaves nothing to suspect."""
    told = planned(big, big.draws)
    middle = {key: float(np.median(told[name])) for key, (name, _) in READ.items()}
    found = ranked(big, **middle)
    assert order(found, AS_PLANNED) == [0]
    assert found[AS_PLANNED].probability > 0.85


HANDS: dict[Tell, tuple[tuple[float, float], ...]] = {
    wrong_face: ((0.4, 0.6), (0.75, 1.1), (0.99, 1.02)),
    weak_pack: ((0.55, 0.9), (0.6, 0.92), (0.75, 0.92)),
    too_near: ((0.6, 0.9), (1.0, 1.0), (1.0, 1.0)),
    not_full: ((0.35, 0.8), (0.25, 0.75), (1.0, 1.05)),
}
"""What each cause leaves of thrust, amps and volts; common practice, no source."""


@pytest.mark.parametrize("cause", list(HANDS))
def test_each_cause_has_its_own_hand(big: ComputablePlane, cause: Tell) -> None:
    """What it takes of thrust, amps and volts, by the drive solved once more."""
    was, now = planned(big, big.draws), cause(big, big.draws.branched())
    names = ("static_thrust", "static_current", "static_voltage")
    for name, (low, high) in zip(names, HANDS[cause], strict=True):
        ratio = float(np.median(now[name]) / np.median(was[name]))
        assert low - 1e-9 <= ratio <= high + 1e-9, name


def test_chances_add_up_to_one_and_fall(big: ComputablePlane) -> None:
    """Likeliest first."""
    chances = [s.probability for s in static_suspects(big, seen(thrust=300 * GRAM, rpm=310.0))]
    assert sum(chances) == pytest.approx(1.0)
    assert chances == sorted(chances, reverse=True)


def test_the_weighing_is_bayes_rule() -> None:
    """Two causes with a normal reading each, against the closed form."""
    rng = np.random.default_rng(1)
    causes = (STATIC_CAUSES[0], STATIC_CAUSES[1])
    one = Observation(name="static_thrust", value=1.0, spread=1e-3)
    told = {
        causes[0].name: {"static_thrust": np.exp(rng.normal(0.1, 0.2, 200_000))},
        causes[1].name: {"static_thrust": np.exp(rng.normal(-0.3, 0.2, 200_000))},
    }
    found = {s.name: s.probability for s in weighed_up(told, (one,), causes)}
    wide = 0.2**2 + 0.03**2 + 1e-6
    odds = causes[0].often / causes[1].often * np.exp(-0.5 * (0.1**2 - 0.3**2) / wide)
    assert found[causes[0].name] == pytest.approx(odds / (1.0 + odds), abs=0.01)


def test_what_fits_worst_speaks_against_a_cause() -> None:
    """Nothing where all fit."""
    told = {"static_thrust": np.full(64, 2.0), "static_current": np.full(64, 8.0)}
    fits = seen(thrust=2.02, amps=8.1)
    assert against(told, fits) == ("", None)
    name, band = against(told, seen(thrust=2.02, amps=14.0))
    assert name == "static_current"
    assert band is not None
    assert band[0] < 8.0 < band[1] < 14.0


def test_looking_for_causes_leaves_the_draws_alone(big: ComputablePlane) -> None:
    """No later answer changes because somebody asked."""
    before = len(big.draws.inputs())
    static_suspects(big, seen(thrust=285 * GRAM))
    assert len(big.draws.inputs()) == before


def test_normals_become_even_shares() -> None:
    """Median to a half."""
    assert uniform(np.array([0.0, -40.0, 40.0])) == pytest.approx([0.5, 0.0, 1.0])


def test_how_often_each_happens_adds_up() -> None:
    """To one, and most tests are as planned."""
    assert sum(cause.often for cause in STATIC_CAUSES) == pytest.approx(1.0)
    assert STATIC_CAUSES[0].name == AS_PLANNED
    assert all(cause.check for cause in STATIC_CAUSES[1:])
