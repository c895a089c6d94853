"""A count of readings inside their bands, judged by the binomial law."""

import datetime as dt

import pytest
from scipy.stats import binom

from foamwright.model.evidence import Observation, Source
from foamwright.model.learning import Band, Checked, Taught
from foamwright.model.score import Score, chance, scored


def taught(kind: str, values: tuple[float, ...], band: Band | None) -> Taught:
    """Return a source whose top speeds were to lie in a band."""
    seen = tuple(Observation(name="top_speed", value=value, spread=0.5) for value in values)
    checks = tuple(
        Checked(observation=one, expected=band, probability=0.5, used=True, why="") for one in seen
    )
    source = Source(name="x", kind=kind, day=dt.date(2026, 5, 1), observations=seen)
    return Taught(source=source, checked=checks, changes=())


@pytest.mark.parametrize(("count", "of"), [(0, 0), (3, 5), (5, 5), (12, 20)])
def test_the_chances_are_binomial(count: int, of: int) -> None:
    """Against scipy's."""
    assert chance(count, of) == pytest.approx(binom.pmf(count, of, 0.8))
    score = Score(inside=count, of=of)
    assert score.too_few == pytest.approx(binom.cdf(count, of, 0.8))
    assert score.too_many == pytest.approx(binom.sf(count - 1, of, 0.8))


def test_readings_inside_their_bands_are_counted() -> None:
    """By kind, and none that was not foretold."""
    band = Band(value=25.0, low=22.0, high=28.0)
    told = (
        taught("flight", (23.0, 30.0), band),
        taught("test", (25.0,), band),
        taught("flight", (5.0,), None),
    )
    assert scored(told) == Score(inside=2, of=3)
    assert scored(told, "flight") == Score(inside=1, of=2)


def test_a_bound_counts_neither_way() -> None:
    """It was not to fall into a band: far above is as good as just above."""
    flown = tuple(Observation(name="lowest_speed", value=v, spread=0.3) for v in (6.0, 7.0, 12.0))
    band = Band(value=7.0, low=6.5, high=7.6)
    checks = tuple(
        Checked(observation=one, expected=band, probability=0.5, used=True, why="") for one in flown
    )
    source = Source(name="x", kind="flight", day=dt.date(2026, 5, 1), observations=flown)
    told = Taught(source=source, checked=checks, changes=())
    assert scored((told,)) == Score(inside=0, of=0)
    assert [check.inside for check in checks] == [False, True, True]
    assert told.foretold == ()


def test_the_words_follow_the_count() -> None:
    """Few readings prove nothing; four of ten do, and twenty of twenty."""
    assert Score(inside=0, of=0).sentence() == ""
    assert "as can be" in Score(inside=2, of=3).sentence()
    assert "too narrow" in Score(inside=4, of=10).sentence()
    assert "wider than" in Score(inside=20, of=20).sentence()
