"""Text with unit and spread, to SI and back."""

import math
import subprocess
import sys

import pytest
from hypothesis import given
from hypothesis import strategies as st

from foamwright.problems import QuantityProblem
from foamwright.quantity import DIMENSIONS, SI_UNITS, Quantity, digits, read, show, show_band
from foamwright.units import SANE, USUAL

DIMENSION_AND_UNIT = st.sampled_from(
    [(dimension, unit) for dimension, units in USUAL.items() for unit in units]
)


def refusal(text: object, *dimensions: str) -> str:
    """Return the message a text is refused with; it must be one line."""
    with pytest.raises(QuantityProblem) as caught:
        read(text, *dimensions)
    message = str(caught.value)
    assert len(caught.value.findings) == 1
    assert "\n" not in message
    assert caught.value.findings[0].expected
    return message


def outcome(text: object, *dimensions: str) -> int:
    """Return how many clear things came out: finite values or findings."""
    try:
        found = read(text, *dimensions)
    except QuantityProblem as problem:
        return len(problem.findings)
    return int(math.isfinite(found.value))


@given(DIMENSION_AND_UNIT, st.floats(0.001, 0.999), st.floats(0.0, 0.5))
def test_a_value_written_in_any_unit_is_read_back(
    which: tuple[str, str], place: float, share: float
) -> None:
    """SI value and spread survive being written in any unit of the dimension."""
    dimension, unit = which
    low, high = SANE[dimension]
    value = low + place * (high - low)
    factor, offset = USUAL[dimension][unit]
    number, spread = (value - offset) / factor, share * abs(value) / factor

    found = read(f"{number!r} ± {spread!r} {unit}", dimension)

    assert found.dimension == dimension
    assert found.value == pytest.approx(value, rel=1e-9, abs=1e-12)
    assert found.spread == pytest.approx(spread * factor, rel=1e-9, abs=1e-15)


@given(st.text(max_size=40))
def test_any_text_is_a_quantity_or_one_clear_problem(text: str) -> None:
    """No text at all makes anything else come out than a finite value or a QuantityProblem."""
    for dimensions in (("mass",), ("length", "fraction"), ("temperature",), ("money",)):
        assert outcome(text, *dimensions) == 1


@given(
    st.from_regex(r"-?[0-9]{1,4}(\.[0-9])?", fullmatch=True),
    st.from_regex(r"[A-Za-z%°µΩ²³/*^() .0-9-]{0,12}", fullmatch=True),
)
def test_a_number_with_any_unit_is_a_quantity_or_one_clear_problem(number: str, unit: str) -> None:
    """Whatever is typed for a unit, the unit library's own errors never come through."""
    for dimension in ("mass", "area", "torque", "speed constant"):
        assert outcome(f"{number} {unit}", dimension) == 1


@pytest.mark.parametrize(
    ("text", "dimension", "value", "spread"),
    [
        ("71 g", "mass", 0.071, None),
        ("71 ± 1 g", "mass", 0.071, 0.001),
        ("71 +- 1 g", "mass", 0.071, 0.001),
        ("71 g ± 1 g", "mass", 0.071, 0.001),
        ("71 g ± 1000 mg", "mass", 0.071, 0.001),
        ("71 g ± 2 %", "mass", 0.071, 0.00142),
        ("71±1g", "mass", 0.071, 0.001),
        ("410 mm +- 2 mm", "length", 0.41, 0.002),
        ("3800 rpm/V", "speed constant", 3800 / 60, None),
        ("-3 degC", "temperature", 270.15, None),
        ("−3 °C", "temperature", 270.15, None),
        ("20 ± 9 degF", "temperature", 266.4833333, 5.0),
        ("12 %", "fraction", 0.12, None),
        ("12 ± 2 %", "fraction", 0.12, 0.02),
        ("18 dm²", "area", 0.18, None),
        ("90 mΩ", "resistance", 0.09, None),
        ("0.6 kgf·cm", "torque", 0.0588399, None),
        ("63 mph", "speed", 28.16352, None),
        ("2.20 EUR", "money", 2.2, None),
        ("12 ± 3 USD", "money", 12.0, 3.0),
    ],
)
def test_every_form_a_builder_may_write_is_read(
    text: str, dimension: str, value: float, spread: float | None
) -> None:
    """The forms of the manual, in SI; factors are those of NIST SP 811."""
    found = read(text, dimension)
    assert found.value == pytest.approx(value, rel=1e-8)
    assert found.spread == (None if spread is None else pytest.approx(spread, rel=1e-8))


