"""Section coefficients against wind-tunnel rows and thin-airfoil theory.

Rows and characteristics: Selig et al. 1989, 1995, 2004 and Lyon et al. 1998, as cited in the
data files. A section is represented by its thickness and camber alone. Tolerances are what
published facilities differ by: least drag 20 % to Reynolds number 103 k and 12 % above 199 k,
maximum lift 0.10, zero-lift angle 0.7 deg. What the atlas does not reach is listed by name and
the list is held exactly, so that it can neither grow nor rot.
"""

import csv
import math
from pathlib import Path

import numpy as np
import pytest

from foamwright.physics.lift.atlas import SectionAtlas, StripShapes, atlas_from_arrays
from foamwright.physics.lift.coordinates import outline
from foamwright.physics.lift.correction import SECTION_CLMAX_SD, SECTION_DRAG_LN_SD
from foamwright.physics.lift.lattice import Reference, unit_loads
from foamwright.physics.lift.panels import Surface
from foamwright.physics.lift.section import drag_at_lift, maximum_lift, zero_lift_angle
from foamwright.physics.lift.strips import (
    StallCase,
    StripLoading,
    critical_section_lift,
    strip_loading,
)
from foamwright.physics.lift.table import SectionTable, section_table
from foamwright.physics.lift.thin_airfoil import four_digit, from_slope, stations

pytestmark = pytest.mark.published

DATA = Path(__file__).parent / "data"
ATLAS = Path(__file__).parents[2] / "src/foamwright/physics/data/section_atlas.npz"

LEAST_DRAG_MISSED = {"SEC-5", "SEC-9", "SEC-10", "SEC-12", "SEC-13", "SEC-14"}
"""Least drag comes out 12 to 30 % too high on these: all on the safe side."""

MAXIMUM_LIFT_MISSED = {"SEC-12", "SEC-13", "SEC-14", "SEC-18"}
"""NACA 2.5411 stalls 0.10 to 0.18 below ours; NACA 6409 at 200 k 0.11 above ours."""

DRAG_RISE_MISSED = {"Clark-Y"}
"""Least drag at 60 k is 3.1 times that at 300 k with ours, 2.65 measured."""

ZERO_LIFT_MISSED: set[str] = set()
"""All measured zero-lift angles are reached."""


def rows_of(name: str) -> list[dict[str, str]]:
    """The rows of one data file."""
    with (DATA / name).open(newline="") as file:
        return list(csv.DictReader(line for line in file if not line.startswith("#")))


@pytest.fixture(scope="module")
def atlas() -> SectionAtlas:
    """The shipped atlas."""
    with np.load(ATLAS) as arrays:
        return atlas_from_arrays(dict(arrays))


@pytest.fixture(scope="module")
def tables(atlas: SectionAtlas) -> dict[str, SectionTable]:
    """One strip for each measured section."""
    return {
        row["section"]: section_table(
            atlas,
            StripShapes(
                thickness=np.array([float(row["thickness"])]),
                camber=np.array([float(row["camber"])]),
                sheet=np.array([row["sheet"] == "1"]),
                flap_chord=np.zeros(1),
            ),
        )
        for row in rows_of("sections_shapes.csv")
    }


def polar(table: SectionTable, reynolds: float) -> tuple[np.ndarray, np.ndarray]:
    """Lift from -0.4 to the maximum, and drag."""
    lift = np.linspace(-0.4, float(maximum_lift(table, np.array([reynolds]))[0]), 300)
    drag, _ = drag_at_lift(table, np.full((300, 1), math.log(reynolds)), lift[:, None])
    return lift, drag[:, 0]


def row_errors(tables: dict[str, SectionTable], *, sheet: bool) -> np.ndarray:
    """Ln of measured over our drag at the same lift, rows below 0.95 of maximum lift."""
    errors = []
    for row in rows_of("sections_rows.csv"):
        table, number = tables[row["section"]], float(row["Re"])
        lift = float(row["Cl"])
        ceiling = float(maximum_lift(table, np.array([number]))[0])
        if (row["kind"] == "cambered-plate") == sheet and abs(lift) < 0.95 * ceiling:
            drag, _ = drag_at_lift(table, np.array([math.log(number)]), np.array([lift]))
            errors.append(math.log(float(row["Cd"]) / drag[0]))
    return np.array(errors)


