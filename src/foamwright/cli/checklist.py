"""The build order, for a terminal."""

from pathlib import Path

from rich.console import RenderableType
from rich.table import Table
from rich.text import Text

from foamwright.cli.as_typed import as_typed
from foamwright.cli.screen import MARKS, QUIET, Screen, per_cent
from foamwright.jobs.order import Done, Hold, Order, OrderedStep, State, objections

WORDS: dict[State, str] = {"done": "done", "ready": "ready", "held": "held", "waiting": "later"}
"""How a step stands: done, ready to do, held by a question, or after other steps."""


def hold_words(screen: Screen, hold: Hold) -> str:
    """Return how one question stands."""
    chance = "" if hold.probability is None else f" {per_cent(hold.probability)}"
    sign, letters, _ = MARKS[hold.verdict]
    return f"{sign if screen.signs else letters} {hold.question} {hold.verdict}{chance}"


def under(screen: Screen, ordered: OrderedStep) -> list[Text]:
    """Return the small lines under a step: what it waits for, how its questions stand."""
    lines = []
    if ordered.record is not None:
        told = [ordered.record.date, ordered.record.note]
        if ordered.record.anyway:
            told.append(f"done anyway: {ordered.record.reason}")
        words = ", ".join(word for word in told if word)
        return [Text(words, QUIET)] if words else []
    if ordered.holds:
        lines.append(
            Text("needs " + "   ".join(hold_words(screen, hold) for hold in ordered.holds))
        )
    if ordered.state == "waiting":
        lines.append(Text(f"after {', '.join(ordered.lacks)}", QUIET))
    elif ordered.step.why:
        lines.append(Text(ordered.step.why, QUIET))
    if ordered.state in ("ready", "held"):
        lines += [Text(f"Mind: {caution}") for caution in ordered.step.cautions]
    return lines


def block(screen: Screen, steps: list[OrderedStep]) -> RenderableType:
    """Return the steps of one phase."""
    grid = Table.grid(padding=(0, 1))
    grid.add_column(no_wrap=True)
    grid.add_column()
    for ordered in steps:
        strong = "bold" if ordered.state in ("ready", "held") else ""
        told = Text(ordered.step.do, strong)
        if ordered.step.irreversible:
            told.append("  cannot be undone", "italic")
        told.append(f"  ({ordered.step.id})", QUIET)
        cell = Table.grid()
        cell.add_row(told)
        for line in under(screen, ordered):
            cell.add_row(line)
        grid.add_row(Text(WORDS[ordered.state], QUIET), cell)
    return grid


def page(screen: Screen, order: Order, path: Path) -> str:
    """Return the whole order as a page, a block a phase."""
    count = sum(ordered.state == "done" for ordered in order.steps)
    variant = f", variant {order.variant}" if order.variant else ""
    parts: list[RenderableType] = [
        Text(f"{order.plane}{variant}: {count} of {len(order.steps)} steps done", "bold"),
        Text("held: a question stands against it   later: other steps come first", QUIET),
    ]
    for phase in dict.fromkeys(ordered.step.phase for ordered in order.steps):
        steps = [ordered for ordered in order.steps if ordered.step.phase == phase]
        parts += [Text(), Text(phase, "bold underline"), block(screen, steps)]
    if order.not_asked:
        names = ", ".join(order.not_asked)
        parts += [Text(), Text(f"Not answered yet, so left to your own judgement: {names}.")]
    first = next((o.step.id for o in order.steps if o.state in ("ready", "held")), None)
    if first is not None:
        parts += [
            Text(),
            Text(f"When it is done:  foamwright order {as_typed(path)} --done {first}"),
        ]
    return screen.set_out(parts)


def recorded(screen: Screen, done: Done) -> str:
    """Return what was recorded and what comes next."""
    words = f"Recorded {done.record.step} in {done.file.name}."
    if done.record.anyway:
        words += f" It was done anyway: {done.record.reason}."
    parts: list[RenderableType] = [Text(words)]
    parts += [Text(f"Mind: {warning}.") for warning in done.warnings]
    ready = [o for o in done.order.steps if o.state == "ready"]
    held = [o for o in done.order.steps if o.state == "held"]
    if ready:
        parts.append(Text(f"Ready now: {', '.join(o.step.id for o in ready)}."))
    parts += [Text(f"Held: {o.step.id}: {'; '.join(objections(o)) or 'see order'}.") for o in held]
    return screen.set_out(parts)
