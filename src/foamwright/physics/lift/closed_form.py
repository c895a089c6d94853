"""Published closed forms of finite wings and tails; angles in radians, slopes per radian."""

import numpy as np

from foamwright.physics.arrays import Samples


def wing_slope(section_slope: Samples, aspect_ratio: Samples, slope_excess: Samples) -> Samples:
    """Return the lift slope of an unswept wing from that of its section.

    Parameters
    ----------
    section_slope : (n,) [rad^-1]
        Lift slope in two dimensions.
    aspect_ratio : (n,) [-]
        Span squared over area.
    slope_excess : (n,) [-]
        Glauert's tau; nothing for an elliptic loading.

    Returns
    -------
    (n,) [rad^-1]

    Valid
    -----
    Lifting line: aspect ratio above about 4; 7 % too high at 6 against a lifting surface.

    Source
    ------
    glauert-1926, prandtl-1921
    """
    return np.asarray(
        section_slope / (1.0 + section_slope * (1.0 + slope_excess) / (np.pi * aspect_ratio))
    )


def section_slope(wing_slope: Samples, aspect_ratio: Samples, slope_excess: Samples) -> Samples:
    """Return the lift slope of the section of an unswept wing from that of the wing.

    Parameters
    ----------
    wing_slope : (n,) [rad^-1]
        Lift slope of the wing.
    aspect_ratio : (n,) [-]
        Span squared over area.
    slope_excess : (n,) [-]
        Glauert's tau; nothing for an elliptic loading.

    Returns
    -------
    (n,) [rad^-1]

    Source
    ------
    glauert-1926
    """
    return np.asarray(
        wing_slope / (1.0 - wing_slope * (1.0 + slope_excess) / (np.pi * aspect_ratio))
    )


def induced_drag(lift: Samples, aspect_ratio: Samples, drag_excess: Samples) -> Samples:
    """Return the induced drag coefficient of a planar wing.

    Parameters
    ----------
    lift : (n,) [-]
        Lift coefficient.
    aspect_ratio : (n,) [-]
        Span squared over area.
    drag_excess : (n,) [-]
        Glauert's delta; nothing for an elliptic loading.

    Returns
    -------
    (n,) [-]

    Source
    ------
    glauert-1926, prandtl-1921
    """
    return np.asarray(lift**2 * (1.0 + drag_excess) / (np.pi * aspect_ratio))


def straight_wing_slope_helmbold_1942(section_slope: Samples, aspect_ratio: Samples) -> Samples:
    """Return the lift slope of an unswept wing down to low aspect ratio.

    Parameters
    ----------
    section_slope : (n,) [rad^-1]
        Lift slope in two dimensions.
    aspect_ratio : (n,) [-]
        Span squared over area.

    Returns
    -------
    (n,) [rad^-1]

    Source
    ------
    helmbold-1942
    """
    ratio = section_slope / (np.pi * aspect_ratio)
    return np.asarray(section_slope / (np.sqrt(1.0 + ratio**2) + ratio))


def swept_wing_slope(
    section_slope: Samples, aspect_ratio: Samples, half_chord_sweep: Samples
) -> Samples:
    """Return the lift slope of a swept wing at low Mach number.

    Parameters
    ----------
    section_slope : (n,) [rad^-1]
        Lift slope in two dimensions.
    aspect_ratio : (n,) [-]
        Span squared over area.
    half_chord_sweep : (n,) [rad]
        Sweep of the half-chord line.

    Returns
    -------
    (n,) [rad^-1]

    Valid
    -----
    Straight tapered wings; small sweep or aspect ratio above about 1.

    Source
    ------
    datcom-1978
    """
    share = section_slope / (2.0 * np.pi)
    stretched = (aspect_ratio / share) ** 2 * (1.0 + np.tan(half_chord_sweep) ** 2)
    return np.asarray(2.0 * np.pi * aspect_ratio / (2.0 + np.sqrt(4.0 + stretched)))


