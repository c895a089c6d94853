"""Propellers against wind tunnel and bench.

Data: UIUC Propeller Database, volumes 1-3 (Brandt, Deters, Ananda, Dantsker, Selig), values
selected and derived as said in data/propellers_README.md; bench of Cao and Strawson (2018).
Errors are RMS over the working range (to 0.9 of zero thrust, above 3000 rpm) as shares of the
static value, medians over propellers. Set before the model was fitted: 10 % in CT and 12 % in CP
from the measured blade, 75 to 90 % of points in the 80 % band. The limits on what a bench reading
is worth were written after its results were seen: they guard against getting worse.
"""

import csv
from dataclasses import dataclass
from functools import cache
from pathlib import Path

import numpy as np
import pytest
from scipy.stats import norm, qmc

from foamwright.physics.arrays import Grid, Samples
from foamwright.physics.drive.blade import Blade, BladeStations, label_blade, measured_blade
from foamwright.physics.drive.blade_element import Operation, blade_element
from foamwright.physics.drive.blade_sections import SectionShape, lift_and_drag, section_curves
from foamwright.physics.drive.propeller import (
    CurveRows,
    Multipliers,
    PropellerTable,
    coefficients,
    measured_table,
    propeller_table,
)
from foamwright.physics.drive.propeller_spread import (
    Spread,
    StaticReading,
    blade_spread,
    conditioned,
    label_spread,
    multipliers,
    table_spread,
)

pytestmark = pytest.mark.published

DATA = Path(__file__).parent / "data"
INCH = 0.0254
VISCOSITY = 1.5e-5
SHARES = (0, 15, 30, 45, 60, 75, 90)
"""Shares of the advance ratio of zero thrust at which the derived curves are kept [%]."""
RADII = (20, 30, 45, 60, 75, 90, 95, 100)
"""Radii at which the derived blades are kept [%]."""
MIDDLE = 3, 4
"""Positions of 45 and 60 % in the shares: the middle of the working range."""
RESEARCH = "9.0x6.75-2b-A"


@dataclass(frozen=True, kw_only=True)
class Curve:
    """One propeller's derived line; missing values are nan."""

    name: str
    diameter: float
    pitch: float
    blade_count: float
    advance_ratio: Samples
    revolutions: Samples
    thrust: Samples
    power: Samples
    blade: Blade | None

    def label(self) -> tuple[PropellerTable, Spread]:
        """Return table and spread from the label alone."""
        return from_label(self.diameter, self.pitch, self.blade_count)


@cache
def from_label(diameter: float, pitch: float, count: float) -> tuple[PropellerTable, Spread]:
    """Return table and spread of a label, made once."""
    table, _ = propeller_table(label_blade(diameter, pitch, count))
    return table, label_spread(diameter, pitch, count)


def rows_of(name: str) -> list[dict[str, str]]:
    """Return the rows of a data file."""
    with (DATA / name).open(newline="", encoding="utf-8") as file:
        return list(csv.DictReader(file))


def number(text: str) -> float:
    """Return a value, or nan where the cell is empty."""
    return float(text) if text else float("nan")


def curve_of(row: dict[str, str]) -> Curve:
    """Return one derived line as arrays."""
    diameter = float(row["diameter_in"]) * INCH
    count = float(row["blades"])
    blade = None
    if row["c_75"]:
        stations = BladeStations(
            radius=np.array(RADII) / 100.0,
            chord=np.array([float(row[f"c_{r}"]) for r in RADII]),
            twist=np.radians([float(row[f"beta_{r}"]) for r in RADII]),
        )
        blade = measured_blade(stations, diameter, count)
    moving = np.full(len(SHARES) - 1, float(row["rpm_moving"]))
    return Curve(
        name=row["prop"],
        diameter=diameter,
        pitch=float(row["pitch_in"]) * INCH,
        blade_count=count,
        advance_ratio=np.array(SHARES) / 100.0 * float(row["J_zero_thrust"]),
        revolutions=np.concatenate([[float(row["rpm_static"])], moving]) / 60.0,
        thrust=np.array([number(row[f"CT_{share}"]) for share in SHARES]),
        power=np.array([number(row[f"CP_{share}"]) for share in SHARES]),
        blade=blade,
    )


CURVES = [curve_of(row) for row in rows_of("propellers_derived.csv")]
NORMALS: Samples = norm.ppf(qmc.Sobol(3, seed=1).random(256))


def central(table: PropellerTable, curve: Curve, spread: Spread) -> tuple[Samples, Samples]:
    """Return CT and CP of the median propeller of a spread at a curve's points."""
    middle = multipliers(np.zeros((1, 3)), spread)
    CT, CP, _ = coefficients(table, curve.advance_ratio, curve.revolutions, middle)
    return CT, CP


