"""How far a propeller may be from its prediction, and what a bench reading settles.

The logs of the three multipliers (advance ratio scale, thrust, power) are jointly normal: a
propeller that pulls more also asks for more, so independent spreads would triple that of
efficiency. Fitted to the open tunnel data by tools/fit_propeller_labels.py, with the few
propellers far off counted at three robust standard deviations. The standard deviations are those
for a new propeller: they hold the uncertainty of the bias, and in thrust and power the 6 % of
static values that no three multipliers can bring onto a curve.
"""

from dataclasses import dataclass, replace

import numpy as np

from foamwright.physics.arrays import Grid, Samples
from foamwright.physics.drive.blade import LABEL_DIAMETER, LABEL_PITCH_RATIO
from foamwright.physics.drive.propeller import Multipliers

LABEL_BIAS = np.array(
    [
        [0.024, 0.102, -0.058, -0.151],
        [0.027, -0.055, -0.449, -0.281],
        [0.054, 0.034, -0.329, -0.318],
    ]
)
"""Bias of the label prediction in ln (advance, thrust, power): constant, per ln of diameter over
8 inch, per pitch ratio above 0.7, per ln of half the blade count."""
SMALL_SPREAD = np.array([0.124, 0.229, 0.332])
"""ln standard deviations of the label prediction up to 5.6 inch [-]."""
LARGE_SPREAD = np.array([0.090, 0.186, 0.181])
"""The same from 7 inch."""
LABEL_CORRELATION = np.array([[1.0, 0.090, 0.392], [0.090, 1.0, 0.848], [0.392, 0.848, 1.0]])
"""Correlations of advance, thrust, power."""
SMALL_LIMIT = 5.6 * 0.0254
"""Up to here a propeller is small [m]."""
LARGE_LIMIT = 7.0 * 0.0254
"""From here it is not [m]."""
BLADE_BIAS = np.array([-0.032, 0.024, 0.032])
"""Bias of the prediction from the measured blade."""
BLADE_SPREAD = np.array([0.102, 0.147, 0.175])
"""ln standard deviations with the blade measured."""
BLADE_CORRELATION = np.array([[1.0, 0.321, 0.638], [0.321, 1.0, 0.804], [0.638, 0.804, 1.0]])
"""Correlations with the blade measured."""
TABLE_SPREAD = np.array([0.02, 0.03, 0.03])
"""ln standard deviations of a measured table: common practice, no source, for another example of
the same propeller and the stand's own error."""

REST_BIAS = np.array([-0.039, -0.037])
"""ln of thrust and power at rest over what the moving curve says, median of the data."""
REST_SPREAD = np.array([0.050, 0.073])
"""ln standard deviation of the same from propeller to propeller."""
CURVE_REST = np.array([0.0, 0.057, 0.057])
"""The part of the spreads above that no multiplier can express and no reading at rest removes:
median RMS of the fitted curves over static values."""

MOULDED_SIZE = (4.5 * 0.0254, 5.6 * 0.0254)
"""Diameters the bench propellers below speak for [m]."""
MOULDED_BIAS = np.array([-0.088, -0.182])
"""ln of thrust and power at rest of eight moulded 5-inch propellers (two to four blades, nine
motors) over the label prediction at rest, mean; power through the motors' own constants. The
tunnel's small propellers run from 2.2 inch up and scatter three times as much."""
MOULDED_SPREAD = np.array([0.082, 0.134])
"""ln standard deviation of the same for a new propeller: 0.070 and 0.114 of the eight, with the
uncertainty of mean and scatter of so few."""
MOULDED_CORRELATION = 0.79
"""Correlation of thrust and power among the eight."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Spread:
    """The joint normal of ln (advance, thrust, power)."""

    mean: Grid
    """(3,) [-]"""
    covariance: Grid
    """(3, 3) [-]"""
    curve_rest: Grid
    """(3,) [-] Standard deviations within it that belong to the shape of the curve: a reading at
    rest leaves them."""
    rest_bias: Grid
    """(2,) [-] ln of thrust and power at rest over what the moving curve says."""
    rest_spread: Grid
    """(2,) [-] Standard deviation of the same."""


@dataclass(frozen=True, kw_only=True, slots=True)
class StaticReading:
    """Bench readings at rest over the table's values at the same speed; either may be left out."""

    thrust_ratio: float | None = None
    """CT measured over CT of the table [-]."""
    power_ratio: float | None = None
    """CP measured over CP of the table [-]."""
    thrust_error: float = 0.03
    """ln standard deviation of the first [-]."""
    power_error: float = 0.05
    """ln standard deviation of the second [-]: rpm, current and the motor's losses."""