def far_downwash_slope(wing_slope: Samples, aspect_ratio: Samples) -> Samples:
    """Return the downwash angle far behind an elliptic wing per angle of attack.

    Parameters
    ----------
    wing_slope : (n,) [rad^-1]
        Lift slope of the wing.
    aspect_ratio : (n,) [-]
        Span squared over area.

    Returns
    -------
    (n,) [-]

    Source
    ------
    prandtl-1921
    """
    return np.asarray(2.0 * wing_slope / (np.pi * aspect_ratio))


def strip_roll_damping(slope: Samples, taper: Samples) -> Samples:
    """Return Clp of a straight tapered wing from strips without induced effects.

    Parameters
    ----------
    slope : (n,) [rad^-1]
        Lift slope of every strip.
    taper : (n,) [-]
        Tip chord over root chord.

    Returns
    -------
    (n,) [-]

    Valid
    -----
    Too strong by a fifth to a third: the tips of a real wing unload.

    Source
    ------
    nelson-1998
    """
    return np.asarray(-slope / 12.0 * (1.0 + 3.0 * taper) / (1.0 + taper))


def strip_roll_control(
    flap_slope: Samples, taper: Samples, start: Samples, end: Samples
) -> Samples:
    """Return the rolling moment of a pair of ailerons from strips, per deflection of both.

    Parameters
    ----------
    flap_slope : (n,) [rad^-1]
        Lift of a strip per deflection: its lift slope times tau.
    taper : (n,) [-]
        Tip chord over root chord.
    start : (n,) [-]
        Inner end, share of the half span.
    end : (n,) [-]
        Outer end, share of the half span.

    Returns
    -------
    (n,) [rad^-1]

    Source
    ------
    nelson-1998
    """
    inner, outer = (share**2 / 2.0 + (taper - 1.0) * share**3 / 3.0 for share in (start, end))
    return np.asarray(flap_slope / (1.0 + taper) * (outer - inner))


def vee_tail_horizontal_area(area: Samples, dihedral: Samples) -> Samples:
    """Return the area of the level tail that a vee tail equals in pitch.

    Parameters
    ----------
    area : (n,) [m^2]
        Area of both panels in their own plane.
    dihedral : (n,) [rad]
        Angle of a panel to the horizontal.

    Returns
    -------
    (n,) [m^2]

    Source
    ------
    purser-campbell-1945
    """
    return np.asarray(area * np.cos(dihedral) ** 2)


def vee_tail_vertical_area(area: Samples, dihedral: Samples) -> Samples:
    """Return the area of the fin that a vee tail equals in yaw.

    Parameters
    ----------
    area : (n,) [m^2]
        Area of both panels in their own plane.
    dihedral : (n,) [rad]
        Angle of a panel to the horizontal.

    Returns
    -------
    (n,) [m^2]

    Source
    ------
    purser-campbell-1945
    """
    return np.asarray(area * np.sin(dihedral) ** 2)


def elliptic_roll_damping(section_slope: Samples, aspect_ratio: Samples) -> Samples:
    """Return Clp of an elliptic wing by lifting line.

    Parameters
    ----------
    section_slope : (n,) [rad^-1]
        Lift slope in two dimensions.
    aspect_ratio : (n,) [-]
        Span squared over area.

    Returns
    -------
    (n,) [-]

    Valid
    -----
    Aspect ratio above about 8; the second term of the series alone, which is exact here.

    Source
    ------
    glauert-1926, own-derivation
    """
    return np.asarray(-section_slope / 8.0 / (1.0 + 2.0 * section_slope / (np.pi * aspect_ratio)))


def biplane_interference(gap: Samples) -> Samples:
    """Return the share of mutual in own induced drag of two equal wings above each other.

    Parameters
    ----------
    gap : (n,) [-]
        Height between them over their span.

    Returns
    -------
    (n,) [-]

    Valid
    -----
    Gap 0.05 to 0.5 of the span, elliptic loadings; a fit.

    Source
    ------
    prandtl-1921
    """
    return np.asarray((1.0 - 0.66 * gap) / (1.05 + 3.7 * gap))
