"""Names beside the plane."""

from itertools import combinations

from hypothesis import given, settings
from hypothesis import strategies as st

from foamwright.paper.labels import Field, Span, area, overlap, placed

SIZE = 10.0


def foam(low: float, high: float) -> list[Span]:
    """Return a body of 400 by 40 and a wing of 100 by 600, as two ranges along x."""
    found = []
    if overlap((low, high), (-20.0, 20.0)):
        found.append((0.0, 400.0))
    if overlap((low, high), (-300.0, 300.0)):
        found.append((150.0, 250.0))
    return found


FIELD = Field(foam=foam, ends=(-300.0, 300.0), size=SIZE)
PLACES = st.lists(
    st.tuples(st.floats(5.0, 395.0), st.floats(-15.0, 15.0)), min_size=1, max_size=14, unique=True
)


@settings(max_examples=15)
@given(PLACES)
def test_no_name_lies_on_another_or_on_the_foam(spots: list[tuple[float, float]]) -> None:
    """Wherever parts sit, even on top of one another."""
    labels = placed(tuple((f"part {i}", (spot,)) for i, spot in enumerate(spots)), FIELD)
    assert [label.words for label in labels] == [f"part {i}" for i in range(len(spots))]
    for label in labels:
        across, down = area(label, SIZE)
        assert not any(overlap(across, span) for span in foam(*down))
    for first, second in combinations(labels, 2):
        boxes = zip(area(first, SIZE), area(second, SIZE), strict=True)
        assert not all(overlap(a, b) for a, b in boxes)


def test_a_name_stands_near_its_part() -> None:
    """A lone part in the nose is named in the first row beside the body."""
    (label,) = placed((("camera", ((20.0, 0.0),)),), FIELD)
    assert abs(label.elbow[1]) < 60.0
    assert abs(label.side - 20.0) < 2 * SIZE
