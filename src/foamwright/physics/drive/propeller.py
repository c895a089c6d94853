"""A propeller as a table over advance ratio and speed, and as samples of it."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from foamwright.physics.arrays import Flags, Grid, Samples
from foamwright.physics.drive.blade import Blade
from foamwright.physics.drive.blade_element import Operation, blade_element
from foamwright.physics.numerics.tables import bracket
from foamwright.physics.validity import Range

TIP_SPEEDS = np.array([8.0, 16.0, 32.0, 64.0, 128.0, 255.0])
"""Tip speeds a table is made for [m/s]: from a crawl to a tip Mach number of 0.75."""
ADVANCE_STEPS = 41
"""Advance ratios in a table."""
TIP_MACH = Range(quantity="tip Mach number", unit="-", low=0.0, high=0.75)
"""Beyond this the tips lose thrust to shocks, which is not modelled."""
SMALL_DIAMETER = 5.6 * 0.0254
"""Propellers up to this size were measured at low speeds only [m]."""
SMALL_REYNOLDS = Range(quantity="Reynolds number at 75 % radius", unit="-", low=0.0, high=48e3)
"""What the data of small propellers reach."""
SMALL_TIP_MACH = Range(quantity="tip Mach number", unit="-", low=0.0, high=0.26)
"""What the data of small propellers reach."""
STANDARD_VISCOSITY = 1.5e-5
"""Kinematic viscosity of a laboratory near 20 degC [m^2/s]; that of the data."""


@dataclass(frozen=True, kw_only=True, slots=True)
class PropellerTable:
    """Thrust and power coefficient of one propeller, past zero thrust."""

    diameter: float
    """[m]"""
    advance_ratio: Grid
    """(j,) [-] J = V / (n D), uniform from 0."""
    revolutions: Grid
    """(r,) [s^-1] Rising; at the viscosity the table was made for."""
    thrust: Grid
    """(j, r) [-] CT = T / (rho n^2 D^4)."""
    power: Grid
    """(j, r) [-] CP = P / (rho n^3 D^5)."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Multipliers:
    """How one sample's propeller departs from the table: CT(J) = thrust * CT0(J / advance)."""

    advance: Samples
    """(n,) [-] On the scale of advance ratio, kJ."""
    thrust: Samples
    """(n,) [-] On thrust, kT."""
    power: Samples
    """(n,) [-] On power, kP."""


NO_CHANGE = Multipliers(advance=np.ones(1), thrust=np.ones(1), power=np.ones(1))
"""The table itself."""


@dataclass(frozen=True, kw_only=True, slots=True)
class CurveRows:
    """Measured rows of one propeller."""

    advance_ratio: Samples
    """(m,) [-]"""
    thrust: Samples
    """(m,) [-] CT."""
    power: Samples
    """(m,) [-] CP."""


def advance_axis(blade: Blade) -> Grid:
    """Return advance ratios from rest to past 1.3 times zero thrust.

    Zero thrust lies where the blade at 75 % radius meets the air at about its zero-lift angle;
    4 degrees are added to the blade angle for camber.

    Parameters
    ----------
    blade : Blade
        One propeller.

    Returns
    -------
    (j,) [-]

    Source
    ------
    own-derivation
    """
    twist = float(np.interp(0.75, blade.radius, blade.twist[0]))
    last = 1.45 * 0.75 * np.pi * np.tan(min(twist + 0.07, 1.2))
    return np.linspace(0.0, last, ADVANCE_STEPS)


