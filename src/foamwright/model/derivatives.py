"""Stability and control derivatives of the plane about its centre of gravity, n samples.

Pitch is taken from the same lines as trim and margin, so that a plane that is balanced there is
balanced here. The rest is the lattice with the same errors, moved to the centre of gravity.
"""

from dataclasses import dataclass

import numpy as np

from foamwright.model.ensemble import Draws
from foamwright.model.lift import (
    BODY_MOMENT_LN,
    FLAP_POWER,
    SECTION_SLOPE,
    TAIL_EFFICIENCY,
    Lift,
)
from foamwright.model.planform import wing_index
from foamwright.model.surfaces import ROLL, YAW, Drawn
from foamwright.physics.arrays import Samples
from foamwright.physics.flight.derivatives import Derivatives
from foamwright.physics.lift import lattice
from foamwright.physics.lift.body import apparent_mass_factor, body_fineness, body_moment_slope
from foamwright.physics.lift.lateral import (
    adverse_yaw,
    load_spread,
    roll_from_sweep,
    roll_from_wing_height,
    strip_coefficients,
    yaw_from_roll,
)
from foamwright.physics.lift.lattice import Reference
from foamwright.physics.lift.stability import about_another_point
from foamwright.plane.airframe import Airframe

SPREADS = {
    "weathercock": (0.15, "how well it points into the wind"),
    "dihedral": (0.15, "roll from sideslip"),
    "roll_damping": (0.08, "damping of roll"),
    "pitch_damping": (0.12, "damping of pitch"),
    "yaw_damping": (0.15, "damping of yaw"),
    "lift_coupling": (0.25, "roll and yaw that grow with lift"),
}
"""ln spread and label of what the lattice and the strip formulas miss, beyond the spreads of lift;
common practice (estimates of such derivatives against tunnel and flight), no source."""

IN_WAKE = ("tail", "vee tail", "fin")
"""Roles that fly in the wake of wing and body."""

ALPHA, Q = 1, 4
"""States of the lattice that every plane has."""


@dataclass(frozen=True, kw_only=True, slots=True)
class _Wing:
    """What the formulas need of the drawn wing; strips (1, k) of all surfaces."""

    load: Samples
    """Upward load per angle of attack, on any scale."""
    place: Samples
    """Distance from the middle line [m]."""
    tangent: Samples
    """Tangent of the sweep of the wing's quarter-chord line; elsewhere 0."""
    area: Samples
    """Area of the main wing's strips, elsewhere 0 [m^2]."""
    size: tuple[Samples, Samples]
    """Span and aspect ratio, (1,) each."""
    quarter: tuple[float, float]
    """x of the wing's aerodynamic centre and z of the root's quarter chord [m]."""


def _wing(airframe: Airframe, lift: Lift) -> _Wing:
    found = lift.lattice
    main = found.strip_surface == wing_index(airframe)
    upright = found.strip_normal[0, :, 1]
    load = found.strip_lift[0, :, ALPHA] * found.strip_area[0] * upright
    right = main & (found.strip_y[0] > 0.0)
    along, x = found.strip_y[0, right], found.strip_x[0, right]
    slope = np.interp(np.abs(found.strip_y[0]), along, np.gradient(x, along))
    own = np.where(main, load, 0.0)
    span = float(found.reference.span[0])
    return _Wing(
        load=load[None],
        place=found.strip_y[:1],
        tangent=np.where(main, slope, 0.0)[None],
        area=np.where(main, found.strip_area[0], 0.0)[None],
        size=(np.array([span]), np.array([lift.aspect_ratio])),
        quarter=(float(own @ found.strip_x[0] / own.sum()), float(found.strip_z[0, right][0])),
    )


