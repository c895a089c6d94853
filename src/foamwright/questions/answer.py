"""What an answer is: frozen, plain, ready for JSON, screen and paper."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

Verdict = Literal["yes", "likely", "unsure", "unlikely", "no", "open"]


@dataclass(frozen=True, kw_only=True, slots=True)
class Figure:
    """One number with its band."""

    name: str
    """The JSON name."""
    label: str
    """The words for it."""
    value: float | None
    """Median [SI]; none where it has no value (never reached, say)."""
    low: float | None
    """10 % point [SI]."""
    high: float | None
    """90 % point [SI]."""
    unit: str
    """The SI unit."""
    limit_low: float | None = None
    """Least wanted [SI]."""
    limit_high: float | None = None
    """Most wanted [SI]."""
    dimension: str = "number"
    """Which dimension of `quantity` it has, so that a shell can show it in the user's units."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Share:
    """How much of the spread of the deciding figure one input carries."""

    input: str
    """The input, in the builder's words."""
    share: float
    """0 to 1."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Effect:
    """What a remedy does to one figure, recomputed."""

    figure: str
    """The JSON name of the figure, or `probability`."""
    before: float | None
    """As it is [SI]; `from` in JSON."""
    after: float | None
    """With the remedy [SI]; `to` in JSON."""
    label: str = ""
    """The words for the figure."""
    dimension: str = "number"
    """As in `Figure`."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Remedy:
    """One thing to try, with its computed effect."""

    do: str
    """What to do, in the imperative."""
    effect: tuple[Effect, ...]
    """What it does."""
    keys: Mapping[str, object] = field(default_factory=dict)
    """Dotted keys of the plane file and their new values, so that a shell can try it."""


@dataclass(frozen=True, kw_only=True, slots=True)
class RuleCheck:
    """One rule held against the plane."""

    rule: str
    """What the rule is called."""
    says: str
    """What was found, against what is wanted."""
    must: bool
    """Whether the verdict hangs on it; the others are worth keeping."""
    holds: bool
    """Whether it holds for the plane as drawn."""
    value: float | None
    """What was found [SI]."""
    least: float
    """What is wanted at least [SI]."""
    source: str
    """Where the rule comes from."""


@dataclass(frozen=True, kw_only=True, slots=True)
class ShoppingLine:
    """One line of the shopping list."""

    item: str
    kind: str
    count: int
    price_each: float | None
    owned: bool
    assumed: bool
    """Whether the price is a typical one from the stock."""
    link: str


@dataclass(frozen=True, kw_only=True, slots=True)
class Answer:
    """The answer to one question."""

    question: str
    """The question's id."""
    asks: str
    """The question as a sentence."""
    verdict: Verdict
    """The chance in a word."""
    probability: float | None
    """The chance; none where the verdict is open."""
    figures: tuple[Figure, ...]
    """The key figure first."""
    because: str
    """One or two sentences."""
    missing: tuple[str, ...] = ()
    """What has to be told before the question can be answered."""
    assumed: tuple[str, ...] = ()
    """What was assumed."""
    carried_by: tuple[Share, ...] = ()
    """Which inputs carry the spread, most first."""
    remedies: tuple[Remedy, ...] = ()
    """Up to three."""
    cautions: tuple[str, ...] = ()
    """The usual cautions where the step can hurt."""
    provisional: bool = False
    """Whether an estimate stands in for a weighing or a measurement."""
    shopping: tuple[ShoppingLine, ...] = field(default=())
    """The shopping list, for `cost` only."""
    rules: tuple[RuleCheck, ...] = ()
    """Every rule looked at, broken ones first, where a question has such."""

    @property
    def broken(self) -> tuple[str, ...]:
        """Return what breaks the rules that the verdict hangs on."""
        return tuple(rule.says for rule in self.rules if rule.must and not rule.holds)

    @property
    def not_kept(self) -> tuple[str, ...]:
        """Return what goes against the rules that are worth keeping."""
        return tuple(rule.says for rule in self.rules if not rule.must and not rule.holds)
