"""The flight after the hand against another integrator, closed forms, a rubber's work."""

from collections.abc import Callable
from types import SimpleNamespace

import numpy as np
import pytest
from scipy.integrate import quad, solve_ivp

from foamwright.model.launch_inputs import RETURNED, SPEED
from foamwright.physics.arrays import Samples
from foamwright.physics.flight.bungee import Bungee, drawn_off, pull_at, stored_work
from foamwright.physics.flight.launch import Flown, flown
from foamwright.physics.flight.launch_forces import moment, motion
from foamwright.physics.flight.launch_plane import Throw
from foamwright.physics.flight.launch_stacked import stacked
from foamwright.physics.flight.throwing import thrown_speed

pytestmark = pytest.mark.published

G = 9.80665
MakeThrow = Callable[..., Throw]
NOTHING: dict[str, object] = {"density": 1e-12, "thrust_constant": 0.0, "thrust_linear": 0.0}
NOTHING |= {"thrust_square": 0.0, "torque_constant": 0.0, "torque_linear": 0.0}
NOTHING |= {"torque_square": 0.0, "height": 1000.0}
"""Neither air nor motor, high above the ground."""


def turned(phi: float, theta: float, psi: float) -> Samples:
    """Return the body's axes in the ground's (3, 3) by Euler angles."""
    sf, cf, st, ct = np.sin(phi), np.cos(phi), np.sin(theta), np.cos(theta)
    sy, cy = np.sin(psi), np.cos(psi)
    return np.array(
        [
            [ct * cy, sf * st * cy - cf * sy, cf * st * cy + sf * sy],
            [ct * sy, sf * st * sy + cf * cy, cf * st * sy - sf * cy],
            [-st, sf * ct, cf * ct],
        ]
    )


def plain(throw: Throw) -> SimpleNamespace:
    """Return one throw as plain floats."""
    records = (throw.plane, throw.air, throw.power, throw.hands, throw.release)
    return SimpleNamespace(**{n: float(getattr(r, n)[0]) for r in records for n in r.__slots__})


def controls(o: SimpleNamespace, time: float, turn: Samples, rates: Samples) -> tuple[float, float]:
    """Return elevator and aileron."""
    elevator, aileron = o.elevator, o.aileron
    if time >= o.begin:
        elevator += o.rate_gain * rates[1] - o.pitch_gain * (o.pitch_wanted + turn[2, 0])
        aileron -= o.bank_gain * turn[2, 1] + o.roll_gain * rates[0]
    return (
        min(max(elevator, -o.elevator_up), o.elevator_down),
        min(max(aileron, -o.aileron_limit), o.aileron_limit),
    )


def loads(
    o: SimpleNamespace, air: Samples, rates: Samples, bent: tuple[float, float]
) -> tuple[Samples, Samples]:
    """Return force and moment of the air on the body, below the stall."""
    fast = np.linalg.norm(air)
    alpha, beta = np.arctan2(air[2], air[0]), air[1] / fast
    p, q, r = rates * np.array([o.span, o.chord, o.span]) / (2.0 * fast)
    CL = o.CL0 + o.CLa * alpha + o.CLq * q + o.CLde * bent[0]
    CD = o.drag_constant + o.drag_square * CL**2 + o.drag_fourth * CL**4
    CY = o.CYb * beta + o.CYp * p + o.CYr * r + o.CYda * bent[1]
    Cl = (o.Clb + o.Clb_CL * CL) * beta + o.Clp * p + (o.Clr + o.Clr_CL * CL) * r
    Cl += o.Clda * bent[1]
    Cm = o.Cm0 + o.Cma * alpha + o.Cmq * q + o.Cmde * bent[0]
    Cn = o.Cnb * beta + (o.Cnp + o.Cnp_CL * CL) * p + o.Cnr * r
    Cn += (o.Cnda + o.Cnda_CL * CL) * bent[1]
    load = 0.5 * o.density * fast**2 * o.area
    lift = CL * np.array([np.sin(alpha), 0.0, -np.cos(alpha)])
    force = load * (lift - CD * air / fast + np.array([0.0, CY, 0.0]))
    return force, load * np.array([Cl * o.span, Cm * o.chord, Cn * o.span])


def pulled(o: SimpleNamespace, time: float, along: float) -> tuple[float, float]:
    """Return thrust and torque of the propeller."""
    share = min(max((time - o.delay) / o.ramp, 0.0), 1.0) ** 2
    ahead = min(max(along, 0.0), o.fastest)
    thrust = o.thrust_constant + o.thrust_linear * ahead + o.thrust_square * ahead**2
    torque = o.torque_constant + o.torque_linear * ahead + o.torque_square * ahead**2
    return share * thrust, share * torque


