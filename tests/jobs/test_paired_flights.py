"""What a change did, for the shells."""

import json

import pytest

from foamwright.debrief import card
from foamwright.debrief.observed import Flown, Reading
from foamwright.jobs.paired_flights import as_flown, compared, compared_json, words


def side(name: str, value: float, sd: float, **conditions: float) -> list[Flown]:
    """Return a side of one flight with one reading."""
    return [Flown(readings=(Reading(name=name, value=value, sd=sd, conditions=conditions),))]


def test_the_contract_has_every_key_and_no_number_that_is_none() -> None:
    """Figure, unit, both sides, change with its band, verdict, chance, flights to fly."""
    found = compared(side("top_speed", 20.0, 1.2485), side("top_speed", 21.9, 1.2485))
    told = compared_json(found)
    json.dumps(told, allow_nan=False)
    (one,) = json.loads(json.dumps(told))["compared"]
    assert set(one) >= {
        "figure", "label", "unit", "before", "after", "change", "verdict", "chance", "fly_more",
    }  # fmt: skip
    assert (one["figure"], one["unit"], one["wanted"]) == ("top_speed", "m s^-1", "more")
    assert one["change"]["low"] < 0.0 < one["change"]["value"] < one["change"]["high"]
    assert (one["verdict"], one["fly_more"]) == ("cannot tell", 3)


@pytest.mark.parametrize(
    ("after", "sd", "said"),
    [
        (25.0, 0.8, "helped"),
        (15.0, 0.8, "did not"),
        (21.9, 1.2485, "cannot tell: fly 3 more"),
        (21.2, 1.2, "cannot tell: fly 3 more and 3 as before"),
        (20.01, 6.0, "cannot tell, and a few more flights would not either"),
    ],
)
def test_the_verdict_is_said_with_what_to_do(after: float, sd: float, said: str) -> None:
    """Flights as before the change are asked for where those after it alone would not do."""
    found = compared(side("top_speed", 20.0, sd), side("top_speed", after, sd))
    assert words(found.moved[0]) == said


def test_what_nobody_told_is_taken_for_the_same_and_said() -> None:
    """Mass and air of a slowest speed; not what was told on both sides."""
    bare = compared(side("stall_speed", 8.0, 0.3), side("stall_speed", 7.0, 0.3))
    assert any("mass" in word for word in bare.assumed)
    known = compared(
        side("stall_speed", 8.0, 0.3, mass=1.0, density=1.2),
        side("stall_speed", 7.0, 0.3, mass=1.1, density=1.2),
    )
    assert known.assumed == ()
    assert known.moved[0].corrected == ("the mass",)


def test_what_some_were_brought_over_by_is_taken_for_the_same_for_the_others_alone() -> None:
    """The pack's voltage was told with the current, not with the speed: one is brought over."""
    before, after = (
        [*side("top_speed_current", amps, 0.3, voltage=volts), *side("top_speed", fast, 0.3)]
        for amps, fast, volts in ((10.0, 24.0, 12.0), (9.0, 25.0, 11.5))
    )
    found, word = compared(before, after), "the voltage of the pack at rest"
    by = {one.change.name: one for one in found.moved}
    assert by["top_speed_current"].corrected == (word,)
    assert word in by["top_speed"].assumed
    assert f"{word}: the same on both sides, for top speed" in found.assumed
    assert f"{word}: the same on both sides" in compared(before[1:], after[1:]).assumed


def test_a_shared_sensor_is_said() -> None:
    """The current sensor cancels only while it is the same."""
    amps = compared(side("top_speed_current", 10.0, 0.5), side("top_speed_current", 9.0, 0.45))
    assert any("current sensor" in word for word in amps.assumed)


def test_what_one_side_lacks_is_said() -> None:
    """Nothing to hold a glide against."""
    found = compared(side("top_speed", 20.0, 1.0), side("glide_ratio", 8.0, 0.4))
    assert found.moved == ()
    assert found.not_said == (
        "top speed: only the flights before the change tell it",
        "glide ratio: only the flights after the change tell it",
    )


def test_a_card_is_a_flight_too_and_a_log_rules() -> None:
    """What stands on a card is used where the log does not tell it; its mass goes with it."""
    read = card.card_of("top speed = 27 m/s, stall speed = 8 m/s, mass = 620 g")
    alone = as_flown(read)
    assert {one.name for one in alone.readings} == {"top_speed", "stall_speed"}
    assert all(one.conditions == {"mass": pytest.approx(0.62)} for one in alone.readings)
    log = Flown(
        readings=(Reading(name="top_speed", value=24.0, sd=0.6),), wind_sd=0.4, wind=(3.0, 1.0)
    )
    both = {one.name: one.value for one in as_flown(read, log).readings}
    assert both == {"top_speed": 24.0, "stall_speed": pytest.approx(8.0)}
    assert (as_flown(read, log).wind_sd, as_flown(read, log).wind) == (0.4, (3.0, 1.0))
    assert as_flown(read, log).readings[0].conditions == {"mass": pytest.approx(0.62)}


def test_air_of_another_temperature_is_another_density() -> None:
    """ISO 2533: 1.225 kg/m3 at 15 degC; 0 degC is 5.5 % denser, which a stall shows."""
    warm, cold = (
        as_flown(card.card_of(f"stall speed = 8 +- 0.2 m/s, air temperature = {t} degC"))
        for t in (15, 0)
    )
    assert warm.readings[0].conditions["density"] == pytest.approx(1.225, rel=1e-3)
    found = compared([warm], [cold])
    assert found.moved[0].corrected == ("the density of the air",)
    assert found.moved[0].after.value == pytest.approx(8.0 * (288.15 / 273.15) ** 0.5)


def test_speeds_too_far_apart_are_said() -> None:
    """A current at 10 m/s and one at 16 are both told, and not compared; at one speed they are."""
    slow, fast = (
        [Flown(readings=(Reading(name="cruise_current", value=amps, sd=0.2, speed=speed),))]
        for speed, amps in ((10.0, 3.0), (16.0, 7.0))
    )
    found = compared(slow, fast)
    assert found.moved == ()
    assert "speeds too far apart" in found.not_said[0]
    (one,) = compared(slow, slow).moved
    assert one.speed == 10.0


def test_flights_said_to_share_a_wind_are_checked() -> None:
    """Winds nine metres a second apart are said not to be one; like ones narrow the band."""
    flights = [
        Flown(
            readings=(
                Reading(name="top_speed", value=20.0, sd=1.3, wind_sd=1.2, speed=20.0, heading=0.1),
            ),
            wind=(north, 0.0),
            wind_sd=1.2,
        )
        for north in (6.0, -3.0, 6.4)
    ]
    far = compared(flights[:1], flights[1:2], same_wind=True)
    assert any("each flight keeps its own" in word for word in far.not_said)
    near = compared(flights[:1], flights[2:], same_wind=True)
    assert near.not_said == ()
    alone = compared(flights[:1], flights[2:])
    widths = [one.moved[0].change.high - one.moved[0].change.low for one in (near, alone)]  # type: ignore[operator]
    assert widths[0] < 0.7 * widths[1]
