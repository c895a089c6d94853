"""The throw drawn for each sample; what nobody wrote is said."""

from collections.abc import Callable

import numpy as np
import pytest

from foamwright.model.computable import ComputablePlane
from foamwright.model.launch_inputs import is_pusher, off_the_line

Computed = Callable[..., ComputablePlane]
UNWRITTEN = dict.fromkeys(("thrower.speed", "thrower.angle", "thrower.height", "site.wind"))
LINE = {"length": "2 m", "stretch": "4 m", "pull": "2 ± 0.1 kgf"}


def test_what_is_written_is_drawn_around(computed: Computed) -> None:
    """8 ± 1 m/s, 10 ± 4 degrees, 1.8 m."""
    found = computed("anvil").launch_inputs
    assert (np.median(found.speed), found.speed.std()) == pytest.approx((8.0, 1.0), abs=0.06)
    assert np.rad2deg(np.median(found.angle)) == pytest.approx(10.0, abs=0.2)
    assert np.rad2deg(found.angle_error.std()) == pytest.approx(4.0, abs=0.2)
    assert np.median(found.height) == pytest.approx(1.8, abs=0.01)


def test_what_is_not_written_is_assumed_openly(computed: Computed) -> None:
    """The usual throw, in the words of the answer."""
    found = computed("anvil", UNWRITTEN).launch_inputs
    assert (np.median(found.speed), found.speed.std()) == pytest.approx((8.0, 1.0), abs=0.06)
    said = " ".join(found.assumed)
    for words in ("thrown at 8 ± 1 m/s", "hand 1.8 m up", "still air", "0.3 ± 0.1 s after"):
        assert words in said


def test_nothing_is_assumed_where_all_is_written(computed: Computed) -> None:
    """Speed, height, wind, start and ramp of the motor."""
    keys = {"thrower.delay": "0.2 s", "thrower.ramp": "0.1 s", "site.wind": "1 m/s"}
    assert computed("anvil", keys).launch_inputs.assumed == ()


def test_the_motor_of_a_pusher_starts_after_the_release(computed: Computed) -> None:
    """Behind the balance point it passes the hand; ahead of it it runs before."""
    pusher = computed("anvil")
    tractor = computed("anvil", {"items.motor.at.x": "10 mm"})
    assert is_pusher(pusher.plane, pusher.masses.centre[:, 0])
    assert not is_pusher(tractor.plane, tractor.masses.centre[:, 0])
    assert np.median(pusher.launch_inputs.delay) == pytest.approx(0.3, abs=0.01)
    assert (pusher.launch_inputs.delay > 0.0).all()
    assert (tractor.launch_inputs.delay == 0.0).all()
    assert "runs in the hand" in " ".join(tractor.launch_inputs.assumed)


def test_no_delay_means_a_motor_that_runs(computed: Computed) -> None:
    """Written as 0 s, for a pusher held at its nose."""
    assert (computed("anvil", {"thrower.delay": "0 s"}).launch_inputs.delay == 0.0).all()


def test_a_changed_throw_keeps_its_luck(computed: Computed) -> None:
    """Each sample throws as much above its own middle as before."""
    before = computed("anvil").launch_inputs.speed
    after = computed("anvil", {"thrower.speed": "10 ± 1 m/s"}).launch_inputs.speed
    assert after - before == pytest.approx(np.full(before.size, 2.0))


def test_wind_brings_gusts(computed: Computed) -> None:
    """A windy day shakes more than a still one, across and up; the middle stays nothing."""
    still, windy = (
        computed("anvil", {"site.wind": wind}).launch_inputs
        for wind in ("0 ± 0.1 m/s", "5 ± 0.1 m/s")
    )
    assert np.median(windy.head_wind) == pytest.approx(5.0, abs=0.05)
    assert windy.cross_gust.std() > 3.0 * still.cross_gust.std()
    assert abs(np.median(windy.down_gust)) < 0.1


def test_a_hand_needs_no_rubber(computed: Computed) -> None:
    """None is drawn, and nothing comes off it."""
    found = computed("anvil")
    assert found.launch_inputs.bungee is None
    assert off_the_line(found.launch_inputs, found.masses.all_up) is None


def test_a_rubber_is_drawn_with_what_it_gives_back(computed: Computed) -> None:
    """20 N over 4 m on 2 m of latex: 50 J or so, 78 % of it back, hook where hooks are."""
    plane = computed("anvil", {"bungee": LINE})
    found = plane.launch_inputs
    assert found.bungee is not None
    assert np.median(found.bungee.returned) == pytest.approx(0.78, abs=0.01)
    assert np.median(found.bungee.hook_ahead) == pytest.approx(0.05)
    assert "78 ± 4 %" in " ".join(found.assumed)
    assert "hook 50 mm ahead" in " ".join(found.assumed)
    leaving = off_the_line(found, plane.masses.all_up)
    assert leaving is not None
    # Treloar's law: 20 N x 2 m x ((2)^2 x 5 / 6) / (3 - 1 / 9), less 0.7 m of lift.
    by_hand = 0.78 * 19.61 * 2.0 * (4.0 * 5.0 / 6.0) / (3.0 - 1.0 / 9.0)
    assert np.median(leaving.energy) == pytest.approx(by_hand, rel=0.03)


def test_a_hook_is_measured_from_the_balance_point(computed: Computed) -> None:
    """Ahead of it and below it, by the drawn places."""
    hook = {"x": "150 mm", "z": "-20 mm"}
    plane = computed("anvil", {"bungee": {**LINE, "hook": hook, "slope": "15 deg"}})
    found = plane.launch_inputs.bungee
    assert found is not None
    assert found.hook_ahead == pytest.approx(plane.masses.centre[:, 0] - 0.150)
    assert found.hook_below == pytest.approx(plane.masses.centre[:, 2] + 0.020)
    assert np.rad2deg(np.median(found.slope)) == pytest.approx(15.0, abs=0.3)
