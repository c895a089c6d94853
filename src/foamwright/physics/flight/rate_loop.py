"""A stabiliser that turns surfaces against the measured rate: when it starts to wobble.

Every gain is surface angle per rate [s]. What a builder reads are ratios of two such gains, so
nothing here depends on how a controller counts its own.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from foamwright.physics.arrays import Flags, Grid, Samples
from foamwright.physics.flight.plants import Plant
from foamwright.physics.numerics.roots import bracketed_root

FREQUENCIES = (1e-2, 1e4)
"""Frequencies between which a loop is searched [rad s^-1]."""

FULLY_LIMITED = 1.0 / 1.862
"""Servo speed over wanted peak speed below which the servo only runs back and forth [-]."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Chain:
    """What lies between the motion and the surface, of n samples."""

    delay: Samples
    """Dead time of frames, computing and servo (n, 1) [s]."""
    gyro_lag: Samples
    """Time constant of the gyro's filter (n, 1) [s]."""
    servo_lag: Samples
    """Time constant of the servo while it is not at full speed (n, 1) [s]."""
    servo_speed: Samples
    """Full speed of the surface (n, 1) [rad s^-1]."""
    amplitude: float
    """Swing of the surface the loop is judged at [rad]."""


def rate_limit(
    frequency: Samples, amplitude: float, servo_speed: Samples
) -> tuple[Samples, Samples]:
    """Return what a servo at full speed leaves of a swing's size, and how late it is.

    Parameters
    ----------
    frequency : (n, k) [rad s^-1]
        Of the swing.
    amplitude : float [rad]
        Of the swing.
    servo_speed : (n, k) [rad s^-1]
        Full speed.

    Returns
    -------
    (n, k), (n, k) [-, rad]
        One and nothing while the servo keeps up.

    Valid
    -----
    The first harmonic; between keeping up and running back and forth gain and lag are joined by
    straight lines.

    Source
    ------
    duda-1998
    """
    share = servo_speed / (amplitude * frequency)
    least = np.minimum(share, FULLY_LIMITED)
    start = (1.0 / FULLY_LIMITED - 1.0) ** -1.0
    into = np.minimum(np.maximum((1.0 / share - 1.0) * start, 0.0), 1.0)
    return 1.0 + into * (4.0 / np.pi * least - 1.0), into * np.arccos(0.5 * np.pi * least)


def loop_size(plant: Plant, chain: Chain, frequency: Samples) -> Samples:
    """Return the size of the open loop at unit gain.

    Parameters
    ----------
    plant : Plant
        Rate over surface.
    chain : Chain
        Surface over measured rate.
    frequency : (n, k) [rad s^-1]
        Where.

    Returns
    -------
    (n, k) [s^-1]

    Source
    ------
    ogata-2010, duda-1998
    """
    square = frequency * frequency
    found = plant.b0**2 + square * plant.b1**2
    found /= (plant.a0 - square) ** 2 + square * plant.a1**2
    for lag in (chain.gyro_lag, chain.servo_lag):
        found /= 1.0 + square * lag**2
    size: Samples = np.sqrt(found)
    size *= rate_limit(frequency, chain.amplitude, chain.servo_speed)[0]
    return size


def loop_phase(plant: Plant, chain: Chain, frequency: Samples) -> Samples:
    """Return the phase of the open loop.

    Parameters
    ----------
    plant : Plant
        Rate over surface.
    chain : Chain
        Surface over measured rate.
    frequency : (n, k) [rad s^-1]
        Where.

    Returns
    -------
    (n, k) [rad]
        It runs on below -pi; it is never folded back.

    Source
    ------
    ogata-2010, duda-1998
    """
    w = frequency
    found: Samples = np.arctan2(w * plant.b1, plant.b0) - np.arctan2(w * plant.a1, plant.a0 - w * w)
    found -= w * chain.delay
    found -= rate_limit(w, chain.amplitude, chain.servo_speed)[1]
    for lag in (chain.gyro_lag, chain.servo_lag):
        found -= np.arctan(w * lag)
    return found


def ultimate(plant: Plant, chain: Chain) -> tuple[Samples, Samples, Flags]:
    """Return the gain at which the loop wobbles for ever, and how fast it wobbles.

    Parameters
    ----------
    plant : Plant
        Rate over surface.
    chain : Chain
        Surface over measured rate.

    Returns
    -------
    (n, k), (n, k), (n, k) [s, rad s^-1, -]
        Gain, frequency, and where no such frequency was found.

    Source
    ------
    ogata-2010
    """

    def residual(power: Samples) -> Samples:
        return loop_phase(plant, chain, np.exp(power)) + np.pi

    one = np.ones_like(plant.b1)
    low, high = (np.log(end) * one for end in FREQUENCIES)
    found, unbracketed = bracketed_root(residual, low, high, tolerance=1e-8)
    frequency = np.exp(found)
    return 1.0 / loop_size(plant, chain, frequency), frequency, unbracketed


