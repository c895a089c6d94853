"""How pairs of roots are told apart, in matrices whose roots are known beforehand."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from foamwright.physics.arrays import Samples
from foamwright.physics.flight.derivatives import Derivatives
from foamwright.physics.flight.modes import (
    GRAVITY,
    LevelFlight,
    pitch_matrix,
    pitch_modes,
    roll_yaw_matrix,
    roll_yaw_modes,
    time_to_double,
    time_to_half,
    turned_inertia,
)

MIX = np.array(
    [[1.0, 0.3, -0.2, 0.1], [0.0, 1.0, 0.4, -0.3], [0.2, 0.0, 1.0, 0.5], [0.1, -0.2, 0.0, 1.0]]
)
"""Any invertible matrix: it hides the blocks below."""


def with_roots(*roots: complex) -> Samples:
    """Return one real matrix with these roots; each conjugate pair is given once."""
    blocks, place = np.zeros((4, 4)), 0
    for root in roots:
        if isinstance(root, complex):
            blocks[place : place + 2, place : place + 2] = [
                [root.real, root.imag],
                [-root.imag, root.real],
            ]
            place += 2
        else:
            blocks[place, place] = root
            place += 1
    assert place == 4
    return (MIX @ blocks @ np.linalg.inv(MIX))[None]


def one(value: float) -> Samples:
    """Return an array of one."""
    return np.array([value])


def model(**changed: float) -> tuple[Derivatives, LevelFlight]:
    """Return a small plane like the glider of the examples at 12 m/s."""
    values = {
        "area": 0.104, "span": 0.8, "chord": 0.131,
        "CL0": 0.18, "CLa": 4.35, "CLq": 6.6, "CLde": 0.29,
        "Cm0": 0.0, "Cma": -0.4, "Cmq": -9.7, "Cmde": -0.8,
        "CYb": -0.16, "CYp": -0.07, "CYr": 0.16, "CYda": 0.0, "CYdr": -0.08,
        "Clb": -0.052, "Clp": -0.41, "Clr": 0.01, "Clda": 0.19, "Cldr": 0.0,
        "Cnb": 0.05, "Cnp": -0.015, "Cnr": -0.08, "Cnda": 0.0, "Cndr": 0.04,
        "Clb_CL": 0.0, "Clr_CL": 0.24, "Cnp_CL": -0.1, "Cnda_CL": -0.03,
    }  # fmt: skip
    values.update({key: value for key, value in changed.items() if key in values})
    derivatives = Derivatives(**{name: one(value) for name, value in values.items()})
    flight = LevelFlight(
        speed=one(12.0),
        density=one(1.225),
        mass=one(0.2525),
        inertia=np.diag([0.0037, 0.0044, 0.0079])[None],
        lift=one(0.27),
        drag=one(0.05),
        drag_slope=one(0.15),
        thrust_slope=one(changed.get("thrust_slope", 0.0)),
        downwash_lag=one(changed.get("downwash_lag", -4.0)),
    )
    return derivatives, flight


@given(
    fast=st.floats(3.0, 30.0),
    slow=st.floats(0.1, 1.5),
    damped=st.floats(0.01, 0.95),
)
def test_the_faster_pair_is_the_short_period(fast: float, slow: float, damped: float) -> None:
    """Frequencies and damping ratios come back as they were put in."""

    def pair(frequency: float) -> complex:
        return complex(-damped * frequency, frequency * np.sqrt(1.0 - damped**2))

    short, phugoid = pitch_modes(with_roots(pair(slow), pair(fast)))
    for mode, frequency in ((short, fast), (phugoid, slow)):
        assert mode.frequency[0] == pytest.approx(frequency, rel=1e-6)
        assert mode.damping[0] == pytest.approx(damped, rel=1e-5)
        assert mode.growth[0] == pytest.approx(-damped * frequency, rel=1e-5)
        assert mode.swings[0]


def test_two_real_roots_do_not_swing() -> None:
    """An overdamped short period: damping above one, the slower root tells the time."""
    short, phugoid = pitch_modes(with_roots(-9.0, -4.0, complex(-0.05, 0.6)))
    assert not short.swings[0]
    assert short.damping[0] == pytest.approx(6.5 / 6.0)
    assert short.growth[0] == pytest.approx(-4.0)
    assert phugoid.swings[0]


def test_a_pair_between_two_real_roots_is_the_slow_one() -> None:
    """Balance far aft: one root grows, one falls fast, a slow swing is left between them."""
    short, slow = pitch_modes(with_roots(0.3, complex(-0.4, 0.8), -12.0))
    assert slow.frequency[0] == pytest.approx(np.hypot(0.4, 0.8))
    assert np.isnan(short.frequency[0])
    assert short.growth[0] == pytest.approx(0.3)


def test_roll_and_spiral_are_told_apart() -> None:
    """The fast real root rolls, the slow one banks, even where it grows."""
    found = roll_yaw_modes(with_roots(-15.0, 0.08, complex(-1.0, 5.0)))
    assert found.roll[0] == pytest.approx(-15.0)
    assert found.spiral[0] == pytest.approx(0.08)
    assert found.dutch_roll.frequency[0] == pytest.approx(np.hypot(1.0, 5.0))
    assert not found.coupled[0]


def test_roll_and_bank_may_swing_together() -> None:
    """Two pairs: the slower is both roll and bank, and it says so."""
    found = roll_yaw_modes(with_roots(complex(-0.5, 0.7), complex(-1.0, 6.0)))
    assert found.coupled[0]
    assert found.roll[0] == pytest.approx(-0.5)
    assert found.spiral[0] == pytest.approx(-0.5)
    assert found.dutch_roll.frequency[0] == pytest.approx(np.hypot(1.0, 6.0))


def test_a_plane_without_a_fin_swaps_ends() -> None:
    """Four real roots: the roll is the fastest to die, the growing one is the nose's."""
    found = roll_yaw_modes(with_roots(-14.0, -3.0, 2.5, -0.01))
    assert found.roll[0] == pytest.approx(-14.0)
    assert found.spiral[0] == pytest.approx(-0.01)
    assert found.dutch_roll.growth[0] == pytest.approx(2.5)
    assert not found.dutch_roll.swings[0]
    assert np.isnan(found.dutch_roll.frequency[0])


