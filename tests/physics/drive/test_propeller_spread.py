"""Correlated multipliers and what a reading does to them."""

from dataclasses import replace

import numpy as np
import pytest
from scipy.stats import norm, qmc

from foamwright.physics.drive.propeller_spread import (
    LARGE_SPREAD,
    MOULDED_BIAS,
    MOULDED_CORRELATION,
    MOULDED_SPREAD,
    SMALL_SPREAD,
    StaticReading,
    blade_spread,
    conditioned,
    label_features,
    label_spread,
    moulded_spread,
    multipliers,
    rest_spread,
    table_spread,
)

NORMALS = norm.ppf(qmc.Sobol(3, seed=3).random(4096))
LABEL = label_spread(0.127, 0.0889, 2.0)


def test_samples_have_the_stated_spread_and_correlation() -> None:
    """Mean and covariance of the logs come back from 4096 Sobol samples."""
    made = multipliers(NORMALS, LABEL)
    logs = np.log(np.stack((made.advance, made.thrust, made.power)))
    assert logs.mean(axis=1) == pytest.approx(LABEL.mean, abs=2e-3)
    assert np.cov(logs) == pytest.approx(LABEL.covariance, abs=2e-3)


def test_spread_goes_smoothly_from_small_to_large() -> None:
    """Small up to 5.6 inch, large from 7 inch, between them in between."""
    deviations = [
        float(np.sqrt(label_spread(d * 0.0254, d * 0.0178, 2.0).covariance[2, 2]))
        for d in (4.0, 5.6, 6.3, 7.0, 9.0)
    ]
    assert deviations[0] == deviations[1] == pytest.approx(SMALL_SPREAD[2])
    assert deviations[3] == deviations[4] == pytest.approx(LARGE_SPREAD[2])
    assert deviations[3] < deviations[2] < deviations[1]


def test_the_features_vanish_at_their_centre() -> None:
    """8 inch, pitch 0.7 diameters, two blades: only the constant is left."""
    features = label_features(0.2032, 0.7 * 0.2032, 2.0)
    assert features == pytest.approx([1.0, 0.0, 0.0, 0.0], abs=1e-12)


def test_conditioning_agrees_with_weighting_samples() -> None:
    """Closed form against importance weights on 2^18 samples (mean and standard deviation)."""
    normals = norm.ppf(qmc.Sobol(3, seed=5).random(2**18))
    spread = replace(LABEL, curve_rest=np.zeros(3))
    made = multipliers(normals, spread)
    reading = StaticReading(thrust_ratio=0.9, power_ratio=1.2)
    wide = np.hypot([reading.thrust_error, reading.power_error], spread.rest_spread)
    wanted = np.log([0.9, 1.2]) - spread.rest_bias
    weight = norm.pdf(np.log(made.thrust), wanted[0], wide[0])
    weight = weight * norm.pdf(np.log(made.power), wanted[1], wide[1])
    weight = weight / weight.sum()
    after = conditioned(spread, reading)
    logs = np.log(np.stack((made.advance, made.thrust, made.power)))
    mean = logs @ weight
    assert after.mean == pytest.approx(mean, abs=5e-3)
    deviation = np.sqrt((logs - mean[:, None]) ** 2 @ weight)
    assert np.sqrt(np.diag(after.covariance)) == pytest.approx(deviation, rel=0.05)


def test_an_exact_reading_leaves_the_curve_open() -> None:
    """Without error of its own, a reading leaves what rest and flight differ by (6 to 10 %)."""
    after = conditioned(blade_spread(), StaticReading(power_ratio=1.1, power_error=0.0))
    assert 0.06 < np.sqrt(after.covariance[2, 2]) < 0.10


def test_an_exact_reading_settles_a_measured_table() -> None:
    """A table of the same propeller has no such difference: the multiplier is the reading."""
    after = conditioned(table_spread(), StaticReading(power_ratio=1.02, power_error=1e-6))
    made = multipliers(NORMALS, after)
    assert made.power == pytest.approx(np.full(4096, 1.02), rel=1e-3)
    assert made.thrust.std() > 0.01


def test_a_useless_reading_changes_nothing() -> None:
    """A reading of huge error, or none, leaves the spread as it was."""
    vague = conditioned(LABEL, StaticReading(power_ratio=2.0, power_error=1e3))
    assert vague.mean == pytest.approx(LABEL.mean, abs=1e-5)
    assert vague.covariance == pytest.approx(LABEL.covariance, abs=1e-5)
    assert conditioned(LABEL, StaticReading()) is LABEL


def test_more_knowledge_means_less_spread() -> None:
    """Label above measured blade above measured table, in power."""
    powers = [s.covariance[2, 2] for s in (LABEL, blade_spread(), table_spread())]
    assert powers == sorted(powers, reverse=True)


def test_rest_differs_from_flight_by_its_bias_and_spread() -> None:
    """Away from 5 inch: thrust and power shift by the bias, variances add, advance stays."""
    moving, rest = label_spread(0.2, 0.14, 2.0), rest_spread(0.2, 0.14, 2.0)
    assert rest.mean[1:] == pytest.approx(moving.mean[1:] + moving.rest_bias)
    added = np.diag(rest.covariance - moving.covariance)
    assert added == pytest.approx([0.0, *(moving.rest_spread**2)])
    assert rest.mean[0] == moving.mean[0]
    assert moulded_spread(0.2, 0.14, 2.0).mean == pytest.approx(moving.mean)


def test_moulded_propellers_of_five_inch_scatter_less() -> None:
    """At rest as the bench propellers; in flight a little more; advance never more than before."""
    rest, flight = rest_spread(0.127, 0.1, 3.0), moulded_spread(0.127, 0.1, 3.0)
    label = label_spread(0.127, 0.1, 3.0)
    assert np.sqrt(np.diag(rest.covariance))[1:] == pytest.approx(MOULDED_SPREAD)
    off = rest.covariance[1, 2] / MOULDED_SPREAD.prod()
    assert off == pytest.approx(MOULDED_CORRELATION)
    assert flight.mean[1:] == pytest.approx(label.mean[1:] + MOULDED_BIAS)
    assert np.all(np.diag(flight.covariance)[1:] > np.diag(rest.covariance)[1:])
    assert np.all(np.diag(flight.covariance) < np.diag(label.covariance))
    assert np.linalg.eigvalsh(flight.covariance).min() > 0
    assert np.linalg.eigvalsh(rest.covariance).min() > 0
