"""The quantile of the normal, against scipy."""

import pytest
from scipy.stats import norm

from foamwright.physics.numerics.normal import TENTH

pytestmark = pytest.mark.published


def test_the_tenth_is_the_quantile_of_the_library() -> None:
    """scipy.stats, to the last digits."""
    assert pytest.approx(float(norm.ppf(0.9)), rel=1e-14) == TENTH
    assert pytest.approx(-float(norm.ppf(0.1)), rel=1e-14) == TENTH
