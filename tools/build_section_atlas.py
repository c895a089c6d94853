"""Generate the shipped section atlas with the open section library (a development extra).

Run it in an environment that has `neuralfoil`:

    python tools/build_section_atlas.py src/foamwright/physics/data/section_atlas.npz

Nothing is corrected here: the file holds what the library says. Corrections against
wind-tunnel rows are made once, openly, in `foamwright.physics.lift.section`.
"""

import argparse
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import numpy as np

HalfThickness = Callable[[np.ndarray, float], np.ndarray]
"""Half thickness at chord fractions for a greatest thickness."""

MODEL_SIZE = "xxxlarge"
"""The biggest network of the library: generation takes a minute, so size costs nothing."""

TRANSITION_EXPONENT = 9.0
"""The usual value for an average wind tunnel; 5 fitted the measured rows no better."""

BLOCK = 1500
"""Points an evaluation: bigger batches fall out of cache and get slower."""

CAMBER_POSITION = 0.4
"""Chord fraction of greatest camber of every section in the atlas."""

SHAPED_THICKNESS = np.array(
    [0.02, 0.03, 0.04, 0.05, 0.06, 0.07, 0.08, 0.09, 0.10, 0.11, 0.12, 0.14, 0.17, 0.21]
)
SHAPED_CAMBER = np.array([0.0, 0.01, 0.02, 0.03, 0.04, 0.05, 0.06, 0.08])
PLATE_THICKNESS = np.array([0.01, 0.02, 0.03, 0.05, 0.08])
PLATE_CAMBER = np.array([0.0, 0.02, 0.04, 0.06, 0.08])
REYNOLDS = np.geomspace(2.0e4, 6.0e5, 16)
ALPHA_DEG = np.linspace(-16.0, 22.0, 39)

FLAP_CHORD = np.array([0.15, 0.25, 0.35])
FLAP_THICKNESS = np.array([0.06, 0.10, 0.14])
FLAP_DEFLECTION_DEG = np.linspace(-20.0, 20.0, 9)
FLAP_REYNOLDS = np.geomspace(4.0e4, 4.0e5, 4)
FLAP_LIFT = np.linspace(-1.0, 1.0, 11)
FLAP_CAMBER = 0.02


def mean_line(position: np.ndarray, camber: float) -> np.ndarray:
    """Return the height of the two-parabola mean line at chord fractions."""
    p = CAMBER_POSITION
    front = camber / p**2 * (2 * p * position - position**2)
    rear = camber / (1 - p) ** 2 * (1 - 2 * p + 2 * p * position - position**2)
    return np.where(position < p, front, rear)


def shaped_half_thickness(position: np.ndarray, thickness: float) -> np.ndarray:
    """Return half the four-digit thickness form, closed at the trailing edge."""
    x = position
    form = 0.2969 * np.sqrt(x) - 0.1260 * x - 0.3516 * x**2 + 0.2843 * x**3 - 0.1036 * x**4
    return 5.0 * thickness * form


def plate_half_thickness(position: np.ndarray, thickness: float) -> np.ndarray:
    """Return half the thickness of sheet with an elliptic nose and a sanded trailing edge."""
    nose = np.clip(position / (1.5 * thickness), 0.0, 1.0)
    tail = np.clip((1.0 - position) / max(0.05, 2.0 * thickness), 0.0, 1.0)
    return 0.5 * thickness * np.sqrt(nose * (2.0 - nose)) * tail


def coordinates(half: HalfThickness, thickness: float, camber: float) -> np.ndarray:
    """Return outline points from the trailing edge over the top and back, unit chord."""
    x = 0.5 * (1.0 - np.cos(np.linspace(0.0, np.pi, 121)))
    line, depth = mean_line(x, camber), half(x, thickness)
    upper = np.column_stack([x, line + depth])[::-1]
    lower = np.column_stack([x, line - depth])[1:]
    return np.vstack([upper, lower])


def evaluate(
    airfoil: Any,  # noqa: ANN401  the library has no types
    reynolds: np.ndarray,
    alpha: np.ndarray,
) -> np.ndarray:
    """Return lift, ln drag and moment, shape (3, reynolds, alpha)."""
    import neuralfoil  # noqa: PLC0415  the library is heavy and only needed here

    grid_re, grid_alpha = (a.ravel() for a in np.meshgrid(reynolds, alpha, indexing="ij"))
    parts = []
    for start in range(0, grid_re.size, BLOCK):
        chunk = slice(start, start + BLOCK)
        aero = neuralfoil.get_aero_from_airfoil(
            airfoil,
            alpha=grid_alpha[chunk],
            Re=grid_re[chunk],
            n_crit=TRANSITION_EXPONENT,
            model_size=MODEL_SIZE,
        )
        parts.append(np.stack([aero["CL"], np.log(aero["CD"]), aero["CM"]]))
    return np.concatenate(parts, axis=1).reshape(3, reynolds.size, alpha.size)


