"""Flights before a change beside flights after it: what moved, and how sure that is.

The wind of a flight is found once, so its error is the same in all that was flown in it: three
dashes of one flight are not three measurements. Each flight counts as often as it tells
something new; flights also differ for reasons nobody sees, and a single one does not show that.
"""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from foamwright.debrief.like_speed import at_like_speed
from foamwright.debrief.observed import Flown, Reading
from foamwright.debrief.same_wind import Sides, in_one_wind
from foamwright.debrief.wanted import EXPONENT, WANTED, Wanted
from foamwright.physics.numerics.normal import TENTH

HELPED = 0.9
"""From this chance that it moved as wanted it is said to have."""
MOST = 20
"""More flights than these are not advised."""
CONDITIONS = ("voltage", "mass", "density")
"""What the sides may differ in, and are corrected for where both tell it."""
SLACK = 1e-3
"""Conditions that differ by less are taken as the same, relative."""

Verdict = Literal["helped", "did not", "cannot tell"]


@dataclass(frozen=True, kw_only=True, slots=True)
class Mean:
    """A figure of one flight, or of one side."""

    value: float
    """SI."""
    sd: float
    """One sigma, SI."""
    count: float
    """How many readings, or flights, it is worth."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Change:
    """How one figure moved from one side to the other."""

    figure: str
    """Key of `WANTED`."""
    label: str
    unit: str
    before: Mean
    after: Mean
    """As it would be in the conditions of the side before."""
    value: float
    """After less before, SI."""
    sd: float
    """One sigma, SI."""
    verdict: Verdict
    chance: float
    """That it moved as wanted."""
    fly_more: int | None
    """Flights after the change that would settle it, should the difference stay; None where it is
    settled, or where no reasonable number would."""
    fly_more_before: int
    """And as many before the change, where flights after it alone would not do."""
    speed: float | None
    """Airspeed at which it is compared, where that matters [m s^-1]."""
    corrected: tuple[str, ...]
    """Conditions it was corrected for."""
    open: tuple[str, ...]
    """Conditions it hangs on that a side does not tell."""

    @property
    def low(self) -> float:
        """Return the lower end of the 80 % band, SI."""
        return self.value - TENTH * self.sd

    @property
    def high(self) -> float:
        """Return the upper end of the 80 % band, SI."""
        return self.value + TENTH * self.sd


def compare(
    before: Sequence[Flown], after: Sequence[Flown], *, same_wind: bool = False
) -> tuple[Change, ...]:
    """Return how every figure moved that both sides have, in the order of `WANTED`.

    `same_wind` tells that all flights were flown within an hour or so, in one wind.
    """
    sides: Sides = (before, after)
    changes = (
        change(name, *(in_one_wind(name, WANTED[name], sides) if same_wind else sides))
        for name in WANTED
    )
    return tuple(one for one in changes if one is not None)


def change(name: str, before: Sequence[Flown], after: Sequence[Flown]) -> Change | None:
    """Return how one figure moved; None where a side does not have it."""
    wanted = WANTED[name]
    speed = None
    if wanted.at_speed is not None:
        (before, after), speed = at_like_speed(
            name, wanted.at_speed, (before, after), at_lowest=wanted.at_lowest
        )
    parts = [_flights(name, side) for side in (before, after)]
    if not all(parts):
        return None
    conditions = [_conditions(name, side) for side in (before, after)]
    shift, doubt, corrected = _brought_over(wanted, *conditions)
    first = _side(parts[0], wanted.scatter)
    second = _side([_scaled(one, shift) for one in parts[1]], wanted.scatter)
    moved = second.value - first.value
    own = doubt * second.value
    sd = math.sqrt(first.sd**2 + second.sd**2 + own**2)
    no_matter = wanted.no_matter * first.value
    verdict, chance = judged(moved if wanted.more else -moved, sd, no_matter)
    more = (None, 0) if verdict != "cannot tell" else _fly_more(first, second, own, no_matter)
    return Change(
        figure=name,
        label=wanted.label,
        unit=wanted.unit,
        before=first,
        after=second,
        value=moved,
        sd=sd,
        verdict=verdict,
        chance=chance,
        fly_more=more[0],
        fly_more_before=more[1],
        speed=speed,
        corrected=corrected,
        open=tuple(
            kind
            for kind in CONDITIONS
            if getattr(wanted, kind) and not all(kind in side for side in conditions)
        ),
    )


def judged(gain: float, sd: float, no_matter: float) -> tuple[Verdict, float]:
    """Return the verdict on a gain of so many, and the chance that there is one.

    What is surely smaller than matters did not help, even where it is surely there.
    """
    chance = 0.5 * math.erfc(-gain / (sd * math.sqrt(2.0)))
    if abs(gain) + TENTH * sd <= no_matter or chance <= 1.0 - HELPED:
        return "did not", chance
    return ("helped" if chance >= HELPED else "cannot tell"), chance


def within_flight(readings: Sequence[Reading], wanted: Wanted) -> Mean:
    """Return the mean of a figure over the segments of one flight.

    The wind's part of every sd is one and the same error; only the rest averages. The sensor's
    part is the same on both sides, and is left out. The count is
    that of readings independent of each other that would tell as much (Kish, design effect).

    Source: kish-1965.
    """
    weights = [1.0 / one.sd**2 for one in readings]
    whole = sum(weights)
    weights = [weight / whole for weight in weights]
    shared = [_by_wind(one, wanted) for one in readings]
    common = sum(w * s for w, s in zip(weights, shared, strict=True)) ** 2
    own = [max(one.sd**2 - (wanted.sensor * one.value) ** 2, 0.0) for one in readings]
    alone = sum(
        w**2 * max(square - s**2, 0.0) for w, square, s in zip(weights, own, shared, strict=True)
    )
    single = sum(w * square for w, square in zip(weights, own, strict=True))
    return Mean(
        value=sum(w * one.value for w, one in zip(weights, readings, strict=True)),
        sd=math.sqrt(common + alone),
        count=single / (common + alone) if single else float(len(readings)),
    )


def _by_wind(reading: Reading, wanted: Wanted) -> float:
    """Return the part of a reading's sd that the wind brings."""
    speed = reading.speed if wanted.unit != "m s^-1" else reading.value
    if not speed or not wanted.airspeed:
        return 0.0
    return min(reading.sd, abs(wanted.airspeed * reading.value) * reading.wind_sd / speed)


