"""Signs, each against flights that have it and flights that do not."""

import dataclasses

import numpy as np
import pytest
from tests.debrief.crashes import KINDS, unharmed

from foamwright.debrief.crash_causes import USUAL
from foamwright.debrief.crash_look import Look, look_at
from foamwright.debrief.crash_signs import ALARMS, HINTS, SIGNS, alarmed, signs_of, swings
from foamwright.debrief.outcome import Facts
from foamwright.debrief.recording import Recording
from foamwright.debrief.scene import scene_of

EXPECTED = {
    "power": ({"voltage", "stops"}, {"slow", "fast", "link", "wobble", "motor"}),
    "motor": ({"motor"}, {"voltage", "fast", "dive", "roll", "link", "wobble", "stops"}),
    "stall": ({"slow", "dive", "roll"}, {"voltage", "motor", "fast", "link", "wobble", "stops"}),
    "overload": ({"fast", "load", "dive"}, {"voltage", "motor", "slow", "link", "stops"}),
    "link": ({"link", "cut"}, {"voltage", "fast", "wobble", "roll", "stops"}),
    "wobble": ({"wobble"}, {"voltage", "motor", "slow", "link", "stops"}),
    "flown": ({"steady"}, {"voltage", "motor", "slow", "fast", "dive", "roll", "link", "wobble"}),
    "wind": ({"downwind"}, {"voltage", "motor", "fast", "dive", "link", "wobble", "stops"}),
}
"""Signs each invented crash was given, and signs it was not."""


def looked(recording: Recording) -> Look:
    """Return the look at the end of a recording."""
    look = look_at(scene_of(recording, Facts())[0])
    assert look is not None
    return look


def without(recording: Recording, *names: str) -> Recording:
    """Return a recording without some channels."""
    kept = {name: values for name, values in recording.channels.items() if name not in names}
    return dataclasses.replace(recording, channels=kept)


@pytest.mark.parametrize("kind", EXPECTED)
@pytest.mark.parametrize("seed", [0, 4])
def test_what_was_put_in_is_seen_and_nothing_else(kind: str, seed: int) -> None:
    """As the end was flown."""
    signs = signs_of(looked(KINDS[kind](seed)))
    there, absent = EXPECTED[kind]
    assert {name for name in there if not signs[name]} == set()
    assert {name for name in absent if signs[name]} == set()
    assert None not in signs.values()


@pytest.mark.parametrize("seed", range(8))
def test_a_flight_with_nothing_amiss_raises_no_alarm(seed: int) -> None:
    """Its log stops in the air, which is no alarm."""
    signs = signs_of(looked(unharmed(seed)))
    assert [name for name in ALARMS if signs[name]] == []
    assert not alarmed(signs)
    assert signs["stops"] is True


def test_one_hint_is_flying_and_two_are_an_alarm() -> None:
    """A slow end alone is no stall; a dead motor alone is enough."""
    nothing = dict.fromkeys(SIGNS, False)
    assert not alarmed(nothing)
    for name in HINTS:
        assert not alarmed({**nothing, name: True})
    assert alarmed({**nothing, "slow": True, "roll": True})
    assert alarmed({**nothing, "motor": True})
    assert not alarmed(dict.fromkeys(SIGNS))


@pytest.mark.parametrize(
    ("lost", "untold"),
    [
        (("voltage",), {"voltage"}),
        (("throttle",), {"motor", "cut"}),
        (("current",), {"motor"}),
        (("roll", "roll_rate"), {"roll"}),
        (("roll_rate", "pitch_rate"), {"wobble"}),
        (("up_acceleration",), {"load"}),
        (("link_quality", "signal_strength"), {"link"}),
        (("course",), {"slow", "fast", "downwind"}),
    ],
)
def test_what_was_not_logged_cannot_be_told(lost: tuple[str, ...], untold: set[str]) -> None:
    """Neither seen nor missed: unknown."""
    signs = signs_of(looked(without(KINDS["stall"](1), *lost)))
    assert {name for name, seen in signs.items() if seen is None} == untold


def test_revolutions_stand_in_for_the_current() -> None:
    """A motor that stands takes no turns either."""
    whole = KINDS["motor"](2)
    turns = 150.0 * whole.channels["current"] / 9.0
    other = without(whole, "current")
    told = dataclasses.replace(other, channels={**other.channels, "rotation_speed": turns})
    assert signs_of(looked(told))["motor"] is True


def test_one_row_is_no_collapse() -> None:
    """A single wrong voltage is a wrong row."""
    whole = unharmed(3)
    volts = whole.channels["voltage"].copy()
    volts[-20] = 2.0
    told = dataclasses.replace(whole, channels={**whole.channels, "voltage": volts})
    assert signs_of(looked(told))["voltage"] is False


def test_the_blow_itself_is_no_load() -> None:
    """What the ground does is left out."""
    whole = KINDS["flown"](1)
    end = looked(whole).end
    load = whole.channels["up_acceleration"].copy()
    load[(whole.time > end - 0.25) & (whole.time <= end)] = 150.0
    told = dataclasses.replace(whole, channels={**whole.channels, "up_acceleration": load})
    assert signs_of(looked(told))["load"] is False


def test_a_wobble_swings_and_a_roll_does_not() -> None:
    """Three swings of 200 degrees a second against one long roll and against noise."""
    time = np.arange(0.0, 3.0, 0.1)
    shaking = np.radians(200.0) * np.sin(2.0 * np.pi * 1.5 * time)
    rolling = np.radians(200.0) * (time > 1.0)
    noise = np.radians(10.0) * np.random.default_rng(1).normal(size=time.size)
    assert swings(shaking, 0.1, np.radians(10.0))
    assert not swings(rolling, 0.1, np.radians(10.0))
    assert not swings(noise, 0.1, np.radians(10.0))
    assert not swings(shaking, 0.1, np.radians(100.0))


def test_every_sign_has_words_and_a_usual_share() -> None:
    """For both ways it may turn out."""
    assert set(SIGNS) == set(USUAL)
    assert {*ALARMS, *HINTS} < set(SIGNS)
    words = [text for sign in SIGNS.values() for text in (sign.seen, sign.missed)]
    assert len(set(words)) == len(words)
