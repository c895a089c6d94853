"""Why the charger may put back other than planned: the flight, the charging, the counting.

How often each happens, and how strong it is, is common practice, no source.
"""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from foamwright.model.computable import ComputablePlane
from foamwright.model.drive_parts import parts_of
from foamwright.model.ensemble import Draws
from foamwright.model.evidence import Observation
from foamwright.model.explanations import AS_OFTEN, FAR, Explanation, ranked, seen_of, times
from foamwright.model.suspects import AS_PLANNED, Suspect
from foamwright.physics.arrays import Grid, Samples
from foamwright.quantity import show

SPEEDS = np.linspace(0.5, 1.8, 14)
"""Speeds at which level flight is looked at, over the one that was told."""

OTHER_SPEED = 0.15
"""ln spread of a speed said from memory."""

CLIMBS = 0.25
"""What climbs, turns and gusts take more than level flight, over it."""

OTHER_TIME = 0.15
"""ln spread of a motor time said from memory."""

LEAST_MISSING, MISSING, MOST_MISSING = 0.03, 0.10, 0.30
"""What a pack that was not full lacked, over its capacity: at least, its spread, at most."""

STOPPED = 0.15
"""What a charger that stopped early left out, over what it was to put back."""

CHARGER, SENSOR, LABEL, DRIVE = 0.08, 0.20, 0.10, 0.25
"""ln spreads: of a charger's count, a current sensor nobody calibrated, a printed capacity, what
another propeller or motor draws."""

NOTED = 1.0
"""ln spread of a number that was noted wrong."""

LOG = "foamwright debrief PLANE LOG, with what the charger put back on its card"
"""How charger and current sensor are held against each other."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Charged:
    """A charge put back beside its plan."""

    planned: ComputablePlane
    """Before anything was weighed."""
    seen: Observation
    """What was put back."""
    level: Samples
    """What level flight takes (n,) [A s]."""
    draws: Draws
    """Its own luck."""
    units: str
    """The user's."""

    @property
    def ratio(self) -> float:
        """What was put back over what was planned."""
        return self.seen.value / float(np.nanmedian(self.level))

    @property
    def label(self) -> float:
        """The capacity written for the pack [A s]."""
        parts = parts_of(self.planned.plane)
        return float("nan") if parts is None else parts.capacity.value

    def charge(self, value: float) -> str:
        """Return a charge in the user's units."""
        return show(value, "charge", self.units)


def charge_suspects(
    planned: ComputablePlane, seen: Observation, level: Samples, units: str
) -> tuple[Suspect, ...]:
    """Return what may be behind a charge put back, likeliest first.

    `level` is what the planned plane takes for it (n,) [A s].
    """
    draws = planned.draws.branched()
    case = Charged(planned=planned, seen=seen, level=level, draws=draws, units=units)
    explanations = [
        Explanation(name=AS_PLANNED, often=AS_OFTEN, told=told(level)),
        *flown(case),
        *charged(case),
        *counted(case),
    ]
    return ranked(explanations, seen_of((seen,)))


def told(charge: Samples) -> Grid:
    """Return charges as what would be read (n, 1), on the scale compared on."""
    with np.errstate(invalid="ignore", divide="ignore"):
        return np.log(np.where(charge > 0.0, charge, np.nan))[:, None]


def at_other_speeds(case: Charged) -> tuple[Samples, Samples]:
    """Return speeds (k,) [m s^-1] and what level flight takes there, in the middle (k,) [A s]."""
    speeds = SPEEDS * (case.seen.speed or 0.0)
    points = case.planned.level_points(speeds)
    flies = points.holds & np.isfinite(points.current)
    current = np.where(flies, points.current, np.nan)
    enough = flies.mean(axis=0) >= 0.5
    middle = np.full(len(speeds), np.nan)
    middle[enough] = np.nanmedian(current[:, enough], axis=0)
    return speeds[enough], middle[enough] * (case.seen.time or 0.0)


def speed_for(speeds: Samples, charge: Samples, wanted: float, said: float) -> float | None:
    """Return the speed nearest to what was said that takes a charge; none where none does."""
    over = charge - wanted
    crossed = np.flatnonzero(over[:-1] * over[1:] <= 0.0)
    found = [
        float(speeds[i] + (speeds[i + 1] - speeds[i]) * over[i] / (over[i] - over[i + 1]))
        for i in crossed
        if over[i] != over[i + 1]
    ]
    return min(found, key=lambda speed: abs(speed - said), default=None)


def flown(case: Charged) -> Iterator[Explanation]:
    """Yield another flight than told: its speed, its climbs, its time; and another drive."""
    yield other_speed(case)
    ratio, more = case.ratio, case.ratio > 1.0
    extra = np.abs(case.draws.normal("cause.charge.climbs", "climbs, turns and gusts"))
    yield Explanation(
        name="it climbed, turned or flew in gusts more than level flight does",
        often=0.018,
        told=told(case.level * (1.0 + CLIMBS * extra)),
        check="fly the same minutes straight and level on a calm evening and charge again",
        speaks_for=f"{ratio - 1.0:.0%} more than level flight takes" if more else "",
        speaks_against="" if more else "climbs take more than level flight, not less",
    )
    time = case.seen.time or 0.0
    yield Explanation(
        name="the motor ran for another time than noted",
        often=0.013,
        told=scaled(case, "time", OTHER_TIME),
        check="read the time from the log, or let the transmitter count it",
        speaks_for=f"{show(time * ratio, 'time', case.units)} instead of "
        f"{show(time, 'time', case.units)} would do it",
    )
    yield Explanation(
        name="propeller or motor draw otherwise than planned",
        often=0.008,
        told=scaled(case, "drive", DRIVE),
        check="a static test tells: foamwright bench PLANE thrust, amps read at full throttle",
        speaks_for=f"amps {ratio:.2f} times the planned ones would do it",
    )


