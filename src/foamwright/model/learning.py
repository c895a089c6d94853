"""What tests and flights teach of one plane."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from foamwright.model.computable import ComputablePlane
from foamwright.model.ensemble import Draws, Knowledge
from foamwright.model.evidence import (
    OBSERVABLE,
    Observation,
    Source,
    predicted,
    unpredictable,
)
from foamwright.model.importance import (
    ILL_FITTING,
    Draw,
    Drawn,
    Evidence,
    Forecast,
    Pool,
    effective,
    forecasts,
    linear,
    pool_for,
    proposal,
    quantiles,
    summary,
)
from foamwright.model.parameters import PARAMETERS, parameters_of
from foamwright.model.reading_error import bounds_in, compared, noise, odd_words
from foamwright.physics.arrays import Flags, Samples
from foamwright.physics.numerics.normal import TENTH
from foamwright.plane.document import LoadedPlane
from foamwright.plane.plane import Plane

SAMPLES = 4096
"""Planes drawn in one set."""

SEED = 20_260
"""Luck of the learning: always the same, so that the same notes teach the same."""


TOGETHER = "it was read together with something that fits nothing the model knows"
"""Why a reading that may be right teaches nothing."""

OF_THE_DAY = "site."
"""How the inputs begin that are others on another day."""

WORTH_TELLING = 0.1
"""Shift in standard deviations, or share of the band that has to go, to be told as taught."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Band:
    """A middle and where eight in ten lie [SI]."""

    value: float
    low: float
    high: float


@dataclass(frozen=True, kw_only=True, slots=True)
class Checked:
    """One observation against what was expected just before it."""

    observation: Observation
    """What was observed."""
    expected: Band | None
    """Where eight in ten such readings were to lie; none where the model can say nothing."""
    probability: float | None
    """Chance of a departure as large, either way."""
    used: bool
    """Whether anything was learned from it."""
    why: str
    """Why not, then."""

    @property
    def bound(self) -> bool:
        """Whether it only bounds what was expected, from above."""
        return OBSERVABLE[self.observation.name].bound

    @property
    def inside(self) -> bool:
        """Whether it fell where eight in ten were to lie, or bounds them as it should."""
        band = self.expected
        if band is None:
            return False
        return band.low <= self.observation.value and (
            self.bound or self.observation.value <= band.high
        )


@dataclass(frozen=True, kw_only=True, slots=True)
class Change:
    """One quantity before and after a test or flight."""

    parameter: str
    """Its name."""
    label: str
    """The words for it."""
    dimension: str
    """Which dimension of `quantity` it has."""
    before: Band
    after: Band


@dataclass(frozen=True, kw_only=True, slots=True)
class Taught:
    """What one test or flight taught."""

    source: Source
    """Which."""
    checked: tuple[Checked, ...]
    """Each of its observations."""
    changes: tuple[Change, ...]
    """What moved or narrowed."""

    @property
    def foretold(self) -> tuple[Checked, ...]:
        """Those that were to fall into a band; a bound may lie anywhere beyond it."""
        return tuple(one for one in self.checked if one.expected is not None and not one.bound)


@dataclass(frozen=True, kw_only=True, slots=True)
class Learned:
    """What all tests and flights taught together."""

    knowledge: Knowledge | None
    """Of the inputs; none where nothing was learned."""
    taught: tuple[Taught, ...]
    """By source, oldest first."""
    samples: float
    """How many equal samples the weights are worth."""

    def count(self, kind: str) -> int:
        """Return from how many tests or flights something was learned."""
        return sum(
            1
            for taught in self.taught
            if taught.source.kind == kind and any(entry.used for entry in taught.checked)
        )


NOTHING = Learned(knowledge=None, taught=(), samples=0.0)
"""Before the first test."""


def drawer(
    loaded: LoadedPlane, seen: Sequence[Observation], speed: float | None, surplus: float = 0.0
) -> Draw:
    """Return what draws sets of such planes and tells what the model says to observations.

    `speed` [m s^-1] is where drag is told before and after; the planes weigh a surplus [kg] more
    than planned.
    """

    def draw(proposed: Knowledge | None) -> Drawn:
        draws = Draws(SAMPLES, SEED if proposed is None else SEED + 1).heavier(surplus)
        computed = ComputablePlane(loaded, draws.knowing(proposed))
        computed.settle_flight()
        inputs = computed.draws.inputs()
        told = [compared(predicted(computed, one), one) for one in seen]
        others = [] if speed is None else list(parameters_for(computed, speed, seen).values())
        empty = np.zeros((SAMPLES, 0))
        return Drawn(
            keys=tuple(entry.key for entry in inputs),
            labels=tuple(entry.label for entry in inputs),
            normals=np.stack([entry.normals for entry in inputs], axis=1),
            told=np.stack(told, axis=1) if told else empty,
            others=np.stack(others, axis=1) if others else empty,
        )

    return draw