def _flights(name: str, side: Sequence[Flown]) -> list[Mean]:
    """Return the figure of each flight of a side that has it."""
    found = []
    for flight in side:
        readings = [one for one in flight.readings if one.name == name]
        if readings:
            found.append(within_flight(readings, WANTED[name]))
    return found


def _scaled(mean: Mean, shift: float) -> Mean:
    """Return a mean as it would be in other conditions."""
    return Mean(value=mean.value * shift, sd=mean.sd * shift, count=mean.count)


def _side(flights: Sequence[Mean], scatter: float) -> Mean:
    """Return the mean of one side, flights weighted by what they tell and how they scatter.

    Where they lie farther apart than that explains, the sd grows with them (Birge).

    Source: birge-1932.
    """
    usual = sum(one.value for one in flights) / len(flights)
    weights = [1.0 / (one.sd**2 + (scatter * usual) ** 2) for one in flights]
    whole = sum(weights)
    value = sum(w * one.value for w, one in zip(weights, flights, strict=True)) / whole
    apart = sum(w * (one.value - value) ** 2 for w, one in zip(weights, flights, strict=True))
    free = len(flights) - 1
    ratio = math.sqrt(max(1.0, apart / free)) if free else 1.0
    return Mean(value=value, sd=ratio / math.sqrt(whole), count=float(len(flights)))


def _conditions(name: str, side: Sequence[Flown]) -> dict[str, float]:
    """Return the mean conditions a figure was flown in, of those that every reading tells."""
    told = [one.conditions for flight in side for one in flight.readings if one.name == name]
    return {
        kind: math.fsum(one[kind] for one in told) / len(told)
        for kind in CONDITIONS
        if all(kind in one for one in told)
    }


def _brought_over(
    wanted: Wanted, before: Mapping[str, float], after: Mapping[str, float]
) -> tuple[float, float, tuple[str, ...]]:
    """Return the factor from one side's conditions to the other's, its doubt, and for what."""
    logs = {
        kind: getattr(wanted, kind) * math.log(before[kind] / after[kind])
        for kind in CONDITIONS
        if kind in before and kind in after
    }
    told = {kind: value for kind, value in logs.items() if abs(value) > SLACK}
    doubt = EXPONENT * math.sqrt(sum(value**2 for value in told.values()))
    return math.exp(sum(told.values())), doubt, tuple(told)


def _fly_more(before: Mean, after: Mean, own: float, no_matter: float) -> tuple[int | None, int]:
    """Return how many flights after the change settle it, and how many before it beside them.

    The difference is taken to stay where it is, and every flight to tell as much as those did.
    Settled is a band that leaves zero, or one that lies within what does not matter.
    """
    moved = abs(after.value - before.value)
    for both in (False, True):
        for more in range(1, MOST + 1):
            first = before.sd**2 * before.count / (before.count + (more if both else 0))
            second = after.sd**2 * after.count / (after.count + more)
            reach = TENTH * math.sqrt(first + second + own**2)
            if reach < moved or moved + reach <= no_matter:
                return more, more if both else 0
    return None, 0
