"""Will it leave the hand?"""

import dataclasses

import numpy as np

from foamwright.model.launch import Launch
from foamwright.model.launch_inputs import is_pusher
from foamwright.model.launch_stages import has_motor, launch_assumed
from foamwright.physics.flight.launch import HORIZON
from foamwright.quantity import show
from foamwright.questions.answer import Answer, Figure
from foamwright.questions.case import Case, Measured, carried_by
from foamwright.questions.chance import (
    ANGLE,
    DISTANCE,
    NUMBER,
    SHARE,
    SPEED,
    chance,
    figure,
    verdict,
)
from foamwright.questions.launch_levers import levers
from foamwright.questions.remedies import MOST

ID = "launch"
ASKS = "Will it leave the hand?"

WORDS = {
    "hands off": ("chance_hands_off", "chance with hands off"),
    "pilot": ("chance_pilot", "chance with a pilot's thumbs"),
    "stabiliser": ("chance_stabiliser", "chance with a stabiliser on"),
}
"""Figure and label of the chance by who steers."""

CAUTIONS = (
    (
        "The propeller cuts: hold the plane where neither hand nor sleeve can meet it, arm it "
        "last, and throw with nobody in front or beside you, where local rules allow it."
    ),
    "Before the first throw check that every control moves the right way, the stabiliser too.",
)

PUSHER = (
    "The propeller passes the hand: throw first, open the throttle when the plane is clear of it."
)

BUNGEE = (
    "A stretched rubber is a loaded weapon: nobody stands in its line or behind the stake, eyes "
    "are protected, the motor starts only when the line has dropped off."
)


def one(name: str, label: str, value: float, unit: tuple[str, str]) -> Figure:
    """Return a figure that is the same for all samples."""
    return figure(name, label, np.array([value]), unit)


def chances(launch: Launch) -> list[Figure]:
    """Return the chance of a clean launch: as it is thrown, and by who steers."""
    found = [one("launch_probability", "chance of a clean launch", chance(launch.clean), SHARE)]
    for who, result in launch.flown.items():
        clean = result.clean if launch.hook is None else result.clean & launch.hook[1]
        name, label = WORDS[who]
        found.append(one(name, label, chance(clean), SHARE))
    return found


def settings(case: Case, launch: Launch) -> list[Figure]:
    """Return the best throttle and angle, and what holds the torque."""
    found = [one("launch_angle", "best angle of the throw", launch.map.best_angle, ANGLE)]
    if case.computed.drive is not None:
        best = launch.map.best_throttle
        found.insert(0, one("launch_throttle", "best throttle for it", best, SHARE))
    if case.computed.drive is not None and case.computed.launch_setup.travel.rolls:
        label = "aileron that holds the torque"
        found.append(figure("torque_aileron", label, launch.torque_aileron, ANGLE))
    return found


def course(case: Case, launch: Launch) -> list[Figure]:
    """Return speeds, heights and bank of the flight after the hand."""
    flight = launch.flown[launch.steers]
    stall = launch.release_speed / case.computed.stall_speed
    found = [
        figure("release_speed", "through the air at the release", launch.release_speed, SPEED),
        figure("release_over_stall", "release over stall speed", stall, NUMBER),
        figure("least_height", "least height of the lower wing tip", flight.clearance, DISTANCE),
        figure("launch_height", "height after 3 s", np.maximum(flight.height, 0.0), DISTANCE),
        figure("most_bank", "most bank", flight.bank, ANGLE),
    ]
    if launch.hook is not None:
        pulled = launch.hook[0] / 9.80665
        found.append(figure("bungee_load", "pull of the rubber in g", pulled, NUMBER))
    return found


def unanswered(case: Case) -> Measured | None:
    """Return what is missing of the drive; none where nothing is."""
    lacking = case.computed.drive_missing if has_motor(case.plane) else ()
    nothing = np.full(case.computed.samples, np.nan)
    return (
        Measured(figures=(), probability=None, deciding=nothing, missing=lacking)
        if lacking
        else None
    )


