"""The radio link: how often it was poor, and how far it would carry."""

from dataclasses import dataclass

import numpy as np

from foamwright.debrief.outcome import Figure, Remark, Share
from foamwright.debrief.positions import metres_between
from foamwright.debrief.recording import Recording
from foamwright.debrief.scene import Scene
from foamwright.physics.arrays import Grid
from foamwright.physics.numerics.normal import TENTH
from foamwright.quantity import show

POOR = 0.7
"""A lower link quality is poor; common practice, no source."""
OFTEN = 0.02
"""Share of the time with a poor link from which it wants a look."""
WORST = 0.4
"""A link once below this wants a look; common practice, no source."""
USABLE, USABLE_SD = -95.0, 4.0
"""Weakest signal a receiver of this kind still reads, and how they differ [dB over a milliwatt];
common practice, no source."""
FADE = 10.0
"""What antennas and banks take away now and then, kept in hand [dB]; common practice, no source."""
PER_DECADE = 20.0
"""What free space takes from a signal when the distance grows tenfold [dB] (friis-1946)."""
NEAR = 20.0
"""Nearer, antennas are in each other's way [m]."""
SPREAD = 2.0
"""Distances have to spread by this factor to show a trend."""
ROWS = 50
FADED = 4.0
"""Fading hangs together for this long [s]."""
ROOM = 1.5
"""Times the farthest distance flown that the signal should carry."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Trend:
    """How the signal falls with distance."""

    signal: float
    """Mean [dB over a milliwatt]."""
    decades: float
    """Mean of the tens logarithm of the distance in metres [-]."""
    scatter: float
    """Of single rows around it, one sigma [dB]."""
    per_decade: float
    """How much it fell really when the distance grew tenfold [dB]."""
    per_decade_sd: float
    """One sigma [dB]."""
    farthest: float
    """Flown [m]."""


def read_link(scene: Scene) -> Share:
    """Return the quality of the link, its signal against distance, and how far it would carry."""
    recording = scene.recording
    if not recording.has("link_quality") and not recording.has("signal_strength"):
        return Share()
    away = distance(recording)
    units = scene.facts.units
    parts = [_quality(recording, away, units), _signal(recording, away, units)]
    return Share(
        figures=tuple(one for part in parts for one in part.figures),
        findings=tuple(one for part in parts for one in part.findings),
        not_said=tuple(one for part in parts for one in part.not_said),
    )


def distance(recording: Recording) -> Grid | None:
    """Return how far each row lies from the first known position (k,) [m]; None without any."""
    if not recording.has("latitude", "longitude"):
        return None
    latitude, longitude = recording.channel("latitude"), recording.channel("longitude")
    known = np.flatnonzero(np.isfinite(latitude) & np.isfinite(longitude))
    if known.size == 0:
        return None
    home = (np.full(1, latitude[known[0]]), np.full(1, longitude[known[0]]))
    north, east = metres_between(*home, latitude, longitude)
    up: Grid | float = 0.0
    if recording.has("height"):
        height = recording.channel("height")
        up = np.nan_to_num(height - height[known[0]])
    return np.asarray(np.sqrt(north**2 + east**2 + np.square(up)))


def _quality(recording: Recording, away: Grid | None, units: str) -> Share:
    """Return how often the link was poor, and its worst."""
    values = recording.channels.get("link_quality")
    if values is None or not np.isfinite(values).any():
        return Share()
    known = values[np.isfinite(values)]
    share, at = float(np.mean(known < POOR)), int(np.nanargmin(values))
    worst = float(values[at])
    label = f"share of the time with a link below {100.0 * POOR:.0f} %"
    figures = (
        _point("poor_link", label, share, "-"),
        _point("worst_link", "worst quality of the link", worst, "-"),
    )
    if share <= OFTEN and worst >= WORST:
        return Share(figures=figures)
    far = None if away is None or not np.isfinite(away[at]) else float(away[at])
    where = "" if far is None else f", {show(far, 'length', units)} from the start"
    return Share(
        figures=figures,
        findings=(
            Remark(
                what="the radio link was poor for a part of the flight",
                because=f"below {100.0 * POOR:.0f} % for {100.0 * share:.0f} % of the time; worst"
                f" {100.0 * worst:.0f} % at {recording.time[at]:.0f} s{where}",
                check_first=LOOK,
            ),
        ),
    )


LOOK = (
    "the antennas: whole, straight, away from carbon and motor leads, two at right angles",
    "what the radio does when the link is lost, on the ground, propeller off",
    "stay nearer until it is found; more power than your rules allow is no remedy",
)
"""Where to look when a link is weak."""


def _signal(recording: Recording, away: Grid | None, units: str) -> Share:
    """Return the trend of the signal with the distance it would carry."""
    if not recording.has("signal_strength"):
        return Share()
    values = recording.channel("signal_strength")
    if float(np.nanmax(values, initial=-np.inf)) > 0.0:
        said = "how far the signal carries: it is not logged as decibels below a milliwatt"
        return Share(not_said=(said,))
    if away is None:
        return Share(not_said=("how far the signal carries: no positions were logged",))
    trend = fitted(values, away, recording.step)
    if trend is None:
        said = "how far the signal carries: the distances flown are too much alike"
        return Share(not_said=(said,))
    return _carries(trend, units)


def fitted(values: Grid, away: Grid, step: float) -> Trend | None:
    """Return the trend of a signal (k,) [dB] with distance (k,) [m]; None where none shows."""
    known = np.isfinite(values) & np.isfinite(away) & (away > NEAR)
    if np.count_nonzero(known) < ROWS:
        return None
    decades, signal = np.log10(away[known]), values[known]
    low, high = np.quantile(decades, [0.05, 0.95])
    if high - low < np.log10(SPREAD):
        return None
    centred = decades - decades.mean()
    square = float(centred @ centred)
    slope = float(centred @ signal) / square
    left = signal - signal.mean() - slope * centred
    together = max(1.0, FADED / step)
    return Trend(
        signal=float(signal.mean()),
        decades=float(decades.mean()),
        scatter=float(np.std(signal + PER_DECADE * decades)),
        per_decade=-slope,
        per_decade_sd=float(np.sqrt(left @ left / left.size * together / square)),
        farthest=float(away[known].max()),
    )


def _carries(trend: Trend, units: str) -> Share:
    """Return how far a signal carries by its own fall or free space's, whichever is the steeper.

    Source: friis-1946.
    """
    steep = trend.per_decade - TENTH * trend.per_decade_sd > PER_DECADE
    fall = trend.per_decade if steep else PER_DECADE
    reach = TENTH * float(np.hypot(USABLE_SD, trend.scatter))
    value, low, high = (
        10.0 ** (trend.decades + (trend.signal - FADE - USABLE + more) / fall)
        for more in (0.0, -reach, reach)
    )
    label = f"distance at which the signal is down to {USABLE:.0f} dBm with {FADE:.0f} dB in hand"
    ended = TENTH * trend.per_decade_sd
    figures = (
        Figure(name="link_range", label=label, value=value, low=low, high=high, unit="m"),
        Figure(
            name="signal_fall",
            label="fall of the signal over tenfold distance, dB (free space 20)",
            value=trend.per_decade,
            low=trend.per_decade - ended,
            high=trend.per_decade + ended,
            unit="-",
        ),
    )
    if value > ROOM * trend.farthest and not steep:
        return Share(figures=figures)
    found = (
        "the signal falls faster with distance than in free space"
        if steep
        else "the signal carries hardly farther than was flown"
    )
    flown, carried = (show(far, "length", units) for far in (trend.farthest, value))
    because = (
        f"it falls by {trend.per_decade:.0f} dB over tenfold distance, free space takes"
        f" {PER_DECADE:.0f}; flown up to {flown}, it carries to about {carried}"
    )
    return Share(figures=figures, findings=(Remark(what=found, because=because, check_first=LOOK),))


def _point(name: str, label: str, value: float, unit: str) -> Figure:
    """Return a figure that was counted: no band."""
    return Figure(name=name, label=label, value=value, low=value, high=value, unit=unit)
