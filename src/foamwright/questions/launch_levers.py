"""What would help a launch: every lever flown anew, all of them as one batch."""

import dataclasses
from dataclasses import dataclass

import numpy as np

from foamwright.model.launch import Launch, all_flown
from foamwright.model.launch_inputs import is_pusher
from foamwright.model.launch_setup import LaunchSetup, lighter, throw_of
from foamwright.model.launch_stages import setup_of
from foamwright.physics.flight.launch import Flown
from foamwright.physics.flight.launch_plane import Throw
from foamwright.problems import InputProblem
from foamwright.quantity import show
from foamwright.questions import exchange
from foamwright.questions.answer import Effect, Remedy
from foamwright.questions.case import Case, Measured
from foamwright.questions.chance import DISTANCE, chance, figure
from foamwright.questions.remedies import LEAST_GAIN, Change, effect

BREEZE = 3.0
"""Head wind a thrower can wait for [m s^-1]."""

RUN = 2.5
"""What a few steps add to a throw [m s^-1]; common practice."""

MORE_TRIM = float(np.deg2rad(2.0))
"""Up-trim usual for a first throw [rad]; common practice."""

MASS_STEP, MASS_SHARE = 0.005, 0.15
"""Mass taken out: a share of the plane, in steps [kg]."""

MORE_THRUST = 1.35
"""Thrust and torque of a stronger drive over this one's [-]."""

