"""What was learned of a plane: from its folder, kept there, made anew where it is out of date."""

import json
from collections.abc import Sequence
from dataclasses import asdict, replace
from pathlib import Path

import numpy as np

from foamwright import __version__
from foamwright.model.bench_evidence import sources_of, weighed_as
from foamwright.model.ensemble import Draws, Knowledge
from foamwright.model.evidence import OBSERVABLE, Observation, Source
from foamwright.model.learning import Band, Change, Checked, Learned, Taught, learn
from foamwright.plane import belief_file, flights
from foamwright.plane.belief_file import BeliefFile, KeptBand, KeptChange, KeptCheck, KeptSource
from foamwright.plane.bench import today
from foamwright.plane.bench_records import ALL_UP, Bench
from foamwright.plane.document import LoadedPlane, load
from foamwright.plane.gear import Propeller
from foamwright.plane.plane import Plane
from foamwright.plane.toml_text import text_of
from foamwright.plane.weighed import latest
from foamwright.plane.whole_files import digest_of
from foamwright.problems import CallProblem, Finding, PlaneFileProblem

ABOUT = (
    "Derived from plane.toml, bench.toml and flights/: what tests and flights taught of the "
    "model's inputs. It may be deleted at any time; foamwright makes it anew."
)

TELLS_NOTHING = ("name", "purpose", "region", "units", "currency", "targets", "thrower")
"""Keys of the plane file that no observation hangs on."""


def flight_sources(folder: Path) -> tuple[Source, ...]:
    """Return the flights in a plane's folder as sources."""
    found = []
    for flight in flights.load(folder):
        try:
            seen = tuple(
                Observation(
                    name=one.what,
                    value=one.value,
                    spread=one.spread,
                    speed=one.speed,
                    time=one.time,
                    mass=one.mass,
                    temperature=one.temperature,
                    rotation_speed=one.rotation_speed,
                    voltage=one.voltage,
                )
                for one in flight.note.observations
            )
        except CallProblem as problem:
            file = folder / flights.FOLDER / f"{flight.name}.toml"
            finding = Finding(what=problem.what, expected=problem.expected, file=file)
            raise PlaneFileProblem((finding,)) from problem
        found.append(
            Source(
                name=f"flight {flight.name}",
                kind="flight",
                day=flight.note.date,
                observations=seen,
            )
        )
    return tuple(found)


def sources(loaded: LoadedPlane) -> tuple[Source, ...]:
    """Return every test and flight in a plane's folder, oldest first."""
    found = [*sources_of(loaded.notes.bench), *flight_sources(loaded.folder)]
    return tuple(sorted(found, key=lambda source: (source.day, source.kind == "flight")))


def digest(loaded: LoadedPlane, told: Sequence[Source]) -> str:
    """Return what tells the ground of what was learned from any other."""
    plane = {key: value for key, value in loaded.raw.items() if key not in TELLS_NOTHING}
    ground = [
        __version__,
        json.dumps(plane, sort_keys=True, default=str),
        repr([asdict(source) for source in told]),
        *(text_of(loaded.folder / name) for name in data_files(loaded.plane)),
    ]
    return digest_of("\n".join(ground))


def data_files(plane: Plane) -> list[str]:
    """Return the names of the files beside the plane file that it points to."""
    named = [surface.coordinates for surface in plane.airframe.surfaces]
    named += [
        name
        for item in plane.items
        if isinstance(item, Propeller)
        for name in (item.coefficients, item.blade)
    ]
    return [name for name in named if name is not None]


def plain(loaded: LoadedPlane) -> LoadedPlane:
    """Return the plane without its variant: that is what was tested and flown."""
    return loaded if loaded.variant is None else load(loaded.file, notes=loaded.notes)


def learned(loaded: LoadedPlane, *, anew: bool = False, keep: bool = True) -> Learned | None:
    """Return what the folder of a plane teaches; none where nothing was tested or flown.

    It is taken from belief.json where that is up to date, and made and, if it is to be kept,
    written where it is not.
    """
    base = plain(loaded)
    told = sources(base)
    if not any(source.observations for source in told):
        return None
    ground = digest(base, told)
    kept = None if anew else belief_file.read(base.folder, ground)
    thawn = None if kept is None else thawed(kept, base, told)
    if thawn is not None:
        return thawn
    found = learn_as_weighed(base, told)
    if keep:
        belief_file.write(base.folder, kept_as(found, ground))
    return found


def observe(
    loaded: LoadedPlane, observations: Sequence[Observation], name: str = "this flight"
) -> Learned:
    """Return what a flight of today teaches after all that is in the folder; nothing is written.

    The last of `taught` is this flight.
    """
    base = plain(loaded)
    told = sources(base)
    day = max([today(), *(source.day for source in told)])
    mine = Source(name=name, kind="flight", day=day, observations=tuple(observations))
    return learn_as_weighed(base, (*told, mine))


def learn_as_weighed(base: LoadedPlane, told: Sequence[Source]) -> Learned:
    """Return what sources teach of a plane that weighs what the scale showed of it.

    Where no plan explains that weighing, it teaches nothing of the parts; but what was flown, was
    flown at that mass. So it is held against the plan and the other tests, and all else is learned
    from at the mass that it showed.
    """
    found, bench = learn(base, told), base.notes.bench
    weighing = latest(bench).get(ALL_UP)
    if weighing is None or not surplus(found, bench):
        return found
    tests = learn(base, [source for source in told if source.kind == "test"])
    more = surplus(tests, bench)
    if not more:
        return found
    own = weighed_as(weighing)
    again = learn(base, [source for source in told if source.name != own], more)
    place = next(n for n, taught in enumerate(found.taught) if taught.source.name == own)
    refused = next(taught for taught in tests.taught if taught.source.name == own)
    return replace(again, taught=(*again.taught[:place], refused, *again.taught[place:]))


