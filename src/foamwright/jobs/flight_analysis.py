"""What the analysis of a recording tells, as figures, findings and readings of one flight."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from foamwright.debrief import outcome
from foamwright.debrief.analysis import analyse
from foamwright.debrief.flown import flown_of, placed
from foamwright.debrief.observed import Flown
from foamwright.debrief.outcome import Analysis, Facts, Segment
from foamwright.debrief.propeller_rows import CHANNELS
from foamwright.debrief.read_off import Reading
from foamwright.debrief.recording import Recording
from foamwright.jobs.belief import knowing
from foamwright.model.computable import ComputablePlane
from foamwright.model.ensemble import Draws
from foamwright.model.evidence import OBSERVABLE
from foamwright.physics.arrays import Samples
from foamwright.plane.bench_records import ALL_UP
from foamwright.plane.document import LoadedPlane
from foamwright.plane.gear import Pack
from foamwright.plane.weighed import latest
from foamwright.quantity import show
from foamwright.questions.answer import Figure

SAMPLES = 64
"""Planes from which mass, area and density are told: their middle is all that is wanted."""
SEED = 1
DRIVES = 256
"""Drives from which the airspeed by the propeller is told: its band is wanted."""

DIMENSIONS: Mapping[str, str] = {
    "m s^-1": "speed",
    "A": "current",
    "V": "voltage",
    "-": "number",
    "m^2": "area",
    "ohm": "resistance",
    "C": "charge",
    "A s": "charge",
    "m": "elevation",
    "s": "time",
    "W": "power",
    "s^-1": "rotation speed",
    "rad": "angle",
    "rad s^-1": "turn rate",
    "Hz": "frequency",
    "K": "temperature",
    "kg": "mass",
}
"""Which dimension of `quantity` a figure of an SI unit has."""
SHARES = frozenset(
    {"elevator_trim", "aileron_trim", "rudder_trim", "poor_link", "worst_link", "poor_fix"}
)
"""Figures without a unit that are shown in per cent."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Finding:
    """One thing a flight showed."""

    what: str
    because: str
    check_first: tuple[str, ...]


@dataclass(frozen=True, kw_only=True, slots=True)
class Wind:
    """The wind of a flight."""

    speed: float
    """[m s^-1]."""
    low: float
    """10 % point."""
    high: float
    """90 % point."""
    from_deg: float
    """Where it came from, clockwise from north."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Analysed:
    """What the analysis of one recording tells."""

    wind: Wind | None
    figures: tuple[Figure, ...]
    findings: tuple[Finding, ...]
    not_said: tuple[str, ...]
    readings: tuple[Reading, ...]
    """What the model can be held against."""
    segments: tuple[Segment, ...] = ()
    """Stretches of one kind of flying, in the order they were flown."""
    flown: Flown | None = None
    """As it is held beside other flights."""


def middle(values: Samples) -> float:
    """Return the middle of some samples."""
    return float(np.median(values))


def facts_of(loaded: LoadedPlane, card: Sequence[Reading]) -> Facts:
    """Return what is known of a plane beside its log: mass and charge as the card tells them.

    Where it tells no mass, that of the last weighing of the whole plane is taken, else the plan's.
    """
    computed = ComputablePlane(loaded, Draws(SAMPLES, SEED))
    computed.settle_flight()
    told = {one.name: one.value for one in card}
    weighing = latest(loaded.notes.bench).get(ALL_UP)
    mass = middle(computed.masses.all_up) if weighing is None else weighing.mass.value
    return Facts(
        mass=told.get("all_up_mass", mass),
        wing_area=middle(computed.planform.area),
        air_density=middle(computed.air.density),
        charge_put_back=told.get("charge_put_back"),
        units=loaded.plane.units,
        cells=next((item.cells for item in loaded.plane.items if isinstance(item, Pack)), None),
    )


def with_drive(facts: Facts, loaded: LoadedPlane, recording: Recording) -> Facts:
    """Return facts with the drive as tests and flights taught it, where a log can use it."""
    if not recording.has(*CHANNELS):
        return facts
    draws, _ = knowing(Draws(DRIVES, SEED), loaded, keep=False)
    computed = ComputablePlane(loaded, draws)
    computed.settle_flight()
    return replace(facts, drive=computed.drive)


def mass_words(loaded: LoadedPlane, facts: Facts, card: Sequence[Reading]) -> str:
    """Return with which mass a flight was read where its card tells none; empty where it does."""
    if facts.mass is None or any(one.name == "all_up_mass" for one in card):
        return ""
    weighing = latest(loaded.notes.bench).get(ALL_UP)
    words = f"it flew at {show(facts.mass, 'mass', facts.units)}"
    if weighing is None:
        return f"{words}, as planned: weigh it ready to fly, or give its mass on the card"
    return f"{words}, as weighed on {weighing.date}"


def finite(value: float) -> float | None:
    """Return a value that can be shown; an end that is not known is none."""
    return float(value) if np.isfinite(value) else None


def figure_of(one: outcome.Figure) -> Figure:
    """Return a figure of the analysis as shells show it."""
    return Figure(
        name=one.name,
        label=one.label,
        value=finite(one.value),
        low=finite(one.low),
        high=finite(one.high),
        unit=one.unit,
        dimension="fraction" if one.name in SHARES else DIMENSIONS.get(one.unit, "number"),
    )


def readings_of(recording: Recording, found: Analysis) -> tuple[Reading, ...]:
    """Return what was observed, each with the airspeed and time of its segment."""
    readings = []
    for one in placed(recording, found):
        if one.teaches and one.name in OBSERVABLE and one.value > 0.0 and one.sd > 0.0:
            kind = OBSERVABLE[one.name]
            readings.append(
                Reading(
                    name=one.name,
                    label=kind.label,
                    value=one.value,
                    spread=one.sd,
                    unit="",
                    dimension=kind.dimension,
                    speed=one.speed if "speed" in kind.needs else None,
                    time=one.time if "time" in kind.needs else None,
                    rotation_speed=one.rotation_speed if "rotation_speed" in kind.needs else None,
                    voltage=one.voltage if "voltage" in kind.needs else None,
                )
            )
    return tuple(readings)


def analysed(recording: Recording, facts: Facts, fast: Recording | None = None) -> Analysed:
    """Return what a recording tells; `fast` has every row of its body rates."""
    found = analyse(recording, facts, fast)
    wind = found.wind
    return Analysed(
        wind=None
        if wind is None
        else Wind(
            speed=wind.speed,
            low=wind.low,
            high=wind.high,
            from_deg=float(np.degrees(wind.from_direction) % 360.0),
        ),
        figures=tuple(figure_of(one) for one in found.figures),
        findings=tuple(
            Finding(what=one.what, because=one.because, check_first=one.check_first)
            for one in found.findings
        ),
        not_said=found.not_said,
        readings=readings_of(recording, found),
        segments=found.segments,
        flown=flown_of(recording, found),
    )
