"""Signs, places and spreads of the derivatives of whole planes."""

from collections.abc import Callable
from dataclasses import fields

import numpy as np
import pytest

from foamwright.model.computable import ComputablePlane
from foamwright.model.derivatives import SPREADS, downwash_lag
from foamwright.physics.flight.derivatives import Derivatives

Computed = Callable[..., ComputablePlane]
PLANES = ("reedling", "windrow", "anvil", "saltmarsh")


def middle(values: np.ndarray) -> float:
    """Return the median."""
    return float(np.median(values))


@pytest.mark.parametrize("name", PLANES)
def test_every_value_is_one_number_a_sample(computed: Computed, name: str) -> None:
    """No gaps, right shape."""
    plane = computed(name)
    for field in fields(Derivatives):
        values = getattr(plane.derivatives, field.name)
        assert values.shape == (plane.samples,)
        assert np.isfinite(values).all()


@pytest.mark.parametrize("name", PLANES)
def test_every_plane_is_damped_and_lifts(computed: Computed, name: str) -> None:
    """Clp, Cmq, Cnr damp; lift rises; roll follows the yaw rate, yaw goes against roll."""
    d = computed(name).derivatives
    assert np.all(d.CLa > 0.0)
    for damping in (d.Clp, d.Cmq, d.Cnr, d.Cnp_CL, d.Cnda_CL):
        assert np.all(damping < 0.0)
    assert np.all(d.Clr_CL > 0.0)


@pytest.mark.parametrize("name", PLANES)
def test_pitch_is_that_of_the_margin(computed: Computed, name: str) -> None:
    """Cma = -CLa times the margin that the question `balance` tells, sample by sample."""
    plane = computed(name)
    d = plane.derivatives
    margin = (plane.lift.neutral_point - plane.masses.centre[:, 0]) / d.chord
    assert d.Cma == pytest.approx(-d.CLa * margin, abs=1e-9)


def test_controls_do_what_their_names_say(computed: Computed) -> None:
    """Elevator down noses down, right aileron up rolls right, rudder right yaws right."""
    d = computed("reedling").derivatives
    assert np.all(d.Cmde < 0.0)
    assert np.all(d.CLde > 0.0)
    assert np.all(d.Clda > 0.0)
    assert np.all(d.Cndr > 0.0)
    assert np.all(d.CYdr < 0.0)  # the fin is pushed left


def test_a_plane_without_a_control_has_zeros_there(computed: Computed) -> None:
    """The plank has elevons only; without them it has nothing at all."""
    d = computed("windrow").derivatives
    assert np.all(d.Cndr == 0.0)
    assert np.all(d.Clda > 0.0)
    assert np.all(d.Cmde < 0.0)
    bare = computed("windrow", {"airframe.surfaces.wing.controls": []}).derivatives
    assert np.all(bare.Clda == 0.0)
    assert np.all(bare.Cmde == 0.0)


def test_balance_aft_takes_stability_and_damping(computed: Computed) -> None:
    """A pack 30 mm further aft: Cma rises by the shift, the fin's arm and Cnb shrink."""
    base, aft = computed("reedling"), computed("reedling", {"items.pack.at.x": "150 mm"})
    moved = aft.masses.centre[:, 0] - base.masses.centre[:, 0]
    assert middle(moved) > 0.004
    gained = aft.derivatives.Cma - base.derivatives.Cma
    assert gained == pytest.approx(base.derivatives.CLa * moved / base.derivatives.chord, rel=1e-6)
    assert middle(aft.derivatives.Cnb) < middle(base.derivatives.Cnb)
    assert middle(aft.derivatives.Cmq) > middle(base.derivatives.Cmq)


def test_a_body_takes_from_the_fin(computed: Computed) -> None:
    """Without the body the glider holds its nose into the wind by a tenth or more better."""
    with_body = computed("reedling").derivatives.Cnb
    without = computed("reedling", {"airframe.bodies": []}).derivatives.Cnb
    assert middle(without) > 1.1 * middle(with_body)


