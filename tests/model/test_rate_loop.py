"""The stabiliser of whole planes: what a flight tells beats what is usual."""

from collections.abc import Callable

import numpy as np
import pytest

from foamwright.model.computable import ComputablePlane
from foamwright.model.rate_loop import (
    MARGIN,
    SPEED_SHARE,
    UNSEEN,
    USUAL_GAIN,
    AxisLoop,
    RateLoop,
    axes_of,
    loop_inputs,
)
from foamwright.physics.arrays import Samples

Computed = Callable[..., ComputablePlane]
PLANES = ("reedling", "windrow", "anvil", "saltmarsh")


def loop(computed: Computed, name: str, **tuning: str) -> RateLoop:
    """Return the stabiliser of a plane with something known of it."""
    found = computed(name, {f"tuning.{key}": value for key, value in tuning.items()}).rate_loop
    assert found is not None
    return found


def axis(found: AxisLoop | None) -> AxisLoop:
    """Return an axis that is there."""
    assert found is not None
    return found


def middle(values: Samples) -> float:
    """Return the median."""
    return float(np.median(values))


@pytest.mark.parametrize("name", PLANES)
def test_every_plane_has_both_axes(computed: Computed, name: str) -> None:
    """Margins at every speed, falling with it; wobbles of a few to a dozen a second."""
    found = loop(computed, name)
    for each in (axis(found.roll), axis(found.pitch)):
        assert each.margin.shape == (256, found.speed.size)
        assert np.isfinite(each.margin).all()
        assert np.all(np.diff(np.median(each.margin, axis=0)) < 0.0)
        usual = np.quantile(each.wobble_frequency, 0.2), np.quantile(each.wobble_frequency, 0.9)
        assert 2.0 < usual[0] < usual[1] < 15.0
    assert found.wobble_speed.shape == (256,)


def test_the_delay_is_a_usual_one(computed: Computed) -> None:
    """Filter, frames and servo together 40 to 90 ms; common practice, no source."""
    delay = loop(computed, "reedling").delay
    assert 0.040 < middle(delay) < 0.070
    assert 0.035 < np.quantile(delay, 0.1) < np.quantile(delay, 0.9) < 0.090


def test_a_wobble_is_the_speed_it_was_seen_at(computed: Computed) -> None:
    """The speed comes back with its spread, the margin there is nothing, roll is what counts."""
    found = loop(computed, "windrow", wobble_speed="22 m/s")
    assert middle(found.wobble_speed) == pytest.approx(22.0, rel=0.01)
    assert np.std(found.wobble_speed) / 22.0 == pytest.approx(SPEED_SHARE, rel=0.15)
    roll = axis(found.roll)
    assert roll.seen
    assert not axis(found.pitch).seen
    assert np.array_equal(found.wobble_speed, roll.wobble_speed)
    there = [np.interp(22.0, found.speed, row) for row in roll.margin]
    assert middle(np.array(there)) == pytest.approx(0.0, abs=0.3)


def test_half_the_gain_wobbles_half_as_fast_again(computed: Computed) -> None:
    """Seen at 22 m/s: from there on gain falls with speed as V^-1.45 (trade figure), within 20 %.

    So the multiplier that keeps 6 dB at speed V is (V / 22)^-1.45 / 2.
    """
    found = loop(computed, "windrow", wobble_speed="22 ± 0.1 m/s")
    expected = 0.5 * (found.fastest / 22.0) ** -1.45
    assert middle(found.gain_ratio) == pytest.approx(expected, rel=0.2)
    assert np.std(found.gain_ratio) / middle(found.gain_ratio) < 0.1


def test_a_counted_wobble_tells_the_delay(computed: Computed) -> None:
    """5 Hz at 22 m/s: some 80 ms, and the loop wobbles at 5 Hz there."""
    found = loop(computed, "windrow", wobble_speed="22 m/s", wobble_frequency="5 ± 0.2 Hz")
    assert 0.065 < middle(found.delay) < 0.095
    counted = [np.interp(22.0, found.speed, row) for row in axis(found.roll).wobble_frequency]
    assert middle(np.array(counted)) == pytest.approx(5.0, rel=0.03)
    said = " ".join(found.assumed)
    assert UNSEEN not in said
    assert "servo command" not in said
    assert "gyro filter" not in said


def test_a_wobble_too_fast_for_the_servo_is_asked_back(computed: Computed) -> None:
    """29 Hz is no wobble of such a chain."""
    found = loop(computed, "windrow", wobble_speed="22 m/s", wobble_frequency="29 Hz")
    assert any("count it again" in text for text in found.assumed)


