"""The lattice against textbook wings, thin-aerofoil theory and lifting line."""

import numpy as np
import pytest

from foamwright.physics.arrays import Samples
from foamwright.physics.lift.closed_form import (
    biplane_interference,
    elliptic_roll_damping,
)
from foamwright.physics.lift.flaps import flap_effectiveness, flap_pitching_moment
from foamwright.physics.lift.influence import wakewash
from foamwright.physics.lift.lattice import LIFT, PITCH, ROLL, LatticeResult, Reference, unit_loads
from foamwright.physics.lift.lifting_line import lifting_line
from foamwright.physics.lift.panels import Flap, Surface, cut
from foamwright.physics.lift.rows import rows

pytestmark = pytest.mark.published

ALPHA, ROLLING, FLAP = 1, 3, 6
TEXTBOOK_CHORD = 0.2
WARREN_TIP = np.sqrt(2.0) * np.tan(np.radians(53.54))


def wing(
    edge: list[list[float]], chord: list[float], *, grid: tuple[int, int], **more: object
) -> Surface:
    """A flat right half with a twin, `grid` = rows by strips."""
    chords = np.asarray([chord])
    given: dict[str, object] = {
        "leading_edge": np.asarray([edge]),
        "chord": chords,
        "twist": 0.0 * chords,
        "camber": 0.0 * chords,
        "mirrored": True,
        "chordwise": grid[0],
        "spanwise": grid[1],
        **more,
    }
    return Surface(**given)  # type: ignore[arg-type]  # a test's shorthand


def loads(surface: Surface, area: float, span: float, about: float = 0.0) -> LatticeResult:
    """Loads with a reference chord of one."""
    reference = Reference(
        area=np.asarray([area]),
        chord=np.ones(1),
        span=np.asarray([span]),
        point=np.asarray([[about, 0.0, 0.0]]),
    )
    return unit_loads((surface,), reference)


def textbook_wing(grid: tuple[int, int]) -> LatticeResult:
    """Aspect ratio 5, 45 degrees of sweep, no taper, equal strips, span one."""
    edge = [[0.0, 0.0, 0.0], [0.5, 0.5, 0.0]]
    surface = wing(edge, [TEXTBOOK_CHORD] * 2, grid=grid, spacing="uniform")
    return loads(surface, TEXTBOOK_CHORD, 1.0)


def warren_12(grid: tuple[int, int]) -> Samples:
    """CLa and CMa about the apex of the Warren-12 planform."""
    edge = [[0.0, 0.0, 0.0], [WARREN_TIP, np.sqrt(2.0), 0.0]]
    found = loads(wing(edge, [1.5, 0.5], grid=grid), 2.0 * np.sqrt(2.0), 2.0 * np.sqrt(2.0))
    return found.coefficients[0, ALPHA, [LIFT, PITCH]]


def elliptic(aspect_ratio: float, strips: int) -> LatticeResult:
    """Elliptic wing of span two with a straight quarter-chord line."""
    angle = np.linspace(0.0, np.pi / 2.0, 400)
    chord = 8.0 / (np.pi * aspect_ratio) * np.maximum(np.cos(angle), 1e-9)
    edge = np.stack([-0.25 * chord, np.sin(angle), 0.0 * chord], axis=1)
    surface = wing(edge.tolist(), chord.tolist(), grid=(4, strips))
    return loads(surface, 4.0 / aspect_ratio, 2.0)


def long_wing(rows: int, **more: object) -> LatticeResult:
    """A wing so long (aspect ratio 10 000) that its section stands alone; about c/4."""
    edge = [[0.0, 0.0, 0.0], [0.0, 5000.0, 0.0]]
    return loads(wing(edge, [1.0, 1.0], grid=(rows, 4), **more), 1e4, 1e4, about=0.25)


def test_swept_wing_of_one_row_by_four_strips_gives_the_textbook_lift() -> None:
    """CL = 1.096 pi sin(alpha) and four circulations (bertin-smith, digits from memory)."""
    found = textbook_wing((1, 4))
    circulation = found.strip_lift[0, :4, ALPHA] * TEXTBOOK_CHORD / 2.0 / (4.0 * np.pi)
    assert found.coefficients[0, ALPHA, LIFT] == pytest.approx(1.096 * np.pi, rel=1e-3)
    assert circulation == pytest.approx([0.0273, 0.0287, 0.0286, 0.0250], abs=5.1e-5)


