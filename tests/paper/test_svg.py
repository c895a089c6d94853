"""Pieces of SVG: what a user wrote cannot act."""

from xml.etree import ElementTree as ET

import pytest

from foamwright.paper import svg


@pytest.mark.parametrize(
    "name", ['<script>alert("1")</script>', "a & b", "]]>", 'it\'s "so"', "Möwe ±", "<!--"]
)
def test_any_text_comes_back_from_the_markup(name: str) -> None:
    """In words and in an attribute, read back by an XML parser that is not ours."""
    found = ET.fromstring(svg.text(name, (0.0, 0.0), 3.0, data_name=name))  # noqa: S314 - our own
    assert found.text == name
    assert found.get("data-name") == name


def test_signs_that_act_are_no_longer_there() -> None:
    """Controls, turning marks and signs XML has no place for become blanks; long names are cut."""
    assert svg.tame("a\x00b\x1bc\u202ed") == "a b c d"
    assert len(svg.tame("x" * 500)) == svg.CUT


def test_lengths_are_short_and_have_no_exponent() -> None:
    """Two decimals are a hundredth of a millimetre."""
    written = [svg.number(v) for v in (0.0, -0.001, 1e-9, 12.3456, 1000.0)]
    assert written == ["0", "0", "0", "12.35", "1000"]
