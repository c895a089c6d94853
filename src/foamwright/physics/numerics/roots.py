"""Roots of one equation a sample, all samples at once."""

from collections.abc import Callable

import numpy as np

from foamwright.physics.arrays import Flags, Samples


def bracketed_root(
    residual: Callable[[Samples], Samples],
    low: Samples,
    high: Samples,
    *,
    tolerance: float = 1e-9,
    most: int = 60,
) -> tuple[Samples, Flags]:
    """Return a root of each sample's residual inside its bracket (Ridders' method).

    Every step halves the bracket at least, so a kinked residual converges too.

    Parameters
    ----------
    residual : callable
        Maps (n,) guesses to (n,) residuals.
    low : (n,) [unit]
        Lower ends.
    high : (n,) [unit]
        Upper ends; the residual must have the other sign there.
    tolerance : float [-]
        Width of the bracket to stop at, relative to its first width.
    most : int
        Most steps taken.

    Returns
    -------
    (n,) [unit], (n,) [-]
        The root, and who had no change of sign: there the end with the smaller residual is
        returned.

    Source
    ------
    ridders-1979
    """
    a, b = np.broadcast_arrays(np.asarray(low, float), np.asarray(high, float))
    a, b = a.copy(), b.copy()
    width = np.abs(b - a)
    # Copies: they are written over below, and a residual may hand back what it was given.
    fa, fb = np.array(residual(a)), np.array(residual(b))
    unbracketed = np.sign(fa) * np.sign(fb) > 0
    best = np.where(np.abs(fa) <= np.abs(fb), a, b)
    before = np.full_like(best, np.inf)
    done = unbracketed.copy()
    rising, close = a < b, 0.1 * tolerance * width
    for _ in range(most):
        middle = 0.5 * (a + b)
        fm = residual(middle)
        x = _ridders((a, fa), (b, fb), (middle, fm))
        fx = residual(x)
        # Order the four points a < middle/x < b and keep the sub-interval with the sign change.
        ahead = (x < middle) == rising
        first, ffirst = np.where(ahead, x, middle), np.where(ahead, fx, fm)
        second, fsecond = np.where(ahead, middle, x), np.where(ahead, fm, fx)
        sign = np.sign(ffirst)
        in_first = np.sign(fa) * sign <= 0
        in_third = ~in_first & ~(sign * np.sign(fsecond) <= 0)
        _kept((a, fa), (first, ffirst), ~in_first)
        _kept((a, fa), (second, fsecond), in_third)
        in_second = ~(in_first | in_third)
        _kept((b, fb), (first, ffirst), in_first)
        _kept((b, fb), (second, fsecond), in_second)
        # Two successive estimates that agree have converged, however wide the bracket still is.
        done |= np.abs(x - before) <= close
        done |= (np.abs(b - a) <= tolerance * width) | (fa == 0) | (fb == 0)
        before = x
        if np.all(done):
            break
    root = np.where(np.abs(fa) <= np.abs(fb), a, b)
    return np.where(unbracketed, best, root), unbracketed


def _ridders(
    a: tuple[Samples, Samples], b: tuple[Samples, Samples], middle: tuple[Samples, Samples]
) -> Samples:
    """Return Ridders' estimate between two points, each a place and its residual."""
    (left, fa), (right, fb), (half, fm) = a, b, middle
    scale = np.sqrt(np.maximum(fm * fm - fa * fb, 0.0))
    step = (half - left) * np.sign(fa - fb)
    step *= fm
    step = np.divide(step, scale, out=np.zeros_like(step), where=scale > 0)
    step += half
    low, high = np.minimum(left, right), np.maximum(left, right)
    found: Samples = np.minimum(np.maximum(step, low), high)
    return found


def _kept(point: tuple[Samples, Samples], other: tuple[Samples, Samples], where: Flags) -> None:
    """Write another point and its residual over one, for some samples."""
    for old, new in zip(point, other, strict=True):
        np.copyto(old, new, where=where)
