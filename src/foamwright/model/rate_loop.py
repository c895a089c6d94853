"""When the stabiliser starts to wobble, as ratios to the builder's present setting (1.0).

Nobody's settings are numbers here. The present gain, as surface angle per rate of turn, is found
from what the builder saw in the air: a wobble at a speed, or none up to a speed; and taken from
what is usual, within a wide spread, where nothing was seen.
"""

from dataclasses import dataclass, replace

import numpy as np

from foamwright.model.ensemble import Draws
from foamwright.model.surfaces import PITCH_ROLES, ROLL_ROLES
from foamwright.physics.arrays import Grid, Samples
from foamwright.physics.flight.derivatives import Derivatives
from foamwright.physics.flight.plants import Plant, pitch_plant, roll_plant
from foamwright.physics.flight.rate_loop import (
    Chain,
    decibels,
    delay_from_wobble,
    gain_with_margin,
    phase_margin,
    ultimate,
    wobble_speed,
)
from foamwright.plane.gear import Servo
from foamwright.plane.plane import Plane
from foamwright.plane.tuning import Tuning
from foamwright.quantity import Quantity

MARGIN = 6.0
"""Margin the advice keeps to the wobble [dB]: half the gain that wobbles; common practice."""

USUAL_GAIN = (0.05, 0.6)
"""Surface angle per rate of an untouched setting [s], and ln spread: full travel against some
hundred degrees a second; common practice, no source."""

FRAME = (0.020, 0.003)
"""Time between servo commands where it was not written, and spread [s]; common practice."""

GYRO_FILTER = (60.0, 25.0)
"""Cut-off of the gyro's filter where it was not written, and spread [Hz]; common practice."""

SERVO_TIME = (0.10, 0.02)
"""A servo's time for 60 degrees where none is named, and spread [s]; common practice."""

SERVO_BAND = 7.0 / 60.0
"""Error from which a servo runs at full speed, over the 60 degrees of its label [-]: below it the
servo is a lag; common practice, no source."""

SERVO_DEAD = 0.014
"""Dead time of computing, reading the pulse and the servo's own drive [s]; common practice."""

CHAIN_LN = 0.25
"""ln spread of the dead time put together from its parts [-]."""

SHORTEST = 0.001
"""Shortest dead time a chain can have [s]."""

DELAY_SHARE, FREQUENCY_SHARE, SPEED_SHARE = 0.10, 0.08, 0.10
"""Relative spreads of a delay, of a counted wobble and of its speed where none is written."""

UNSEEN = (
    f"present setting taken as an untouched one, within a factor of {1.0 + USUAL_GAIN[1]:.1f}: "
    "write tuning.proven_speed or tuning.wobble_speed after a flight"
)
"""What is said while no flight told of the setting."""

SWING = float(np.radians(3.0))
"""Swing of the surface that a builder sees as a wobble [rad]."""

LOOP_SPEEDS = 9
"""Speeds at which the stabiliser is looked at."""

BEYOND = 2.0
"""Fastest speed looked at over the usual speed where no top speed can be computed [-]."""


LOOP_INPUTS = (
    ("tuning.frame", "frame of the servo commands"),
    ("tuning.gyro_filter", "gyro filter"),
    ("tuning.servo_time", "speed of the servos"),
    ("tuning.chain", "delay of the stabiliser"),
    ("tuning.delay", "delay of the stabiliser"),
    ("tuning.wobble_frequency", "how fast it wobbles"),
    ("tuning.wobble_speed", "speed it wobbles at"),
    ("tuning.proven_speed", "speed proven without a wobble"),
    ("tuning.gain.roll", "present setting in roll"),
    ("tuning.gain.pitch", "present setting in pitch"),
)
"""Inputs of every stabiliser, with their labels."""

