"""The aliases say what the arrays hold."""

from typing import get_args

import numpy as np

from foamwright.physics import arrays


def test_samples_and_grids_are_double_precision() -> None:
    """Single precision would lose the tail of an ensemble."""
    for alias in (arrays.Samples, arrays.Grid):
        assert get_args(get_args(alias)[1]) == (np.float64,)


def test_flags_are_booleans() -> None:
    """A flag is yes or no, so masks can be joined with `|`."""
    assert get_args(get_args(arrays.Flags)[1]) == (np.bool_,)
