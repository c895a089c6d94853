"""Throws for a first flight."""

import dataclasses

import numpy as np
import pytest

from foamwright.questions.case import Case
from foamwright.questions.throws import LOW_RATE, at_edge, first_throws, low_rate, said_of


def test_low_rate_is_never_more_than_the_travel_there_is(reedling: Case) -> None:
    """8 degrees by practice, 5 where no more was written."""
    one = reedling.computed.steering.held[0].hinged
    assert np.degrees(low_rate(one, up=True)[0]) == pytest.approx(LOW_RATE["aileron"][0])
    little = dataclasses.replace(one, up=float(np.radians(5.0)))
    assert np.degrees(low_rate(little, up=True)[0]) == pytest.approx(5.0)


def test_the_edge_moves_by_the_sine(reedling: Case) -> None:
    """24 % of 130 mm by sin 12 degrees: 6.5 mm."""
    one = reedling.computed.steering.held[0].hinged
    assert at_edge(one, one.up) == pytest.approx(0.24 * 0.130 * np.sin(np.radians(12.0)), rel=1e-3)


def test_every_surface_has_four_throws(reedling: Case) -> None:
    """Up and down, low and high, named by number."""
    found = first_throws(reedling, reedling.computed.steering.held)
    assert [f.name for f in found[:4]] == [
        "throw_1_up_low",
        "throw_1_up_high",
        "throw_1_down_low",
        "throw_1_down_high",
    ]
    assert len(found) == 12
    assert found[0].label == "aileron up, low rate (9°)"


def test_rudders_go_left_and_right() -> None:
    """Nobody says rudder up."""
    assert [said_of("rudder", way) for way in ("up", "down")] == ["left", "right"]
    assert said_of("elevon", "up") == "up"
