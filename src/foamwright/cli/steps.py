"""The next steps, for a terminal."""

from rich.console import RenderableType
from rich.text import Text

from foamwright.cli.screen import QUIET, Heading, Odds, Screen, per_cent
from foamwright.jobs.next_step import Next
from foamwright.quantity import show
from foamwright.search.next_step import NextStep

MOST = 6
"""Steps shown unless all are asked for."""


def asks_for(step: NextStep, screen: Screen) -> str:
    """Return what a step takes: minutes, mass, money."""
    told = [f"{step.minutes:.0f} min"]
    if abs(step.mass) >= 0.5e-3:
        told.append(
            f"{step.mass * 1e3:+.0f} g"
            if screen.units == "metric"
            else show(step.mass, "mass", screen.units)
        )
    if step.price >= 0.005:
        told.append(show(step.price, "money", screen.units, screen.currency))
    return ", ".join(told)


def block(screen: Screen, number: int, step: NextStep) -> list[RenderableType]:
    """Return one step: what to do, what it takes, what it does."""
    head = Text(f"{number}. {step.do}", "bold")
    head.append(f"  {step.kind}, {asks_for(step, screen)}", QUIET)
    moved = "   ".join(
        f"{e.question} {per_cent(e.before)} → {per_cent(e.after)}" for e in step.effect[:4]
    )
    lines: list[RenderableType] = [head]
    if moved:
        lines.append(screen.indented(Text(moved)))
    if step.kind == "test":
        lines[-1] = screen.indented(Text(f"decided rightly: {moved}")) if moved else lines[-1]
        lines.append(screen.indented(Text(step.because, QUIET)))
    return lines


def few(steps: tuple[NextStep, ...]) -> tuple[NextStep, ...]:
    """Return the best few steps, the best test among them."""
    best = steps[:MOST]
    tests = [step for step in steps if step.kind == "test"]
    if not tests or tests[0] in best:
        return best
    return (*best[: MOST - 1], tests[0])


def page(screen: Screen, found: Next, *, whole: bool) -> str:
    """Return the steps as a page."""
    heading = Heading(plane=found.plane, variant=found.variant, seconds=found.seconds)
    odds = Odds(samples=found.samples, seed=found.seed)
    parts: list[RenderableType] = [screen.head(heading)]
    steps = found.steps if whole else few(found.steps)
    for number, step in enumerate(steps, 1):
        parts += [Text(), *block(screen, number, step)]
    if not steps:
        parts += [Text(), Text("Nothing known here would better your odds for so little effort.")]
    if len(found.steps) > len(steps):
        parts += [Text(), Text(f"{len(found.steps) - len(steps)} more with --all.", QUIET)]
    parts += [Text(), *screen.foot(heading, odds, (), "")]
    return screen.set_out(parts)