def _spread(mean: Grid, deviation: Grid, correlation: Grid) -> Spread:
    return Spread(
        mean=mean,
        covariance=correlation * np.outer(deviation, deviation),
        curve_rest=CURVE_REST,
        rest_bias=REST_BIAS,
        rest_spread=REST_SPREAD,
    )


def label_features(diameter: float, pitch: float, blade_count: float) -> Grid:
    """Return what the bias of a label depends on: 1, size, pitch ratio, blade count.

    Parameters
    ----------
    diameter : float [m]
        Printed diameter.
    pitch : float [m]
        Printed pitch.
    blade_count : float [-]
        Number of blades.

    Returns
    -------
    (4,) [-]

    Source
    ------
    own-derivation
    """
    return np.array(
        [
            1.0,
            np.log(diameter / LABEL_DIAMETER),
            pitch / diameter - LABEL_PITCH_RATIO,
            np.log(blade_count / 2.0),
        ]
    )


def label_spread(diameter: float, pitch: float, blade_count: float) -> Spread:
    """Return the spread about the table of the typical blade of a label.

    Parameters
    ----------
    diameter : float [m]
        Printed diameter.
    pitch : float [m]
        Printed pitch.
    blade_count : float [-]
        Number of blades.

    Returns
    -------
    Spread [-]

    Valid
    -----
    2.2 to 9.2 inch, pitch 0.3 to 1.25 diameters, two to four blades.

    Source
    ------
    uiuc-propellers
    """
    size = np.log(LARGE_LIMIT / diameter) / np.log(LARGE_LIMIT / SMALL_LIMIT)
    small = float(np.clip(size, 0.0, 1.0))
    return _spread(
        LABEL_BIAS @ label_features(diameter, pitch, blade_count),
        small * SMALL_SPREAD + (1.0 - small) * LARGE_SPREAD,
        LABEL_CORRELATION,
    )


def rest_spread(diameter: float, pitch: float, blade_count: float) -> Spread:
    """Return the spread at rest about the table of the typical blade of a label.

    What is at rest departs from the moving curve by a bias and a spread. About 5 inch, bench
    propellers tell thrust and power at rest better than the tunnel's of all small sizes do.

    Parameters
    ----------
    diameter : float [m]
        Printed diameter.
    pitch : float [m]
        Printed pitch.
    blade_count : float [-]
        Number of blades.

    Returns
    -------
    Spread [-]

    Source
    ------
    uiuc-propellers, cao-strawson-2018
    """
    moving = label_spread(diameter, pitch, blade_count)
    found = Spread(
        mean=moving.mean + np.concatenate([[0.0], moving.rest_bias]),
        covariance=moving.covariance + np.diag(np.concatenate([[0.0], moving.rest_spread**2])),
        curve_rest=np.zeros(3),
        rest_bias=np.zeros(2),
        rest_spread=np.zeros(2),
    )
    if not MOULDED_SIZE[0] <= diameter <= MOULDED_SIZE[1]:
        return found
    return _of_kind(found, _moulded_covariance())


def moulded_spread(diameter: float, pitch: float, blade_count: float) -> Spread:
    """Return the spread in flight about the table of a moulded propeller's label.

    About 5 inch, what the bench propellers tell at rest, less what rest and flight differ by;
    of other sizes the spread of the label.

    Parameters
    ----------
    diameter : float [m]
        Printed diameter.
    pitch : float [m]
        Printed pitch.
    blade_count : float [-]
        Number of blades.

    Returns
    -------
    Spread [-]

    Source
    ------
    uiuc-propellers, cao-strawson-2018
    """
    moving = label_spread(diameter, pitch, blade_count)
    if not MOULDED_SIZE[0] <= diameter <= MOULDED_SIZE[1]:
        return moving
    apart = np.diag(moving.rest_spread**2 + moving.curve_rest[1:] ** 2)
    return _of_kind(moving, _moulded_covariance() + apart)