def test_swept_wing_refined_gives_the_recomputed_lift_and_moment() -> None:
    """WNG-11, a lattice computed apart from this code: 6 rows by 30 equal strips."""
    found = textbook_wing((6, 30)).coefficients[0, ALPHA]
    assert found[LIFT] == pytest.approx(3.219, rel=1e-3)
    assert found[PITCH] == pytest.approx(-0.9229, rel=1e-3)


def test_warren_12_converges_to_the_published_slopes() -> None:
    """CLa 2.743 and CMa -3.10 (mason-vt, from memory); each refinement changes less."""
    coarse, middle, fine = (warren_12(grid) for grid in ((2, 8), (4, 16), (8, 40)))
    assert fine[0] == pytest.approx(2.743, rel=0.015)
    assert fine[1] == pytest.approx(-3.10, rel=0.02)
    assert np.all(np.abs(fine - middle) < np.abs(middle - coarse))
    assert fine == pytest.approx(coarse, rel=0.0125)


@pytest.mark.parametrize(
    ("aspect_ratio", "slope", "centre"),
    [(4.0, 3.666, 0.2329), (6.0, 4.266, 0.2395), (8.0, 4.635, 0.2425)],
)
def test_rectangular_wings_agree_with_a_lattice_of_plain_spacing(
    aspect_ratio: float, slope: float, centre: float
) -> None:
    """WNG-12: two lattices lie within 1.5 %; ours with 8 rows by 24 strips."""
    edge = [[0.0, 0.0, 0.0], [0.0, aspect_ratio / 2.0, 0.0]]
    found = loads(wing(edge, [1.0, 1.0], grid=(8, 12)), aspect_ratio, aspect_ratio)
    lift, moment = found.coefficients[0, ALPHA, [LIFT, PITCH]]
    assert lift == pytest.approx(slope, rel=0.015)
    assert -moment / lift == pytest.approx(centre, rel=0.015)


@pytest.mark.parametrize("strips", [5, 10, 20])
def test_elliptic_wing_has_the_least_induced_drag(strips: int) -> None:
    """Far-wake e is 1 within 0.2 %, whatever the number of strips (Prandtl)."""
    found = elliptic(6.0, strips)
    lift = found.coefficients[0, ALPHA, LIFT]
    assert lift**2 / (np.pi * 6.0 * found.induced[0, ALPHA, ALPHA]) == pytest.approx(1.0, abs=2e-3)


def test_rolling_elliptic_wing_pays_twice_for_its_second_harmonic() -> None:
    """CDi = 2 pi A A2^2 with A2 = -4 Cl/(pi A): Glauert's series, odd loading."""
    found = elliptic(10.0, 16)
    second = 4.0 * found.coefficients[0, ROLLING, ROLL] / (np.pi * 10.0)
    drag = 2.0 * np.pi * 10.0 * second**2
    assert found.induced[0, ROLLING, ROLLING] == pytest.approx(drag, rel=0.01)


def test_slender_elliptic_wing_approaches_lifting_line() -> None:
    """The lattice lies below lifting line, by under 1 % in slope and 2 % in damping at A = 40."""
    found = elliptic(40.0, 16).coefficients[0]
    slope = 2.0 * np.pi / (1.0 + 2.0 / 40.0)
    damping = float(elliptic_roll_damping(np.asarray(2.0 * np.pi), np.asarray(40.0)))
    assert 0.99 * slope < found[ALPHA, LIFT] < slope
    assert found[ROLLING, ROLL] == pytest.approx(damping, rel=0.02)


@pytest.mark.parametrize("rows", [2, 3, 4, 8])
@pytest.mark.parametrize("chord_fraction", [0.1, 0.25, 0.4])
def test_full_span_flap_on_a_long_wing_has_glauerts_effect(
    rows: int, chord_fraction: float
) -> None:
    """Lift and moment of thin-aerofoil theory within 0.1 % with any number of rows."""
    flap = Flap(
        name="f", start=0.0, end=1.0, chord_fraction=chord_fraction, gain_right=1.0, gain_left=1.0
    )
    found = long_wing(rows, flaps=(flap,)).coefficients[0]
    share = np.asarray(chord_fraction)
    tau = found[FLAP, LIFT] / found[ALPHA, LIFT]
    assert tau == pytest.approx(float(flap_effectiveness(share)), rel=1e-3)
    assert found[FLAP, PITCH] == pytest.approx(float(flap_pitching_moment(share)), rel=1e-3)