def coefficients_at(
    airframe: Airframe, drawn: Drawn, lift: Lift, draws: Draws, *, centre: Samples
) -> Samples:
    """Return the lattice's coefficients with each sample's errors, about its centre of gravity.

    (n, states, 5); columns as in the lattice.
    """
    result = lift.lattice
    behind = [i for i, s in enumerate(airframe.surfaces) if s.role in IN_WAKE]
    lost = draws.around(
        1.0 - TAIL_EFFICIENCY[0],
        TAIL_EFFICIENCY[1],
        key="model.tail_flow",
        label="flow at the tail",
    )
    slope = SECTION_SLOPE[0] * draws.factor(
        SECTION_SLOPE[1], key="model.lift_slope", label="lift slope at low Reynolds number"
    )
    loss = strip_coefficients(result, np.isin(result.strip_surface, behind))
    raw = drawn.at_samples(result.coefficients, draws)
    raw = (raw - lost[:, None, None] * drawn.at_samples(loss, draws)) * slope[:, None, None]
    power = draws.around(
        FLAP_POWER[0], FLAP_POWER[1], key="model.flap_power", label="power of the controls"
    )
    raw[:, len(lattice.STATES) :] *= power[:, None, None]
    return about_another_point(raw, _repeated(result.reference, draws.samples), centre)


def _repeated(reference: Reference, samples: int) -> Reference:
    return Reference(
        area=np.full(samples, reference.area[0]),
        chord=np.full(samples, reference.chord[0]),
        span=np.full(samples, reference.span[0]),
        point=np.repeat(reference.point[:1], samples, axis=0),
    )


def body_sideways(airframe: Airframe, wing: _Wing) -> tuple[float, float]:
    """Return what the bodies turn in yaw over dynamic pressure and sideslip, and roll as Clb.

    [m^3, rad^-1]; the roll is that of the body the wing sits on: the stoutest.
    """
    turn, stoutest, roll = 0.0, 0.0, 0.0
    for body in airframe.bodies:
        x = np.array([[s.x.value for s in body.stations]])
        width = np.array([[s.width.value for s in body.stations]])
        height = np.array([[s.height.value for s in body.stations]])
        fineness = np.maximum(body_fineness(x, width, height), 1.01)
        turn -= float(body_moment_slope(x, height, apparent_mass_factor(fineness))[0])
        section = width * height  # of the ellipse, times 4 / pi: the square of its diameter
        diameter = np.sqrt(np.trapezoid(section[0], x[0]) / np.ptp(x[0]))
        if diameter > stoutest:
            stoutest = float(diameter)
            middle = np.array([0.0 if s.z is None else s.z.value for s in body.stations])
            over = wing.quarter[1] - float(np.interp(wing.quarter[0], x[0], middle))
            at = float(np.interp(wing.quarter[0], x[0], height[0]))
            over = float(np.clip(over, -0.5 * at, 0.5 * at))  # no further out than its skin
            span, ratio = wing.size
            roll = float(roll_from_wing_height(ratio, np.array([over]), diameter, span)[0])
    return turn, roll


def growing_with_lift(wing: _Wing, centre: Samples, chord: float, clda: Samples) -> list[Samples]:
    """Return Clb, Clr, Cnp and Cnda per lift coefficient, (n,) each."""
    span, ratio = wing.size
    inboard = np.sum(wing.load * wing.tangent, axis=-1) / np.sum(wing.load, axis=-1)
    behind = (wing.quarter[0] - centre[:, 0]) / chord
    one = np.ones(len(centre))
    return [
        one * roll_from_sweep(wing.load, wing.place, wing.tangent, span=span, aspect_ratio=ratio),
        one * load_spread(wing.load, wing.place, span),
        yaw_from_roll(ratio, np.arctan(inboard), behind),
        adverse_yaw(ratio) * clda,
    ]


@dataclass(frozen=True, kw_only=True, slots=True)
class _Columns:
    """The coefficients of n samples by state and coefficient."""

    at: Samples
    """(n, states, 5)."""
    names: tuple[str, ...]
    """The states."""

    def __call__(self, state: str, coefficient: int) -> Samples:
        """Return one column (n,); zeros where no such control is drawn."""
        if state not in self.names:
            return np.zeros(len(self.at))
        return self.at[:, self.names.index(state), coefficient].copy()