def stands(case: Case) -> Measured:
    """Return for which samples it is clean and nothing else: a third of the throws."""
    if (found := unanswered(case)) is not None:
        return found
    clean = case.computed.launch_clean
    return Measured(
        figures=(), probability=chance(clean), holds=clean, deciding=clean.astype(float)
    )


def measure(case: Case) -> Measured:
    """Return the chance of a clean launch and what belongs to it."""
    if (found := unanswered(case)) is not None:
        return found
    launch = case.computed.launch
    flight = launch.flown[launch.steers]
    return Measured(
        figures=(*chances(launch), *settings(case, launch), *course(case, launch)),
        probability=chance(launch.clean),
        holds=launch.clean,
        deciding=flight.clearance,
        decides="least_height",
        assumed=(
            *case.computed.masses.assumed,
            *case.computed.drive_assumed,
            *launch_assumed(case.computed),
            *set_by_itself(case, launch),
        ),
    )


def set_by_itself(case: Case, launch: Launch) -> tuple[str, ...]:
    """Return what was chosen where the builder wrote nothing."""
    thrower, said, units = case.plane.thrower, [], case.plane.units
    if thrower.throttle is None and case.computed.drive is not None:
        said.append(f"thrown at {show(launch.throttle, 'fraction', units)} of the throttle")
    if launch.angle is not None:
        said.append(f"thrown {show(launch.angle, 'angle', units)} upwards")
    return tuple(said)


def because(case: Case, launch: Launch) -> str:
    """Return what decides: speed over stall, torque, or who steers."""
    units = case.plane.units
    ratio = float(np.median(launch.release_speed / case.computed.stall_speed))
    stall = float(np.median(case.computed.stall_speed))
    speed = show(float(np.median(launch.release_speed)), "speed", units)
    text = (
        f"It meets the air at {speed}, {ratio:.2f} times its stall speed of "
        f"{show(stall, 'speed', units)}; "
    )
    flight = launch.flown[launch.steers]
    touched = chance(flight.clearance <= 0.0)
    rolled = chance(~flight.clean & (flight.clearance > 0.0))
    text += f"{touched:.0%} touch the ground and {rolled:.0%} roll, loop or sink beyond saving."
    hands_off, steered = (launch.flown[who].clean for who in ("hands off", launch.steers))
    if case.computed.drive is not None and chance(steered) > chance(hands_off) + 0.15:
        text += (
            f" With hands off only {chance(hands_off):.0%} get away: steer from the first moment."
        )
    if launch.hook is not None and not launch.hook[1].all():
        text += f" The hook fails or veers off in {chance(~launch.hook[1]):.0%}."
    return text


def cautions(case: Case) -> tuple[str, ...]:
    """Return the cautions that go with this plane."""
    found = list(CAUTIONS if has_motor(case.plane) else CAUTIONS[1:])
    if is_pusher(case.plane, case.computed.masses.centre[:, 0]):
        found.insert(1, PUSHER)
    if case.plane.bungee is not None:
        found.insert(0, BUNGEE)
    return tuple(found)


def graded(case: Case, measured: Measured) -> Measured:
    """Return the same with lost launches told apart by how long they lasted.

    All that touched have no height left, so their least height alone tells nothing of the cause.
    """
    flight = case.computed.launch.flown[case.computed.launch.steers]
    short = np.where(flight.clean, 0.0, HORIZON - flight.time)
    return dataclasses.replace(measured, deciding=measured.deciding - short)


def answer(case: Case) -> Answer:
    """Return the answer."""
    measured = measure(case)
    told = bool(measured.figures)
    return Answer(
        question=ID,
        asks=ASKS,
        verdict=verdict(measured.probability),
        probability=measured.probability,
        figures=measured.figures,
        because=because(case, case.computed.launch) if told else "The drive is not complete.",
        missing=measured.missing,
        assumed=measured.assumed,
        carried_by=carried_by(case, graded(case, measured)) if told else (),
        remedies=levers(case, measured)[:MOST] if told else (),
        cautions=cautions(case),
        provisional=bool(case.computed.masses.estimated) or case.computed.drive_provisional,
    )
