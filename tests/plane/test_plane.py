"""The plane as one record."""

from pathlib import Path

import pytest
from pydantic import ValidationError

from foamwright.plane.document import load
from foamwright.plane.plane import Plane

EXAMPLES = Path(__file__).parents[2] / "examples"


def test_the_least_plane_has_a_name_a_layout_and_a_wing() -> None:
    """All else has an open default or stays unsaid."""
    wing = {
        "name": "wing",
        "role": "wing",
        "stations": (
            {"y": "0 mm", "leading_edge": "0 mm", "chord": "150 mm"},
            {"y": "300 mm", "leading_edge": "0 mm", "chord": "150 mm"},
        ),
    }
    plane = Plane.model_validate(
        {"name": "Least", "layout": "plank", "airframe": {"foam": "EPP", "surfaces": (wing,)}}
    )
    assert plane.items == ()
    assert (plane.region, plane.units, plane.currency) == ("EU", "metric", "EUR")
    with pytest.raises(ValidationError):
        Plane.model_validate({"name": "Least", "layout": "kite", "airframe": {"foam": "EPP"}})


@pytest.mark.parametrize(
    ("name", "grams"), [("reedling", 252.5), ("anvil", 415.0), ("windrow", 128.0 + 57.0)]
)
def test_an_example_weighs_what_its_builder_says(name: str, grams: float) -> None:
    """The sum of the list, within a gram; the windrow's pack comes from its label (57 g)."""
    plane = load(EXAMPLES / name).plane
    assert plane.airframe.bare_mass is not None
    total = plane.airframe.bare_mass.value + sum(
        item.mass.value * item.count for item in plane.items if item.mass is not None
    )
    assert total * 1e3 == pytest.approx(grams, abs=1.0)


def test_the_reedlings_parts_lie_where_the_list_says() -> None:
    """Motor, mount and propeller together: 24 g at 362 mm; tail arm 395 mm."""
    plane = load(EXAMPLES / "reedling").plane
    rear = [item for item in plane.items if item.name in ("motor", "motor mount", "propeller")]
    masses = [item.mass.value * 1e3 for item in rear if item.mass is not None]
    places = [item.at.x.value * 1e3 for item in rear if item.at is not None]
    assert sum(masses) == pytest.approx(24.0, abs=0.1)
    moment = sum(m * x for m, x in zip(masses, places, strict=True))
    assert moment / sum(masses) == pytest.approx(362.0, abs=1.0)
    # The mean chord of a straight taper: 2/3 c (1 + t + t^2) / (1 + t), at b/6 (1 + 2 t) / (1 + t).
    taper = 110.0 / 150.0
    mean_chord = 100.0 * (1 + taper + taper**2) / (1 + taper)
    across = 800.0 / 6.0 * (1 + 2 * taper) / (1 + taper)
    quarter = 205.0 + 20.0 * across / 400.0 + mean_chord / 4.0
    tail = next(s for s in plane.airframe.surfaces if s.role == "tail").stations[0]
    assert tail.leading_edge.value * 1e3 + 15.0 - quarter == pytest.approx(395.0, abs=1.0)


def test_the_windrow_balances_bare_where_its_builder_measured() -> None:
    """128 g of foam and gear without the pack, 65.3 mm behind the leading edge at 95 mm."""
    plane = load(EXAMPLES / "windrow").plane
    foam = plane.airframe
    assert foam.bare_mass is not None
    assert foam.bare_balance is not None
    mass, moment = foam.bare_mass.value, foam.bare_mass.value * foam.bare_balance.x.value
    for item in plane.items:
        if item.kind != "pack" and item.mass is not None and item.at is not None:
            mass += item.mass.value * item.count
            moment += item.mass.value * item.count * item.at.x.value
    assert mass * 1e3 == pytest.approx(128.0, abs=0.5)
    assert moment / mass * 1e3 - 125.0 == pytest.approx(65.3, abs=0.5)


@pytest.mark.parametrize("name", ["reedling", "anvil", "windrow"])
def test_every_variant_of_an_example_is_a_plane(name: str) -> None:
    """A couple of what-ifs come with each."""
    variants = load(EXAMPLES / name).variants
    assert len(variants) >= 2
    for variant in variants:
        assert load(EXAMPLES / name, variant).variant == variant
