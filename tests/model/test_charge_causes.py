"""A charge that is off names the flight, the charging or the count."""

from collections.abc import Callable

import numpy as np
import pytest

from foamwright.model.charge_causes import charge_suspects, speed_for
from foamwright.model.computable import ComputablePlane
from foamwright.model.evidence import Observation, predicted
from foamwright.model.suspects import AS_PLANNED, Suspect

Computed = Callable[..., ComputablePlane]

SIX_MINUTES = 360.0


def charge_at(plane: ComputablePlane, speed: float, time: float = SIX_MINUTES) -> Observation:
    """Return what the charger would put back after level flight of the middle plane."""
    asked = Observation(name="charge_used", value=1.0, spread=1.0, speed=speed, time=time)
    value = float(np.nanmedian(predicted(plane, asked)))
    return Observation(name="charge_used", value=value, spread=0.03 * value, speed=speed, time=time)


def noted(value: float, speed: float = 14.0) -> Observation:
    """Return a charge put back [A s] as somebody noted it."""
    return Observation(
        name="charge_used", value=value, spread=0.03 * value, speed=speed, time=SIX_MINUTES
    )


def suspects(
    plane: ComputablePlane, seen: Observation, units: str = "metric"
) -> tuple[Suspect, ...]:
    """Return what may be behind a charge."""
    return charge_suspects(plane, seen, predicted(plane, seen), units)


def named(found: tuple[Suspect, ...], words: str) -> Suspect:
    """Return the one suspect whose name holds some words."""
    (one,) = [suspect for suspect in found if words in suspect.name]
    return one


def test_the_planned_charge_is_as_planned(computed: Computed) -> None:
    """And all chances sum to one."""
    plane = computed("reedling")
    found = suspects(plane, charge_at(plane, 14.0))
    assert found[0].name == AS_PLANNED
    assert found[0].probability > 0.9
    assert sum(one.probability for one in found) == pytest.approx(1.0)
    assert len({one.name for one in found}) == len(found) == 11
    assert all(one.check for one in found if one.name != AS_PLANNED)


def test_the_speed_flown_is_computed_back(computed: Computed) -> None:
    """What level flight takes at 18 m/s, noted as 14: the model finds the 18 again."""
    plane = computed("reedling")
    flown = charge_at(plane, 18.0)
    one = named(suspects(plane, noted(flown.value)), "faster or slower")
    words = one.speaks_for or one.speaks_against
    assert float(words.partition(" m/s")[0].rpartition(" ")[2]) == pytest.approx(18.0, abs=0.3)
    assert "instead of 14.0 m/s" in words


@pytest.mark.parametrize(
    ("wanted", "found"), [(2.0, 12.0), (1.0, 10.0), (4.5, None), (0.2, None), (3.0, 14.0)]
)
def test_the_nearest_speed_that_takes_a_charge(wanted: float, found: float | None) -> None:
    """Between the speeds looked at, by the straight line; none beyond them."""
    speeds, charge = np.array([8.0, 10.0, 12.0, 14.0]), np.array([1.5, 1.0, 2.0, 3.0])
    got = speed_for(speeds, charge, wanted, 14.0)
    assert got == (None if found is None else pytest.approx(found))


def test_two_speeds_take_the_same_and_the_nearer_is_told() -> None:
    """A curve with a lowest point is crossed twice."""
    speeds, charge = np.array([8.0, 10.0, 12.0]), np.array([2.0, 1.0, 2.0])
    assert speed_for(speeds, charge, 1.5, 8.0) == pytest.approx(9.0)
    assert speed_for(speeds, charge, 1.5, 13.0) == pytest.approx(11.0)


def test_more_than_planned_rules_out_what_only_takes_away(computed: Computed) -> None:
    """A charger that stopped early puts back less; climbs take more."""
    plane = computed("reedling")
    found = suspects(plane, noted(2.0 * charge_at(plane, 14.0).value))
    assert "not more" in named(found, "charger stopped").speaks_against
    assert named(found, "charger stopped").probability < 0.01
    climbs = named(found, "it climbed")
    assert "100% more than level flight takes" in climbs.speaks_for
    assert climbs.probability > named(found, "charger stopped").probability
    assert "amps 2.00 times the planned ones" in named(found, "propeller or motor").speaks_for


def test_less_than_planned_rules_out_what_only_adds(computed: Computed) -> None:
    """A pack that was not full takes more, and so do climbs."""
    plane = computed("reedling")
    found = suspects(plane, noted(0.6 * charge_at(plane, 14.0).value))
    assert "not less" in named(found, "not full at the start").speaks_against
    assert "not less" in named(found, "it climbed").speaks_against
    assert "40% left out would do it" in named(found, "charger stopped").speaks_for
    assert named(found, "not full at the start").probability < 0.02


def test_a_missing_fifth_of_the_pack_is_told_in_its_share(computed: Computed) -> None:
    """90 of 450 mAh above the plan."""
    plane = computed("reedling")
    found = suspects(plane, noted(charge_at(plane, 14.0).value + 324.0))
    one = named(found, "not full at the start")
    assert "90.0 mAh, 20% of the label" in one.speaks_for
    assert one.speaks_against == ""
    assert one.probability > named(found, "the charger counts wrong").probability
    assert "rest an hour" in one.check


def test_more_than_the_label_holds_speaks_for_the_label(computed: Computed) -> None:
    """500 mAh out of a pack of 450."""
    plane = computed("reedling")
    label = named(suspects(plane, noted(1800.0)), "share of the label")
    assert label.speaks_for == "more than the 450 mAh of the label"
    assert "not beyond" in named(suspects(plane, noted(800.0)), "share of the label").speaks_against


def test_the_current_sensor_is_held_against_the_charger(computed: Computed) -> None:
    """Its step is the log beside the charger; its scale is told."""
    plane = computed("reedling")
    one = named(suspects(plane, noted(1.5 * charge_at(plane, 14.0).value)), "current sensor")
    assert "foamwright debrief" in one.check
    assert "a scale 1.50 times the true one" in one.speaks_for


def test_a_charge_from_another_world_was_noted_wrong(computed: Computed) -> None:
    """A milliampere-hour for six minutes: no drive draws that little."""
    plane = computed("reedling")
    found = suspects(plane, noted(3.6))
    assert found[0].name == "charge, time or speed were noted wrong"
    assert found[0].probability > 0.99


def test_less_than_level_flight_can_take_is_told(computed: Computed) -> None:
    """No speed is that cheap."""
    plane = computed("reedling")
    one = named(suspects(plane, noted(0.3 * charge_at(plane, 14.0).value)), "faster or slower")
    assert "mAh at least" in one.speaks_against


def test_a_speed_it_hardly_flies_at_leaves_the_speed_open(computed: Computed) -> None:
    """Then the model has no curve to read a speed from, and says so."""
    plane = computed("reedling")
    seen = noted(700.0, speed=60.0)
    level = np.full(plane.samples, 650.0)
    one = named(charge_suspects(plane, seen, level, "metric"), "faster or slower")
    assert "hardly flies level there" in one.speaks_against


def test_reasons_are_in_the_users_units(computed: Computed) -> None:
    """Miles an hour for speeds."""
    plane = computed("reedling")
    found = suspects(plane, charge_at(plane, 18.0), "imperial")
    said = " ".join(f"{one.speaks_for} {one.speaks_against}" for one in found)
    assert "m/s" not in said
    assert "mph" in said
