"""A plane's templates."""

from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest

from foamwright.jobs.ask import Settings, opened
from foamwright.jobs.templates import (
    balance_at,
    cuts_of,
    rounded,
    section_points,
    slug,
    templates_of,
)
from foamwright.model.solid import SurfaceSolid
from foamwright.paper.template_shapes import Template
from foamwright.plane.airframe import Surface
from foamwright.plane.filling import frozen
from foamwright.questions.case import Case

EXAMPLES = Path(__file__).parents[2] / "examples"


@pytest.fixture(scope="module")
def case() -> Case:
    """Return the glider with a spar."""
    found = opened(EXAMPLES / "reedling", Settings(samples=64))[1]
    spar = {
        "kind": "rod",
        "mass": "4 g",
        "diameter": "2 mm",
        "at": {"x": "260 mm"},
        "starts": {"x": "260 mm", "y": "-300 mm"},
        "ends": {"x": "260 mm", "y": "300 mm"},
    }
    return found.changed({"items.spar": spar})


@pytest.fixture(scope="module")
def view(case: Case) -> Callable[[str], Template]:
    """Return a template by its name."""
    known = {template.name: template for template in templates_of(case)}
    return known.__getitem__


def test_the_half_wing_is_as_long_and_deep_as_the_ruler_said(
    view: Callable[[str], Template],
) -> None:
    """400 mm of half span, 150 mm of root chord and a tip at 225 to 335 mm."""
    foam = view("wing").outlines[0].points
    xs, ys = zip(*foam, strict=True)
    assert max(xs) - min(xs) == pytest.approx(400.0)
    assert (min(ys), max(ys)) == pytest.approx((-355.0, -205.0))


def test_pockets_hinges_channels_and_balance_are_on_the_wing(
    case: Case, view: Callable[[str], Template]
) -> None:
    """One servo of the pair, the aileron, the right half of the spar, the mark."""
    by_kind = {o.kind: o for o in view("wing").outlines}
    pocket = next(p for p in case.computed.fit.pockets if p.name == "aileron servos right")
    xs, ys = zip(*by_kind["hidden pocket"].points, strict=True)
    assert max(xs) - min(xs) == pytest.approx((pocket.high[1] - pocket.low[1]) * 1e3, abs=0.01)
    assert max(ys) - min(ys) == pytest.approx((pocket.high[0] - pocket.low[0]) * 1e3, abs=0.01)
    assert "from the bottom" in by_kind["hidden pocket"].label
    assert by_kind["hinge"].label == "aileron"
    spar = by_kind["channel"].points
    assert max(x for x, _ in spar) == pytest.approx(300.0)
    assert min(x for x, _ in spar) == pytest.approx(0.0, abs=1e-6)
    assert np.ptp([y for _, y in spar]) == pytest.approx(2.5)
    low, middle, high = balance_at(case)
    assert by_kind["balance"].points[0] == pytest.approx((0.0, -middle))
    assert low < middle < high


def test_the_body_is_seen_from_above_and_from_the_left(
    view: Callable[[str], Template],
) -> None:
    """690 mm long, 34 wide and 52 tall, a pack on edge in it."""
    for name, tall in (("fuselage-above", 34.0), ("fuselage-left", 52.0)):
        foam = view(name).outlines[0].points
        xs, ys = zip(*foam, strict=True)
        assert max(xs) - min(xs) == pytest.approx(690.0)
        assert max(ys) - min(ys) == pytest.approx(tall, abs=3.0)
        assert any("deep" in o.label for o in view(name).outlines)


def test_every_cut_is_in_the_list_with_its_number(case: Case) -> None:
    """Numbers on the sheets are those of the list."""
    cuts = cuts_of(case)
    assert len(cuts) == len(case.computed.fit.pockets) + 1
    assert cuts[-1].what == "spar"
    labels = {
        o.label.split(":")[0]
        for template in templates_of(case)
        for o in template.outlines
        if "pocket" in o.kind
    }
    assert labels <= {cut.what.split()[0] for cut in cuts}


def test_corners_are_round_as_they_are_cut() -> None:
    """3 mm at each corner of a box: the area lacks (4 - pi) r^2."""
    points = np.array(rounded((0.0, 0.0), (40.0, 20.0), 3.0))
    x, y = points.T
    area = abs(np.sum(x * np.roll(y, -1) - np.roll(x, -1) * y)) / 2.0
    assert area == pytest.approx(800.0 - (4.0 - np.pi) * 9.0, abs=0.2)
    assert len(rounded((0.0, 0.0), (1.0, 1.0), 3.0)) > 4


@pytest.mark.parametrize(("place", "half"), [(0.10, 4.683), (0.30, 6.002), (0.60, 4.563)])
def test_the_gauge_is_as_thick_as_the_printed_section(place: float, half: float) -> None:
    """NACA 0012, half thickness in percent: Abbott and von Doenhoff 1959, appendix I (memory)."""
    stations = [
        {"y": y, "leading_edge": "0 mm", "chord": "100 mm", "thickness": "12 %", "camber": "0 %"}
        for y in ("0 mm", "300 mm")
    ]
    told = {"name": "wing", "role": "wing", "stations": stations}
    points = section_points(SurfaceSolid(Surface.model_validate(frozen(told)), None), 0.0) * 1e3
    upper = points[: len(points) // 2 + 1][::-1]
    assert np.interp(place * 100.0, upper[:, 0], upper[:, 1]) == pytest.approx(half, abs=0.03)


def test_names_are_fit_for_files() -> None:
    """Plain letters and hyphens."""
    assert slug("Main wing (left)") == "main-wing-left"