def test_a_high_wing_rolls_out_of_a_slip_without_dihedral(computed: Computed) -> None:
    """The body hangs below the wing: Clb of the flat-winged glider stays negative."""
    flat: dict[str, object] = {"airframe.surfaces.wing.dihedral": "0 deg"}
    high = computed("reedling", flat).derivatives.Clb
    bare = computed("reedling", {**flat, "airframe.bodies": []}).derivatives.Clb
    assert middle(high) < middle(bare)


def test_only_swept_wings_roll_from_slip_with_lift(computed: Computed) -> None:
    """Delta and swept wing do, the plank does not."""
    assert abs(middle(computed("windrow").derivatives.Clb_CL)) < 1e-3
    assert middle(computed("anvil").derivatives.Clb_CL) < -0.2
    assert -0.25 < middle(computed("saltmarsh").derivatives.Clb_CL) < -0.05


def test_spreads_are_those_stated(computed: Computed) -> None:
    """Clp carries its own 8 %, the slope's 6 % and a little of ruler; Clda the power's as well."""
    d = computed("windrow").derivatives

    def spread(values: np.ndarray) -> float:
        return float(np.std(values) / abs(np.mean(values)))

    own = float(np.hypot(SPREADS["roll_damping"][0], 0.06))
    assert own < spread(d.Clp) < 1.15 * own
    assert 0.18 < spread(d.Clda) < 0.26


def test_the_tail_meets_the_downwash_late(computed: Computed) -> None:
    """Cm of a change of angle is Cmq of the tail times the downwash slope: a third to two thirds.

    Nelson 1998: -2 eta V (l / c) a_t (d eps / d alpha); the slope is 2 a / (pi A) far behind, 0.45
    here, and larger near the wing. A plank has none.
    """
    plane = computed("reedling")
    lag = lag_of(plane)
    assert -0.7 < middle(lag / -plane.derivatives.Cmq) < -0.3
    assert np.all(lag_of(computed("windrow")) == 0.0)


VEE: dict[str, object] = {
    "airframe.surfaces.tail.role": "vee tail",
    "airframe.surfaces.tail.stations.0.z": None,
    "airframe.surfaces.tail.stations.1.z": None,
    "airframe.surfaces.tail.dihedral": "40 deg",
    "airframe.surfaces.tail.controls.elevator.role": "ruddervator",
    "airframe.surfaces.fin": None,
}
"""The glider with a V-tail instead of tail and fin."""


def test_a_vee_tail_is_tail_and_fin(computed: Computed) -> None:
    """Both down noses down, right down and left up yaws right and, as V-tails do, rolls left."""
    d = computed("reedling", VEE).derivatives
    assert np.all(d.Cmde < 0.0)
    assert np.all(d.Cndr > 0.0)
    assert np.all(d.Cldr < 0.0)
    assert middle(d.Cnb) > 0.04
    assert middle(d.Cmq) < -5.0


def test_a_vee_tail_shares_itself_by_its_angle(computed: Computed) -> None:
    """Lift over side force goes as cosine over sine, and over 0.7 besides: within 10 %.

    0.7 is what is left of a tail's slope when its halves pull opposite ways (Purser & Campbell
    1945, the constant from memory).
    """
    d = computed("reedling", VEE).derivatives
    ratio = middle(d.CLde) / -middle(d.CYdr)
    assert ratio == pytest.approx(1.0 / np.tan(np.radians(40.0)) / 0.7, rel=0.10)


def test_a_canards_elevator_raises_the_nose(computed: Computed) -> None:
    """Trailing edge down ahead of the balance: lift and nose up."""
    ahead: dict[str, object] = {"airframe.surfaces.tail.role": "canard"}
    ahead |= {f"airframe.surfaces.tail.stations.{end}.leading_edge": "20 mm" for end in (0, 1)}
    d = computed("reedling", ahead).derivatives
    assert np.all(d.Cmde > 0.0)
    assert np.all(d.CLde > 0.0)


def lag_of(plane: ComputablePlane) -> np.ndarray:
    """Return the moment of the late downwash."""
    parts = (plane.plane.airframe, plane.surfaces, plane.lift, plane.draws)
    return downwash_lag(*parts, centre=plane.masses.centre)