def static_errors(curves: list[Curve], *, from_blade: bool) -> Grid:
    """Return RMS errors of CT and CP over static values, one line a propeller."""
    found = []
    for curve in curves:
        table, spread = curve.label()
        if from_blade and curve.blade is not None:
            table, _ = propeller_table(curve.blade)
            spread = blade_spread()
        CT, CP = central(table, curve, spread)
        found.append(
            [
                np.sqrt(np.nanmean((CT / curve.thrust[0] - curve.thrust / curve.thrust[0]) ** 2)),
                np.sqrt(np.nanmean((CP / curve.power[0] - curve.power / curve.power[0]) ** 2)),
            ]
        )
    return np.array(found)


def covered(curves: list[Curve], *, after_reading: bool = False) -> Grid:
    """Return the shares of the points of CT and CP inside the 80 % band of the label."""
    inside: list[Grid] = []
    for curve in curves:
        table, spread = curve.label()
        if after_reading:
            spread = conditioned(spread, read_at_rest(curve, table))
        made = multipliers(NORMALS, spread)
        given = Multipliers(
            advance=made.advance[:, None], thrust=made.thrust[:, None], power=made.power[:, None]
        )
        J, n = curve.advance_ratio[None, :], curve.revolutions[None, :]
        CT, CP, _ = coefficients(table, J, n, given)
        measured = np.stack((curve.thrust, curve.power))
        low, high = np.percentile(np.stack((CT, CP)), (10, 90), axis=1)
        known = ~np.isnan(measured[0])
        inside.append(((measured >= low) & (measured <= high))[:, known])
    return np.asarray(np.concatenate(inside, axis=1).mean(axis=1))


def middle_ratios(curve: Curve, spread: Spread, table: PropellerTable) -> Grid:
    """Return mean predicted/measured of CT and CP in the middle of the range."""
    CT, CP = central(table, curve, spread)
    at = list(MIDDLE)
    ratio = np.stack((CT[at] / curve.thrust[at], CP[at] / curve.power[at]))
    return np.asarray(ratio.mean(axis=1))


def read_at_rest(curve: Curve, table: PropellerTable, *, both: bool = False) -> StaticReading:
    """Return the static reading a bench would give."""
    CT, CP, _ = coefficients(table, np.zeros(1), curve.revolutions[:1])
    thrust = float(curve.thrust[0] / CT[0]) if both else None
    return StaticReading(thrust_ratio=thrust, power_ratio=float(curve.power[0] / CP[0]))


def spread_with_and_without(curves: list[Curve], *, from_blade: bool) -> tuple[Grid, Grid]:
    """Return standard deviations of CT and CP ratios mid-range, before and after a CP reading."""
    before, after = [], []
    for curve in curves:
        table, spread = curve.label()
        if from_blade and curve.blade is not None:
            table, _ = propeller_table(curve.blade)
            spread = blade_spread()
        if np.isnan(curve.thrust[list(MIDDLE)]).any():
            continue
        before.append(middle_ratios(curve, spread, table))
        narrowed = conditioned(spread, read_at_rest(curve, table))
        after.append(middle_ratios(curve, narrowed, table))
    return np.std(before, axis=0), np.std(after, axis=0)


WITH_BLADE = [curve for curve in CURVES if curve.blade is not None]
SMALL = [curve for curve in CURVES if curve.diameter < 6.5 * INCH]


def test_measured_blades_give_thrust_to_10_and_power_to_12_percent() -> None:
    """Median RMS error over the 46 propellers with blade and static rows, limits as set before."""
    assert len(WITH_BLADE) == 46
    error = np.median(static_errors(WITH_BLADE, from_blade=True), axis=0)
    assert error[0] <= 0.10
    assert error[1] <= 0.12


def test_selected_rows_of_every_fourth_blade_agree_as_well() -> None:
    """The same limits on untouched rows of twelve propellers, from half the blade stations."""
    blades: dict[str, list[list[float]]] = {}
    for row in rows_of("propellers_blades.csv"):
        values = [float(row[key]) for key in ("r_over_R", "c_over_R", "beta_deg")]
        blades.setdefault(row["prop"], []).append(values)
    errors = []
    rows = rows_of("propellers.csv")
    for name in sorted({row["prop"] for row in rows}):
        own = [row for row in rows if row["prop"] == name]
        shape = np.array(blades[name])
        stations = BladeStations(
            radius=shape[:, 0], chord=shape[:, 1], twist=np.radians(shape[:, 2])
        )
        blade = measured_blade(stations, float(own[0]["diameter_in"]) * INCH, int(own[0]["blades"]))
        measured = np.array([[float(row["CT"]), float(row["CP"])] for row in own]).T
        table, _ = propeller_table(blade)
        CT, CP, _ = coefficients(
            table,
            np.array([float(row["J"]) for row in own]),
            np.array([float(row["rpm"]) / 60 for row in own]),
            multipliers(np.zeros((1, 3)), blade_spread()),
        )
        off = (np.stack((CT, CP)) - measured) / measured[:, :1]
        errors.append(np.sqrt((off**2).mean(axis=1)))
    error = np.median(errors, axis=0)
    assert len(errors) == 12
    assert error[0] <= 0.10
    assert error[1] <= 0.12


