"""The section atlas as a record: coefficients over thickness, camber, Reynolds number, angle.

The physics layer reads no file: whoever loads the stored arrays hands them over as a mapping.
"""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from foamwright.physics.arrays import Flags, Grid, Samples
from foamwright.physics.numerics.tables import look_up


@dataclass(frozen=True, kw_only=True, slots=True)
class SectionFamily:
    """Coefficients of one family of sections, uncorrected."""

    thickness: Grid
    """(t,) greatest thickness over chord, rising."""
    camber: Grid
    """(c,) greatest camber over chord at 0.4 of the chord, rising from 0."""
    lift: Grid
    """(t, c, r, a) lift coefficient."""
    log_drag: Grid
    """(t, c, r, a) natural logarithm of the drag coefficient."""
    moment: Grid
    """(t, c, r, a) moment coefficient about the quarter chord, nose up positive."""


@dataclass(frozen=True, kw_only=True, slots=True)
class FlapPenalty:
    """What a deflected flap adds to ln drag at the same lift; lift itself is not in here."""

    thickness: Grid
    """(t,) section thickness over chord."""
    chord: Grid
    """(f,) flap chord over section chord."""
    deflection: Grid
    """(d,) [rad] trailing edge down positive, uniform."""
    log_reynolds: Grid
    """(r,) uniform."""
    lift: Grid
    """(c,) lift coefficient, uniform and symmetric about zero."""
    log_drag: Grid
    """(t, f, d, r, c) added ln drag, zero at zero deflection."""


@dataclass(frozen=True, kw_only=True, slots=True)
class SectionAtlas:
    """Everything the shipped section file holds."""

    log_reynolds: Grid
    """(r,) natural logarithm of the chord Reynolds number, uniform."""
    alpha: Grid
    """(a,) [rad] angle of attack, uniform."""
    shaped: SectionFamily
    """Moulded, hot-wired or sanded sections with a round nose."""
    sheet: SectionFamily
    """Flat, folded or bent sheet of constant thickness."""
    flap: FlapPenalty
    """Drag of deflected flaps."""


@dataclass(frozen=True, kw_only=True, slots=True)
class StripShapes:
    """What a builder can measure of the section of every strip."""

    thickness: Grid
    """(m,) greatest thickness over chord."""
    camber: Grid
    """(m,) greatest camber over chord, negative when upside down."""
    sheet: Flags
    """(m,) True for flat, folded or bent sheet."""
    flap_chord: Grid
    """(m,) flap chord over section chord, 0 without a flap."""


def atlas_from_arrays(arrays: Mapping[str, np.ndarray]) -> SectionAtlas:
    """Return the atlas built from its stored arrays.

    Parameters
    ----------
    arrays : Mapping
        Stored arrays by name, as the generating script writes them.

    Returns
    -------
    SectionAtlas [-]

    Source
    ------
    own-derivation, sharpe-2024
    """
    plain = {name: np.asarray(values, dtype=float) for name, values in arrays.items()}
    return SectionAtlas(
        log_reynolds=plain["log_reynolds"],
        alpha=plain["alpha"],
        shaped=_family(plain, "shaped"),
        sheet=_family(plain, "plate"),
        flap=FlapPenalty(
            thickness=plain["flap_thickness"],
            chord=plain["flap_chord"],
            deflection=plain["flap_deflection"],
            log_reynolds=plain["flap_log_reynolds"],
            lift=plain["flap_lift"],
            log_drag=plain["flap_log_drag"],
        ),
    )


def _family(arrays: Mapping[str, np.ndarray], name: str) -> SectionFamily:
    return SectionFamily(
        thickness=arrays[f"{name}_thickness"],
        camber=arrays[f"{name}_camber"],
        lift=arrays[f"{name}_lift"],
        log_drag=arrays[f"{name}_log_drag"],
        moment=arrays[f"{name}_moment"],
    )


def strip_curves(atlas: SectionAtlas, shapes: StripShapes) -> tuple[Samples, Flags]:
    """Return the uncorrected curves of every strip and whether its shape lies outside the atlas.

    A section upside down is the mirror image: lift and moment change sign with the angle.

    Parameters
    ----------
    atlas : SectionAtlas
        The atlas.
    shapes : StripShapes
        Shape of each of the m strips.

    Returns
    -------
    (3, m, r, a) [-]
        Lift, ln drag and moment.
    (m,) [-]
        True where thickness or camber lies outside the atlas.

    Source
    ------
    own-derivation
    """
    shaped, beyond_shaped = _family_at(atlas.shaped, shapes)
    sheet, beyond_sheet = _family_at(atlas.sheet, shapes)
    curves = np.where(shapes.sheet[:, None, None], sheet, shaped)
    mirrored = np.stack(
        [
            sign * _at_opposite_angle(atlas.alpha, values)
            for sign, values in zip((-1.0, 1.0, -1.0), curves, strict=True)
        ]
    )
    curves = np.where((shapes.camber < 0.0)[:, None, None], mirrored, curves)
    return curves, np.where(shapes.sheet, beyond_sheet, beyond_shaped)


def _family_at(family: SectionFamily, shapes: StripShapes) -> tuple[Samples, Flags]:
    axes = (family.thickness, family.camber)
    points = (shapes.thickness, np.abs(shapes.camber))
    stacked = np.stack([family.lift, family.log_drag, family.moment], axis=2)
    values, outside = look_up(axes, stacked, points)
    return np.moveaxis(values, 1, 0), outside


def _at_opposite_angle(alpha: Grid, values: Samples) -> Samples:
    """Return the curves read at minus alpha, held where the axis ends sooner on that side."""
    left = np.clip(np.searchsorted(alpha, -alpha, side="right") - 1, 0, alpha.size - 2)
    fraction = np.clip((-alpha - alpha[left]) / (alpha[left + 1] - alpha[left]), 0.0, 1.0)
    mirrored: Samples = values[..., left] * (1.0 - fraction) + values[..., left + 1] * fraction
    return mirrored


def flap_penalty(flap: FlapPenalty, shapes: StripShapes) -> Samples:
    """Return the flap table of every strip, zero where a strip has no flap.

    Parameters
    ----------
    flap : FlapPenalty
        Flap part of the atlas.
    shapes : StripShapes
        Shape of each of the m strips.

    Returns
    -------
    (m, d, r, c) [-]
        Added ln drag.

    Source
    ------
    own-derivation
    """
    chord = np.maximum(shapes.flap_chord, flap.chord[0])
    values, _ = look_up((flap.thickness, flap.chord), flap.log_drag, (shapes.thickness, chord))
    mirrored = values[:, ::-1, :, ::-1]
    values = np.where((shapes.camber < 0.0)[:, None, None, None], mirrored, values)
    # A flap narrower than the table's narrowest costs in proportion to its chord.
    share = np.minimum(shapes.flap_chord / flap.chord[0], 1.0)
    scaled: Samples = np.clip(values, -0.2, 1.5) * share[:, None, None, None]
    return scaled
