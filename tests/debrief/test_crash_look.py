"""Which ends of flights are looked at."""

import numpy as np
import pytest
from tests.debrief.crashes import KINDS, soft_landing, unharmed
from tests.debrief.simulator import circles, fly
from tests.jobs.lost_log import LOG

from foamwright.debrief.crash_look import climb_of, in_the_air, longest, look_at, smoothed
from foamwright.debrief.outcome import Facts
from foamwright.debrief.reading import read_log
from foamwright.debrief.recording import Recording
from foamwright.debrief.scene import Scene, scene_of


def laid_out(recording: Recording) -> Scene:
    """Return a recording as readers see it."""
    return scene_of(recording, Facts())[0]


def cut(recording: Recording, seconds: float) -> Recording:
    """Return a recording without its last seconds."""
    return recording.between(0.0 * seconds + recording.time[0], recording.time[-1] - seconds)


@pytest.mark.parametrize("kind", KINDS)
def test_every_invented_crash_is_looked_at(kind: str) -> None:
    """Those that strike at the blow, the one whose recorder stops at its end in the air."""
    recording = KINDS[kind](3)
    look = look_at(laid_out(recording))
    assert look is not None
    assert look.struck is (kind != "power")
    assert look.end <= recording.time[-1]
    assert look.end > recording.time[-1] - (0.01 if kind == "power" else 3.3)
    late = look.time[look.late]
    assert late[-1] - late[0] == pytest.approx(10.0, abs=0.2)
    assert not np.any(look.late & look.before)


def test_a_landing_is_not_looked_at() -> None:
    """Neither the soft one of the example nor one that rolls out."""
    assert look_at(laid_out(read_log(LOG).recording)) is None
    for seed in range(5):
        assert look_at(laid_out(soft_landing(seed))) is None


def test_a_log_that_stops_up_there_is_looked_at_and_one_on_the_ground_is_not() -> None:
    """By the height above the ground it waited on."""
    scene = laid_out(unharmed(1))
    assert in_the_air(scene)
    look = look_at(scene)
    assert look is not None
    assert not look.struck
    assert not in_the_air(laid_out(soft_landing(1)))


def test_what_sinks_too_fast_to_land_is_in_the_air_however_low() -> None:
    """The log of a dive that ends three metres up."""
    whole = KINDS["overload"](1)
    blow = look_at(laid_out(whole))
    assert blow is not None
    early = whole.between(whole.time[0], blow.end - 0.3)
    assert in_the_air(laid_out(early))


def test_too_short_a_flight_has_nothing_usual() -> None:
    """Twelve seconds in the air, ten of which are the end."""
    whole = unharmed(2)
    short = whole.between(whole.time[-1] - 12.0, whole.time[-1])
    assert look_at(laid_out(short)) is None


def test_without_any_speed_nothing_is_looked_at() -> None:
    """Nothing says that it flew."""
    still = Recording(time=np.arange(300) / 10.0, channels={"voltage": np.full(300, 11.0)})
    assert look_at(laid_out(still)) is None


def test_the_height_tells_the_climb_where_nothing_else_does() -> None:
    """2 m/s up, from a height."""
    recording = fly(circles(60))
    height = 10.0 + 2.0 * recording.time
    rising = Recording(
        time=recording.time, channels={**recording.channels, "height": height}, step=0.1
    )
    look = look_at(laid_out(rising))
    assert look is not None
    climb = climb_of(look)
    assert climb is not None
    assert np.median(climb) == pytest.approx(2.0, abs=1e-6)


def test_smoothing_keeps_a_constant_and_bridges_no_hole() -> None:
    """Ends too; where most rows are unknown there is no mean."""
    values = np.full(50, 3.0)
    assert smoothed(values, 0.1, 0.5) == pytest.approx(values)
    values[20:30] = np.nan
    found = smoothed(values, 0.1, 0.5)
    assert np.isnan(found[25])
    assert found[40] == pytest.approx(3.0)


def test_how_long_something_was_seen() -> None:
    """The longest run; a hole in time breaks it."""
    time = np.arange(20) / 10.0
    seen = np.zeros(20, dtype=bool)
    seen[3:9] = True
    assert longest(seen, time, 0.1) == pytest.approx(0.6)
    late = np.where(np.arange(20) >= 6, time + 5.0, time)
    assert longest(seen, late, 0.1) == pytest.approx(0.3)
