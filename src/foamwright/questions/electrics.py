"""Will speed controller, motor and pack cope with the current?"""

from dataclasses import dataclass

import numpy as np

from foamwright.physics.arrays import Samples
from foamwright.plane.gear import Motor, Pack, SpeedController
from foamwright.quantity import show
from foamwright.questions import exchange
from foamwright.questions.answer import Answer, Figure
from foamwright.questions.case import Case, Measured, carried_by
from foamwright.questions.chance import (
    CURRENT,
    NUMBER,
    TEMPERATURE,
    VOLTAGE,
    chance,
    figure,
    verdict,
)
from foamwright.questions.remedies import Change, tried

ID = "electrics"
ASKS = "Will speed controller, motor and pack cope with the current?"

COOLING: dict[str, tuple[float, float]] = {
    "open air": (1.0, 0.05),
    "some air": (0.8, 0.1),
    "buried": (0.6, 0.07),
}
"""What is left of a printed rating by the air it gets, with spread; common practice, no source."""

HOT_PACK = 333.15
"""A pack should stay below this [K]: 60 degC; common practice, no source."""

PACK_HEAT = (1000.0, 100.0)
"""Heat capacity of a lithium-polymer pack, and spread [J kg^-1 K^-1]; common practice."""

LEAST_CELL = 3.0
"""Lowest cell voltage under load where no cut-off is written [V]; common practice, no source."""

CAUTION = (
    "Full-throttle tests: plane held down, propeller clear of hands and faces, ten seconds at "
    "most, pack on something that does not burn."
)


@dataclass(frozen=True, kw_only=True, slots=True)
class Limits:
    """What the parts bear; all (n,)."""

    controller: Samples
    """Current the speed controller bears with the air it gets [A]."""
    motor: Samples
    """Current the motor bears for ten seconds [A]."""
    pack_temperature: Samples
    """Of the pack after all of the charge flown at full throttle, no cooling [K]."""
    voltage: float
    """Lowest pack voltage allowed [V]."""


def limits(case: Case) -> tuple[Limits, tuple[str, ...], tuple[str, ...]]:
    """Return what the parts bear, what was assumed and what is missing."""
    draws = case.computed.draws
    esc = exchange.first_of(case, "esc")
    pack = exchange.first_of(case, "pack")
    motor = exchange.first_of(case, "motor")
    assumed: list[str] = []
    lacking: list[str] = []
    bears = np.full(draws.samples, np.inf)
    if isinstance(esc, SpeedController) and esc.current_limit is not None:
        share, spread = COOLING[esc.cooling]
        printed = draws.written(esc.current_limit, 0.0, key="esc.current_limit", label="ESC rating")
        bears = printed * draws.around(share, spread, key="esc.cooling", label="ESC cooling")
        assumed.append(f"{esc.name}, {esc.cooling}: {share:.0%} of its printed current")
    else:
        lacking.append("the speed controller's current_limit")
    burst = np.full(draws.samples, np.inf)
    if isinstance(motor, Motor):
        burst = case.computed.motor_burst
    cutoff = 0.0
    if isinstance(pack, Pack) and pack.cells:
        cutoff = LEAST_CELL * pack.cells
        assumed.append("pack judged by its sag and heat, not by the C on its label")
    if isinstance(esc, SpeedController) and esc.cutoff_voltage is not None:
        cutoff = esc.cutoff_voltage.value
    found = Limits(
        controller=bears, motor=burst, pack_temperature=pack_temperature(case), voltage=cutoff
    )
    return found, tuple(assumed), tuple(lacking)


def pack_temperature(case: Case) -> Samples:
    """Return the pack's temperature after a flight all at full throttle (n,) [K].

    The heat of a charge Q drawn at a current I through R is I R Q, however long it takes; none of
    it is taken to leave the pack.
    """
    flight, model = case.computed.full_throttle, case.computed.complete_drive
    pack = model.drive.pack
    resistance = pack.cells * pack.cell_resistance
    current = np.where(np.isfinite(flight.top_current), flight.top_current, flight.current_max)
    heat = current * resistance * model.usable * pack.capacity
    capacity = case.computed.draws.around(
        PACK_HEAT[0], PACK_HEAT[1], key="model.pack_heat", label="heat capacity of the pack"
    )
    return case.computed.air.temperature + heat / (capacity * case.computed.pack_mass)


