"""How fast an arm throws other masses."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from foamwright.physics.flight.throwing import MASS_EXPONENT, thrown_speed

MASS = st.floats(0.06, 3.6)


def thrown(speed: float, mass: float, other: float) -> float:
    """Return one throw."""
    return float(thrown_speed(np.array([speed]), np.array([mass]), np.array([other]))[0])


@given(MASS)
def test_the_same_mass_is_thrown_as_before(mass: float) -> None:
    """No change, no change."""
    assert thrown(8.0, mass, mass) == pytest.approx(8.0)


@given(MASS, MASS, MASS)
def test_it_does_not_matter_by_which_mass_one_goes(a: float, b: float, c: float) -> None:
    """From a to c as from a to b to c."""
    assert thrown(thrown(8.0, a, b), b, c) == pytest.approx(thrown(8.0, a, c))


@given(MASS, MASS)
def test_less_mass_is_thrown_faster_but_with_less_energy(mass: float, other: float) -> None:
    """An exponent between 0 (an arm without limit) and 1/2 (the same energy)."""
    light, heavy = min(mass, other), max(mass, other)
    slow, fast = thrown(8.0, 0.3, heavy), thrown(8.0, 0.3, light)
    assert slow <= fast
    assert heavy * slow**2 >= light * fast**2 * (1.0 - 1e-12)
    assert 0.0 < MASS_EXPONENT < 0.5