def family(half: HalfThickness, thicknesses: np.ndarray, cambers: np.ndarray) -> np.ndarray:
    """Return (3, thickness, camber, reynolds, alpha) of one family of sections."""
    import aerosandbox  # noqa: PLC0415

    rows = []
    for thickness in thicknesses:
        for camber in cambers:
            outline = coordinates(half, float(thickness), float(camber))
            airfoil = aerosandbox.Airfoil(coordinates=outline)
            rows.append(evaluate(airfoil, REYNOLDS, ALPHA_DEG))
    shape = (thicknesses.size, cambers.size, 3, REYNOLDS.size, ALPHA_DEG.size)
    return np.moveaxis(np.array(rows).reshape(shape), 2, 0)


def log_drag_at_lift(lift: np.ndarray, log_drag: np.ndarray, wanted: np.ndarray) -> np.ndarray:
    """Return ln drag at wanted lift on the unstalled branch of one curve, held at its ends."""
    low, high = int(np.argmin(lift[:20])), 20 + int(np.argmax(lift[20:34]))
    branch = np.maximum.accumulate(lift[low : high + 1]) + 1e-9 * np.arange(high + 1 - low)
    return np.interp(wanted, branch, log_drag[low : high + 1])


def flap_penalty() -> np.ndarray:
    """Return added ln drag at the same lift: (thickness, flap chord, deflection, Re, lift)."""
    import aerosandbox  # noqa: PLC0415

    shape = (
        FLAP_THICKNESS.size,
        FLAP_CHORD.size,
        FLAP_DEFLECTION_DEG.size,
        FLAP_REYNOLDS.size,
        FLAP_LIFT.size,
    )
    log_drag = np.zeros(shape)
    for i, thickness in enumerate(FLAP_THICKNESS):
        outline = coordinates(shaped_half_thickness, float(thickness), FLAP_CAMBER)
        plain = aerosandbox.Airfoil(coordinates=outline)
        for j, chord in enumerate(FLAP_CHORD):
            for k, deflection in enumerate(FLAP_DEFLECTION_DEG):
                bent = plain.add_control_surface(
                    deflection=float(deflection), hinge_point_x=1.0 - float(chord)
                )
                lift, drag, _ = evaluate(bent, FLAP_REYNOLDS, ALPHA_DEG)
                for n in range(FLAP_REYNOLDS.size):
                    log_drag[i, j, k, n] = log_drag_at_lift(lift[n], drag[n], FLAP_LIFT)
    neutral = FLAP_DEFLECTION_DEG.size // 2
    return log_drag - log_drag[:, :, neutral : neutral + 1]


def build() -> dict[str, np.ndarray]:
    """Return every array of the atlas under the name it is stored with."""
    shaped = family(shaped_half_thickness, SHAPED_THICKNESS, SHAPED_CAMBER)
    plate = family(plate_half_thickness, PLATE_THICKNESS, PLATE_CAMBER)
    arrays = {
        "log_reynolds": np.linspace(np.log(REYNOLDS[0]), np.log(REYNOLDS[-1]), REYNOLDS.size),
        "alpha": np.deg2rad(ALPHA_DEG),
        "shaped_thickness": SHAPED_THICKNESS,
        "shaped_camber": SHAPED_CAMBER,
        "plate_thickness": PLATE_THICKNESS,
        "plate_camber": PLATE_CAMBER,
        "flap_thickness": FLAP_THICKNESS,
        "flap_chord": FLAP_CHORD,
        "flap_deflection": np.deg2rad(FLAP_DEFLECTION_DEG),
        "flap_log_reynolds": np.linspace(
            np.log(FLAP_REYNOLDS[0]), np.log(FLAP_REYNOLDS[-1]), FLAP_REYNOLDS.size
        ),
        "flap_lift": FLAP_LIFT,
        "flap_log_drag": flap_penalty().astype(np.float16),
    }
    for name, block in (("shaped", shaped), ("plate", plate)):
        for quantity, values in zip(("lift", "log_drag", "moment"), block, strict=True):
            arrays[f"{name}_{quantity}"] = values.astype(np.float16)
    return arrays


def main() -> None:
    """Write the atlas where the first argument says."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("target", type=Path)
    target = parser.parse_args().target
    arrays = build()
    np.savez_compressed(target, **arrays)  # type: ignore[arg-type]
    sys.stdout.write(f"{target}: {target.stat().st_size / 1e6:.2f} MB\n")


if __name__ == "__main__":
    main()
