"""What servos hold, how fast the plane turns, and what its stabiliser bears, one value a sample."""

from dataclasses import dataclass

import numpy as np

from foamwright.model.ensemble import Draws
from foamwright.model.linkages import Hinged, hinged_of, linkage_inputs, sharing
from foamwright.physics.arrays import Samples
from foamwright.physics.flight.derivatives import Derivatives
from foamwright.physics.flight.plants import pitch_plant, yaw_plant
from foamwright.physics.gear.linkage import (
    driven,
    edge_play,
    servo_angle,
    travel_left,
)
from foamwright.physics.gear.servo import LOADED_SPEED, held_moment, time_for
from foamwright.physics.lift.hinge import (
    REAL_OVER_THIN,
    hinge_coefficient,
    hinge_moment,
    speed_held,
)
from foamwright.plane.plane import Plane

HINGE_INPUT = ("model.hinge_moment", "hinge moments")
LOAD_INPUT = ("model.servo_load", "speed of servos under load")

FURTHEST_TURN = float(np.radians(60.0))
"""Turn of a servo's arm to one side that it can be asked for [rad]; common practice."""

MIXED = ("elevon", "ruddervator")
"""Roles that take two commands."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Held:
    """One surface at full throw and top speed; all (n,)."""

    hinged: Hinged
    """The surface."""
    moment: Samples
    """About the hinge, all panels on one piece of the servo [N m]."""
    torque_margin: Samples
    """What is held in daily use over what is needed [-]; nothing where the arm cannot reach."""
    fastest: Samples
    """Speed up to which full throw is held [m s^-1]."""
    rod_margin: Samples
    """Buckling load over the rod's push [-]."""
    slop: Samples
    """Free play of the trailing edge, end to end [m]."""
    time: Samples
    """From neutral to full throw under load [s]."""
    turn: Samples
    """Largest turn of the servo's arm [rad]."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Turning:
    """How fast the plane turns at one speed; all (n,); not a number where nothing does it."""

    speed: float
    """[m s^-1]."""
    roll_rate: Samples
    """With full throw [rad s^-1]."""
    pitch_rate: Samples
    """Per angle of the elevator [s^-1]."""
    yaw_rate: Samples
    """Per angle of the rudder, wings held level [s^-1]."""
    adverse_yaw: Samples
    """Sideslip that full roll throw ends in, nose left behind positive [rad]."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Air:
    """What loads the surfaces."""

    density: Samples
    """(n,) [kg m^-3]."""
    weight: Samples
    """(n,) [N]."""
    speed: Samples
    """Top speed (n,) [m s^-1]."""


def control_inputs(plane: Plane) -> tuple[tuple[str, str], ...]:
    """Return every input that control draws, with its label."""
    return (HINGE_INPUT, LOAD_INPUT, *linkage_inputs(plane))


def loads(hinged: Hinged, air: Air, alpha: Samples) -> Samples:
    """Return the larger hinge moment of the two full throws, one panel, thin-aerofoil (n,)."""
    pressure = 0.5 * air.density * air.speed**2
    angle = alpha if hinged.lifting else np.zeros_like(alpha)
    fraction = np.array([hinged.fraction])
    found = [
        hinge_moment(
            hinge_coefficient(fraction, angle, np.full_like(alpha, throw)),
            pressure,
            np.array([hinged.square_chord]),
            np.array([hinged.length]),
        )
        for throw in (hinged.down, -hinged.up)
    ]
    return np.asarray(np.max(np.abs(found), axis=0))


def held_of(plane: Plane, draws: Draws, derivatives: Derivatives, air: Air) -> tuple[Held, ...]:
    """Return every surface at full throw and top speed."""
    hinged = hinged_of(plane, draws)
    real = REAL_OVER_THIN[0] * draws.factor(
        REAL_OVER_THIN[1], key=HINGE_INPUT[0], label=HINGE_INPUT[1]
    )
    loaded = np.clip(draws.around(*LOADED_SPEED, key=LOAD_INPUT[0], label=LOAD_INPUT[1]), 0.3, 1.0)
    pressure = 0.5 * air.density * air.speed**2
    alpha = air.weight / (pressure * derivatives.area * derivatives.CLa)
    moments = {h.key: real * loads(h, air, alpha) * h.panels for h in hinged}
    together = sharing(plane, hinged)
    return tuple(
        _held(
            h,
            moments[h.key],
            np.sum([moments[o.key] for o in together[h.key]], axis=0),
            speed=air.speed,
            loaded=loaded,
        )
        for h in hinged
    )