def parameters_for(
    computed: ComputablePlane, speed: float, seen: Sequence[Observation]
) -> dict[str, Samples]:
    """Return the parameters that some observations may teach."""
    delay = any(one.name == "roll_lag" for one in seen)
    return parameters_of(computed, speed, delay=delay)


@dataclass(frozen=True, kw_only=True, slots=True)
class _Sorted:
    """Observations of all sources in one row, those that can be foretold only."""

    seen: tuple[Observation, ...]
    owner: np.ndarray
    """Index of the source of each (m,)."""


def sorted_out(
    computed: ComputablePlane, sources: Sequence[Source]
) -> tuple[_Sorted, dict[int, dict[int, str]]]:
    """Return the observations that can be foretold, and by source and place why others cannot."""
    seen, owner, refused = [], [], {}
    for number, source in enumerate(sources):
        reasons = {n: unpredictable(computed, one) for n, one in enumerate(source.observations)}
        refused[number] = {n: reason for n, reason in reasons.items() if reason}
        good = [one for n, one in enumerate(source.observations) if not reasons[n]]
        seen += good
        owner += [number] * len(good)
    return _Sorted(seen=tuple(seen), owner=np.array(owner, dtype=int)), refused


def fitting(
    line_forecasts: list[Forecast], sources: Sequence[Source], told: _Sorted, number: int
) -> Flags:
    """Return which observations of one source fit well enough to learn from (m,).

    What was read in one bench test belongs together: a propeller on backwards spoils the amps as
    well, so one reading that fits nothing takes the others with it. In flight only a mass does:
    what was flown with it belongs to another plane, but for what is held against that very mass.
    """
    own = told.owner == number
    chances = np.array([one.probability for one in line_forecasts])
    good: Flags = own & (chances >= ILL_FITTING)
    if sources[number].kind == "test" and not good[own].all():
        return np.zeros_like(good)
    weighed = np.array([one.name == "all_up_mass" for one in told.seen], dtype=bool)
    if (own & weighed & ~good).any():
        good &= np.array([one.mass is not None for one in told.seen], dtype=bool)
    return good


