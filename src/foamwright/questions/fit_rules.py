"""The rules of fit, as data with where they come from."""

import tomllib
from dataclasses import dataclass
from functools import lru_cache
from importlib.resources import files


@dataclass(frozen=True, kw_only=True, slots=True)
class Rule:
    """One rule."""

    id: str
    """What it is called."""
    must: bool
    """Whether the verdict hangs on it."""
    least: float
    """Least room [m], or least share [-]."""
    says: str
    """The rule as a sentence."""
    tag: str
    """Where it comes from."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Spacing:
    """Two kinds of parts that keep apart."""

    id: str
    """What it is called."""
    first: tuple[str, ...]
    """Kinds on one side."""
    second: tuple[str, ...]
    """Kinds on the other."""
    least: float
    """Least room [m]."""
    tag: str
    """Where it comes from."""


@dataclass(frozen=True, kw_only=True, slots=True)
class FitRules:
    """All of them."""

    skin: dict[str, Rule]
    """Least skin, by foam."""
    rules: dict[str, Rule]
    """By name."""
    spacings: tuple[Spacing, ...]


@lru_cache(maxsize=1)
def fit_rules() -> FitRules:
    """Return every rule of fit."""
    text = files("foamwright.questions").joinpath("fit_rules.toml").read_text(encoding="utf-8")
    told = tomllib.loads(text)
    skin = {
        foam: Rule(
            id="skin",
            must=True,
            least=entry["least"],
            says=f"{foam} keeps {entry['least'] * 1e3:g} mm of skin",
            tag=entry["tag"],
        )
        for entry in told["skin"]
        for foam in entry["foams"]
    }
    spacings = tuple(
        Spacing(
            id=entry["id"],
            first=tuple(entry["first"]),
            second=tuple(entry["second"]),
            least=entry["least"],
            tag=entry["tag"],
        )
        for entry in told["spacing"]
    )
    return FitRules(
        skin=skin, rules={entry["id"]: Rule(**entry) for entry in told["rule"]}, spacings=spacings
    )
