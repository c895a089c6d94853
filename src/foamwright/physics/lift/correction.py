"""What wind-tunnel rows say about the atlas: biases taken out once, and the spread that stays.

All numbers here come from `tools/compare_sections.py` run over two sets of rows: the tabulated
characteristics of six sections (E387, Clark-Y, three four-digit sections, flat plate; Selig et
al. 1989, 1995, 2004) and the drag runs of four shaped sections and one bent sheet (Lyon et al.
1998), Reynolds number 58 k to 303 k. Sections are represented by thickness and camber alone, so
the spreads include everything a ruler does not see.
"""

import numpy as np

from foamwright.physics.arrays import Flags, Grid, Samples

SECTION_CLMAX_BIAS = -0.11
"""Measured less atlas maximum lift of shaped sections, mean of 30 runs (source: module)."""

SECTION_CLMAX_SD = 0.10
"""Scatter of maximum lift about the corrected value; several runs end before the stall."""

SECTION_DRAG_LN_SD = 0.25
"""Spread of ln drag at given lift. The corrected rows scatter by 0.17 (shaped) and 0.23 (bent
sheet), but the corrections were fitted to them; sections not seen will scatter more."""

WORKING_DRAG_LN_BIAS = 0.15
"""Measured over atlas ln drag between 0.4 and 0.8 of maximum lift; none at minimum drag."""

WORKING_LIFT = (0.2, 0.4, 0.8, 0.95)
"""Shares of maximum lift between which the working-lift drag correction rises and fades."""

SHEET_DRAG_LN_FLAT = 0.27
"""Measured over atlas ln minimum drag of flat sheet at Re 100 k (factor 1.3; 1.8 at 300 k)."""

SHEET_DRAG_LN_BENT = -0.15
"""The same for sheet bent to 6 % camber, beside the working-lift term that it also gets."""

SHEET_DRAG_LN_SLOPE = 0.28
"""The same change of it with ln Re for flat and for bent sheet."""

SHEET_REYNOLDS = (6.0e4, 3.0e5)
"""Range the sheet rows span; the correction is held beyond it."""

SHEET_CAMBER = 0.06
"""Camber of the measured bent sheet; between it and flat sheet the correction is linear."""

ALPHA_ZERO_SLOPE = float(np.deg2rad(0.75))
"""Measured less atlas zero-lift angle of cambered sections changes by this with ln Re."""

ALPHA_ZERO_REYNOLDS = 2.6e5
"""Reynolds number at which that difference vanishes."""

ALPHA_ZERO_SD = float(np.deg2rad(0.5))
"""Scatter of the zero-lift angle after correction."""

BARE_FOAM_DRAG_FACTOR = 1.15
"""Profile drag of bare, uncovered foam over a smooth skin: judgement, not measured."""

BARE_FOAM_DRAG_FACTOR_SD = 0.10
"""Spread of that judgement."""

SHAPED_STALL_SEARCH = float(np.deg2rad(18.0))
"""Beyond this angle the atlas is deep stall and no maximum is looked for."""

SHEET_STALL_SEARCH = float(np.deg2rad(12.0))
"""Thin sheet has no peak: lift creeps up with huge drag, so the usable maximum is read here."""

STALL_DROP = 0.05
"""Loss of lift coefficient that marks the first peak; deep stall may climb above it again."""

REATTACHED = 0.1
"""A later peak this much higher is a bubble that closed again, as thick sections do below 50 k."""

STALL_FROM = float(np.deg2rad(4.0))
"""A loss of lift at smaller angles is a bubble, not the stall."""


def peak_lift(alpha: Grid, lift: Samples, sheet: Flags) -> tuple[Samples, np.ndarray]:
    """Return the uncorrected greatest lift of each curve and its place on the angle axis.

    Parameters
    ----------
    alpha : (a,) [rad]
        Angle axis.
    lift : (m, r, a) [-]
        Lift curves.
    sheet : (m,) [-]
        True for sheet.

    Returns
    -------
    (m, r) [-]
        Greatest lift before the first drop, between -2 deg and the end of the search.
    (m, r) [-]
        Index of the angle.

    Source
    ------
    own-derivation
    """
    end = np.where(sheet, SHEET_STALL_SEARCH, SHAPED_STALL_SEARCH).reshape(-1, 1, 1)
    tried = (alpha <= end + 1e-9) & (alpha >= -0.035)
    seen = np.where(tried, lift, -np.inf)
    dropped = tried & (lift < np.maximum.accumulate(seen, axis=2) - STALL_DROP)
    # A bubble can dent the curve at small angles; only a later dent is the stall.
    stalled = np.maximum.accumulate(dropped & (alpha >= STALL_FROM), axis=2)
    place = np.argmax(np.where(stalled, -np.inf, seen), axis=2)
    anywhere = np.argmax(seen, axis=2)
    gained = np.take_along_axis(lift, anywhere[:, :, None], axis=2) - np.take_along_axis(
        lift, place[:, :, None], axis=2
    )
    place = np.where(gained[:, :, 0] > REATTACHED, anywhere, place)
    return np.take_along_axis(lift, place[:, :, None], axis=2)[:, :, 0], place