LABELS = dict(LOOP_INPUTS)
"""The label of each."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Flying:
    """What the loop needs of the plane."""

    derivatives: Derivatives
    """About the centre of gravity."""
    inertia: Samples
    """(n, 3, 3) [kg m^2]."""
    mass: Samples
    """(n,) [kg]."""
    density: Samples
    """(n,) [kg m^-3]."""

    def plant(self, axis: str, speed: Grid) -> Plant:
        """Return rate over surface at (k,) speeds."""
        if axis == "roll":
            return roll_plant(self.derivatives, self.inertia[:, 0, 0], self.density, speed)
        return pitch_plant(
            self.derivatives,
            self.mass,
            self.inertia[:, 1, 1],
            density=self.density,
            speed=speed,
        )


@dataclass(frozen=True, kw_only=True, slots=True)
class AxisLoop:
    """One axis of the stabiliser."""

    margin: Samples
    """Gain margin of the present setting (n, k) [dB]; below 0 it wobbles."""
    phase_margin: Samples
    """Phase margin of the present setting (n, k) [rad]; not a number where the loop is too weak
    to have one."""
    wobble_frequency: Samples
    """How fast it would wobble (n, k) [Hz]."""
    schedule: Samples
    """Multiplier of the present setting that keeps the margin at each speed (n, k) [-]."""
    wobble_speed: Samples
    """Speed from which the present setting wobbles (n,) [m s^-1]."""
    gain_ratio: Samples
    """Multiplier that keeps the margin up to the fastest speed (n,) [-]."""
    seen: bool
    """Whether a flight told something of this axis."""


@dataclass(frozen=True, kw_only=True, slots=True)
class RateLoop:
    """The stabiliser in roll and pitch."""

    speed: Grid
    """(k,) [m s^-1]."""
    fastest: float
    """Speed the multiplier is for [m s^-1]."""
    roll: AxisLoop | None
    """None where nothing rolls it."""
    pitch: AxisLoop | None
    """None where nothing pitches it."""
    delay: Samples
    """From a turn of the plane to the answer of the surface: dead time and lags (n,) [s]."""
    roll_damping: Samples
    """Rate at which a roll dies out at 1 m/s (n,) [m^-1]."""
    wobble_speed: Samples
    """The slower one of the axes of which something was seen, else of both (n,) [m s^-1]."""
    gain_ratio: Samples
    """The smaller one, likewise (n,) [-]."""
    assumed: tuple[str, ...]
    """What was assumed."""


def loop_speeds(plane: Plane, slowest: float, fastest: float) -> Grid:
    """Return the speeds to look at (k,) [m s^-1]: all that is flown, and all that was told of."""
    known = [s.value for s in (plane.tuning.wobble_speed, plane.tuning.proven_speed) if s]
    highest = max(1.4 * fastest, 2.0 * slowest, *(1.4 * value for value in known))
    return np.geomspace(min(slowest, *known, highest), highest, LOOP_SPEEDS)


def axes_of(plane: Plane) -> tuple[str, ...]:
    """Return which axes have a surface."""
    roles = {control.role for s in plane.airframe.surfaces for control in s.controls}
    known = {"roll": ROLL_ROLES, "pitch": PITCH_ROLES}
    return tuple(axis for axis, wanted in known.items() if roles & set(wanted))


def servo_time(plane: Plane, draws: Draws) -> tuple[Samples, bool]:
    """Return the slowest servo's time for 60 degrees (n,), and whether one was named."""
    named = {c.servo for s in plane.airframe.surfaces for c in s.controls if c.servo is not None}
    servos = [i for i in plane.items if isinstance(i, Servo) and i.speed is not None]
    servos = [i for i in servos if i.name in named] or servos
    times = [
        draws.written(
            item.speed,
            0.15 * item.speed.value,
            key=f"items.{item.name}.speed",
            label=f"speed of {item.name}",
        )
        for item in servos
        if item.speed is not None
    ]
    if times:
        return np.max(times, axis=0), True
    key = "tuning.servo_time"
    return draws.around(*SERVO_TIME, key=key, label=LABELS[key]), False


def loop_inputs(plane: Plane) -> tuple[tuple[str, str], ...]:
    """Return every input the loop draws, with its label, in one order."""
    servos = [
        (f"items.{item.name}.speed", f"speed of {item.name}")
        for item in plane.items
        if isinstance(item, Servo) and item.speed is not None
    ]
    return (*LOOP_INPUTS, *servos)


