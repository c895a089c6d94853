"""The linearised lattice against solving every sample's own geometry."""

import dataclasses
from collections.abc import Callable

import numpy as np
import pytest

from foamwright.model.ensemble import Draws
from foamwright.model.lift import reference_of
from foamwright.model.planform import planform
from foamwright.model.surfaces import (
    PITCH,
    ROLL,
    Drawn,
    drawn,
    geometry_of,
    lattice_flaps,
    ruler_errors,
)
from foamwright.physics.arrays import Samples
from foamwright.physics.lift.lattice import Reference, unit_loads
from foamwright.physics.lift.panels import Surface as LatticeSurface
from foamwright.plane.document import LoadedPlane
from foamwright.plane.variants import overridden

Read = Callable[[str], LoadedPlane]
SAMPLES = 32
LIFT, MOMENT, ALPHA = 0, 3, 1


def own_geometries(plane: Drawn, draws: Draws) -> tuple[LatticeSurface, ...]:
    """Return every surface with each sample's own errors in it, all at once."""
    normals = np.stack([draws.normal(e.key, e.label) for e in plane.errors], axis=-1)
    found = []
    for index, surface in enumerate(plane.surfaces):
        fields = {}
        for name in ("leading_edge", "chord", "twist", "camber"):
            value = np.repeat(getattr(surface, name)[:1], SAMPLES, axis=0)
            for number, error in enumerate(plane.errors):
                if error.surface == index and error.field == name:
                    value = value + np.multiply.outer(normals[:, number], error.change)
            fields[name] = value
        found.append(
            dataclasses.replace(
                surface,
                leading_edge=fields["leading_edge"],
                chord=fields["chord"],
                twist=fields["twist"],
                camber=fields["camber"],
            )
        )
    return tuple(found)


def lines(coefficients: Samples, reference: tuple[float, float]) -> tuple[Samples, Samples]:
    """Return lift slope and neutral point (n,) of alpha's coefficients."""
    slope = coefficients[:, ALPHA, LIFT]
    point, chord = reference
    return slope, point - coefficients[:, ALPHA, MOMENT] / slope * chord


@pytest.mark.parametrize("name", ["reedling", "windrow", "anvil", "saltmarsh"])
def test_errors_to_first_order_are_as_good_as_own_geometries(read: Read, name: str) -> None:
    """32 samples solved one by one: lift slope within 0.3 %, neutral point within 1 mm."""
    airframe = read(name).plane.airframe
    plane, draws = drawn(airframe), Draws(SAMPLES, 5)
    one = reference_of(planform(airframe, plane, draws), plane)
    many = Reference(
        area=np.repeat(one.area[:1], SAMPLES),
        chord=np.repeat(one.chord[:1], SAMPLES),
        span=np.repeat(one.span[:1], SAMPLES),
        point=np.repeat(one.point[:1], SAMPLES, axis=0),
    )
    lengths = float(one.point[0, 0]), float(one.chord[0])
    quick = plane.at_samples(unit_loads(plane.surfaces, one).coefficients, draws)
    slow = unit_loads(own_geometries(plane, draws), many).coefficients
    slope, neutral = lines(quick, lengths)
    own_slope, own_neutral = lines(slow, lengths)
    assert slope == pytest.approx(own_slope, rel=3e-3)
    assert neutral == pytest.approx(own_neutral, abs=1e-3)
    # The spread itself is larger than what linearising loses.
    assert np.std(own_slope) > 3 * np.abs(slope - own_slope).max()


def test_a_ruler_gets_every_station_wrong_by_a_millimetre(read: Read) -> None:
    """One error per edge and chord, span and rigging; camber for the foil only."""
    wing, tail, fin = read("reedling").plane.airframe.surfaces
    for surface, fields in ((wing, 7), (tail, 6), (fin, 6)):
        errors = ruler_errors(0, surface)
        assert len(errors) == fields
        chords = [e for e in errors if e.field == "chord"]
        assert [np.abs(e.change).max() for e in chords] == [pytest.approx(1e-3)] * 2
    assert {e.field for e in ruler_errors(0, wing)} == {"leading_edge", "chord", "twist", "camber"}
    assert "camber" not in {e.field for e in ruler_errors(0, tail)}


def test_a_written_spread_takes_the_place_of_the_rulers(read: Read) -> None:
    """150 ± 3 mm is believed."""
    keys: dict[str, object] = {"airframe.surfaces.wing.stations.0.chord": "150 ± 3 mm"}
    wing = overridden(read("reedling"), keys).plane.airframe.surfaces[0]
    first = next(e for e in ruler_errors(0, wing) if e.field == "chord")
    assert np.abs(first.change).max() == pytest.approx(3e-3)


def test_dihedral_lifts_the_tips(read: Read) -> None:
    """4 degrees over 400 mm: 28 mm; stations carry no z of their own."""
    wing = geometry_of(read("reedling").plane.airframe.surfaces[0])
    assert wing.leading_edge[-1, 2] == pytest.approx(0.4 * np.tan(np.deg2rad(4.0)))


def test_elevons_work_together_in_pitch_and_against_each_other_in_roll(read: Read) -> None:
    """Both gains of one control: equal signs in pitch, opposite in roll."""
    flaps = lattice_flaps(read("windrow").plane.airframe.surfaces[0].controls)
    gains = {flap.name: (flap.gain_right, flap.gain_left) for flap in flaps}
    assert gains == {PITCH: (1.0, 1.0), ROLL: (-1.0, 1.0)}


def test_what_was_not_measured_is_named(read: Read) -> None:
    """A foil without camber or thickness says what was taken instead."""
    keys: dict[str, object] = {
        "airframe.surfaces.wing.stations.0.camber": None,
        "airframe.surfaces.wing.stations.1.camber": None,
        "airframe.surfaces.wing.stations.1.thickness": None,
    }
    said = drawn(overridden(read("reedling"), keys).plane.airframe).assumed
    assert any("camber not measured, 2%" in text for text in said)
    assert any("thickness not measured" in text for text in said)
    assert drawn(read("reedling").plane.airframe).assumed == ()


@pytest.mark.parametrize("name", ["reedling", "windrow", "anvil", "saltmarsh"])
def test_the_lattice_is_fine_enough(read: Read, name: str) -> None:
    """Against six rows along the chord: slope within 0.7 %, neutral point within 2 % of the chord.

    Measured: 0.4 % of the chord for the swept wing, 0.5 for the glider, 1.3 aft for the plank, 1.7
    forward for the delta; half of what the neutral point is not known by anyway.
    """
    airframe = read(name).plane.airframe
    plane = drawn(airframe)
    reference = reference_of(planform(airframe, plane, Draws(2, 1)), plane)
    one = Reference(
        area=reference.area[:1],
        chord=reference.chord[:1],
        span=reference.span[:1],
        point=reference.point[:1],
    )
    found = []
    for rows in (None, 6):
        surfaces = tuple(
            dataclasses.replace(
                surface,
                leading_edge=surface.leading_edge[:1],
                chord=surface.chord[:1],
                twist=surface.twist[:1],
                camber=surface.camber[:1],
                chordwise=rows or surface.chordwise,
            )
            for surface in plane.surfaces
        )
        lengths = float(one.point[0, 0]), float(one.chord[0])
        found.append(lines(unit_loads(surfaces, one).coefficients, lengths))
    (slope, neutral), (fine_slope, fine_neutral) = found
    assert slope == pytest.approx(fine_slope, rel=7e-3)
    assert neutral == pytest.approx(fine_neutral, abs=0.02 * float(one.chord[0]))