def test_the_label_band_holds_what_it_says() -> None:
    """The 80 % band of the label holds 75 to 90 % of the points of 73 propellers."""
    share = covered(CURVES)
    assert np.all(share >= 0.75)
    assert np.all(share <= 0.90)


def test_the_label_band_holds_for_small_propellers_too() -> None:
    """Propellers below 6.5 inch keep 75 to 90 % in the band by themselves."""
    share = covered(SMALL)
    assert np.all(share >= 0.75)
    assert np.all(share <= 0.90)


def test_the_narrowed_band_is_as_honest() -> None:
    """After one static power reading the 80 % band still holds 75 to 90 % of the points."""
    share = covered(CURVES, after_reading=True)
    assert np.all(share >= 0.75)
    assert np.all(share <= 0.90)


def test_one_static_power_reading_halves_the_spread_with_the_blade_known() -> None:
    """Mid-range spread of CT and CP falls to 0.51 and 0.48 of itself (measured blades)."""
    before, after = spread_with_and_without(WITH_BLADE, from_blade=True)
    assert np.all(after <= 0.53 * before)


def test_one_static_power_reading_halves_the_spread_of_small_labels() -> None:
    """Below 6.5 inch, where the label says least, CT falls to about half and CP below."""
    before, after = spread_with_and_without(SMALL, from_blade=False)
    assert after[0] <= 0.55 * before[0]
    assert after[1] <= 0.40 * before[1]


def test_one_static_power_reading_helps_every_size() -> None:
    """Over all labels CP falls to half its spread, CT to 0.61: large ones gain less in thrust."""
    before, after = spread_with_and_without(CURVES, from_blade=False)
    assert after[0] <= 0.65 * before[0]
    assert after[1] <= 0.5 * before[1]


def test_reading_thrust_as_well_settles_thrust_at_rest() -> None:
    """With both read, static CT lies within 5 % of measured as a median, and 13 % at worst.

    The few per cent come from the median difference between rest and flight, which the
    multipliers of the moving curve leave out.
    """
    off = []
    for curve in CURVES:
        table, spread = curve.label()
        narrowed = conditioned(spread, read_at_rest(curve, table, both=True))
        CT, _ = central(table, curve, narrowed)
        off.append(abs(float(CT[0] / curve.thrust[0]) - 1.0))
    assert np.median(off) <= 0.05
    assert max(off) <= 0.13


def test_a_measured_table_returns_the_curve_it_was_made_of() -> None:
    """Rows in, rows out: within the spread stated for a measured table (3 %)."""
    for curve in WITH_BLADE[:10]:
        known = ~np.isnan(curve.thrust)
        rows = CurveRows(
            advance_ratio=curve.advance_ratio[known],
            thrust=curve.thrust[known],
            power=curve.power[known],
        )
        table = measured_table(rows, curve.diameter)
        CT, CP, outside = coefficients(table, rows.advance_ratio, curve.revolutions[known])
        assert np.abs(CT - rows.thrust).max() <= 0.01 * rows.thrust[0]
        assert np.abs(CP - rows.power).max() <= 0.01 * rows.power[0]
        assert not outside.any()
        assert table.thrust[-1, 0] < 0.0
    assert np.sqrt(table_spread().covariance[1, 1]) == pytest.approx(0.03)


def research_blade() -> Blade:
    """Return the 9-inch research propeller from its measured stations."""
    own = [row for row in rows_of("propellers_blades.csv") if row["prop"] == RESEARCH]
    stations = BladeStations(
        radius=np.array([float(row["r_over_R"]) for row in own]),
        chord=np.array([float(row["c_over_R"]) for row in own]),
        twist=np.radians([float(row["beta_deg"]) for row in own]),
    )
    return measured_blade(stations, 0.2286, 2.0)


RESEARCH_POINTS = (
    # id, rpm, J, CT, CP (Deters, Ananda, Selig, AIAA 2014-2151)
    ("PRP-8", 2013.0, 0.392, 0.0951, 0.0716),
    ("PRP-9", 3030.0, 0.318, 0.1048, 0.0724),
    ("PRP-10", 5046.0, 0.124, 0.1302, 0.0766),
    ("PRP-10", 5046.0, 0.312, 0.1115, 0.0728),
    ("PRP-10", 5046.0, 0.501, 0.0826, 0.0643),
    ("PRP-10", 5046.0, 0.659, 0.0522, 0.0499),
    ("PRP-10", 5046.0, 0.784, 0.0255, 0.0329),
)


