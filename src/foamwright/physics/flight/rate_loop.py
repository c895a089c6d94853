"""A stabiliser that turns surfaces against the measured rate: when it starts to wobble.

Every gain is surface angle per rate [s]. What a builder reads are ratios of two such gains, so
nothing here depends on how a controller counts its own.
"""

from dataclasses import dataclass

import numpy as np

from foamwright.physics.arrays import Flags, Grid, Samples
from foamwright.physics.flight.derivatives import Derivatives
from foamwright.physics.numerics.roots import bracketed_root

FREQUENCIES = (1e-2, 1e4)
"""Frequencies between which a loop is searched [rad s^-1]."""

FULLY_LIMITED = 1.0 / 1.862
"""Servo speed over wanted peak speed below which the servo only runs back and forth [-]."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Plant:
    """Rate over surface angle, (b1 s + b0) / (s^2 + a1 s + a0), of n samples at k speeds."""

    b1: Samples
    """(n, k) [s^-2]."""
    b0: Samples
    """(n, k) [s^-3]."""
    a1: Samples
    """(n, k) [s^-1]."""
    a0: Samples
    """(n, k) [s^-2]."""


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


def roll_plant(derivatives: Derivatives, inertia: Samples, density: Samples, speed: Grid) -> Plant:
    """Return roll rate over aileron.

    Parameters
    ----------
    derivatives : Derivatives
        About the centre of gravity.
    inertia : (n,) [kg m^2]
        In roll.
    density : (n,) [kg m^-3]
        Air density.
    speed : (k,) [m s^-1]
        Airspeeds.

    Returns
    -------
    Plant [-]
        A lag with time constant -Ix / Lp.

    Source
    ------
    nelson-1998
    """
    d = derivatives
    torque = 0.5 * density * d.area * d.span / inertia
    b1 = (np.abs(d.Clda) * torque)[:, None] * speed**2
    a1 = (-d.Clp * torque * 0.5 * d.span)[:, None] * speed
    return Plant(b1=b1, b0=np.zeros_like(b1), a1=a1, a0=np.zeros_like(b1))


def pitch_plant(
    derivatives: Derivatives, mass: Samples, inertia: Samples, *, density: Samples, speed: Grid
) -> Plant:
    """Return pitch rate over elevator, plane free to move up and down.

    Parameters
    ----------
    derivatives : Derivatives
        About the centre of gravity.
    mass : (n,) [kg]
        Mass.
    inertia : (n,) [kg m^2]
        In pitch.
    density : (n,) [kg m^-3]
        Air density.
    speed : (k,) [m s^-1]
        Airspeeds.

    Returns
    -------
    Plant [-]

    Source
    ------
    nelson-1998
    """
    d = derivatives
    rising = (0.5 * density * d.area / mass)[:, None] * speed
    torque = (0.5 * density * d.area * d.chord / inertia)[:, None] * speed**2
    Za, Ma = -d.CLa[:, None] * rising, d.Cma[:, None] * torque
    Mq = (d.Cmq * 0.5 * d.chord)[:, None] * torque / speed
    Zd, Md = -d.CLde[:, None] * rising, d.Cmde[:, None] * torque
    sign = np.where(Md < 0.0, -1.0, 1.0)  # a canard's elevator works the other way round
    return Plant(b1=sign * Md, b0=sign * (Ma * Zd - Za * Md), a1=-Za - Mq, a0=Za * Mq - Ma)


def yaw_plant(
    derivatives: Derivatives, mass: Samples, inertia: Samples, *, density: Samples, speed: Grid
) -> Plant:
    """Return yaw rate over rudder, plane free to move sideways, wings held level.

    Parameters
    ----------
    derivatives : Derivatives
        About the centre of gravity.
    mass : (n,) [kg]
        Mass.
    inertia : (n,) [kg m^2]
        In yaw.
    density : (n,) [kg m^-3]
        Air density.
    speed : (k,) [m s^-1]
        Airspeeds.

    Returns
    -------
    Plant [-]

    Source
    ------
    nelson-1998
    """
    d = derivatives
    aside = (0.5 * density * d.area / mass)[:, None] * speed
    torque = (0.5 * density * d.area * d.span / inertia)[:, None] * speed**2
    Yb, Nb = d.CYb[:, None] * aside, d.Cnb[:, None] * torque
    Nr = (d.Cnr * 0.5 * d.span)[:, None] * torque / speed
    Yd, Nd = d.CYdr[:, None] * aside, d.Cndr[:, None] * torque
    return Plant(b1=Nd, b0=Nb * Yd - Yb * Nd, a1=-Yb - Nr, a0=Yb * Nr + Nb)


def rate_limit(frequency: Samples, amplitude: float, servo_speed: Samples) -> Samples:
    """Return what a servo at full speed leaves of a swing, as a complex factor.

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
    (n, k) [-]
        One while the servo keeps up.

    Valid
    -----
    The first harmonic; between keeping up and running back and forth gain and lag are joined by
    straight lines.

    Source
    ------
    duda-1998
    """
    share = servo_speed / (amplitude * frequency)
    limited = np.minimum(share, FULLY_LIMITED)
    gain, lag = 4.0 / np.pi * limited, np.arccos(0.5 * np.pi * limited)
    start = (1.0 / FULLY_LIMITED - 1.0) ** -1.0
    into = np.clip((1.0 / share - 1.0) * start, 0.0, 1.0)
    return np.asarray((1.0 + into * (gain - 1.0)) * np.exp(-1j * into * lag))


def response(plant: Plant, chain: Chain, frequency: Samples) -> tuple[Samples, Samples]:
    """Return size and phase of the open loop at unit gain.

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
    (n, k), (n, k) [s^-1, rad]
        The phase runs on below -pi; it is never folded back.

    Source
    ------
    ogata-2010
    """
    w = frequency
    above, below = plant.b0 + 1j * w * plant.b1, plant.a0 - w**2 + 1j * w * plant.a1
    limit = rate_limit(w, chain.amplitude, chain.servo_speed)
    phase = np.angle(above) - np.angle(below) - w * chain.delay + np.angle(limit)
    size = np.abs(above) / np.abs(below) * np.abs(limit)
    for lag in (chain.gyro_lag, chain.servo_lag):
        phase = phase - np.arctan(w * lag)
        size = size / np.hypot(1.0, w * lag)
    return np.asarray(size), np.asarray(phase)


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
        return response(plant, chain, np.exp(power))[1] + np.pi

    one = np.ones_like(plant.b1)
    low, high = (np.log(end) * one for end in FREQUENCIES)
    found, unbracketed = bracketed_root(residual, low, high, tolerance=1e-8)
    frequency = np.exp(found)
    return 1.0 / response(plant, chain, frequency)[0], frequency, unbracketed


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
    sizes = np.stack(
        [gain * response(plant, chain, w * np.ones_like(plant.b1))[0] for w in grid], axis=-1
    )
    last = sizes.shape[-1] - 1 - np.argmax(sizes[..., ::-1] >= 1.0, axis=-1)
    never = ~np.any(sizes >= 1.0, axis=-1)
    last = np.minimum(np.where(never, 0, last), grid.size - 2)

    def residual(power: Samples) -> Samples:
        return np.asarray(np.log(gain * response(plant, chain, np.exp(power))[0]))

    found, _ = bracketed_root(residual, np.log(grid[last]), np.log(grid[last + 1]), tolerance=1e-9)
    frequency = np.exp(found)
    left = np.pi + response(plant, chain, frequency)[1]
    return np.where(never, np.nan, left), np.where(never, np.nan, frequency)


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
    _, phase = response(plant, chain, frequency)
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
