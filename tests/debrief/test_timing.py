"""Which column is the clock."""

import numpy as np
import pytest

from foamwright.debrief.naming import Meaning, meanings_of
from foamwright.debrief.taking import Taken
from foamwright.debrief.timing import clock_column, ticks

EVEN = np.arange(0.0, 60.0, 0.1)


def test_a_written_unit_is_believed_where_it_makes_a_log() -> None:
    """Milliseconds, 100 apart."""
    found = ticks("t", EVEN * 1000, Meaning(taken_as="time", unit="ms", strength=0.95))
    assert found.sure == 0.95
    assert found.seconds[-1] == pytest.approx(59.9)


def test_a_written_unit_that_makes_no_log_is_not_believed() -> None:
    """Rows 100 s apart are no flight."""
    found = ticks("t", EVEN * 1000, Meaning(taken_as="time", unit="s", strength=0.95))
    assert found.sure < 0.5


def test_a_clock_without_unit_is_told_by_its_rows() -> None:
    """Only as milliseconds is it a flight; a still one is in no unit."""
    found = ticks("t", EVEN * 1000, Meaning(taken_as="time", unit="", strength=0.95))
    assert (found.unit, found.scale) == ("ms", 1e-3)
    assert "only as ms" in found.because
    assert ticks("t", EVEN * 0, Meaning(taken_as="time", unit="", strength=0.95)).sure < 0.5


def test_the_finer_of_two_clocks_is_taken() -> None:
    """A clock of whole seconds and one of milliseconds."""
    values = {"time": np.floor(EVEN), "t_ms": EVEN * 1000}
    meanings = {name: meanings_of(name) for name in values}
    found = clock_column(values, meanings, {"time": "clock", "t_ms": "number"}, {})
    assert found[0].column == "t_ms"
    assert len(found) == 2


def test_what_the_user_says_comes_first() -> None:
    """Whatever its name is."""
    said = {"x": Taken(taken_as="time", unit="us")}
    found = clock_column({"x": EVEN * 1e6, "t": EVEN}, {"t": meanings_of("t")}, {}, said)
    assert [timed.column for timed in found] == ["x"]
    assert found[0].seconds[-1] == pytest.approx(59.9)


def test_a_packed_clock_is_understood() -> None:
    """123458 and on over the full minute."""
    packed = np.array([123458.0, 123459.0, 123500.0, 123501.0])
    found = ticks("utc", packed, Meaning(taken_as="time", unit="", strength=0.95))
    assert np.diff(found.seconds) == pytest.approx(1.0)


def test_a_clock_of_an_unknown_name_is_told_by_its_unit_and_its_even_steps() -> None:
    """A word of another language, seconds in brackets; a servo's pulse in ms is none."""
    pulse = 1.5 + 0.4 * np.sin(EVEN)
    values = {"tid [s]": EVEN, "Querruder [ms]": pulse}
    meanings = {name: meanings_of(name) for name in values}
    assert {m[0].taken_as for m in meanings.values()} == {"time"}
    best, other = clock_column(values, meanings, dict.fromkeys(values, "number"), {})
    assert (best.column, best.unit) == ("tid [s]", "s")
    assert best.sure > 0.8
    assert other.sure < 0.5
    assert "counts on evenly" in best.because


def test_a_named_clock_goes_before_one_that_only_has_a_unit() -> None:
    """Both run; the name is surer."""
    values = {"tid [s]": EVEN, "time [s]": EVEN}
    meanings = {name: meanings_of(name) for name in values}
    assert (
        clock_column(values, meanings, dict.fromkeys(values, "number"), {})[0].column == "time [s]"
    )