def test_least_drag_is_reached_but_for_the_named_runs(tables: dict[str, SectionTable]) -> None:
    """Least drag within facility scatter on all runs but those listed."""
    missed = set()
    for row in rows_of("sections_characteristics.csv"):
        number, measured = float(row["Re"]), float(row["min_drag"])
        _, drag = polar(tables[row["section"]], number)
        if abs(drag.min() / measured - 1.0) > (0.20 if number < 1.5e5 else 0.12):
            missed.add(row["id"])
    assert missed == LEAST_DRAG_MISSED


def test_maximum_lift_is_reached_but_for_the_named_runs(tables: dict[str, SectionTable]) -> None:
    """Maximum lift within 0.10 on all runs that reach it but those listed."""
    missed = {
        row["id"]
        for row in rows_of("sections_characteristics.csv")
        if row["max_lift"]
        and abs(
            maximum_lift(tables[row["section"]], np.array([float(row["Re"])]))[0]
            - float(row["max_lift"])
        )
        > 0.10
    }
    assert missed == MAXIMUM_LIFT_MISSED


def test_zero_lift_angle_is_reached(tables: dict[str, SectionTable]) -> None:
    """Zero-lift angle within 0.7 deg on every run that gives it."""
    missed = {
        row["id"]
        for row in rows_of("sections_characteristics.csv")
        if row["zero_lift_deg"]
        and abs(
            np.rad2deg(zero_lift_angle(tables[row["section"]], np.array([float(row["Re"])]))[0])
            - float(row["zero_lift_deg"])
        )
        > 0.7
    }
    assert missed == ZERO_LIFT_MISSED


def test_best_ratio_has_no_bias_left(tables: dict[str, SectionTable]) -> None:
    """Best lift over drag of 18 shaped runs: mean within 5 %, scatter below the stated spread."""
    errors = []
    for row in rows_of("sections_characteristics.csv"):
        if row["section"] != "flat plate":
            lift, drag = polar(tables[row["section"]], float(row["Re"]))
            errors.append(math.log(float(row["best_ratio"]) / (lift / drag).max()))
    assert len(errors) == 18
    assert abs(np.mean(errors)) < 0.05
    assert np.std(errors) < SECTION_DRAG_LN_SD


def test_flat_plate_best_ratio_is_that_of_a_plate(tables: dict[str, SectionTable]) -> None:
    """Best lift over drag of flat sheet within 10 % of 12.3, 12.6 and 13.4."""
    for row in rows_of("sections_characteristics.csv"):
        if row["section"] == "flat plate":
            lift, drag = polar(tables["flat plate"], float(row["Re"]))
            assert (lift / drag).max() == pytest.approx(float(row["best_ratio"]), rel=0.10)


def test_shaped_rows_scatter_within_the_stated_spread(tables: dict[str, SectionTable]) -> None:
    """Drag at given lift of shaped sections: bias below 4 %, 80 % band holds 75 to 95 %."""
    errors = row_errors(tables, sheet=False)
    assert errors.size > 80
    assert abs(errors.mean()) < 0.04
    assert errors.std() < SECTION_DRAG_LN_SD
    assert 0.75 < np.mean(np.abs(errors) < 1.2816 * SECTION_DRAG_LN_SD) < 0.95


def test_bent_sheet_rows_carry_no_bias(tables: dict[str, SectionTable]) -> None:
    """Drag of bent sheet at given lift: bias below 6 %; its scatter, 0.23, is above 0.20."""
    errors = row_errors(tables, sheet=True)
    assert abs(errors.mean()) < 0.06
    assert 0.20 < errors.std() < 0.26


