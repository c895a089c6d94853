"""Why a swing may tell of another inertia than planned: named causes, weighed by the samples."""

import numpy as np

from foamwright.model.ensemble import Draws
from foamwright.model.inertia import AXES
from foamwright.model.suspects import AS_PLANNED, Suspect
from foamwright.physics.arrays import Samples
from foamwright.plane.bench_records import Swing


def swing_suspects(
    tensor: Samples, draws: Draws, record: Swing, reading: tuple[float, float]
) -> tuple[Suspect, ...]:
    """Return what may be behind a swing, likeliest first.

    `tensor` is the inertia of the mass list (n, 3, 3) [kg m^2], `reading` the swung inertia and
    its spread.
    """
    own = tensor[:, AXES[record.axis], AXES[record.axis]]
    told: dict[str, Samples] = {
        AS_PLANNED: own,
        "half swings were counted as whole ones": own / 4.0,
        "the distance was written from the middle, not from string to string": own / 4.0,
        "whole swings were counted twice over as two": own * 4.0,
        "something was read wrong": own * draws.factor(0.7, key="cause.swing", label="swing"),
    }
    for axis, place in AXES.items():
        if axis != record.axis:
            told[f"it hung about its {axis} axis"] = tensor[:, place, place]
    value, spread = reading
    logs = {name: np.log(values) for name, values in told.items()}
    return by_logs(logs, (float(np.log(value)), spread / value))


OFTEN = {
    AS_PLANNED: (0.70, ""),
    "half swings were counted as whole ones": (
        0.12,
        "count one each time it comes back to the same side, and time it again",
    ),
    "the distance was written from the middle, not from string to string": (
        0.05,
        "measure from string to string",
    ),
    "whole swings were counted twice over as two": (0.02, "count again"),
    "something was read wrong": (0.05, "time twenty swings again and measure both strings"),
}
"""How often each happens, and how to find out; common practice, no source."""

OTHER_AXIS = (0.03, "look which axis stood upright while it swung")
"""The same for each other axis."""


def by_logs(logs: dict[str, Samples], reading: tuple[float, float]) -> tuple[Suspect, ...]:
    """Return causes weighed by how well their samples, logarithms, foretell one reading."""
    value, spread = reading
    found: list[tuple[float, str, str]] = []
    for name, told in logs.items():
        often, check = OFTEN.get(name, OTHER_AXIS)
        wide = np.hypot(np.std(told), spread)
        likely = float(np.exp(-0.5 * ((value - np.mean(told)) / wide) ** 2) / wide)
        found.append((often * likely, name, check))
    total = sum(weight for weight, _, _ in found)
    suspects = [
        Suspect(name=name, probability=weight / total, check=check, against="", expected=None)
        for weight, name, check in found
    ]
    return tuple(sorted(suspects, key=lambda suspect: -suspect.probability))