def other_speed(case: Charged) -> Explanation:
    """Return the flight at another speed than told, as the model's level flight takes it."""
    said = case.seen.speed or 0.0
    speeds, charge = at_other_speeds(case)
    share, speaks = np.ones(case.draws.samples), ("", "the planned plane hardly flies level there")
    if speeds.size > 1:
        normals = case.draws.normal("cause.charge.speed", "speed flown")
        charge = charge / float(np.interp(said, speeds, charge))
        share = np.interp(said * np.exp(OTHER_SPEED * normals), speeds, charge)
        found = speed_for(speeds, charge, case.ratio, said)
        speaks = for_speed(found, said, (float(charge.min()), case))
    return Explanation(
        name="it was flown faster or slower than noted",
        often=0.022,
        told=told(case.level * share),
        check=f"take the speed from the log: {LOG}",
        speaks_for=speaks[0],
        speaks_against=speaks[1],
    )


def for_speed(found: float | None, said: float, least: tuple[float, Charged]) -> tuple[str, str]:
    """Return what speaks for and against another speed, `found` to take what was put back."""
    share, case = least
    if found is None and case.ratio < 1.0:
        lowest = case.charge(share * float(np.nanmedian(case.level)))
        return "", f"level flight takes {lowest} at least"
    if found is None:
        return "", "no speed of level flight takes that much"
    words = f"{show(found, 'speed', case.units)} instead of {show(said, 'speed', case.units)}"
    if times(np.log(found / said), OTHER_SPEED) <= FAR:
        return f"{words} would do it", ""
    return "", f"it would take {words}"


def scaled(case: Charged, name: str, ln_spread: float) -> Grid:
    """Return the charge changed by a factor of a spread."""
    factor = case.draws.factor(ln_spread, key=f"cause.charge.{name}", label=name)
    return told(case.level * factor)


def charged(case: Charged) -> Iterator[Explanation]:
    """Yield a pack that was not full before, or not after."""
    more = case.ratio > 1.0
    capacity = case.planned.complete_drive.drive.pack.capacity
    spread = np.abs(case.draws.normal("cause.charge.missing", "charge missing at the start"))
    missing = np.minimum(LEAST_MISSING + MISSING * spread, MOST_MISSING) * capacity
    apart = case.seen.value - float(np.nanmedian(case.level))
    share = apart / case.label
    lacked = f"{case.charge(apart)}, {share:.0%} of the label, missing at the start"
    unnoticed = more and share <= MOST_MISSING
    against = f"it would take {lacked}" if more else "it puts back more than was flown, not less"
    yield Explanation(
        name="the pack was not full at the start",
        often=0.013,
        told=told(case.level + missing),
        check="charge it full, let it rest an hour, and read volts per cell before the next flight",
        speaks_for=f"{lacked}, would do it" if unnoticed else "",
        speaks_against="" if unnoticed else against,
    )
    stopped = np.abs(case.draws.normal("cause.charge.stopped", "charger stopped early"))
    yield Explanation(
        name="the charger stopped before the pack was full",
        often=0.005,
        told=told(case.level * np.maximum(1.0 - STOPPED * stopped, 0.1)),
        check="read volts per cell after charging, against what the cells' chemistry calls full",
        speaks_for="" if more else f"{1.0 - case.ratio:.0%} left out would do it",
        speaks_against="it puts back less than was flown, not more" if more else "",
    )


def counted(case: Charged) -> Iterator[Explanation]:
    """Yield counts that are off: the charger's, the plane's own, the label's."""
    ratio, value = case.ratio, case.seen.value
    beyond = value > case.label
    yield Explanation(
        name="charge, time or speed were noted wrong",
        often=0.003,
        told=scaled(case, "noted", NOTED),
        check="read charger, watch and note again: a digit or a unit",
        speaks_for=f"{ratio:.3g} times the planned charge",
    )
    label = f"more than the {case.charge(case.label)} of the label" if beyond else ""
    yield Explanation(
        name="the charger counts wrong",
        often=0.006,
        told=scaled(case, "charger", CHARGER),
        check=f"charge another pack of known charge on it; or hold it against the log: {LOG}",
        speaks_for=f"a count {ratio:.2f} times the true one would do it",
        speaks_against="" if abs(np.log(ratio)) <= 3.0 * CHARGER else "chargers err by a tenth",
    )
    yield Explanation(
        name="it is the plane's own count, and its current sensor's scale is off",
        often=0.009,
        told=scaled(case, "sensor", SENSOR),
        check=f"note what the charger puts back, and hold the log against it: {LOG}",
        speaks_for=f"a scale {ratio:.2f} times the true one would do it",
    )
    yield Explanation(
        name="it was counted as a share of the label, and the pack holds another charge",
        often=0.003,
        told=scaled(case, "label", LABEL),
        check="note what the charger counts from empty storage to full",
        speaks_for=label,
        speaks_against="" if beyond else f"it is not beyond the label's {case.charge(case.label)}",
    )
