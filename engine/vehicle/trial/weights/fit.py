"""All odds of the sign-by-finding table fitted together: multinomial logistic regression within bounds.

Counting each sign by itself counts twice what moves together; here the probabilities that the whole table
gives are fitted to what was true. A penalty pulls every weight to the flow's present one, so that what the
vehicles say little about stays as it was reasoned.

Solved by projected gradient with momentum, restarted where it overshoots (SIAM Journal on Imaging Sciences 2
(2009) 183; Foundations of Computational Mathematics 15 (2015) 715). The problem is convex but for findings
that count for one another, so it ends where no step helps.
"""

from __future__ import annotations

import numpy as np

from engine.vehicle.trial.weights.samples import Samples
from engine.vehicle.trial.weights.table import Floats, Table

PENALTIES = (0.3, 1.0, 3.0, 10.0)
"""Tried where none is given; the one that serves vehicles not fitted to best is taken. Our choice."""

_MOST_STEPS = 2000
_STILL = 1e-7  # an improvement of the objective smaller than this share of it ends the search


def fit(table: Table, given: Samples, penalty: float) -> Floats:
    """The weights that serve the samples best, each within its bounds. `penalty` is above 0."""
    weights = table.within(table.weights)
    ahead, momentum, size = weights, 1.0, 1.0
    loss, _ = _objective(weights, table, given, penalty)
    for _ in range(_MOST_STEPS):
        at, slope = _objective(ahead, table, given, penalty)
        moved, after, size = _step(ahead, at, slope, size, table, given, penalty)
        if after > loss:
            if momentum == 1.0:
                break
            ahead, momentum = weights, 1.0
            continue
        still = loss - after <= _STILL * loss
        following = (1.0 + np.sqrt(1.0 + 4.0 * momentum * momentum)) / 2.0
        ahead = table.within(moved + (momentum - 1.0) / following * (moved - weights))
        weights, loss, momentum = moved, after, following
        if still:
            break
        size *= 1.2
    return weights


def _step(
    start: Floats,
    at: float,
    slope: Floats,
    size: float,
    table: Table,
    given: Samples,
    penalty: float,
) -> tuple[Floats, float, float]:
    """One projected step, shortened until the quadratic bound at its size holds (backtracking)."""
    while True:
        moved = table.within(start - size * slope)
        by = moved - start
        after, _ = _objective(moved, table, given, penalty)
        bound = at + float((slope * by).sum()) + float((by * by).sum()) / (2.0 * size)
        if after <= bound + 1e-9 * abs(at) or size < 1e-9:
            return moved, after, size
        size /= 2.0


def _objective(weights: Floats, table: Table, given: Samples, penalty: float) -> tuple[float, Floats]:
    """Minus the log likelihood of what was right, plus the penalty; and its gradient."""
    chances, log_right, right = _chances(weights, given)
    pulled = weights - table.weights
    loss = -float(log_right.sum()) + penalty / 2.0 * float((pulled * pulled).sum())
    return loss, given.heard.T @ (chances - right) + penalty * pulled


def _chances(weights: Floats, given: Samples) -> tuple[Floats, Floats, Floats]:
    """Probability of each finding; log probability that a right one is named; shares among the right ones."""
    logs = given.heard @ weights + given.offset
    logs = np.where(given.open, logs, -np.inf)
    logs -= logs.max(axis=1, keepdims=True)
    parts = np.exp(logs)
    total = parts.sum(axis=1, keepdims=True)
    right = np.where(given.right, parts, 0.0)
    right_total = np.maximum(right.sum(axis=1, keepdims=True), 1e-300)
    return parts / total, np.log(right_total / total)[:, 0], right / right_total


def best_penalty(table: Table, given: Samples) -> float:
    """The penalty under which a fit to two thirds of the samples serves the last third best."""
    rows = np.arange(len(given.truth))
    fitted_to, kept = _rows(given, rows % 3 != 0), _rows(given, rows % 3 == 0)
    losses = {
        penalty: -float(_chances(fit(table, fitted_to, penalty), kept)[1].sum()) for penalty in PENALTIES
    }
    return min(losses, key=lambda penalty: losses[penalty])


def _rows(given: Samples, chosen: Floats) -> Samples:
    truth = tuple(name for name, taken in zip(given.truth, chosen, strict=True) if taken)
    return Samples(given.heard[chosen], given.open[chosen], given.right[chosen], given.offset, truth)
