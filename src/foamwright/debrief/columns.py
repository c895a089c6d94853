"""Which column is which channel: judged one after the other, each by those settled before."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from foamwright.debrief import judging_body as body
from foamwright.debrief import judging_motion as motion
from foamwright.debrief import judging_power as power
from foamwright.debrief.judging import ENOUGH, Bench, Verdict, plain, si, words
from foamwright.debrief.naming import Meaning
from foamwright.debrief.positions import track_of
from foamwright.debrief.taking import NOTHING, Takes
from foamwright.physics.arrays import Grid

Judge = Callable[[Bench, Grid, Meaning], Verdict]

JUDGES: Mapping[str, Judge] = {
    "latitude": motion.position,
    "longitude": motion.position,
    "north_speed": motion.component,
    "east_speed": motion.component,
    "ground_speed": motion.ground_speed,
    "course": motion.course,
    "height": motion.height,
    "climb_rate": motion.climb,
    "sink_rate": motion.climb,
    "airspeed": motion.airspeed,
    "voltage": power.voltage,
    "cell_voltage": power.cell_voltage,
    "charge_used": power.charge_used,
    "current": power.current,
    "power": power.power,
    "rotation_speed": power.rotation,
    "electrical_rotation_speed": power.electrical_rotation,
    "roll": body.tilt,
    "pitch": body.tilt,
    "heading": motion.heading,
    "roll_rate": body.rate,
    "pitch_rate": body.rate,
    "yaw_rate": body.rate,
    "roll_rate_wanted": body.rate,
    "pitch_rate_wanted": body.rate,
    "yaw_rate_wanted": body.rate,
    "up_acceleration": body.up_acceleration,
    "forward_acceleration": body.acceleration,
    "side_acceleration": body.acceleration,
    "throttle": body.share,
    "aileron": body.share,
    "elevator": body.share,
    "rudder": body.share,
    "satellites": body.satellites,
    "position_error": plain,
    "signal_strength": body.signal,
    "link_quality": body.share,
    "temperature": body.temperature,
}
"""In the order in which they are judged."""

FEWEST = 3
"""Values a column has to hold."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Column:
    """A column and what it is taken as."""

    column: str
    taken_as: str
    """Empty where it is left out."""
    unit: str
    scale: float
    """SI of one unit written."""
    sure: float
    because: str
    likely: str = ""
    """What it may be where it is left out, as it could be typed to take it."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Candidate:
    """A column that may be something."""

    column: str
    values: Grid
    meaning: Meaning
    said: str = ""
    """Who says so, where someone does."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Settled:
    """All columns settled."""

    channels: Mapping[str, Grid]
    """SI, by what they are taken as (k,)."""
    verdicts: Mapping[str, tuple[str, Verdict]]
    """Column and verdict of each."""
    columns: tuple[Column, ...]
    not_said: tuple[str, ...]


def candidates_of(
    values: Mapping[str, Grid], meanings: Mapping[str, Sequence[Meaning]], takes: Takes
) -> list[Candidate]:
    """Return every column with what it may be."""
    found = []
    for name, column in values.items():
        said = takes.get(name)
        if said is not None:
            if said.taken_as not in {NOTHING, "time"}:
                meaning = Meaning(taken_as=said.taken_as, unit=said.unit, strength=1.0)
                found.append(
                    Candidate(column=name, values=column, meaning=meaning, said=said.source)
                )
            continue
        ranked = meanings.get(name, ())
        ties = [one for one in ranked if one.strength >= ranked[0].strength]
        found += [
            Candidate(column=name, values=column, meaning=one)
            for one in ties
            if one.taken_as != "time"
        ]
    return found


def silent(values: Grid) -> str:
    """Return why a column is no measurement; empty where it is one."""
    known = values[np.isfinite(values)]
    if known.size < FEWEST:
        return f"it holds {known.size or 'no'} values"
    if float(np.ptp(known)) == 0.0:
        return f"it is {known[0]:g} all the time, which is no measurement"
    return ""


def judged(bench: Bench, candidate: Candidate) -> Verdict:
    """Return the verdict on a candidate; what the user says is not doubted."""
    found = JUDGES[candidate.meaning.taken_as](bench, candidate.values, candidate.meaning)
    if not candidate.said:
        return found
    if candidate.meaning.unit:
        found = found if found.sure >= ENOUGH else plain(bench, candidate.values, candidate.meaning)
        return replace(found, sure=1.0, because=candidate.said)
    return replace(
        found, sure=max(found.sure, ENOUGH), because=f"{candidate.said}; {found.because}"
    )


