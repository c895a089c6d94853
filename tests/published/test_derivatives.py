"""Derivatives of a whole plane against the strip and tail-volume formulas of the textbooks."""

from pathlib import Path

import numpy as np
import pytest

from foamwright.model.computable import ComputablePlane
from foamwright.model.ensemble import Draws
from foamwright.model.lift import FLAP_POWER, SECTION_SLOPE, TAIL_EFFICIENCY
from foamwright.physics.arrays import Samples
from foamwright.physics.flight.derivatives import Derivatives
from foamwright.physics.lift.closed_form import elliptic_roll_damping
from foamwright.physics.lift.flaps import flap_effectiveness
from foamwright.physics.lift.lateral import load_spread, roll_from_sweep
from foamwright.plane.airframe import Surface
from foamwright.plane.document import load
from foamwright.plane.variants import overridden

pytestmark = pytest.mark.published

GLIDER = Path(__file__).parents[2] / "examples" / "reedling"


@pytest.fixture(scope="module")
def plane() -> ComputablePlane:
    """Return the glider, settled."""
    found = ComputablePlane(load(GLIDER), Draws(256, 1))
    found.settle()
    return found


@pytest.fixture(scope="module")
def derivatives(plane: ComputablePlane) -> Derivatives:
    """Return the glider's derivatives."""
    return plane.derivatives


def middle(values: Samples) -> float:
    """Return the median."""
    return float(np.median(values))


def helmbold(aspect_ratio: float) -> float:
    """Return the lift slope of a straight wing (Helmbold 1942) [rad^-1]."""
    return float(2.0 * np.pi * aspect_ratio / (2.0 + np.sqrt(4.0 + aspect_ratio**2)))


def surface(plane: ComputablePlane, role: str) -> Surface:
    """Return the first surface of a role."""
    return next(s for s in plane.plane.airframe.surfaces if s.role == role)


def fin(plane: ComputablePlane) -> tuple[float, float, float]:
    """Return area, height and arm behind the centre of gravity of the fin."""
    root, tip = surface(plane, "fin").stations
    chords = root.chord.value, tip.chord.value
    assert root.z is not None
    assert tip.z is not None
    height = tip.z.value - root.z.value
    quarter = np.mean([s.leading_edge.value + 0.25 * s.chord.value for s in (root, tip)])
    arm = float(quarter) - middle(plane.masses.centre[:, 0])
    return 0.5 * sum(chords) * height, height, arm


def test_an_elliptic_load_rolls_by_a_quarter_of_the_lift_in_yaw() -> None:
    """Clr = CL / 4 and with even load CL / 3 (Nelson 1998, table of lateral derivatives)."""
    edges = np.cos(np.linspace(0.0, np.pi, 2001))
    y = 0.5 * (edges[1:] + edges[:-1])
    step = -np.diff(edges)
    elliptic = np.sqrt(1.0 - y**2) * step
    span = np.array([2.0])
    assert load_spread(elliptic[None], y[None], span)[0] == pytest.approx(0.25, rel=1e-5)
    assert load_spread(step[None], y[None], span)[0] == pytest.approx(1.0 / 3.0, rel=1e-5)


def test_simple_sweep_theory_of_an_endless_wing() -> None:
    """Even load, aspect ratio without end: Clb = -CL tan(sweep) / 2 (arm b/4 each side)."""
    y = np.linspace(-0.9995, 0.9995, 2000)[None]
    even, tangent = np.ones_like(y), np.full_like(y, np.tan(np.radians(30.0)))
    size = {"span": np.array([2.0]), "aspect_ratio": np.array([1e9])}
    found = roll_from_sweep(even, y, tangent, **size)
    assert found[0] == pytest.approx(-0.5 * np.tan(np.radians(30.0)), rel=1e-3)


def test_the_fin_turns_the_nose_into_the_wind(
    plane: ComputablePlane, derivatives: Derivatives
) -> None:
    """Cnb of the fin = eta Vv a_v (Nelson 1998); body and end plate leave it within 35 %.

    The tail on its foot works as an end plate: its effective aspect ratio lies between the
    geometric and 1.9 times that (common practice), and the body takes some away.
    """
    area, height, arm = fin(plane)
    volume = area * arm / (derivatives.area[0] * derivatives.span[0])
    low, high = (
        TAIL_EFFICIENCY[0] * SECTION_SLOPE[0] * volume * helmbold(k * height**2 / area)
        for k in (1.0, 1.9)
    )
    assert 0.75 * low < middle(derivatives.Cnb) < high


