"""Throws made of plane, drive, trim and hands."""

import dataclasses
from collections.abc import Callable

import numpy as np
import pytest

from foamwright.model.computable import ComputablePlane
from foamwright.model.launch_setup import (
    THROTTLES,
    TOUCHES,
    TRIM_SPEED,
    LaunchSetup,
    Steers,
    around,
    at_setting,
    control_gains,
    control_travel,
    fitted_drag,
    hands_of,
    lighter,
    no_power,
    power_at,
    pulling,
    release_of,
    throw_of,
    trimmed_elevator,
)
from foamwright.model.launch_stages import power_of
from foamwright.physics.drive.equilibrium import at_throttle
from foamwright.physics.flight.launch import flown, quickest

Computed = Callable[..., ComputablePlane]
PLANES = ("anvil", "reedling", "windrow")


@pytest.mark.parametrize("name", PLANES)
def test_drive_between_its_speeds_is_the_solved_one(computed: Computed, name: str) -> None:
    """Thrust and torque within 5 % of those standing still at speeds and throttles of a launch."""
    plane = computed(name)
    table = plane.launch_power
    for throttle in (0.45, 0.75, 1.0):
        for speed in (3.0, 8.0, 11.0):
            exact = at_throttle(plane.complete_drive.at_rest, np.array([[speed]]), throttle, 1.0)
            powers = np.array([1.0, speed, speed**2])
            pairs = zip(at_setting(table, throttle), (exact.thrust, exact.torque), strict=True)
            for fitted, solved in pairs:
                wrong = np.median(fitted @ powers - solved[:, 0])
                assert abs(wrong) < 0.05 * np.median(fitted[:, 0])


def test_throttle_between_and_below_the_table(computed: Computed) -> None:
    """The mean between two, a quarter at half of the least."""
    table = computed("anvil").launch_power
    thrust, _ = at_setting(table, 0.55)
    assert thrust == pytest.approx(0.5 * (table.thrust[1] + table.thrust[2]))
    low, _ = at_setting(table, 0.5 * float(THROTTLES[0]))
    assert low == pytest.approx(0.25 * table.thrust[0])
    assert at_setting(table, 1.0)[0] == pytest.approx(table.thrust[-1])


def test_a_glider_has_no_thrust_at_any_throttle() -> None:
    """One column, of nothing."""
    table = no_power(5)
    assert table.throttle.tolist() == [0.0]
    for part in at_setting(table, 1.0):
        assert not part.any()


@pytest.mark.parametrize("name", PLANES)
def test_fitted_drag_is_the_plane_s_own_near_launch_speeds(computed: Computed, name: str) -> None:
    """Within 10 % in the middle from just above the stall to twice its speed."""
    plane = computed(name)
    body, area = plane.launch_setup.plane, plane.launch_setup.air.area
    ratio = plane.speeds / np.median(plane.stall_speed)
    CL = plane.drag.lift_coefficient
    fitted = body.drag_constant[:, None] + body.drag_square[:, None] * CL**2
    fitted += body.drag_fourth[:, None] * CL**4
    load = 0.5 * (body.density * area)[:, None] * plane.speeds**2
    wrong = np.median(fitted * load / plane.drag.drag - 1.0, axis=0)
    near = (ratio > 1.08) & (ratio < 2.0)
    assert near.sum() >= 4
    assert np.abs(wrong[near]).max() < 0.10


def test_drag_of_a_known_polar_is_found_again(computed: Computed) -> None:
    """0.03 + 0.08 CL^2 + 0.1 CL^4, to six digits."""
    plane = computed("reedling")
    CL = plane.drag.lift_coefficient
    area, density = plane.lift.area * np.ones(plane.samples), plane.air.density
    load = 0.5 * (density * area)[:, None] * plane.speeds**2
    drag = (0.03 + 0.08 * CL**2 + 0.1 * CL**4) * load
    known = dataclasses.replace(plane.drag, drag=drag)
    found = fitted_drag(known, plane.stall_speed, density, area)
    for values, wanted in zip(found, (0.03, 0.08, 0.1), strict=True):
        assert values == pytest.approx(np.full(plane.samples, wanted), rel=1e-6)


@pytest.mark.parametrize("name", PLANES)
def test_trim_balances_lift_and_moment(computed: Computed, name: str) -> None:
    """At 1.2 times the stall speed lift is the weight and no moment is left."""
    setup = computed(name).launch_setup
    air, elevator, alpha = setup.air, setup.elevator, setup.nose
    CL = air.CL0 + air.CLa * alpha + air.CLde * elevator
    Cm = air.Cm0 + air.Cma * alpha + air.Cmde * elevator
    load = 0.5 * setup.plane.density * (TRIM_SPEED * setup.stall_speed) ** 2 * air.area
    assert CL * load == pytest.approx(setup.plane.mass * 9.80665, rel=1e-6)
    assert Cm == pytest.approx(np.zeros(setup.samples), abs=1e-9)


