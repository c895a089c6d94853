"""Planes that are odd but possible: every question is answered, with finite figures."""

import math
from pathlib import Path

import pytest

from foamwright.jobs.ask import Settings, ask

EXAMPLES = Path(__file__).parents[2] / "examples"

ODD = {
    "a part that weighs nothing in a plane out of balance": (
        '"items.receiver.mass" = "0 g"\n"airframe.bare_balance.x" = "335 mm"'
    ),
    "no place for the pack": '"items.pack.at" = { remove = true }',
    "no pack": '"items.pack" = { remove = true }',
    "no motor": '"items.motor" = { remove = true }',
    "no propeller": '"items.propeller" = { remove = true }',
    "no speed controller": '"items.ESC" = { remove = true }',
    "foam never weighed": '"airframe.bare_mass" = { remove = true }',
    "no wishes": '"targets" = { remove = true }',
    "no body": '"airframe.bodies" = { remove = true }',
    "a hot day on a mountain": 'site = { elevation = "3000 m", temperature = "40 degC" }',
    "a spread larger than its value": '"items.GPS.mass" = "1 g ± 3 g"',
    "no spread at all": '"items.pack.mass" = "41 ± 0 g"',
    "a wing bent straight up": '"airframe.surfaces.wing.dihedral" = "80 deg"',
    "thirty GPS": '"items.GPS.count" = 30',
}


@pytest.mark.parametrize("change", ODD.values(), ids=ODD.keys())
def test_an_odd_plane_is_answered_with_finite_figures(tmp_path: Path, change: str) -> None:
    """No question fails, no figure is infinite, a chance lies between 0 and 1 or is open."""
    text = (EXAMPLES / "reedling" / "plane.toml").read_text(encoding="utf-8")
    (tmp_path / "plane.toml").write_text(f"{text}\n[variants.odd]\n{change}\n", encoding="utf-8")

    asked = ask(tmp_path, (), Settings(variant="odd", samples=32))

    assert len(asked.answers) >= 8
    for answer in asked.answers:
        assert (answer.probability is None) == (answer.verdict == "open")
        assert answer.probability is None or 0.0 <= answer.probability <= 1.0
        figures = [(f.value, f.low, f.high) for f in answer.figures]
        assert all(n is None or math.isfinite(n) for numbers in figures for n in numbers)
