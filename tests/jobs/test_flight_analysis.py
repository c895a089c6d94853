"""What the analysis tells, as shells and the model want it."""

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from foamwright.debrief import outcome
from foamwright.debrief.card import card_of
from foamwright.debrief.outcome import Analysis, Facts, Observation, Segment
from foamwright.debrief.recording import Recording
from foamwright.jobs.flight_analysis import (
    DIMENSIONS,
    analysed,
    facts_of,
    figure_of,
    finite,
    middle,
    readings_of,
    with_drive,
)
from foamwright.plane.document import load
from foamwright.quantity import DIMENSIONS as KNOWN

REEDLING = Path(__file__).parents[2] / "examples" / "reedling"
TIME = np.arange(0.0, 100.0, 0.1)


def test_the_plane_tells_mass_area_and_air() -> None:
    """By its middle; the charger's word comes from the card."""
    facts = facts_of(load(REEDLING), card_of("put back = 220 mAh"))
    assert facts.mass is not None
    assert 0.2 < facts.mass < 0.3
    assert facts.wing_area == pytest.approx(0.104, rel=0.05)
    assert 1.15 < facts.air_density < 1.3
    assert facts.charge_put_back == pytest.approx(220 * 3.6)


def test_the_drive_is_asked_for_by_logs_with_the_propellers_speed_only() -> None:
    """All three of speed, volts and amps; others do without the time it takes."""
    loaded, facts = load(REEDLING), Facts()
    three = {name: np.full(TIME.size, 10.0) for name in ("rotation_speed", "voltage", "current")}
    log = Recording(time=TIME, channels=three, step=0.1)
    found = with_drive(facts, loaded, log).drive
    assert found is not None
    assert found.drive.density.size == 256
    for name in three:
        fewer = {key: values for key, values in three.items() if key != name}
        assert with_drive(facts, loaded, replace(log, channels=fewer)) is facts


def test_an_end_nobody_knows_is_none() -> None:
    """A charge that is a floor has no upper end, and JSON has no infinity."""
    one = outcome.Figure(
        name="charge_used", label="x", value=5.0, low=4.0, high=float("inf"), unit="C"
    )
    found = figure_of(one)
    assert (found.low, found.high, found.dimension) == (4.0, None, "charge")
    assert finite(float("nan")) is None
    assert middle(np.array([1.0, 2.0, 9.0])) == 2.0


def test_units_have_dimensions_that_can_be_shown() -> None:
    """Every one of them."""
    assert set(DIMENSIONS.values()) <= {*KNOWN, "number"}


def test_an_observation_takes_the_airspeed_of_its_segment() -> None:
    """A glide from 20 to 40 s at 11 m/s; what is negative is no observation."""
    recording = Recording(
        time=TIME,
        channels={"airspeed": np.where((TIME >= 20) & (TIME <= 40), 11.0, 20.0)},
        step=0.1,
    )
    part = Segment(kind="glide", start=20.0, end=40.0)
    found = Analysis(
        segments=(part,),
        wind=None,
        figures=(),
        findings=(),
        not_said=(),
        observations=(
            Observation(name="glide_ratio", value=6.0, sd=0.5, segment=part.name),
            Observation(name="pack_resistance", value=-0.01, sd=0.01, segment="whole"),
            Observation(name="pack_resistance", value=0.1, sd=0.01, segment="whole"),
        ),
    )
    glide, resistance = readings_of(recording, found)
    assert glide.speed == pytest.approx(11.0)
    assert glide.time is None
    assert (resistance.value, resistance.speed) == (0.1, None)


def test_a_recording_of_next_to_nothing_says_what_it_lacks() -> None:
    """No wind, no figures, reasons."""
    recording = Recording(time=TIME, channels={"height": np.sin(TIME)}, step=0.1)
    found = analysed(recording, Facts())
    assert found.wind is None
    assert found.readings == ()
    assert found.not_said != ()