def test_maximum_lift_of_all_runs_scatters_as_stated(tables: dict[str, SectionTable]) -> None:
    """Highest measured lift less ours over 15 runs: mean within 0.04, sd within the spread."""
    errors = [
        float(row["max_lift"])
        - maximum_lift(tables[row["section"]], np.array([float(row["Re"])]))[0]
        for row in rows_of("sections_characteristics.csv")
        if row["max_lift"]
    ]
    assert len(errors) == 15
    assert abs(np.mean(errors)) < 0.04
    assert np.std(errors) < SECTION_CLMAX_SD


def test_least_drag_doubles_to_triples_at_low_reynolds_number(
    tables: dict[str, SectionTable],
) -> None:
    """Least drag at 60 k is 2 to 3 times that at 300 k, but for the named section."""
    missed = set()
    for section in ("E387", "Clark-Y", "NACA 2.5411"):
        low, high = (polar(tables[section], number)[1].min() for number in (6.0e4, 3.0e5))
        if not 2.0 < low / high < 3.0:
            missed.add(section)
    assert missed == DRAG_RISE_MISSED


@pytest.mark.parametrize("section", ["E387", "Clark-Y", "NACA 2.5411", "NACA 6409"])
def test_cambered_sections_lose_zero_lift_angle_below_100_k(
    tables: dict[str, SectionTable], section: str
) -> None:
    """The zero-lift angle shrinks in size from 200 k to 100 k to 60 k."""
    found = zero_lift_angle(tables[section], np.array([[2.0e5], [1.0e5], [6.0e4]]))[:, 0]
    assert found[0] < found[1] < found[2] < 0.0


def test_moment_of_bent_sheet_is_that_measured(atlas: SectionAtlas) -> None:
    """Quarter-chord moment at working angles within 0.05: it is up to 0.042 too nose-down."""
    shapes = StripShapes(
        thickness=np.array([0.0319]),
        camber=np.array([0.0590]),
        sheet=np.array([True]),
        flap_chord=np.zeros(1),
    )
    table = section_table(atlas, shapes)
    rows = ((1.0e5, 3.43, -0.120), (1.0e5, 5.59, -0.1041), (2.0e5, 4.47, -0.1073))
    for number, angle, measured in rows:
        column = int(np.argmin(np.abs(table.alpha - math.radians(angle))))
        line = int(np.argmin(np.abs(table.log_reynolds - math.log(number))))
        assert table.moment[0, line, column] == pytest.approx(measured, abs=0.05)


def test_student_tunnel_maximum_of_a_symmetric_section(atlas: SectionAtlas) -> None:
    """NACA 0012 at 50 k to 150 k: maximum lift about 0.8 (student rig), ours within 0.15."""
    shapes = StripShapes(
        thickness=np.array([0.12]),
        camber=np.zeros(1),
        sheet=np.array([False]),
        flap_chord=np.zeros(1),
    )
    found = maximum_lift(section_table(atlas, shapes), np.array([[5.0e4], [1.0e5], [1.5e5]]))
    assert np.all(np.abs(found - 0.8) < 0.15)


def test_four_digit_mean_lines() -> None:
    """NACA 2412, 4412, 6409: zero lift, moment, A1, A2 as thin-airfoil theory has them."""
    theory = four_digit(np.array([0.02, 0.04, 0.06]), np.full(3, 0.4))
    assert np.rad2deg(theory.zero_lift) == pytest.approx([-2.0772, -4.1545, -6.2317], rel=1e-3)
    assert theory.moment == pytest.approx([-0.05312, -0.10624, -0.15936], rel=1e-3)
    assert theory.first == pytest.approx([0.081495, 0.162990, 0.244485], rel=1e-3)
    assert theory.second == pytest.approx([0.013861, 0.027723, 0.041584], rel=1e-3)


def test_five_digit_mean_line_of_the_textbook() -> None:
    """NACA 23012: zero lift -1.0936 deg, moment -0.01284, lift 0.5586 at 4 deg.

    Anderson, Fundamentals of Aerodynamics, Example 4.6 (from memory, recomputed).
    """
    x = stations(20000)
    front = 2.6595 * (3.0 * x**2 - 2.0 * 0.6075 * x + 0.1147)
    slope = np.where(x < 0.2025, front, -0.02208)
    theory = from_slope(slope[None, :])
    assert np.rad2deg(theory.zero_lift[0]) == pytest.approx(-1.0936, rel=1e-3)
    assert theory.moment[0] == pytest.approx(-0.01284, rel=3e-3)
    lift = 2.0 * math.pi * (math.radians(4.0) - theory.zero_lift[0])
    assert lift == pytest.approx(0.5586, rel=1e-3)


