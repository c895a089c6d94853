"""Cutting surfaces into strips and panels."""

from dataclasses import replace

import numpy as np
import pytest

from foamwright.physics.lift.panels import Flap, Surface, cut, flap_names

FLAP = Flap(name="a", start=0.4, end=0.9, chord_fraction=0.25, gain_right=1.0, gain_left=-1.0)
WING = Surface(
    leading_edge=np.asarray([[[0.0, 0.0, 0.0], [0.02, 0.3, 0.0], [0.06, 0.5, 0.1]]]),
    chord=np.asarray([[0.2, 0.18, 0.1]]),
    twist=np.asarray([[0.0, 0.0, -0.05]]),
    camber=np.asarray([[0.02, 0.02, 0.01]]),
    mirrored=True,
    flaps=(FLAP,),
    spanwise=12,
    chordwise=3,
)


def test_strips_cover_the_surface() -> None:
    """Widths add up to the span along the surface, areas to the trapezoids between stations."""
    strips, _ = cut((WING,))
    length = 0.3 + np.hypot(0.2, 0.1)
    area = 0.3 * 0.19 + np.hypot(0.2, 0.1) * 0.14
    assert strips.width.sum() == pytest.approx(length)
    assert (strips.width * strips.chord).sum() == pytest.approx(area)


def test_flap_ends_and_kinks_are_strip_edges() -> None:
    """The strips with a gain span exactly the flap; the station with the kink is an edge."""
    strips, _ = cut((WING,))
    share = np.cumsum(strips.width[0]) / strips.width.sum()
    flapped = np.flatnonzero(strips.gain_right[:, 0])
    assert share[flapped[0] - 1] == pytest.approx(0.4)
    assert share[flapped[-1]] == pytest.approx(0.9)
    assert np.min(np.abs(strips.end[0, :, 0] - 0.3)) < 1e-12
    assert strips.gain_left[:, 0] == pytest.approx(-strips.gain_right[:, 0])


def test_a_wing_through_the_body_is_wide_at_the_root_and_a_fin_is_not() -> None:
    """Strips crowd at free ends only."""
    plain = replace(
        WING, flaps=(), leading_edge=WING.leading_edge[:, ::2], chord=WING.chord[:, ::2]
    )
    plain = replace(plain, twist=WING.twist[:, ::2], camber=WING.camber[:, ::2])
    through, _ = cut((plain,))
    free, _ = cut((replace(plain, leading_edge=plain.leading_edge + np.asarray([0.0, 0.1, 0.0])),))
    even, _ = cut((replace(plain, spacing="uniform"),))
    assert through.width[0, 0] > 5.0 * through.width[0, -1]
    assert free.width[0, 0] == pytest.approx(free.width[0, -1])
    assert even.width[0] == pytest.approx(np.full(12, even.width.sum() / 12.0))


def test_many_stations_do_not_make_many_strips() -> None:
    """A curved outline is followed without an edge at each of its stations."""
    place = np.linspace(0.0, 0.5, 60)
    curved = Surface(
        leading_edge=np.stack([place**2, place, 0.0 * place], axis=1)[None],
        chord=(0.2 - place**2 * 0.3)[None],
        twist=np.zeros((1, 60)),
        camber=np.zeros((1, 60)),
        mirrored=True,
        spanwise=8,
    )
    strips, _ = cut((curved,))
    assert strips.surface.size == 8


def test_panels_lie_in_the_chord_between_vortex_and_control() -> None:
    """Bound vortices run across, control points behind them, all within the chord."""
    _, panels = cut((WING,))
    behind = panels.control[..., 0] - 0.5 * (panels.start + panels.end)[..., 0]
    assert np.all(behind > 0.0)
    assert panels.control.shape == panels.start.shape == (1, 3 * np.unique(panels.strip).size, 3)


def test_a_swept_hinge_turns_the_flow_by_less() -> None:
    """Only the part of the hinge square to the flow counts."""
    swept = replace(WING, leading_edge=WING.leading_edge * np.asarray([20.0, 1.0, 1.0]))
    assert cut((swept,))[1].hinge.max() < cut((WING,))[1].hinge.max()


def test_flaps_that_meet_leave_no_sliver() -> None:
    """Ends a hair apart become one strip edge."""
    inner = replace(FLAP, name="b", start=0.0, end=0.3999999)
    outer = replace(FLAP, end=0.9999)
    strips, _ = cut((replace(WING, flaps=(inner, outer)),))
    assert strips.width.min() > 0.002
    assert np.all(np.count_nonzero(strips.gain_right, axis=1) == 1)


def test_names_come_once() -> None:
    """Flaps of one name on several surfaces are one state."""
    other = replace(WING, flaps=(FLAP, replace(FLAP, name="b")))
    assert flap_names((WING, other)) == ("a", "b")


def test_a_fin_on_the_wing_gets_a_strip_edge_under_it() -> None:
    """Where another surface touches, the sheets share an edge; a tail behind asks for none."""
    plain = replace(WING, flaps=(), spanwise=7)
    fin = replace(
        plain,
        leading_edge=np.asarray([[[0.05, 0.2, 0.0], [0.1, 0.2, 0.1]]]),
        chord=np.asarray([[0.1, 0.1]]),
        twist=np.zeros((1, 2)),
        camber=np.zeros((1, 2)),
    )
    behind = replace(fin, leading_edge=fin.leading_edge + np.asarray([0.5, 0.0, 0.0]))
    for other, touches in ((fin, True), (behind, False)):
        strips, _ = cut((plain, other))
        edges = strips.end[0, strips.surface == 0, 0]
        assert (np.abs(edges - 0.2).min() < 1e-12) == touches
