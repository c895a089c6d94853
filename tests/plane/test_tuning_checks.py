"""Notes on the stabiliser that contradict each other are told with their place."""

from pathlib import Path

import pytest

from foamwright.plane.document import load
from foamwright.plane.objections import objections
from foamwright.plane.tuning_checks import tuning
from foamwright.plane.variants import overridden
from foamwright.problems import PlaneFileProblem

WINDROW = Path(__file__).parents[2] / "examples" / "windrow"

WRONG = [
    ({"wobble_frequency": "5 Hz"}, "wobble_frequency", "without its speed"),
    ({"wobble_speed": "20 m/s", "proven_speed": "22 m/s"}, "proven_speed", "not below"),
    ({"wobble_speed": "20 m/s", "proven_speed": "20 m/s"}, "proven_speed", "not below"),
    ({"wobble_speed": "0 m/s"}, "wobble_speed", "no airspeed"),
    ({"frame": "20 ms", "delay": "15 ms"}, "delay", "not longer than one frame"),
]

RIGHT: list[dict[str, object]] = [
    {},
    {"wobble_speed": "22 m/s"},
    {"wobble_speed": "22 m/s", "wobble_frequency": "5 Hz", "proven_speed": "18 m/s"},
    {"frame": "20 ms", "delay": "70 ms"},
]


@pytest.mark.parametrize(("keys", "where", "what"), WRONG)
def test_a_contradiction_is_told_where_it_stands(
    keys: dict[str, object], where: str, what: str
) -> None:
    """Key, words and what would be right, in one problem."""
    changes = {f"tuning.{key}": value for key, value in keys.items()}
    with pytest.raises(PlaneFileProblem) as raised:
        overridden(load(WINDROW), changes)
    finding = raised.value.findings[0]
    assert finding.key == f"tuning.{where}"
    assert what in finding.what
    assert finding.expected


@pytest.mark.parametrize("keys", RIGHT)
def test_what_fits_together_passes(keys: dict[str, object]) -> None:
    """No objection, and they are all gathered with the others."""
    changes = {f"tuning.{key}": value for key, value in keys.items()}
    plane = overridden(load(WINDROW), changes).plane
    assert list(tuning(plane)) == []
    assert objections(plane, WINDROW) == ()