def test_a_proven_speed_is_not_where_it_wobbles(computed: Computed) -> None:
    """Nearly every sample wobbles later; a sample that was fine anyway is hardly moved."""
    usual = loop(computed, "windrow")
    proven = loop(computed, "windrow", proven_speed="20 ± 0.1 m/s")
    assert np.mean(proven.wobble_speed > 19.5) > 0.99
    assert middle(proven.wobble_speed) > middle(usual.wobble_speed)
    assert middle(proven.gain_ratio) > middle(usual.gain_ratio)
    assert axis(proven.roll).seen
    assert axis(proven.pitch).seen


def test_a_speed_proven_far_beyond_all_others_still_holds(computed: Computed) -> None:
    """100 m/s: no sample wobbles before it, the speeds reach beyond it, the gain may rise."""
    found = loop(computed, "reedling", proven_speed="100 ± 0.1 m/s")
    assert found.speed[-1] > 100.0
    assert np.all(found.wobble_speed > 97.0)
    assert middle(found.gain_ratio) > 2.0


def test_a_wobble_below_the_stall_is_taken_at_its_word(computed: Computed) -> None:
    """5 m/s: in a dive and a mush too; the setting is far too strong."""
    found = loop(computed, "reedling", wobble_speed="5 m/s")
    assert found.speed[0] == pytest.approx(5.0)
    assert middle(found.wobble_speed) == pytest.approx(5.0, rel=0.02)
    assert middle(found.gain_ratio) < 0.1


def test_nothing_known_is_said_and_wide(computed: Computed) -> None:
    """An untouched setting within its spread: a factor of two in speed between the tenths."""
    found = loop(computed, "windrow")
    assert UNSEEN in found.assumed
    low, high = np.quantile(found.wobble_speed, (0.1, 0.9))
    assert high / low > 2.0
    gain = USUAL_GAIN[1]
    assert np.std(np.log(axis(found.roll).gain_ratio)) > gain


def test_the_schedule_keeps_the_margin(computed: Computed) -> None:
    """The present margin and the multiplier make the margin wanted at every speed."""
    roll = axis(loop(computed, "anvil").roll)
    left = roll.margin - 20.0 * np.log10(roll.schedule)
    assert left == pytest.approx(np.full(left.shape, MARGIN))


@pytest.mark.parametrize(
    ("key", "slow", "quick"),
    [("frame", "20 ms", "5 ms"), ("gyro_filter", "20 Hz", "120 Hz"), ("delay", "90 ms", "45 ms")],
)
def test_a_quicker_chain_wobbles_later(computed: Computed, key: str, slow: str, quick: str) -> None:
    """The same setting, frames, filter or the whole delay shorter: it wobbles at a higher speed."""
    late, early = (loop(computed, "reedling", **{key: value}) for value in (slow, quick))
    # A filter's lag weakens the loop as well, which makes up for its delay in a few samples.
    assert np.mean(early.wobble_speed > late.wobble_speed) > 0.8
    assert middle(early.wobble_speed) > middle(late.wobble_speed)
    assert middle(early.delay) < middle(late.delay)


def test_a_written_delay_is_the_delay(computed: Computed) -> None:
    """70 ms, of which filter and servo are a part."""
    found = loop(computed, "reedling", delay="70 ± 1 ms")
    assert middle(found.delay) == pytest.approx(0.070, rel=0.01)


def test_more_inertia_stands_more_gain(computed: Computed) -> None:
    """Weights at the tips: it wobbles later in roll."""
    weights = {
        "items.tip weights": {
            "kind": "ballast",
            "mass": "10 g",
            "count": 2,
            "at": {"x": "150 mm", "y": "250 mm"},
        }
    }
    base, heavy = computed("windrow").rate_loop, computed("windrow", weights).rate_loop
    assert base is not None
    assert heavy is not None
    assert middle(axis(heavy.roll).wobble_speed) > 1.1 * middle(axis(base.roll).wobble_speed)


def test_a_plane_without_surfaces_has_no_loop(computed: Computed) -> None:
    """None; with an elevator alone there is pitch only."""
    assert computed("windrow", {"airframe.surfaces.wing.controls": []}).rate_loop is None
    glider = computed("reedling", {"airframe.surfaces.wing.controls": []})
    assert axes_of(glider.plane) == ("pitch",)
    found = glider.rate_loop
    assert found is not None
    assert found.roll is None
    assert np.array_equal(found.wobble_speed, axis(found.pitch).wobble_speed)


def test_what_is_drawn_is_known_beforehand(computed: Computed) -> None:
    """Settling draws every input of the loop, so asking for it first changes nothing."""
    plane = computed("reedling", {"tuning.wobble_speed": "22 m/s", "tuning.proven_speed": "20 m/s"})
    known = {entry.key for entry in plane.draws.inputs()}
    assert {key for key, _ in loop_inputs(plane.plane)} <= known
    assert plane.rate_loop is not None
    assert {entry.key for entry in plane.draws.inputs()} == known
