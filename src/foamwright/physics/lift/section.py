"""Section coefficients at low Reynolds number: the atlas reduced to the strips of one plane.

Lift with a deflected flap is deliberately not in here: the network behind the atlas loses flap
power at low Reynolds number (0.19-0.26 of a 25 % flap at Re 100 k against 0.61 of theory), so
flap lift comes from the lattice with its own stated loss, and the atlas gives only the drag a
deflected flap costs at the same lift.
"""

import numpy as np

from foamwright.physics.arrays import Flags, Grid, Samples
from foamwright.physics.lift.atlas import SectionAtlas, StripShapes, atlas_from_arrays
from foamwright.physics.lift.table import SectionTable, chosen_strips, joined, section_table

__all__ = [
    "SectionAtlas",
    "SectionTable",
    "StripShapes",
    "atlas_from_arrays",
    "chosen_strips",
    "coefficients",
    "drag_at_lift",
    "flap_drag",
    "joined",
    "maximum_lift",
    "section_table",
    "zero_lift_angle",
]


def _uniform(axis: Grid, values: Samples) -> tuple[np.ndarray, Samples, Flags]:
    """Return the left node and fraction on a uniform axis by arithmetic, held at the ends."""
    place = (values - axis[0]) * ((axis.size - 1) / (axis[-1] - axis[0]))
    outside = ~((place >= -1e-9) & (place <= axis.size - 1 + 1e-9))
    # Unlike clip, fmax and fmin turn a missing number into a valid index; its fraction stays NaN.
    left = np.fmin(np.fmax(place, 0.0), axis.size - 1.000001).astype(np.intp)
    return left, np.clip(place - left, 0.0, 1.0), outside


def _bilinear(
    table: Grid, row: tuple[np.ndarray, Samples, Flags], column: tuple[np.ndarray, Samples, Flags]
) -> Samples:
    """Return (..., m) values of a (m, r, c) table at bracketed rows and columns."""
    strips, rows, columns = table.shape
    flat = table.reshape(-1)
    corner = row[0] * columns
    corner += column[0]
    corner += np.arange(strips) * (rows * columns)
    across = column[1]
    first = flat.take(corner)
    first += across * (flat.take(corner + 1) - first)
    corner += columns
    second: Samples = flat.take(corner)
    second += across * (flat.take(corner + 1) - second)
    second -= first
    second *= row[1]
    second += first
    return second


def coefficients(
    table: SectionTable, reynolds: Samples, alpha: Samples
) -> tuple[Samples, Samples, Samples, Flags]:
    """Return lift, drag and moment of every strip at an angle of attack.

    The angle is the atlas's: the correction of `zero_lift_angle` is not in these curves, which
    are for the shape past working angles; plane lift comes from the lattice.

    Parameters
    ----------
    table : SectionTable
        Corrected coefficients of m strips.
    reynolds : (..., m) [-]
        Chord Reynolds number.
    alpha : (..., m) [rad]
        Angle of attack of the section.

    Returns
    -------
    (..., m) [-]
        Lift coefficient.
    (..., m) [-]
        Drag coefficient.
    (..., m) [-]
        Moment coefficient about the quarter chord.
    (..., m) [-]
        True outside the table.

    Source
    ------
    own-derivation
    """
    row = _uniform(table.log_reynolds, np.log(reynolds))
    column = _uniform(table.alpha, alpha)
    row, column = _same_shape(row, column)
    lift = _bilinear(table.lift, row, column)
    drag = np.exp(_bilinear(table.log_drag, row, column))
    moment = _bilinear(table.moment, row, column)
    return lift, drag, moment, row[2] | column[2] | table.outside


def _same_shape(
    row: tuple[np.ndarray, Samples, Flags], column: tuple[np.ndarray, Samples, Flags]
) -> tuple[tuple[np.ndarray, Samples, Flags], tuple[np.ndarray, Samples, Flags]]:
    shape = np.broadcast_shapes(row[0].shape, column[0].shape)
    if row[0].shape == shape and column[0].shape == shape:
        return row, column
    left, fraction, outside = (np.broadcast_to(part, shape) for part in row)
    first, across, beyond = (np.broadcast_to(part, shape) for part in column)
    return (left.copy(), fraction, outside), (first, across, beyond)