def test_a_plane_without_elevator_cannot_be_trimmed(computed: Computed) -> None:
    """Nothing moves, by nobody; only the roll is steered."""
    plane = computed("reedling", {"airframe.surfaces.tail.controls": None})
    setup = plane.launch_setup
    assert not setup.travel.pitches
    hands = hands_of(setup, "stabiliser")
    assert not hands.elevator.any()
    assert not hands.pitch_gain.any()
    still = dataclasses.replace(setup.air, CLde=0.0 * setup.air.CLde, Cmde=0.0 * setup.air.Cmde)
    assert not trimmed_elevator(still, setup.plane.maximum_lift).any()


def test_travel_is_the_written_one(computed: Computed) -> None:
    """Anvil's elevons: 18 up, 14 down; rolling both ways takes the smaller."""
    travel = control_travel(computed("anvil").plane.airframe)
    assert np.rad2deg([travel.up, travel.down, travel.roll]) == pytest.approx([18.0, 14.0, 14.0])
    assert (travel.pitches, travel.rolls, travel.guessed) == (True, True, False)


def test_travel_nobody_wrote_is_twenty_degrees(computed: Computed) -> None:
    """And said to be guessed."""
    elevon = "airframe.surfaces.wing.controls.elevon"
    keys = {f"{elevon}.throw_up": None, f"{elevon}.throw_down": None}
    travel = control_travel(computed("anvil", keys).plane.airframe)
    assert np.rad2deg(travel.up) == pytest.approx(20.0)
    assert travel.guessed


def test_up_trim_is_up(computed: Computed) -> None:
    """Two degrees more trailing edge up than without."""
    plain = hands_of(computed("anvil").launch_setup, "pilot").elevator
    more = hands_of(computed("anvil", {"thrower.up_trim": "2 deg"}).launch_setup, "pilot").elevator
    assert np.rad2deg(plain - more) == pytest.approx(np.full(plain.size, 2.0))


def test_hands_off_do_nothing_and_a_stabiliser_begins_at_once(computed: Computed) -> None:
    """A pilot begins after 0.35 s."""
    setup = computed("anvil").launch_setup
    hands = [hands_of(setup, who) for who in ("hands off", "pilot", "stabiliser")]
    assert [one.begin[0] for one in hands] == [np.inf, 0.35, 0.0]
    assert not hands[0].bank_gain.any()
    assert hands[2].roll_gain[0] > hands[1].roll_gain[0] > 0.0


@pytest.mark.parametrize("strength", [50.0, 400.0, 5000.0])
def test_strong_controls_are_moved_less(strength: float) -> None:
    """The answer of the plane is the same, up to full travel."""
    touch = TOUCHES["stabiliser"]
    angle, rate = control_gains(touch, np.full(3, -strength))
    assert angle * strength <= touch.stiffness * (1 + 1e-9)
    assert rate * strength <= touch.damping * (1 + 1e-9)
    assert angle <= touch.angle_most
    assert rate <= touch.rate_most


def test_a_release_wanted_at_an_angle_misses_it_as_the_written_one(computed: Computed) -> None:
    """The same luck around another angle."""
    setup = computed("anvil").launch_setup
    written, wanted = release_of(setup, None), release_of(setup, 0.3)
    assert written.climb_angle - np.deg2rad(10.0) == pytest.approx(wanted.climb_angle - 0.3)


def test_a_rubber_gives_speed_and_slope(computed: Computed) -> None:
    """Instead of the hand's."""
    line = {"length": "2 m", "stretch": "4 m", "pull": "2 kgf", "slope": "20 deg"}
    setup = computed("anvil", {"bungee": line}).launch_setup
    found = release_of(setup, None)
    assert np.rad2deg(np.median(found.climb_angle)) == pytest.approx(20.0, abs=0.3)
    assert np.median(found.speed) > 11.0
    assert np.median(found.incidence) > np.median(setup.inputs.uneven["incidence"])


def test_the_first_throws_are_the_first_samples(computed: Computed) -> None:
    """Of all records."""
    setup = computed("anvil").launch_setup
    found = throw_of(setup, "pilot", throttle=1.0, first=16)
    assert found.plane.mass == pytest.approx(setup.plane.mass[:16])
    assert throw_of(setup, "pilot", throttle=1.0).plane.mass.size == setup.samples


