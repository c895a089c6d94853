"""The rules' thresholds as data: their boundaries and their citations."""

import numpy as np
import pytest

from foamwright.questions.thresholds import Threshold, of_region, thresholds


def freest(region: str) -> Threshold:
    """Return the one freest class of a region."""
    (found,) = (entry for entry in of_region(region) if entry.freest)
    return found


def stays(threshold: Threshold, mass: float, speed: float) -> bool:
    """Return whether one plane stays below."""
    energy = 0.5 * mass * speed**2
    return bool(threshold.below(np.array([mass]), np.array([speed]), np.array([energy]))[0])


@pytest.mark.parametrize(
    ("mass", "speed", "below"),
    [
        (0.2499, 18.9, True),
        (0.250, 18.9, False),
        (0.2499, 19.0, False),
        (0.100, 25.0, False),
    ],
)
def test_privately_built_in_the_eu(mass: float, speed: float, below: bool) -> None:  # noqa: FBT001
    """Under 250 g and under 19 m/s: Regulation (EU) 2019/947, UAS.OPEN.020(5)(a)."""
    assert stays(freest("EU"), mass, speed) is below


@pytest.mark.parametrize(
    ("mass", "below"), [(0.2494, True), (0.2494758, True), (0.2495, False), (0.250, False)]
)
def test_unregistered_in_the_us(mass: float, below: bool) -> None:  # noqa: FBT001
    """0.55 lb or less, at any speed: 14 CFR 48.15(b); the pound is 0.45359237 kg by definition."""
    assert freest("US").mass_up_to == pytest.approx(0.55 * 0.45359237, abs=5e-8)
    assert stays(freest("US"), mass, 40.0) is below


def test_a_plane_between_the_two() -> None:
    """249.7 g is under 250 g and over 0.55 lb (249.4758 g)."""
    assert stays(freest("EU"), 0.2497, 15.0)
    assert not stays(freest("US"), 0.2497, 15.0)


def test_a_fast_light_plane_is_not_in_the_freest_class() -> None:
    """19 m/s is 68.4 km/h; 200 g at 70 km/h is A3, not A1."""
    limit = freest("EU").speed_below
    assert limit is not None
    assert limit * 3.6 == pytest.approx(68.4)
    assert not stays(freest("EU"), 0.200, 70 / 3.6)
    assert "A3" in freest("EU").otherwise


def test_energy_counts_for_registration() -> None:
    """80 J: 200 g reach it at 28.3 m/s; Regulation (EU) 2019/947, Art. 14(5)."""
    (operator,) = (entry for entry in of_region("EU") if entry.energy_below is not None)
    assert stays(operator, 0.200, 28.2)
    assert not stays(operator, 0.200, 28.3)


def test_every_threshold_says_where_it_is_written_and_how_it_is_held() -> None:
    """A citation, what holds below and above, one of three ways of knowing it."""
    found = thresholds()
    assert {entry.region for entry in found} == {"EU", "US", "UK"}
    for entry in found:
        assert entry.citation
        assert entry.says
        assert entry.otherwise
        assert entry.held in ("read", "second-hand", "memory")
        limits = (entry.mass_below, entry.mass_up_to, entry.speed_below, entry.energy_below)
        assert any(limit is not None for limit in limits)