def propeller_table(
    blade: Blade, kinematic_viscosity: float = STANDARD_VISCOSITY
) -> tuple[PropellerTable, Flags]:
    """Return the table of one blade, and where an inflow angle had no root.

    In other air, look it up at the revolutions of equal Reynolds number (n times the ratio of
    the table's viscosity to the air's).

    Parameters
    ----------
    blade : Blade
        One propeller.
    kinematic_viscosity : float [m^2 s^-1]
        Of the air the table is made for.

    Returns
    -------
    PropellerTable [-], (j, r) [-]

    Source
    ------
    ning-2014, uiuc-propellers
    """
    diameter = float(blade.diameter[0])
    advance_ratio = advance_axis(blade)
    revolutions = TIP_SPEEDS / (np.pi * diameter)
    J, n = np.meshgrid(advance_ratio, revolutions, indexing="ij")
    operation = Operation(
        advance_ratio=J.ravel(),
        revolutions=n.ravel(),
        kinematic_viscosity=np.full(J.size, kinematic_viscosity),
    )
    CT, CP, rootless = blade_element(blade, operation)
    table = PropellerTable(
        diameter=diameter,
        advance_ratio=advance_ratio,
        revolutions=revolutions,
        thrust=CT.reshape(J.shape),
        power=CP.reshape(J.shape),
    )
    return table, rootless.reshape(J.shape)


def measured_table(rows: CurveRows, diameter: float) -> PropellerTable:
    """Return the table of measured rows, one for all speeds.

    Rows of equal advance ratio are averaged. If they end before zero thrust or soon after, both
    curves go on along the line through their last third, to 1.3 times zero thrust.

    Parameters
    ----------
    rows : CurveRows
        At least six rows of advance ratio, CT, CP, from rest or nearly so.
    diameter : float [m]
        Diameter of the propeller.

    Returns
    -------
    PropellerTable [-]

    Source
    ------
    own-derivation
    """
    J, index = np.unique(rows.advance_ratio, return_inverse=True)
    times = np.bincount(index)
    CT = np.bincount(index, rows.thrust) / times
    CP = np.bincount(index, rows.power) / times
    last = J[0] + (J[-1] - J[0]) * 2 / 3 <= J
    slope, level = np.polyfit(J[last], CT[last], 1)
    falling = slope < 0
    end = max(float(J[-1]), 1.35 * float(-level / slope)) if falling else float(J[-1])
    power_slope = min(float(np.polyfit(J[last], CP[last], 1)[0]), 0.0)
    axis = np.linspace(0.0, end, ADVANCE_STEPS)
    beyond = np.maximum(axis - J[-1], 0.0)
    thrust = np.interp(axis, J, CT) + beyond * (slope if falling else 0.0)
    power = np.interp(axis, J, CP) + beyond * power_slope
    return PropellerTable(
        diameter=diameter,
        advance_ratio=axis,
        revolutions=TIP_SPEEDS[[0, -1]] / (np.pi * diameter),
        thrust=np.repeat(thrust[:, None], 2, axis=1),
        power=np.repeat(power[:, None], 2, axis=1),
    )


def coefficients(
    table: PropellerTable,
    advance_ratio: Samples,
    revolutions: Samples,
    multipliers: Multipliers | None = None,
) -> tuple[Samples, Samples, Flags]:
    """Return CT and CP of samples of one propeller, and who lies outside its table.

    Parameters
    ----------
    table : PropellerTable
        The propeller.
    advance_ratio : (n,) [-]
        J = V / (n D), not negative.
    revolutions : (n,) [s^-1]
        Speed, which sets the Reynolds number.
    multipliers : Multipliers
        Of each sample; none means the table itself.

    Returns
    -------
    (n,) [-], (n,) [-], (n,) [-]

    Source
    ------
    own-derivation
    """
    given = multipliers or NO_CHANGE
    cell = _cell(table, advance_ratio / given.advance, revolutions)
    thrust = given.thrust * _read(table.thrust, cell)
    return thrust, given.power * _read(table.power, cell), cell.outside


def thrust_coefficient(
    table: PropellerTable, advance_ratio: Samples, revolutions: Samples, multipliers: Multipliers
) -> Samples:
    """Return CT alone, for solvers that ask for nothing else.

    Parameters
    ----------
    table : PropellerTable
        The propeller.
    advance_ratio : (n,) [-]
        J = V / (n D), not negative.
    revolutions : (n,) [s^-1]
        Speed, which sets the Reynolds number.
    multipliers : Multipliers
        Of each sample.

    Returns
    -------
    (n,) [-]

    Source
    ------
    own-derivation
    """
    cell = _cell(table, advance_ratio / multipliers.advance, revolutions)
    return multipliers.thrust * _read(table.thrust, cell)


