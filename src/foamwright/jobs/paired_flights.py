"""What a change did: flights after it beside flights before it, for the shells."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from foamwright.debrief import observed, paired
from foamwright.debrief.observed import Flown
from foamwright.debrief.paired import Verdict
from foamwright.debrief.read_off import Reading
from foamwright.debrief.same_wind import one_wind
from foamwright.debrief.wanted import WANTED
from foamwright.jobs.flight_analysis import DIMENSIONS
from foamwright.physics.numerics.normal import TENTH
from foamwright.questions.answer import Figure

PRESSURE, GAS_CONSTANT = 101325.0, 287.05287
"""Of the standard atmosphere [Pa, J kg^-1 K^-1] (iso-2533)."""
UNLIKE = "one wind for all: the winds found differ, or are not known; each flight keeps its own"
"""What is said where flights were not flown in the wind they are said to share."""
CORRECTED = {
    "voltage": "the voltage of the pack at rest",
    "mass": "the mass",
    "density": "the density of the air",
}
"""Words for what a figure was brought over by."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Moved:
    """How one figure moved."""

    before: Figure
    after: Figure
    """As it would be in the conditions of the flights before."""
    change: Figure
    """After less before."""
    verdict: Verdict
    chance: float
    """That it moved as wanted."""
    wanted: str
    """more or less."""
    fly_more: int | None
    """Flights after the change that would settle it."""
    fly_more_before: int
    """Flights as before the change that have to go with them."""
    speed: float | None
    """Airspeed at which it is compared, where that matters [m s^-1]."""
    corrected: tuple[str, ...]
    """What the side after was brought over by."""
    assumed: tuple[str, ...]
    """What it hangs on that nobody told."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Compared:
    """What flights before and after a change tell together."""

    flights: tuple[int, int]
    """How many before and after."""
    moved: tuple[Moved, ...]
    assumed: tuple[str, ...]
    """What was taken for the same on both sides."""
    not_said: tuple[str, ...]
    """What cannot be compared, and why."""


def as_flown(card: Sequence[Reading], log: Flown | None = None) -> Flown:
    """Return a flight as its card tells it, beside its log where there is one; the log rules."""
    own = () if log is None else log.readings
    told = {one.name for one in own}
    conditions = conditions_of(card)
    extra = (
        observed.Reading(name=one.name, value=one.value, sd=one.spread, speed=one.speed)
        for one in card
        if one.name in WANTED and one.name not in told and one.value > 0.0
    )
    return Flown(
        readings=tuple(
            replace(one, conditions={**one.conditions, **conditions}) for one in (*own, *extra)
        ),
        wind_sd=0.0 if log is None else log.wind_sd,
        wind=None if log is None else log.wind,
    )


def conditions_of(card: Sequence[Reading]) -> dict[str, float]:
    """Return what a card tells of mass [kg] and of the air, at standard pressure [kg m^-3].

    Only ratios count: flights of one field share their pressure but for a per cent or two.
    """
    told = {one.name: one.value for one in card}
    found = {}
    if "all_up_mass" in told:
        found["mass"] = told["all_up_mass"]
    if "air_temperature" in told:
        found["density"] = PRESSURE / (GAS_CONSTANT * told["air_temperature"])
    return found


def compared(
    before: Sequence[Flown], after: Sequence[Flown], *, same_wind: bool = False
) -> Compared:
    """Return what flights before and after a change tell; `same_wind` where they shared one."""
    moved = tuple(_moved(one) for one in paired.compare(before, after, same_wind=same_wind))
    winds = (UNLIKE,) if same_wind and one_wind([*before, *after]) is None else ()
    return Compared(
        flights=(len(before), len(after)),
        moved=moved,
        assumed=_assumed(moved),
        not_said=(*_one_sided(before, after), *_unlike(moved, before, after), *winds),
    )


def _moved(one: paired.Change) -> Moved:
    """Return a change with its figures."""
    wanted = WANTED[one.figure]
    reach = [TENTH * mean.sd for mean in (one.before, one.after)]
    ends = [
        (mean.value, mean.value - r, mean.value + r)
        for mean, r in zip((one.before, one.after), reach, strict=True)
    ]
    before, after, change = (
        Figure(
            name=one.figure,
            label=label,
            value=value,
            low=low,
            high=high,
            unit=one.unit,
            dimension=DIMENSIONS[one.unit],
        )
        for label, (value, low, high) in zip(
            (f"{one.label}, before", f"{one.label}, after", f"{one.label}, change"),
            (*ends, (one.value, one.low, one.high)),
            strict=True,
        )
    )
    return Moved(
        before=before,
        after=after,
        change=change,
        verdict=one.verdict,
        chance=one.chance,
        wanted="more" if wanted.more else "less",
        fly_more=one.fly_more,
        fly_more_before=one.fly_more_before,
        speed=one.speed,
        corrected=tuple(CORRECTED[kind] for kind in one.corrected),
        assumed=tuple(CORRECTED[kind] for kind in one.open),
    )


def _assumed(moved: Sequence[Moved]) -> tuple[str, ...]:
    """Return what both sides are taken to share, where a figure hangs on it.

    What other figures were brought over by is taken for the same for the named ones alone.
    """
    brought = {word for one in moved for word in one.corrected}
    unknown: dict[str, list[str]] = {}
    for one in moved:
        for word in one.assumed:
            unknown.setdefault(word, []).append(one.change.label.removesuffix(", change"))
    said = [
        f"{word}: the same on both sides" + (f", for {', '.join(names)}" if word in brought else "")
        for word, names in unknown.items()
    ]
    if any(WANTED[one.change.name].sensor for one in moved):
        said.append("the current sensor: the same on both sides")
    return tuple(said)


def _one_sided(before: Sequence[Flown], after: Sequence[Flown]) -> tuple[str, ...]:
    """Return what only one side tells."""
    sides = [{one.name for flight in side for one in flight.readings} for side in (before, after)]
    said = []
    for name, wanted in WANTED.items():
        if (name in sides[0]) != (name in sides[1]):
            where = "before" if name in sides[0] else "after"
            said.append(f"{wanted.label}: only the flights {where} the change tell it")
    return tuple(said)


def _unlike(
    moved: Sequence[Moved], before: Sequence[Flown], after: Sequence[Flown]
) -> tuple[str, ...]:
    """Return what both sides tell, but at speeds too far apart."""
    sides = [{one.name for flight in side for one in flight.readings} for side in (before, after)]
    done = {one.change.name for one in moved}
    return tuple(
        f"{wanted.label}: flown at speeds too far apart on the two sides"
        for name, wanted in WANTED.items()
        if name in sides[0] and name in sides[1] and name not in done
    )


def words(one: Moved) -> str:
    """Return the verdict on a figure as a sentence part: what to do where it cannot be told."""
    if one.verdict != "cannot tell":
        return one.verdict
    if one.fly_more is None:
        return "cannot tell, and a few more flights would not either"
    beside = f" and {one.fly_more_before} as before" if one.fly_more_before else ""
    return f"cannot tell: fly {one.fly_more} more{beside}"


def compared_json(found: Compared) -> dict[str, object]:
    """Return a comparison as the keys it adds to the contract."""
    return {
        "compared": [
            {
                "figure": one.change.name,
                "label": WANTED[one.change.name].label,
                "unit": one.change.unit,
                "before": _band(one.before),
                "after": _band(one.after),
                "change": _band(one.change),
                "verdict": one.verdict,
                "chance": one.chance,
                "wanted": one.wanted,
                "speed": one.speed,
                "fly_more": one.fly_more,
                "fly_more_before": one.fly_more_before,
                "corrected": list(one.corrected),
            }
            for one in found.moved
        ],
        "compared_assumed": list(found.assumed),
        "compared_not_said": list(found.not_said),
    }


def _band(figure: Figure) -> dict[str, float | None]:
    """Return a figure's value and band."""
    return {"value": figure.value, "low": figure.low, "high": figure.high}
