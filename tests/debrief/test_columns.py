"""All columns of a log, settled together."""

from collections.abc import Mapping

import numpy as np
import pytest

from foamwright.debrief.columns import (
    JUDGES,
    Candidate,
    candidates_of,
    column_of,
    fullness,
    left_out,
    said_of,
    settle,
    settled,
    silent,
)
from foamwright.debrief.judging import Bench, Expected
from foamwright.debrief.naming import DIMENSION, meanings_of
from foamwright.debrief.taking import Taken

Truth = Mapping[str, np.ndarray]


@pytest.fixture
def bench(truth: Truth) -> Bench:
    """Return a bench without anything settled."""
    return Bench(time=truth["time"], step=0.1, expected=Expected(cells=3))


def named(
    values: Mapping[str, np.ndarray], takes: Mapping[str, Taken] | None = None
) -> list[Candidate]:
    """Return candidates by their names."""
    meanings = {name: meanings_of(name) for name in values}
    return candidates_of(values, meanings, takes or {})


def test_everything_that_has_a_dimension_but_time_is_judged() -> None:
    """No meaning is without a judge."""
    assert set(JUDGES) == set(DIMENSION) - {"time"}


def test_the_surer_of_two_columns_is_taken(bench: Bench, truth: Truth) -> None:
    """The other is said to be not needed, and is no reproach."""
    values = {"alt": truth["height"] * 3, "alt_m": truth["height"]}
    found = settled(bench, named(values))
    assert found.channels["height"] == pytest.approx(truth["height"])
    assert found.verdicts["height"][0] == "alt_m"
    other = next(column for column in found.columns if column.column == "alt")
    assert "taken as the height already" in other.because
    assert found.not_said == ()


def test_an_unsure_column_is_left_out_with_what_would_take_it(bench: Bench, truth: Truth) -> None:
    """Nothing guessed is measured."""
    found = settled(bench, named({"speed": truth["ground_speed"]}))
    assert found.channels == {}
    assert '--take "speed=ground_speed in' in found.not_said[0]


def test_what_is_said_is_not_doubted(bench: Bench, truth: Truth) -> None:
    """And a column may be said to be nothing."""
    takes = {
        "speed": Taken(taken_as="ground_speed", unit="kn"),
        "alt_m": Taken(taken_as="nothing", unit=""),
    }
    found = settled(bench, named({"speed": truth["ground_speed"], "alt_m": truth["height"]}, takes))
    assert set(found.channels) == {"ground_speed"}
    assert found.channels["ground_speed"][0] == pytest.approx(truth["ground_speed"][0] * 0.5144444)


def test_silence_is_no_measurement() -> None:
    """Constants and columns of almost nothing."""
    assert "no measurement" in silent(np.zeros(9))
    assert "holds no values" in silent(np.full(9, np.nan))
    assert silent(np.arange(9.0)) == ""
    assert fullness(np.array([1.0, np.nan])) == 0.5


def test_an_ambiguous_name_is_settled_by_its_values(bench: Bench, truth: Truth) -> None:
    """`ele` from 1000 to 2000 is an elevator."""
    stick = 1500 + 400 * np.sin(truth["time"])
    _, chosen = settle(bench, named({"ele": stick}))
    assert chosen["elevator"][1].unit == "us"
    candidates = named({"ele": stick})
    assert column_of(candidates[0], bench, settle(bench, candidates)[1]).column == "ele"


def test_what_is_left_out_is_said() -> None:
    """With its reason."""
    assert said_of([left_out("x", "it is odd")]) == ("'x' is left out: it is odd",)
