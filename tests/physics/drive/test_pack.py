"""The pack: voltage, resistance, mass, time."""

import numpy as np
import pytest

from foamwright.physics.drive.pack import (
    HIGH_VOLTAGE_EXTRA,
    Pack,
    cell_resistance,
    mass_from_label,
    open_circuit_voltage,
    pack_resistance,
    pack_voltage,
    peukert_time,
    published_open_circuit_voltage,
    published_resistance,
    resistance_shape,
)

CHARGE = np.linspace(0.0, 1.0, 101)


def pack(cells: int = 3) -> Pack:
    """Two packs, one of them off the curve and tired."""
    return Pack(
        cells=cells,
        capacity=np.full(2, 1.3 * 3600.0),
        cell_resistance=np.array([0.008, 0.016]),
        lead_resistance=np.full(2, 0.006),
        voltage_shift=np.array([0.0, -0.02]),
    )


def test_a_full_cell_has_its_printed_voltage() -> None:
    """4.20 V, or 4.35 V for a high-voltage cell, to a millivolt."""
    full = np.ones(1)
    assert open_circuit_voltage(full)[0] == pytest.approx(4.20, abs=1e-3)
    high = open_circuit_voltage(full, HIGH_VOLTAGE_EXTRA)[0]
    assert high == pytest.approx(4.35, abs=1e-3)


def test_voltage_rises_with_charge() -> None:
    """Everywhere, so charge can be read from it."""
    assert np.all(np.diff(open_circuit_voltage(CHARGE)) > 0)
    assert np.all(np.diff(published_open_circuit_voltage(CHARGE)) > 0)


def test_resistance_grows_towards_empty() -> None:
    """One when half full, falling with charge, three times as much when empty."""
    shape = resistance_shape(CHARGE)
    assert np.all(np.diff(shape) <= 0)
    assert shape[50] == pytest.approx(1.0)
    assert shape[0] == pytest.approx(published_resistance(np.zeros(1))[0] / 0.07446, rel=1e-4)


def test_cold_doubles_resistance_by_zero() -> None:
    """Two to three times from 25 to 0 degC (reviews, from memory); none gained when warm."""
    temperature = np.array([273.15, 298.15, 318.15])
    found = cell_resistance(np.full(3, 4680.0), np.full(3, 43.0), temperature)
    assert 2.0 <= found[0] / found[1] <= 3.0
    assert found[2] == found[1] == pytest.approx(43.0 / 4680.0)


def test_cells_add_up() -> None:
    """Voltage and resistance of six cells are twice those of three, but for the leads."""
    half = np.full(2, 0.5)
    three, six = pack(3), pack(6)
    assert pack_voltage(six, half) == pytest.approx(2.0 * pack_voltage(three, half))
    cells = pack_resistance(six, half) - 0.006
    assert cells == pytest.approx(2.0 * (pack_resistance(three, half) - 0.006))
    gap = pack_voltage(three, half)[0] - pack_voltage(three, half)[1]
    assert gap == pytest.approx(0.06)


def test_mass_follows_the_label() -> None:
    """3S 1300 weighs 107 g, 2S 450 29 g within 10 % (common practice, no source)."""
    assert mass_from_label(3, np.array([1.3 * 3600.0]))[0] == pytest.approx(0.107, rel=0.1)
    assert mass_from_label(2, np.array([0.45 * 3600.0]))[0] == pytest.approx(0.029, rel=0.1)


def test_an_ideal_cell_gives_its_capacity() -> None:
    """Exponent one: capacity over current, whatever the rating time."""
    time = peukert_time(np.array([4680.0]), np.array([3600.0]), np.array([13.0]), np.ones(1))
    assert time[0] == pytest.approx(360.0)
