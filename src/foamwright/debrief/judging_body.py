"""Judging attitude, rates, accelerations and sticks by each other."""

from dataclasses import replace

import numpy as np

from foamwright.debrief.evidence import (
    CORRELATED,
    fitted_slope,
    slope_over,
    smoothed,
    turned,
    unit_of_ratio,
)
from foamwright.debrief.judging import (
    UNIT_GUESSED,
    Bench,
    Verdict,
    big,
    borne_out,
    by_size,
    in_unit,
    number,
    plain,
    stated,
)
from foamwright.debrief.logged_units import GRAVITY
from foamwright.debrief.naming import Meaning
from foamwright.physics.arrays import Grid

RATES = ("deg/s", "rad/s", "ddeg/s", "cdeg/s", "mrad/s")
SHARES = (1.0, 100.0, 1000.0)
WHOLES = {1.0: 0.6, 100.0: 0.6, 500.0: 0.85, 512.0: 0.85, 1000.0: 0.85, 1024.0: 0.85}
"""What the end of a stick is written as, and how near it has to come to be known by it; those of
`SHARES` also without a minus side."""
TILTS = ("roll", "pitch", "heading")
FASTEST_TURN = 36.0
"""What rate sensors of small planes show at most, 2000 degrees a second [rad s^-1]."""
LAG = 0.4
"""Time over which a rate and the change of an angle are compared [s]."""


def tilt(bench: Bench, values: Grid, meaning: Meaning) -> Verdict:
    """Judge roll or pitch: the angles of one log share their unit."""
    if meaning.unit:
        return stated(values, meaning)
    beside = [bench.written[name] for name in TILTS if name in bench.written] or [values]
    most = max(big(one) for one in beside)
    for unit, low, high in (
        ("deg", 7.0, 365.0),
        ("ddeg", 365.0, 3650.0),
        ("cdeg", 3650.0, 36500.0),
    ):
        if low < most <= high:
            because = f"the angles beside it reach {number(most)}"
            return in_unit(unit, meaning.taken_as, 0.9, because)
    if 2.6 < most < 6.4 and big(values) < 3.2:
        because = f"the angles beside it reach {number(most)}, half or a whole turn in radians"
        return in_unit("rad", meaning.taken_as, 0.9, because)
    return by_size(values, meaning, ("deg", "rad"))


def change_of(bench: Bench, taken_as: str) -> Grid | None:
    """Return the change of the angle a rate belongs to [rad s^-1]; none if it was not recorded.

    A body rate is the change of its angle only near level: banked or steep rows are left out.
    """
    angle = taken_as.removesuffix("_wanted").removesuffix("_rate")
    known = bench.known.get({"yaw": "heading"}.get(angle, angle))
    if known is None and angle == "yaw":
        known = bench.known.get("course")
    if known is None:
        return None
    found = slope_over(bench.time, turned(known), max(LAG, 4 * bench.step))
    for name in ("roll", "pitch"):
        if name in bench.known and angle != "roll":
            found = np.where(np.abs(bench.known[name]) < 0.5, found, np.nan)
    return found


def rate(bench: Bench, values: Grid, meaning: Meaning) -> Verdict:
    """Judge a body rate: against the change of its angle, else by the fastest sensors."""
    change = change_of(bench, meaning.taken_as)
    if change is not None and not meaning.taken_as.endswith("_wanted"):
        slope, agreed = fitted_slope(change, smoothed(bench.time, values, max(LAG, 4 * bench.step)))
        match = unit_of_ratio(abs(slope), "angular rate", RATES, near=0.35)
        if abs(agreed) > CORRELATED and match is not None:
            because = f"the angle changes by it (correlation {agreed:.2f})"
            found = borne_out(meaning, match.unit, because, 0.95)
            return replace(found, factor=float(np.copysign(found.factor, agreed)))
    if meaning.unit:
        return stated(values, meaning)
    sibling = meaning.taken_as.removesuffix("_wanted")
    if sibling != meaning.taken_as and sibling in bench.known and sibling in bench.written:
        like = fitted_slope(bench.known[sibling], values)
        match = unit_of_ratio(abs(like[0]), "angular rate", RATES, near=0.5)
        if like[1] > CORRELATED and match is not None:
            because = f"the measured rate follows it (correlation {like[1]:.2f})"
            return in_unit(match.unit, meaning.taken_as, 0.9, because)
    if big(values) > FASTEST_TURN:
        return (
            by_size(values, meaning, ("deg/s",)) if big(values) < 2100 else by_size(values, meaning)
        )
    return by_size(values, meaning, ("deg/s", "rad/s"))


