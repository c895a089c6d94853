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
    fa, fb = residual(a), residual(b)
    unbracketed = np.sign(fa) * np.sign(fb) > 0
    best = np.where(np.abs(fa) <= np.abs(fb), a, b)
    root = best.copy()
    before = np.full_like(root, np.inf)
    done = unbracketed.copy()
    for _ in range(most):
        middle = 0.5 * (a + b)
        fm = residual(middle)
        scale = np.sqrt(np.maximum(fm * fm - fa * fb, 0.0))
        step = np.where(
            scale > 0,
            (middle - a) * np.sign(fa - fb) * fm / np.where(scale > 0, scale, 1.0),
            0.0,
        )
        x = np.clip(middle + step, np.minimum(a, b), np.maximum(a, b))
        fx = residual(x)
        # Order the four points a < middle/x < b and keep the sub-interval with the sign change.
        first = np.where((x < middle) == (a < b), x, middle)
        ffirst = np.where((x < middle) == (a < b), fx, fm)
        second = np.where((x < middle) == (a < b), middle, x)
        fsecond = np.where((x < middle) == (a < b), fm, fx)
        in_first = np.sign(fa) * np.sign(ffirst) <= 0
        in_second = ~in_first & (np.sign(ffirst) * np.sign(fsecond) <= 0)
        in_third = ~in_first & ~in_second
        a, fa, b, fb = (
            np.where(in_third, second, np.where(in_second, first, a)),
            np.where(in_third, fsecond, np.where(in_second, ffirst, fa)),
            np.where(in_third, b, np.where(in_second, second, first)),
            np.where(in_third, fb, np.where(in_second, fsecond, ffirst)),
        )
        root = np.where(np.abs(fa) <= np.abs(fb), a, b)
        # Two successive estimates that agree have converged, however wide the bracket still is.
        done |= np.abs(x - before) <= 0.1 * tolerance * width
        done |= (np.abs(b - a) <= tolerance * width) | (fa == 0) | (fb == 0)
        before = x
        if np.all(done):
            break
    return np.where(unbracketed, best, root), unbracketed
