"""Wire and plugs: limits and identities."""

import numpy as np
import pytest

from foamwright.physics.gear.wiring import (
    connector_resistance,
    fast_melting_current,
    gauge_area,
    gauge_diameter,
    gauge_resistance,
    resistance_per_length,
    rounded_room_factor,
    slow_melting_current,
    to_room_factor,
    voltage_drop,
)

GAUGES = np.arange(10.0, 31.0, 2.0)
ROOM = np.array([293.15])


def test_six_gauges_halve_the_diameter() -> None:
    """92^(6/39) is 2.005: six numbers up, half as thick; three up, half the copper."""
    assert gauge_diameter(GAUGES) / gauge_diameter(GAUGES + 6.0) == pytest.approx(2.0, rel=0.003)
    assert gauge_area(GAUGES) / gauge_area(GAUGES + 3.0) == pytest.approx(2.0, rel=0.006)


def test_ten_gauge_is_one_ohm_a_thousand_feet() -> None:
    """The old rule of thumb, within 0.2 %; ten numbers up is ten times that within 2 %."""
    per_kilofoot = gauge_resistance(np.array([10.0, 20.0, 30.0]), ROOM) * 304.8
    assert per_kilofoot[0] == pytest.approx(1.0, rel=0.002)
    assert per_kilofoot[1:] / per_kilofoot[:-1] == pytest.approx(10.0, rel=0.02)


def test_a_square_millimetre_has_17_milliohms_a_metre() -> None:
    """Resistivity of 1/58 ohm mm2/m by definition, 0.393 % more for each kelvin."""
    area = np.array([1e-6])
    assert resistance_per_length(area, ROOM)[0] == pytest.approx(1.0 / 58.0, rel=1e-12)
    warm = resistance_per_length(area, ROOM + 10.0) / resistance_per_length(area, ROOM)
    assert warm[0] == pytest.approx(1.0393, rel=1e-12)


def test_temperature_factor_undoes_the_growth() -> None:
    """Measured warm times the factor is the value at 20 degC, 0.02 % near room temperature."""
    warm = np.array([283.15, 293.15, 313.15, 353.15])
    one = np.full(4, 1e-6)
    undone = resistance_per_length(one, warm) * to_room_factor(warm)
    assert undone == pytest.approx(1.0 / 58.0, rel=2e-4)
    assert rounded_room_factor(warm) == pytest.approx(to_room_factor(warm), rel=0.005)


def test_melting_in_a_second_takes_more_than_in_the_long_run() -> None:
    """Onderdonk at 1 s exceeds Preece for usual wires and falls with the root of time."""
    gauges = np.array([18.0, 20.0, 22.0, 26.0])
    area, ambient = gauge_area(gauges), np.full(4, 298.15)
    fast = fast_melting_current(area, np.ones(4), ambient)
    assert np.all(fast > slow_melting_current(gauge_diameter(gauges)))
    assert fast_melting_current(area, np.full(4, 4.0), ambient) == pytest.approx(fast / 2)


def test_a_lead_counts_both_ways() -> None:
    """150 mm of 20 AWG at 10 A loses 0.1 V; two plugs in series have four contacts."""
    drop = voltage_drop(
        np.array([10.0]), gauge_resistance(np.array([20.0]), ROOM), np.array([0.15])
    )
    assert drop[0] == pytest.approx(0.0999, abs=0.0005)
    assert connector_resistance(np.array([2.0]), 0.5e-3)[0] == pytest.approx(2e-3)
    assert connector_resistance(np.array([1.0]))[0] == pytest.approx(1.5e-3)
