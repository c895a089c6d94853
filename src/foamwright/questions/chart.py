"""What a chart shows, as data: page, paper and picture draw the same."""

from dataclasses import dataclass

import numpy as np

from foamwright.physics.arrays import Grid, Samples


@dataclass(frozen=True, kw_only=True, slots=True)
class Axis:
    """One axis."""

    label: str
    """Its words."""
    dimension: str
    """As in a figure, so that it is shown in the user's units."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Curve:
    """One line with its band."""

    name: str
    """Its words."""
    x: tuple[float, ...]
    """Places [SI]."""
    y: tuple[float | None, ...]
    """Medians [SI]; none where most samples have no value."""
    low: tuple[float | None, ...] = ()
    """10 % points [SI]; empty for a line without a band."""
    high: tuple[float | None, ...] = ()
    """90 % points [SI]."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Row:
    """One line of a list: a value with its band, beside the band that was expected."""

    label: str
    """Its words."""
    value: float
    """[SI]."""
    low: float
    """10 % point, or where its bar starts [SI]."""
    high: float
    """90 % point [SI]."""
    expected: tuple[float, float] | None = None
    """10 and 90 % points before it was known [SI]; none where nothing was expected."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Mark:
    """One place on the chart that is worth a word."""

    label: str
    """The word."""
    x: float | None = None
    """Place along the first axis [SI]; none for a level line."""
    y: float | None = None
    """Along the second [SI]; none for an upright line."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Chart:
    """One chart: lines, a table of chances over two axes, or a list of values with bands."""

    name: str
    """A short name, for its file."""
    title: str
    """What it shows."""
    x: Axis
    """The first axis, to the right."""
    y: Axis
    """The second, up."""
    curves: tuple[Curve, ...] = ()
    """Lines."""
    across: tuple[float, ...] = ()
    """Places of a table along the first axis [SI]."""
    up: tuple[float, ...] = ()
    """And along the second [SI]."""
    chances: tuple[tuple[float, ...], ...] = ()
    """Chance in each cell, a row for each place along the second axis."""
    rows: tuple[Row, ...] = ()
    """Values with their bands along the first axis, from the top down."""
    marks: tuple[Mark, ...] = ()
    """Places worth a word."""


def told(values: Grid) -> tuple[float | None, ...]:
    """Return numbers as plain data; what is no number is none."""
    return tuple(float(v) if np.isfinite(v) else None for v in values)


def curve(name: str, x: Grid, samples: Samples) -> Curve:
    """Return samples (n, k) at places (k,) as a line with its 10-90 % band."""
    quantiles = np.full((3, len(x)), np.nan)
    for place in range(len(x)):
        finite = samples[np.isfinite(samples[:, place]), place]
        if finite.size * 2 >= len(samples) and finite.size:
            quantiles[:, place] = np.quantile(finite, (0.1, 0.5, 0.9))
    low, middle, high = (told(row) for row in quantiles)
    return Curve(name=name, x=tuple(float(v) for v in x), y=middle, low=low, high=high)