def four_digit_outline(camber: float, thickness: float) -> np.ndarray:
    """A four-digit section with camber at 0.4 (Abbott & von Doenhoff)."""
    x = 0.5 * (1.0 - np.cos(np.linspace(0.0, np.pi, 150)))
    form = 0.2969 * np.sqrt(x) - 0.1260 * x - 0.3516 * x**2 + 0.2843 * x**3 - 0.1015 * x**4
    half = 5.0 * thickness * form
    front = camber / 0.16 * (0.8 * x - x**2)
    line = np.where(x < 0.4, front, camber / 0.36 * (0.2 + 0.8 * x - x**2))
    upper, lower = np.column_stack([x, line + half]), np.column_stack([x, line - half])
    return np.vstack([upper[::-1], lower[1:]])


@pytest.mark.parametrize(
    ("camber", "zero_lift", "moment"), [(0.02, -2.0772, -0.05312), (0.06, -6.2317, -0.15936)]
)
def test_outline_of_a_four_digit_section_has_its_printed_theory(
    camber: float, zero_lift: float, moment: float
) -> None:
    """Zero lift and moment read from points within 2 % of thin-airfoil theory."""
    read = outline(four_digit_outline(camber, 0.09))
    assert np.rad2deg(read.theory.zero_lift[0]) == pytest.approx(zero_lift, rel=0.02)
    assert read.theory.moment[0] == pytest.approx(moment, rel=0.02)
    assert read.thickness == pytest.approx(0.09, rel=0.01)


def lattice_wing(taper: float) -> StripLoading:
    """An unswept wing of aspect ratio 6 and 0.9 m span, on the lattice."""
    root = 0.3 / (1.0 + taper)
    chord = np.array([[root, root * taper]])
    edge = np.array([[[-0.25 * root, 0.0, 0.0], [-0.25 * root * taper, 0.45, 0.0]]])
    surface = Surface(
        leading_edge=edge, chord=chord, twist=0.0 * chord, camber=0.0 * chord, mirrored=True
    )
    reference = Reference(
        area=np.array([0.135]), chord=np.array([0.15]), span=np.array([0.9]), point=np.zeros((1, 3))
    )
    return strip_loading(unit_loads((surface,), reference), 0)


@pytest.mark.parametrize("taper", [1.0, 0.5])
def test_wing_reaches_nine_tenths_of_its_section(atlas: SectionAtlas, taper: float) -> None:
    """Maximum lift of an unswept wing is about 0.9 of the section's (Raymer, from memory).

    Held to 0.84-0.96 for a rectangular and a 2:1 tapered wing, Reynolds number spread included.
    """
    strips = lattice_wing(taper)
    count = strips.chord.size
    shapes = StripShapes(
        thickness=np.full(count, 0.09),
        camber=np.full(count, 0.03),
        sheet=np.zeros(count, dtype=bool),
        flap_chord=np.zeros(count),
    )
    table = section_table(atlas, shapes)
    states = strips.lift.shape[1]
    case = StallCase(
        amplitudes=np.zeros((1, states)),
        growing=np.eye(states)[1],
        loading=np.array([35.0]),
        density=np.array([1.225]),
        kinematic_viscosity=np.array([1.46e-5]),
        limit_offset=np.zeros(1),
        checked=np.ones(count, dtype=bool),
    )
    highest, _, outside = critical_section_lift(strips, table, case)
    speed = math.sqrt(2.0 * 35.0 / 1.225 / highest[0])
    section = maximum_lift(table, np.full((1, count), speed * 0.15 / 1.46e-5))[0, 0]
    assert not outside[0]
    assert 0.84 < highest[0] / section < 0.96
