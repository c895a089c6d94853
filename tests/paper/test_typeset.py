"""Pages set by typst."""

from foamwright.paper.typeset import PAPERS, typeset

TOLD = {
    "title": 'A # "plane" $x$ \\ with _signs_',
    "foreword": "Mind.",
    "width": 210.0,
    "height": 297.0,
    "phases": [],
}


def test_the_same_data_give_the_same_bytes() -> None:
    """No date, no random name."""
    assert typeset("checklist", TOLD) == typeset("checklist", TOLD)


def test_what_the_builder_wrote_is_data_not_markup() -> None:
    """Signs that mean something to the typesetter are printed as they are."""
    assert typeset("checklist", TOLD).startswith(b"%PDF")


def test_papers_are_those_of_the_standards() -> None:
    """A4 of ISO 216, Letter of ANSI Y14.1."""
    assert PAPERS == {"a4": (210.0, 297.0), "letter": (215.9, 279.4)}