def phase_margin(plant: Plant, chain: Chain, gain: Samples) -> tuple[Samples, Samples]:
    """Return the phase left where the open loop has size one, and the frequency there.

    Parameters
    ----------
    plant : Plant
        Rate over surface.
    chain : Chain
        Surface over measured rate.
    gain : (n, k) [s]
        Surface angle per rate.

    Returns
    -------
    (n, k), (n, k) [rad, rad s^-1]
        Not a number where the loop is weaker than one everywhere.

    Source
    ------
    ogata-2010, franklin-powell-2015
    """
    grid = np.geomspace(*FREQUENCIES, 61)
    last, never = _last_above(plant, chain, gain, grid)

    def residual(power: Samples) -> Samples:
        return np.asarray(np.log(gain * loop_size(plant, chain, np.exp(power))))

    found, _ = bracketed_root(residual, np.log(grid[last]), np.log(grid[last + 1]), tolerance=1e-9)
    frequency = np.exp(found)
    left = np.pi + loop_phase(plant, chain, frequency)
    return np.where(never, np.nan, left), np.where(never, np.nan, frequency)


def _last_above(
    plant: Plant, chain: Chain, gain: Samples, grid: Grid
) -> tuple[NDArray[np.intp], Flags]:
    """Return the last frequency of a grid where the loop is not weaker than one (n, k).

    The last but one at most; and where it is weaker everywhere. Looked for from above, where it
    is soon found.
    """
    last = np.zeros(gain.shape, dtype=np.intp)
    never = np.ones(gain.shape, dtype=bool)
    for place in range(grid.size - 1, -1, -1):
        above = never & (gain * loop_size(plant, chain, np.full((1, 1), grid[place])) >= 1.0)
        last[above] = min(place, grid.size - 2)
        never &= ~above
        if not never.any():
            break
    return last, never


def decibels(ratio: Samples) -> Samples:
    """Return a ratio of gains in decibels.

    Parameters
    ----------
    ratio : (n, k) [-]
        Gain over gain.

    Returns
    -------
    (n, k) [-]

    Source
    ------
    ogata-2010
    """
    return np.asarray(20.0 * np.log10(ratio))


def gain_with_margin(ultimate_gain: Samples, margin: float) -> Samples:
    """Return the gain that keeps a margin to the wobble.

    Parameters
    ----------
    ultimate_gain : (n, k) [s]
        Gain at which it wobbles.
    margin : float [-]
        Margin in decibels.

    Returns
    -------
    (n, k) [s]

    Source
    ------
    ogata-2010, ziegler-nichols-1942
    """
    return np.asarray(ultimate_gain * 10.0 ** (-margin / 20.0))


def delay_from_wobble(plant: Plant, chain: Chain, frequency: Samples) -> Samples:
    """Return the dead time with which the loop wobbles at a frequency that was seen.

    Parameters
    ----------
    plant : Plant
        Rate over surface at the speed of the wobble.
    chain : Chain
        Lags of gyro and servo; its own dead time is replaced.
    frequency : (n, k) [rad s^-1]
        Of the wobble.

    Returns
    -------
    (n, k) [s]
        Negative where lags alone are too slow for that wobble.

    Source
    ------
    own-derivation
    """
    phase = loop_phase(plant, chain, frequency)
    return np.asarray(chain.delay + (phase + np.pi) / frequency)


def wobble_speed(speed: Grid, ultimate_gain: Samples, gain: Samples) -> Samples:
    """Return the speed from which a gain wobbles.

    Parameters
    ----------
    speed : (k,) [m s^-1]
        Rising speeds.
    ultimate_gain : (n, k) [s]
        Gain that wobbles there; falls with speed.
    gain : (n,) [s]
        The gain that is set.

    Returns
    -------
    (n,) [m s^-1]
        Beyond the speeds given it is carried on by the power law of the last two, to ten times
        the fastest.

    Source
    ------
    own-derivation
    """
    x, y = np.log(speed), np.log(ultimate_gain) - np.log(gain)[:, None]
    place = np.clip(np.sum(y > 0.0, axis=1) - 1, 0, speed.size - 2)
    rows = np.arange(len(y))
    y0, y1 = y[rows, place], y[rows, place + 1]
    slope = np.minimum(y1 - y0, -1e-9) / (x[place + 1] - x[place])
    return np.asarray(np.exp(np.minimum(x[place] - y0 / slope, x[-1] + np.log(10.0))))
