"""Fit bias and spread of the label and of the measured blade; print both halves of a split.

    PYTHONPATH=src python tools/fit_propeller_labels.py performance.csv blades.csv

Each propeller is fitted by three multipliers (advance ratio scale, thrust, power). Their logs are
regressed on size, pitch ratio and blade count; what is left is the spread.
"""

import sys
from dataclasses import dataclass, replace
from pathlib import Path

import numpy as np
from compare_propellers import hold, summary
from numpy.typing import NDArray
from propeller_data import Measured, read
from scipy.optimize import least_squares

from foamwright.physics.drive.blade import Blade, label_blade
from foamwright.physics.drive.propeller import Multipliers, coefficients, propeller_table
from foamwright.physics.drive.propeller_spread import (
    LARGE_LIMIT,
    SMALL_LIMIT,
    Spread,
    label_features,
    label_spread,
)

Array = NDArray[np.float64]
SOFT = 0.15
"""Where a propeller's departure counts by its size instead of its square [-]."""
CAP = 3.0
"""A propeller further off counts as this many robust standard deviations."""


@dataclass(frozen=True, kw_only=True)
class LabelFit:
    """What the spread module is given."""

    bias: Array
    small: Array
    large: Array
    correlation: Array


def logs_of(prop: Measured, blade: Blade) -> tuple[Array, float]:
    """Return ln (advance, thrust, power) that bring a blade's table onto the rows; the rest."""
    table, _ = propeller_table(blade)
    use = prop.advance_ratio <= 0.95 * prop.zero_thrust
    J = prop.advance_ratio[use]
    CT0, CP0 = prop.static
    rest = J == 0
    share = 0.5 / np.sqrt(max(rest.sum(), 1)), 1 / np.sqrt((~rest).sum())
    weight = np.where(rest, *share)

    def residual(logs: Array) -> Array:
        advance, thrust, power = np.exp(logs)[:, None]
        given = Multipliers(advance=advance, thrust=thrust, power=power)
        CT, CP, _ = coefficients(table, J, prop.revolutions[use], given)
        return np.concatenate(
            [weight * (CT - prop.thrust[use]) / CT0, weight * (CP - prop.power[use]) / CP0]
        )

    found = least_squares(residual, np.zeros(3), diff_step=[1e-4])
    return np.asarray(found.x), float(np.sqrt(found.cost))


def rest_against_flight(prop: Measured, blade: Blade) -> Array | None:
    """Return ln of static thrust and power over what multipliers of the moving rows say."""
    rest = prop.advance_ratio == 0
    if not rest.any():
        return None
    moving = replace(
        prop,
        advance_ratio=prop.advance_ratio[~rest],
        revolutions=prop.revolutions[~rest],
        thrust=prop.thrust[~rest],
        power=prop.power[~rest],
    )
    logs, _ = logs_of(moving, blade)
    table, _ = propeller_table(blade)
    CT, CP, _ = coefficients(table, np.zeros(rest.sum()), prop.revolutions[rest])
    static = [np.log(prop.thrust[rest] / CT).mean(), np.log(prop.power[rest] / CP).mean()]
    return np.array(static) - logs[1:]


def _bias(features: Array, logs: Array) -> Array:
    columns = []
    for column in logs.T:

        def residual(slopes: Array, column: Array = column) -> Array:
            return np.asarray(features @ slopes - column)

        start = np.zeros(features.shape[1])
        columns.append(least_squares(residual, start, loss="soft_l1", f_scale=SOFT).x)
    return np.array(columns)


def _capped(left: Array) -> Array:
    robust = 1.4826 * np.median(np.abs(left), axis=0)
    return np.asarray(np.clip(left, -CAP * robust, CAP * robust))


def _predictive(left: Array, count: int, slopes: int, rest: float) -> Array:
    """Return standard deviations for a new propeller.

    Beyond the scatter: the freedoms the regression took, its own uncertainty, and on thrust and
    power what three multipliers can't express of a curve.
    """
    taken = count / (count - slopes) * (1.0 + slopes / count)
    return np.asarray(np.sqrt((left**2).mean(axis=0) * taken + np.array([0.0, rest, rest]) ** 2))


def fit(props: list[Measured], logs: Array, rest: float) -> LabelFit:
    """Return bias and spread of the label prediction."""
    features = np.array([label_features(p.diameter, p.pitch, p.blade_count) for p in props])
    bias = _bias(features, logs)
    left = logs - features @ bias.T
    size = np.array([p.diameter for p in props])
    small = _capped(left[size <= SMALL_LIMIT])
    large = _capped(left[size >= LARGE_LIMIT])
    unit = np.vstack([small / small.std(axis=0), large / large.std(axis=0)])
    return LabelFit(
        bias=bias,
        small=_predictive(small, len(props), features.shape[1], rest),
        large=_predictive(large, len(props), features.shape[1], rest),
        correlation=np.corrcoef(unit.T),
    )


def _show(name: str, found: LabelFit) -> None:
    print(name)
    for field in ("bias", "small", "large", "correlation"):
        print(f"  {field}: {getattr(found, field).round(3).tolist()}")


def spread_from(found: LabelFit, prop: Measured) -> Spread:
    """Return the spread of a label as `label_spread` would, from a fit of our own."""
    size = np.log(LARGE_LIMIT / prop.diameter) / np.log(LARGE_LIMIT / SMALL_LIMIT)
    small = float(np.clip(size, 0.0, 1.0))
    deviation = small * found.small + (1.0 - small) * found.large
    return replace(
        label_spread(prop.diameter, prop.pitch, prop.blade_count),
        mean=found.bias @ label_features(prop.diameter, prop.pitch, prop.blade_count),
        covariance=found.correlation * np.outer(deviation, deviation),
    )


def check_half(name: str, found: LabelFit, others: list[Measured]) -> None:
    """Print how the fit of one half does on the other."""
    held = [
        hold(p, label_blade(p.diameter, p.pitch, p.blade_count), spread_from(found, p))
        for p in others
    ]
    print(summary(name, held))


def main() -> None:
    """Fit halves and whole; then the spread of the measured blade."""
    props = read(Path(sys.argv[1]), Path(sys.argv[2]))
    fits = [logs_of(p, label_blade(p.diameter, p.pitch, p.blade_count)) for p in props]
    logs = np.array([found for found, _ in fits])
    rests = [rest for _, rest in fits]
    rest = float(np.median(rests))
    print("median rest of the fits:", round(rest, 3))
    for name, own in (("even", slice(0, None, 2)), ("odd", slice(1, None, 2))):
        found = fit(props[own], logs[own], float(np.median(rests[own])))
        _show(name, found)
        other = slice(1 - (own.start or 0), None, 2)
        check_half(f"fit on {name}, other half", found, props[other])
    _show("whole", fit(props, logs, rest))
    gaps = [rest_against_flight(p, label_blade(p.diameter, p.pitch, p.blade_count)) for p in props]
    gap = np.array([found for found in gaps if found is not None])
    print(
        "rest over flight: median", np.median(gap, axis=0).round(3), "sd", gap.std(axis=0).round(3)
    )
    blades = [(p, blade) for p in props if (blade := p.blade()) is not None]
    fits = [logs_of(p, blade) for p, blade in blades]
    logs = np.array([found for found, _ in fits])
    rest = float(np.median([own for _, own in fits]))
    middle = np.median(logs, axis=0)
    left = _capped(logs - middle)
    spread = _predictive(left, len(blades), 1, rest)
    print("measured blade: bias", middle.round(3), "spread", spread.round(3))
    print(np.corrcoef(left.T).round(3).tolist())


if __name__ == "__main__":
    main()