def power_coefficient(
    table: PropellerTable, advance_ratio: Samples, revolutions: Samples, multipliers: Multipliers
) -> Samples:
    """Return CP alone, for solvers that ask for nothing else.

    Parameters
    ----------
    table : PropellerTable
        The propeller.
    advance_ratio : (n,) [-]
        J = V / (n D), not negative.
    revolutions : (n,) [s^-1]
        Speed, which sets the Reynolds number.
    multipliers : Multipliers
        Of each sample.

    Returns
    -------
    (n,) [-]

    Source
    ------
    own-derivation
    """
    cell = _cell(table, advance_ratio / multipliers.advance, revolutions)
    return multipliers.power * _read(table.power, cell)


@dataclass(frozen=True, slots=True)
class _Cell:
    """Where points lie in a table: flat index of the lower corner, fractions, who is outside."""

    corner: NDArray[np.intp]
    along: Samples
    across: Samples
    outside: Flags


def _cell(table: PropellerTable, advance_ratio: Samples, revolutions: Samples) -> _Cell:
    """Return the cells of points; the axis of advance ratio is uniform, so no search is needed."""
    steps = table.advance_ratio.size - 1
    place = advance_ratio * (steps / table.advance_ratio[-1])
    held = np.clip(place, 0.0, steps - 1e-9)
    left = held.astype(np.intp)
    axis = np.log(table.revolutions)
    speed = np.log(np.maximum(revolutions, 1e-6))
    low, across, beyond = bracket(axis, speed)
    return _Cell(
        corner=left * axis.size + low,
        along=held - left,
        across=across,
        outside=beyond | (place < 0.0) | (place > steps),
    )


def _read(values: Grid, cell: _Cell) -> Samples:
    """Return (j, r) values between the corners of their cells."""
    flat, row = values.reshape(-1), values.shape[1]
    near = flat.take(cell.corner)
    near += cell.across * (flat.take(cell.corner + 1) - near)
    far = flat.take(cell.corner + row)
    far += cell.across * (flat.take(cell.corner + row + 1) - far)
    found: Samples = near + cell.along * (far - near)
    return found


def tip_mach(
    diameter: Samples, revolutions: Samples, airspeed: Samples, speed_of_sound: Samples
) -> tuple[Samples, Flags]:
    """Return the Mach number of the blade tips, and where shocks would spoil the answer.

    Parameters
    ----------
    diameter : (n,) [m]
        Diameter of the propeller.
    revolutions : (n,) [s^-1]
        Speed.
    airspeed : (n,) [m s^-1]
        Along the axis.
    speed_of_sound : (n,) [m s^-1]
        Of the air.

    Returns
    -------
    (n,) [-], (n,) [-]

    Valid
    -----
    Flagged above 0.75: compressibility is not in the blade-element model.

    Source
    ------
    own-derivation
    """
    mach = np.hypot(np.pi * revolutions * diameter, airspeed) / speed_of_sound
    return mach, TIP_MACH.beyond(mach)


def beyond_measured(diameter: float, reynolds: Samples, tip_mach_number: Samples) -> Flags:
    """Return which samples extrapolate the data: small propellers were measured slow.

    Parameters
    ----------
    diameter : float [m]
        Diameter of the propeller.
    reynolds : (n,) [-]
        Reynolds number of the chord at 75 % radius.
    tip_mach_number : (n,) [-]
        Mach number of the tips.

    Returns
    -------
    (n,) [-]

    Source
    ------
    uiuc-propellers
    """
    if diameter > SMALL_DIAMETER:
        return TIP_MACH.beyond(tip_mach_number)
    return SMALL_REYNOLDS.beyond(reynolds) | SMALL_TIP_MACH.beyond(tip_mach_number)