def figures_of(case: Case, bears: Limits, headroom: Samples) -> tuple[Figure, ...]:
    """Return the figures: what is drawn, and what each part bears."""
    flight = case.computed.full_throttle
    esc = float(np.median(bears.controller))
    return (
        figure(
            "current_max",
            "largest current, full throttle",
            flight.current_max,
            CURRENT,
            limits=(None, esc if np.isfinite(esc) else None),
        ),
        figure(
            "current_headroom",
            "headroom of the weakest part",
            headroom,
            NUMBER,
            limits=(1.0, None),
        ),
        figure(
            "pack_voltage_min",
            "pack voltage then, pack low",
            flight.pack_voltage_min,
            VOLTAGE,
            limits=(bears.voltage, None),
        ),
        figure(
            "bench_voltage",
            "pack voltage then, straight from the charger",
            flight.static_voltage,
            VOLTAGE,
        ),
        figure("esc_current_borne", "current the ESC bears", bears.controller, CURRENT),
        figure("motor_current_borne", "current the motor bears", bears.motor, CURRENT),
        figure(
            "pack_temperature",
            "pack after a flight at full throttle",
            bears.pack_temperature,
            TEMPERATURE,
            limits=(None, HOT_PACK),
        ),
    )


def measure(case: Case) -> Measured:
    """Return full-throttle current against what ESC, motor and pack bear, and the sag."""
    if case.computed.drive_missing:
        return Measured(
            figures=(),
            probability=None,
            deciding=np.full(case.computed.samples, np.nan),
            missing=case.computed.drive_missing,
        )
    bears, assumed, lacking = limits(case)
    flight = case.computed.full_throttle
    headroom = np.minimum(
        bears.controller / flight.current_max, bears.motor / flight.motor_current_max
    )
    good = (
        (headroom >= 1.0)
        & (flight.pack_voltage_min >= bears.voltage)
        & (bears.pack_temperature <= HOT_PACK)
    )
    return Measured(
        figures=figures_of(case, bears, headroom),
        probability=None if lacking else chance(good),
        holds=None if lacking else good,
        deciding=headroom,
        decides="current_headroom",
        assumed=(*assumed, *case.computed.drive_assumed),
        missing=lacking,
    )


def weakest(case: Case) -> str:
    """Return which part gives way first, how often, in words."""
    bears, _, _ = limits(case)
    flight = case.computed.full_throttle
    parts = {
        "the speed controller": float(np.mean(bears.controller < flight.current_max)),
        "the motor": float(np.mean(bears.motor < flight.motor_current_max)),
        "the pack's heat": float(np.mean(bears.pack_temperature > HOT_PACK)),
        "the pack's voltage": float(np.mean(flight.pack_voltage_min < bears.voltage)),
    }
    name, share = max(parts.items(), key=lambda pair: pair[1])
    peak = show(float(np.median(flight.current_max)), "current")
    if share < 0.02:
        return f"At {peak} none of controller, motor and pack is asked for more than it bears."
    return f"At {peak} {name} is over its limit in {share:.0%} of such planes."


def changes(case: Case) -> list[Change]:
    """Return what might bring the current down or the limit up."""
    found = exchange.other_propellers(case, ((0.0, -1.0), (-0.5, 0.0), (-1.0, 0.0), (-1.0, -1.0)))
    found += exchange.other_packs(case)
    esc = exchange.first_of(case, "esc")
    if isinstance(esc, SpeedController):
        if esc.cooling != "open air":
            found.append(
                Change(
                    do="Give the speed controller an air inlet and a larger exit",
                    keys={f"items.{esc.name}.cooling": "open air"},
                )
            )
        if esc.current_limit is not None:
            amps = next((a for a in (12, 20, 30, 40) if a > 1.2 * esc.current_limit.value), None)
            numbers = ("mass", "size", "current_limit", "resistance", "price", "link")
            if amps is not None:
                found.append(
                    Change(
                        do=f"Fit a {amps} A speed controller",
                        keys=exchange.exchanged(esc, f"esc {amps} A", numbers),
                    )
                )
    return found


def answer(case: Case) -> Answer:
    """Return the answer."""
    measured = measure(case)
    return Answer(
        question=ID,
        asks=ASKS,
        verdict=verdict(measured.probability),
        probability=measured.probability,
        figures=measured.figures,
        because=weakest(case) if measured.figures else "The drive is not complete.",
        missing=measured.missing,
        assumed=measured.assumed,
        carried_by=carried_by(case, measured),
        remedies=tried(case, changes(case), measure, ("current_max", "pack_voltage_min")),
        cautions=(CAUTION,),
        provisional=case.computed.drive_provisional,
    )
