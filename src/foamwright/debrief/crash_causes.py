"""What brings a small plane down, and how often each sign goes with it: declared, not measured."""

from collections.abc import Mapping
from dataclasses import dataclass

OTHER = "other"
"""Something else."""
SURE = 0.97
"""No cause is taken to be surer: the table below is no measurement."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Cause:
    """One way to lose a plane."""

    words: str
    """As a sentence says it."""
    share: float
    """Of such losses before any log is looked at [-]."""
    goes_with: Mapping[str, float]
    """How often a sign of `SIGNS` is seen with it [-]; one not named is as usual."""
    checks: tuple[str, ...]
    """Where to look first."""


USUAL: Mapping[str, float] = {
    "voltage": 0.03,
    "motor": 0.04,
    "slow": 0.10,
    "fast": 0.06,
    "dive": 0.25,
    "load": 0.08,
    "roll": 0.12,
    "link": 0.05,
    "cut": 0.12,
    "wobble": 0.03,
    "downwind": 0.05,
    "stops": 0.25,
    "steady": 0.20,
}
"""How often each sign is seen at the end of a flight that went wrong in any way [-]; common
practice, no source."""

CAUSES: Mapping[str, Cause] = {
    "power": Cause(
        words="the power for receiver and servos broke down",
        share=0.10,
        goes_with={"voltage": 0.85, "stops": 0.8, "motor": 0.3, "link": 0.2, "dive": 0.4},
        checks=(
            "the pack, its plug and the solder joints under full load",
            "the supply of receiver and servos: all servos moved at once, its voltage watched",
        ),
    ),
    "motor": Cause(
        words="the motor stopped",
        share=0.10,
        goes_with={"motor": 0.9, "steady": 0.55, "slow": 0.3, "voltage": 0.04, "link": 0.03},
        checks=(
            "motor leads and plugs, then the motor by hand: bearing, magnets, a loose propeller",
            "the speed controller: its cut-off voltage, and whether it got too hot",
        ),
    ),
    "stall": Cause(
        words="it stalled or spun",
        share=0.15,
        goes_with={"slow": 0.85, "roll": 0.7, "dive": 0.55, "load": 0.1, "steady": 0.04},
        checks=(
            "where it balances: tail heavy stalls without a warning",
            "the slowest speed and the throws: `foamwright ask` landing and control",
        ),
    ),
    "overload": Cause(
        words="it was flown too fast or pulled too hard, and something gave way",
        share=0.07,
        goes_with={
            "fast": 0.88,
            "load": 0.6,
            "dive": 0.75,
            "roll": 0.4,
            "steady": 0.02,
            "slow": 0.02,
        },
        checks=(
            "spar, wing joint and tail for a break that is no dent of the blow",
            "hinges, horns and pushrods of the elevator for what came loose before the blow",
        ),
    ),
    "link": Cause(
        words="the radio link was lost",
        share=0.10,
        goes_with={"link": 0.9, "cut": 0.6, "stops": 0.35, "dive": 0.35, "motor": 0.02},
        checks=(
            "both antennas: broken, shaded by battery or carbon, along each other",
            "a range check with the video on and off, and what happens when the link is lost",
        ),
    ),
    "wobble": Cause(
        words="it shook itself out of control",
        share=0.06,
        goes_with={"wobble": 0.95, "roll": 0.45, "load": 0.25, "fast": 0.2, "dive": 0.35},
        checks=(
            "play in horns, hinges and servo gears",
            "the gains of the stabiliser at speed: `foamwright ask` control",
        ),
    ),
    "flown": Cause(
        words="it was flown into the ground: sight or direction lost, or too low",
        share=0.16,
        goes_with={
            "steady": 0.75,
            "dive": 0.12,
            "slow": 0.04,
            "roll": 0.04,
            "fast": 0.04,
            "stops": 0.05,
            "cut": 0.08,
            "downwind": 0.03,
            "link": 0.02,
            "voltage": 0.01,
            "motor": 0.02,
        },
        checks=(
            "the video of the last seconds: picture, sun, horizon",
            "which way each surface moves on the stick, at the bench",
        ),
    ),
    "wind": Cause(
        words="wind near the ground took its airspeed",
        share=0.06,
        goes_with={"downwind": 0.85, "slow": 0.4, "roll": 0.2, "steady": 0.5, "stops": 0.08},
        checks=(
            "the wind of that hour, and what stands upwind: trees, a house, a hedge",
            "the speed to fly low: at least a third over the slowest, more in gusts",
        ),
    ),
    "landing": Cause(
        words="it was a landing, only a hard one",
        share=0.10,
        goes_with={
            "steady": 0.8,
            "cut": 0.6,
            "slow": 0.3,
            "dive": 0.03,
            "fast": 0.01,
            "load": 0.02,
            "roll": 0.04,
            "stops": 0.01,
            "link": 0.01,
            "voltage": 0.01,
            "motor": 0.02,
            "wobble": 0.01,
        },
        checks=(
            "nose, propeller and motor mount for play and cracks",
            "the approach: `foamwright ask` landing tells its speed and its way",
        ),
    ),
    OTHER: Cause(
        words="something else, or the log merely stopped",
        share=0.10,
        goes_with={},
        checks=(),
    ),
}
"""Causes with their shares and signs; common practice, no source. Club reviews put the pilot first,
then how the plane was set up, then its power."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Ranked:
    """A cause as the signs make it."""

    name: str
    probability: float
    for_it: tuple[str, ...]
    """Signs seen that go with it more than with the usual, the strongest first."""
    against_it: tuple[str, ...]
    """Signs that speak against it: missed ones it would show, seen ones it would not."""


