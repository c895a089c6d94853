"""Does what I measured behave as planned, and which assumption is off if not?"""

from collections.abc import Sequence

import numpy as np

from foamwright.model.bench_checks import OFF, Check, checks_of
from foamwright.model.computable import ComputablePlane
from foamwright.model.evidence import OBSERVABLE, Observation, predicted, unpredictable
from foamwright.model.learning import TOGETHER, Learned
from foamwright.model.score import scored
from foamwright.model.suspects import AS_PLANNED, Suspect
from foamwright.physics.numerics.normal import TENTH
from foamwright.quantity import SI_UNITS, show, show_band
from foamwright.questions.answer import Answer, Figure
from foamwright.questions.case import Case, Measured
from foamwright.questions.chance import verdict

ID = "bench"
ASKS = "Does what I measured behave as planned?"

MOST_SUSPECTS = 3
"""Causes worth naming."""

WORTH_NAMING = 0.03
"""Chance from which a cause is worth naming."""

RULED_OUT = 0.005
"""Chance below which a cause is told as ruled out."""

CAUTION = (
    "Full-throttle tests: plane held down, propeller clear of hands and faces, ten seconds at "
    "most, pack on something that does not burn; unplug it before you look at the propeller."
)

FIRST = {
    "static_current": "thrust, amps and rpm at full throttle, plane held down: foamwright bench "
    'PLANE thrust --thrust "... g" --current "... A" --rpm "... rpm"',
    "all_up_mass": 'the plane ready to fly on a scale: foamwright weigh PLANE all "... g"',
    "balance_place": "where it balances on two fingertips: foamwright bench PLANE balance "
    '--at "... mm"',
}
"""What can be measured first, by the observation it makes."""


def planned_of(case: Case) -> ComputablePlane:
    """Return the plane before anything was noted."""
    return case.computed if case.planned is None else case.planned()


def readings_of(case: Case) -> tuple[Check, ...]:
    """Return every note that can be held against the plan."""
    noted = (getattr(case.bench, name) for name in type(case.bench).model_fields if name != "steps")
    return checks_of(case.bench, planned_of(case), case.plane) if any(noted) else ()


def figure_of(check: Check) -> Figure:
    """Return a reading as a figure; its limits are where eight in ten were to lie."""
    low, high = band_of(check)
    reach = TENTH * check.spread
    return Figure(
        name=check.name,
        label=check.label,
        value=check.value,
        low=check.value - reach,
        high=check.value + reach,
        unit=SI_UNITS[check.dimension].replace("**", "^") or "-",
        limit_low=low,
        limit_high=high,
        dimension=check.dimension,
    )


def band_of(check: Check) -> tuple[float, float]:
    """Return where eight in ten of what was planned lie [SI]."""
    finite = check.planned[np.isfinite(check.planned)]
    low, high = np.quantile(finite, (0.1, 0.9))
    return float(low), float(high)


def wanted_first(case: Case) -> tuple[str, ...]:
    """Return what to measure first: what is foretold worst comes first."""
    wide: list[tuple[float, str]] = []
    for name, words in FIRST.items():
        one = Observation(name=name, value=1.0, spread=1.0)
        if unpredictable(case.computed, one):
            continue
        values = predicted(case.computed, one)
        scale = np.nanmedian(values) if OBSERVABLE[name].relative else case.computed.lift.mean_chord
        wide.append((float(np.nanstd(values) / np.median(scale)), words))
    return tuple(words for _, words in sorted(wide, key=lambda entry: -entry[0]))


def measure(case: Case) -> Measured:
    """Return what was read against what was planned; the weakest reading decides."""
    return measured_of(case, readings_of(case))


def measured_of(case: Case, checks: Sequence[Check]) -> Measured:
    """Return the figures and the chance that some readings make."""
    nothing = np.full(case.computed.samples, np.nan)
    if not checks:
        missing = wanted_first(case)
        return Measured(figures=(), probability=None, deciding=nothing, missing=missing)
    ordered = sorted(checks, key=lambda check: check.chance)
    return Measured(
        figures=tuple(figure_of(check) for check in ordered),
        probability=ordered[0].chance,
        deciding=nothing,
        assumed=told_of(case.learned),
    )


def told_of(learned: Learned | None) -> tuple[str, ...]:
    """Return how the bands did, and what was set aside."""
    if learned is None:
        return ()
    said = [line] if (line := scored(learned.taught).sentence()) else []
    for taught in learned.taught:
        for check in taught.checked:
            if check.why and check.why != TOGETHER:
                label = OBSERVABLE[check.observation.name].label
                said.append(f"{taught.source.name}, {label}: nothing learned, {check.why}")
    return tuple(said)


