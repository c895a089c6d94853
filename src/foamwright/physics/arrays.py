"""The array aliases; the one shape rule: the first axis is the ensemble sample."""

import numpy as np
from numpy.typing import NDArray

Samples = NDArray[np.float64]
"""One value a sample, shape (n,), or (n, ...) where a docstring says so."""

Grid = NDArray[np.float64]
"""Values on a fixed grid that all samples share, shape given in the docstring."""

Flags = NDArray[np.bool_]
"""True where a sample lies outside what a model was checked for."""