def likelihood(cause: Cause, name: str, *, seen: bool) -> float:
    """Return how often a sign is found as it was with a cause [-]."""
    share = cause.goes_with.get(name, USUAL[name])
    return share if seen else 1.0 - share


def usual(name: str, *, seen: bool) -> float:
    """Return how often a sign is found as it was when anything went wrong [-]."""
    return USUAL[name] if seen else 1.0 - USUAL[name]


def ranked(signs: Mapping[str, bool | None]) -> tuple[Ranked, ...]:
    """Return all causes, the likeliest first; their probabilities sum to one.

    Each sign that can be told multiplies a cause by its likelihood ratio over the usual; signs are
    taken as independent of each other, given the cause.

    Source: own-derivation
    """
    told = {name: seen for name, seen in signs.items() if seen is not None}
    weight = {}
    for key, cause in CAUSES.items():
        ratio = cause.share
        for name, seen in told.items():
            ratio *= likelihood(cause, name, seen=seen) / usual(name, seen=seen)
        weight[key] = ratio
    total = sum(weight.values())
    shares = capped({key: value / total for key, value in weight.items()})
    found = [evidence(key, shares[key], told) for key in CAUSES]
    return tuple(sorted(found, key=lambda one: -one.probability))


def capped(shares: Mapping[str, float]) -> dict[str, float]:
    """Return shares of which none is surer than the table can be; the rest goes to the others."""
    top = max(shares, key=lambda key: shares[key])
    if top == OTHER or shares[top] <= SURE:
        return dict(shares)
    spare = shares[top] - SURE
    return {**shares, top: SURE, OTHER: shares[OTHER] + spare}


def evidence(key: str, probability: float, told: Mapping[str, bool]) -> Ranked:
    """Return a cause with the signs for and against it."""
    cause = CAUSES[key]
    ratios = {
        name: likelihood(cause, name, seen=seen) / usual(name, seen=seen)
        for name, seen in told.items()
        if name in cause.goes_with
    }
    order = sorted(ratios, key=lambda name: ratios[name])
    return Ranked(
        name=key,
        probability=probability,
        for_it=tuple(name for name in reversed(order) if ratios[name] > 1.25),
        against_it=tuple(name for name in order if ratios[name] < 0.8),
    )
