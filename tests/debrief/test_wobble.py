"""What is told of a wobble, and that nothing is told where there is none."""

from dataclasses import replace

import numpy as np
import pytest
from tests.debrief.rates_simulator import LOOP, Loop, fly, pole, unstable_turn

from foamwright.debrief.analysis import analyse
from foamwright.debrief.outcome import Facts, Remark, Share
from foamwright.debrief.pencil import Swing
from foamwright.debrief.recording import Recording
from foamwright.debrief.scene import Scene
from foamwright.debrief.swinging import Found
from foamwright.debrief.wobble import Wobble, band_of, checks_of, read_wobble, tells, too_slow

QUICK = Loop()
END = unstable_turn(QUICK)
WOBBLY = replace(QUICK, turn=0.95 * END)


def scene(recording: Recording, airspeed: np.ndarray | None = None) -> Scene:
    """Return a scene of rates."""
    return Scene(recording=recording, facts=Facts(), wind=None, airspeed=airspeed, segments=())


def as_pitch(recording: Recording) -> Recording:
    """Return the rates of a roll as those of a pitch."""
    named = {name.replace("roll", "pitch"): v for name, v in recording.channels.items()}
    return replace(recording, channels=named)


def only(share: Share) -> Remark:
    """Return the one finding of a share."""
    (found,) = share.findings
    return found


@pytest.mark.parametrize("hertz", [100, 50])
def test_a_well_damped_flight_is_never_called_a_wobble(hertz: int) -> None:
    """Of 120 flights of 30 s at 6 and 10 dB from wobbling, in gusts, none."""
    false = 0
    for share in (0.3, 0.5):
        flown = fly(replace(QUICK, turn=share * END), 30.0, 60, start=21)
        false += sum(len(read_wobble(scene(flown.at(hertz, seed))).findings) for seed in range(60))
    assert false == 0


def test_a_heavy_aeroplane_is_hardly_ever_called_wobbly() -> None:
    """At 6 dB, with a slow loop of 2 Hz of which 30 s show 60 swings: at most 1 of 60."""
    slow = Loop(roll_in=0.25, servo=0.06, delay=0.08)
    flown = fly(replace(slow, turn=0.5 * unstable_turn(slow)), 30.0, 60, start=21)
    assert sum(len(read_wobble(scene(flown.at(50, n))).findings) for n in range(60)) <= 1


@pytest.mark.parametrize("drop", [(), ("roll_rate_wanted",), ("roll_rate_wanted", "aileron")])
def test_a_wobble_is_always_found(drop: tuple[str, ...]) -> None:
    """Half a decibel from wobbling for ever, in 20 of 20 flights, also where rates are alone."""
    flown = fly(WOBBLY, 30.0, 20, start=21)
    for seed in range(20):
        log = flown.at(100, seed)
        kept = {name: values for name, values in log.channels.items() if name not in drop}
        found = read_wobble(scene(replace(log, channels=kept)))
        assert only(found).what.startswith("roll wobbles, 8.")
        (frequency, size) = found.figures
        assert frequency.value == pytest.approx(pole(WOBBLY)[0], rel=0.05)
        assert frequency.low < frequency.value < frequency.high
        assert size.unit == "rad s^-1"


def test_how_large_it_is() -> None:
    """Beside quiet sticks the swing is all there is of the rate: its size within 10 %."""
    flown = fly(WOBBLY, 30.0, 1, start=2, wanted=np.zeros(30_000))
    _, size = read_wobble(scene(flown.at(100))).figures
    assert size.value == pytest.approx(flown.rate.std(), rel=0.1)


def test_pitch_is_read_as_roll_is() -> None:
    """The same rates under another name tell the same of pitch, and look at the tail."""
    log = as_pitch(fly(WOBBLY, 30.0, 1, start=2).at(100))
    found = read_wobble(scene(log))
    assert only(found).what.startswith("pitch wobbles")
    assert any("tail" in check for check in only(found).check_first)
    assert found.figures[0].name == "pitch_wobble_frequency"


def test_a_wobble_that_sets_in_at_speed_says_so() -> None:
    """Gain grows with the square of the airspeed: it wobbles from where it passes the end."""
    time = np.arange(0.0, 120.0, LOOP)
    speed = 14.0 + 6.0 * np.sin(2 * np.pi * time / 60.0)
    turn = 0.98 * END * (speed / 17.0) ** 2
    log = fly(QUICK, 120.0, 1, start=4, turn=turn).at(100)
    found = read_wobble(scene(log, np.interp(log.time, time, speed)))
    sets_in = next(one for one in found.figures if one.name == "roll_wobble_speed")
    assert sets_in.value == pytest.approx(17.0, abs=1.0)
    remark = only(found)
    assert "above one airspeed only" in remark.because
    assert "gain" in remark.check_first[0]
    assert "slower" in remark.check_first[-1]


