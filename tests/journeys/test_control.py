"""A builder asks whether the plane will obey: from the file to what to change, and wrong words."""

import json
import shutil
from pathlib import Path

import pytest
from click.testing import CliRunner

from foamwright.cli.main import main

ROOT = Path(__file__).parents[2]


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """Return a copy of the glider to write into."""
    return Path(shutil.copytree(ROOT / "examples" / "reedling", tmp_path / "plane"))


def asked(folder: Path, *questions: str) -> dict[str, dict[str, object]]:
    """Return the answers by question, as JSON gives them."""
    told = CliRunner().invoke(main, ["ask", str(folder), *questions, "--json", "--samples", "256"])
    assert told.exit_code == 0, told.output
    return {answer["question"]: answer for answer in json.loads(told.output)["answers"]}


def value(answer: dict[str, object], name: str) -> float:
    """Return a figure's median."""
    figures = answer["figures"]
    assert isinstance(figures, list)
    return float(next(f["value"] for f in figures if f["name"] == name))


def rewritten(folder: Path, old: str, new: str) -> None:
    """Change the plane file as an editor would."""
    file = folder / "plane.toml"
    text = file.read_text(encoding="utf-8")
    assert old in text
    file.write_text(text.replace(old, new, 1), encoding="utf-8")


def test_a_wobble_seen_then_a_gain_lowered(folder: Path) -> None:
    """What wobbled at 18 m/s no longer does at top speed with the multiplier that was told."""
    file = folder / "plane.toml"
    note = '\n[tuning]\nwobble_speed = "18 m/s"\nwobble_frequency = "5 ± 0.5 Hz"\n'
    file.write_text(file.read_text(encoding="utf-8") + note, encoding="utf-8")
    seen = asked(folder, "control")["control"]
    assert value(seen, "wobble_speed") == pytest.approx(18.0, rel=0.03)
    assert "the wobble" in str(seen["because"])
    ratio = value(seen, "gain_ratio")
    assert ratio < 1.0
    gain = f'{note.rstrip()}\ngain = "{100.0 * ratio:.1f} %"\n'
    rewritten(folder, note, gain)
    lower = asked(folder, "control")["control"]
    assert value(lower, "gain_ratio") == pytest.approx(1.0, rel=0.02)
    assert value(lower, "wobble_speed") > 1.3 * 18.0
    before, after = (float(str(answer["probability"])) for answer in (seen, lower))
    assert after > before + 0.5


def test_a_measured_horn_changes_the_servo_and_nothing_else(folder: Path) -> None:
    """A ruler on the linkage leaves stall and speed as they were, to the last digit."""
    before = asked(folder, "control", "landing", "speed")
    rewritten(folder, 'servo = "aileron servos"', 'servo = "aileron servos"\nhorn_arm = "9 mm"')
    after = asked(folder, "control", "landing", "speed")
    assert value(after["control"], "servo_torque_margin") < value(
        before["control"], "servo_torque_margin"
    )
    assert after["landing"]["figures"] == before["landing"]["figures"]
    assert after["speed"]["figures"] == before["speed"]["figures"]


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ('servo = "aileron servos"', 'servo = "aileron servo"', "there is no item 'aileron servo'"),
        ('servo = "aileron servos"', 'servo = "camera"', "'camera' is no servo but a camera"),
        (
            'servo = "aileron servos"',
            'servo = "aileron servos"\nhorn_arm = "14"',
            "horn_arm",
        ),
        (
            'servo = "aileron servos"',
            'servo = "aileron servos"\npushrod = "bamboo"',
            "pushrod",
        ),
    ],
)
def test_a_wrong_word_is_told_with_its_line(folder: Path, old: str, new: str, said: str) -> None:
    """What, where, and what would be right; nothing is computed."""
    rewritten(folder, old, new)
    told = CliRunner().invoke(main, ["ask", str(folder), "control"])
    assert told.exit_code != 0
    shown = " ".join(told.output.split())
    assert said in shown
    assert "plane.toml" in shown
    assert "Traceback" not in told.output


def test_the_plank_tells_what_its_elevons_leave() -> None:
    """An elevon plane: mixing, trim and first throws, in figures of their own."""
    answer = asked(ROOT / "examples" / "windrow", "control")["control"]
    assert 0.0 <= value(answer, "mixed_left") < 1.0
    assert value(answer, "throw_1_up_low") < value(answer, "throw_1_up_high")
    assert value(answer, "trim") > 0.0
