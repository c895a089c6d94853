"""The bare airframe as it is written."""

import pytest
from pydantic import ValidationError

from foamwright.plane.airframe import Airframe, Station, Surface

WING = {
    "name": "wing",
    "role": "wing",
    "stations": (
        {"y": "0 mm", "leading_edge": "205 mm", "chord": "150 mm"},
        {"y": "400 mm", "leading_edge": "225 mm", "chord": "110 mm"},
    ),
}


def test_a_surface_needs_only_what_a_ruler_gives() -> None:
    """Thickness, camber, twist and dihedral may be left out."""
    wing = Surface.model_validate(WING)
    assert [station.chord.value for station in wing.stations] == pytest.approx([0.15, 0.11])
    assert wing.mirrored is None
    assert wing.profile == "foil"


def test_a_camber_may_be_reflexed_and_a_twist_washed_out() -> None:
    """Both have a sign."""
    station = Station.model_validate(
        {"leading_edge": "0 mm", "chord": "150 mm", "camber": "-1 %", "twist": "-2 deg"}
    )
    assert station.camber is not None
    assert station.twist is not None
    assert station.camber.value == pytest.approx(-0.01)
    assert station.twist.value == pytest.approx(-0.0349066, rel=1e-5)


def test_an_airframe_needs_its_foam_and_its_surfaces() -> None:
    """The rest is asked for by the questions that need it."""
    airframe = Airframe.model_validate({"foam": "EPP", "surfaces": (WING,)})
    assert airframe.bare_mass is None
    with pytest.raises(ValidationError):
        Airframe.model_validate({"surfaces": (WING,)})
    with pytest.raises(ValidationError):
        Airframe.model_validate({"foam": "marble", "surfaces": (WING,)})