def drag_at_lift(
    table: SectionTable, log_reynolds: Samples, lift: Samples
) -> tuple[Samples, Flags]:
    """Return profile drag of every strip at a given lift, unstalled branch.

    Parameters
    ----------
    table : SectionTable
        Corrected coefficients of m strips.
    log_reynolds : (..., m) [-]
        Natural logarithm of the chord Reynolds number.
    lift : (..., m) [-]
        Lift coefficient of the section.

    Returns
    -------
    (..., m) [-]
        Drag coefficient; beyond maximum lift it rises steeply.
    (..., m) [-]
        True outside the table.

    Source
    ------
    own-derivation
    """
    row = _uniform(table.log_reynolds, log_reynolds)
    column = _uniform(table.lift_axis, lift)
    row, column = _same_shape(row, column)
    drag = _bilinear(table.log_drag_at_lift, row, column)
    np.exp(drag, out=drag)
    return drag, row[2] | column[2] | table.outside


def flap_drag(
    table: SectionTable, log_reynolds: Samples, lift: Samples, deflection: Samples
) -> Samples:
    """Return the factor on profile drag of a deflected flap at the same lift.

    Parameters
    ----------
    table : SectionTable
        Corrected coefficients of m strips.
    log_reynolds : (..., m) [-]
        Natural logarithm of the chord Reynolds number.
    lift : (..., m) [-]
        Lift coefficient of the section, flap included.
    deflection : (..., m) [rad]
        Trailing edge down positive.

    Returns
    -------
    (..., m) [-]

    Valid
    -----
    Deflection to 20 deg; held beyond. Not held against a measurement.

    Source
    ------
    sharpe-2024
    """
    bend, number, force = np.broadcast_arrays(deflection, log_reynolds, lift)
    left, fraction, _ = _uniform(table.flap_deflection, bend)
    row = _uniform(table.flap_log_reynolds, number)
    column = _uniform(table.flap_lift, force)
    strips, bends, rows, columns = table.flap_log_drag.shape
    flat = table.flap_log_drag.reshape(strips, bends * rows, columns)
    lower = _bilinear(flat, (left * rows + row[0], row[1], row[2]), column)
    upper = _bilinear(flat, ((left + 1) * rows + row[0], row[1], row[2]), column)
    factor: Samples = np.exp(lower + fraction * (upper - lower))
    return factor


def _over_reynolds(table: SectionTable, values: Grid, reynolds: Samples) -> Samples:
    left, fraction, _ = _uniform(table.log_reynolds, np.log(reynolds))
    strips = np.arange(values.shape[0])
    low = values[strips, left]
    between: Samples = low + fraction * (values[strips, left + 1] - low)
    return between


def maximum_lift(table: SectionTable, reynolds: Samples) -> Samples:
    """Return the greatest lift coefficient of every strip.

    Parameters
    ----------
    table : SectionTable
        Corrected coefficients of m strips.
    reynolds : (..., m) [-]
        Chord Reynolds number, held at the ends of the table.

    Returns
    -------
    (..., m) [-]

    Source
    ------
    selig-1989, selig-1995, selig-2004, lyon-1998
    """
    return _over_reynolds(table, table.maximum, reynolds)


def zero_lift_angle(table: SectionTable, reynolds: Samples) -> Samples:
    """Return the zero-lift angle of every strip, corrected against the measured rows.

    Parameters
    ----------
    table : SectionTable
        Corrected coefficients of m strips.
    reynolds : (..., m) [-]
        Chord Reynolds number, held at the ends of the table.

    Returns
    -------
    (..., m) [rad]

    Source
    ------
    selig-1989, selig-1995, selig-2004, lyon-1998
    """
    return _over_reynolds(table, table.zero_lift, reynolds)
