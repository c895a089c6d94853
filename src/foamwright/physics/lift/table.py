"""The atlas reduced to the strips of one plane, with the measured biases taken out."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from foamwright.physics.arrays import Flags, Grid, Samples
from foamwright.physics.lift.atlas import SectionAtlas, StripShapes, flap_penalty, strip_curves
from foamwright.physics.lift.correction import (
    corrected_lift,
    peak_lift,
    sheet_drag,
    working_drag,
    zero_lift_shift,
)

STALLED_DRAG_RISE = 5.0
"""Growth of ln drag per unit of lift asked for beyond maximum; keeps searches from profiting."""

LIFT_AXIS = np.linspace(-1.4, 2.0, 86)
"""Lift coefficients at which drag is tabulated, 0.04 apart."""


@dataclass(frozen=True, kw_only=True, slots=True)
class SectionTable:
    """Corrected coefficients of m strips on uniform axes."""

    log_reynolds: Grid
    """(r,) natural logarithm of the Reynolds number, uniform."""
    alpha: Grid
    """(a,) [rad] uniform."""
    lift: Grid
    """(m, r, a) lift coefficient."""
    log_drag: Grid
    """(m, r, a) ln drag coefficient."""
    moment: Grid
    """(m, r, a) moment coefficient about the quarter chord."""
    maximum: Grid
    """(m, r) greatest lift coefficient."""
    minimum: Grid
    """(m, r) lowest lift coefficient."""
    zero_lift: Grid
    """(m, r) [rad] zero-lift angle."""
    lift_axis: Grid
    """(c,) lift coefficient, uniform."""
    log_drag_at_lift: Grid
    """(m, r, c) ln drag over lift on the unstalled branch, rising steeply beyond it."""
    flap_deflection: Grid
    """(d,) [rad] uniform."""
    flap_log_reynolds: Grid
    """(q,) uniform."""
    flap_lift: Grid
    """(p,) uniform."""
    flap_log_drag: Grid
    """(m, d, q, p) what a deflected flap adds to ln drag at the same lift."""
    outside: Flags
    """(m,) True where thickness or camber lies outside the atlas."""


def section_table(
    atlas: SectionAtlas, shapes: StripShapes, *, corrected: bool = True
) -> SectionTable:
    """Return the atlas at the shapes of m strips, with the measured biases taken out.

    Parameters
    ----------
    atlas : SectionAtlas
        The shipped atlas, or one made for own coordinates.
    shapes : StripShapes
        Shape of each strip.
    corrected : bool
        False leaves the biases in, to derive or show them.

    Returns
    -------
    SectionTable [-]

    Valid
    -----
    Reynolds number 6e4 to 3e5 (checked), 2e4 to 6e5 (tabulated).

    Source
    ------
    sharpe-2024, selig-1989, selig-1995, selig-2004, lyon-1998
    """
    raw, outside = strip_curves(atlas, shapes)
    lift = raw[0]
    if corrected:
        lift = corrected_lift(atlas.alpha, lift, shapes.sheet, shapes.camber)
    maximum, top = peak_lift(atlas.alpha, lift, shapes.sheet)
    negative, bottom = peak_lift(-atlas.alpha[::-1], -lift[..., ::-1], shapes.sheet)
    limits = (atlas.alpha.size - 1 - bottom, top)
    log_drag, shift = raw[1], np.zeros(maximum.shape)
    if corrected:
        share = lift / np.maximum(
            np.where(lift >= 0.0, maximum[..., None], negative[..., None]), 0.2
        )
        log_drag = log_drag + working_drag(share)
        log_drag += _where(shapes.sheet, sheet_drag(atlas.log_reynolds, shapes.camber))[..., None]
        shift = _where(~shapes.sheet, zero_lift_shift(atlas.log_reynolds, shapes.camber))
    branch_alpha, branch_drag = _along_branch(atlas.alpha, lift, log_drag, limits)
    return SectionTable(
        log_reynolds=atlas.log_reynolds,
        alpha=atlas.alpha,
        lift=lift,
        log_drag=log_drag,
        moment=raw[2],
        maximum=maximum,
        minimum=-negative,
        zero_lift=branch_alpha + shift,
        lift_axis=LIFT_AXIS,
        log_drag_at_lift=branch_drag,
        flap_deflection=atlas.flap.deflection,
        flap_log_reynolds=atlas.flap.log_reynolds,
        flap_lift=atlas.flap.lift,
        flap_log_drag=flap_penalty(atlas.flap, shapes),
        outside=outside,
    )


PER_STRIP = (
    "lift",
    "log_drag",
    "moment",
    "maximum",
    "minimum",
    "zero_lift",
    "log_drag_at_lift",
    "flap_log_drag",
    "outside",
)
"""Fields of a table whose first axis is the strip."""


def chosen_strips(table: SectionTable, chosen: np.ndarray) -> SectionTable:
    """Return the table of a few strips.

    Parameters
    ----------
    table : SectionTable
        Coefficients of m strips.
    chosen : (c,) [-]
        Indices of the wanted strips.

    Returns
    -------
    SectionTable [-]

    Source
    ------
    own-derivation
    """
    parts: dict[str, Any] = {name: getattr(table, name)[chosen] for name in PER_STRIP}
    return replace(table, **parts)


def joined(tables: Sequence[SectionTable]) -> SectionTable:
    """Return the strips of several tables as one, e.g. own outline on the wing, stock tail.

    Parameters
    ----------
    tables : (t,) [-]
        Tables on the same axes.

    Returns
    -------
    SectionTable [-]

    Source
    ------
    own-derivation
    """
    parts: dict[str, Any] = {
        name: np.concatenate([getattr(table, name) for table in tables]) for name in PER_STRIP
    }
    return replace(tables[0], **parts)


def _where(chosen: Flags, values: Samples) -> Samples:
    """Return the values of the chosen strips and zero elsewhere."""
    kept: Samples = np.where(chosen[:, None], values, 0.0)
    return kept


def _along_branch(
    alpha: Grid, lift: Samples, log_drag: Samples, limits: tuple[np.ndarray, np.ndarray]
) -> tuple[Samples, Samples]:
    """Return the zero-lift angle and ln drag over lift, between the two stalls of every curve."""
    strips, numbers = lift.shape[:2]
    zero_lift = np.zeros((strips, numbers))
    at_lift = np.zeros((strips, numbers, LIFT_AXIS.size))
    for strip in range(strips):
        for number in range(numbers):
            part = slice(limits[0][strip, number], limits[1][strip, number] + 1)
            # A tiny slope keeps the branch rising where the bubble makes lift stand still.
            rising = np.maximum.accumulate(lift[strip, number, part])
            rising = rising + 1e-9 * np.arange(rising.size)
            drag = log_drag[strip, number, part]
            zero_lift[strip, number] = np.interp(0.0, rising, alpha[part])
            beyond = np.maximum(LIFT_AXIS - rising[-1], 0.0) + np.maximum(
                rising[0] - LIFT_AXIS, 0.0
            )
            at_lift[strip, number] = np.interp(LIFT_AXIS, rising, drag) + STALLED_DRAG_RISE * beyond
    return zero_lift, at_lift
