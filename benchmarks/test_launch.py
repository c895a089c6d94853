"""Two thousand throws at once against a loop over SciPy's solver; a map and an answer asked anew.

The loop flies plain floats with an event at the ground, at the tolerance that gives the same
heights within a centimetre; it is timed over some throws and scaled.
"""

import math
import time
from pathlib import Path
from types import SimpleNamespace

import numpy as np
from pytest_benchmark.fixture import BenchmarkFixture
from scipy.integrate import solve_ivp

from foamwright.jobs.ask import Settings, opened
from foamwright.model.launch import launch_map
from foamwright.model.launch_setup import throw_of
from foamwright.physics.arrays import Samples
from foamwright.physics.flight.launch import HORIZON, flown
from foamwright.physics.flight.launch_plane import Throw, single
from foamwright.questions import launch
from foamwright.questions.case import Case

ROOT = Path(__file__).parent.parent
THROWS, LOOPED = 2000, 16


def throws() -> Throw:
    """Return 2000 throws of the glider, steered by a pilot."""
    case = opened(ROOT / "examples" / "reedling", Settings(samples=THROWS))[1]
    return throw_of(case.computed.launch_setup, "pilot", throttle=0.8)


def plain(throw: Throw, index: int) -> SimpleNamespace:
    """Return one throw as plain floats."""
    records = (throw.plane, throw.air, throw.power, throw.hands, throw.release)
    fields = {n: float(getattr(r, n)[index]) for r in records for n in r.__slots__}
    fields["tan_top"] = (fields["maximum_lift"] - fields["CL0"]) / fields["CLa"]
    fields["tan_low"] = (-0.8 * fields["maximum_lift"] - fields["CL0"]) / fields["CLa"]
    return SimpleNamespace(**fields)


def rates(t: float, y: Samples, o: SimpleNamespace) -> list[float]:  # noqa: PLR0915 - one formula
    """Return how the state of one throw changes, in plain floats."""
    _, _, _, u, v, w, a, b, c, d, p, q, r = y.tolist()
    r00, r11, r22 = 1 - 2 * (c * c + d * d), 1 - 2 * (b * b + d * d), 1 - 2 * (b * b + c * c)
    r01, r10 = 2 * (b * c - a * d), 2 * (b * c + a * d)
    r02, r20 = 2 * (b * d + a * c), 2 * (b * d - a * c)
    r12, r21 = 2 * (c * d - a * b), 2 * (c * d + a * b)
    wx, wy, wz = -o.head_wind, o.cross_wind, o.down_wind
    ua = u - (r00 * wx + r10 * wy + r20 * wz)
    va = v - (r01 * wx + r11 * wy + r21 * wz)
    wa = w - (r02 * wx + r12 * wy + r22 * wz)
    flat2 = ua * ua + wa * wa
    fast2 = flat2 + va * va
    fast, flat = math.sqrt(fast2 + 1e-9), math.sqrt(flat2 + 1e-9)
    elevator, aileron = o.elevator, o.aileron
    if t >= o.begin:
        elevator += o.rate_gain * q - o.pitch_gain * (o.pitch_wanted + r20)
        aileron -= o.bank_gain * r21 + o.roll_gain * p
    elevator = min(max(elevator, -o.elevator_up), o.elevator_down)
    aileron = min(max(aileron, -o.aileron_limit), o.aileron_limit)
    slow = 0.5 / max(fast, 1.0)
    beta, pb, qc, rb = va / fast, p * slow * o.span, q * slow * o.chord, r * slow * o.span
    alpha = math.atan2(wa, ua)
    held = min(max(alpha, o.tan_low), o.tan_top)
    stalled = min(abs(alpha - held) / o.stall_width, 1.0)
    CL = o.CL0 + o.CLa * held + o.CLq * qc + o.CLde * elevator
    CD = o.drag_constant + CL * CL * (o.drag_square + CL * CL * o.drag_fourth)
    plate = 1.2 * wa / (flat2 + 1e-12)
    CL += stalled * (plate * ua - CL)
    CD += stalled * (plate * wa + o.drag_constant - CD)
    grip = 1.0 - 0.6 * stalled
    aileron *= grip
    rudder = o.rudder_share * aileron / grip
    side = o.CYb * beta + o.CYp * pb * 1.0 + o.CYr * rb + o.CYda * aileron + o.CYdr * rudder
    roll = (o.Clb + o.Clb_CL * CL) * beta + o.Clp * pb * grip + (o.Clr + o.Clr_CL * CL) * rb
    roll += o.Clda * aileron + o.Cldr * rudder
    bent = min(max(alpha, -0.6108652382), 0.6108652382)
    pitch = o.Cm0 + o.Cma * bent + o.Cmq * qc + o.Cmde * grip * elevator
    yaw = o.Cnb * beta + (o.Cnp + o.Cnp_CL * CL) * pb + o.Cnr * rb
    yaw += (o.Cnda + o.Cnda_CL * CL) * aileron + o.Cndr * rudder
    load = 0.5 * o.density * o.area * fast2
    ahead = min(max(ua, 0.0), o.fastest)
    turns = min(max((t - o.delay) / max(o.ramp, 1e-6), 0.0), 1.0)
    there = 1.0 if o.delay <= 0.0 else turns * turns
    thrust = there * (o.thrust_constant + ahead * (o.thrust_linear + ahead * o.thrust_square))
    torque = there * (o.torque_constant + ahead * (o.torque_linear + ahead * o.torque_square))
    level, drag, over, g = CL / flat, CD / fast, load / o.mass, 9.80665
    L = load * o.span * roll - torque
    M = load * o.chord * pitch - thrust * o.arm
    N = load * o.span * yaw
    A, B, C, E = o.inertia_roll, o.inertia_pitch, o.inertia_yaw, o.inertia_product
    L += (B - C) * q * r + E * p * q
    N += (A - B) * p * q - E * q * r
    M += (C - A) * r * p + E * (r * r - p * p)
    free = 1.0 / (A * C - E * E)
    return [
        r00 * u + r01 * v + r02 * w,
        r10 * u + r11 * v + r12 * w,
        r20 * u + r21 * v + r22 * w,
        over * (level * wa - drag * ua) + thrust / o.mass + g * r20 + r * v - q * w,
        over * (side - drag * va) + g * r21 + p * w - r * u,
        g * r22 - over * (level * ua + drag * wa) + q * u - p * v,
        -0.5 * (b * p + c * q + d * r),
        0.5 * (a * p + c * r - d * q),
        0.5 * (a * q + d * p - b * r),
        0.5 * (a * r + b * q - c * p),
        (C * L + E * N) * free,
        M / B,
        (A * N + E * L) * free,
    ]


