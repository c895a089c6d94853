"""Words a builder uses for how a plane swings, settles or wanders off."""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from foamwright.model.modes import Modes
from foamwright.physics.arrays import Samples

TENTH = float(np.log(10.0))
"""Growth rate times the time to fall to a tenth: what a builder calls settled."""

NOTICED, BUSY = 8.0, 4.0
"""A spiral that takes longer to double goes unnoticed, a faster one keeps the hands busy [s]:
the lines between good, fair and poor of MIL-F-8785C, from memory."""

LONG = 60.0
"""A bank that takes longer to double or to halve stays as it is [s]."""

WAGS = 0.08
"""Dutch-roll damping below which the tail keeps wagging [-]; MIL-F-8785C, from memory."""

LIVELY = 0.35
"""Short-period damping below which the nose bobs [-]; MIL-F-8785C, from memory."""


@dataclass(frozen=True, slots=True)
class Root:
    """One motion of one plane."""

    frequency: float
    """Natural frequency [rad/s]; not a number where nothing swings."""
    damping: float
    """Damping ratio [-]; likewise."""
    growth: float
    """Real part [1/s]: negative settles, positive grows."""

    @property
    def doubles(self) -> float:
        """Time to grow to twice [s]."""
        return float(np.log(2.0) / max(self.growth, 1e-6))

    @property
    def settles(self) -> float:
        """Time to fall to a tenth [s]."""
        return TENTH / max(-self.growth, 1e-6)


def seconds(time: float) -> str:
    """Return a time as a builder says it."""
    if time < 0.1:
        return "less than 0.1 s"
    return f"{time:.1f} s" if time < 10.0 else f"{time:.0f} s"


def short_period(root: Root) -> str:
    """Return how the nose settles after a bump."""
    if root.growth > 0.0 or not np.isfinite(root.frequency):
        return f"pitch runs away, doubles in {seconds(root.doubles)}: balance it"
    settles = f"pitch settles in {seconds(root.settles)}"
    return settles if root.damping >= LIVELY else f"{settles}, bobbing on the way"


def phugoid(root: Root) -> str:
    """Return what the slow rise and fall does."""
    if not np.isfinite(root.frequency):
        return "no slow rise and fall of its own"
    if root.damping >= 1.0:
        return "speed settles without rise and fall"
    every = f"slow rise and fall every {seconds(2.0 * np.pi / root.frequency)}"
    if root.growth > 0.0:
        return f"{every}, doubles in {seconds(root.doubles)}: your thumb stops it"
    return f"{every}, dies out in {seconds(root.settles)}"


def roll(root: Root) -> str:
    """Return how soon rolling stops."""
    if root.growth >= 0.0:
        return "rolling does not stop by itself"
    return f"rolling stops {seconds(root.settles)} after you let go"


def spiral(root: Root) -> str:
    """Return what a bank does when it is left alone."""
    doubles = float(np.log(2.0) / max(abs(root.growth), 1e-6))
    if doubles > LONG:
        return "stays in the bank it is put in"
    if root.growth <= 0.0:
        return f"rolls itself level, half the bank gone in {seconds(doubles)}"
    if doubles >= NOTICED:
        return f"slow spiral, doubles in {seconds(doubles)}: you will not notice"
    if doubles >= BUSY:
        return f"spiral, doubles in {seconds(doubles)}: hold a little against it in turns"
    return f"falls into turns, doubles in {seconds(doubles)}: it wants a hand all the time"


def dutch_roll(root: Root) -> str:
    """Return what the tail does after a kick."""
    if not np.isfinite(root.frequency):
        return f"swaps ends, doubles in {seconds(root.doubles)}: more fin"
    if root.damping >= 1.0:
        return f"the tail swings back without wagging, in {seconds(root.settles)}"
    rate = f"{root.frequency / (2.0 * np.pi):.1f} times a second"
    if root.growth >= 0.0:
        return f"the tail wags {rate} and more each time: more fin or less dihedral"
    if root.damping < WAGS:
        return f"the tail keeps wagging {rate}: more fin or less dihedral"
    return f"the tail wags {rate} and is still in {seconds(root.settles)}"


WORDS: dict[str, Callable[[Root], str]] = {
    "short period": short_period,
    "phugoid": phugoid,
    "roll": roll,
    "spiral": spiral,
    "Dutch roll": dutch_roll,
}
"""What is said of each mode."""


def words(mode: str, root: Root) -> str:
    """Return a mode in a builder's words; roots that never swing have no frequency."""
    return WORDS[mode](root)


def middle(values: Samples) -> float:
    """Return the median; not a number where half or more of the samples have none."""
    found = values[np.isfinite(values)]
    return float(np.median(found)) if 2 * found.size > values.size else float("nan")


def told(modes: Modes) -> dict[str, str]:
    """Return the middle plane's modes in words, by mode."""
    sideways = modes.sideways
    said = {
        name: words(name, Root(middle(o.frequency), middle(o.damping), middle(o.growth)))
        for name, o in (
            ("short period", modes.short_period),
            ("phugoid", modes.phugoid),
            ("Dutch roll", sideways.dutch_roll),
        )
    }
    none = float("nan")
    if 2 * np.count_nonzero(sideways.coupled) > sideways.coupled.size:
        said["roll"] = said["spiral"] = "roll and bank swing together: unusual, look at the fin"
        return said
    said["roll"] = words("roll", Root(none, none, middle(sideways.roll)))
    said["spiral"] = words("spiral", Root(none, none, middle(sideways.spiral)))
    return said