@pytest.mark.parametrize("rows", [2, 3, 4])
def test_cambered_long_wing_has_the_sections_zero_lift_angle(rows: int) -> None:
    """NACA 2412 by thin-aerofoil theory: -2.0772 degrees, Cm -0.05312 about the quarter chord."""
    found = long_wing(rows, camber=np.full((1, 2), 0.02)).coefficients[0]
    assert -np.degrees(found[0, LIFT] / found[ALPHA, LIFT]) == pytest.approx(-2.0772, rel=1e-3)
    assert found[0, PITCH] == pytest.approx(-0.05312, rel=1e-3)


@pytest.mark.parametrize("count", [2, 4])
def test_rows_alone_carry_the_sections_printed_figures(count: int) -> None:
    """Quarter-chord flap (glauert-1927) 0.6090, -0.6495; mean line 24 (abbott-1959) 2.0772 deg."""
    split = rows(count, 0.25)
    wash = 1.0 / (2.0 * np.pi * (split.control[:, None] - split.vortex))
    flap = np.linalg.solve(wash, split.flap)
    line = np.linalg.solve(wash, -0.02 * split.mean_line)
    assert flap.sum() / np.pi == pytest.approx(0.6090, rel=1e-4)
    assert 2.0 * flap @ (0.25 - split.vortex) == pytest.approx(-0.6495, rel=1e-4)
    assert np.degrees(line.sum() / np.pi) == pytest.approx(2.0772, rel=1e-4)


def test_flap_on_a_wing_of_aspect_ratio_12_keeps_glauerts_tau_within_four_per_cent() -> None:
    """Full-span flap: induced effects act on both slopes alike, save near the tips."""
    flap = Flap(name="f", start=0.0, end=1.0, chord_fraction=0.25, gain_right=1.0, gain_left=1.0)
    edge = [[0.0, 0.0, 0.0], [0.0, 6.0, 0.0]]
    found = loads(wing(edge, [1.0, 1.0], grid=(4, 12), flaps=(flap,)), 12.0, 12.0).coefficients[0]
    tau = found[FLAP, LIFT] / found[ALPHA, LIFT]
    assert tau == pytest.approx(float(flap_effectiveness(np.asarray(0.25))), rel=0.04)


@pytest.mark.parametrize("gap", [0.1, 0.2, 0.3])
def test_two_wakes_above_each_other_interfere_as_prandtl_says(gap: float) -> None:
    """Elliptic loadings on both: mutual over own drag within 3 % of Prandtl's fit."""
    edge = np.asarray([[0.0, 0.0, 0.0], [0.0, 0.5, 0.0]])
    lower = wing(edge.tolist(), [0.1, 0.1], grid=(1, 20))
    upper = wing((edge + np.asarray([0.0, 0.0, gap])).tolist(), [0.1, 0.1], grid=(1, 20))
    strips, _ = cut((lower, upper))
    form = wakewash(strips, twin=False) + wakewash(strips, twin=True)
    form = -form[0] * strips.width[0][:, None]
    loading = np.sqrt(1.0 - (2.0 * strips.middle[0, :, 0]) ** 2)
    low, high = loading * (strips.surface == 0), loading * (strips.surface == 1)
    mutual = (low @ form @ high + high @ form @ low) / 2.0
    prandtl = float(biplane_interference(np.asarray(gap)))
    assert mutual / (low @ form @ low) == pytest.approx(prandtl, rel=0.03)


