"""Why a bench test may read other than planned: named causes, weighed by the samples.

Each cause is a change of the drive or of the reading with a spread of its own. All samples are sent
through the changed drive once more; how well they foretell all readings together is the cause's
likelihood. How often each happens, and how strong it is, is common practice, no source.
"""

import dataclasses
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from foamwright.model.computable import ComputablePlane
from foamwright.model.ensemble import Draws
from foamwright.model.evidence import OBSERVABLE, Observation
from foamwright.model.importance import Evidence, log_likelihood
from foamwright.model.performance import FULL
from foamwright.model.reading_error import compared, noise
from foamwright.model.suspects import AS_PLANNED, Suspect
from foamwright.physics.arrays import Samples
from foamwright.physics.drive.equilibrium import Drive, Operating, at_throttle
from foamwright.physics.numerics.normal import TENTH

FITS = 0.02
"""Chance of a reading as far off below which a cause is told as ruled out by it."""

REACHED = (0.5, 0.6, 0.7, 0.8, 0.9)
"""Duties that a speed controller may stop at whose end points were never taught."""

Readings = dict[str, Samples]
"""What the bench would read, by name of the observation (n,)."""

Tell = Callable[[ComputablePlane, Draws], Readings]


@dataclass(frozen=True, kw_only=True, slots=True)
class Cause:
    """One thing that may be behind a reading."""

    name: str
    """In the builder's words."""
    often: float
    """How often it happens before anything was read, relative to the others."""
    tell: Tell
    """What the bench would read with it."""
    check: str
    """How to find out."""


def readings(computed: ComputablePlane, state: Operating) -> Readings:
    """Return what the bench reads in a state of the drive."""
    factor = computed.complete_drive.current_factor
    return {
        "static_thrust": state.thrust[:, 0],
        "static_current": state.pack_current[:, 0] * factor,
        "static_voltage": state.pack_voltage[:, 0],
        "static_rotation_speed": state.revolutions[:, 0],
    }


def resolved(drive: Drive, throttle: float = 1.0, charge: float | Samples = FULL) -> Operating:
    """Return the state of a changed drive, standing still."""
    return at_throttle(drive, np.array([[0.0]]), throttle, charge)


def planned(computed: ComputablePlane, _: Draws) -> Readings:
    """Return the readings of the drive as planned."""
    return readings(computed, computed.bench_state)


def wrong_face(computed: ComputablePlane, draws: Draws) -> Readings:
    """Return the readings with a propeller whose face or hand is wrong.

    Its sections fly upside down or backwards: about half the thrust for nearly the same torque.
    """
    drive = computed.complete_drive.at_rest
    thrust = 0.5 * draws.factor(0.15, key="cause.face.thrust", label="face")
    power = 0.9 * draws.factor(0.15, key="cause.face.power", label="face")
    given = dataclasses.replace(
        drive.multipliers,
        thrust=drive.multipliers.thrust * thrust,
        power=drive.multipliers.power * power,
    )
    return readings(computed, resolved(dataclasses.replace(drive, multipliers=given)))


def weak_pack(computed: ComputablePlane, draws: Draws) -> Readings:
    """Return the readings with a pack that is worn out or was not full."""
    drive = computed.complete_drive.at_rest
    worn = 3.0 * draws.factor(0.4, key="cause.pack.worn", label="pack")
    left = np.clip(0.5 + 0.2 * draws.normal("cause.pack.left", "pack"), 0.1, 1.0)
    pack = dataclasses.replace(drive.pack, cell_resistance=drive.pack.cell_resistance * worn)
    return readings(computed, resolved(dataclasses.replace(drive, pack=pack), charge=left))


def too_near(computed: ComputablePlane, draws: Draws) -> Readings:
    """Return the readings with a table, wall or the scale itself in the propeller's wake."""
    found = planned(computed, draws)
    lost = 0.75 * draws.factor(0.15, key="cause.near.thrust", label="table")
    return {**found, "static_thrust": found["static_thrust"] * np.minimum(lost, 1.0)}


def not_full(computed: ComputablePlane, draws: Draws) -> Readings:
    """Return the readings with a speed controller that never reaches full throttle."""
    drive = computed.complete_drive.at_rest
    states = [readings(computed, resolved(drive, duty)) for duty in REACHED]
    which = np.floor(
        len(REACHED) * 0.999 * uniform(draws.normal("cause.throttle", "throttle"))
    ).astype(int)
    rows = np.arange(computed.samples)
    return {name: np.stack([state[name] for state in states])[which, rows] for name in states[0]}


def uniform(normals: Samples) -> Samples:
    """Return normals as numbers spread evenly from 0 to 1."""
    from scipy.special import ndtr  # noqa: PLC0415 - slow to import, only needed here

    return np.asarray(ndtr(normals), dtype=np.float64)


