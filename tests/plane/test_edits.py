"""Plain data changed by dotted keys."""

import copy

import pytest

from foamwright.plane.edits import Raw, changed, flattened
from foamwright.problems import PlaneFileProblem


def plane() -> Raw:
    """Return a few keys of a plane."""
    return {
        "airframe": {
            "surfaces": [{"name": "wing", "stations": [{"chord": "170 mm"}, {"chord": "150 mm"}]}]
        },
        "items": [
            {"name": "pack", "mass": "57 g", "at": {"x": "33 mm"}},
            {"name": "nose ballast", "mass": "6 g"},
        ],
    }


@pytest.mark.parametrize(
    ("key", "value", "expected"),
    [
        ("items.pack.at.x", "40 mm", {"x": "40 mm"}),
        ("items.0.at.x", "40 mm", {"x": "40 mm"}),
        ("items.pack.at", {"x": "1 mm", "z": "2 mm"}, {"x": "1 mm", "z": "2 mm"}),
        ("items.pack.at.y", "3 mm", {"x": "33 mm", "y": "3 mm"}),
    ],
)
def test_a_key_is_changed_by_the_name_or_number_of_its_entry(
    key: str, value: object, expected: object
) -> None:
    """Only the changed copy differs; the first is left as it was."""
    before = plane()
    after = changed(before, {key: value})
    assert before == plane()
    items = after["items"]
    assert isinstance(items, list)
    assert items[0] == {"name": "pack", "mass": "57 g", "at": expected}


def test_stations_are_addressed_by_number() -> None:
    """A station has no name."""
    after = changed(plane(), {"airframe.surfaces.wing.stations.1.chord": "140 mm"})
    expected = copy.deepcopy(plane())
    expected["airframe"]["surfaces"][0]["stations"][1]["chord"] = "140 mm"  # type: ignore[index]
    assert after == expected


def test_entries_come_and_go() -> None:
    """None takes a key or a whole entry away; a table adds one named by its key."""
    after = changed(
        plane(),
        {
            "items.nose ballast": None,
            "items.pack.mass": None,
            "items.tail ballast": {"kind": "ballast", "mass": "4 g"},
        },
    )
    assert after["items"] == [
        {"name": "pack", "at": {"x": "33 mm"}},
        {"name": "tail ballast", "kind": "ballast", "mass": "4 g"},
    ]


def test_the_first_item_can_be_added() -> None:
    """A plane without items gets a list of them, not a table."""
    assert changed({"name": "bare"}, {"items.pack": {"kind": "pack"}}) == {
        "name": "bare",
        "items": [{"name": "pack", "kind": "pack"}],
    }


@pytest.mark.parametrize(
    ("key", "value", "hint"),
    [
        ("items.pak.mass", "5 g", "nearest: pack"),
        ("items.nose", None, "nose ballast"),
        ("items.pack.mass.value", 5, "plain value"),
        ("items.pack", "57 g", "table"),
    ],
)
def test_a_key_that_leads_nowhere_is_refused(key: str, value: object, hint: str) -> None:
    """With the key and what would be right."""
    with pytest.raises(PlaneFileProblem) as caught:
        changed(plane(), {key: value})
    assert caught.value.findings[0].key == key
    assert hint in caught.value.findings[0].sentence()


def test_nested_tables_and_dotted_keys_mean_the_same() -> None:
    """Whole items stay tables, so that they can be added or taken away."""
    dotted = flattened({"items.pack.mass": "50 g", "site": {"wind": "4 m/s"}})
    assert dotted == {"items.pack.mass": "50 g", "site.wind": "4 m/s"}
    assert flattened({"site": {"wind": {"remove": True}}}) == {"site.wind": {"remove": True}}
    nested = flattened({"items": {"pack": {"mass": "50 g"}}})
    assert changed(plane(), nested) == changed(plane(), {"items.pack.mass": "50 g"})