def test_yaw_is_damped_by_the_fin(plane: ComputablePlane, derivatives: Derivatives) -> None:
    """Cnr = -2 eta Vv (l_v / b) a_v (Nelson 1998), a little more from the wing's drag."""
    area, height, arm = fin(plane)
    volume = area * arm / (derivatives.area[0] * derivatives.span[0])
    low, high = (
        2.0
        * arm
        / derivatives.span[0]
        * TAIL_EFFICIENCY[0]
        * SECTION_SLOPE[0]
        * volume
        * helmbold(k * height**2 / area)
        for k in (1.0, 1.9)
    )
    assert low < -middle(derivatives.Cnr) < 1.15 * high


def test_roll_is_damped_as_lifting_line_has_it(derivatives: Derivatives) -> None:
    """Elliptic wing: Clp = -a0 A / 4 (A + 4) (lifting line), within 8 % for a tapered one."""
    ratio = derivatives.span[0] ** 2 / derivatives.area[0]
    elliptic = float(elliptic_roll_damping(np.array([2.0 * np.pi]), np.array([ratio]))[0])
    assert middle(derivatives.Clp) == pytest.approx(SECTION_SLOPE[0] * elliptic, rel=0.08)


def odd_load_roll(ratio: float, taper: float, terms: int = 80) -> float:
    """Return Cl per angle that is up on one half and down on the other: Glauert's series."""
    angle = np.pi * np.arange(1, terms + 1) / (2.0 * terms + 1.0)  # the right half
    order = 2.0 * np.arange(1, terms + 1)
    chord = 2.0 / (1.0 + taper) / ratio * (1.0 - (1.0 - taper) * np.cos(angle))  # over the span
    mu = 2.0 * np.pi * chord / 4.0
    sines = np.sin(np.outer(angle, order))
    matrix = sines * (np.sin(angle)[:, None] + mu[:, None] * order)
    return float(np.pi * ratio / 4.0 * np.linalg.solve(matrix, mu * np.sin(angle))[0])


def test_dihedral_rolls_out_of_the_slip(plane: ComputablePlane, derivatives: Derivatives) -> None:
    """Clb = -0.00022 a degree each, aspect ratio 6, taper 0.5-1 (Datcom chart, from memory): 8 %.

    The lifting line (Glauert 1926) is a bound: it cannot see that the step in the middle is
    smoothed over a chord. Fin and wing height drop out of the difference to a flat wing.
    """
    wing = surface(plane, "wing")
    assert wing.dihedral is not None
    keys = {"airframe.surfaces.wing.dihedral": "0 deg"}
    flat = ComputablePlane(overridden(load(GLIDER), keys), plane.draws, plane)
    ratio = float(derivatives.span[0] ** 2 / derivatives.area[0])
    taper = wing.stations[-1].chord.value / wing.stations[0].chord.value
    line = SECTION_SLOPE[0] * wing.dihedral.value * odd_load_roll(ratio, taper)
    gained = middle(flat.derivatives.Clb - derivatives.Clb)
    chart = SECTION_SLOPE[0] * 0.00022 * np.degrees(1.0) ** 2 * wing.dihedral.value
    assert gained == pytest.approx(chart, rel=0.08)
    assert 0.8 * line < gained < line


def test_ailerons_roll_as_strips_do(plane: ComputablePlane, derivatives: Derivatives) -> None:
    """Clda = 2 a tau / (S b) times the moment of the aileron's chord (Nelson 1998), within 10 %.

    a is the slope for odd loads of a finite wing, 2 pi A / (A + 4).
    """
    wing = surface(plane, "wing")
    flap = next(c for c in wing.controls if c.role == "aileron")
    half = derivatives.span[0] / 2.0
    y = np.linspace(flap.start.value * half, flap.end.value * half, 200)
    at = [0.0 if s.y is None else s.y.value for s in wing.stations]
    chord = np.interp(y, at, [s.chord.value for s in wing.stations])
    ratio = derivatives.span[0] ** 2 / derivatives.area[0]
    slope = SECTION_SLOPE[0] * 2.0 * np.pi * ratio / (ratio + 4.0)
    tau = float(flap_effectiveness(np.array([flap.chord_fraction.value]))[0])
    strip = 2.0 * slope * tau * np.trapezoid(chord * y, y)
    strip *= FLAP_POWER[0] / (derivatives.area[0] * derivatives.span[0])
    assert middle(derivatives.Clda) == pytest.approx(strip, rel=0.10)
