"""Thin-aerofoil theory of mean lines and plain flaps; trailing edge down positive."""

import numpy as np

from foamwright.physics.arrays import Samples


def flap_effectiveness(chord_fraction: Samples) -> Samples:
    """Return the change of zero-lift angle per deflection of a plain flap, tau.

    Parameters
    ----------
    chord_fraction : (n,) [-]
        Chord behind the hinge over the whole chord.

    Returns
    -------
    (n,) [-]

    Valid
    -----
    Inviscid, sealed gap; at low Reynolds number real flaps reach about 0.7 of it.

    Source
    ------
    glauert-1927
    """
    hinge = _hinge_angle(chord_fraction)
    return np.asarray((np.pi - hinge + np.sin(hinge)) / np.pi)


def flap_pitching_moment(chord_fraction: Samples) -> Samples:
    """Return the change of the moment about the quarter chord per deflection.

    Parameters
    ----------
    chord_fraction : (n,) [-]
        Chord behind the hinge over the whole chord.

    Returns
    -------
    (n,) [rad^-1]

    Source
    ------
    glauert-1927
    """
    hinge = _hinge_angle(chord_fraction)
    return np.asarray(-0.5 * np.sin(hinge) * (1.0 - np.cos(hinge)))


def hinge_moment_from_angle(chord_fraction: Samples) -> Samples:
    """Return the hinge moment per angle of attack, on the flap's own chord squared.

    Parameters
    ----------
    chord_fraction : (n,) [-]
        Chord behind the hinge over the whole chord.

    Returns
    -------
    (n,) [rad^-1]

    Source
    ------
    glauert-1927
    """
    return np.asarray(-_first_moment(_hinge_angle(chord_fraction)) / chord_fraction**2)


def hinge_moment_from_deflection(chord_fraction: Samples) -> Samples:
    """Return the hinge moment per deflection at fixed angle of attack.

    Parameters
    ----------
    chord_fraction : (n,) [-]
        Chord behind the hinge over the whole chord.

    Returns
    -------
    (n,) [rad^-1]

    Valid
    -----
    Inviscid, sealed gap; real flaps at low Reynolds number reach 0.6 to 0.8 of it.

    Source
    ------
    glauert-1927
    """
    hinge = _hinge_angle(chord_fraction)
    behind = np.pi - hinge
    # The logarithmic part of the pressure, integrated by parts in closed form.
    peak = 0.5 * np.sin(hinge) * (behind * np.cos(hinge) + np.sin(hinge))
    return np.asarray(-(behind * _first_moment(hinge) + peak) / (np.pi * chord_fraction**2))


def mean_line_lift(position: Samples) -> Samples:
    """Return the lift coefficient at no incidence of a mean line, per camber.

    Parameters
    ----------
    position : (n,) [-]
        Chord fraction of the highest point; a parabola on either side of it.

    Returns
    -------
    (n,) [-]

    Source
    ------
    abbott-1959
    """
    zeroth, first, _ = _mean_line_integrals(position)
    return np.asarray(2.0 * (first - zeroth))


def mean_line_pitching_moment(position: Samples) -> Samples:
    """Return the moment about the quarter chord of a mean line, per camber.

    Parameters
    ----------
    position : (n,) [-]
        Chord fraction of the highest point; a parabola on either side of it.

    Returns
    -------
    (n,) [-]

    Source
    ------
    abbott-1959
    """
    _, first, second = _mean_line_integrals(position)
    return np.asarray(0.5 * (second - first))


def _hinge_angle(chord_fraction: Samples) -> Samples:
    return np.asarray(np.arccos(2.0 * chord_fraction - 1.0))


def _first_moment(hinge: Samples) -> Samples:
    """Integral of (1 + cos t)(cos h - cos t) from the hinge to the trailing edge."""
    cosine, sine = np.cos(hinge), np.sin(hinge)
    return np.asarray((np.pi - hinge) * (cosine - 0.5) + sine - 0.5 * sine * cosine)


def _mean_line_integrals(position: Samples) -> tuple[Samples, Samples, Samples]:
    """Integrals of the slope times 1, cos t and cos 2t over the chord angle t."""
    top, offset = np.arccos(1.0 - 2.0 * position), 2.0 * position - 1.0
    fore, aft = 1.0 / position**2, 1.0 / (1.0 - position) ** 2

    def whole(at_top: Samples, at_end: Samples) -> Samples:
        return np.asarray(fore * at_top + aft * (at_end - at_top))

    sine, double, triple = np.sin(top), np.sin(2.0 * top), np.sin(3.0 * top)
    zeroth = whole(offset * top + sine, offset * np.pi)
    first = whole(offset * sine + 0.5 * top + 0.25 * double, np.full_like(top, 0.5 * np.pi))
    second = whole(0.5 * offset * double + 0.5 * sine + triple / 6.0, np.zeros_like(top))
    return zeroth, first, second