def other_motor(computed: ComputablePlane, draws: Draws) -> Readings:
    """Return the readings with a motor of quite another Kv than its label's."""
    drive = computed.complete_drive.at_rest
    factor = draws.factor(0.25, key="cause.kv", label="motor")
    kv = drive.motor.speed_constant * factor
    motor = dataclasses.replace(drive.motor, speed_constant=kv)
    return readings(computed, resolved(dataclasses.replace(drive, motor=motor)))


def scaled(name: str, ln_spread: float) -> Tell:
    """Return what reads one thing wrong by a factor and leaves all others alone."""

    def tell(computed: ComputablePlane, draws: Draws) -> Readings:
        found = planned(computed, draws)
        factor = draws.factor(ln_spread, key=f"cause.scaled.{name}", label=name)
        return {**found, name: found[name] * factor}

    return tell


STATIC_CAUSES: tuple[Cause, ...] = (
    Cause(name=AS_PLANNED, often=0.60, tell=planned, check=""),
    Cause(
        name="the propeller's face or hand is wrong",
        often=0.10,
        tell=wrong_face,
        check="pack unplugged, look whether the printed side faces the way the plane flies and "
        "the motor turns the way the propeller is made for",
    ),
    Cause(
        name="the throttle never reaches full",
        often=0.10,
        tell=not_full,
        check="propeller off, teach the speed controller its end points, or read the rpm",
    ),
    Cause(
        name="the pack is weak or was not full",
        often=0.08,
        tell=weak_pack,
        check="charge it full, read the volts under load and the charger's resistance",
    ),
    Cause(
        name="a table or wall is too near",
        often=0.06,
        tell=too_near,
        check="three diameters of free air before and behind the propeller, then read again",
    ),
    Cause(
        name="the scale or its lever reads wrong",
        often=0.03,
        tell=scaled("static_thrust", 0.5),
        check="hang a known weight on the same lever",
    ),
    Cause(
        name="the amps are read wrong",
        often=0.02,
        tell=scaled("static_current", 0.5),
        check="compare with what the charger puts back after a timed run",
    ),
    Cause(
        name="the motor has another Kv than its label",
        often=0.01,
        tell=other_motor,
        check="propeller off, read rpm and volts at full throttle",
    ),
)
"""What may be behind a static test."""


def weighed_up(
    told: Mapping[str, Readings],
    seen: Sequence[Observation],
    causes: Sequence[Cause],
) -> tuple[Suspect, ...]:
    """Return the causes with their chances after the readings, likeliest first."""
    evidence = Evidence(
        value=np.array([float(compared(np.array([one.value]), one)[0]) for one in seen]),
        noise=noise(tuple(seen)),
    )
    used = np.ones(len(seen), dtype=bool)
    logs = []
    for cause in causes:
        table = np.stack([compared(told[cause.name][one.name], one) for one in seen], axis=1)
        likely = log_likelihood(table, evidence, used)
        top = float(likely.max())
        logs.append(np.log(cause.often) + top + np.log(np.mean(np.exp(likely - top))))
    chances = np.exp(np.array(logs) - max(logs))
    chances /= chances.sum()
    found = []
    for cause, chance in zip(causes, chances, strict=True):
        name, band = against(told[cause.name], seen)
        found.append(
            Suspect(
                name=cause.name,
                probability=float(chance),
                check=cause.check,
                against=name,
                expected=band,
            )
        )
    return tuple(sorted(found, key=lambda suspect: -suspect.probability))


def against(told: Readings, seen: Sequence[Observation]) -> tuple[str, tuple[float, float] | None]:
    """Return the reading that fits worst, and where eight in ten of it would lie; if any does."""
    worst: tuple[float, str, tuple[float, float] | None] = (FITS, "", None)
    for one in seen:
        values = compared(told[one.name], one)
        error = float(np.sqrt(noise((one,))[0, 0]))
        middle, spread = float(np.nanmean(values)), float(np.hypot(np.nanstd(values), error))
        value = float(compared(np.array([one.value]), one)[0])
        chance = float(2.0 * uniform(np.array([-abs(value - middle) / spread]))[0])
        if chance < worst[0]:
            ends = (middle - TENTH * spread, middle + TENTH * spread)
            if OBSERVABLE[one.name].relative:
                ends = (float(np.exp(ends[0])), float(np.exp(ends[1])))
            worst = (chance, one.name, ends)
    return worst[1], worst[2]


def static_suspects(computed: ComputablePlane, seen: Sequence[Observation]) -> tuple[Suspect, ...]:
    """Return what may be behind the readings of a static test, likeliest first.

    `computed` is the plane before the test taught anything.
    """
    draws = computed.draws.branched()
    told = {cause.name: cause.tell(computed, draws) for cause in STATIC_CAUSES}
    return weighed_up(told, seen, STATIC_CAUSES)
