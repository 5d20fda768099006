"""The numbers of a table that a fit may choose, each within its own bounds.

Along a graded sign that rises or falls, they are the weight of the first step and what each further step
adds: then a direction is a bound as well.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from engine.vehicle.trial.weights.ramps import FREE, RISES, Floats
from engine.vehicle.trial.weights.table import LARGEST, Table

_Places = tuple[NDArray[np.intp], ...]


class Free:
    """`low` and `high` bound the free numbers, in the order of `start`."""

    def __init__(self, table: Table) -> None:
        low, high = table.low.copy(), table.high.copy()
        self._blocks: list[_Places] = []
        for ramp in table.ramps:
            rows, columns = np.array(ramp.rows)[:, None], np.flatnonzero(ramp.directions != FREE)
            rises = ramp.directions[columns] == RISES
            low[rows[1:], columns] = np.where(rises, 0.0, -2.0 * LARGEST)
            high[rows[1:], columns] = np.where(rises, 2.0 * LARGEST, 0.0)
            self._blocks.append((rows, columns))
        self._places: _Places = np.nonzero(low != high)
        self._fixed = np.where(low == high, low, 0.0)
        self.low, self.high = low[self._places], high[self._places]

    def start(self, weights: Floats) -> Floats:
        """The free numbers of weights that keep their directions."""
        parted = weights.copy()
        for block in self._blocks:
            parted[block] = np.diff(parted[block], axis=0, prepend=0.0)
        return parted[self._places]

    def weights(self, numbers: Floats) -> Floats:
        """The table that free numbers stand for."""
        whole = self._fixed.copy()
        whole[self._places] = numbers
        for block in self._blocks:
            whole[block] = np.cumsum(whole[block], axis=0)
        return whole

    def slopes(self, by_weight: Floats) -> Floats:
        """How a function changes with each free number, from how it changes with each weight."""
        by_number = by_weight.copy()
        for block in self._blocks:
            by_number[block] = np.cumsum(by_number[block][::-1], axis=0)[::-1]
        return by_number[self._places]