def euler_rates(o: SimpleNamespace, time: float, y: Samples) -> Samples:
    """Return how place, body speeds, Euler angles and rates of one throw change.

    The textbook's equations (Stevens and Lewis, ch. 1) in Euler angles, written out anew.
    """
    speed, (phi, theta, psi), rates = y[3:6], y[6:9], y[9:12]
    turn = turned(phi, theta, psi)
    air = speed - turn.T @ np.array([-o.head_wind, o.cross_wind, o.down_wind])
    force, moment = loads(o, air, rates, controls(o, time, turn, rates))
    thrust, torque = pulled(o, time, air[0])
    force = force + np.array([thrust, 0.0, 0.0]) + o.mass * G * turn[2]
    moment = moment - np.array([torque, thrust * o.arm, 0.0])
    inertia = np.diag([o.inertia_roll, o.inertia_pitch, o.inertia_yaw])
    inertia[0, 2] = inertia[2, 0] = -o.inertia_product
    p, q, r = rates
    angles = [
        p + (q * np.sin(phi) + r * np.cos(phi)) * np.tan(theta),
        q * np.cos(phi) - r * np.sin(phi),
        (q * np.sin(phi) + r * np.cos(phi)) / np.cos(theta),
    ]
    return np.concatenate(
        [
            turn @ speed,
            force / o.mass - np.cross(rates, speed),
            angles,
            np.linalg.solve(inertia, moment - np.cross(rates, inertia @ rates)),
        ]
    )


def reference(throw: Throw, horizon: float) -> tuple[float, float]:
    """Return height and speed over ground at the end, by SciPy's adaptive solver of order eight."""
    o = plain(throw)
    angles = [o.bank, o.climb_angle + o.incidence, -o.sideslip]
    path = o.speed * np.array([np.cos(o.climb_angle), 0.0, -np.sin(o.climb_angle)])
    rates = [o.roll_rate, o.pitch_rate, o.yaw_rate]
    first = np.concatenate([[0.0, 0.0, -o.height], turned(*angles).T @ path, angles, rates])
    found = solve_ivp(
        lambda t, y: euler_rates(o, t, y),
        (0.0, horizon),
        first,
        method="DOP853",
        rtol=1e-9,
        atol=1e-10,
        max_step=0.01,
    )
    end = found.y[:, -1]
    return float(-end[2]), float(np.linalg.norm(end[3:6]))


THROWS: dict[str, dict[str, object]] = {
    "hands off": {"begin": np.inf, "torque_constant": 0.0, "torque_linear": 0.0,
                  "torque_square": 0.0},
    "hands off, with torque": {"begin": np.inf},
    "pilot": {},
    "stabiliser": {"begin": 0.0, "bank_gain": 0.5, "roll_gain": 0.05, "rate_gain": 0.05},
    "fast, down wind": {"speed": 12.0, "head_wind": -2.0},
    "crooked": {"bank": -0.3, "sideslip": 0.15, "roll_rate": -0.8, "cross_wind": 1.5},
    "motor in the hand": {"delay": -0.2, "ramp": 0.2},
}  # fmt: skip


@pytest.mark.parametrize("name", THROWS)
def test_every_rate_against_the_textbook_s_equations(make_throw: MakeThrow, name: str) -> None:
    """To rounding, at attitudes, speeds and rates of all kinds below the stall.

    The textbook's speed is over the ground: the wind turns in the body's axes.
    """
    throw = make_throw(maximum_lift=3.0, **THROWS[name])
    o, flight, luck = plain(throw), stacked(throw), np.random.default_rng(6)
    wind = np.array([-o.head_wind, o.cross_wind, o.down_wind])
    for time in (0.1, 0.34, 0.4, 0.45, 2.0):
        angles, rates = luck.uniform(-1.2, 1.2, 3), luck.uniform(-3.0, 3.0, 3)
        turn, air = turned(*angles), luck.uniform([6.0, -2.0, -1.5], [15.0, 2.0, 1.5])
        wanted = euler_rates(
            o, time, np.concatenate([[0.0, 0.0, -5.0], air + turn.T @ wind, angles, rates])
        )
        state = np.concatenate([[5.0], air, turn[2], rates, turn[0], [0.0, 0.0]])[:, None]
        found = motion(flight, state, moment(flight, time))[:, 0]
        assert found[0] == pytest.approx(-wanted[2])
        assert found[13:] == pytest.approx(wanted[:2])
        assert found[1:4] == pytest.approx(wanted[3:6] - np.cross(turn.T @ wind, rates))
        assert found[7:10] == pytest.approx(wanted[9:])


def axes_of(found: Flown) -> Samples:
    """Return where ahead, right and down are in the body's axes (3, 3), of the first throw."""
    down, ahead = found.state[4:7, 0], found.state[10:13, 0]
    return np.stack([ahead, np.cross(down, ahead), down])


