"""What a linear lattice leaves out sideways: parts that grow with lift, the body, a tail's wake.

Axes as in the lattice (x aft, y right, z up) and its signs: right wing down, nose right positive;
beta is flow from the right; rates as pb/2V and rb/2V.
"""

import numpy as np

from foamwright.physics.arrays import Flags, Samples
from foamwright.physics.lift.lattice import LIFT, PITCH, ROLL, SIDE, YAW, LatticeResult


def strip_coefficients(result: LatticeResult, chosen: Flags) -> Samples:
    """Return what some of the strips add to the coefficients of the whole.

    Parameters
    ----------
    result : LatticeResult
        All strips.
    chosen : (k,) [-]
        Which strips are summed.

    Returns
    -------
    (g, states, 5) [-]
        Columns as in the lattice, about its reference point.

    Valid
    -----
    The load of a strip is taken at its quarter chord.

    Source
    ------
    own-derivation
    """
    reference = result.reference
    normal = result.strip_normal[:, chosen] * result.strip_area[:, chosen, None]
    force = result.strip_lift[:, chosen, None, :] * normal[..., None]
    aside, up = force[:, :, 0], force[:, :, 1]
    place = np.stack([result.strip_x, result.strip_y, result.strip_z], axis=-1)[:, chosen]
    x, y, z = np.moveaxis((place - reference.point[:, None])[..., None, :], -1, 0)
    loads = [np.zeros_like(up)] * 5
    loads[LIFT], loads[SIDE] = up, aside
    loads[ROLL] = (z * aside - y * up) / reference.span[:, None, None]
    loads[PITCH] = -x * up / reference.chord[:, None, None]
    loads[YAW] = -x * aside / reference.span[:, None, None]
    total = np.stack(loads, axis=-1).sum(axis=1)
    return np.asarray(total / reference.area[:, None, None])


def load_spread(load: Samples, place: Samples, span: Samples) -> Samples:
    """Return how far out a load sits: four times its mean square distance over the span's square.

    It is the rolling moment per yaw rate and lift coefficient (the wing that goes forward meets
    faster air), and with drag as the load what yawing is damped by per drag coefficient.

    Parameters
    ----------
    load : (n, k) [-]
        Load of the strips of both halves, on any scale.
    place : (n, k) [m]
        Their distance from the middle line.
    span : (n,) [m]
        Wing span.

    Returns
    -------
    (n,) [-]
        A quarter for an elliptic load, a third for an even one.

    Valid
    -----
    Strip theory: the load's own answer to the uneven flow is left out.

    Source
    ------
    nelson-1998, etkin-1996
    """
    square = np.sum(load * place**2, axis=-1) / np.sum(load, axis=-1)
    return np.asarray(4.0 * square / span**2)


def yaw_from_roll(aspect_ratio: Samples, sweep: Samples, behind: Samples) -> Samples:
    """Return the wing's yawing moment per roll rate and lift coefficient.

    Parameters
    ----------
    aspect_ratio : (n,) [-]
        Aspect ratio.
    sweep : (n,) [rad]
        Of the quarter-chord line, aft positive.
    behind : (n,) [-]
        How far the wing's aerodynamic centre lies behind the centre of gravity, in mean chords.

    Returns
    -------
    (n,) [-]

    Valid
    -----
    Attached flow, sweep to 45 degrees, low Mach number; the tilt of the lift alone would give
    an eighth, the drag of the rolling wing takes a part of it back.

    Source
    ------
    toll-queijo-1948, datcom-1978
    """
    A, tangent, cosine = aspect_ratio, np.tan(sweep), np.cos(sweep)
    swept = 6.0 * (A + cosine) * (behind * tangent / A + tangent**2 / 12.0)
    return np.asarray(-(A + swept) / (6.0 * (A + 4.0 * cosine)))


def roll_from_sweep(
    load: Samples, place: Samples, tangent: Samples, *, span: Samples, aspect_ratio: Samples
) -> Samples:
    """Return the rolling moment per sideslip and lift coefficient of a swept wing.

    The half that goes into the wind flies less swept. What the tips' wake takes back from an
    uneven load is taken from the ratio of the slopes of odd and even loads.

    Parameters
    ----------
    load : (n, k) [-]
        Load of the strips of both halves, on any scale.
    place : (n, k) [m]
        Their distance from the middle line.
    tangent : (n, k) [-]
        Tangent of the sweep of the quarter-chord line there, aft positive.
    span : (n,) [m]
        Wing span.
    aspect_ratio : (n,) [-]
        Aspect ratio.

    Returns
    -------
    (n,) [rad^-1]

    Source
    ------
    toll-queijo-1948, own-derivation
    """
    A = aspect_ratio
    whole = np.sum(load, axis=-1)
    arm = np.sum(load * np.abs(place) * tangent, axis=-1) / whole
    cosine = 1.0 / np.sqrt(1.0 + (np.sum(load * tangent, axis=-1) / whole) ** 2)
    return np.asarray(-2.0 * arm / span * (A + 2.0 * cosine) / (A + 4.0 * cosine))


def adverse_yaw(aspect_ratio: Samples) -> Samples:
    """Return the yawing moment over the rolling moment of ailerons, per lift coefficient.

    Parameters
    ----------
    aspect_ratio : (n,) [-]
        Aspect ratio.

    Returns
    -------
    (n,) [-]
        Negative: the nose swings away from the turn.

    Valid
    -----
    Unswept, near-elliptic load, equal travel up and down.

    Source
    ------
    glauert-1926
    """
    return np.asarray(-3.0 / (np.pi * aspect_ratio))


def roll_from_wing_height(
    aspect_ratio: Samples, height: Samples, diameter: Samples, span: Samples
) -> Samples:
    """Return the rolling moment per sideslip that a wing gains from sitting high on its body.

    Parameters
    ----------
    aspect_ratio : (n,) [-]
        Aspect ratio.
    height : (n,) [m]
        Of the root's quarter chord over the body's middle line.
    diameter : (n,) [m]
        Mean diameter of the body.
    span : (n,) [m]
        Wing span.

    Returns
    -------
    (n,) [rad^-1]
        Negative, as from dihedral, for a high wing.

    Valid
    -----
    The wing touches the body.

    Source
    ------
    datcom-1978
    """
    return np.asarray(-2.4 * np.sqrt(aspect_ratio) * height * diameter / span**2)
