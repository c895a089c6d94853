"""Own sections: what an outline says takes the place of the ruler, without and with the library."""

import math
from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest

from foamwright.model import outlines, sections
from foamwright.model.computable import ComputablePlane
from foamwright.model.ensemble import Draws
from foamwright.model.outlines import OwnSection, outlines_of, with_outlines
from foamwright.physics.arrays import Grid, Samples
from foamwright.physics.lift.coordinates import outline
from foamwright.plane.airframe import Airframe
from foamwright.plane.document import load
from foamwright.plane.variants import overridden

EXAMPLES = Path(__file__).parents[2] / "examples"


def section(mean: Callable[[Grid], Grid], thickness: float = 0.09) -> Grid:
    """Return an outline: a mean line with the four-digit thickness (NACA report 460) about it."""
    x = 0.5 * (1.0 + np.cos(np.linspace(0.0, np.pi, 81)))
    root = 0.2969 * np.sqrt(x) - 0.1260 * x - 0.3516 * x**2 + 0.2843 * x**3 - 0.1036 * x**4
    half = 5.0 * thickness * root
    upper = np.column_stack([x, mean(x) + half])
    lower = np.column_stack([x, mean(x) - half])[::-1]
    return np.vstack([upper, lower[1:]])


def four_digit_line(x: Grid) -> Grid:
    """Return the mean line of the NACA 24xx sections."""
    m, p = 0.02, 0.4
    fore = m / p**2 * (2 * p * x - x**2)
    aft = m / (1 - p) ** 2 * ((1 - 2 * p) + 2 * p * x - x**2)
    line: Grid = np.where(x < p, fore, aft)
    return line


def reflexed_line(x: Grid) -> Grid:
    """Return a cubic mean line with a moment of zero: z = 4 h x (1 - x) (7/8 - x) / (7/8)."""
    line: Grid = 0.08 * x * (1.0 - x) * (7.0 / 8.0 - x)
    return line


def own(mean: Callable[[Grid], Grid]) -> OwnSection:
    """Return a section with a mean line."""
    points = section(mean)
    return OwnSection(points=points, says=outline(points))


def written(folder: Path, points: Grid, extra: str = "") -> Path:
    """Return the plank example with an own section on its wing, ruler numbers taken out."""
    text = (EXAMPLES / "windrow" / "plane.toml").read_text(encoding="utf-8")
    text = text.replace(', thickness = "9 %", camber = "1 %"', extra)
    text = text.replace(
        'name = "wing"\nrole = "wing"', 'name = "wing"\nrole = "wing"\ncoordinates = "own.dat"'
    )
    (folder / "plane.toml").write_text(text, encoding="utf-8")
    rows = "\n".join(f"{x:.7f} {y:.7f}" for x, y in points)
    (folder / "own.dat").write_text("own section\n" + rows + "\n", encoding="utf-8")
    return folder


def computed(folder: Path) -> ComputablePlane:
    """Return the plane of a folder, few samples, every input drawn."""
    plane = ComputablePlane(load(folder), Draws(64, 1))
    plane.settle()
    return plane


def airframe_of(folder: Path) -> Airframe:
    """Return an airframe with what its outlines say."""
    plane = load(folder).plane
    return with_outlines(plane.airframe, outlines_of(plane.airframe, folder))


def test_a_four_digit_line_is_the_lattices_own() -> None:
    """Camber 2 % at 0.4 of the chord stays 2 % without twist, to a fiftieth of it."""
    camber, twist = own(four_digit_line).as_lattice_line()
    assert camber == pytest.approx(0.02, rel=0.02)
    assert math.degrees(twist) == pytest.approx(0.0, abs=0.04)


def test_a_reflexed_line_keeps_its_moment() -> None:
    """Thin-airfoil theory of the cubic line: moment 0 with 7/8 (Glauert 1926): no lattice camber.

    Its zero-lift angle, then, is all twist. By hand, z' = 0.08 (0.875 - 3.75 x + 3 x^2):
    A0 = 0.08 (0.875 - 3.75/2 + 9/8) = 0.01 and A1 = 0.08 (3.75/2 - 3/2) = 0.03, so the zero-lift
    angle is A0 - A1/2 = -0.005 rad.
    """
    camber, twist = own(reflexed_line).as_lattice_line()
    assert camber == pytest.approx(0.0, abs=3e-4)
    assert twist == pytest.approx(0.005, abs=5e-4)