def ground(_t: float, y: Samples, o: SimpleNamespace) -> float:
    """Return the height of the lower wing tip: the flight ends where it is nothing."""
    _, _, _, _, _, _, a, b, c, d, *_ = y.tolist()
    return float(-y[2]) - o.half_span * abs(2 * (c * d + a * b))


ground.terminal = True  # type: ignore[attr-defined]


def first_state(o: SimpleNamespace) -> list[float]:
    """Return the state of one throw in the moment of release."""
    pitch, bank, yaw = (o.climb_angle + o.incidence) / 2, o.bank / 2, -o.sideslip / 2
    cp, sp, cb, sb = math.cos(pitch), math.sin(pitch), math.cos(bank), math.sin(bank)
    cy, sy = math.cos(yaw), math.sin(yaw)
    a, b = cb * cp * cy + sb * sp * sy, sb * cp * cy - cb * sp * sy
    c, d = cb * sp * cy + sb * cp * sy, cb * cp * sy - sb * sp * cy
    ahead, up = o.speed * math.cos(o.climb_angle), o.speed * math.sin(o.climb_angle)
    u = ahead * (1 - 2 * (c * c + d * d)) - up * 2 * (b * d - a * c)
    v = ahead * 2 * (b * c - a * d) - up * 2 * (c * d + a * b)
    w = ahead * 2 * (b * d + a * c) - up * (1 - 2 * (b * b + c * c))
    return [0.0, 0.0, -o.height, u, v, w, a, b, c, d, o.roll_rate, o.pitch_rate, o.yaw_rate]


def one_by_one(throw: Throw, count: int) -> tuple[list[float], list[bool]]:
    """Return height at the end, and whether it was reached, of the first throws."""
    heights, reached = [], []
    for index in range(count):
        one = plain(throw, index)
        found = solve_ivp(
            rates, (0.0, HORIZON), np.array(first_state(one)), args=(one,), events=ground,
            rtol=1e-4, atol=1e-5, max_step=0.2,
        )  # fmt: skip
        heights.append(float(-found.y[2, -1]))
        reached.append(found.status == 0)
    return heights, reached


def test_two_thousand_throws_against_a_loop(benchmark: BenchmarkFixture) -> None:
    """Three seconds each; the loop is timed over sixteen, which end at the same height."""
    throw = throws()
    one_by_one(throw, 1)
    start = time.perf_counter()
    heights, reached = one_by_one(throw, LOOPED)
    loop = (time.perf_counter() - start) * THROWS / LOOPED
    narrow = single(throw)
    found = benchmark.pedantic(flown, args=(narrow,), rounds=5, warmup_rounds=1)
    benchmark.extra_info["loop [s]"] = loop
    benchmark.extra_info["loop over batch"] = loop / benchmark.stats.stats.median
    both = np.array(reached) & found.clean[:LOOPED]
    assert both.sum() >= LOOPED // 2
    assert np.allclose(found.height[:LOOPED][both], np.array(heights)[both], rtol=5e-3, atol=0.02)


def test_a_map_of_throttle_and_angle(benchmark: BenchmarkFixture) -> None:
    """49 cells of 64 throws."""
    case = opened(ROOT / "examples" / "anvil", Settings())[1]
    setup = case.computed.launch_setup
    found = benchmark.pedantic(launch_map, args=(setup, "pilot"), rounds=5, warmup_rounds=1)
    benchmark.extra_info["throws"] = found.chance.size * 64
    assert 0.0 < found.chance.max() < 1.0


def test_the_question_asked_anew(benchmark: BenchmarkFixture) -> None:
    """Another throwing speed each time: chance and map; the levers are timed beside it."""
    case = opened(ROOT / "examples" / "anvil", Settings())[1]
    launch.answer(case)
    speeds = iter(np.linspace(7.0, 11.0, 100))

    def changed() -> Case:
        return case.changed({"thrower.speed": f"{next(speeds):.3f} ± 1 m/s"})

    start = time.perf_counter()
    launch.answer(changed())
    benchmark.extra_info["with all levers [s]"] = time.perf_counter() - start
    measured = benchmark.pedantic(lambda: launch.measure(changed()), rounds=5, warmup_rounds=1)
    assert measured.probability is not None