@pytest.mark.parametrize(
    ("text", "dimension", "says"),
    [
        (41, "mass", '41 has no unit; did you mean "41 g"?'),
        ("41", "mass", '"41 g"'),
        (150.5, "length", '"150.5 mm"'),
        ("71 ± 2", "mass", '"71 g ± 2"'),
        ("71 gramm", "mass", 'did you mean "g"'),
        ("60 kmh", "speed", 'did you mean "km/h"'),
        ("20 C", "temperature", 'did you mean "degC"'),
        ('5"', "length", 'did you mean "in"'),
        ("12 €", "money", 'did you mean "EUR"'),
        ("71 mm", "mass", "'mm' measures something else"),
        ("12 EUR", "mass", "'EUR' measures something else"),
        ("3 Wh", "charge", "450 mAh"),
        ("0,5 kg", "mass", 'write "0.5 kg"'),
        ("1 500 mAh", "charge", 'write "1500 mAh"'),
        ("71 ± -1 g", "mass", "negative spread"),
        ("71 g ± 1 mm", "mass", "spread of another kind"),
        ("71 ± 2 % g", "mass", 'write "71 g ± 2 %"'),
        ("71 ± 2 %", "mass", 'write "71 g ± 2 %"'),
        ("20 degC ± 5 %", "temperature", "degC"),
        ("-71 g", "mass", "is negative"),
        ("nan g", "mass", "no number with a unit"),
        ("inf g", "mass", "no number with a unit"),
        ("1e400 g", "mass", "no finite number"),
        ("71 ± 1e400 g", "mass", "no finite number"),
        (float("nan"), "mass", "is no quantity"),
        (True, "mass", "is no quantity"),
        (None, "mass", "is no quantity"),
        ("", "mass", "71 g"),
        ("50 kg", "mass", 'did you mean "50 g"'),
        ("18 ± 100 g", "mass", "has a spread of 5.56 times itself"),
        ("18 g ± 400 %", "mass", "spread of 4 times itself"),
        ("1e-12 ± 1 g", "mass", "± is one deviation"),
        ("450 Ah", "charge", 'did you mean "450 mAh"'),
        ("410 m", "length", 'did you mean "410 mm"'),
    ],
)
def test_a_text_that_cannot_be_taken_is_told_with_what_would_be_right(
    text: object, dimension: str, says: str
) -> None:
    """One sentence, with the correction; nothing is converted silently."""
    assert says in refusal(text, dimension)


def test_a_field_may_have_narrower_limits_than_its_dimension() -> None:
    """A chord of 0.15 mm was metres."""
    with pytest.raises(QuantityProblem, match=r'did you mean .*"0\.15 m"'):
        read("0.15 mm", "length", limits=(0.005, 1.0))
    assert read("15 mm", "length", limits=(0.005, 1.0)).value == pytest.approx(0.015)
    assert read("9 %", "length", "fraction", limits=(0.005, 1.0)).dimension == "fraction"


def test_a_long_text_is_not_repeated_whole() -> None:
    """A message stays a line."""
    assert len(refusal("A" * 100_000, "mass")) < 150
    assert len(refusal("5 " + "mm" * 50_000, "mass")) < 150


def test_a_usual_unit_does_not_load_the_unit_library() -> None:
    """Start-up stays short: pint is loaded for unusual combinations only."""
    script = (
        "import sys; from foamwright.quantity import read; read('71 ± 1 g', 'mass');"
        "read('3800 rpm/V', 'speed constant'); before = 'pint' in sys.modules;"
        "read('1250 rev/min/V', 'speed constant'); print(before, 'pint' in sys.modules)"
    )
    done = subprocess.run(
        [sys.executable, "-c", script], capture_output=True, text=True, check=True
    )
    assert done.stdout.split() == ["False", "True"]


