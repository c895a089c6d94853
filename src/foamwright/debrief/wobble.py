"""Whether roll or pitch wobbles: how fast, how hardly damped, how large, from which airspeed."""

from dataclasses import dataclass

import numpy as np

from foamwright.debrief.even import usual_step
from foamwright.debrief.outcome import Figure, Remark, Share
from foamwright.debrief.scene import Scene
from foamwright.debrief.swinging import (
    Beside,
    Found,
    airspeed_at,
    all_found,
    beside_of,
    onset,
    sizes_of,
)
from foamwright.quantity import show

AXES = ("roll", "pitch")
BANDS = ((0.06, "nearly none"), (0.15, "weak"))
"""Damping below which it has such a name, of critical [-]: a loop 1.5 dB and 4 dB from wobbling
for ever has these; at the usual 6 dB it has 0.25. Common practice, no source."""
WELL = "well damped"
WOBBLE, RING = float(np.radians(3.0)), float(np.radians(10.0))
"""Size, root mean square, from which a wobble and a ringing are told [rad s^-1]."""
ROWS = 8
"""Rows a swing wants to be counted for sure."""
SURELY = 10.0
"""Fastest wobble of servos that a log should show [Hz]; common practice, no source."""
GROWS = 2.0
"""Ratio of its last to its first third from which a swing grows [-]."""
COUNTED = 0.026
"""Half the 80 % band of a frequency, relative: 2 % one sigma, as simulated loops show [-]."""
SIZED = 0.2
"""Likewise of a size [-]."""
PROPELLER = 0.07
"""How near to the propeller's turning, as the rows show it, a swing is its doing [-]."""


def band_of(damping: float) -> str:
    """Return the name of a damping."""
    return next((name for limit, name in BANDS if damping < limit), WELL)


@dataclass(frozen=True, kw_only=True, slots=True)
class Wobble:
    """What one axis does that it was not asked for."""

    axis: str
    """Roll or pitch."""
    found: Found
    """Where it was clearest."""
    grew: tuple[float, float] | None
    """From which size to which [rad s^-1]; none where it did not grow."""
    sets_in: float | None
    """Airspeed from which it is there [m s^-1]; none where it hangs on no airspeed."""
    counted: bool
    """Whether the rows are close enough to count it for sure."""
    propeller: bool
    """Whether it is as fast as the propeller turns, as the rows show that."""

    @property
    def band(self) -> str:
        """Return the name of its damping."""
        return band_of(self.found.swing.damping)


def read_wobble(scene: Scene) -> Share:
    """Return what swings in roll and pitch, and what the rates are too slow to show."""
    logged = [axis for axis in AXES if scene.rates.has(f"{axis}_rate")]
    looked = {axis: beside for axis in logged if (beside := beside_of(scene, axis)).windows}
    if not looked:
        return Share()
    each = (wobble_of(scene, axis, beside) for axis, beside in looked.items())
    found = [one for one in each if one is not None]
    units = scene.facts.units
    return Share(
        figures=tuple(figure for one in found for figure in figures_of(one)),
        findings=tuple(remark_on(one, units) for one in found),
        not_said=too_slow(usual_step(scene.rates, [f"{axis}_rate" for axis in looked]), units),
    )


def too_slow(step: float, units: str) -> tuple[str, ...]:
    """Return which wobbles rates so far apart [s] cannot show."""
    fastest = 1.0 / (ROWS * step)
    if fastest >= SURELY:
        return ()
    frequency, rows = show(fastest, "frequency", units), round(1.0 / step)
    why = f"the log holds {rows} rates a second, and a swing wants {ROWS} of them"
    return (f"how fast a wobble is above {frequency}: {why}",)


def wobble_of(scene: Scene, axis: str, beside: Beside) -> Wobble | None:
    """Return the wobble of one axis where it is clearest; none where it is well damped."""
    known = [one for one in all_found(scene, beside) if tells(one)]
    if not known:
        return None
    bad = [one for one in known if one.swing.damping < BANDS[0][0]]
    found = max(bad or known, key=lambda one: one.swing.rms)
    step = usual_step(scene.rates, (f"{axis}_rate",))
    return Wobble(
        axis=axis,
        found=found,
        grew=growth(found, beside),
        sets_in=speed_from(scene, found, beside),
        counted=found.swing.frequency * ROWS * step <= 1.0,
        propeller=turns_so(scene, found, step),
    )


def tells(one: Found) -> bool:
    """Return whether a swing is weakly damped and large enough to be told."""
    damping, size = one.swing.damping, one.swing.rms
    if damping < BANDS[0][0]:
        return size > WOBBLE
    return damping < BANDS[1][0] and size > RING