@pytest.mark.parametrize("point", RESEARCH_POINTS, ids=str)
def test_the_research_propeller_comes_out_of_its_geometry(
    point: tuple[str, float, float, float, float],
) -> None:
    """CT within 10 %, CP within 12 % of the static values, nothing but its blade known."""
    case, rpm, advance, thrust, power = point
    operation = Operation(
        advance_ratio=np.array([advance]),
        revolutions=np.array([rpm / 60]),
        kinematic_viscosity=np.array([VISCOSITY]),
    )
    CT, CP, rootless = blade_element(research_blade(), operation)
    assert abs(CT[0] - thrust) <= 0.10 * 0.1390, case
    assert abs(CP[0] - power) <= 0.12 * 0.0792, case
    assert not rootless.any()


def test_the_research_propeller_gains_thrust_with_speed() -> None:
    """Static CT rises by 11 to 12 % from 1547 to 5943 rpm measured; 8 to 14 % computed."""
    table, _ = propeller_table(research_blade())
    CT, _, _ = coefficients(table, np.zeros(2), np.array([1547.0, 5943.0]) / 60)
    assert 1.08 <= CT[1] / CT[0] <= 1.14


def test_the_research_propeller_peaks_where_it_was_measured() -> None:
    """Peak efficiency within 0.03, its advance ratio within 0.06, zero thrust within 5 %."""
    table, _ = propeller_table(research_blade())
    J = np.linspace(0.3, 0.95, 66)
    for rpm, peak, at in ((2013, 0.632, 0.643), (3030, 0.663, 0.636), (5046, 0.689, 0.659)):
        CT, CP, _ = coefficients(table, J, np.full(J.size, rpm / 60))
        efficiency = np.where(CT > 0, J * CT / CP, 0.0)
        assert efficiency.max() == pytest.approx(peak, abs=0.03)
        assert J[efficiency.argmax()] == pytest.approx(at, abs=0.06)
    assert np.interp(0.0, -CT, J) == pytest.approx(0.89, rel=0.05)


def test_eight_bench_propellers_lie_in_the_band_of_their_labels() -> None:
    """Static CT on motors (density assumed): all in the 80 % band; mean ratio 0.88, sd 0.07.

    The wind-tunnel labels predict 12 % more than this bench measured; not corrected, since
    these eight are the independent check.
    """
    logs = []
    for row in rows_of("propellers_bench.csv"):
        label = float(row["diameter_in"]) * INCH, float(row["pitch_in"]) * INCH
        table, _ = propeller_table(label_blade(*label, float(row["blades"])))
        spread = label_spread(*label, float(row["blades"]))
        middle = multipliers(np.zeros((1, 3)), spread)
        n = np.array([float(row["rpm_median"]) / 60])
        CT, _, _ = coefficients(table, np.zeros(1), n, middle)
        logs.append(np.log(float(row["CT_median"]) / CT[0]))
        assert abs(logs[-1]) <= 1.2816 * np.sqrt(spread.covariance[1, 1]), row["prop"]
    assert len(logs) == 8
    assert np.exp(np.mean(logs)) == pytest.approx(0.88, abs=0.03)


def test_the_effective_section_is_that_of_a_thin_cambered_plate() -> None:
    """Fitted to propellers only, it meets a cambered plate in the tunnel.

    GOE 417A (camber 5.9 %, thickness 3.2 %), Selig et al., Summary of Low-Speed Airfoil Data:
    least drag 0.0213, 0.0166, 0.0137 at Re 59 k, 100 k, 199 k within 20 %; lift at 100 k and
    2.2, 5.6, 8.5, 10.5 deg within 0.15.
    """
    Re = np.array([59.3e3, 99.5e3, 198.5e3])[:, None]
    shape = SectionShape(
        camber=np.full((1, 1), 0.059),
        thickness=np.full((1, 1), 0.032),
        chord=np.full((1, 1), 0.15),
        radius=np.full((1, 1), 0.75),
        reynolds=Re,
    )
    angles = np.radians(np.linspace(-3.0, 14.0, 171))[None, :]
    CL, CD = lift_and_drag(section_curves(shape), angles)
    assert CD.min(axis=1) == pytest.approx([0.0213, 0.0166, 0.0137], rel=0.20)
    at = np.interp(np.radians([2.16, 5.59, 8.48, 10.46]), angles[0], CL[1])
    assert at == pytest.approx([0.565, 0.965, 1.187, 1.286], abs=0.15)