def _held(hinged: Hinged, own: Samples, whole: Samples, *, speed: Samples, loaded: Samples) -> Held:
    """Return one surface; `own` moment strains its rod, the `whole` its servo."""
    one = np.ones_like(own)
    ends = [servo_angle(hinged.linkage, one * throw) for throw in (hinged.up, -hinged.down)]
    turn = np.max([np.abs(end.angle) for end in ends], axis=0)
    reaches = np.isfinite(turn) & (turn <= FURTHEST_TURN)
    # The worse end counts for the servo, whichever end loads the hinge more.
    ratio = np.min([np.abs(end.ratio) for end in ends], axis=0)
    held = np.where(reaches, held_moment(hinged.torque, ratio), 0.0)
    levers = [driven(hinged.linkage, end.angle).lever for end in ends]
    push = own / np.maximum(np.min(np.abs(levers), axis=0), 1e-6)
    return Held(
        hinged=hinged,
        moment=whole,
        torque_margin=held / np.maximum(whole, 1e-9),
        fastest=speed_held(held, whole, speed),
        rod_margin=np.where(reaches, hinged.buckles / np.maximum(push, 1e-9), 0.0),
        slop=edge_play(hinged.linkage, hinged.slop, hinged.play, one * hinged.edge),
        time=time_for(turn, hinged.sixty, loaded),
        turn=turn,
    )


def roll_throw(hinged: tuple[Hinged, ...]) -> float:
    """Return the full throw in roll [rad]: the mean of up and down; nothing where nothing rolls."""
    found = [0.5 * (h.up + h.down) for h in hinged if h.role in ("aileron", "elevon")]
    return max(found, default=0.0)


def second_left(hinged: tuple[Hinged, ...], first: Samples) -> Samples | None:
    """Return the share of roll (elevons) or yaw (V-tail) left while pitch takes `first` (n,) [rad].

    None where no surface takes two commands.
    """
    shares = [
        travel_left(np.full_like(first, h.up), first, np.full_like(first, h.up))
        for h in hinged
        if h.role in MIXED
    ]
    return np.min(shares, axis=0) if shares else None


def turning_of(
    derivatives: Derivatives,
    throw: float,
    *,
    mass: Samples,
    inertia: Samples,
    density: Samples,
    speed: float,
) -> Turning:
    """Return how fast the plane turns in steady motion at a speed [m s^-1]."""
    d, one = derivatives, np.array([speed])
    lift = mass * 9.80665 / (0.5 * density * speed**2 * d.area)
    helix = -np.abs(d.Clda) * throw / d.Clp
    roll = np.where(helix == 0.0, np.nan, helix * 2.0 * speed / d.span)
    pitch = pitch_plant(d, mass, inertia[:, 1, 1], density=density, speed=one)
    yaw = yaw_plant(d, mass, inertia[:, 2, 2], density=density, speed=one)
    moment = (d.Cnda + d.Cnda_CL * lift) * throw + (d.Cnp + d.Cnp_CL * lift) * helix
    slip = np.where(d.Cnb > 1e-4, -moment / np.maximum(d.Cnb, 1e-4), np.nan)

    def steady(b0: Samples, a0: Samples) -> Samples:
        settles = (a0 > 0.0) & (b0 != 0.0)
        return np.where(settles, np.abs(b0) / np.where(settles, a0, 1.0), np.nan)[:, 0]

    return Turning(
        speed=speed,
        roll_rate=roll,
        pitch_rate=steady(pitch.b0, pitch.a0),
        yaw_rate=steady(yaw.b0, yaw.a0),
        adverse_yaw=slip if throw > 0.0 else np.full_like(slip, np.nan),
    )
