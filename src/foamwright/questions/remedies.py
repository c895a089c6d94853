"""Change one thing, recompute, report the effect."""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass

from foamwright.problems import InputProblem
from foamwright.quantity import Units, show
from foamwright.questions.answer import Effect, Remedy
from foamwright.questions.case import Case, Measured

MOST = 3
"""Remedies an answer offers."""

LEAST_GAIN = 0.02
"""Smallest gain in chance worth offering."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Change:
    """One thing to try."""

    do: str
    """What to do, in the imperative."""
    keys: Mapping[str, object]
    """Dotted keys of the plane file and their new values; None takes a key away."""
    cheap: bool = False
    """Whether it is a weighing: worth offering for any gain, since it costs a minute."""


def whole(value: float, dimension: str, units: Units) -> str:
    """Return a length or mass to a whole millimetre or gram; in other units as usual."""
    if units == "metric":
        return f"{value * 1e3:.0f} {'mm' if dimension == 'length' else 'g'}"
    return show(value, dimension, units)


def from_to(before: float, after: float, units: Units) -> str:
    """Return two lengths, the unit once."""
    if units == "metric":
        return f"{before * 1e3:.0f} to {after * 1e3:.0f} mm"
    return f"{show(before, 'length', units)} to {show(after, 'length', units)}"


def effect(before: Measured, after: Measured, names: Iterable[str]) -> tuple[Effect, ...]:
    """Return what changed: the chance first, then the named figures."""
    effects = [
        Effect(
            figure="probability",
            label="chance",
            before=before.probability,
            after=after.probability,
            dimension="fraction",
        )
    ]
    for name in names:
        old, new = before.named(name), after.named(name)
        effects.append(
            Effect(
                figure=name,
                label=old.label,
                before=old.value,
                after=new.value,
                dimension=old.dimension,
            )
        )
    return tuple(effects)


def tried(
    case: Case,
    changes: Iterable[Change],
    measure: Callable[[Case], Measured],
    names: tuple[str, ...],
) -> tuple[Remedy, ...]:
    """Return the changes that help, best first, each recomputed with the same draws.

    None where the question is open, or hardly can be answered better.

    A change the plane file would refuse (a pack the stock does not know, a part outside the
    foam) is not a remedy and is left out.
    """
    before = measure(case)
    if before.probability is None or before.probability > 1.0 - LEAST_GAIN:
        return ()
    found: list[tuple[bool, float, Remedy]] = []
    for change in changes:
        try:
            after = measure(case.changed(change.keys))
        except InputProblem:
            continue
        gain = (after.probability or 0.0) - (before.probability or 0.0)
        if gain >= (0.0 if change.cheap else LEAST_GAIN):
            remedy = Remedy(do=change.do, effect=effect(before, after, names), keys=change.keys)
            found.append((change.cheap, gain, remedy))
    # A weighing comes first: it costs nothing and every other remedy is sharper after it.
    found.sort(key=lambda entry: (not entry[0], -entry[1]))
    return tuple(remedy for _, _, remedy in found[:MOST])
