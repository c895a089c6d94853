"""Level flight at given speeds."""

import re
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from foamwright.jobs.ask import SCHEMA, Settings, figure_json, opened
from foamwright.problems import CallProblem, InputProblem
from foamwright.quantity import read
from foamwright.questions.answer import Figure
from foamwright.questions.chance import (
    ANGLE,
    CURRENT,
    FORCE,
    POWER,
    ROTATION,
    SHARE,
    figure,
)

RANGE = re.compile(r"^\s*(?P<low>.+?)\s+to\s+(?P<high>.+?)(?:\s+step\s+(?P<step>.+))?\s*$")
"""A range of speeds: `12 m/s to 30 m/s step 2 m/s`."""

DEFAULT_STEPS = 6
"""Steps of a range that names none."""

MOST_SPEEDS = 100
"""Speeds answered in one call."""


@dataclass(frozen=True, kw_only=True, slots=True)
class LevelRow:
    """Level flight at one speed."""

    speed: float
    """[m s^-1]."""
    figures: tuple[Figure, ...]
    """Throttle, current, power and the rest."""
    holds: float
    """Share of the samples that can hold this speed level."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Levelled:
    """Level flight at every speed asked for."""

    plane: str
    variant: str | None
    units: str
    rows: tuple[LevelRow, ...]
    assumed: tuple[str, ...]


def one_speed(text: str) -> float:
    """Return a written speed [m s^-1]."""
    try:
        speed = read(text, "speed").value
    except InputProblem as problem:
        raise CallProblem(f"--speed '{text}': {problem}") from problem
    if not 1.0 <= speed <= 150.0:
        raise CallProblem(f"--speed '{text}' is no speed of a foam plane", expected="1 to 150 m/s")
    return speed


def speeds_of(texts: tuple[str, ...]) -> tuple[float, ...]:
    """Return the speeds that some texts name, single or as ranges [m s^-1]."""
    found: list[float] = []
    for text in texts:
        match = RANGE.match(text)
        if match is None:
            found.append(one_speed(text))
            continue
        low, high = one_speed(match["low"]), one_speed(match["high"])
        if high <= low:
            raise CallProblem(f"--speed '{text}' runs backwards", expected="the slower speed first")
        step = (high - low) / DEFAULT_STEPS
        if match["step"]:
            step = read(match["step"], "speed").value
        if step <= 0 or (high - low) / step > MOST_SPEEDS:
            raise CallProblem(f"--speed '{text}' has too many steps", expected="a larger step")
        found += list(np.arange(low, high + 1e-9, step))
    if not found:
        raise CallProblem("no speed asked for", expected='for instance --speed "60 km/h"')
    if len(found) > MOST_SPEEDS:
        raise CallProblem(f"{len(found)} speeds are too many", expected=f"{MOST_SPEEDS} at most")
    return tuple(found)


def level(path: Path, speeds: tuple[str, ...], settings: Settings) -> Levelled:
    """Return level flight at the speeds, for all samples of the plane at a path."""
    wanted = speeds_of(speeds)
    loaded, case = opened(path, settings)
    if case.computed.drive_missing:
        lacking = ", ".join(case.computed.drive_missing)
        raise CallProblem("the drive is not complete", expected=f"add {lacking}")
    points = case.computed.level_points(np.asarray(wanted))
    rows = []
    for index, speed in enumerate(wanted):
        cannot = ~points.holds[:, index]

        def at(values: np.ndarray, index: int = index, cannot: np.ndarray = cannot) -> np.ndarray:
            return np.where(cannot, np.nan, values[:, index])

        rows.append(
            LevelRow(
                speed=float(speed),
                figures=(
                    figure("throttle", "throttle", at(points.throttle), SHARE, limits=(None, 1.0)),
                    figure("current", "current", at(points.current), CURRENT),
                    figure("power", "power from the pack", at(points.power), POWER),
                    figure("propeller_rpm", "propeller", at(points.revolutions), ROTATION),
                    figure("angle_of_attack", "angle of attack", at(points.angle_of_attack), ANGLE),
                    figure("thrust", "thrust", at(points.thrust), FORCE),
                    figure("efficiency", "pack to thrust power", at(points.efficiency), SHARE),
                ),
                holds=float(np.mean(points.holds[:, index])),
            )
        )
    return Levelled(
        plane=loaded.plane.name,
        variant=settings.variant,
        units=settings.units or loaded.plane.units,
        rows=tuple(rows),
        assumed=case.computed.drive_assumed,
    )


def as_json(levelled: Levelled) -> dict[str, object]:
    """Return level flight as the contract's JSON object."""
    return {
        "schema": SCHEMA,
        "rows": [
            {"speed": row.speed, "figures": [figure_json(figure) for figure in row.figures]}
            for row in levelled.rows
        ],
    }
