"""The lattice: signs, symmetry, scaling, batches, and the whole problem against two halves."""

from dataclasses import fields, replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray

from foamwright.physics.lift.lattice import (
    LIFT,
    PITCH,
    ROLL,
    SIDE,
    STATES,
    YAW,
    LatticeResult,
    Reference,
    unit_loads,
)
from foamwright.physics.lift.panels import Flap, Surface, cut

CONSTANT, ALPHA, BETA, ROLLING, PITCHING, YAWING, AILERON, ELEVATOR, RUDDER = range(9)


def plane(
    batch: int = 1, *, tail_height: float = 0.03, stretch: float = 1.0
) -> tuple[Surface, ...]:
    """Wing with ailerons, tail with elevator, fin with rudder; each geometry a little longer."""
    grow = stretch * (1.0 + 0.02 * np.arange(batch))
    zero = np.zeros((batch, 2))

    def surface(edge: list[list[float]], chord: list[float]) -> Surface:
        return Surface(
            leading_edge=grow[:, None, None] * np.asarray(edge),
            chord=grow[:, None] * np.asarray(chord),
            twist=zero,
            camber=zero,
            mirrored=True,
            spanwise=6,
            chordwise=2,
        )

    def flap(name: str, start: float, left: float) -> Flap:
        return Flap(
            name=name, start=start, end=1.0, chord_fraction=0.3, gain_right=1.0, gain_left=left
        )

    wing = surface([[0.0, 0.0, 0.0], [0.04, 0.6, 0.06]], [0.2, 0.13])
    tail = surface([[0.6, 0.0, tail_height], [0.62, 0.2, tail_height]], [0.12, 0.1])
    fin = surface([[0.6, 0.0, 0.05], [0.65, 0.0, 0.2]], [0.12, 0.08])
    return (
        replace(wing, camber=zero + 0.02, twist=zero + 0.02, flaps=(flap("aileron", 0.5, -1.0),)),
        replace(tail, flaps=(flap("elevator", 0.0, 1.0),), spanwise=4),
        replace(fin, mirrored=False, flaps=(flap("rudder", 0.0, 0.0),), spanwise=4),
    )


def solved(surfaces: tuple[Surface, ...], stretch: float = 1.0) -> LatticeResult:
    """Area 0.2 m2, chord 0.17 m, span 1.2 m, about x = 0.07 m."""
    one = np.ones(surfaces[0].chord.shape[0])
    return unit_loads(
        surfaces,
        Reference(
            area=0.2 * stretch**2 * one,
            chord=0.17 * stretch * one,
            span=1.2 * stretch * one,
            point=np.asarray([0.07 * stretch, 0.0, 0.0]) * one[:, None],
        ),
    )


RESULT = solved(plane())


@pytest.mark.parametrize(
    ("state", "coefficient", "sign"),
    [
        (CONSTANT, LIFT, 1),
        (ALPHA, LIFT, 1),
        (ALPHA, PITCH, -1),
        (BETA, SIDE, -1),
        (BETA, ROLL, -1),  # dihedral lifts the windward wing
        (BETA, YAW, 1),  # the fin turns the nose into the wind
        (ROLLING, ROLL, -1),
        (PITCHING, PITCH, -1),
        (YAWING, YAW, -1),
        (AILERON, ROLL, -1),
        (ELEVATOR, LIFT, 1),
        (ELEVATOR, PITCH, -1),
        (RUDDER, SIDE, -1),
        (RUDDER, YAW, 1),
    ],
)
def test_every_state_acts_in_the_stated_sense(state: int, coefficient: int, sign: int) -> None:
    """Signs of a stable plane with dihedral, ailerons, elevator and rudder."""
    assert np.sign(RESULT.coefficients[0, state, coefficient]) == sign


def test_states_of_the_plane_of_symmetry_stay_in_it() -> None:
    """Lift states make no side force, lateral states no lift."""
    level, lateral = [CONSTANT, ALPHA, PITCHING, ELEVATOR], [BETA, ROLLING, YAWING, AILERON, RUDDER]
    assert np.abs(RESULT.coefficients[0][np.ix_(level, [SIDE, ROLL, YAW])]).max() < 1e-12
    assert np.abs(RESULT.coefficients[0][np.ix_(lateral, [LIFT, PITCH])]).max() < 1e-12
    assert np.abs(RESULT.induced[0][np.ix_(level, lateral)]).max() < 1e-12