def test_a_wobble_that_grows_says_so() -> None:
    """A gain that creeps past the end within 30 s."""
    turn = np.linspace(0.6, 1.02, 30_000) * END
    found = only(read_wobble(scene(fly(QUICK, 30.0, 1, start=4, turn=turn).at(100))))
    assert "it grew from" in found.because


def test_a_steady_one_does_not_grow() -> None:
    """Past the end, servos hold it at one size."""
    loop = replace(QUICK, turn=1.1 * END)
    found = only(read_wobble(scene(fly(loop, 30.0, 1, start=4).at(100))))
    assert "grew" not in found.because
    assert found.check_first[0].startswith("slop")


def test_a_propeller_out_of_balance_is_told_from_a_loop() -> None:
    """209 turns a second show as 9 Hz in 100 rows a second."""
    random = np.random.default_rng(1)
    time = np.arange(0.0, 30.0, 0.01)
    shake = 0.3 * np.sin(2 * np.pi * 209.0 * time) + 0.05 * random.normal(size=time.size)
    channels = {"roll_rate": shake, "rotation_speed": np.full(time.size, 209.2)}
    found = only(read_wobble(scene(Recording(time=time, channels=channels, step=0.01))))
    assert "balance of propeller" in found.check_first[0]
    channels["rotation_speed"] = np.full(time.size, 150.0)
    found = only(read_wobble(scene(Recording(time=time, channels=channels, step=0.01))))
    assert "balance" not in " ".join(found.check_first)


@pytest.mark.parametrize(("hertz", "said"), [(25, "3.1"), (50, "6.25 Hz"), (100, "")])
def test_slow_rates_say_what_they_cannot_show(hertz: int, said: str) -> None:
    """Eight rates a swing are wanted; from 80 a second on there is nothing to say."""
    found = read_wobble(scene(fly(replace(QUICK, turn=0.3 * END), 30.0, 1).at(hertz)))
    assert any(said in word for word in found.not_said) == bool(said)
    assert bool(found.not_said) == bool(said)
    assert bool(too_slow(1.0 / hertz, "metric")) == bool(said)


def test_a_wobble_between_rows_is_told_as_unsure() -> None:
    """8.5 Hz in 50 rows a second: found, but not counted for sure."""
    found = read_wobble(scene(fly(WOBBLY, 30.0, 1, start=2).at(50)))
    assert "too far apart to be sure" in only(found).because
    found = read_wobble(scene(fly(WOBBLY, 30.0, 1, start=2).at(100)))
    assert "too far apart" not in only(found).because


def test_logs_without_rates_are_not_talked_about() -> None:
    """Nothing is said of what most logs lack."""
    time = np.arange(0.0, 30.0, 0.1)
    log = Recording(time=time, channels={"roll": np.zeros(time.size)}, step=0.1)
    assert read_wobble(scene(log)) == Share()
    empty = {"roll_rate": np.full(time.size, np.nan)}
    assert read_wobble(scene(replace(log, channels=empty))) == Share()
    still = {"roll_rate": np.zeros(time.size)}
    assert read_wobble(scene(replace(log, channels=still))).findings == ()


def test_the_analysis_tells_it() -> None:
    """The finding and its figures are those of the flight."""
    found = analyse(fly(WOBBLY, 30.0, 1, start=2).at(100), Facts())
    assert any(one.what.startswith("roll wobbles") for one in found.findings)
    assert any(one.name == "roll_wobble_frequency" for one in found.figures)


@pytest.mark.parametrize(
    ("damping", "degrees", "told"),
    [
        (0.02, 5.0, True),
        (0.02, 2.0, False),
        (0.1, 12.0, True),
        (0.1, 8.0, False),
        (0.2, 50.0, False),
    ],
)
def test_small_swings_are_left_alone(damping: float, degrees: float, *, told: bool) -> None:
    """The less damped, the smaller the swing that is told; what is well damped never is."""
    swing = Swing(frequency=5.0, damping=damping, rms=float(np.radians(degrees)), share=0.5)
    assert tells(Found(swing=swing, start=0.0, end=30.0, runs=())) == told


@pytest.mark.parametrize(
    ("damping", "name"),
    [(-0.1, "nearly none"), (0.059, "nearly none"), (0.06, "weak"), (0.15, "well damped")],
)
def test_dampings_have_three_names(damping: float, name: str) -> None:
    """A number would be more than a flight tells."""
    assert band_of(damping) == name


def test_every_kind_has_something_to_check_first() -> None:
    """Balance before the gain, the gain before slop, slop where no airspeed matters."""
    swing = Swing(frequency=5.0, damping=0.02, rms=0.3, share=0.5)
    found = Found(swing=swing, start=0.0, end=30.0, runs=())
    plain = Wobble(axis="roll", found=found, grew=None, sets_in=None, counted=True, propeller=False)
    assert checks_of(plain)[0].startswith("slop")
    assert checks_of(replace(plain, sets_in=17.0))[0].startswith("gain")
    assert checks_of(replace(plain, propeller=True))[0].startswith("balance")
    assert "twists" in checks_of(plain)[-1]
