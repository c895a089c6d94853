"""All that is written, as fields: nothing left out, nothing taken for what it is not."""

import pytest

from foamwright.page.desk import Desk
from foamwright.page.inputs import groups, value_of
from foamwright.problems import PlaneFileProblem


def entries(desk: Desk, variant: str | None = None) -> dict[str, str]:
    """Return every field by its key."""
    return {e.key: e.text for g in groups(desk.reading(variant)) for e in g.entries}


def leaves(value: object, key: str = "") -> dict[str, str]:
    """Return every plain value of a plane file by its dotted key, entries by name or number."""
    if isinstance(value, dict):
        pairs = [(f"{key}.{k}" if key else k, v) for k, v in value.items()]
    elif isinstance(value, list):
        pairs = [
            (f"{key}.{v.get('name', i) if isinstance(v, dict) else i}", v)
            for i, v in enumerate(value)
        ]
    else:
        return {key: {True: "yes", False: "no"}.get(value, str(value))}  # type: ignore[call-overload]
    return {k: t for inner, v in pairs for k, t in leaves(v, inner).items()}


@pytest.mark.parametrize("variant", [None, "two cells"])
def test_every_value_has_its_field(desk: Desk, variant: str | None) -> None:
    """All that the file says is a field, but names and kinds of entries, told in headings."""
    told = leaves(desk.reading(variant).written)
    lists = ("items.", "airframe.")
    wanted = {
        key: text
        for key, text in told.items()
        if not (key.startswith(lists) and key.count(".") <= 3 and key.endswith((".name", ".kind")))
    }
    found = entries(desk, variant)
    assert {k: v for k, v in wanted.items() if found.get(k) != v} == {}


def test_what_is_not_written_can_be_said(desk: Desk) -> None:
    """Keys that a part could have as well are offered, those of its tables opened."""
    pack = next(g for g in groups(desk.reading()) if g.key == "items.pack")
    assert "items.pack.at.z" in pack.unsaid
    assert "items.pack.cells" in pack.unsaid
    assert "items.pack.mass" not in pack.unsaid
    targets = next(g for g in groups(desk.reading()) if g.key == "targets")
    assert "targets.margin_low" in targets.unsaid


@pytest.mark.parametrize(
    ("key", "text", "value"),
    [
        ("items.pack.mass", " 41 g ", "41 g"),
        ("items.pack.owned", "no", False),
        ("items.propeller.spares", "4", 4),
        ("items.pack.c_label", "75", 75.0),
        ("items.pack.note", "true", "true"),
        ("targets.top_speed", "", None),
    ],
)
def test_a_field_is_what_the_file_wants(desk: Desk, key: str, text: str, value: object) -> None:
    """A truth is a truth, a number a number, everything else a text; nothing takes the key away."""
    found = value_of(desk.reading().written, key, text)
    assert found == value
    assert type(found) is type(value)


@pytest.mark.parametrize(
    ("key", "text"), [("items.propeller.spares", "2.5"), ("items.pack.owned", "maybe")]
)
def test_a_field_that_is_none_is_told(desk: Desk, key: str, text: str) -> None:
    """What cannot be taken is told with its key."""
    with pytest.raises(PlaneFileProblem) as caught:
        value_of(desk.reading().written, key, text)
    assert caught.value.findings[0].key == key
