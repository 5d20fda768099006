"""Steps of graded signs whose weights only rise, or only fall, from one end to the other."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]

RISES, FALLS, FREE = 1, -1, 0


@dataclass(frozen=True, slots=True)
class Ramp:
    """A graded sign in a table: the row of each of its steps where it is true, and a direction a column.

    A column is RISES, FALLS, or FREE for a finding whose odds have their top or bottom in the middle.
    """

    rows: tuple[int, ...]
    directions: NDArray[np.int8]

    def keep(self, weights: Floats) -> None:
        """Moves the weights of its rows, in place, to the nearest that keep the directions."""
        steps = weights[list(self.rows)]
        for direction in (RISES, FALLS):
            columns = self.directions == direction
            if columns.any():
                steps[:, columns] = direction * rising(direction * steps[:, columns])
        weights[list(self.rows)] = steps


def direction_of(odds: tuple[float, ...]) -> int:
    """What the odds of an author's steps declare; odds that are all alike declare nothing."""
    up = all(one <= other for one, other in pairwise(odds))
    down = all(one >= other for one, other in pairwise(odds))
    return FREE if up is down else RISES if up else FALLS


def rising(steps: Floats) -> Floats:
    """The nearest columns (least squares) that never fall: isotonic regression by its max-min formula.

    Source of the formula: Statistical Inference under Order Restrictions
    (1972), theorem 1.1; from memory.
    """
    count = len(steps)
    sums = np.vstack([np.zeros(steps.shape[1]), np.cumsum(steps, axis=0)])
    best = np.full_like(steps, -np.inf)
    for start in range(count):
        means = np.array([(sums[end + 1] - sums[start]) / (end + 1 - start) for end in range(start, count)])
        least = np.minimum.accumulate(means[::-1], axis=0)[::-1]
        best[start:] = np.maximum(best[start:], least)
    return best
