"""The stated spreads: in SI, of a builder's size, and explained."""

import ast
import inspect

import pytest

from foamwright.model import spreads

CONSTANTS = {name: value for name, value in vars(spreads).items() if name.isupper()}


@pytest.mark.parametrize("name", sorted(CONSTANTS))
def test_every_spread_is_a_positive_number_with_words(name: str) -> None:
    """Positive, and a sentence in the source beside it says what it is of."""
    assert CONSTANTS[name] > 0
    body = ast.parse(inspect.getsource(spreads)).body
    places = {
        node.targets[0].id: index
        for index, node in enumerate(body)
        if isinstance(node, ast.Assign) and isinstance(node.targets[0], ast.Name)
    }
    following = body[places[name] + 1]
    assert isinstance(following, ast.Expr)
    assert isinstance(following.value, ast.Constant)


def test_a_ruler_and_a_kitchen_scale() -> None:
    """Millimetres and grams as the trade has them: 1 mm on foam, a gram-reading scale below 1 g."""
    assert pytest.approx(1e-3) == spreads.RULER
    assert 0.3e-3 < spreads.SCALE < 1e-3
    assert spreads.PLACE_X >= spreads.RULER


def test_a_guess_is_wider_than_a_measurement() -> None:
    """Volumes tell the balance worse than fingertips, a stock mass worse than a scale."""
    assert spreads.BARE_BALANCE_GUESSED > 3 * spreads.BARE_BALANCE
    assert spreads.STOCK_MASS * 0.02 > spreads.SCALE


def test_the_neutral_point_error_comes_to_what_flights_show() -> None:
    """3.3 % from the model and 1-2 % from the ruler: 3-4 % of the mean chord together."""
    assert 0.03 <= (spreads.NEUTRAL_POINT**2 + 0.015**2) ** 0.5 <= 0.04