def best_of(bench: Bench, rivals: Sequence[Candidate]) -> tuple[Candidate, Verdict] | None:
    """Return the surest of the columns that may be one thing."""
    verdicts = [(judged(bench, rival), rival) for rival in rivals]
    if not verdicts:
        return None
    verdict, rival = max(verdicts, key=lambda pair: (pair[0].sure, fullness(pair[1].values)))
    return rival, verdict


def fullness(values: Grid) -> float:
    """Return how much a column tells: the share of rows with a value."""
    return float(np.mean(np.isfinite(values)))


def on_bench(bench: Bench, name: str, values: Grid) -> Bench:
    """Return the bench with a channel settled, and the path once both halves of it are."""
    bench = bench.with_channel(name, values)
    if bench.track is None and {"latitude", "longitude"} <= set(bench.known):
        track = track_of(bench.time, bench.known["latitude"], bench.known["longitude"])
        bench = replace(bench, track=track if track.speed.size else None)
    return bench


def settle(
    bench: Bench, candidates: Sequence[Candidate]
) -> tuple[Bench, dict[str, tuple[Candidate, Verdict]]]:
    """Return every channel with its column, judged twice where the first time was unsure."""
    fit = [candidate for candidate in candidates if not silent(candidate.values)]
    written: dict[str, Grid] = {}
    for candidate in sorted(fit, key=lambda one: one.meaning.strength):
        written[candidate.meaning.taken_as] = candidate.values
    bench = replace(bench, written=written)
    chosen: dict[str, tuple[Candidate, Verdict]] = {}
    for _ in range(2):
        for taken_as in JUDGES:
            if taken_as in chosen and chosen[taken_as][1].sure >= ENOUGH:
                continue
            rivals = [one for one in fit if one.meaning.taken_as == taken_as]
            best = best_of(bench, rivals)
            if best is None:
                continue
            chosen[taken_as] = best
            if best[1].sure >= ENOUGH:
                bench = on_bench(bench, taken_as, si(best[0].values, best[1]))
    return bench, chosen


def column_of(
    candidate: Candidate, bench: Bench, chosen: Mapping[str, tuple[Candidate, Verdict]]
) -> Column:
    """Return what became of a candidate."""
    taken_as = candidate.meaning.taken_as
    quiet = silent(candidate.values)
    if quiet:
        return left_out(candidate.column, quiet)
    best, verdict = chosen[taken_as]
    if best is not candidate:
        if verdict.sure >= ENOUGH:
            because = f"'{best.column}' is taken as the {words(taken_as)} already"
            return left_out(candidate.column, because)
        verdict = judged(bench, candidate)
    if verdict.sure >= ENOUGH:
        return Column(
            column=candidate.column,
            taken_as=taken_as,
            unit=verdict.unit,
            scale=verdict.factor,
            sure=round(verdict.sure, 2),
            because=verdict.because,
        )
    likely = taken_as if verdict.rather is None else verdict.rather
    if likely and verdict.unit:
        likely = f"{likely} in {verdict.unit}"
    return replace(
        left_out(candidate.column, verdict.because),
        unit=verdict.unit,
        sure=round(verdict.sure, 2),
        likely=likely,
    )


def left_out(column: str, because: str) -> Column:
    """Return a column that is left out."""
    return Column(column=column, taken_as="", unit="", scale=1.0, sure=0.0, because=because)


def said_of(columns: Sequence[Column]) -> tuple[str, ...]:
    """Return what is not said because a column is unsure or silent."""
    lines = []
    for column in columns:
        if column.likely:
            lines.append(
                f"'{column.column}' is left out: {column.because} "
                f'(--take "{column.column}={column.likely}" takes it)'
            )
        elif not column.taken_as and "already" not in column.because:
            lines.append(f"'{column.column}' is left out: {column.because}")
    return tuple(lines)


def settled(bench: Bench, candidates: Sequence[Candidate]) -> Settled:
    """Return all channels that the columns of a log hold."""
    bench, chosen = settle(bench, candidates)
    columns: dict[str, Column] = {}
    for candidate in candidates:
        found = column_of(candidate, bench, chosen)
        held = columns.get(candidate.column)
        if held is None or (found.sure > held.sure and not held.taken_as):
            columns[candidate.column] = found
    return Settled(
        channels=bench.known,
        verdicts={
            name: (best.column, verdict)
            for name, (best, verdict) in chosen.items()
            if verdict.sure >= ENOUGH
        },
        columns=tuple(columns.values()),
        not_said=said_of(tuple(columns.values())),
    )