@pytest.mark.parametrize(("strips", "within"), [(14, 0.025), (28, 0.01)])
@pytest.mark.parametrize("height", [0.0, 0.003, 0.05, 0.2])
def test_a_tail_far_behind_meets_the_downwash_of_glauerts_series(
    height: float, strips: int, within: float
) -> None:
    """Twice the induced angle of the wing's own loading, in its wake and above it, converging.

    For a purely elliptic loading the series is Prandtl's 2 CLa/(pi A); the loading of an
    elliptic outline has a little of the third term, worth 2 % of the downwash at the centre.
    """
    angle = np.linspace(0.0, np.pi / 2.0, 400)
    chord = 1.0 / np.pi * np.maximum(np.cos(angle), 1e-9)
    edge = np.stack([-0.25 * chord, np.sin(angle), 0.0 * chord], axis=1)
    main = wing(edge.tolist(), chord.tolist(), grid=(2, strips))
    tail = wing([[200.0, 0.0, height], [200.0, 0.3, height]], [0.02, 0.02], grid=(2, 5))
    reference = Reference(
        area=np.asarray([0.5]), chord=np.ones(1), span=np.asarray([2.0]), point=np.zeros((1, 3))
    )
    both, alone = (unit_loads(plane, reference) for plane in ((main, tail), (tail,)))
    behind = both.strip_surface == 1
    left = both.strip_lift[0, behind, ALPHA] @ both.strip_area[0, behind]
    free = alone.strip_lift[0, :, ALPHA] @ alone.strip_area[0]
    order = np.arange(1, 10, 2)
    theta = np.arccos(both.strip_y[0, :strips])
    circulation = (both.strip_lift[0, :strips, ALPHA] * both.strip_chord[0, :strips]) / 2.0
    series = np.linalg.lstsq(np.sin(np.outer(theta, order)), circulation / 4.0, rcond=None)[0]
    across = np.arccos(np.linspace(0.0, 0.3, 200))
    wash = 2.0 * np.sin(np.outer(across, order)) @ (order * series) / np.sin(across)
    # Above the sheet it falls off as the flow about a flat plate does (Lamb, from memory).
    place = np.cos(across) + 1j * (height + 1e-9)
    share = 1.0 - (place / (np.sqrt(place - 1.0) * np.sqrt(place + 1.0))).real
    assert 1.0 - left / free == pytest.approx(float(np.mean(wash * share)), rel=within)


LIFTING_LINE = np.asarray(
    [
        # aspect ratio, taper, slope, delta, tau
        [4.0, 1.0, 4.0284, 0.0285, 0.1195],
        [5.0, 1.0, 4.3141, 0.0384, 0.1411],
        [6.0, 1.0, 4.5304, 0.0483, 0.1607],
        [6.0, 0.6, 4.6327, 0.0169, 0.0688],
        [6.0, 0.5, 4.6532, 0.0117, 0.0509],
        [6.0, 0.4, 4.6677, 0.00878, 0.0383],
        [6.0, 0.3, 4.6719, 0.00988, 0.0347],
        [6.0, 0.2, 4.6577, 0.0185, 0.0469],
        [8.0, 1.0, 4.8377, 0.0676, 0.1952],
        [8.0, 0.4, 4.9792, 0.0130, 0.0475],
        [10.0, 1.0, 5.0468, 0.0859, 0.2249],
    ]
)
"""A Fourier solution of 200 terms computed apart from this code."""


def test_lifting_line_gives_the_table_of_tapered_wings() -> None:
    """Slope within 0.1 %, delta and tau within 2 %."""
    aspect_ratio, taper, slope, delta, tau = LIFTING_LINE.T
    found = lifting_line(aspect_ratio, taper, np.full(taper.size, 2.0 * np.pi))
    assert found.slope == pytest.approx(slope, rel=1e-3)
    assert found.drag_excess == pytest.approx(delta, rel=0.02)
    assert found.slope_excess == pytest.approx(tau, rel=0.02)


def test_lifting_line_gives_glauerts_rectangular_wings() -> None:
    """Aspect ratio over section slope 0.5 to 1.5: tau and delta of his series, converged."""
    ratio = np.asarray([0.5, 0.75, 1.0, 1.25, 1.5])
    section = np.full(5, 2.0 * np.pi)
    found = lifting_line(ratio * section, np.ones(5), section)
    assert found.slope_excess == pytest.approx([0.099, 0.135, 0.166, 0.193, 0.217], abs=5e-4)
    assert found.drag_excess == pytest.approx([0.020, 0.036, 0.051, 0.066, 0.081], abs=5e-4)