def off(checks: Sequence[Check]) -> list[Check]:
    """Return the readings that are likelier off than they were before they were read."""
    return [check for check in checks if check.chance < 1.0 - OFF]


def outside(check: Check) -> bool:
    """Return whether a reading lies beyond where eight in ten were to lie."""
    low, high = band_of(check)
    return not low - check.spread <= check.value <= high + check.spread


def in_words(check: Check, units: str) -> str:
    """Return a reading beside its band."""
    value = show(check.value, check.dimension, units)
    return f"{check.label} {value} against {show_band(*band_of(check), check.dimension, units)}"


def because(checks: Sequence[Check], units: str) -> str:
    """Return what is off and what may be behind it."""
    strange = off(checks)
    if not strange:
        count = "The reading lies" if len(checks) == 1 else f"All {len(checks)} readings lie"
        return f"{count} about where such planes were to lie."
    worst = min(strange, key=lambda check: check.chance)
    named = [check for check in strange if outside(check)] or [worst]
    lines = ["Off: " + "; ".join(in_words(check, units) for check in named[:MOST_SUSPECTS]) + "."]
    tests = tests_of(strange)
    for place, (check, suspects) in enumerate(tests):
        if place > 0:
            lines.append(f"As to {check.label}:")
        lines += likely(suspects, MOST_SUSPECTS if place == 0 else 1)
    lines += ruled_out(checks, tests[0][1], units) if tests else []
    return " ".join(lines)


def tests_of(strange: Sequence[Check]) -> list[tuple[Check, tuple[Suspect, ...]]]:
    """Return the tests that are off with their causes, the strangest first, each once."""
    found: list[tuple[Check, tuple[Suspect, ...]]] = []
    for check in sorted(strange, key=lambda check: check.chance):
        if check.suspects and all(check.suspects != known for _, known in found):
            found.append((check, check.suspects))
    return found


def likely(suspects: Sequence[Suspect], most: int) -> list[str]:
    """Return the likeliest causes as sentences, and what is left for all others."""
    other = [s for s in suspects if s.name != AS_PLANNED]
    named = [s for s in other if s.probability >= WORTH_NAMING][:most]
    lines = []
    for place, suspect in enumerate(named):
        start = "Most likely" if place == 0 else "Then"
        lines.append(f"{start} {suspect.name} ({suspect.probability:.0%}){reasoned(suspect)}.")
    rest = sum(s.probability for s in other if s not in named)
    good = sum(s.probability for s in suspects if s.name == AS_PLANNED)
    return [*lines, f"As planned after all {share(good)}, anything else {share(rest)}."]


def reasoned(suspect: Suspect) -> str:
    """Return what speaks for and against a cause, and how to find out."""
    if not suspect.speaks_for and not suspect.speaks_against:
        return f": {suspect.check}"
    told = [f"for it, {suspect.speaks_for}"] if suspect.speaks_for else []
    told += [f"against it, {suspect.speaks_against}"] if suspect.speaks_against else []
    return f": {'; '.join(told)}. To find out, {suspect.check}"


def share(chance: float) -> str:
    """Return a small chance in percent."""
    return "under 1%" if chance < 0.01 else f"{chance:.0%}"


def ruled_out(checks: Sequence[Check], suspects: Sequence[Suspect], units: str) -> list[str]:
    """Return the causes that a reading speaks against, with that reading."""
    read = {check.name: check for check in checks}
    found = []
    for suspect in suspects:
        check = read.get(suspect.against)
        if suspect.name == AS_PLANNED or suspect.probability > RULED_OUT:
            continue
        if check is not None and suspect.expected is not None:
            would = show_band(*suspect.expected, check.dimension, units)
            has = show(check.value, check.dimension, units)
            found.append(f"{suspect.name} ({check.label} would be {would}, not {has})")
    return ["Ruled out: " + "; ".join(found[:MOST_SUSPECTS]) + "."] if found else []


def answer(case: Case) -> Answer:
    """Return the answer."""
    checks = readings_of(case)
    measured = measured_of(case, checks)
    words = "Nothing was weighed or measured yet; what is foretold worst comes first."
    return Answer(
        question=ID,
        asks=ASKS,
        verdict=verdict(measured.probability),
        probability=measured.probability,
        figures=measured.figures,
        because=because(checks, case.plane.units) if checks else words,
        missing=measured.missing,
        assumed=measured.assumed,
        cautions=(CAUTION,) if measured.missing or case.bench.static else (),
    )