def written_or(
    quantity: Quantity | None, usual: tuple[float, float], draws: Draws, *, key: str, label: str
) -> Samples:
    """Return what was written, good to a fiftieth, or what is usual (n,)."""
    if quantity is None:
        return draws.around(*usual, key=key, label=label)
    return draws.written(quantity, 0.02 * quantity.value, key=key, label=label)


def chain_of(plane: Plane, draws: Draws) -> tuple[Chain, tuple[str, ...]]:
    """Return the chain from motion to surface put together from its parts, and what was assumed."""
    known = plane.tuning
    frame = written_or(known.frame, FRAME, draws, key="tuning.frame", label=LABELS["tuning.frame"])
    cutoff = written_or(
        known.gyro_filter,
        GYRO_FILTER,
        draws,
        key="tuning.gyro_filter",
        label=LABELS["tuning.gyro_filter"],
    )
    servo, named = servo_time(plane, draws)
    # A command waits half a frame on average, then is held for one, of which half counts.
    dead = (frame + SERVO_DEAD) * draws.factor(
        CHAIN_LN, key="tuning.chain", label=LABELS["tuning.chain"]
    )
    gyro_lag, servo_lag = 1.0 / (2.0 * np.pi * cutoff), SERVO_BAND * servo
    if known.delay is not None:
        whole = draws.written(
            known.delay,
            DELAY_SHARE * known.delay.value,
            key="tuning.delay",
            label=LABELS["tuning.delay"],
        )
        dead = np.maximum(whole - gyro_lag - servo_lag, SHORTEST)
    chain = Chain(
        delay=dead[:, None],
        gyro_lag=gyro_lag[:, None],
        servo_lag=servo_lag[:, None],
        servo_speed=(np.radians(60.0) / servo)[:, None],
        amplitude=SWING,
    )
    return chain, chain_assumed(known, named=named)


def chain_assumed(known: Tuning, *, named: bool) -> tuple[str, ...]:
    """Return what was assumed of the chain."""
    if known.delay is not None or known.wobble_frequency is not None:
        return ()
    said = []
    if known.frame is None:
        said.append(f"a servo command every {1e3 * FRAME[0]:.0f} ms")
    if known.gyro_filter is None:
        said.append(f"gyro filter at {GYRO_FILTER[0]:.0f} ± {GYRO_FILTER[1]:.0f} Hz")
    if not named:
        said.append(f"servos with {SERVO_TIME[0]:.2f} s for 60 degrees")
    return tuple(said)


def at_each(flying: Flying, axis: str, speed: Samples) -> Plant:
    """Return the plant of each sample at its own speed, (n, 1)."""
    # Forces go with the square of the speed, damping with the speed itself.
    unit = flying.plant(axis, np.array([1.0]))
    v = speed[:, None]
    return Plant(b1=unit.b1 * v**2, b0=unit.b0 * v**3, a1=unit.a1 * v, a0=unit.a0 * v**2)


def seen_gain(flying: Flying, axis: str, chain: Chain, speed: Samples) -> Samples:
    """Return the gain that wobbles at each sample's speed (n,) [s]."""
    return ultimate(at_each(flying, axis, speed), chain)[0][:, 0]


def present_gain(
    plane: Plane, flying: Flying, axis: str, *, chain: Chain, draws: Draws
) -> tuple[Samples, bool]:
    """Return the present setting's gain (n,) [s], and whether a flight told of it."""
    from scipy.special import ndtr, ndtri  # noqa: PLC0415 - slow to import, only needed here

    known, wobble = plane.tuning, plane.tuning.wobble_speed
    if wobble is not None and known.wobble_axis == axis:
        speed = draws.written(
            wobble,
            SPEED_SHARE * wobble.value,
            key="tuning.wobble_speed",
            label=LABELS["tuning.wobble_speed"],
        )
        return seen_gain(flying, axis, chain, speed), True
    usual, spread = USUAL_GAIN
    key = f"tuning.gain.{axis}"
    luck = draws.normal(key, LABELS[key])
    if known.proven_speed is None:
        return usual * np.exp(spread * luck), False
    speed = draws.written(
        known.proven_speed,
        SPEED_SHARE * known.proven_speed.value,
        key="tuning.proven_speed",
        label=LABELS["tuning.proven_speed"],
    )
    # What is usual, cut off where it would have wobbled.
    most = np.log(seen_gain(flying, axis, chain, speed) / usual) / spread
    held = ndtri(np.clip(ndtr(luck) * ndtr(most), 1e-12, 1.0))
    return usual * np.exp(spread * np.minimum(held, most)), True