SHOWN = "launch_height"
"""Figure told beside the chance."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Lever:
    """One thing to try, ready to be flown."""

    do: str
    """What to do."""
    throw: Throw
    """All samples with it."""
    holds: np.ndarray
    """Whether the hook bears it (n,)."""


def changes(case: Case, launch: Launch) -> list[Change]:
    """Return the levers that are keys of the plane file."""
    found, units = [*throwing(case), *setting(case, launch)], case.plane.units
    wind = 0.0 if case.plane.site.wind is None else case.plane.site.wind.value
    if wind < BREEZE:
        words = show(BREEZE, "speed", units)
        found.append(
            Change(
                do=f"Wait for {words} of wind and throw straight into it",
                keys={"site.wind": f"{BREEZE} ± 0.5 m/s"},
            )
        )
    found += exchange.other_packs(case, smaller=True)
    if case.computed.drive is not None:
        found += exchange.other_propellers(case, ((0.5, 0.0), (1.0, -0.5)))
    return found


def throwing(case: Case) -> list[Change]:
    """Return what the thrower can do: run, steer, trim."""
    thrower, units = case.plane.thrower, case.plane.units
    found = []
    if case.plane.bungee is None:
        speed = float(np.median(case.computed.launch_inputs.speed)) + RUN
        spread = thrower.speed.spread if thrower.speed and thrower.speed.spread else 1.0
        keys: dict[str, object] = {"thrower.speed": f"{speed:.2f} ± {spread:.2f} m/s"}
        found.append(Change(do=f"Throw on the run, at {show(speed, 'speed', units)}", keys=keys))
    if thrower.steers != "stabiliser":
        found.append(
            Change(
                do="Let a stabiliser hold it from the first moment",
                keys={"thrower.steers": "stabiliser"},
            )
        )
    if case.computed.launch_setup.travel.pitches:
        trim = MORE_TRIM + (0.0 if thrower.up_trim is None else thrower.up_trim.value)
        degrees = float(np.rad2deg(trim))
        found.append(
            Change(
                do=f"Trim {show(trim, 'angle', units)} up for the throw",
                keys={"thrower.up_trim": f"{degrees:.2f} deg"},
            )
        )
    return found


def setting(case: Case, launch: Launch) -> list[Change]:
    """Return what can be set: throttle, angle, how the motor starts."""
    thrower, units, found = case.plane.thrower, case.plane.units, []
    angle = float(np.rad2deg(launch.map.best_angle))
    if thrower.angle is not None:
        spread = 4.0 if thrower.angle.spread is None else np.rad2deg(thrower.angle.spread)
        keys: dict[str, object] = {"thrower.angle": f"{angle:.1f} ± {spread:.2f} deg"}
        words = f"Throw {show(launch.map.best_angle, 'angle', units)} upwards"
        found.append(Change(do=words, keys=keys))
    if case.computed.drive is None:
        return found
    if thrower.throttle is not None:
        best = launch.map.best_throttle
        words = f"Set {show(best, 'fraction', units)} of the throttle for the throw"
        found.append(Change(do=words, keys={"thrower.throttle": f"{100 * best:.0f} %"}))
    if is_pusher(case.plane, case.computed.masses.centre[:, 0]):
        words = "Set the speed controller to start at once, in 0.05 s"
        found.append(Change(do=words, keys={"thrower.ramp": "0.05 s"}))
    else:
        keys = {"thrower.delay": "0.2 ± 0.1 s", "thrower.ramp": "0.6 ± 0.1 s"}
        words = "Throw with the motor off and open the throttle slowly, within 0.8 s"
        found.append(Change(do=words, keys=keys))
    return found


def bearing(case: Case, setup: LaunchSetup) -> np.ndarray:
    """Return whether the hook bears the pull (n,); always so where a hand throws."""
    hook = case.computed.launch.hook
    return np.ones(setup.samples, dtype=bool) if hook is None else hook[1]


def lever_of(case: Case, base: Case, change: Change) -> Lever:
    """Return a changed plane ready to be flown, set as the plane it comes from."""
    launch, thrower = base.computed.launch, case.plane.thrower
    throttle = launch.throttle if thrower.throttle is None else thrower.throttle.value
    angle = None if thrower.angle is not None else launch.angle
    setup = setup_of(case.computed, throttle)
    return Lever(
        do=change.do,
        throw=throw_of(setup, thrower.steers or launch.steers, throttle=throttle, angle=angle),
        holds=bearing(base, setup),
    )


def beyond_the_file(case: Case) -> list[Lever]:
    """Return the levers that no key of the plane file tells: less mass, more thrust."""
    launch, setup = case.computed.launch, case.computed.launch_setup
    mass = float(np.median(setup.plane.mass))
    less = MASS_STEP * max(round(MASS_SHARE * mass / MASS_STEP), 1)
    grams = show(less, "mass", case.plane.units)
    altered = [(f"Take {grams} out of it, wherever they are", lighter(setup, less))]
    if case.computed.drive is not None:
        thrust = float(np.median(throw_thrust(setup, launch.throttle)))
        words = show(MORE_THRUST * thrust, "pull", case.plane.units)
        stronger = dataclasses.replace(setup, thrust_factor=MORE_THRUST)
        altered.append((f"Fit a drive that pulls {words} standing still", stronger))
    return [
        Lever(
            do=do,
            throw=throw_of(one, launch.steers, throttle=launch.throttle, angle=launch.angle),
            holds=bearing(case, setup),
        )
        for do, one in altered
    ]


def throw_thrust(setup: LaunchSetup, throttle: float) -> np.ndarray:
    """Return the thrust standing still (n,) [N]."""
    return throw_of(setup, "hands off", throttle=throttle).power.thrust_constant


def with_it(before: Measured, lever: Lever, result: Flown) -> Measured:
    """Return what is measured with a lever: the chance and the height told beside it."""
    shown = before.named(SHOWN)
    height = np.maximum(result.height, 0.0)
    return dataclasses.replace(
        before,
        probability=chance(result.clean & lever.holds),
        figures=(figure(shown.name, shown.label, height, DISTANCE),),
    )


def levers(case: Case, before: Measured) -> tuple[Remedy, ...]:
    """Return every lever that helps, best first, each flown with the same luck.

    A change the plane file would refuse is no lever, nor one that gains less than two points.
    """
    if before.probability is None or before.probability > 1.0 - LEAST_GAIN:
        return ()
    ready = beyond_the_file(case)
    for change in changes(case, case.computed.launch):
        try:
            ready.append(lever_of(case.changed(change.keys), case, change))
        except InputProblem:
            continue
    results = all_flown([lever.throw for lever in ready])
    found: list[tuple[float, Remedy]] = []
    for lever, result in zip(ready, results, strict=True):
        after = with_it(before, lever, result)
        gain = (after.probability or 0.0) - before.probability
        if gain >= LEAST_GAIN:
            effects: tuple[Effect, ...] = effect(before, after, (SHOWN,))
            found.append((gain, Remedy(do=lever.do, effect=effects)))
    found.sort(key=lambda entry: -entry[0])
    return tuple(remedy for _, remedy in found)
