"""Centres and inertias: limits and identities; printed values in cases_mass.toml."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from foamwright.physics.frame import mass

SEEDS = st.integers(min_value=0, max_value=2**31)


def some_items(seed: int, samples: int = 2, items: int = 5) -> tuple[np.ndarray, ...]:
    """Return masses, positions and sizes of a made-up plane."""
    generator = np.random.default_rng(seed)
    return (
        generator.uniform(0.001, 0.1, (samples, items)),
        generator.uniform(-0.5, 0.5, (samples, items, 3)),
        generator.uniform(0.0, 0.2, (samples, items, 3)),
    )


@given(SEEDS)
def test_the_centre_moves_with_the_plane(seed: int) -> None:
    """A shift of all items shifts the centre and leaves the inertia."""
    masses, positions, sizes = some_items(seed)
    shift = np.array([0.3, -0.1, 0.7])
    moved = mass.centre(masses, positions + shift)
    assert moved == pytest.approx(mass.centre(masses, positions) + shift)
    assert mass.inertia(masses, positions + shift, sizes) == pytest.approx(
        mass.inertia(masses, positions, sizes), rel=1e-9, abs=1e-12
    )


@given(SEEDS)
def test_inertia_is_symmetric_and_obeys_the_triangle(seed: int) -> None:
    """The tensor is symmetric; no principal moment exceeds the sum of the other two."""
    tensor = mass.inertia(*some_items(seed))
    assert tensor == pytest.approx(np.swapaxes(tensor, 1, 2))
    principal = np.linalg.eigvalsh(tensor)
    assert np.all(principal[:, 0] > 0)
    assert np.all(principal[:, 2] <= principal[:, 0] + principal[:, 1] + 1e-15)


@given(SEEDS)
def test_inertia_scales_with_mass_and_length_squared(seed: int) -> None:
    """Twice the mass and three times the size: eighteen times the inertia."""
    masses, positions, sizes = some_items(seed)
    assert mass.inertia(2 * masses, 3 * positions, 3 * sizes) == pytest.approx(
        18 * mass.inertia(masses, positions, sizes)
    )


@given(SEEDS)
def test_a_batch_is_its_loop(seed: int) -> None:
    """Every sample is computed as if it were alone."""
    masses, positions, sizes = some_items(seed, samples=3)
    batch = mass.inertia(masses, positions, sizes)
    for i in range(3):
        one = slice(i, i + 1)
        alone = mass.inertia(masses[one], positions[one], sizes[one])
        assert batch[one] == pytest.approx(alone)


def test_two_half_boxes_are_one_box() -> None:
    """A box cut in two and put together again keeps its inertia."""
    halves = mass.inertia(
        np.array([[0.05, 0.05]]),
        np.array([[[0.0, 0.0, 0.0], [0.1, 0.0, 0.0]]]),
        np.array([[0.1, 0.04, 0.02], [0.1, 0.04, 0.02]]),
    )
    whole = mass.cuboid_inertia(np.array([0.1]), np.array([[0.2, 0.04, 0.02]]))
    assert np.diagonal(halves, axis1=1, axis2=2) == pytest.approx(whole)


def test_a_mass_ahead_and_above_gives_a_product_of_inertia() -> None:
    """Two points on the diagonal of x and z: Ixz is minus the sum of m x z."""
    tensor = mass.inertia(
        np.array([[1.0, 1.0]]),
        np.array([[[1.0, 0.0, 1.0], [-1.0, 0.0, -1.0]]]),
        np.zeros((2, 3)),
    )
    assert tensor[0] == pytest.approx(np.array([[2.0, 0, -2.0], [0, 4.0, 0], [-2.0, 0, 2.0]]))


def test_sizes_may_be_shared_by_all_samples() -> None:
    """(k, 3) sizes give what (n, k, 3) sizes give."""
    masses, positions, sizes = some_items(3)
    shared = mass.inertia(masses, positions, sizes[0])
    spread_out = mass.inertia(masses, positions, np.stack([sizes[0], sizes[0]]))
    assert shared == pytest.approx(spread_out)


def test_a_thin_cylinder_is_a_rod() -> None:
    """At ten diameters of length the rod formula is 0.8 % low."""
    one = np.array([1.0])
    cylinder = mass.cylinder_inertia(one, np.array([0.05]), one)
    assert mass.rod_inertia(one, one) == pytest.approx(cylinder[:, 1], rel=0.01)
    assert np.all(mass.rod_inertia(one, one) < cylinder[:, 1])


@given(st.floats(min_value=0.01, max_value=1.0), st.floats(min_value=1e-5, max_value=0.1))
def test_swing_period_and_inertia_are_inverse(weight: float, inertia: float) -> None:
    """The period to expect gives the inertia again."""
    given_mass, half, cord = np.array([weight]), np.array([0.15]), np.array([1.2])
    period = mass.bifilar_period(given_mass, half, cord, np.array([inertia]))
    assert mass.bifilar_inertia(given_mass, half, cord, period) == pytest.approx([inertia])


def test_balance_lies_nearer_the_heavier_scale() -> None:
    """All weight on the front scale puts the centre over it."""
    balance = mass.two_scale_balance(
        np.array([0.3, 0.2]), np.array([0.05, 0.05]), np.array([0.0, 0.1]), np.array([0.35, 0.35])
    )
    assert balance == pytest.approx([0.05, 0.15])


def test_guessed_roll_inertia_brackets_a_plank() -> None:
    """60 cm, 188 g, Ixx 0.0024 kg m2 (common practice, no source) is within the wing's range."""
    middle, spread = mass.ROLL_GYRATION_WING
    ratios = np.array([[middle + k * spread, mass.PITCH_GYRATION[0]] for k in (-2.0, 2.0)])
    guess = mass.gyration_inertia(np.full(2, 0.188), np.full(2, 0.60), np.full(2, 0.35), ratios)
    assert guess[0, 0] < 0.0024 < guess[1, 0]
    assert guess[:, 2] == pytest.approx(guess[:, 0] + guess[:, 1])


