"""The number every band is drawn with."""

import math

from foamwright.physics.numerics.normal import TENTH


def test_eight_in_ten_lie_within_it() -> None:
    """The error function of it over the root of two is the share inside."""
    assert math.isclose(math.erf(TENTH / math.sqrt(2.0)), 0.8, rel_tol=1e-14)
