"""The build order on paper."""

import pypdfium2

from foamwright.paper.checklist import Tick, checklist


def tick(count: int, *, hold: bool = False, done: bool = False) -> Tick:
    """Return a line to tick."""
    return Tick(
        phase=f"phase {count % 2}",
        do=f"Do thing {count}",
        name=f"thing-{count}",
        done=done,
        hold=hold,
        told=("Because.",),
    )


def text_of(pages: bytes) -> str:
    """Return all words of a PDF."""
    document = pypdfium2.PdfDocument(pages)
    return " ".join(page.get_textpage().get_text_bounded() for page in document)


def test_steps_are_gathered_under_their_phase() -> None:
    """In the order the phases first come."""
    text = text_of(checklist("Plane", tuple(tick(i) for i in range(4)), "a4"))
    places = [text.index(f"Do thing {i}") for i in (0, 2, 1, 3)]
    assert places == sorted(places)
    assert text.index("phase 0") < text.index("phase 1")


def test_a_long_list_takes_more_pages_and_keeps_its_steps_whole() -> None:
    """Sixty steps do not fit on one."""
    pages = checklist("Plane", tuple(tick(i) for i in range(60)), "letter")
    assert len(pypdfium2.PdfDocument(pages)) > 1


def test_what_cannot_be_undone_says_so() -> None:
    """Once for each such step."""
    text = text_of(checklist("Plane", (tick(0, hold=True), tick(1)), "a4"))
    assert text.count("cannot be undone") == 2  # once in the foreword
