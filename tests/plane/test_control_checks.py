"""Linkages that cannot be, and what is told of them."""

from pathlib import Path

import pytest

from foamwright.plane.control_checks import linkages
from foamwright.plane.document import load
from foamwright.plane.variants import overridden
from foamwright.problems import PlaneFileProblem

REEDLING = Path(__file__).parents[2] / "examples" / "reedling"
AILERON = "airframe.surfaces.wing.controls.aileron"

WRONG = [
    ({f"{AILERON}.servo": "pack"}, "no servo but a pack"),
    ({f"{AILERON}.servo": "nobody"}, "no item 'nobody'"),
    ({f"{AILERON}.pushrod_length": "60 mm", f"{AILERON}.pushrod_free": "80 mm"}, "longer than"),
    ({f"{AILERON}.throw_up": "-8 deg"}, "no travel"),
    ({f"{AILERON}.horn_arm": "12 m"}, "12 m"),
    ({f"{AILERON}.horn_arm": "12 g"}, "12 g"),
    ({f"{AILERON}.pushrod": "string"}, "string"),
    ({f"{AILERON}.pushrod_diameter": "1 cm"}, "1 cm"),
    ({"items.aileron servos.arm": "0 mm"}, "0 mm"),
    ({"targets.roll_rate_low": "300 deg/s", "targets.roll_rate_high": "200 deg/s"}, "not above"),
    ({"targets.roll_rate_low": "300 m/s"}, "300 m/s"),
    ({"tuning.gain": "-20 %"}, "-20 %"),
]

RIGHT: list[dict[str, object]] = [
    {},
    {f"{AILERON}.horn_arm": "12 ± 0.5 mm", "items.aileron servos.arm": "8 mm"},
    {f"{AILERON}.pushrod_length": "80 mm", f"{AILERON}.pushrod_free": "40 mm"},
    {f"{AILERON}.pushrod": "carbon", f"{AILERON}.pushrod_diameter": "1.5 mm"},
    {"targets.roll_rate_low": "120 deg/s", "targets.roll_rate_high": "6 rad/s"},
    {"tuning.gain": "40 %"},
]


@pytest.mark.parametrize(("keys", "what"), WRONG)
def test_what_cannot_be_is_told_with_its_place(keys: dict[str, object], what: str) -> None:
    """Key, words and what would be right."""
    with pytest.raises(PlaneFileProblem) as raised:
        overridden(load(REEDLING), keys)
    finding = raised.value.findings[0]
    assert what in finding.what
    assert finding.expected
    assert finding.key in keys


@pytest.mark.parametrize("keys", RIGHT)
def test_what_can_be_is_taken(keys: dict[str, object]) -> None:
    """Nothing to object to."""
    assert list(linkages(overridden(load(REEDLING), keys).plane)) == []