def test_two_half_problems_are_the_whole_one() -> None:
    """A wing with one flap on the right only, solved whole with vectors, without mirrors."""
    flap = replace(plane()[0].flaps[0], gain_left=0.0)
    wing = replace(plane()[0], flaps=(flap,))
    strips, panels = cut((wing,))
    flip = np.asarray([1.0, -1.0, 1.0])
    start = np.concatenate([panels.start[0], panels.end[0] * flip])
    end = np.concatenate([panels.end[0], panels.start[0] * flip])
    control = np.concatenate([panels.control[0], panels.control[0] * flip])
    step = (end - start) * np.asarray([0.0, 1.0, 1.0])
    normal = np.cross([1.0, 0.0, 0.0], step)
    normal /= np.linalg.norm(normal, axis=1)[:, None]
    velocity = whole_velocity(control, start, end)
    matrix = np.einsum("cvd,cd->cv", velocity, normal)
    right = panels.hinge[0] * strips.gain_right[panels.strip, 0]
    for state, onset in (
        (ALPHA, normal[:, 2]),
        (BETA, -normal[:, 1]),
        (AILERON, np.concatenate([right, 0.0 * right])),
    ):
        circulation = np.linalg.solve(matrix, -onset)
        force = 2.0 * circulation[:, None] * np.cross([1.0, 0.0, 0.0], end - start)
        moment = np.cross(0.5 * (start + end) - np.asarray([0.07, 0.0, 0.0]), force).sum(axis=0)
        force = force.sum(axis=0) / 0.2
        moment /= 0.2 * np.asarray([-1.2, 0.17, -1.2])
        expected = [force[2], force[1], *moment]
        found = solved((wing,)).coefficients[0, state]
        assert found == pytest.approx(np.asarray(expected), rel=1e-6, abs=1e-7)


def whole_velocity(
    point: NDArray[np.float64], start: NDArray[np.float64], end: NDArray[np.float64]
) -> NDArray[np.float64]:
    """Velocity at each point from horseshoes of three straight pieces (Biot and Savart)."""
    aft = np.asarray([1e6, 0.0, 0.0])
    total = np.zeros((len(point), len(start), 3))
    for one, two in ((start + aft, start), (start, end), (end, end + aft)):
        from_one, from_two = point[:, None] - one, point[:, None] - two
        cross = np.cross(from_one, from_two)
        turn = (
            from_one / np.linalg.norm(from_one, axis=2)[..., None]
            - from_two / np.linalg.norm(from_two, axis=2)[..., None]
        )
        strength = ((two - one) * turn).sum(axis=2) / (cross**2).sum(axis=2)
        total += cross * strength[..., None] / (4.0 * np.pi)
    return total


@settings(max_examples=10, deadline=None)
@given(st.floats(0.1, 10.0))
def test_size_does_not_matter(stretch: float) -> None:
    """All coefficients are the same for a model and its enlargement."""
    large = solved(plane(stretch=stretch), stretch)
    assert large.coefficients == pytest.approx(RESULT.coefficients, rel=1e-8, abs=1e-10)
    assert large.induced == pytest.approx(RESULT.induced, rel=1e-8, abs=1e-10)
    assert large.strip_lift == pytest.approx(RESULT.strip_lift, rel=1e-8, abs=1e-10)


def test_a_batch_is_the_same_as_one_by_one() -> None:
    """Geometries do not see each other."""
    both = solved(plane(3))
    for k in range(3):
        alone = solved(tuple(one_of(surface, k) for surface in plane(3)))
        assert alone.coefficients[0] == pytest.approx(both.coefficients[k], rel=1e-9, abs=1e-11)
        assert alone.induced[0] == pytest.approx(both.induced[k], rel=1e-9, abs=1e-11)


def one_of(surface: Surface, k: int) -> Surface:
    """The k-th geometry of a surface."""
    arrays = ("leading_edge", "chord", "twist", "camber")
    assert set(arrays) <= {field.name for field in fields(surface)}
    return replace(surface, **{name: getattr(surface, name)[k : k + 1] for name in arrays})


@settings(max_examples=25, deadline=None)
@given(st.lists(st.floats(-1.0, 1.0), min_size=9, max_size=9))
def test_induced_drag_is_never_negative(states: list[float]) -> None:
    """The form is symmetric and no mix of states gains energy from its wake."""
    form = RESULT.induced[0]
    assert form == pytest.approx(form.T)
    mix = np.asarray(states)
    assert mix @ form @ mix >= -1e-9


def test_strips_add_up_to_the_coefficients() -> None:
    """Strip lift times area along the strips' normals is CL and CY."""
    force = RESULT.strip_lift[0] * RESULT.strip_area[0][:, None] / 0.2
    side, up = (RESULT.strip_normal[0, :, k] @ force for k in (0, 1))
    assert up == pytest.approx(RESULT.coefficients[0, :, LIFT], abs=1e-12)
    assert side == pytest.approx(RESULT.coefficients[0, :, SIDE], abs=1e-12)


