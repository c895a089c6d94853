"""What flies off the hand: plane, drive, hands on the sticks and the throw itself, all (n,)."""

import dataclasses
from dataclasses import dataclass
from typing import TypeVar

import numpy as np

from foamwright.physics.arrays import Flags, Samples
from foamwright.physics.flight.derivatives import Derivatives

Record = TypeVar("Record", "LaunchPlane", "Power", "Hands", "Release", Derivatives)


@dataclass(frozen=True, kw_only=True, slots=True)
class LaunchPlane:
    """The plane beyond its derivatives."""

    mass: Samples
    """(n,) [kg]."""
    inertia_roll: Samples
    """About the body's x axis (n,) [kg m^2]."""
    inertia_pitch: Samples
    """About y (n,) [kg m^2]."""
    inertia_yaw: Samples
    """About z (n,) [kg m^2]."""
    inertia_product: Samples
    """Ixz, the integral of x z (n,) [kg m^2]."""
    density: Samples
    """Of the air (n,) [kg m^-3]."""
    maximum_lift: Samples
    """Largest lift coefficient (n,) [-]."""
    stall_width: Samples
    """Angle beyond the stall after which the wing is no more than a plate (n,) [rad]."""
    drag_constant: Samples
    """Drag coefficient at no lift (n,) [-]."""
    drag_square: Samples
    """What drag gains per CL^2 (n,) [-]."""
    drag_fourth: Samples
    """What it gains per CL^4: separation on the way to the stall (n,) [-]."""
    half_span: Samples
    """From the middle to the wing tip, for what touches the ground (n,) [m]."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Power:
    """Thrust and torque at the throttle set, against the airspeed along the propeller's axis."""

    thrust_constant: Samples
    """Standing still (n,) [N]."""
    thrust_linear: Samples
    """(n,) [N s m^-1]."""
    thrust_square: Samples
    """(n,) [N s^2 m^-2]."""
    torque_constant: Samples
    """Of the propeller on the plane, positive rolls it left (n,) [N m]."""
    torque_linear: Samples
    """(n,) [N s]."""
    torque_square: Samples
    """(n,) [N s^2 m^-1]."""
    arm: Samples
    """How far the thrust line passes above the centre of gravity (n,) [m]."""
    fastest: Samples
    """Airspeed up to which the curves hold (n,) [m s^-1]."""
    delay: Samples
    """From the release to the motor's start (n,) [s]; nothing: it runs when released."""
    ramp: Samples
    """From the start to full revolutions (n,) [s]."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Hands:
    """Who steers: the controls' settings and what follows attitude and rates."""

    elevator: Samples
    """Setting, trailing edge down (n,) [rad]."""
    aileron: Samples
    """Setting, rolls right (n,) [rad]."""
    begin: Samples
    """When steering begins (n,) [s]; infinite for hands off."""
    bank_gain: Samples
    """Aileron per sine of the bank (n,) [rad]."""
    roll_gain: Samples
    """Aileron per roll rate (n,) [s]."""
    rudder_share: Samples
    """Rudder per aileron asked for: for a plane without ailerons (n,) [-]."""
    pitch_wanted: Samples
    """Sine of the nose's elevation that is held (n,) [-]."""
    pitch_gain: Samples
    """Elevator up per sine of the elevation missing (n,) [rad]; negative on a canard."""
    rate_gain: Samples
    """Elevator down per pitch rate (n,) [s]; negative on a canard."""
    elevator_up: Samples
    """Largest travel, trailing edge up (n,) [rad]."""
    elevator_down: Samples
    """Largest travel, trailing edge down (n,) [rad]."""
    aileron_limit: Samples
    """Largest travel (n,) [rad]."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Release:
    """The moment the plane leaves the hand."""

    height: Samples
    """Of the centre of gravity above the ground (n,) [m]."""
    speed: Samples
    """Over the ground (n,) [m s^-1]."""
    climb_angle: Samples
    """Of the path above the horizon (n,) [rad]."""
    incidence: Samples
    """Of the nose above the path (n,) [rad]."""
    bank: Samples
    """Right wing down (n,) [rad]."""
    sideslip: Samples
    """Nose to the left of the path (n,) [rad]."""
    roll_rate: Samples
    """(n,) [rad s^-1]."""
    pitch_rate: Samples
    """(n,) [rad s^-1]."""
    yaw_rate: Samples
    """(n,) [rad s^-1]."""
    head_wind: Samples
    """(n,) [m s^-1]."""
    cross_wind: Samples
    """Blowing to the right (n,) [m s^-1]."""
    down_wind: Samples
    """Blowing downwards: the gust of the moment (n,) [m s^-1]."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Throw:
    """Everything about n throws."""

    plane: LaunchPlane
    """The plane."""
    air: Derivatives
    """Its derivatives about the centre of gravity."""
    power: Power
    """The drive at the throttle set."""
    hands: Hands
    """Who steers."""
    release: Release
    """How it leaves the hand."""


def chosen(record: Record, kept: Flags) -> Record:
    """Return a record's samples of some flags.

    Parameters
    ----------
    record : Record
        Of n samples.
    kept : (n,) [-]
        Which of them.

    Returns
    -------
    Record [-]

    Source
    ------
    own-derivation
    """
    names = [field.name for field in dataclasses.fields(record)]
    return dataclasses.replace(record, **{name: getattr(record, name)[kept] for name in names})


def _narrowed(record: Record) -> Record:
    """Return a record in single precision: half the memory, and no verdict changes."""
    names = [field.name for field in dataclasses.fields(record)]
    return dataclasses.replace(
        record, **{name: getattr(record, name).astype(np.float32) for name in names}
    )


def joined(throws: "list[Throw]") -> Throw:
    """Return several batches of throws as one.

    Parameters
    ----------
    throws : Throw
        Each with its own number of samples.

    Returns
    -------
    Throw [-]

    Source
    ------
    own-derivation
    """

    def join(parts: list[Record]) -> Record:
        names = [field.name for field in dataclasses.fields(parts[0])]
        columns = {n: np.concatenate([getattr(part, n) for part in parts]) for n in names}
        return dataclasses.replace(parts[0], **columns)

    return Throw(
        plane=join([one.plane for one in throws]),
        air=join([one.air for one in throws]),
        power=join([one.power for one in throws]),
        hands=join([one.hands for one in throws]),
        release=join([one.release for one in throws]),
    )


def single(throw: Throw) -> Throw:
    """Return the throws in single precision.

    Parameters
    ----------
    throw : Throw
        n throws.

    Returns
    -------
    Throw [-]

    Source
    ------
    own-derivation
    """
    return Throw(
        plane=_narrowed(throw.plane),
        air=_narrowed(throw.air),
        power=_narrowed(throw.power),
        hands=_narrowed(throw.hands),
        release=_narrowed(throw.release),
    )


def some(throw: Throw, kept: Flags) -> Throw:
    """Return the throws of some flags.

    Parameters
    ----------
    throw : Throw
        n throws.
    kept : (n,) [-]
        Which of them.

    Returns
    -------
    Throw [-]

    Source
    ------
    own-derivation
    """
    return Throw(
        plane=chosen(throw.plane, kept),
        air=chosen(throw.air, kept),
        power=chosen(throw.power, kept),
        hands=chosen(throw.hands, kept),
        release=chosen(throw.release, kept),
    )