def test_more_thrust_comes_with_more_torque(computed: Computed) -> None:
    """Both by the factor."""
    setup = computed("anvil").launch_setup
    plain = power_at(setup, 1.0)
    strong = power_at(dataclasses.replace(setup, thrust_factor=1.35), 1.0)
    assert strong.thrust_constant == pytest.approx(1.35 * plain.thrust_constant)
    assert strong.torque_linear == pytest.approx(1.35 * plain.torque_linear)


def test_less_mass_stalls_slower_and_is_thrown_faster(computed: Computed) -> None:
    """By the root, and by the arm's exponent; inertia goes with it."""
    setup = computed("anvil").launch_setup
    found = lighter(setup, 0.06)
    ratio = found.plane.mass / setup.plane.mass
    assert setup.plane.mass - found.plane.mass == pytest.approx(np.full(setup.samples, 0.06))
    assert found.stall_speed == pytest.approx(setup.stall_speed * ratio**0.5)
    assert found.inputs.speed == pytest.approx(setup.inputs.speed * ratio**-0.214)
    assert found.plane.inertia_roll == pytest.approx(setup.plane.inertia_roll * ratio)


def the_other_way_round(setup: LaunchSetup) -> tuple[LaunchSetup, LaunchSetup]:
    """Return a plane whose elevator only turns it, and its twin whose elevator turns it back."""
    none = 0.0 * setup.air.CLde
    plain = dataclasses.replace(setup, air=dataclasses.replace(setup.air, CLde=none))
    travel, inputs = setup.travel, setup.inputs
    twin = dataclasses.replace(
        plain,
        air=dataclasses.replace(plain.air, Cmde=-plain.air.Cmde),
        elevator=-plain.elevator,
        inputs=dataclasses.replace(inputs, trim_error=-inputs.trim_error),
        travel=dataclasses.replace(travel, up=travel.down, down=travel.up),
    )
    return plain, twin


@pytest.mark.parametrize("steers", ["hands off", "pilot", "stabiliser"])
@pytest.mark.parametrize("trim", ["0 deg", "2 deg"])
def test_a_canard_is_steered_as_well_as_its_twin_with_a_tail(
    computed: Computed, steers: Steers, trim: str
) -> None:
    """Trailing edge down lifts a canard's nose: pilot, stabiliser and up trim know that."""
    tail, canard = the_other_way_round(computed("reedling", {"thrower.up_trim": trim}).launch_setup)
    assert (pulling(tail.air), pulling(canard.air)) == (1.0, -1.0)
    flights = [
        flown(throw_of(setup, steers, throttle=0.6, first=32), 1.5) for setup in (tail, canard)
    ]
    assert flights[1].height == pytest.approx(flights[0].height)
    assert flights[1].clean.tolist() == flights[0].clean.tolist()


def test_the_stabiliser_of_a_canard_moves_against_that_of_a_tail(computed: Computed) -> None:
    """Same gains, other sign; the step of the flight is short enough for both."""
    tail, canard = the_other_way_round(computed("windrow").launch_setup)
    plain, other = (hands_of(setup, "stabiliser") for setup in (tail, canard))
    assert plain.pitch_gain[0] > 0.0
    assert other.pitch_gain == pytest.approx(-plain.pitch_gain)
    assert other.rate_gain == pytest.approx(-plain.rate_gain)
    assert other.bank_gain == pytest.approx(plain.bank_gain)
    steps = [quickest(throw_of(one, "stabiliser", throttle=1.0)) for one in (tail, canard)]
    assert steps[1] == pytest.approx(steps[0])


@pytest.mark.parametrize(
    ("throttle", "wanted"),
    [
        (0.2, [0.4]), (0.4, [0.4]), (0.45, [0.4, 0.5]), (0.7, [0.7]), (0.83, [0.8, 0.9]),
        (1.0, [1.0]),
    ],
)  # fmt: skip
def test_few_throttles_are_read_for_one(throttle: float, wanted: list[float]) -> None:
    """The next two, or the one it is; below all of them the first."""
    assert around(throttle) == pytest.approx(wanted)


@pytest.mark.parametrize("throttle", [0.3, 0.4, 0.55, 0.7, 0.97, 1.0])
def test_the_drive_about_one_throttle_is_the_whole_one_s(
    computed: Computed, throttle: float
) -> None:
    """Bit for bit, though five of seven throttles were not solved."""
    plane = computed("anvil")
    whole = plane.launch_setup
    few = dataclasses.replace(whole, power=power_of(plane, around(throttle)))
    for name in ("thrust_constant", "thrust_square", "torque_constant", "torque_linear"):
        found, wanted = (getattr(power_at(one, throttle), name) for one in (few, whole))
        assert np.array_equal(found, wanted)