def sideways(at: _Columns) -> dict[str, Samples]:
    """Return the lattice's CY, Cl and Cn by name."""
    states = {"b": "beta", "p": "p", "r": "r", "da": ROLL, "dr": YAW}
    columns = {"CY": lattice.SIDE, "Cl": lattice.ROLL, "Cn": lattice.YAW}
    return {
        f"{name}{short}": at(state, column)
        for name, column in columns.items()
        for short, state in states.items()
    }


def derivatives_of(
    airframe: Airframe, drawn: Drawn, lift: Lift, draws: Draws, *, centre: Samples, drag: Samples
) -> Derivatives:
    """Return all derivatives about the centre of gravity (n, 3) [m].

    `drag` (n,) is the wing's and body's drag coefficient without what lift costs: it damps yaw.
    """
    span, chord = float(lift.lattice.reference.span[0]), float(lift.lattice.reference.chord[0])
    found = coefficients_at(airframe, drawn, lift, draws, centre=centre)
    at = _Columns(at=found, names=lift.lattice.state_names)
    wing = _wing(airframe, lift)
    factor = {
        key: draws.factor(spread, key=f"model.{key}", label=label)
        for key, (spread, label) in SPREADS.items()
    }
    lines = lift.pitch.lift
    arm = (centre[:, 0] - lift.pitch.about) / lift.pitch.chord
    moment = lift.pitch.moment + arm[:, None] * lines
    turn, sits = body_sideways(airframe, wing)
    body = turn * draws.factor(BODY_MOMENT_LN, key="model.body_moment", label="moment of the body")
    side = sideways(at)
    growing = growing_with_lift(wing, centre, chord, side["Clda"])
    side["Clb"] = (side["Clb"] + sits) * factor["dihedral"]
    side["Clp"] *= factor["roll_damping"]
    side["Cnb"] = side["Cnb"] * factor["weathercock"] + body / (lift.area * span)
    side["Cnr"] -= drag * load_spread(wing.area, wing.place, wing.size[0])
    side["Cnr"] *= factor["yaw_damping"]
    names = ("Clb_CL", "Clr_CL", "Cnp_CL", "Cnda_CL")
    for name, part in zip(names, growing, strict=True):
        side[name] = part * factor["lift_coupling"]
    return Derivatives(
        area=np.full(draws.samples, lift.area),
        span=np.full(draws.samples, span),
        chord=np.full(draws.samples, chord),
        CL0=lines[:, 0].copy(),
        CLa=lines[:, 1].copy(),
        CLq=at("q", lattice.LIFT),
        CLde=lines[:, 2].copy(),
        Cm0=moment[:, 0],
        Cma=moment[:, 1],
        Cmq=at("q", lattice.PITCH) * factor["pitch_damping"],
        Cmde=moment[:, 2],
        **side,
    )


def downwash_lag(
    airframe: Airframe, drawn: Drawn, lift: Lift, draws: Draws, *, centre: Samples
) -> Samples:
    """Return Cm per (rate of angle of attack) c/2V: the tail meets the downwash of a while ago.

    (n,); what the tail has in pitch rate and loses in angle of attack is the downwash's. Nothing
    without a tail.
    """
    behind = [i for i, s in enumerate(airframe.surfaces) if s.role in ("tail", "vee tail")]
    if not behind:
        return np.zeros(draws.samples)
    result = lift.lattice
    chosen = np.isin(result.strip_surface, behind)
    tail = drawn.at_samples(strip_coefficients(result, chosen), draws) * SECTION_SLOPE[0]
    tail = about_another_point(tail, _repeated(result.reference, draws.samples), centre)
    load = result.strip_area[0, chosen] * result.strip_normal[0, chosen, 1]
    place = float(load @ result.strip_x[0, chosen] / load.sum())
    reach = 2.0 * (place - centre[:, 0]) / result.reference.chord[0]
    whole = tail[:, Q, lattice.PITCH]
    return np.asarray(
        TAIL_EFFICIENCY[0] * np.minimum(whole - reach * tail[:, ALPHA, lattice.PITCH], 0.0)
    )