def over_ground(throw: Throw, found: Flown) -> Samples:
    """Return the speed over ground (3,), of the first throw."""
    o = plain(throw)
    wind = np.array([-o.head_wind, o.cross_wind, o.down_wind])
    speed: Samples = axes_of(found) @ found.state[1:4, 0] + wind
    return speed


@pytest.mark.parametrize("name", THROWS)
def test_height_and_speed_against_an_adaptive_solver(make_throw: MakeThrow, name: str) -> None:
    """Within 0.1 % of height and speed, by other equations (Euler angles) and SciPy's DOP853."""
    throw = make_throw(height=30.0, maximum_lift=3.0, **THROWS[name])
    found = flown(throw, horizon=2.0, placed=True)
    height, speed = reference(throw, 2.0)
    assert found.time[0] == 2.0
    assert found.height[0] == pytest.approx(height, rel=1e-3)
    assert np.linalg.norm(over_ground(throw, found)) == pytest.approx(speed, rel=1e-3)


def test_a_throw_in_no_air_is_a_parabola(make_throw: MakeThrow) -> None:
    """x = v t cos, h = h0 + v t sin - g t^2 / 2 (mechanics)."""
    angle = np.deg2rad([0.0, 10.0, 30.0, 60.0])
    throw = make_throw(4, **NOTHING, speed=9.0, climb_angle=angle)
    found = flown(throw, horizon=1.5, placed=True)
    assert found.state[13] == pytest.approx(9.0 * 1.5 * np.cos(angle), rel=1e-6)
    drop = 9.0 * 1.5 * np.sin(angle) - 0.5 * G * 1.5**2
    assert found.height - 1000.0 == pytest.approx(drop, abs=1e-5)


def test_range_of_a_ball_thrown_at_fifteen_metres_a_second(make_throw: MakeThrow) -> None:
    """22.94 m at 45 degrees, back at the same height after 2 v sin / g (recomputed)."""
    ascent = 2.0 * 15.0 * np.sin(np.pi / 4) / G
    throw = make_throw(**NOTHING, speed=15.0, climb_angle=np.pi / 4)
    found = flown(throw, horizon=ascent, placed=True)
    assert found.state[13, 0] == pytest.approx(22.94, rel=1e-3)
    assert found.height[0] == pytest.approx(1000.0, abs=1e-4)


STILL: dict[str, object] = {"head_wind": 0.0, "cross_wind": 0.0, "down_wind": 0.0}
FREE: dict[str, object] = {
    "drag_constant": 0.0, "drag_square": 0.0, "drag_fourth": 0.0, "thrust_constant": 0.0,
    "thrust_linear": 0.0, "thrust_square": 0.0, "CYb": 0.0, "CYp": 0.0, "CYr": 0.0, "CYda": 0.0,
    "maximum_lift": 50.0, "height": 200.0, **STILL,
}  # fmt: skip
"""Lift only: it is square to the path, so it does no work."""


@pytest.mark.parametrize("speed", [7.0, 10.0, 15.0])
def test_without_drag_and_thrust_energy_is_kept(make_throw: MakeThrow, speed: float) -> None:
    """v^2 / 2 + g h to 0.01 % over three seconds of banking and pitching flight (mechanics)."""
    throw = make_throw(**FREE, speed=speed, bank=0.4)
    found = flown(throw)
    before = 0.5 * speed**2 + G * 200.0
    after = 0.5 * (found.state[1:4, 0] ** 2).sum() + G * found.height[0]
    assert found.time[0] == 3.0
    assert after - before == pytest.approx(0.0, abs=1e-4 * 0.5 * speed**2 + 2e-3)


def test_a_body_turning_freely_keeps_its_angular_momentum(make_throw: MakeThrow) -> None:
    """In the ground's axes, each component; and its energy of rotation (Euler's equations)."""
    throw = make_throw(**NOTHING, roll_rate=3.0, pitch_rate=1.0, yaw_rate=-2.0, bank=0.0)
    inertia = np.diag([4e-3, 4.5e-3, 8e-3])
    inertia[0, 2] = inertia[2, 0] = -2e-4
    from_hand = flown(throw, horizon=1e-6, placed=True)
    later = flown(throw, horizon=0.35, placed=True)  # before it has rolled beyond saving
    spun = [(axes_of(f), f.state[7:10, 0]) for f in (from_hand, later)]
    momentum = [axes @ inertia @ rates for axes, rates in spun]
    assert momentum[1] == pytest.approx(momentum[0], rel=1e-4)
    energy = [rates @ inertia @ rates for _, rates in spun]
    assert energy[1] == pytest.approx(energy[0], rel=1e-5)


