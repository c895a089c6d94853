"""Hold the section atlas against measured rows and print bias and scatter.

    python tools/compare_sections.py ROWS.csv SHAPES.csv [--raw] [--atlas ATLAS.npz]

ROWS has the columns section, kind, Re, alpha_deg, Cl, Cd; SHAPES has section, thickness,
camber, sheet (0 or 1): what a builder with a ruler knows. With --raw the corrections of
`foamwright.physics.lift.correction` are left out, which is how they were derived.
"""

import argparse
import csv
import sys
from collections import defaultdict
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from foamwright.physics.lift.section import (
    SectionAtlas,
    SectionTable,
    StripShapes,
    atlas_from_arrays,
    drag_at_lift,
    maximum_lift,
    section_table,
    zero_lift_angle,
)

SHIPPED = Path("src/foamwright/physics/data/section_atlas.npz")
SAME_RUN = 0.06
"""Rows whose Reynolds numbers differ by less than this belong to one run."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Run:
    """Measured rows of one section at one Reynolds number, by rising angle."""

    section: str
    reynolds: float
    alpha: np.ndarray
    lift: np.ndarray
    drag: np.ndarray


@dataclass(frozen=True, kw_only=True, slots=True)
class Comparison:
    """Measured less ours for one run."""

    run: Run
    sheet: bool
    zero_lift: float
    """[deg], not a number where no measured row lies below zero lift."""
    maximum: float
    """Highest measured lift less maximum lift; some runs stop before the stall."""
    least_drag: float
    """ln of least measured over least drag at the lift of the rows."""
    drag: np.ndarray
    """ln of measured over our drag at the same lift, unstalled rows."""
    share: np.ndarray
    """Size of lift over the highest measured, same rows."""


def read_runs(path: Path) -> list[Run]:
    """Return the runs in a file of measured rows."""
    sections: dict[str, list[tuple[float, float, float, float]]] = defaultdict(list)
    with path.open(newline="") as file:
        for row in csv.DictReader(line for line in file if not line.startswith("#")):
            values = (float(row[key]) for key in ("Re", "alpha_deg", "Cl", "Cd"))
            sections[row["section"]].append(tuple(values))  # type: ignore[arg-type]
    runs = []
    for section, rows in sections.items():
        table = np.array(sorted(rows))
        start = np.flatnonzero(np.diff(np.log(table[:, 0])) > SAME_RUN) + 1
        for part in np.split(table, start):
            ordered = part[np.argsort(part[:, 1])]
            number = float(part[:, 0].mean())
            runs.append(
                Run(
                    section=section,
                    reynolds=number,
                    alpha=ordered[:, 1],
                    lift=ordered[:, 2],
                    drag=ordered[:, 3],
                )
            )
    return runs


def read_shapes(path: Path) -> dict[str, StripShapes]:
    """Return each section as a strip of thickness and camber."""
    with path.open(newline="") as file:
        return {
            row["section"]: StripShapes(
                thickness=np.array([float(row["thickness"])]),
                camber=np.array([float(row["camber"])]),
                sheet=np.array([row["sheet"] == "1"]),
                flap_chord=np.zeros(1),
            )
            for row in csv.DictReader(line for line in file if not line.startswith("#"))
        }


def read_atlas(path: Path) -> SectionAtlas:
    """Return the atlas in a file."""
    with np.load(path) as arrays:
        return atlas_from_arrays(dict(arrays))


def compare(run: Run, table: SectionTable, *, sheet: bool) -> Comparison:
    """Return measured less ours."""
    number = np.array([[run.reynolds]])
    ceiling = float(maximum_lift(table, number)[0, 0])
    ours, _ = drag_at_lift(table, np.log(number), run.lift[:, None])
    ratio = np.log(run.drag / ours[:, 0])
    kept = np.abs(run.lift) < 0.95 * min(ceiling, float(run.lift.max()))
    place = int(np.argmax(run.lift >= 0.0))
    crosses = place > 0
    measured_zero = (
        np.interp(0.0, run.lift[place - 1 : place + 1], run.alpha[place - 1 : place + 1])
        if crosses
        else np.nan
    )
    return Comparison(
        run=run,
        sheet=sheet,
        zero_lift=float(measured_zero - np.rad2deg(zero_lift_angle(table, number)[0, 0])),
        maximum=float(run.lift.max() - ceiling),
        least_drag=float(np.log(run.drag.min() / ours.min())),
        drag=ratio[kept],
        share=np.abs(run.lift[kept]) / run.lift.max(),
    )


def lines(comparisons: list[Comparison]) -> list[str]:
    """Return the printed table and the summaries of shaped sections and sheet."""
    head = f"{'section':<12}{'Re':>8}{'zero lift':>11}{'max lift':>10}{'ln CDmin':>10}"
    out = [head + f"{'ln CD mean':>12}{'sd':>7}{'rows':>6}"]
    out.extend(
        f"{c.run.section:<12}{c.run.reynolds:>8.0f}{c.zero_lift:>+11.2f}{c.maximum:>+10.3f}"
        f"{c.least_drag:>+10.2f}{c.drag.mean():>+12.2f}{c.drag.std():>7.2f}{c.drag.size:>6d}"
        for c in comparisons
    )
    for name, sheet in (("shaped", False), ("sheet", True)):
        group = [c for c in comparisons if c.sheet == sheet]
        if group:
            out.extend(_summary(name, group))
    return out


def _summary(name: str, group: list[Comparison]) -> list[str]:
    drag = np.concatenate([c.drag for c in group])
    share = np.concatenate([c.share for c in group])
    out = [f"{name}: measured less ours, mean and sd of {len(group)} runs"]
    for label, values in (
        ("zero-lift angle [deg]", np.array([c.zero_lift for c in group])),
        ("maximum lift", np.array([c.maximum for c in group])),
        ("ln least drag", np.array([c.least_drag for c in group])),
        ("ln drag at lift", drag),
    ):
        out.append(f"  {label:<24}{np.nanmean(values):>+8.3f}{np.nanstd(values):>8.3f}")
    for low in (0.0, 0.2, 0.4, 0.6, 0.8):
        part = drag[(share >= low) & (share < low + 0.2)]
        if part.size:
            span = f"  at {low:.1f}-{low + 0.2:.1f} of max lift"
            out.append(f"{span:<26}{part.mean():>+8.3f}{part.std():>8.3f}{part.size:>5d}")
    return out


def main() -> None:
    """Print the comparison."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("rows", type=Path)
    parser.add_argument("shapes", type=Path)
    parser.add_argument("--raw", action="store_true", help="leave the corrections out")
    parser.add_argument("--atlas", type=Path, default=SHIPPED)
    asked = parser.parse_args()
    atlas, shapes = read_atlas(asked.atlas), read_shapes(asked.shapes)
    comparisons = []
    for run in read_runs(asked.rows):
        strip = shapes[run.section]
        table = section_table(atlas, strip, corrected=not asked.raw)
        comparisons.append(compare(run, table, sheet=bool(strip.sheet[0])))
    sys.stdout.write("\n".join(lines(comparisons)) + "\n")


if __name__ == "__main__":
    main()
