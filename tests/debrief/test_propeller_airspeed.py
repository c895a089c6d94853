"""The airspeed by the propeller, off logs of a drive whose truth is known."""

from dataclasses import replace
from functools import lru_cache
from pathlib import Path

import numpy as np
import pytest

from foamwright.debrief.analysis import READERS, analyse
from foamwright.debrief.outcome import Facts, Share
from foamwright.debrief.propeller_airspeed import read_propeller
from foamwright.debrief.recording import Recording
from foamwright.debrief.scene import scene_of
from foamwright.model.computable import ComputablePlane
from foamwright.model.drive import DriveModel
from foamwright.model.ensemble import Draws
from foamwright.physics.drive.at_revolutions import Turning, current_drawn
from foamwright.physics.drive.propeller_spread import multipliers, table_spread
from foamwright.plane.document import load

REEDLING = Path(__file__).parents[2] / "examples" / "reedling"
LEGS = ((14.0, 230.0), (15.0, 300.0), (18.0, 260.0), (16.0, 260.0))
"""Airspeed [m s^-1] and propeller speed [s^-1] of each leg of twenty seconds."""


@lru_cache
def drive() -> DriveModel:
    """Return the glider's drive with a propeller that was measured."""
    computed = ComputablePlane(load(REEDLING), Draws(256, 1))
    computed.settle_flight()
    found = computed.complete_drive
    normals = np.random.default_rng(2).standard_normal((256, 3))
    known = replace(found.drive, multipliers=multipliers(normals, table_spread()))
    return replace(found, drive=known, current_factor=found.current_factor**0.3)


@lru_cache
def middle() -> tuple[float, ...]:
    """Return the amps of the middle drive on each leg."""
    return tuple(
        float(
            np.median(
                current_drawn(
                    drive().drive,
                    np.array([[speed]]),
                    Turning(revolutions=np.array([turns]), voltage=np.array([11.3])),
                )
            )
        )
        for speed, turns in LEGS
    )


def flight(pitot: float = 1.0, amps: float = 1.0) -> Recording:
    """Return a flight of all legs: the pitot, and the current sensor, read so many times true."""
    each = 200
    columns = {
        "airspeed": np.repeat([pitot * speed for speed, _ in LEGS], each),
        "rotation_speed": np.repeat([turns for _, turns in LEGS], each),
        "current": np.repeat([amps * one for one in middle()], each),
    }
    size = columns["airspeed"].size
    return Recording(
        time=np.arange(size) / 10.0,
        channels={**columns, "voltage": np.full(size, 11.3)},
        step=0.1,
    )


def read(log: Recording, facts: Facts | None = None) -> Share:
    """Return what is read off a log."""
    return read_propeller(scene_of(log, facts or Facts(drive=drive()))[0])


def without(log: Recording, *names: str) -> Recording:
    """Return a log without some channels."""
    return replace(log, channels={k: v for k, v in log.channels.items() if k not in names})


def test_it_is_one_of_the_readers() -> None:
    """So every flight with a propeller's speed is read so."""
    assert read_propeller in READERS
    found = analyse(flight(), Facts(drive=drive()))
    assert "propeller_airspeed" in [one.name for one in found.figures]


def test_the_airspeed_flown_lies_in_its_band() -> None:
    """And its ratio to the pitot's holds one, so nothing is amiss."""
    found = read(flight())
    own, ratio = found.figures
    assert own.name == "propeller_airspeed"
    assert own.value == pytest.approx(15.75, rel=0.05)
    assert own.low < 15.75 < own.high
    assert own.high - own.low < 8.0
    assert ratio.low < 1.0 < ratio.high
    assert ratio.label == "airspeed by the propeller over that by the pitot"
    assert found.findings == ()
    assert found.not_said == ()


def test_a_pitot_that_reads_far_off_is_told() -> None:
    """With both speeds, the band, and where to look first; in the user's units."""
    (remark,) = read(flight(pitot=1.6)).findings
    assert "by the pitot 25.2 m/s" in remark.what
    assert "eight in ten" in remark.because
    assert any("propeller" in line for line in remark.check_first)
    assert any("tube" in line for line in remark.check_first)
    (other,) = read(flight(pitot=1.6), Facts(drive=drive(), units="imperial")).findings
    assert "mph" in other.what


def test_without_another_airspeed_it_is_told_alone() -> None:
    """No pitot and no wind: the only airspeed there is, and it teaches nothing."""
    found = read(without(flight(), "airspeed"))
    (own,) = found.figures
    assert own.low < 15.75 < own.high
    assert found.observations == ()
    assert found.findings == ()


def test_each_state_of_the_drive_is_one_observation() -> None:
    """With airspeed, propeller speed and volts; a hundred rows count once."""
    found = read(flight()).observations
    assert 3 <= len(found) <= 4
    for one in found:
        assert one.name == "propeller_current"
        assert one.voltage == pytest.approx(11.3)
        assert one.teaches
        assert 0.05 < one.sd / one.value < 0.25
    states = [(one.speed, one.rotation_speed, one.value) for one in found]
    flown = [(speed, turns, amps) for (speed, turns), amps in zip(LEGS, middle(), strict=True)]
    for state in states:
        assert any(state == pytest.approx(leg, rel=1e-6) for leg in flown)


def test_amps_that_level_flight_teaches_do_not_teach_twice() -> None:
    """With height held, the same amps are level flight's."""
    log = flight()
    level = replace(log, channels={**log.channels, "height": np.full(log.time.size, 50.0)})
    found = read(level).observations
    assert found
    assert not any(one.teaches for one in found)


@pytest.mark.parametrize(
    ("gone", "said"),
    [
        (("rotation_speed",), ()),
        (("voltage",), ("the airspeed by the propeller: the log has no voltage",)),
        (
            ("voltage", "current"),
            ("the airspeed by the propeller: the log has no voltage and no current",),
        ),
    ],
)
def test_what_the_log_lacks_is_said(gone: tuple[str, ...], said: tuple[str, ...]) -> None:
    """But not where the propeller's speed was never logged."""
    found = read(without(flight(), *gone))
    assert found == Share(not_said=said)


def test_an_incomplete_drive_is_said() -> None:
    """Without motor or propeller in the plane file nothing can be made of it."""
    (said,) = read(flight(), Facts()).not_said
    assert "are not complete" in said


def test_a_propeller_never_steady_is_said() -> None:
    """A throttle that is never still tells power that turns the motor up as well."""
    log = flight()
    turns = 200.0 + 60.0 * np.sin(2.0 * np.pi * log.time)
    restless = replace(log, channels={**log.channels, "rotation_speed": turns})
    (said,) = read(restless).not_said
    assert "hardly ever turned steadily" in said


def test_a_band_too_wide_is_said_and_still_teaches() -> None:
    """On a label alone a slow plane at full power says little; the current itself is of use."""
    log = flight(amps=1.9)
    found = read(log)
    (said,) = found.not_said
    assert "too wide" in said
    assert found.figures == ()
    assert found.observations