def corrected_lift(alpha: Grid, lift: Samples, sheet: Flags, camber: Grid) -> Samples:
    """Return lift curves with the bias of maximum lift taken out on both stall sides.

    The correction grows from nothing at 0.6 of the peak to its full size at the peak and stays
    beyond it, so the slope at working angles is untouched. The stall on the back of a cambered
    section was not measured: there the correction fades to nothing at 2 % camber.

    Parameters
    ----------
    alpha : (a,) [rad]
        Angle axis.
    lift : (m, r, a) [-]
        Uncorrected lift curves.
    sheet : (m,) [-]
        True for sheet, whose maximum needs no correction.
    camber : (m,) [-]
        Camber over chord.

    Returns
    -------
    (m, r, a) [-]

    Source
    ------
    selig-1989, selig-1995, selig-2004, lyon-1998
    """
    bias = np.where(sheet, 0.0, SECTION_CLMAX_BIAS)
    above = (bias * np.clip(1.0 + camber / 0.02, 0.0, 1.0))[:, None, None]
    below = (bias * np.clip(1.0 - camber / 0.02, 0.0, 1.0))[:, None, None]
    top, top_place = peak_lift(alpha, lift, sheet)
    low, low_place = peak_lift(-alpha[::-1], -lift[..., ::-1], sheet)
    index = np.arange(alpha.size)
    beyond_top = index >= top_place[:, :, None]
    beyond_low = index <= alpha.size - 1 - low_place[:, :, None]
    upper = np.where(beyond_top, 1.0, _rise(lift / np.maximum(top, 0.2)[:, :, None]))
    lower = np.where(beyond_low, 1.0, _rise(-lift / np.maximum(low, 0.2)[:, :, None]))
    corrected: Samples = lift + above * upper - below * lower
    return corrected


def _rise(share: Samples) -> Samples:
    part = np.clip((share - 0.6) / 0.4, 0.0, 1.0)
    smooth: Samples = part * part * (3.0 - 2.0 * part)
    return smooth


def working_drag(lift_share: Samples) -> Samples:
    """Return what is added to ln drag at a share of maximum lift.

    Parameters
    ----------
    lift_share : (...) [-]
        Lift over maximum lift; only its size counts.

    Returns
    -------
    (...) [-]

    Source
    ------
    selig-1989, selig-1995, selig-2004, lyon-1998
    """
    heights = (0.0, WORKING_DRAG_LN_BIAS, WORKING_DRAG_LN_BIAS, 0.0)
    return np.interp(np.abs(lift_share), WORKING_LIFT, heights)


def sheet_drag(log_reynolds: Grid, camber: Grid) -> Samples:
    """Return what is added to ln drag of flat or bent sheet.

    Parameters
    ----------
    log_reynolds : (r,) [-]
        Natural logarithm of the Reynolds number.
    camber : (m,) [-]
        Camber over chord.

    Returns
    -------
    (m, r) [-]

    Source
    ------
    selig-1989, lyon-1998
    """
    low, high = np.log(SHEET_REYNOLDS)
    trend = SHEET_DRAG_LN_SLOPE * (np.clip(log_reynolds, low, high) - np.log(1.0e5))
    flatness = np.clip(1.0 - np.abs(camber) / SHEET_CAMBER, 0.0, 1.0)
    level = SHEET_DRAG_LN_BENT + (SHEET_DRAG_LN_FLAT - SHEET_DRAG_LN_BENT) * flatness
    added: Samples = level[:, None] + trend
    return added


def zero_lift_shift(log_reynolds: Grid, camber: Grid) -> Samples:
    """Return what is added to the atlas zero-lift angle of shaped sections.

    The atlas loses the zero-lift angle of cambered sections too early below Re 200 k. The shift
    is full from 2 % camber, nothing for a symmetric section, and held outside 60 k to 300 k.

    Parameters
    ----------
    log_reynolds : (r,) [-]
        Natural logarithm of the Reynolds number.
    camber : (m,) [-]
        Camber over chord.

    Returns
    -------
    (m, r) [rad]

    Source
    ------
    selig-1989, selig-1995, selig-2004, lyon-1998
    """
    low, high = np.log(SHEET_REYNOLDS)
    trend = ALPHA_ZERO_SLOPE * (np.clip(log_reynolds, low, high) - np.log(ALPHA_ZERO_REYNOLDS))
    share = np.clip(camber / 0.02, -1.0, 1.0)
    shift: Samples = share[:, None] * trend
    return shift
