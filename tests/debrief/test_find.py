"""Where to look, against planes lost in a simulator that knows nothing of the search."""

from collections import Counter

import numpy as np
import pytest
from tests.debrief.broken_logs import broken
from tests.debrief.lost_planes import Lost, lose
from tests.debrief.test_falls import STILL, luck, seen_at

from foamwright.debrief.falls import Air, parabolic
from foamwright.debrief.find import SHARES, find
from foamwright.debrief.geodesy import apart, way_between
from foamwright.debrief.last_seen import last_seen
from foamwright.debrief.wind import find_wind
from foamwright.problems import CallProblem

LOSSES = 200


def air_in(lost: Lost) -> Air:
    """Return the wind as the log has it, none known where it has none."""
    wind, _ = find_wind(lost.recording)
    if wind is None:
        return Air(north=0.0, east=0.0, spread=3.0)
    return Air(north=wind.north, east=wind.east, spread=float(np.hypot(wind.sd, 1.0)))


@pytest.mark.slow
def test_the_areas_hold_the_true_places_as_often_as_they_say() -> None:
    """200 invented losses: the half holds 35 to 65 %, the nine tenths 80 to 97 %; the simulator
    has its own forces, and its own shares of what goes wrong."""
    held, causes = [], Counter[str]()
    for seed in range(LOSSES):
        lost, draw = lose(seed), np.random.default_rng(10_000 + seed)
        planes = parabolic(draw.normal(8.0, 1.2, 256), draw.normal(10.0, 1.0, 256))
        area = find(last_seen(lost.recording), air_in(lost), planes, draw)
        north, east = apart(area.seen.spot, lost.true)
        held.append([region.holds(north, east) for region in area.regions])
        causes[lost.cause] += 1
    half, nine_tenths = np.mean(held, axis=0)
    assert 0.35 <= half <= 0.65
    assert 0.80 <= nine_tenths <= 0.97
    assert min(causes.values()) >= 10


@pytest.mark.parametrize("seed", range(30))
def test_a_broken_log_is_searched_as_far_as_it_goes(seed: int) -> None:
    """Whatever is missing: an area, or one sentence why there is none."""
    recording = broken(lose(seed).recording, seed)
    there = recording.has("latitude", "longitude") and np.isfinite(
        recording.channel("latitude") + recording.channel("longitude")
    )
    if not np.any(there):
        with pytest.raises(CallProblem, match="position"):
            last_seen(recording)
        return
    seen = last_seen(recording)
    area = find(seen, STILL, parabolic(*planes()), luck(), count=1000)
    inner, outer = area.regions
    assert 0.0 < inner.size < outer.size < 1e8
    assert np.isfinite(area.likely).all()


def test_what_lay_on_the_ground_lies_at_the_last_fix() -> None:
    """The areas are circles of a round normal, 2 pi sigma^2 ln(1 / (1 - p)): analytic."""
    area = find(seen_at(grounded=True, height=0.0), STILL, parabolic(*planes()), luck())
    assert area.likely == (0.0, 0.0)
    assert area.cases == ()
    spread = np.hypot(3.0, 2.0)
    for region in area.regions:
        exact = 2.0 * np.pi * spread**2 * np.log(1.0 / (1.0 - region.share))
        assert region.size == pytest.approx(exact, rel=0.01)
    assert area.walk == ((0.0, 0.0),)
    assert way_between(area.seen.spot, area.likely_spot).distance == 0.0


def planes() -> tuple[np.ndarray, np.ndarray]:
    """Return best glide ratios and their speeds."""
    return np.full(50, 8.0), np.full(50, 10.0)


def test_the_same_luck_finds_the_same_place() -> None:
    """Seeded through and through."""
    first, second = (find(seen_at(), STILL, parabolic(*planes()), luck()) for _ in range(2))
    assert first.likely == second.likely
    assert first.walk == second.walk
    assert [region.share for region in first.regions] == list(SHARES)
    assert sum(share for _, share in first.cases) == pytest.approx(1.0)


def test_wind_moves_the_area_downwind() -> None:
    """6 m/s to the east against calm, by the middle of the nine tenths."""
    calm, windy = (
        find(seen_at(), Air(north=0.0, east=e, spread=0.5), parabolic(*planes()), luck())
        for e in (0.0, 6.0)
    )
    assert windy.regions[-1].shape.centroid.x > calm.regions[-1].shape.centroid.x + 10.0