def growth(found: Found, beside: Beside) -> tuple[float, float] | None:
    """Return the sizes a swing grew between in its stretch [rad s^-1]; none where it did not."""
    _, _, sizes = sizes_of(found.runs, beside.step, found.swing.frequency)
    third = sizes.size // 3
    if third < 1 or len(found.runs) > 1:
        return None
    first, last = float(np.median(sizes[:third])), float(np.median(sizes[-third:]))
    return (first, last) if last > GROWS * first else None


def speed_from(scene: Scene, found: Found, beside: Beside) -> float | None:
    """Return the airspeed from which a swing is there [m s^-1]; none where it hangs on none."""
    starts, ends, sizes = sizes_of(beside.windows, beside.step, found.swing.frequency)
    return onset(airspeed_at(scene, 0.5 * (starts + ends)), sizes)


def turns_so(scene: Scene, found: Found, step: float) -> bool:
    """Return whether the propeller, as rows so far apart [s] show it, turns as fast as it swings.

    A turning faster than half the rows shows as a slower one.
    """
    log = scene.recording
    if not log.has("rotation_speed"):
        return False
    inside = (log.time >= found.start) & (log.time <= found.end)
    turning = log.channel("rotation_speed")[inside]
    turning = turning[np.isfinite(turning)]
    if turning.size == 0 or np.median(turning) <= 0.0:
        return False
    shown = np.abs(turning - np.round(turning * step) / step)
    near = np.abs(shown / found.swing.frequency - 1.0) < PROPELLER
    return bool(np.mean(near) > 0.5)


def figures_of(one: Wobble) -> tuple[Figure, ...]:
    """Return frequency, size and the airspeed it sets in at, with their 80 % bands."""
    swing, name = one.found.swing, "wobble" if one.band == BANDS[0][1] else "ringing"
    rows = [
        ("frequency", f"{name} in {one.axis}", swing.frequency, COUNTED, "Hz"),
        ("size", f"{name} in {one.axis}, root mean square", swing.rms, SIZED, "rad s^-1"),
    ]
    if one.sets_in is not None:
        label = f"airspeed from which the {name} in {one.axis} is there"
        rows.append(("speed", label, one.sets_in, 0.1, "m s^-1"))
    return tuple(
        Figure(
            name=f"{one.axis}_wobble_{what}",
            label=label,
            value=value,
            low=value * (1.0 - reach),
            high=value * (1.0 + reach),
            unit=unit,
        )
        for what, label, value, reach, unit in rows
    )


def remark_on(one: Wobble, units: str) -> Remark:
    """Return what is told of a wobble: what it is, what shows it, where to look first."""
    swing, found = one.found.swing, one.found
    does = "wobbles" if one.band == BANDS[0][1] else "rings after each gust"
    when = f"from {found.start:.0f} to {found.end:.0f} s"
    size = f"{show(swing.rms, 'turn rate', units)} root mean square"
    what = f"the {one.axis} rate swings by {size} beside what was asked"
    parts = [f"{when} {what}", f"damping: {one.band}"]
    if one.grew is not None:
        first, last = (show(size, "turn rate", units) for size in one.grew)
        parts.append(f"it grew from {first} to {last}")
    if one.sets_in is not None:
        parts.append("it is there above one airspeed only, told among the figures")
    if not one.counted:
        parts.append("the rows are too far apart to be sure how fast it is")
    return Remark(
        what=f"{one.axis} {does}, {show(swing.frequency, 'frequency', units)}",
        because="; ".join(parts),
        check_first=checks_of(one),
    )


def checks_of(one: Wobble) -> tuple[str, ...]:
    """Return where to look first, the likeliest first."""
    tail = "tail" if one.axis == "pitch" else "aileron"
    gain = f"gain of the stabiliser in {one.axis}: fly it lower, first by a quarter"
    slop = f"slop between servo and {tail}: horn, pushrod, hinge, the servo's gears"
    loose = {
        "pitch": "a loose tail, a loose servo, a boom that bends",
        "roll": "a loose servo, a wing or its joint that twists",
    }[one.axis]
    if one.propeller:
        balance = "balance of propeller and motor, and how softly the gyro sits: it turns as fast"
        return balance, gain, slop
    if one.sets_in is not None or one.grew is not None:
        slow = "land, or fly slower, before it grows: surfaces and servos break of it"
        return gain, slop, loose, slow
    return slop, gain, loose