def test_a_mass_off_the_middle_line_gains_by_its_distance_squared() -> None:
    """Twice as far out counts four times."""
    arm = mass.parallel_axis(np.array([0.05, 0.05]), np.array([0.1, 0.2]))
    assert arm[1] == pytest.approx(4.0 * arm[0])


def test_half_swings_are_suspected_at_a_quarter_of_the_inertia() -> None:
    """20 half swings of 28.3 s / 20 a whole one, typed as whole: exactly a quarter.

    300 g on strings 300 mm apart and 1200 mm long, 20 whole swings in 28.3 s: 0.0028 kg m2.
    """
    weight, half, cord = np.array([0.3]), np.array([0.15]), np.array([1.2])
    whole = mass.bifilar_inertia(weight, half, cord, np.array([28.3 / 20]))
    assert whole == pytest.approx([0.0028], rel=0.01)
    typed = mass.bifilar_inertia(weight, half, cord, np.array([28.3 / 40]))
    assert typed == pytest.approx(whole / 4.0)
    assert mass.half_swing_suspected(typed, whole).all()


@given(st.floats(min_value=0.6, max_value=1.6))
def test_an_honest_swing_is_not_suspected(ratio: float) -> None:
    """A mass list that is wrong by half still lets a whole swing pass."""
    listed = np.array([0.003])
    assert not mass.half_swing_suspected(ratio * listed, listed).any()


@given(st.floats(min_value=0.75, max_value=1.35))
def test_a_quarter_is_suspected_though_the_list_is_off(ratio: float) -> None:
    """Within the list's own error around a quarter."""
    listed = np.array([0.003])
    assert mass.half_swing_suspected(0.25 * ratio * listed, listed).all()
