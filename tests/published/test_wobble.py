"""Reading of wobbles against general-purpose libraries and measured rates."""

from pathlib import Path

import control
import numpy as np
import pytest
from scipy.signal import lfilter
from tests.debrief.rates_simulator import Loop, pole, unstable_turn

from foamwright.debrief.outcome import Facts
from foamwright.debrief.pencil import autocorrelation, poles_of, swings_of
from foamwright.debrief.recording import Recording
from foamwright.debrief.scene import Scene
from foamwright.debrief.wobble import read_wobble

pytestmark = pytest.mark.published

MEASURED = Path(__file__).parent / "data" / "flights_tailsitter.csv"


@pytest.mark.parametrize(("frequency", "damping"), [(3.0, 0.02), (6.0, 0.1), (9.0, 0.3)])
def test_poles_are_those_of_the_eigensystem_realisation(frequency: float, damping: float) -> None:
    """python-control 0.10.2, `eigensys_realization` (Juang and Pappa, 1985): the same poles of an
    impulse response, another algorithm (source key hua-sarkar-1990 for ours)."""
    natural = 2 * np.pi * frequency / np.sqrt(1 - damping**2)
    system = control.tf([natural**2], [1.0, 2.0 * damping * natural, natural**2])
    time = np.arange(80) * 0.01
    values = np.asarray(control.impulse_response(system, T=time).outputs)
    realised, _ = control.eigensys_realization(values[1:], r=2, dt=0.01)
    expected = np.sort_complex(np.asarray(realised.poles()))
    assert np.sort_complex(poles_of(values[1:], 2)) == pytest.approx(expected, abs=1e-6)


def test_two_close_sinusoids_of_few_samples_are_told_apart() -> None:
    """Two damped sinusoids of 25 samples, exp((-0.2 + 2 pi 0.42 i) k) and exp((-0.1 + 2 pi 0.52
    i) k), the example of Hua and Sarkar 1990 from memory (analytic truth, none of its printed
    errors): exact without noise, within 0.01 of a cycle a sample with noise of 0.1."""
    steps = np.arange(25)
    truth = [complex(-0.2, 2 * np.pi * 0.42), complex(-0.1, 2 * np.pi * 0.52)]
    exact = sum(np.exp(s * steps) for s in truth)
    random = np.random.default_rng(1)
    missed = []
    for size in (0.0, 0.1):
        noise = size / np.sqrt(2.0) * (random.normal(size=(50, 25, 2)) @ np.array([1.0, 1j]))
        found = [np.sort(np.angle(poles_of(exact + one, 2)) % (2 * np.pi)) for one in noise]
        expected = np.sort([s.imag for s in truth])
        missed.append(np.std((np.array(found) - expected) / 2 / np.pi))
    assert missed[0] < 1e-9
    assert missed[1] < 0.01


@pytest.mark.parametrize(("frequency", "damping"), [(4.0, 0.02), (8.0, 0.05), (8.0, 0.1)])
def test_noise_through_a_known_filter_shows_its_pole(frequency: float, damping: float) -> None:
    """scipy.signal.lfilter with two exact poles, white noise in, 300 s at 100 Hz: frequency
    within 2 %, damping within 0.02."""
    natural = 2 * np.pi * frequency / np.sqrt(1 - damping**2)
    z = np.exp(0.01 * complex(-damping * natural, 2 * np.pi * frequency))
    noise = np.random.default_rng(4).normal(size=30_000)
    values = np.asarray(lfilter([1.0], [1.0, -2.0 * z.real, abs(z) ** 2], noise))
    (swing, *_) = swings_of(autocorrelation([values], 60), 0.01, 4)
    assert swing.frequency == pytest.approx(frequency, rel=0.02)
    assert swing.damping == pytest.approx(damping, abs=0.02)


@pytest.mark.parametrize("share", [0.3, 0.5, 0.75, 0.95])
def test_the_simulated_loop_has_the_poles_of_the_library(share: float) -> None:
    """python-control 0.10.2: the closed loop with a Padé delay of order 10 has the pole that the
    simulator's characteristic equation gives, and its gain margin ends where that says."""
    loop = Loop()
    loop = Loop(turn=share * unstable_turn(loop))
    delay = control.tf(*control.pade(loop.delay, 10))
    plant = control.tf([loop.gain], [loop.roll_in, 1.0]) * control.tf([1.0], [loop.servo, 1.0])
    opened = loop.turn * plant * delay
    closed = control.feedback(opened, 1)
    frequency, damping = pole(loop)
    poles = np.asarray(closed.poles())
    size = 2 * np.pi * frequency / np.sqrt(1 - damping**2)
    expected = complex(-damping * size, 2 * np.pi * frequency)
    assert np.abs(poles - expected).min() < 1e-3 * size
    margin = control.margin(opened)[0]
    assert margin == pytest.approx(1.0 / share, rel=1e-3)


def test_a_measured_flight_that_did_not_wobble_is_not_called_so() -> None:
    """Rates of a tail-sitter at 25 Hz (data/flights_README.md): no wobble is reported of a flight
    that was flown for measuring, and what 25 rates a second cannot show is said."""
    table = np.genfromtxt(MEASURED, delimiter=",", names=True)
    channels = {"roll_rate": table["p_rads"], "pitch_rate": table["q_rads"]}
    log = Recording(time=table["t_s"] - table["t_s"][0], channels=channels, step=0.04)
    scene = Scene(recording=log, facts=Facts(), wind=None, airspeed=None, segments=())
    found = read_wobble(scene)
    assert found.findings == ()
    assert "3.1" in found.not_said[0]
