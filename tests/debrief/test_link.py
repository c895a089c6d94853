"""A radio link made by the law of free space, read back."""

import numpy as np
import pytest
from geographiclib.geodesic import Geodesic

from foamwright.debrief.link import FADE, USABLE, distance, fitted, read_link
from foamwright.debrief.outcome import Facts
from foamwright.debrief.recording import Recording
from foamwright.debrief.scene import Scene, scene_of

HOME = (47.5, 8.25)


def away(metres: np.ndarray) -> dict[str, np.ndarray]:
    """Return positions so far east of home, by Karney's geodesics."""
    found = [Geodesic.WGS84.Direct(*HOME, 90.0, float(d)) for d in metres]
    return {
        "latitude": np.radians([point["lat2"] for point in found]),
        "longitude": np.radians([point["lon2"] for point in found]),
    }


def out_and_back(farthest: float = 300.0) -> np.ndarray:
    """Return distances of a flight out and back (k,) [m]."""
    time = np.arange(0.0, 200.0, 0.5)
    return np.asarray(farthest * np.abs(np.sin(np.pi * time / 100.0)))


def scene(metres: np.ndarray, **channels: np.ndarray) -> Scene:
    """Return a scene with positions so far away."""
    time = np.linspace(0.0, 0.5 * (metres.size - 1), metres.size)
    speed = np.full(time.size, 14.0)
    log = Recording(
        time=time, channels={**away(metres), "ground_speed": speed, **channels}, step=0.5
    )
    return scene_of(log, Facts())[0]


def free_space(metres: np.ndarray, range_end: float, fall: float = 20.0) -> np.ndarray:
    """Return a signal that reaches the weakest usable, with the fade in hand, at some distance.

    Friis (1946): so many decibels for each tenfold distance; fading of 2 dB on top. No receiver
    reads more than -10 dB.
    """
    fading = np.random.default_rng(3).normal(0.0, 2.0, metres.size)
    signal = USABLE + FADE + fall * np.log10(range_end / np.maximum(metres, 1.0)) + fading
    return np.asarray(np.minimum(signal, -10.0))


def test_the_distance_is_that_on_the_ellipsoid() -> None:
    """To a centimetre of geodesics; height counts; none without positions."""
    metres = np.array([0.0, 120.0, 900.0])
    log = Recording(time=np.arange(3.0), channels=away(metres))
    assert distance(log) == pytest.approx(metres, abs=0.01)
    high = Recording(
        time=np.arange(3.0), channels={**away(metres), "height": np.array([0.0, 50.0, 0.0])}
    )
    assert distance(high) == pytest.approx([0.0, 130.0, 900.0], abs=0.01)
    assert distance(Recording(time=np.arange(3.0), channels={})) is None


@pytest.mark.parametrize("end", [700.0, 2500.0])
def test_the_range_of_free_space_is_found(end: float) -> None:
    """Within a fifth, inside its band, the fall within 3 dB of 20."""
    metres = out_and_back()
    told = read_link(scene(metres, signal_strength=free_space(metres, end)))
    figures = {one.name: one for one in told.figures}
    found = figures["link_range"]
    assert found.value == pytest.approx(end, rel=0.2)
    assert found.low < end < found.high
    assert figures["signal_fall"].value == pytest.approx(20.0, abs=3.0)
    assert told.findings == ()


def test_a_range_hardly_beyond_what_was_flown_is_a_finding() -> None:
    """350 m of range after 300 m flown; no advice of more power."""
    metres = out_and_back()
    (found,) = read_link(scene(metres, signal_strength=free_space(metres, 350.0))).findings
    assert "hardly farther" in found.what
    assert "300 m" in found.because
    assert "no remedy" in found.check_first[-1]


def test_a_steeper_fall_than_free_space_is_named_and_used() -> None:
    """40 dB over tenfold distance, as over flat ground: carried on, not flattened."""
    metres = out_and_back()
    told = read_link(scene(metres, signal_strength=free_space(metres, 900.0, fall=40.0)))
    figures = {one.name: one for one in told.figures}
    assert figures["signal_fall"].value == pytest.approx(40.0, abs=4.0)
    assert figures["link_range"].value == pytest.approx(900.0, rel=0.2)
    assert "faster" in told.findings[0].what


@pytest.mark.parametrize(
    ("metres", "signal", "said"),
    [
        (out_and_back(), np.full(400, 80.0), "decibels below a milliwatt"),
        (np.full(400, 150.0), np.full(400, -70.0), "too much alike"),
        (out_and_back(15.0), np.full(400, -60.0), "too much alike"),
    ],
)
def test_what_shows_no_trend_is_said(metres: np.ndarray, signal: np.ndarray, said: str) -> None:
    """Shares of something, one distance, too near."""
    told = read_link(scene(metres, signal_strength=signal))
    assert told.figures == ()
    assert said in told.not_said[0]


def test_a_signal_without_positions_is_said() -> None:
    """Nothing to hold it against."""
    log = Recording(
        time=np.arange(100.0),
        channels={"signal_strength": np.full(100, -70.0), "ground_speed": np.full(100, 12.0)},
    )
    assert "no positions" in read_link(scene_of(log, Facts())[0]).not_said[0]


def test_a_poor_link_is_told_with_when_and_where() -> None:
    """Below 70 % for 10 % of the time, worst 30 % at 300 m."""
    metres = out_and_back()
    quality = np.full(metres.size, 0.98)
    quality[80:120] = 0.6
    quality[100] = 0.3
    told = read_link(scene(metres, link_quality=quality))
    figures = {one.name: one.value for one in told.figures}
    assert figures == {"poor_link": pytest.approx(0.1), "worst_link": pytest.approx(0.3)}
    (found,) = told.findings
    assert "10 % of the time" in found.because
    assert "30 % at 50 s, 300 m from the start" in found.because


def test_a_good_link_is_two_figures_and_no_word() -> None:
    """One short dip to 60 % is no finding."""
    metres = out_and_back()
    quality = np.full(metres.size, 0.99)
    quality[50] = 0.6
    told = read_link(scene(metres, link_quality=quality))
    assert len(told.figures) == 2
    assert told.findings == ()


def test_a_log_without_a_link_says_nothing() -> None:
    """No channel, no word."""
    told = read_link(scene(out_and_back()))
    assert (told.figures, told.findings, told.not_said) == ((), (), ())


def test_the_band_of_the_fall_holds_the_truth() -> None:
    """Of 60 links with fading that hangs together for 4 s, 36 to 57 bands hold 20 dB."""
    metres, held = out_and_back(), 0
    for seed in range(60):
        random = np.random.default_rng(seed)
        slow = np.repeat(random.normal(0.0, 3.0, 50), 8)
        signal = -40.0 - 20.0 * np.log10(np.maximum(metres, 1.0)) + slow
        trend = fitted(signal, metres, 0.5)
        assert trend is not None
        held += abs(trend.per_decade - 20.0) < 1.2816 * trend.per_decade_sd
    assert 36 <= held <= 57
