"""Fields that know their dimension and what it can be."""

import pytest
from pydantic import TypeAdapter, ValidationError

from foamwright.plane import fields
from foamwright.quantity import Quantity, read


def test_a_field_reads_text_and_keeps_a_quantity() -> None:
    """What the builder writes and what a program passes on are the same to a field."""
    mass = TypeAdapter(fields.Mass)
    assert mass.validate_python("71 ± 1 g") == read("71 ± 1 g", "mass")
    assert mass.validate_python(read("71 g", "mass")).value == pytest.approx(0.071)


def test_a_field_tells_what_is_wrong_and_what_would_be_right() -> None:
    """The context carries both, so that the document can add file and line."""
    with pytest.raises(ValidationError) as caught:
        TypeAdapter(fields.Mass).validate_python(41)
    (error,) = caught.value.errors()
    assert error["type"] == "quantity"
    assert error["ctx"] == {"what": "41 has no unit", "expected": 'did you mean "41 g"?'}


@pytest.mark.parametrize(
    ("field", "wrong", "right"),
    [
        (fields.Chord, "0.15 mm", "0.15 m"),
        (fields.Chord, "150 m", "150 mm"),
        (fields.Diameter, "5 mm", "5 in"),
        (fields.Stator, "18 cm", "18 mm"),
        (fields.Mass, "41 kg", "41 g"),
        (fields.Charge, "450 Ah", "450 mAh"),
    ],
)
def test_a_value_out_of_range_is_refused_with_the_unit_that_was_meant(
    field: type[Quantity], wrong: str, right: str
) -> None:
    """Limits are common practice for foam planes, no source; the proposal itself is accepted."""
    adapter = TypeAdapter(field)
    with pytest.raises(ValidationError) as caught:
        adapter.validate_python(wrong)
    assert f'"{right}"' in caught.value.errors()[0]["ctx"]["expected"]
    adapter.validate_python(right)


@pytest.mark.parametrize("field", [fields.Chord, fields.Extent, fields.Mass, fields.Share])
def test_what_cannot_be_negative_is_refused(field: type[Quantity]) -> None:
    """A chord, a box, a mass and a share are not below nothing."""
    for text in ("-5 mm", "-5 g", "-5 %"):
        with pytest.raises(ValidationError):
            TypeAdapter(field).validate_python(text)


def test_a_thickness_is_a_length_or_a_share_of_the_chord() -> None:
    """A ruler gives millimetres, a drawing percent."""
    thickness = TypeAdapter(fields.Thickness)
    assert thickness.validate_python("12 mm").dimension == "length"
    assert thickness.validate_python("9 %").dimension == "fraction"
    with pytest.raises(ValidationError):
        thickness.validate_python("9")