def seen_delay(
    plane: Plane, flying: Flying, chain: Chain, draws: Draws
) -> tuple[Chain, tuple[str, ...]]:
    """Return the chain with the dead time that a counted wobble tells, and what that leaves odd."""
    known = plane.tuning
    if known.wobble_speed is None or known.wobble_frequency is None:
        return chain, ()
    counted = draws.written(
        known.wobble_frequency,
        FREQUENCY_SHARE * known.wobble_frequency.value,
        key="tuning.wobble_frequency",
        label=LABELS["tuning.wobble_frequency"],
    )
    speed = np.full(draws.samples, known.wobble_speed.value)
    plant = at_each(flying, known.wobble_axis, speed)
    delay = delay_from_wobble(plant, chain, 2.0 * np.pi * counted[:, None])
    said: tuple[str, ...] = ()
    if float(np.mean(delay < SHORTEST)) > 0.2:
        text = known.wobble_frequency.text
        said = (f"a wobble at {text} is faster than filter and servo allow: count it again",)
    return replace(chain, delay=np.maximum(delay, SHORTEST)), said


def axis_loop(
    flying: Flying,
    axis: str,
    chain: Chain,
    gain: tuple[Samples, bool],
    *,
    speeds: tuple[Grid, float],
) -> AxisLoop:
    """Return one axis at all speeds, and at the fastest."""
    speed, fastest = speeds
    present, seen = gain
    plant = flying.plant(axis, speed)
    limit, frequency, _ = ultimate(plant, chain)
    top, _, _ = ultimate(flying.plant(axis, np.array([fastest])), chain)
    whole = np.broadcast_to(present[:, None], limit.shape)
    return AxisLoop(
        margin=decibels(limit / whole),
        phase_margin=phase_margin(plant, chain, whole)[0],
        wobble_frequency=frequency / (2.0 * np.pi),
        schedule=gain_with_margin(limit, MARGIN) / whole,
        wobble_speed=wobble_speed(speed, limit, present),
        gain_ratio=gain_with_margin(top[:, 0], MARGIN) / present,
        seen=seen,
    )


def rate_loop_of(
    plane: Plane, flying: Flying, draws: Draws, *, speed: Grid, fastest: float
) -> RateLoop | None:
    """Return the stabiliser at (k,) speeds [m s^-1]; none for a plane without a surface for it."""
    axes = axes_of(plane)
    if not axes:
        return None
    chain, said = chain_of(plane, draws)
    if plane.tuning.wobble_axis in axes:
        chain, odd = seen_delay(plane, flying, chain, draws)
        said = (*said, *odd)
    found = {}
    for axis in axes:
        gain, seen = present_gain(plane, flying, axis, chain=chain, draws=draws)
        to_be_flown = (plane.tuning.next_gain * gain, seen)
        found[axis] = axis_loop(flying, axis, chain, to_be_flown, speeds=(speed, fastest))
    told = [loop for loop in found.values() if loop.seen]
    counting = told or list(found.values())
    if not told:
        said = (*said, UNSEEN)
    return RateLoop(
        speed=speed,
        fastest=fastest,
        roll=found.get("roll"),
        pitch=found.get("pitch"),
        delay=(chain.delay + chain.gyro_lag + chain.servo_lag)[:, 0],
        roll_damping=flying.plant("roll", np.array([1.0])).a1[:, 0],
        wobble_speed=np.min([loop.wobble_speed for loop in counting], axis=0),
        gain_ratio=np.min([loop.gain_ratio for loop in counting], axis=0),
        assumed=said,
    )