def test_strips_say_where_they_are_and_what_moves_them() -> None:
    """Right halves first, then left; ailerons opposed, no flap inboard."""
    wing = RESULT.strip_surface == 0
    y = RESULT.strip_y[0, wing]
    half = y.size // 2
    assert y[:half] == pytest.approx(-y[half:])
    moved = RESULT.strip_deflection[wing, AILERON]
    assert moved[:half] == pytest.approx(-moved[half:])
    assert np.array_equal(RESULT.strip_flap[wing] == 0, np.abs(y) > 0.3)
    assert np.all(RESULT.strip_y[0, RESULT.strip_surface == 2] == 0.0)
    assert set(RESULT.strip_flap[RESULT.strip_surface == 2]) == {2}


def test_states_are_named_in_order() -> None:
    """Flaps follow the six states of motion."""
    assert RESULT.state_names == (*STATES, "aileron", "elevator", "rudder")


def test_a_tail_in_the_wings_wake_makes_no_jump() -> None:
    """Lift slope and induced drag change smoothly as the tail passes through the wing's plane."""
    heights = [-0.004, -0.002, -0.0005, 0.0, 0.0005, 0.002, 0.004]
    found = [solved(plane(tail_height=height)) for height in heights]
    slope = [float(one.coefficients[0, ALPHA, LIFT]) for one in found]
    drag = [float(one.induced[0, ALPHA, ALPHA]) for one in found]
    assert np.ptp(slope) < 0.005 * slope[3]
    assert np.ptp(drag) < 0.005 * drag[3]


def test_a_pair_of_fins_acts_as_two() -> None:
    """Twin fins far apart give twice the yaw of one of them at the same place behind."""
    fin = plane()[2]
    single = solved((fin,)).coefficients[0, BETA, YAW]
    apart = fin.leading_edge + np.asarray([0.0, 50.0, 0.0])
    pair = solved((replace(fin, leading_edge=apart, mirrored=True),)).coefficients[0, BETA, YAW]
    assert pair == pytest.approx(2.0 * single, rel=1e-4)


def test_a_fin_off_the_plane_of_symmetry_is_flagged() -> None:
    """An unmirrored surface is solved as if at y = 0; elsewhere the answer does not hold."""
    fin = plane()[2]
    off = replace(fin, leading_edge=fin.leading_edge + np.asarray([0.0, 0.05, 0.0]))
    assert not RESULT.outside.any()
    assert solved((plane()[0], off)).outside.all()


def half_wing(start: float, end: float, strips: int) -> Surface:
    """Part of one swept, tapered wing of a half span of 0.4 m."""
    y = np.asarray([start, end])
    return Surface(
        leading_edge=np.stack([0.15 * y, y, 0.0 * y], axis=1)[None],
        chord=(0.15 - 0.125 * y)[None],
        twist=np.zeros((1, 2)),
        camber=np.zeros((1, 2)),
        mirrored=True,
        spanwise=strips,
    )


@pytest.mark.parametrize("joint", [0.1, 0.2])
def test_a_wing_given_in_two_parts_is_still_one_wing(joint: float) -> None:
    """Two surfaces that meet edge to edge carry the load over: within 0.3 % of one surface."""
    whole = solved((half_wing(0.0, 0.4, 12),))
    parts = solved((half_wing(0.0, joint, 5), half_wing(joint, 0.4, 9)))
    for state, coefficient in ((ALPHA, LIFT), (ROLLING, ROLL)):
        one, two = (r.coefficients[0, state, coefficient] for r in (whole, parts))
        assert two == pytest.approx(one, rel=3e-3)
    assert parts.induced[0, ALPHA, ALPHA] == pytest.approx(whole.induced[0, ALPHA, ALPHA], rel=3e-3)


def test_a_tee_tail_loads_its_fin_right_up_to_the_tail() -> None:
    """The tail is an end plate: more side force than of the bare fin, and nearly converged."""
    fin = replace(plane()[2], spanwise=4, flaps=())
    tail = plane(tail_height=0.2)[1]
    tail = replace(tail, leading_edge=tail.leading_edge + np.asarray([0.05, 0.0, 0.0]))
    bare = solved((fin,)).coefficients[0, BETA, YAW]
    coarse, fine = (
        solved((replace(fin, spanwise=n), tail)).coefficients[0, BETA, YAW] for n in (4, 10)
    )
    assert coarse > 1.15 * bare
    assert coarse == pytest.approx(fine, rel=0.03)
