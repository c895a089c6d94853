"""How what was told and what stands in are written."""

import tomllib

import pytest

from foamwright.jobs import sheet
from foamwright.quantity import read

PAGE = sheet.Sheet(
    layout="plank",
    told={"ruler.span": "600 ± 2 mm", "name": "x"},
    stand_in={"ruler.root_chord": "170 ± 8 mm", "ruler.wing_from_nose": "100 ± 5 mm"},
)


def test_what_was_told_wins_and_what_was_not_is_remarked() -> None:
    """A told key has no remark; the others are named in plain words."""
    assert PAGE.text("ruler.span") == "600 ± 2 mm"
    assert PAGE.remark("ruler.span") == ""
    remark = PAGE.remark("ruler.span", "ruler.root_chord", "ruler.wing_from_nose")
    assert remark == "  # not measured: root chord, nose to wing"


def test_sums_carry_their_spreads() -> None:
    """Independent spreads add as squares: 8 and 5 mm make 9.4 mm."""
    text = PAGE.sum((1.0, "ruler.root_chord"), (1.0, "ruler.wing_from_nose"))
    assert text == "270 ± 9.4 mm"
    half = read(PAGE.sum((0.5, "ruler.span")), "length")
    assert (half.value, half.spread) == pytest.approx((0.3, 0.001))


@pytest.mark.parametrize("text", ['a "quoted" name', "back\\slash", "Möwe ± 1", "tab\there"])
def test_any_text_comes_back_from_the_file(text: str) -> None:
    """Quotes, backslashes and letters of other tongues survive."""
    assert tomllib.loads(sheet.entry("name", text))["name"] == text


def test_a_station_is_one_inline_table() -> None:
    """A station line reads as TOML inside a list."""
    line = sheet.station({"y": "0 mm", "chord": "170 mm"}, "  # not measured: root chord")
    assert tomllib.loads(f"stations = [\n{line}\n]")["stations"] == [
        {"y": "0 mm", "chord": "170 mm"}
    ]
