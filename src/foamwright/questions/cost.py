"""What does it cost?"""

import numpy as np

from foamwright.plane.gear import AnyItem
from foamwright.questions.answer import Answer, ShoppingLine
from foamwright.questions.case import Case, Measured, carried_by
from foamwright.questions.chance import chance, figure, verdict
from foamwright.questions.remedies import Change, tried

ID = "cost"
ASKS = "What does it cost?"

STOCK_CURRENCY = "EUR"
"""What the stock's prices are in; nothing is converted."""

STOCK_PRICE = 0.25
"""Relative spread of a price that comes from the stock; common practice, no source."""


def shopping(case: Case) -> tuple[ShoppingLine, ...]:
    """Return the shopping list: everything with a count, its price, and whether it is there."""
    return tuple(
        ShoppingLine(
            item=item.name,
            kind=item.kind,
            count=item.count + item.spares,
            price_each=None if item.price is None or foreign(case, item) else item.price.value,
            owned=item.owned,
            assumed="price" in item.from_stock and not foreign(case, item),
            link=item.link or "",
        )
        for item in case.plane.items
    )


def foreign(case: Case, item: AnyItem) -> bool:
    """Return whether the only price known is one of the stock, in another currency."""
    return "price" in item.from_stock and case.plane.currency != STOCK_CURRENCY


def to_buy(item: AnyItem) -> int:
    """Return how many pieces still have to be bought: spares are never in the drawer."""
    return item.spares + (0 if item.owned else item.count)


def measure(case: Case) -> Measured:
    """Return what is still to be paid and the whole value, against the budget."""
    draws = case.computed.draws
    buy, total = np.zeros(draws.samples), np.zeros(draws.samples)
    assumed, missing = [], []
    for item in case.plane.items:
        if item.price is None or foreign(case, item):
            if to_buy(item):
                missing.append(f"items.{item.name}.price")
            continue
        from_stock = "price" in item.from_stock
        price = draws.written(
            item.price,
            STOCK_PRICE * item.price.value if from_stock else 0.0,
            key=f"items.{item.name}.price",
            label=f"price of {item.name}",
        )
        if from_stock and to_buy(item):
            assumed.append(f"{item.name}: usual price {item.price.value:.0f}, from the stock")
        buy += price * to_buy(item)
        total += price * (item.count + item.spares)
    budget = case.plane.targets.budget
    limit = None if budget is None else budget.value
    money = (case.plane.currency, "money")
    label = "still to buy" + (f", {len(missing)} things without a price" if missing else "")
    if any(foreign(case, item) for item in case.plane.items):
        assumed.append(
            f"prices of the stock are in {STOCK_CURRENCY} and left out: nothing is converted"
        )
    if missing and not total.any():  # no price at all is no sum of nothing
        buy = total = np.full(draws.samples, np.nan)
    if limit is None:
        missing.append("targets.budget")
    return Measured(
        figures=(
            figure("cost_to_buy", label, buy, money, limits=(None, limit)),
            figure("cost_total", "all of it with spares", total, money),
        ),
        probability=None if missing else chance(buy <= (limit or 0.0)),
        holds=None if missing else buy <= (limit or 0.0),
        deciding=buy,
        assumed=tuple(assumed),
        missing=tuple(missing),
    )


def savings(case: Case) -> list[Change]:
    """Return what would save most: the dearest things not owned that a plane can fly without."""
    spare = ("gps", "camera", "video transmitter", "beeper")
    changes = [
        Change(do=f"Leave out {item.name} for now", keys={f"items.{item.name}": None})
        for item in case.plane.items
        if item.kind in spare and to_buy(item)
    ]
    changes += [
        Change(do=f"Buy no spare {item.name} yet", keys={f"items.{item.name}.spares": 0})
        for item in case.plane.items
        if item.spares
    ]
    return changes


def answer(case: Case) -> Answer:
    """Return the answer with the shopping list."""
    measured = measure(case)
    lines = shopping(case)
    wanted = [line for line in lines if not line.owned]
    priced = [line for line in wanted if line.price_each is not None]
    dearest = sorted(priced, key=lambda x: -(x.price_each or 0.0) * x.count)[:3]
    names = ", ".join(line.item for line in dearest)
    because = f"{len(wanted)} of {len(lines)} things are still to buy"
    return Answer(
        question=ID,
        asks=ASKS,
        verdict=verdict(measured.probability),
        probability=measured.probability,
        figures=tuple(figure for figure in measured.figures if figure.value is not None),
        because=f"{because}; dearest: {names}." if names else f"{because}.",
        missing=measured.missing,
        assumed=measured.assumed,
        carried_by=carried_by(case, measured),
        remedies=tried(case, savings(case), measure, ("cost_to_buy",)),
        shopping=lines,
    )