def knowing(
    draws: Draws, loaded: LoadedPlane, *, keep: bool = True
) -> tuple[Draws, Learned | None]:
    """Return draws that know what the folder of a plane teaches, and what that is."""
    found = learned(loaded, keep=keep)
    if found is None:
        return draws, found
    draws = draws.heavier(surplus(found, loaded.notes.bench))
    return draws if found.knowledge is None else draws.knowing(found.knowledge), found


def surplus(found: Learned, bench: Bench) -> float:
    """Return how much more the scale showed of all than the plan can be [kg]; 0 where it fits.

    Such a reading teaches nothing of the parts, for none of them explains it; but the plane
    weighs what it weighs, so no answer may go on with the plan.
    """
    weighing = latest(bench).get(ALL_UP)
    if weighing is None:
        return 0.0
    own = weighed_as(weighing)
    checks = [
        check for taught in found.taught if taught.source.name == own for check in taught.checked
    ]
    last = checks[-1] if checks else None
    if last is None or last.used or last.expected is None:
        return 0.0
    return last.observation.value - last.expected.value


def sentence(found: Learned | None) -> tuple[str, ...]:
    """Return from how much was learned, as a line for what was assumed."""
    if found is None:
        return ()
    counts = [
        f"{count} {word}" + ("" if count == 1 else "s")
        for word in ("flight", "test")
        if (count := found.count(word))
    ]
    return (f"learned from {' and '.join(counts)}",) if counts else ()


def kept_as(found: Learned, ground: str) -> BeliefFile:
    """Return what was learned as the file keeps it."""
    known = found.knowledge
    return BeliefFile(
        schema_version=belief_file.SCHEMA,
        about=ABOUT,
        digest=ground,
        keys=() if known is None else known.keys,
        labels=() if known is None else known.labels,
        mean=() if known is None else tuple(known.mean.tolist()),
        factor=() if known is None else tuple(tuple(row) for row in known.factor.tolist()),
        samples=found.samples,
        sources=tuple(source_kept(taught) for taught in found.taught),
    )


def band_kept(band: Band) -> KeptBand:
    """Return a band as the file keeps it."""
    return KeptBand(value=band.value, low=band.low, high=band.high)


def source_kept(taught: Taught) -> KeptSource:
    """Return one source as the file keeps it."""
    return KeptSource(
        name=taught.source.name,
        kind=taught.source.kind,
        date=taught.source.day.isoformat(),
        observations=tuple(
            KeptCheck(
                **asdict(check.observation),
                expected=None if check.expected is None else band_kept(check.expected),
                probability=check.probability,
                used=check.used,
                why=check.why,
            )
            for check in taught.checked
        ),
        taught=tuple(
            KeptChange(
                parameter=change.parameter,
                label=change.label,
                dimension=change.dimension,
                before=band_kept(change.before),
                after=band_kept(change.after),
            )
            for change in taught.changes
        ),
    )


def thawed(kept: BeliefFile, base: LoadedPlane, told: Sequence[Source]) -> Learned | None:
    """Return what a file keeps as it was learned; none where it was not learned from these."""
    names = [(source.name, len(source.observations)) for source in told]
    if names != [(entry.name, len(entry.observations)) for entry in kept.sources]:
        return None
    knowledge = None
    if kept.keys:
        knowledge = Knowledge(
            keys=kept.keys,
            labels=kept.labels,
            mean=np.array(kept.mean),
            factor=np.array(kept.factor),
            plane=base.plane,
        )
    taught = tuple(thawed_source(e, s) for e, s in zip(kept.sources, told, strict=True))
    return Learned(knowledge=knowledge, taught=taught, samples=kept.samples)


def thawed_source(entry: KeptSource, source: Source) -> Taught:
    """Return one source as it was learned from."""
    checks = tuple(
        Checked(
            observation=one,
            expected=None if check.expected is None else thawed_band(check.expected),
            probability=check.probability,
            used=check.used,
            why=check.why,
        )
        for one, check in zip(source.observations, entry.observations, strict=True)
    )
    changes = tuple(
        Change(
            parameter=change.parameter,
            label=change.label,
            dimension=change.dimension,
            before=thawed_band(change.before),
            after=thawed_band(change.after),
        )
        for change in entry.taught
    )
    return Taught(source=source, checked=checks, changes=changes)


def thawed_band(band: KeptBand) -> Band:
    """Return a band as it was learned."""
    return Band(value=band.value, low=band.low, high=band.high)


def belief_json(changes: Sequence[Change]) -> list[dict[str, object]]:
    """Return what a test or flight taught as the contract writes it."""
    return [
        {
            "parameter": change.parameter,
            "before": asdict(change.before),
            "after": asdict(change.after),
        }
        for change in changes
    ]


def unused_in(taught: Taught) -> tuple[tuple[str, str], ...]:
    """Return the readings that nothing was learned from, each with why."""
    return tuple(
        (OBSERVABLE[check.observation.name].label, check.why)
        for check in taught.checked
        if not check.used
    )
