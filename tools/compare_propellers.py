"""Hold the propeller model against measurements: errors per propeller, coverage, worth of a test.

    PYTHONPATH=src python tools/compare_propellers.py performance.csv [blades.csv]

Errors are RMS over the working range (to 0.9 of zero thrust, above 3000 rpm), as shares of the
static value. The 80 % band runs from the 10th to the 90th percentile of 512 samples.
"""

import sys
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from numpy.typing import NDArray
from propeller_data import Measured, read
from scipy.stats import norm, qmc

from foamwright.physics.drive.blade import Blade, label_blade
from foamwright.physics.drive.propeller import (
    Multipliers,
    PropellerTable,
    coefficients,
    propeller_table,
)
from foamwright.physics.drive.propeller_spread import (
    Spread,
    StaticReading,
    blade_spread,
    conditioned,
    label_spread,
    multipliers,
)

Array = NDArray[np.float64]
NORMALS: Array = norm.ppf(qmc.Sobol(3, seed=1).random(512))
"""The samples every band is made of."""
PERCENTILES = (10.0, 90.0)
"""Ends of the 80 % band."""


@dataclass(frozen=True, kw_only=True)
class Held:
    """One propeller held against one prediction."""

    error: Array
    """(2,) RMS of CT and CP over static."""
    covered: Array
    """(2,) share of the working rows inside the 80 % band."""
    rows: int
    """Working rows."""
    middle: Array
    """(4,) predicted/measured of CT, CP at mid advance ratio: before, and after the reading."""


def band(table: PropellerTable, prop: Measured, spread: Spread) -> Array:
    """Return the ends of the band of CT and CP at the working rows, (2 ends, 2, rows)."""
    made = multipliers(NORMALS, spread)
    given = Multipliers(
        advance=made.advance[:, None], thrust=made.thrust[:, None], power=made.power[:, None]
    )
    use = prop.working
    CT, CP, _ = coefficients(
        table, prop.advance_ratio[use][None, :], prop.revolutions[use][None, :], given
    )
    return np.percentile(np.stack((CT, CP)), PERCENTILES, axis=1)


def middle_ratio(table: PropellerTable, prop: Measured, spread: Spread) -> Array:
    """Return the mean predicted/measured of CT and CP from 0.45 to 0.65 of zero thrust."""
    share = prop.advance_ratio / prop.zero_thrust
    use = (share > 0.45) & (share < 0.65) & (prop.thrust > 0)
    if not use.any():
        return np.full(2, np.nan)
    central = multipliers(np.zeros((1, 3)), spread)
    CT, CP, _ = coefficients(table, prop.advance_ratio[use], prop.revolutions[use], central)
    return np.array([(CT / prop.thrust[use]).mean(), (CP / prop.power[use]).mean()])


def static_reading(table: PropellerTable, prop: Measured) -> StaticReading | None:
    """Return the reading of CP the fastest static row stands for, if there is one."""
    rest = np.flatnonzero(prop.advance_ratio == 0)
    if rest.size == 0:
        return None
    fastest = rest[np.argmax(prop.revolutions[rest])]
    _, CP, _ = coefficients(table, np.zeros(1), prop.revolutions[fastest : fastest + 1])
    return StaticReading(power_ratio=float(prop.power[fastest] / CP[0]))


def hold(prop: Measured, blade: Blade, spread: Spread) -> Held:
    """Return one propeller held against the prediction from a blade and its spread."""
    table, _ = propeller_table(blade)
    use = prop.working
    central = multipliers(np.zeros((1, 3)), spread)
    CT, CP, _ = coefficients(table, prop.advance_ratio[use], prop.revolutions[use], central)
    measured = np.stack((prop.thrust[use], prop.power[use]))
    off = np.stack((CT, CP)) - measured
    low, high = band(table, prop, spread)
    inside = (measured >= low) & (measured <= high)
    before = middle_ratio(table, prop, spread)
    reading = static_reading(table, prop)
    after = np.full(2, np.nan)
    if reading is not None:
        after = middle_ratio(table, prop, conditioned(spread, reading))
    return Held(
        error=np.sqrt((off**2).mean(axis=1)) / np.array(prop.static),
        covered=inside.mean(axis=1),
        rows=int(use.sum()),
        middle=np.concatenate([before, after]),
    )


def summary(name: str, held: list[Held]) -> str:
    """Return the medians, coverage and worth of a static reading of a group in one line."""
    error = np.median([h.error for h in held], axis=0)
    rows = np.array([h.rows for h in held])
    covered = np.array([h.covered for h in held])
    by_row = (covered * rows[:, None]).sum(axis=0) / rows.sum()
    middle = np.nanstd(np.array([h.middle for h in held]), axis=0)
    return (
        f"{name:24s} n {len(held):3d}  median RMS CT {error[0]:.3f} CP {error[1]:.3f}"
        f"  in band by row {by_row[0]:.2f} {by_row[1]:.2f}"
        f" by propeller {covered[:, 0].mean():.2f} {covered[:, 1].mean():.2f}"
        f"  mid-J sd CT {middle[0]:.2f}->{middle[2]:.2f} CP {middle[1]:.2f}->{middle[3]:.2f}"
    )


def report(name: str, props: list[Measured], held: list[Held]) -> None:
    """Print every propeller, then whole, halves and sizes."""
    print(f"\n{name}: RMS error of CT and CP over static, share of rows in the 80 % band")
    for prop, found in zip(props, held, strict=True):
        far = "  far off" if found.error.min() > 0.25 else ""
        print(
            f"  {prop.name:18s} CT {found.error[0]:.3f} CP {found.error[1]:.3f}"
            f"  in band {found.covered[0]:.2f} {found.covered[1]:.2f}{far}"
        )
    small = np.array([prop.diameter < 6.5 * 0.0254 for prop in props])
    print(summary("all", held))
    print(summary("even half", held[::2]))
    print(summary("odd half", held[1::2]))
    for word, chosen in (("up to 6.5 inch", small), ("larger", ~small)):
        group = [h for h, take in zip(held, chosen, strict=True) if take]
        if group:
            print(summary(word, group))


def main() -> None:
    """Hold every propeller against its measured blade and against its label."""
    props = read(Path(sys.argv[1]), Path(sys.argv[2]) if len(sys.argv) > 2 else None)
    pairs = [(prop, blade) for prop in props if (blade := prop.blade()) is not None]
    if pairs:
        held = [hold(prop, blade, blade_spread()) for prop, blade in pairs]
        report("Measured blade", [prop for prop, _ in pairs], held)
    labelled = [
        hold(
            prop,
            label_blade(prop.diameter, prop.pitch, prop.blade_count),
            label_spread(prop.diameter, prop.pitch, prop.blade_count),
        )
        for prop in props
    ]
    report("Label alone", props, labelled)


if __name__ == "__main__":
    main()
