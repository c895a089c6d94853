"""Fit the effective blade section once to all measured propellers; print both halves of a split.

    PYTHONPATH=src python tools/fit_propeller_sections.py performance.csv blades.csv

Even and odd propellers of the sorted names are the halves. The fit weighs every propeller alike
and uses a soft loss, so the few whose blade and curve do not belong together do not pull it.
"""

import sys
from dataclasses import fields, replace
from pathlib import Path

import numpy as np
from numpy.typing import NDArray
from propeller_data import VISCOSITY, Measured, read
from scipy.optimize import least_squares

from foamwright.physics.drive.blade import Blade
from foamwright.physics.drive.blade_element import Operation, blade_element
from foamwright.physics.drive.blade_sections import SectionParameters

ROWS = 12
"""Rows taken of each propeller, spread evenly over its working range."""
LOOSE = 0.08
"""Where the soft loss turns from squares to lines, in shares of the static value."""
START = SectionParameters(
    lift_slope=5.5,
    slope_exponent=0.03,
    zero_lift_share=0.6,
    stall_angle=0.35,
    stall_width=0.08,
    drag_least=0.025,
    drag_exponent=0.4,
    drag_curvature=0.1,
    drag_curvature_below=0.1,
    drag_lift=0.4,
    delay=2.0,
    width_slope=0.0,
    width_camber=0.5,
)
"""What one would take without the data: thin cambered plates near Re 1e5."""
FIXED = ("plate_lift", "plate_drag")
"""Not fitted: the data hold next to no fully stalled point."""
PULL = {
    "lift_slope": 0.3,
    "slope_exponent": 0.05,
    "zero_lift_share": 0.3,
    "stall_angle": 0.04,
    "stall_width": 0.01,
    "drag_exponent": 0.15,
    "delay": 0.5,
    "width_slope": 0.3,
    "width_camber": 2.0,
}
"""Standard deviation of the weak pull of a parameter towards its start."""


def _pick(props: list[Measured]) -> tuple[Blade, Operation, NDArray[np.float64]]:
    parts: list[tuple[Blade, NDArray[np.float64]]] = []
    for prop in props:
        blade = prop.blade()
        if blade is None:
            continue
        rows = np.flatnonzero(prop.working)
        J = prop.advance_ratio[rows]
        wanted = np.linspace(0.0, J.max(), ROWS)
        own = rows[[int(np.argmin(np.abs(J - value))) for value in wanted]]
        CT0, CP0 = prop.static
        values = np.column_stack(
            [
                prop.advance_ratio[own],
                prop.revolutions[own],
                prop.thrust[own] / CT0,
                prop.power[own] / CP0,
                np.full(ROWS, CT0),
                np.full(ROWS, CP0),
            ]
        )
        parts.append((blade, values))
    data = np.vstack([values for _, values in parts])

    def stacked(name: str) -> NDArray[np.float64]:
        return np.concatenate([np.repeat(getattr(b, name), ROWS, axis=0) for b, _ in parts])

    names = ("diameter", "blade_count", "chord", "twist", "camber", "thickness")
    blade = Blade(radius=parts[0][0].radius, **{name: stacked(name) for name in names})
    operation = Operation(
        advance_ratio=data[:, 0],
        revolutions=data[:, 1],
        kinematic_viscosity=np.full(len(data), VISCOSITY),
    )
    return blade, operation, data[:, 2:]


def fit(props: list[Measured], start: SectionParameters) -> SectionParameters:
    """Return the section that fits the propellers best."""
    blade, operation, data = _pick(props)
    names = [field.name for field in fields(start) if field.name not in FIXED]
    first = np.array([getattr(start, name) for name in names])
    scale = np.maximum(np.abs(first), 0.02)

    def made(unit: NDArray[np.float64]) -> SectionParameters:
        return replace(start, **dict(zip(names, (first + scale * unit).tolist(), strict=True)))

    def soft(error: NDArray[np.float64]) -> NDArray[np.float64]:
        size = np.sqrt(2 * (np.sqrt(1 + (error / LOOSE) ** 2) - 1))
        return np.asarray(np.sign(error) * LOOSE * size)

    def residual(unit: NDArray[np.float64]) -> NDArray[np.float64]:
        parameters = made(unit)
        CT, CP, _ = blade_element(blade, operation, parameters)
        # A propeller is one witness, not twelve: the pulls count against one row each.
        pulls = [
            LOOSE * (getattr(parameters, name) - getattr(start, name)) / deviation
            for name, deviation in PULL.items()
        ]
        return np.concatenate(
            [soft(CT / data[:, 2] - data[:, 0]), soft(CP / data[:, 3] - data[:, 1]), pulls]
        )

    found = least_squares(residual, np.zeros(first.size), diff_step=[1e-3], max_nfev=25)
    return made(found.x)


def errors(props: list[Measured], parameters: SectionParameters) -> NDArray[np.float64]:
    """Return RMS errors of CT and CP over the working range, over the static values."""
    rows = []
    for prop in props:
        blade = prop.blade()
        if blade is None:
            continue
        operation = Operation(
            advance_ratio=prop.advance_ratio,
            revolutions=prop.revolutions,
            kinematic_viscosity=np.full(prop.revolutions.size, VISCOSITY),
        )
        CT, CP, _ = blade_element(blade, operation, parameters)
        CT0, CP0 = prop.static
        use = prop.working
        rows.append(
            [
                float(np.sqrt(np.mean((CT - prop.thrust)[use] ** 2))) / CT0,
                float(np.sqrt(np.mean((CP - prop.power)[use] ** 2))) / CP0,
            ]
        )
    return np.array(rows)


def main() -> None:
    """Fit halves and whole, print medians and parameters."""
    props = [prop for prop in read(Path(sys.argv[1]), Path(sys.argv[2])) if prop.stations]
    start = START
    halves = props[::2], props[1::2]
    for own, other, name in ((halves[0], halves[1], "even"), (halves[1], halves[0], "odd")):
        parameters = fit(own, start)
        print(name, "own", np.median(errors(own, parameters), axis=0).round(4), end=" ")
        print("other", np.median(errors(other, parameters), axis=0).round(4))
        print("   ", parameters)
    parameters = fit(props, start)
    print("whole", np.median(errors(props, parameters), axis=0).round(4))
    print(parameters)


if __name__ == "__main__":
    main()