def _moulded_covariance() -> Grid:
    correlation: Grid = np.array([[1.0, MOULDED_CORRELATION], [MOULDED_CORRELATION, 1.0]])
    covariance: Grid = correlation * np.outer(MOULDED_SPREAD, MOULDED_SPREAD)
    return covariance


def _of_kind(spread: Spread, own: Grid) -> Spread:
    """Return a spread with thrust and power of moulded propellers, their covariance given.

    The scale of advance ratio keeps its regression on thrust and power.
    """
    block = spread.covariance[1:, 1:]
    slope = np.linalg.solve(block, spread.covariance[1:, 0])
    left = spread.covariance[0, 0] - slope @ block @ slope
    joined = np.vstack([slope, np.eye(2)])
    return replace(
        spread,
        mean=spread.mean + joined @ MOULDED_BIAS,
        covariance=joined @ own @ joined.T + np.diag([left, 0.0, 0.0]),
    )


def blade_spread() -> Spread:
    """Return the spread about the table of a measured blade.

    Returns
    -------
    Spread [-]

    Source
    ------
    uiuc-propellers
    """
    return _spread(BLADE_BIAS, BLADE_SPREAD, BLADE_CORRELATION)


def table_spread() -> Spread:
    """Return the spread about a measured table: 2 % on advance ratio, 3 % on thrust and power.

    Returns
    -------
    Spread [-]

    Source
    ------
    common-practice
    """
    return Spread(
        mean=np.zeros(3),
        covariance=LABEL_CORRELATION * np.outer(TABLE_SPREAD, TABLE_SPREAD),
        curve_rest=np.zeros(3),
        rest_bias=np.zeros(2),
        rest_spread=np.zeros(2),
    )


def conditioned(spread: Spread, reading: StaticReading) -> Spread:
    """Return the spread left after a static reading, in closed form.

    A reading tells the multipliers of thrust and power but for its own error and for what rest
    and flight differ by, so the logs stay normal; the scale of advance ratio narrows through its
    correlation.

    Parameters
    ----------
    spread : Spread
        Before the reading.
    reading : StaticReading
        Thrust, power, or both, with their errors.

    Returns
    -------
    Spread [-]

    Source
    ------
    own-derivation, uiuc-propellers
    """
    pairs = (
        (reading.thrust_ratio, reading.thrust_error),
        (reading.power_ratio, reading.power_error),
    )
    seen = [row for row, (ratio, _) in enumerate(pairs) if ratio is not None]
    if not seen:
        return spread
    read = np.array([np.log(ratio) for ratio, _ in pairs if ratio is not None])
    found = read - spread.rest_bias[seen]
    errors = np.array([pairs[row][1] for row in seen])
    index = [row + 1 for row in seen]
    rest = np.diag(spread.curve_rest**2)
    prior = spread.covariance - rest
    noise = np.diag(errors**2 + spread.rest_spread[seen] ** 2)
    gain = np.linalg.solve(prior[np.ix_(index, index)] + noise, prior[index]).T
    return replace(
        spread,
        mean=spread.mean + gain @ (found - spread.mean[index]),
        covariance=prior - gain @ prior[index] + rest,
    )


def multipliers(normals: Samples, spread: Spread) -> Multipliers:
    """Return the multipliers of samples from their standard normals.

    The same normals serve before and after a reading, so Sobol samples stay Sobol samples.

    Parameters
    ----------
    normals : (n, 3) [-]
        Standard normal numbers, independent.
    spread : Spread
        The joint normal of the logs.

    Returns
    -------
    Multipliers [-]

    Source
    ------
    own-derivation
    """
    factor = np.linalg.cholesky(spread.covariance + 1e-12 * np.eye(3))
    logs = spread.mean + normals @ factor.T
    advance, thrust, power = np.exp(logs).T
    return Multipliers(advance=advance, thrust=thrust, power=power)