def test_phugoid_has_the_period_of_lanchester(make_throw: MakeThrow) -> None:
    """pi sqrt(2) V / g at constant incidence without drag: at half of it fast is slow, then back.

    F. W. Lanchester, Aerodonetics, 1908, from memory. A plane of strong pitch stability and little
    inertia keeps its incidence.
    """
    speed = 10.0
    CL = 2.0 * 0.3 * G / (1.225 * 0.11 * speed**2)
    stiff = {**FREE, "Cma": -40.0, "Cmq": -40.0, "Cm0": 40.0 * (CL - 0.15) / 4.2, "CLq": 0.0,
             "inertia_pitch": 2e-4, "elevator": 0.0, "begin": np.inf, "arm": 0.0, "bank": 0.0,
             "sideslip": 0.0, "roll_rate": 0.0, "pitch_rate": 0.0, "yaw_rate": 0.0,
             "torque_constant": 0.0, "torque_linear": 0.0, "torque_square": 0.0,
             "climb_angle": 0.0, "incidence": (CL - 0.15) / 4.2}  # fmt: skip
    period = np.pi * np.sqrt(2.0) * speed / G
    faster = make_throw(**stiff, speed=1.03 * speed)
    at = {part: flown(faster, horizon=part * period) for part in (0.25, 0.5, 0.75, 1.0)}
    gained = {part: found.airspeed[0] - speed for part, found in at.items()}
    assert gained[0.5] == pytest.approx(-0.3, abs=0.03)
    assert gained[1.0] == pytest.approx(0.3, abs=0.03)
    assert abs(gained[0.25]) < 0.06
    assert abs(gained[0.75]) < 0.06


def of_one(**fields: float) -> Bungee:
    """Return a line of one sample."""
    usual = {"length": 2.0, "stretch": 3.0, "pull": 20.0, "returned": 1.0, "slope": 0.0}
    usual |= {"hook_ahead": 0.05, "hook_below": 0.03} | fields
    return Bungee(**{name: np.array([value]) for name, value in usual.items()})


def test_a_linear_rubber_without_loss() -> None:
    """60 N/m drawn 1.5 m: 67.5 J, 0.3 kg leave at 21.21 m/s (recomputed: k s^2 / 2)."""
    line = of_one(length=1e5, stretch=1.5, pull=90.0)
    found = drawn_off(line, np.array([0.3]))
    assert found.energy[0] == pytest.approx(67.5, rel=1e-4)
    assert found.speed[0] == pytest.approx(21.21, abs=0.005)  # as printed
    assert found.acceleration[0] == pytest.approx(300.0)


@pytest.mark.parametrize(("length", "stretch"), [(1.0, 2.0), (2.0, 3.0), (5.0, 5.0), (4.0, 0.1)])
def test_the_work_of_a_rubber_is_the_area_under_its_pull(length: float, stretch: float) -> None:
    """SciPy's adaptive quadrature of the pull."""
    line = of_one(length=length, stretch=stretch)
    area, _ = quad(lambda x: pull_at(line, np.array([x]))[0], 0.0, stretch)
    assert stored_work(line)[0] == pytest.approx(area, rel=1e-9)


def test_rubber_pulls_as_gaussian_chains_do() -> None:
    """Ratio less one over its square: 1.75 at twice, 2.889 at three times (Treloar 1975, ch. 4)."""
    line = of_one(length=1.0, stretch=2.0, pull=2.8889)
    assert pull_at(line, np.array([1.0]))[0] == pytest.approx(1.75, rel=1e-4)


def test_latex_returns_what_practice_says() -> None:
    """70 to 85 % (common practice, no source): two standard deviations lie inside."""
    assert RETURNED[0] - 2.0 * RETURNED[1] >= 0.69
    assert RETURNED[0] + 2.0 * RETURNED[1] <= 0.87


def test_heavier_is_thrown_slower() -> None:
    """0.460, 0.529, 0.667, 0.805 kg fall progressively (league players' balls; sign only)."""
    masses = np.array([0.460, 0.529, 0.667, 0.805])
    found = thrown_speed(np.full(4, 15.0), np.full(4, 0.45), masses)
    assert (np.diff(found) < 0.0).all()


def test_nobody_throws_a_plane_as_trained_players_throw_a_ball() -> None:
    """The usual throw and three of its spreads stay below the 19.2 m/s of elite players.

    van den Tillaar and Cabri 2012: 21.1 (men) and 19.2 m/s (women). The band of 8 to 12 m/s for an
    untrained adult is common practice, no source; the middle of the usual throw is at its foot,
    as it is thrown standing.
    """
    assert SPEED[0] + 3.0 * SPEED[1] < 19.2
    assert 8.0 <= SPEED[0] <= 12.0