def test_stations_take_what_the_outline_says(tmp_path: Path) -> None:
    """Thickness and camber of the file where the ruler says nothing; other surfaces stay."""
    airframe = airframe_of(written(tmp_path, section(four_digit_line, 0.10)))
    for station in airframe.surfaces[0].stations:
        assert station.thickness is not None
        assert station.camber is not None
        assert station.thickness.value == pytest.approx(0.10, abs=1e-3)
        assert station.camber.value == pytest.approx(0.02, abs=5e-4)
    assert airframe.surfaces[1] == load(tmp_path).plane.airframe.surfaces[1]


def test_the_ruler_wins_over_the_outline(tmp_path: Path) -> None:
    """What a station writes itself stays as it is."""
    folder = written(tmp_path, section(four_digit_line, 0.10), ', thickness = "12 %"')
    for station in airframe_of(folder).surfaces[0].stations:
        assert station.thickness is not None
        assert station.thickness.value == pytest.approx(0.12)


def test_without_the_library_the_outline_stands_in_and_says_so(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A file of a 9 % section with 2 % camber computes as the ruler's 9 % and 2 % do."""
    monkeypatch.setattr(outlines, "available", lambda: False)
    monkeypatch.setattr(sections, "installed_evaluator", lambda: None)
    by_file = computed(written(tmp_path, section(four_digit_line)))
    by_ruler = ComputablePlane(
        overridden(
            load(EXAMPLES / "windrow"),
            {
                f"airframe.surfaces.wing.stations.{n}.{key}": value
                for n in (0, 1)
                for key, value in (("thickness", "9 %"), ("camber", "2 %"))
            },
        ),
        Draws(64, 1),
    )
    by_ruler.settle()
    assert np.allclose(by_file.lift.neutral_point, by_ruler.lift.neutral_point, atol=1e-5)
    assert np.allclose(by_file.lift.sections.maximum, by_ruler.lift.sections.maximum, rtol=0.01)
    said = " ".join(by_file.lift.assumed)
    assert "from the outline's thickness and camber" in said
    assert "sections" in said
    assert "not measured" not in said


def test_reflex_lets_a_plank_trim_with_less_elevon(tmp_path: Path) -> None:
    """The moment at zero lift is that of the outline: none with reflex, nose down without."""
    plain, reflexed = tmp_path / "plain", tmp_path / "reflexed"
    moments = []
    for folder, line in ((plain, four_digit_line), (reflexed, reflexed_line)):
        folder.mkdir()
        pitch = computed(written(folder, section(line))).lift.pitch
        lift, moment = pitch.lift[:, :2], pitch.moment[:, :2]
        moments.append(float((moment[:, 0] - lift[:, 0] * moment[:, 1] / lift[:, 1]).mean()))
    # NACA 24xx, thin-airfoil theory: -0.053 (Abbott and von Doenhoff 1959); the wing has less.
    assert -0.06 < moments[0] < -0.03
    assert moments[1] == pytest.approx(0.0, abs=0.012)


def known(points: Grid, reynolds: Samples, alpha: Samples) -> tuple[Samples, Samples, Samples]:
    """Lift 5.7 alpha up to 0.2 rad, a drag no section has, no moment."""
    assert points.shape[1] == 2
    lift = 5.7 * np.clip(alpha, -0.2, 0.2)
    return lift, 0.5 * (reynolds / 1e5) ** -0.5 * (1.0 + lift**2), np.zeros_like(alpha)


def test_with_the_library_the_wing_has_its_own_polar(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The injected drag reaches the wing's strips and no other; the answer says where from."""
    monkeypatch.setattr(outlines, "available", lambda: False)
    monkeypatch.setattr(sections, "installed_evaluator", lambda: None)
    without = computed(written(tmp_path, section(four_digit_line)))
    monkeypatch.setattr(outlines, "available", lambda: True)
    monkeypatch.setattr(sections, "installed_evaluator", lambda: known)
    own_polar = computed(tmp_path)
    before, after = (plane.lift.sections.log_drag for plane in (without, own_polar))
    wing = own_polar.lift.main
    assert 0 < wing.sum() < wing.size
    assert np.all(after[wing].min(axis=(1, 2)) > before[wing].min(axis=(1, 2)) + 1.0)
    assert np.array_equal(after[~wing], before[~wing])
    assert "polar computed from the outline" in " ".join(own_polar.lift.assumed)
    assert own_polar.stall_speed.mean() == pytest.approx(without.stall_speed.mean(), rel=0.4)


def test_remedies_keep_the_outline(tmp_path: Path) -> None:
    """A plane with one key changed takes over the lattice of the same foam."""
    loaded = load(written(tmp_path, section(four_digit_line)))
    draws = Draws(64, 1)
    first = ComputablePlane(loaded, draws)
    assert first.lift.area > 0
    changed = overridden(loaded, {"items.propeller.stock": "propeller 5x3"})
    assert ComputablePlane(changed, draws, first).lift is first.lift
