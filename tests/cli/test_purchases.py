"""The shopping list on a terminal."""

from foamwright.cli.purchases import shopping
from foamwright.cli.screen import Screen
from foamwright.questions.answer import ShoppingLine


def line(item: str, price: float | None, *, owned: bool, assumed: bool = False) -> ShoppingLine:
    """Return a line that was made up."""
    return ShoppingLine(
        item=item,
        kind="servo",
        count=2,
        price_each=price,
        owned=owned,
        assumed=assumed,
        link="corner shop",
    )


def test_what_is_to_buy_comes_first() -> None:
    """Bought and owned are told apart; a price is for all pieces, a usual one is marked."""
    lines = (line("servos", 6.0, owned=True), line("motors", 15.0, owned=False, assumed=True))
    page = Screen().set_out(shopping(lines, "CHF"))
    assert page.index("To buy") < page.index("motors") < page.index("In the drawer")
    assert "2 x   motors   30.0 CHF usual   corner shop" in page
    assert "12.0 CHF" in page


def test_a_price_nobody_knows_is_asked_for() -> None:
    """No price is no nought."""
    page = Screen().set_out(shopping((line("servos", None, owned=False),), "EUR"))
    assert "price?" in page
    assert "EUR" not in page


def test_an_empty_list_shows_nothing() -> None:
    """No heading without lines."""
    assert shopping((), "EUR") == []