def learn(loaded: LoadedPlane, sources: Sequence[Source], surplus: float = 0.0) -> Learned:
    """Return what some tests and flights teach of a plane, oldest first.

    It weighs a surplus [kg] more than planned: what the scale showed, though no part explains it.
    """
    ordered = sorted(sources, key=lambda source: (source.day, source.kind == "flight"))
    if not any(source.observations for source in ordered):
        return NOTHING
    probe = ComputablePlane(loaded, Draws(64, SEED).heavier(surplus))
    probe.settle_flight()
    all_seen, refused = sorted_out(probe, ordered)
    speed = float(probe.drag.speed[probe.drag.speed.size // 2])
    draw = drawer(loaded, all_seen.seen, speed, surplus)
    values = [float(compared(np.array([one.value]), one)[0]) for one in all_seen.seen]
    evidence = Evidence(
        value=np.array(values), noise=noise(all_seen.seen), bounds=bounds_in(all_seen.seen)
    )
    names = tuple(parameters_for(probe, speed, all_seen.seen))
    return told_by_source(
        _Story(plane=loaded.plane, ordered=ordered, sorted=all_seen, refused=refused, names=names),
        _Ground(draw=draw, first=draw(None), evidence=evidence),
    )


@dataclass(frozen=True, kw_only=True, slots=True)
class _Story:
    """The sources and their observations."""

    plane: Plane
    ordered: Sequence[Source]
    sorted: _Sorted
    refused: dict[int, dict[int, str]]
    names: tuple[str, ...]


@dataclass(frozen=True, kw_only=True, slots=True)
class _Ground:
    """What the weighing of samples stands on."""

    draw: Draw
    first: Drawn
    evidence: Evidence


def told_by_source(story: _Story, ground: _Ground) -> Learned:
    """Return what each source taught in turn."""
    evidence, owner = ground.evidence, story.sorted.owner
    line = linear(ground.first)
    used = np.zeros(owner.size, dtype=bool)
    expected: list[Forecast] = []
    steps = [used.copy()]
    for number in range(len(story.ordered)):
        start = int(np.searchsorted(owner, number))
        ahead = forecasts(line, evidence, used, start)
        expected += [ahead[n] for n in np.flatnonzero(owner == number)]
        used |= fitting(ahead, story.ordered, story.sorted, number)
        steps.append(used.copy())
    pool = pool_for(ground.draw, ground.first, line, evidence=evidence, used=used)
    weights = pool.weights(evidence, used)
    near = lasting(proposal(ground.first, line, evidence, used)) if used.any() else None
    bands = [bands_of(pool, pool.weights(evidence, step)) for step in steps]
    taught = tuple(
        Taught(
            source=source,
            checked=checked_of(story, number, expected, used),
            changes=changes_of(story.names, bands[number], bands[number + 1]),
        )
        for number, source in enumerate(story.ordered)
    )
    known = None if near is None or not near.keys else summary(pool, weights, near)
    return Learned(
        knowledge=None if known is None else replace(known, plane=story.plane),
        taught=taught,
        samples=effective(weights),
    )


def lasting(near: Knowledge | None) -> Knowledge | None:
    """Return what was learned without the air of the day, which is another the next day."""
    if near is None:
        return None
    kept = [n for n, key in enumerate(near.keys) if not key.startswith(OF_THE_DAY)]
    covariance = (near.factor @ near.factor.T)[np.ix_(kept, kept)]
    factor: Samples = np.asarray(
        np.linalg.cholesky(covariance) if kept else covariance, dtype=np.float64
    )
    return Knowledge(
        keys=tuple(near.keys[n] for n in kept),
        labels=tuple(near.labels[n] for n in kept),
        mean=near.mean[kept],
        factor=factor,
    )


def bands_of(pool: Pool, weights: Samples) -> list[Band]:
    """Return the band of every parameter."""
    found = []
    for column in pool.drawn.others.T:
        low, value, high = quantiles(column, weights, (0.1, 0.5, 0.9))
        found.append(Band(value=value, low=low, high=high))
    return found


def changes_of(names: tuple[str, ...], before: list[Band], after: list[Band]) -> tuple[Change, ...]:
    """Return the parameters that moved or narrowed enough to be told."""
    found = []
    for name, was, now in zip(names, before, after, strict=True):
        width = was.high - was.low
        moved = abs(now.value - was.value) * 2.0 * TENTH > WORTH_TELLING * width
        narrowed = now.high - now.low < (1.0 - WORTH_TELLING) * width
        if width > 0.0 and (moved or narrowed):
            kind = PARAMETERS[name]
            found.append(
                Change(
                    parameter=name,
                    label=kind.label,
                    dimension=kind.dimension,
                    before=was,
                    after=now,
                )
            )
    return tuple(found)


def checked_of(
    story: _Story, number: int, expected: list[Forecast], used: Flags
) -> tuple[Checked, ...]:
    """Return each observation of one source against what was expected of it."""
    columns = iter(np.flatnonzero(story.sorted.owner == number))
    found = []
    for place, one in enumerate(story.ordered[number].observations):
        why = story.refused[number].get(place)
        if why is not None:
            entry = Checked(observation=one, expected=None, probability=None, used=False, why=why)
        else:
            column = int(next(columns))
            entry = judged(one, expected[column], used=bool(used[column]))
        found.append(entry)
    return tuple(found)


def judged(one: Observation, forecast: Forecast, *, used: bool) -> Checked:
    """Return an observation beside its forecast."""
    if not np.isfinite(forecast.middle):
        why = "hardly any such plane can do that in the model, so it tells no parameter"
        return Checked(observation=one, expected=None, probability=None, used=False, why=why)
    reach = TENTH * forecast.spread
    ends = [forecast.middle, forecast.middle - reach, forecast.middle + reach]
    if OBSERVABLE[one.name].relative:
        ends = [float(np.exp(end)) for end in ends]
    why = ""
    if not used and forecast.probability < ILL_FITTING:
        why = odd_words(one, forecast.probability)
    elif not used:
        why = TOGETHER
    return Checked(
        observation=one,
        expected=Band(value=ends[0], low=ends[1], high=ends[2]),
        probability=forecast.probability,
        used=used,
        why=why,
    )
