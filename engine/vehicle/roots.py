"""Finding the zero of a rising function of one number, from a good guess, without ever losing it."""

from __future__ import annotations

from collections.abc import Callable

_PASSES = 60


def rising_root(
    function: Callable[[float], float],
    guess: float,
    low: float,
    high: float,
    slope: float,
    tolerance: float,
    width: float,
) -> float:
    """Where `function`, which rises from `low` to `high`, is zero within `tolerance`.

    Secant steps from `guess` (its first with `slope`), bisection wherever they leave the bracket or do not
    shrink it. Ends as well when the bracket is narrower than `width`, and at `low` or `high` if the zero lies
    beyond. The last call of `function` was at the value returned.
    """
    x = min(max(guess, low), high)
    y = function(x)
    below, above = low, high
    stale = 0
    for _ in range(_PASSES):
        if abs(y) <= tolerance or above - below < width:
            return x
        before = above - below
        if y > 0.0:
            if x <= low:
                return x
            above = x
        else:
            if x >= high:
                return x
            below = x
        stale = stale + 1 if above - below > 0.5 * before else 0
        step = x - y / slope
        if stale >= 4:
            step, stale = 0.5 * (below + above), 0
        elif not below < step < above:
            # the ends themselves are tried once, for a zero beyond them
            at_end = (step <= low and below == low) or (step >= high and above == high)
            step = (low if step <= low else high) if at_end else 0.5 * (below + above)
        old_x, old_y = x, y
        x = step
        y = function(x)
        if x != old_x and (y - old_y) / (x - old_x) > 0.0:
            slope = (y - old_y) / (x - old_x)
    return x
