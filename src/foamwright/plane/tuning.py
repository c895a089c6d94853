"""What the builder knows of the stabiliser; the present setting counts as 1.0."""

from typing import Literal

from foamwright.plane.fields import Cutoff, Gain, Lag, Speed, Wobble
from foamwright.plane.placement import Written


class Tuning(Written):
    """How fast the stabiliser acts, and how its present setting has behaved in the air."""

    frame: Lag | None = None
    """Time from one command to the servos to the next; 20 ms for ordinary servo pulses."""
    gyro_filter: Cutoff | None = None
    """Cut-off of the gyro's filter."""
    delay: Lag | None = None
    """From a turn of the plane to the surface's answer, filter, frames and servo together, where
    it was measured."""
    proven_speed: Speed | None = None
    """Fastest flown with the present setting without a wobble."""
    wobble_speed: Speed | None = None
    """Speed from which the present setting wobbles."""
    wobble_frequency: Wobble | None = None
    """How fast it wobbled there, as counted in a film or a log."""
    wobble_axis: Literal["roll", "pitch"] = "roll"
    """What wobbled."""
    gain: Gain | None = None
    """What the setting is to be multiplied with for the next flight; 100 % is the setting of which
    the speeds above tell."""

    @property
    def next_gain(self) -> float:
        """What the setting is multiplied with [-]."""
        return 1.0 if self.gain is None else self.gain.value