def up_acceleration(bench: Bench, values: Grid, meaning: Meaning) -> Verdict:
    """Judge the load on the wing: over a flight it is one g upwards."""
    middle = float(np.nanmedian(values))
    sign = float(np.copysign(1.0, middle))
    if meaning.unit:
        found = stated(values, meaning)
        loads = abs(middle) * found.factor / GRAVITY
        if 0.6 < loads < 1.6:
            because = f"its middle is {loads:.2f} g" + ("" if sign > 0 else ", downwards positive")
            return replace(found, factor=sign * found.factor, sure=0.95, because=because)
        return replace(found, sure=UNIT_GUESSED, because=f"its middle is {loads:.2f} g, not 1 g")
    match = unit_of_ratio(GRAVITY / abs(middle), "acceleration", ("m/s2", "g", "mg", "cm/s2"), 0.3)
    del bench
    if middle and match is not None:
        found = in_unit(
            match.unit, meaning.taken_as, 0.9, f"its middle, {number(middle)}, is one g"
        )
        return replace(found, factor=sign * found.factor)
    return by_size(values, meaning)


def acceleration(bench: Bench, values: Grid, meaning: Meaning) -> Verdict:
    """Judge a forward or side acceleration: in the unit of the one upwards."""
    found = plain(bench, values, meaning)
    return found if meaning.unit else replace(found, sure=UNIT_GUESSED)


def share(bench: Bench, values: Grid, meaning: Meaning) -> Verdict:
    """Judge a throttle: a share, percent, a pulse length, or a stick from end to end."""
    del bench
    low, high = float(np.nanmin(values)), float(np.nanmax(values))
    one_way = meaning.taken_as in {"throttle", "link_quality"}
    sure = min(0.9, meaning.strength)
    if meaning.unit == "%":
        because = f"percent, from {number(low)} to {number(high)}"
        found = in_unit("%", meaning.taken_as, meaning.strength, because)
        return found if low >= -100.5 and high <= 110 else replace(found, sure=UNIT_GUESSED)
    if low >= 800 and high <= 2250:
        because = f"pulses of {number(low)} to {number(high)} microseconds"
        middle, reach = (1000.0, 1000.0) if one_way else (1500.0, 500.0)
        return Verdict(
            unit="us", factor=1 / reach, offset=-middle / reach, sure=sure, because=because
        )
    return scaled(low, high, sure, meaning)


def scaled(low: float, high: float, sure: float, meaning: Meaning) -> Verdict:
    """Return the verdict on a stick or share by the numbers it reaches."""
    reach = max(high, -low)
    because = f"it runs from {number(low)} to {number(high)}"
    centred = low < -0.02 * high
    whole = next((one for one, least in WHOLES.items() if least < reach / one <= 1.02), 0.0)
    if whole == 0.0 or (whole not in SHARES and not centred):
        why = f"no usual scale runs from {number(low)} to {number(high)}"
        return Verdict(unit="", factor=1.0, sure=0.3, because=why)
    unit = {1.0: "1", 100.0: "%"}.get(whole, "")
    one_way = meaning.taken_as in {"throttle", "link_quality"}
    if one_way and centred:  # a throttle that rests at the lower end of a stick
        ends = sure if low < -0.9 * whole else UNIT_GUESSED
        return Verdict(unit=unit, factor=0.5 / whole, offset=0.5, sure=ends, because=because)
    both = one_way or centred
    return Verdict(
        unit=unit, factor=1 / whole, sure=sure if both else UNIT_GUESSED, because=because
    )


def satellites(bench: Bench, values: Grid, meaning: Meaning) -> Verdict:
    """Judge a count of satellites: whole numbers below sixty."""
    del bench
    known = values[np.isfinite(values)]
    whole = bool(np.mean(np.abs(known - np.round(known)) < 1e-6) > 0.99)
    fits = whole and known.min() >= 0 and known.max() <= 60
    because = f"whole numbers up to {number(float(known.max()))}" if fits else "not whole numbers"
    return in_unit("1", meaning.taken_as, 0.95 if fits else UNIT_GUESSED, because)


def signal(bench: Bench, values: Grid, meaning: Meaning) -> Verdict:
    """Judge a signal strength: decibels below a milliwatt are negative."""
    if meaning.unit:
        return stated(values, meaning)
    if float(np.nanmedian(values)) < -5 and big(values) < 140:
        return in_unit("dBm", meaning.taken_as, 0.9, "negative, as decibels of a milliwatt are")
    found = plain(bench, values, meaning)
    return replace(found, sure=UNIT_GUESSED, because="no unit is written; it may be a share")


def temperature(bench: Bench, values: Grid, meaning: Meaning) -> Verdict:
    """Judge a temperature: without a unit, degrees Celsius or Fahrenheit."""
    if meaning.unit:
        return stated(values, meaning)
    del bench
    if float(np.nanmin(values)) >= -20 and float(np.nanmax(values)) < 55:
        return in_unit("degC", meaning.taken_as, 0.82, "as Fahrenheit it would be frost")
    return by_size(values, meaning, ("degC", "degF"))
