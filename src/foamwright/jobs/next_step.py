"""What to do next, from a plane's folder to a ranked list."""

import time
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from foamwright.jobs.ask import Settings, opened
from foamwright.search.next_step import NextStep, next_steps

SCHEMA = 1
"""Version of the JSON that `next` prints."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Next:
    """What is worth doing."""

    plane: str
    variant: str | None
    units: str
    currency: str
    steps: tuple[NextStep, ...]
    """Best first."""
    samples: int
    seed: int
    seconds: float


def next_of(path: Path, settings: Settings, step: Callable[[str], None] = lambda _: None) -> Next:
    """Return the next cheap steps for a plane; `step` is told what is being tried."""
    start = time.perf_counter()
    loaded, case = opened(path, settings)
    return Next(
        plane=loaded.plane.name,
        variant=settings.variant,
        units=settings.units or loaded.plane.units,
        currency=loaded.plane.currency,
        steps=next_steps(case, step),
        samples=settings.samples,
        seed=settings.seed,
        seconds=round(time.perf_counter() - start, 3),
    )


def as_json(found: Next) -> dict[str, object]:
    """Return the steps as the contract's JSON object."""
    return {
        "schema": SCHEMA,
        "steps": [
            {
                "do": step.do,
                "kind": step.kind,
                "minutes": step.minutes,
                "mass": step.mass,
                "price": step.price,
                "effect": [
                    {"question": e.question, "from": e.before, "to": e.after} for e in step.effect
                ],
                "worth": step.worth,
                "because": step.because,
            }
            for step in found.steps
        ],
    }
