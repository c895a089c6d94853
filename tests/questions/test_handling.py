"""Modes become words a builder can act on."""

from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from foamwright.model.computable import ComputablePlane
from foamwright.model.ensemble import Draws
from foamwright.plane.document import load
from foamwright.questions.handling import WORDS, Root, middle, told, words

NONE = float("nan")
EXAMPLES = Path(__file__).parents[2] / "examples"

SAID = [
    ("short period", Root(14.0, 0.9, -5.76), "pitch settles in 0.4 s"),
    ("short period", Root(14.0, 0.2, -2.8), "pitch settles in 0.8 s, bobbing on the way"),
    ("short period", Root(NONE, NONE, 0.5), "pitch runs away, doubles in 1.4 s: balance it"),
    ("phugoid", Root(1.0, 0.15, -0.15), "slow rise and fall every 6.3 s, dies out in 15 s"),
    (
        "phugoid",
        Root(1.0, -0.05, 0.05),
        "slow rise and fall every 6.3 s, doubles in 14 s: your thumb",
    ),
    ("phugoid", Root(1.0, 1.2, -0.5), "speed settles without rise and fall"),
    ("phugoid", Root(NONE, NONE, 0.1), "no slow rise and fall of its own"),
    ("roll", Root(NONE, NONE, -23.0), "rolling stops 0.1 s after you let go"),
    ("roll", Root(NONE, NONE, -40.0), "rolling stops less than 0.1 s after you let go"),
    ("roll", Root(NONE, NONE, 0.1), "rolling does not stop by itself"),
    ("spiral", Root(NONE, NONE, 0.0866), "slow spiral, doubles in 8.0 s: you will not notice"),
    ("spiral", Root(NONE, NONE, 0.1155), "spiral, doubles in 6.0 s: hold a little against it"),
    ("spiral", Root(NONE, NONE, 0.35), "falls into turns, doubles in 2.0 s: it wants a hand"),
    ("spiral", Root(NONE, NONE, -0.1), "rolls itself level, half the bank gone in 6.9 s"),
    ("spiral", Root(NONE, NONE, 0.001), "stays in the bank it is put in"),
    ("spiral", Root(NONE, NONE, -0.001), "stays in the bank it is put in"),
    ("Dutch roll", Root(6.3, 0.2, -1.26), "the tail wags 1.0 times a second and is still in 1.8 s"),
    ("Dutch roll", Root(6.3, 0.05, -0.3), "the tail keeps wagging 1.0 times a second: more fin"),
    ("Dutch roll", Root(6.3, -0.05, 0.3), "wags 1.0 times a second and more each time"),
    ("Dutch roll", Root(6.3, 1.1, -4.6), "the tail swings back without wagging, in 0.5 s"),
    ("Dutch roll", Root(NONE, NONE, 1.4), "swaps ends, doubles in 0.5 s: more fin"),
]


@pytest.mark.parametrize(("mode", "root", "said"), SAID)
def test_words(mode: str, root: Root, said: str) -> None:
    """One sentence a case, with its time."""
    assert said in words(mode, root)


@given(
    mode=st.sampled_from(sorted(WORDS)),
    frequency=st.floats(1e-3, 1e3),
    damping=st.floats(-2.0, 2.0),
    growth=st.floats(-1e3, 1e3),
)
def test_there_are_words_for_whatever_comes(
    mode: str, frequency: float, damping: float, growth: float
) -> None:
    """No number that is none, no endless time."""
    said = words(mode, Root(frequency, damping, growth))
    assert said
    assert "nan" not in said
    assert "inf" not in said


def test_the_median_leaves_out_what_has_no_number() -> None:
    """Unless most have none."""
    assert middle(np.array([1.0, np.nan, 3.0])) == 2.0
    assert np.isnan(middle(np.array([1.0, np.nan, np.nan])))


@pytest.mark.parametrize("name", ["reedling", "windrow", "anvil"])
def test_every_mode_of_a_plane_is_told(name: str) -> None:
    """Five sentences; all examples settle in pitch."""
    plane = ComputablePlane(load(EXAMPLES / name), Draws(64, 1))
    plane.settle()
    said = told(plane.modes)
    assert set(said) == set(WORDS)
    assert said["short period"].startswith("pitch settles in 0.")
