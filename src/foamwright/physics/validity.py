"""Where a model holds: a named range, and the flags of the samples outside it."""

from dataclasses import dataclass

from foamwright.physics.arrays import Flags, Samples


@dataclass(frozen=True, kw_only=True, slots=True)
class Range:
    """The interval a model was checked over."""

    quantity: str
    """What is limited, in the field's words."""
    unit: str
    """The unit of both limits, as in the docstrings."""
    low: float
    """Lowest checked value."""
    high: float
    """Highest checked value."""

    def beyond(self, values: Samples) -> Flags:
        """Return which samples lie outside the range.

        Parameters
        ----------
        values : (n,) [unit]
            The quantity, in the unit of the range.

        Returns
        -------
        (n,) [-]

        Source
        ------
        own-derivation
        """
        return (values < self.low) | (values > self.high)
