"""Settings and throws all tests share."""

import os
from collections.abc import Callable

import numpy as np
import pytest
from hypothesis import settings

from foamwright.physics.arrays import Samples
from foamwright.physics.flight.derivatives import Derivatives
from foamwright.physics.flight.launch_plane import Hands, LaunchPlane, Power, Release, Throw

# The day it is in every test, 2026-11-26: notes dated in the future are refused.
os.environ["SOURCE_DATE_EPOCH"] = "1795651200"

# The same examples every run, and no deadline: the machine may be busy with something else.
settings.register_profile("house", derandomize=True, deadline=None, max_examples=50)
settings.load_profile("house")

COEFFICIENTS = {
    "area": 0.11, "span": 0.8, "chord": 0.14,
    "CL0": 0.15, "CLa": 4.2, "CLq": 5.0, "CLde": 0.4,
    "Cm0": 0.01, "Cma": -0.4, "Cmq": -8.0, "Cmde": -0.8,
    "CYb": -0.2, "CYp": 0.02, "CYr": 0.15, "CYda": -0.01, "CYdr": 0.1,
    "Clb": -0.05, "Clp": -0.4, "Clr": 0.02, "Clda": 0.18, "Cldr": 0.01,
    "Cnb": 0.05, "Cnp": -0.01, "Cnr": -0.08, "Cnda": -0.002, "Cndr": -0.06,
    "Clb_CL": -0.03, "Clr_CL": 0.22, "Cnp_CL": -0.06, "Cnda_CL": -0.02,
}  # fmt: skip
"""A small glider with ailerons, invented."""

BODY = {
    "mass": 0.3, "inertia_roll": 4e-3, "inertia_pitch": 4.5e-3, "inertia_yaw": 8e-3,
    "inertia_product": 2e-4, "density": 1.225, "maximum_lift": 0.95, "stall_width": 0.21,
    "drag_constant": 0.035, "drag_square": 0.06, "drag_fourth": 0.02, "half_span": 0.4,
}  # fmt: skip
DRIVE = {
    "thrust_constant": 2.0, "thrust_linear": -0.05, "thrust_square": -0.001,
    "torque_constant": 0.03, "torque_linear": -2e-4, "torque_square": -5e-6,
    "arm": 0.01, "fastest": 30.0, "delay": 0.3, "ramp": 0.2,
}  # fmt: skip
STEERING = {
    "elevator": -0.01, "aileron": 0.0, "begin": 0.35, "bank_gain": 0.3, "roll_gain": 0.02,
    "rudder_share": 0.0, "pitch_wanted": 0.2, "pitch_gain": 0.2, "rate_gain": 0.02,
    "elevator_up": 0.3, "elevator_down": 0.25, "aileron_limit": 0.3,
}  # fmt: skip
HAND = {
    "height": 1.8, "speed": 8.0, "climb_angle": 0.17, "incidence": 0.02, "bank": 0.05,
    "sideslip": 0.02, "roll_rate": 0.2, "pitch_rate": -0.1, "yaw_rate": 0.1,
    "head_wind": 0.5, "cross_wind": 0.2, "down_wind": 0.1,
}  # fmt: skip

MakeThrow = Callable[..., Throw]


@pytest.fixture(scope="session")
def make_throw() -> MakeThrow:
    """Return a maker of throws: fields by name replace the usual ones, arrays or numbers."""

    def make(count: int = 1, **fields: object) -> Throw:
        def of(usual: dict[str, float]) -> dict[str, Samples]:
            chosen = {key: fields.get(key, value) for key, value in usual.items()}
            return {k: np.zeros(count) + np.asarray(v, float) for k, v in chosen.items()}

        known = {**COEFFICIENTS, **BODY, **DRIVE, **STEERING, **HAND}
        assert set(fields) <= set(known)
        return Throw(
            plane=LaunchPlane(**of(BODY)),
            air=Derivatives(**of(COEFFICIENTS)),
            power=Power(**of(DRIVE)),
            hands=Hands(**of(STEERING)),
            release=Release(**of(HAND)),
        )

    return make