@given(st.floats(-1e6, 1e6, allow_nan=False))
def test_digits_are_plain_and_true_to_three_figures(value: float) -> None:
    """No exponent; from 1 on half of the third figure off at most, below it half a hundredth."""
    text = digits(value)
    assert "e" not in text
    assert text != "-0"
    assert float(text) == pytest.approx(value, rel=0.051, abs=5e-7)
    if abs(value) >= 1.0:
        assert float(text) == pytest.approx(value, rel=0.006)
    elif abs(value) >= 0.1:
        assert float(text) == pytest.approx(value, abs=0.0051)


@pytest.mark.parametrize(
    ("value", "dimension", "metric", "imperial"),
    [
        (0.2525, "mass", "252 g", "8.91 oz"),
        (0.131, "length", "131 mm", "5.16 in"),
        (450.0, "length", "450 m", "1476 ft"),
        (2500.0, "length", "2.50 km", "1.55 mi"),
        (120.0, "elevation", "120 m", "394 ft"),
        (24.0, "speed", "24.0 m/s", "53.7 mph"),
        (2.42, "wing loading", "24.2 g/dm²", "7.93 oz/sq ft"),
        (0.1, "fraction", "10.0%", "10.0%"),
        (480.0, "time", "8.00 min", "8.00 min"),
        (12.1, "current", "12.1 A", "12.1 A"),
        (1620.0, "charge", "450 mAh", "450 mAh"),
        (None, "mass", "none", "none"),
        (float("nan"), "mass", "none", "none"),
    ],
)
def test_values_are_shown_in_the_units_of_the_bench(
    value: float | None, dimension: str, metric: str, imperial: str
) -> None:
    """Grams and millimetres, or ounces and inches."""
    found = show(value, dimension), show(value, dimension, "imperial")
    assert tuple(text.replace(" %", "%") for text in found) == (metric, imperial)


def test_a_band_is_shown_in_one_unit() -> None:
    """Both ends stand before one unit, and a band without ends has none."""
    assert show_band(0.050, 0.063, "mass") == "50.0–63.0 g"
    assert show_band(90.0, 200.0, "time") == "90.0 s to 3.33 min"
    assert show_band(5.0, 6.0, "money", currency="USD") == "5.00–6.00 USD"
    assert show_band(None, 1.0, "mass") == "none"


def test_every_dimension_has_its_si_unit_in_words() -> None:
    """JSON can name the unit of any figure."""
    assert set(SI_UNITS) >= {*DIMENSIONS, "wing loading", "energy per distance", "number"}
    assert SI_UNITS["mass"] == "kg"


def test_a_quantity_keeps_the_text_it_was_read_from() -> None:
    """Messages can repeat what the builder wrote."""
    assert read("71 g ± 1 g", "mass") == Quantity(
        value=71 * 1e-3, spread=1e-3, dimension="mass", text="71 g ± 1 g"
    )


def test_a_count_is_a_whole_number() -> None:
    """Nobody has 2.00 overlaps."""
    assert show(2.0, "count") == "2"
    assert show_band(0.0, 3.0, "count") == "0–3"


@pytest.mark.parametrize("text", ["3 ± 3 g", "2 g ± 300 %", "0 ± 1 g", "12 g"])
def test_a_mass_hardly_known_is_still_a_mass(text: str) -> None:
    """A spread as large as the thing, or about nothing, is an honest answer."""
    assert read(text, "mass").text == text


@pytest.mark.parametrize(("text", "dimension"), [("1 ± 40 mm", "length"), ("0.5 ± 3 m/s", "speed")])
def test_only_a_mass_is_asked_about_its_spread(text: str, dimension: str) -> None:
    """A place near the nose, a calm day: their spread may well be many times themselves."""
    assert read(text, dimension).spread is not None


def test_a_pull_is_shown_as_the_scale_shows_it() -> None:
    """285 g typed are 285 g told; standard gravity 9.80665 m/s2 (CODATA). SI stays newtons."""
    pull = read("285 gf", "force").value
    assert pull == pytest.approx(2.7949, rel=1e-4)
    assert show(pull, "pull") == "285 g"
    assert show_band(pull, 2 * pull, "pull") == "285–570 g"
    assert show(read("10 ozf", "force").value, "pull", "imperial") == "10.0 oz"
    assert (SI_UNITS["pull"], show(pull, "force")) == ("N", "2.79 N")
