"""What a template shows."""

import numpy as np
import pytest

from foamwright.paper.template_shapes import Outline, Template

PLATE = Template(
    name="plate",
    title="A plate",
    outlines=(
        Outline(kind="foam", points=((0.0, 0.0), (300.0, 0.0), (300.0, 80.0), (0.0, 80.0))),
        Outline(kind="hinge", points=((0.0, 20.0), (300.0, 20.0)), closed=False, label="flap"),
    ),
)


def test_the_extent_is_that_of_everything_on_it() -> None:
    """Least and greatest of all points."""
    assert PLATE.extent == (0.0, 0.0, 300.0, 80.0)


def test_a_quarter_turn_keeps_lengths_and_words() -> None:
    """What was wide is tall; four of them are none."""
    turned = PLATE.turned()
    x0, y0, x1, y1 = turned.extent
    assert (x1 - x0, y1 - y0) == pytest.approx((80.0, 300.0))
    assert [o.label for o in turned.outlines] == [o.label for o in PLATE.outlines]
    again = turned.turned().turned().turned()
    assert np.array(again.outlines[0].points) == pytest.approx(np.array(PLATE.outlines[0].points))
