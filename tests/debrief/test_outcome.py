"""The records of a flight that was read."""

import pytest

from foamwright.debrief.outcome import Facts, Segment


def test_a_segment_is_named_by_kind_and_start() -> None:
    """Observations refer to it by that."""
    assert Segment(kind="dash", start=81.6, end=90.0).name == "dash at 82 s"


def test_facts_may_all_be_missing_but_the_air() -> None:
    """Nothing is assumed of the aeroplane; the air is that of the standard at sea level."""
    facts = Facts()
    assert (facts.mass, facts.wing_area, facts.charge_put_back) == (None, None, None)
    assert facts.air_density == pytest.approx(1.225)
