"""Read propeller measurements (performance.csv, blades.csv) for the fitting and comparing tools.

performance.csv: prop, diameter_in, pitch_in, blades, rpm, J, CT, CP, static, flag.
blades.csv: prop, r_over_R, c_over_R, beta_deg.
"""

import csv
from collections import defaultdict
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from foamwright.physics.drive.blade import Blade, BladeStations, measured_blade

INCH = 0.0254
LEAST_RPM = 3000.0
VISCOSITY = 1.5e-5
"""Kinematic viscosity of a laboratory near 20 degC [m2/s]."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Measured:
    """One propeller's rows above the least speed, sorted by J, mismatched rows left out."""

    name: str
    diameter: float
    pitch: float
    blade_count: float
    revolutions: NDArray[np.float64]
    advance_ratio: NDArray[np.float64]
    thrust: NDArray[np.float64]
    power: NDArray[np.float64]
    stations: BladeStations | None

    @property
    def static(self) -> tuple[float, float]:
        """Mean static CT and CP; without a static row, the row of least J."""
        rest = self.advance_ratio <= max(0.0, float(self.advance_ratio[0]))
        return float(self.thrust[rest].mean()), float(self.power[rest].mean())

    @property
    def zero_thrust(self) -> float:
        """J of zero thrust from a line through the rows of little thrust (or the last rows)."""
        moving = self.advance_ratio > 0
        J, CT = self.advance_ratio[moving], self.thrust[moving]
        little = np.abs(CT) < 0.35 * self.static[0]
        if little.sum() < 4:
            little = np.argsort(J) >= J.size - 6
        slope, level = np.polyfit(J[little], CT[little], 1)
        return float(-level / slope) if slope < 0 else float(J.max())

    @property
    def working(self) -> NDArray[np.bool_]:
        """Rows up to 0.9 of zero thrust."""
        return self.advance_ratio <= 0.9 * self.zero_thrust

    def blade(self) -> Blade | None:
        """Return the measured blade, if there is one."""
        if self.stations is None:
            return None
        return measured_blade(self.stations, self.diameter, self.blade_count)


def _stations(path: Path | None) -> dict[str, BladeStations]:
    rows: dict[str, list[tuple[float, float, float]]] = defaultdict(list)
    if path is not None:
        with path.open(newline="") as file:
            for row in csv.DictReader(file):
                rows[row["prop"]].append(
                    (float(row["r_over_R"]), float(row["c_over_R"]), float(row["beta_deg"]))
                )
    blades = {}
    for name, values in rows.items():
        table = np.array(sorted(values))
        blades[name] = BladeStations(
            radius=table[:, 0], chord=table[:, 1], twist=np.radians(table[:, 2])
        )
    return blades


def read(performance: Path, blades: Path | None) -> list[Measured]:
    """Return every propeller of the files, sorted by name."""
    stations = _stations(blades)
    rows: dict[str, list[dict[str, str]]] = defaultdict(list)
    with performance.open(newline="") as file:
        for row in csv.DictReader(file):
            if not row.get("flag") and float(row["rpm"]) > LEAST_RPM:
                rows[row["prop"]].append(row)
    found = []
    for name in sorted(rows):
        own = sorted(rows[name], key=lambda row: float(row["J"]))
        found.append(
            Measured(
                name=name,
                diameter=float(own[0]["diameter_in"]) * INCH,
                pitch=float(own[0]["pitch_in"]) * INCH,
                blade_count=float(own[0]["blades"]),
                revolutions=np.array([float(row["rpm"]) / 60 for row in own]),
                advance_ratio=np.array([float(row["J"]) for row in own]),
                thrust=np.array([float(row["CT"]) for row in own]),
                power=np.array([float(row["CP"]) for row in own]),
                stations=stations.get(name),
            )
        )
    return found
