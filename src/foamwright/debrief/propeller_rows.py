"""Steady seconds of a log that has the propeller's speed, and the airspeed they tell."""

from dataclasses import dataclass

import numpy as np
from scipy.special import ndtri

from foamwright.debrief.read_off import SENSOR
from foamwright.debrief.recording import Recording
from foamwright.model.drive import DriveModel
from foamwright.physics.arrays import Flags, Grid, Samples
from foamwright.physics.drive.at_revolutions import Turning, airspeed_of, falling
from foamwright.physics.drive.propeller import PropellerTable, coefficients
from foamwright.physics.drive.propeller_spread import CURVE_REST

CHANNELS = ("rotation_speed", "voltage", "current")
"""What a log must have for it."""
SECOND = 1.0
"""Means are taken over this [s]."""
STEADY = 0.03
"""Standard deviation of the propeller's speed within a second, relative: more is a change of
throttle, and then some of the power turns the motor up."""
TURNS = 25.0
"""Slower a propeller is as good as stopped [s^-1]."""
DRIVEN = 0.2
"""Share of planes that draw more than that at any airspeed, from which a second tells nothing: it
may be the air that turns the propeller."""
MOST = 150
"""Seconds that are looked at, evenly spread: more tell nothing new."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Seconds:
    """k steady seconds with the propeller turning."""

    time: Grid
    """Middle of each (k,) [s]."""
    turning: Turning
    """Propeller speed and voltage."""
    current: Grid
    """From the pack (k,) [A]."""
    airspeed: Grid
    """As it is known otherwise, NaN where it is not (k,) [m s^-1]."""

    def __len__(self) -> int:
        """Return how many there are."""
        return int(self.time.size)

    def taken(self, rows: Flags | np.ndarray) -> "Seconds":
        """Return some of them."""
        return Seconds(
            time=self.time[rows],
            turning=Turning(
                revolutions=self.turning.revolutions[rows], voltage=self.turning.voltage[rows]
            ),
            current=self.current[rows],
            airspeed=self.airspeed[rows],
        )


def steady_seconds(log: Recording, airspeed: Grid | None) -> Seconds:
    """Return the seconds of a log in which the propeller turned steadily.

    `airspeed` (k,) [m s^-1] is what is known of it otherwise.
    """
    known = np.full(log.time.size, np.nan) if airspeed is None else airspeed
    turns, volts, amps = (log.channel(name) for name in CHANNELS)
    with np.errstate(invalid="ignore"):
        good = (turns > TURNS) & (volts > 0.0) & (amps > 0.0)
    number = np.floor((log.time - log.time[0]) / SECOND + 1e-9).astype(int)
    usual = max(2.0, 0.5 * SECOND / log.step)
    columns = np.stack([log.time, turns, volts, amps, known], axis=1)
    found = []
    for rows in np.split(np.arange(number.size), np.flatnonzero(np.diff(number)) + 1):
        # A second at a low rate is one row, and nothing tells whether it was steady.
        if rows.size < usual or not good[rows].all():
            continue
        part = columns[rows]
        if part[:, 1].std() < STEADY * part[:, 1].mean():
            found.append(part.mean(axis=0))
    table = np.array(found) if found else np.zeros((0, columns.shape[1]))
    return Seconds(
        time=table[:, 0],
        turning=Turning(revolutions=table[:, 1], voltage=table[:, 2]),
        current=table[:, 3],
        airspeed=table[:, 4],
    )


def spread_out(seconds: Seconds) -> Seconds:
    """Return at most `MOST` of some seconds, evenly spread."""
    if len(seconds) <= MOST:
        return seconds
    return seconds.taken(np.linspace(0, len(seconds) - 1, MOST).round().astype(int))


def airspeeds(model: DriveModel, seconds: Seconds) -> tuple[Samples, Flags]:
    """Return the airspeed (n, k) [m s^-1] that each drive makes of steady seconds, and which tell.

    What sensor and curve are off is the same for all seconds: it does not average away.
    """
    drawn = seconds.current[None, :] / model.current_factor[:, None]
    plain, _ = airspeed_of(model.drive, drawn, seconds.turning)
    middle = np.median(plain / model.drive.multipliers.advance[:, None], axis=0)
    off = np.hypot(SENSOR, curve_error(model.drive.propeller, middle, seconds.turning))
    own = drawn * np.exp(luck(drawn.shape[0])[:, None] * off)
    found, missed = airspeed_of(model.drive, own, seconds.turning)
    return found, (missed & (found > 0.0)).mean(axis=0) < DRIVEN


def luck(samples: int, kind: int = 1) -> Samples:
    """Return standard normals (n,), for each kind of error in an order of its own."""
    scores = ndtri((np.arange(samples) + 0.5) / samples)
    return np.asarray(np.random.default_rng(kind).permutation(scores))


def curve_error(table: PropellerTable, airspeed: Grid, turning: Turning) -> Grid:
    """Return what the propeller's curve is off in a current (k,), ln standard deviation.

    Curves miss by a share of the power at rest, which is more of the little that a propeller takes
    near its pitch speed.
    """
    return np.asarray(CURVE_REST[2] / over_rest(table, airspeed, turning))


def over_rest(table: PropellerTable, airspeed: Grid, turning: Turning) -> Grid:
    """Return power at an airspeed (k,) over that at rest (k,), while the propeller pulls [-]."""
    turns = turning.revolutions
    _, last = falling(table, turns)
    _, rest, _ = coefficients(table, np.zeros(turns.size), turns)
    ratio = airspeed / (turns * table.diameter)
    _, flying, _ = coefficients(table, np.minimum(ratio, last), turns)
    return np.asarray(flying / rest)