def test_a_batch_is_taken_one_by_one() -> None:
    """Samples of different kinds do not disturb each other."""
    kinds = [
        with_roots(-15.0, 0.08, complex(-1.0, 5.0)),
        with_roots(-14.0, -3.0, 2.5, -0.01),
        with_roots(complex(-0.5, 0.7), complex(-1.0, 6.0)),
    ]
    found = roll_yaw_modes(np.concatenate(kinds))
    alone = [roll_yaw_modes(kind) for kind in kinds]
    assert found.roll == pytest.approx([a.roll[0] for a in alone])
    assert found.spiral == pytest.approx([a.spiral[0] for a in alone])
    assert found.coupled.tolist() == [False, False, True]


def test_short_period_of_its_approximation() -> None:
    """Two degrees of freedom (Nelson 1998): w^2 = Zw Mq / V - Ma, within 3 %."""
    d, flight = model(CLq=0.0)
    short, _ = pitch_modes(pitch_matrix(d, flight))
    q = 0.5 * 1.225 * 12.0**2
    ma = -0.4 * q * 0.104 * 0.131 / 0.0044
    mq = -9.7 * 0.131 / 24.0 * q * 0.104 * 0.131 / 0.0044
    zw = -(4.35 + 0.05) * q * 0.104 / (0.2525 * 12.0)
    assert short.frequency[0] == pytest.approx(np.sqrt(zw * mq - ma), rel=0.03)


def test_phugoid_of_lanchester() -> None:
    """Stiff in pitch: frequency g 2^(1/2) / V, damping CD / (CL 2^(1/2)) (Nelson 1998), 6 %."""
    d, flight = model(Cma=-20.0, downwash_lag=0.0)
    level = 2.0 * 0.2525 * GRAVITY / (1.225 * 12.0**2 * 0.104)
    flight = LevelFlight(
        **{name: getattr(flight, name) for name in LevelFlight.__slots__} | {"lift": one(level)}
    )
    _, phugoid = pitch_modes(pitch_matrix(d, flight))
    assert phugoid.frequency[0] == pytest.approx(np.sqrt(2.0) * GRAVITY / 12.0, rel=0.06)
    assert phugoid.damping[0] == pytest.approx(0.05 / level / np.sqrt(2.0), rel=0.25)


def test_the_roll_alone_is_its_damping_over_its_inertia() -> None:
    """Lp = rho V S b^2 Clp / 4 Ix; the other motions move the root by less than 8 %."""
    found = roll_yaw_modes(roll_yaw_matrix(*model()))
    alone = 0.25 * 1.225 * 12.0 * 0.104 * 0.8**2 * -0.41 / 0.0037
    assert found.roll[0] == pytest.approx(alone, rel=0.08)


def test_more_dihedral_mends_the_spiral_and_wakes_the_tail() -> None:
    """Clb more negative: bank settles faster, Dutch roll is damped less (Nelson 1998)."""
    flat, bent = (roll_yaw_modes(roll_yaw_matrix(*model(Clb=clb))) for clb in (-0.01, -0.12))
    assert bent.spiral[0] < flat.spiral[0]
    assert bent.dutch_roll.damping[0] < flat.dutch_roll.damping[0]


def test_a_propeller_damps_the_phugoid() -> None:
    """Thrust that falls with speed takes energy from the swing."""
    _, glide = pitch_modes(pitch_matrix(*model()))
    _, power = pitch_modes(pitch_matrix(*model(thrust_slope=-0.05)))
    assert power.growth[0] < glide.growth[0]


def test_turning_the_axes_keeps_the_body() -> None:
    """Eigenvalues stay; a quarter turn swaps roll and yaw; up by a little tilts the product."""
    tensor = np.diag([1.0, 2.0, 4.0])[None]
    turned = turned_inertia(tensor, one(0.2))
    assert np.linalg.eigvalsh(turned)[0] == pytest.approx([1.0, 2.0, 4.0])
    assert turned[0, 0, 2] == pytest.approx(0.5 * (4.0 - 1.0) * np.sin(0.4))
    assert turned_inertia(tensor, one(np.pi / 2.0))[0, 0, 0] == pytest.approx(4.0)


@given(rate=st.floats(1e-4, 1e3))
def test_what_falls_never_doubles(rate: float) -> None:
    """Exactly one of both times is finite, ln 2 over the rate."""
    assert time_to_double(one(rate))[0] == pytest.approx(np.log(2.0) / rate)
    assert time_to_half(one(-rate))[0] == pytest.approx(np.log(2.0) / rate)
    assert np.isinf(time_to_half(one(rate))[0])
    assert np.isinf(time_to_double(one(-rate))[0])
