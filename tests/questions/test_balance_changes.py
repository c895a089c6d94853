"""A lighter motor and a longer bay, recomputed like any remedy."""

from collections.abc import Callable

import pytest

from foamwright.questions import balance
from foamwright.questions.balance_changes import (
    ALIKE,
    LIGHTER,
    lighter_motor,
    longer_bay,
    motor_changes,
)
from foamwright.questions.case import Case
from foamwright.questions.remedies import Change

CaseOf = Callable[[str], Case]


def ballast(case: Case) -> list[Change]:
    """Return the ballast that balance itself offers."""
    return balance.ballast_change(case, balance.measure(case))


def motor_of(case: Case) -> tuple[float, float]:
    """Return mass [kg] and Kv [rev/s/V] of the motor."""
    motor = next(item for item in case.plane.items if item.kind == "motor")
    assert motor.mass is not None
    assert motor.kv is not None
    return motor.mass.value, motor.kv.value


def test_a_lighter_motor_turns_like_the_old_one(case: CaseOf) -> None:
    """The heaviest that saves something, of nearly the same Kv."""
    plane = case("saltmarsh")
    change = lighter_motor(plane)
    assert change is not None
    assert "motor 1806 2300" in change.do
    (mass, kv), (now, turns) = motor_of(plane.changed(change.keys)), motor_of(plane)
    assert mass <= LIGHTER * now
    assert kv == pytest.approx(turns, rel=ALIKE)


def test_less_motor_behind_needs_less_ballast_ahead(case: CaseOf) -> None:
    """Six grams at x = 243 mm are eight less at x = 10 mm; levers about x = 113 mm say 7.6."""
    plane = case("saltmarsh")
    (alone,), (both,) = ballast(plane), motor_changes(plane, ballast)

    def grams(change: Change) -> float:
        put = change.keys["items.nose ballast"]
        assert isinstance(put, dict)
        return float(str(put["mass"]).split()[0])

    saved = 24.0 - 18.0
    assert grams(alone) - grams(both) == pytest.approx(saved * (243 - 113) / (113 - 10), abs=1.5)
    after = balance.measure(plane.changed(both.keys)).named("static_margin").value
    assert after == pytest.approx(0.08, abs=0.01)
    assert both.do.startswith("Fit a motor")
    assert "; glue" in both.do


def test_a_motor_ahead_of_the_balance_is_left_alone(case: CaseOf) -> None:
    """A lighter tractor would make it worse."""
    plane = case("saltmarsh").changed({"items.motor.at.x": "20 mm"})
    assert lighter_motor(plane) is None
    assert motor_changes(plane, ballast) == []


@pytest.mark.parametrize("keys", [{"items.motor.kv": "200 rpm/V"}, {"items.motor.mass": "2 g"}])
def test_no_motor_like_it_is_no_change(case: CaseOf, keys: dict[str, object]) -> None:
    """The stock has none that turns so slowly, and none that light."""
    assert lighter_motor(case("saltmarsh").changed(keys)) is None


def test_a_bay_is_opened_forward_as_far_as_it_takes(reedling: Case) -> None:
    """Reedling's bay cut back to 110 mm: opened again, the pack sits where it should."""
    short = reedling.changed({"items.pack.reach.foremost": "110 mm"})
    place = balance.measure(short).named("pack_x_for_target").value
    (change,) = longer_bay(short, place)
    assert "further forward" in change.do
    after = balance.measure(short.changed(change.keys))
    assert after.named("static_margin").value == pytest.approx(0.10, abs=0.002)
    before = balance.measure(short)
    assert after.probability is not None
    assert before.probability is not None
    assert after.probability > before.probability


@pytest.mark.parametrize("place", [None, -0.01, 0.08, 0.4])
def test_no_bay_reaches_ahead_of_the_nose_or_needs_no_opening(
    reedling: Case, place: float | None
) -> None:
    """Nothing is offered that foam cannot be cut into."""
    assert longer_bay(reedling, place) == []


def test_a_bay_is_not_opened_over_half_the_plane(reedling: Case) -> None:
    """Eight centimetres is where another layout begins."""
    far = reedling.changed({"items.pack.reach.foremost": "115 mm"})
    assert longer_bay(far, 0.03) == []
