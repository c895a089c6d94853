"""A plane under question can be changed with the same luck."""

from collections.abc import Callable

import numpy as np
import pytest

from foamwright.problems import PlaneFileProblem
from foamwright.questions import weight
from foamwright.questions.case import Case, Measured, carried_by

Named = Callable[[str], Case]


def test_a_change_that_changes_nothing_changes_no_figure(case: Named) -> None:
    """The same draws: the figures agree to the last bit."""
    plane = case("reedling")
    same = plane.changed({"items.pack.note": "the red one"})
    assert weight.measure(same).figures == weight.measure(plane).figures


def test_a_change_touches_only_what_it_says(case: Named) -> None:
    """3 g more on the pack: every sample is 3 g heavier, and the first case is as it was."""
    plane = case("reedling")
    before = plane.computed.masses.all_up.copy()
    heavier = plane.changed({"items.pack.mass": "44 ± 1 g"})
    assert heavier.computed.masses.all_up - before == pytest.approx(3e-3)
    assert np.array_equal(plane.computed.masses.all_up, before)


def test_a_change_to_no_plane_is_refused(case: Named) -> None:
    """A pack without a plane around it."""
    with pytest.raises(PlaneFileProblem, match="items"):
        case("reedling").changed({"items.pack.mass": "41 mm"})


@pytest.mark.parametrize("name", ["reedling", "windrow", "anvil"])
def test_shares_of_the_carriers_are_shares(case: Named, name: str) -> None:
    """Each between 2 and 100 %, falling, together no more than all (within sampling error)."""
    plane = case(name)
    shares = carried_by(plane, weight.measure(plane))
    values = [share.share for share in shares]
    assert values == sorted(values, reverse=True)
    assert all(0.02 <= value <= 1.0 for value in values)
    assert 0.5 < sum(values) < 1.1


def test_the_heaviest_doubt_carries_the_weight(case: Named) -> None:
    """Glue ± 3 g of a sum that is ± 3.9 g: 59 % of its square."""
    plane = case("reedling")
    first = carried_by(plane, weight.measure(plane))[0]
    assert first.input == "mass of glue, tape and wire"
    assert 0.4 < first.share < 0.7


def test_what_has_no_value_is_carried_by_nothing(case: Named) -> None:
    """A question that cannot be answered names nobody."""
    nothing = Measured(figures=(), probability=None, deciding=np.full(256, np.nan))
    assert carried_by(case("reedling"), nothing) == ()
