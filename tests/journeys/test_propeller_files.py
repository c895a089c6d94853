"""A propeller given by a file of its own, from the plane file to the answer."""

from pathlib import Path

import numpy as np
import pytest
from click.testing import CliRunner

from foamwright.cli.main import main
from foamwright.jobs.ask import Asked, Settings, ask
from foamwright.physics.drive.blade import label_blade
from foamwright.questions.answer import Figure

REEDLING = Path(__file__).parents[2] / "examples" / "reedling" / "plane.toml"
LABEL = 'stock = "propeller 5x3"\n'
INCH = 0.0254


def coefficient_file(*, thrust: float = 1.0, power: float = 1.0) -> str:
    """Return a file of coefficients of the shape small propellers have.

    CT falls nearly straight to zero near the pitch-to-diameter ratio, CP stays, then falls: common
    practice, no source. The numbers are invented.
    """
    rows = ["# bench, invented", "J,CT,CP"]
    for J in np.linspace(0.0, 0.7, 15):
        CT = thrust * 0.115 * (1.0 - (J / 0.72) ** 1.4)
        CP = power * 0.058 * (1.0 - 0.75 * (J / 0.72) ** 2)
        rows.append(f"{J:.3f},{CT:.5f},{CP:.5f}")
    return "\n".join(rows) + "\n"


def blade_file() -> str:
    """Return the typical 5x3 blade as somebody would measure it, at nine radii."""
    blade = label_blade(5 * INCH, 3 * INCH, 2)
    radius = np.asarray(blade.radius).ravel()
    chord, twist = (np.asarray(value).ravel() for value in (blade.chord, blade.twist))
    rows = ["r_over_R,c_over_R,beta_deg"]
    for r in np.linspace(radius[0], radius[-1], 9):
        c, beta = np.interp(r, radius, chord), np.rad2deg(np.interp(r, radius, twist))
        rows.append(f"{r:.4f},{c:.4f},{beta:.2f}")
    return "\n".join(rows) + "\n"


def written(folder: Path, key: str, text: str) -> Path:
    """Return a folder with the glider, its propeller given by a file."""
    folder.mkdir()
    plane = REEDLING.read_text(encoding="utf-8")
    assert LABEL in plane
    plane = plane.replace(LABEL, f'{LABEL}{key} = "propeller.csv"\n', 1)
    (folder / "plane.toml").write_text(plane, encoding="utf-8")
    (folder / "propeller.csv").write_text(text, encoding="utf-8")
    return folder


def asked(path: Path) -> Asked:
    """Return what the drive's questions answer."""
    return ask(path, ("electrics", "speed"), Settings(samples=256))


def figure(answers: Asked, name: str) -> Figure:
    """Return one figure of the answers."""
    return next(f for answer in answers.answers for f in answer.figures if f.name == name)


def value(answers: Asked, name: str) -> float:
    """Return the middle of a figure."""
    found = figure(answers, name).value
    assert found is not None
    return found


def width(answers: Asked, name: str) -> float:
    """Return a figure's band over its middle."""
    found = figure(answers, name)
    assert found.low is not None
    assert found.high is not None
    return (found.high - found.low) / value(answers, name)


def assumptions(answers: Asked) -> str:
    """Return everything that was assumed."""
    return " ".join(text for answer in answers.answers for text in answer.assumed)


@pytest.fixture(scope="module")
def by_label() -> Asked:
    """The glider as it stands, its propeller known from the label."""
    return asked(REEDLING)


@pytest.fixture(scope="module")
def by_coefficients(tmp_path_factory: pytest.TempPathFactory) -> Asked:
    """The same with a file of coefficients."""
    folder = tmp_path_factory.mktemp("coefficients") / "plane"
    return asked(written(folder, "coefficients", coefficient_file()))


def test_measured_coefficients_narrow_the_answer(by_label: Asked, by_coefficients: Asked) -> None:
    """The label is no longer assumed, and static thrust is known better than from it."""
    assert "from its label alone" in assumptions(by_label)
    assert "from its label alone" not in assumptions(by_coefficients)
    assert width(by_coefficients, "static_thrust") < width(by_label, "static_thrust")


def test_thrust_follows_the_file(tmp_path: Path, by_coefficients: Asked) -> None:
    """T = CT rho n^2 D^4 at the same torque: a fifth more CT is a fifth more static thrust."""
    more = asked(written(tmp_path / "plane", "coefficients", coefficient_file(thrust=1.2)))
    ratio = value(more, "static_thrust") / value(by_coefficients, "static_thrust")
    assert ratio == pytest.approx(1.2, rel=0.01)
    assert value(more, "top_speed") > value(by_coefficients, "top_speed")


def test_current_follows_the_file(tmp_path: Path, by_coefficients: Asked) -> None:
    """A propeller that takes a third more power draws more, though less than a third: it slows."""
    more = asked(written(tmp_path / "plane", "coefficients", coefficient_file(power=1.33)))
    ratio = value(more, "current_max") / value(by_coefficients, "current_max")
    assert 1.05 < ratio < 1.33


def test_a_measured_blade_is_that_blade(tmp_path: Path, by_label: Asked) -> None:
    """The label's own typical blade, measured at nine radii, answers as the label does."""
    measured = asked(written(tmp_path / "plane", "blade", blade_file()))
    for name in ("static_thrust", "top_speed"):
        assert value(measured, name) == pytest.approx(value(by_label, name), rel=0.10)
    assert "from its label alone" not in assumptions(measured)


@pytest.mark.parametrize(
    ("key", "text", "says"),
    [
        ("coefficients", coefficient_file(thrust=100.0), "CT = T/(rho n^2 D^4)"),
        ("coefficients", coefficient_file(thrust=-1.0), "CT = T/(rho n^2 D^4)"),
        ("coefficients", coefficient_file().replace("CP", "Cp"), "line 2: no column CP"),
        ("coefficients", coefficient_file().replace("0.000,", "x,"), "line 3: 'x"),
        ("coefficients", "\x1b[2J" + coefficient_file()[3:], "columns J, CT, CP"),
        ("blade", blade_file().replace("beta_deg", "beta"), "no column beta_deg"),
        ("blade", "\n".join(blade_file().splitlines()[:6]) + "\n", "measure out to the tip"),
    ],
)
def test_a_file_that_is_none_is_one_message(tmp_path: Path, key: str, text: str, says: str) -> None:
    """Code 2, the plane file's line and key, the file's own line, and what would be right."""
    folder = written(tmp_path / "plane", key, text)
    result = CliRunner().invoke(main, ["ask", str(folder)], prog_name="foamwright")
    assert result.exit_code == 2
    assert result.stdout == ""
    (line,) = result.stderr.strip().splitlines()
    plane = (folder / "plane.toml").read_text(encoding="utf-8").splitlines()
    number = plane.index(f'{key} = "propeller.csv"') + 1
    assert f"plane.toml, line {number}: items.propeller.{key}: propeller.csv" in line
    assert says in line
    assert "\x1b" not in line
